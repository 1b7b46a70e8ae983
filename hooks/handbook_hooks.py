"""The adapter: the only module that knows MkDocs. It hands the core's pages to the build and its problems to the log.

Everything that judges the data runs in ``on_config``, before MkDocs empties the site's folder.
"""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from datetime import date
from logging import WARNING, getLogger
from pathlib import Path
from posixpath import dirname
from typing import Any
from urllib.parse import urlsplit

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import CombinedEvent, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as SitePage
from mkdocs.utils import get_relative_url

from reckoner.audience import CLUB, audience_of, marked_private
from reckoner.build import Built, build, day_of
from reckoner.editions.exact_names import Named, names_script
from reckoner.editions.finish import Title, finish_folder, finish_site
from reckoner.editions.head import furnish
from reckoner.editions.lean_search import as_html, stand_in
from reckoner.editions.published_files import (
    SiteText,
    open_remark,
    shown_meta,
    unpublished,
    without_comments,
    without_remarks,
    without_unread_front,
)
from reckoner.editions.set_aside import SetAside, put_back, set_aside
from reckoner.editions.site_swap import Swap
from reckoner.editions.thinning import FinishedPage
from reckoner.loading.source import place_in
from reckoner.outputs.data_files import data_files
from reckoner.pages.prices.price_news import edited, newest_moves
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Page
from reckoner.problems import HandbookError, Severity, ValueFault, counted
from reckoner.records.catalogue import PERSONAL

log = get_plugin_logger("handbook")
EDITIONS = ("site", "folder")
#: Commands whose result stays on the owner's computer.
OWN_COMMANDS = ("build", "serve")
#: Files that may name other files, or hold remarks.
TEXTS, MARKED_UP = (".css", ".js", ".html", ".htm", ".svg"), (".html", ".htm", ".svg")
#: A page of the navigation that only the owner's own handbook has.
SHELF = "shelf.md"


@dataclass
class _State:
    """One build's state; MkDocs keeps hook modules alive between rebuilds, so on_config sets every field anew.

    Until then ``built`` is the last good build: what an edit of prices changed is told against it.
    """

    command: str = "build"
    audience: str = PERSONAL
    built: Built | None = None
    by_path: dict[str, Page] = field(default_factory=dict)
    swap: Swap | None = None
    whole: bool = False
    failed: bool = False
    put_aside: str | None = None
    html: dict[str, SetAside] = field(default_factory=dict)
    named: list[Named] = field(default_factory=list)
    finished: list[FinishedPage] = field(default_factory=list)


_state = _State()


def on_startup(command: str, dirty: bool) -> None:
    """Remember whether this is a build or a server."""
    _state.command = command


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Load, check, calculate and render; stop here, with the old site whole, on any fault."""
    _state.whole = _state.failed = False
    _let_strict_count(config)
    _state.named = []
    before = _state.built
    _state.finished = []
    root = Path(config.config_file_path).resolve().parent
    _choose_audience()
    _choose_edition(config, root)
    asked = os.environ.get("SOURCE_DATE_EPOCH")
    try:
        today = day_of(asked, date.today())
    except ValueError:
        raise PluginError("SOURCE_DATE_EPOCH is no whole number of seconds (write seconds since 1970)") from None
    try:
        _state.built = build(
            root / _data(config),
            today,
            config.use_directory_urls,
            config.site_url or "",
            _state.audience,
            fixed=bool(asked),
        )
    except ValueFault as fault:
        raise PluginError(str(fault)) from None
    except HandbookError as error:
        message = f"the handbook has faults; the last site stays as it was\n{error}\n{counted(error.problems)}"
        raise PluginError(message) from None
    _state.by_path = {page.path: page for page in _state.built.pages}
    catalogue = _state.built.results.catalogue
    config.extra["demo_day"] = catalogue.today.isoformat() if catalogue.demo else ""
    _tell(_state.built)
    if _state.command == "serve":
        now = _state.built.results
        for line in edited(before.results, now) if before is not None else newest_moves(now):
            log.info(line)
    if _state.command == "build":
        _state.swap = Swap(Path(config.site_dir).resolve())
        _state.swap.begin()
        config.site_dir = str(_state.swap.beside)
    return config


def _let_strict_count(config: MkDocsConfig) -> None:
    """MkDocs counts the warnings that its log lets through: with ``-q`` none, so that a strict build never failed."""
    mkdocs_log = getLogger("mkdocs")
    if config.strict:
        mkdocs_log.setLevel(min(mkdocs_log.getEffectiveLevel(), WARNING))


def _choose_audience() -> None:
    """For whom it is built; what is the owner's alone is never published."""
    try:
        _state.audience = audience_of(os.environ.get("HANDBOOK_AUDIENCE"))
    except ValueFault as fault:
        raise PluginError(str(fault)) from None
    if _state.command not in OWN_COMMANDS and _state.audience != CLUB:
        raise PluginError(
            f"mkdocs {_state.command} would publish the shelf, the logs and all that is private (write "
            f"HANDBOOK_AUDIENCE=club mkdocs {_state.command})"
        )


def _choose_edition(config: MkDocsConfig, root: Path) -> None:
    """A folder has pages with their names, a search that needs no server, and a place of its own."""
    edition = config.extra.get("edition", "site")
    if edition not in EDITIONS:
        raise PluginError(f"HANDBOOK_EDITION is no edition: {edition} (write {' or '.join(EDITIONS)})")
    if edition == "folder":
        config.use_directory_urls = False
        config.extra["polyfills"] = ["assets/frame-worker.js"]
        if Path(config.site_dir) == root / "site":
            config.site_dir = str(root / "site-folder")


def _data(config: MkDocsConfig) -> str:
    """The folder of the data, seen from mkdocs.yml: ``extra.data`` there, else ``formulas``."""
    named = config.extra.get("data", "formulas")
    if not isinstance(named, str) or not named.strip():
        raise PluginError("extra.data in mkdocs.yml names no folder (write data: formulas)")
    return named


def _tell(built: Built) -> None:
    tell = {Severity.WARNING: log.warning, Severity.NOTE: log.info, Severity.ERROR: log.error}
    for problem in built.problems:
        tell[problem.severity](str(problem))
    for note in built.notes:
        log.info(note)
    log.info("; ".join(f"{stage} {seconds:.2f} s" for stage, seconds in built.stages))


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the generated pages and the figures as JSON."""
    assert _state.built is not None
    own = (_text(file) for file in files.documentation_pages() if file.src_dir == config.docs_dir)
    for own_page in own:
        if (at := open_remark(own_page.text)) >= 0:
            place = place_in(own_page.text, at, f"{Path(config.docs_dir).name}/{own_page.path}")
            log.warning(f"{place}: the remark is never closed, and is shown as text (write --> where it ends)")
    if _state.audience != PERSONAL:
        _leave_out(files, config)
    navigated = set(_paths(config.nav or []))
    for page in _state.built.pages:
        included = InclusionLevel.INCLUDED if page.path in navigated else InclusionLevel.NOT_IN_NAV
        files.append(File.generated(config, page.path, content=page.markdown, inclusion=included))
    for path, text in data_files(_state.built.results, config.site_url or "", config.use_directory_urls):
        files.append(File.generated(config, path, content=text))
    return files


def _leave_out(files: Files, config: MkDocsConfig) -> None:
    """Take handwritten pages marked private, and pages that only the owner has, out of files and navigation."""
    private = [file for file in files.documentation_pages() if marked_private(file.content_string)]
    for file in private:
        files.remove(file)
    left = {file.src_uri for file in files} | set(_state.by_path)
    left_out = {file.src_uri for file in private} | ({SHELF} - left)
    config.nav = _without(config.nav, left_out)
    _leave_out_files(files, [_text(file) for file in private], config)


def _leave_out_files(files: Files, private: list[SiteText], config: MkDocsConfig) -> None:
    """Take out files that only private pages use, and remarks out of the rest."""
    own = {file.src_uri: file for file in files if file.src_dir == config.docs_dir}
    given = {name: file for name, file in own.items() if not file.is_documentation_page()}
    texts = {name: _text(file) for name, file in given.items() if name.endswith(TEXTS)}
    pages = [_text(file) for file in own.values() if file.is_documentation_page()]
    configured = (*config.extra_css, *config.extra_javascript, config.theme.get("logo"), config.theme.get("favicon"))
    shown = [SiteText("", "", "\n".join(map(str, configured))), *pages]
    for name in unpublished(given, texts, private, shown):
        files.remove(given.pop(name))
    for name, file in given.items():
        plain = without_comments(texts[name].text) if name.endswith(MARKED_UP) else ""
        if plain and plain != texts[name].text:
            files.remove(file)
            files.append(File.generated(config, name, content=plain))


def _text(file: File) -> SiteText:
    return SiteText(file.src_uri, dirname(file.url), file.content_string)


def _without(nav: Any, left_out: set[str]) -> Any:
    """The navigation without some pages, and without headings under which nothing is left."""
    if isinstance(nav, dict):
        below_by_title = {title: _without(below, left_out) for title, below in nav.items()}
        return {title: below for title, below in below_by_title.items() if below} or None
    if isinstance(nav, list):
        return [entry for entry in (_without(below, left_out) for below in nav) if entry]
    return None if nav in left_out else nav


def _paths(nav: Any) -> list[str]:
    if isinstance(nav, str):
        return [nav]
    children = nav.values() if isinstance(nav, dict) else nav
    return [path for child in children for path in _paths(child)]


def on_page_markdown(markdown: str, page: SitePage, config: MkDocsConfig, files: Files) -> str:
    """Keep a generated page's ready HTML out of the converter's way; take from others' what only its author reads."""
    if page.file.src_uri not in _state.by_path and _state.audience != PERSONAL:
        page.meta = shown_meta(dict(page.meta))
        return without_unread_front(markdown)
    if page.file.src_uri not in _state.by_path or not config.extra.get("set_html_aside", True):
        return markdown
    kept = set_aside(markdown)
    _state.html[page.file.src_uri] = kept
    return kept.markdown


def on_page_content(html: str, page: SitePage, config: MkDocsConfig, files: Files) -> str:
    """Put the HTML back, and tell MkDocs which anchors it holds."""
    kept = _state.html.pop(page.file.src_uri, None)
    if kept is None:
        own = page.file.src_uri in _state.by_path or _state.audience == PERSONAL
        return html if own else without_remarks(html)
    if page.present_anchor_ids is not None:
        page.present_anchor_ids |= kept.anchors
    return put_back(html, kept)


@event_priority(100)
def _lean(context: dict[str, Any], page: SitePage, config: MkDocsConfig, nav: Any) -> dict[str, Any]:
    """Before the search plugin reads a generated page: put its names there instead of all its tables."""
    ours = _state.by_path.get(page.file.src_uri)
    if not (page.meta.get("search") or {}).get("exclude"):
        names = ours.names if ours is not None else tuple(map(str, page.meta.get("tags") or ()))
        title, boost = (ours.title, ours.boost) if ours is not None else (str(page.title), 1.0)
        _state.named.append(Named(page.url, title, names, boost, ours.beware if ours is not None else ""))
    if ours is not None and config.extra.get("lean_search", True):
        _state.put_aside, page.content = page.content, stand_in(ours)
        page.meta.update(tags=list(ours.names), search={**page.meta.get("search", {}), "boost": ours.boost})
    if isinstance(page.meta.get("tags"), list):
        page.meta["tags"] = as_html(page.meta["tags"])
    return context


@event_priority(-100)
def _as_it_is(context: dict[str, Any], page: SitePage, config: MkDocsConfig, nav: Any) -> dict[str, Any]:
    """After the search plugin: the page as it is."""
    if _state.put_aside is not None:
        page.content, _state.put_aside = _state.put_aside, None
    path = page.file.src_uri.removesuffix(".md")
    _state.finished.append(FinishedPage(path, page.url, page.content or ""))
    return context


on_page_context = CombinedEvent(_lean, _as_it_is)


def on_post_page(output: str, page: SitePage, config: MkDocsConfig) -> str:
    """What every page gets in its head."""
    ours = _state.by_path.get(page.file.src_uri)
    linked = ours.linked_data if ours is not None else ""
    return furnish(output, get_relative_url(".", page.url).rstrip("/") + "/", _installable(config), linked)


def on_post_template(output_content: str, template_name: str, config: MkDocsConfig) -> str:
    """The page for addresses that do not exist; it cannot know how deep it stands."""
    if not template_name.endswith(".html"):
        return output_content
    root = urlsplit(config.site_url or "").path.rstrip("/")
    return furnish(output_content, f"{root}/", _installable(config))


def _installable(config: MkDocsConfig) -> bool:
    return bool(config.extra.get("edition", "site") == "site") and _state.command != "serve"


@event_priority(-100)
def on_post_build(config: MkDocsConfig) -> None:
    """The site is written, its search index too: add the table of exact names and finish its edition."""
    (Path(config.site_dir) / "assets" / "names.js").write_text(names_script(_state.named), "utf-8")
    assert _state.built is not None
    catalogue = _state.built.results.catalogue
    day = Display(catalogue.settings.locale).day(catalogue.today)
    title = Title(config.site_name, config.site_description or "", str(config.theme["language"]), day)
    if config.extra.get("edition", "site") == "folder":
        finish_folder(Path(config.site_dir), _state.finished, title)
    else:
        finish_site(Path(config.site_dir), _state.finished, title, keep=_state.command != "serve")
    _state.whole = True


def on_build_error(error: Exception) -> None:
    """A strict build that warned, or a failure after the pages were rendered."""
    _state.failed = True


def on_shutdown() -> None:
    """Move the new site into place, or leave the old one."""
    if _state.swap is None:
        return
    if _state.whole and not _state.failed:
        _state.swap.finish()
    else:
        _state.swap.give_up()
