"""Pages and files that the owner has written: what of them goes out, and remarks that are never closed."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from posixpath import dirname

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import File, Files

from handbook_plugin import navigation
from handbook_plugin.run_log import log
from reckoner.audience import marked_private
from reckoner.editions.published_files import SiteText, open_remark, unpublished, without_comments
from reckoner.loading.source import place_in
from reckoner.shipped import library_folder

#: Files that may name other files, or hold remarks.
TEXTS, MARKED_UP = (".css", ".js", ".html", ".htm", ".svg"), (".html", ".htm", ".svg")
#: A page of the navigation that only the owner's own handbook has.
SHELF = "shelf.md"
#: The folder of the library's handwritten pages.
PAGES = "pages"


def own_pages(files: Files, config: MkDocsConfig) -> list[File]:
    """The handwritten pages."""
    return [file for file in files.documentation_pages() if file.src_dir == config.docs_dir]


def to_navigate(files: Files) -> list[str]:
    """The paths of the handwritten pages that belong in a navigation which nobody has written."""
    return [page.src_uri for page in files.documentation_pages() if not page.inclusion.is_not_in_nav()]


def lay_library_pages(files: Files, config: MkDocsConfig) -> None:
    """Add the pages that come with the library; one of the owner's with the same name stands in its place."""
    pages = library_folder() / PAGES
    for path in sorted(pages.glob("*.md")):
        if files.get_file_from_path(path.name) is None:
            files.append(File(path.name, str(pages), config.site_dir, config.use_directory_urls))


def refuse_taken_names(config: MkDocsConfig, generated: Iterable[str]) -> None:
    """A handwritten page must not have the name of one that the handbook makes: one of the two would be lost.

    Raises:
        PluginError: with every such page.
    """
    docs = Path(config.docs_dir)
    names = {name for path in generated for name in (path, path.replace("index.md", "README.md"))}
    taken = sorted(name for name in names if (docs / name).is_file())
    if taken:
        faults = (f"{docs.name}/{name}:1:1: the handbook makes this page (give yours another name)" for name in taken)
        raise PluginError("\n".join(("handwritten pages stand where generated ones belong", *faults)))


def warn_of_open_remarks(files: Files, config: MkDocsConfig) -> None:
    """A remark that is never closed shows all that comes after it as text."""
    for page in map(_text, own_pages(files, config)):
        if (at := open_remark(page.text)) >= 0:
            place = place_in(page.text, at, f"{Path(config.docs_dir).name}/{page.path}")
            log.warning(f"{place}: the remark is never closed, and is shown as text (write --> where it ends)")


def leave_out(files: Files, config: MkDocsConfig, generated: set[str]) -> None:
    """Take handwritten pages marked private, and pages that only the owner has, out of files and navigation."""
    private = [file for file in files.documentation_pages() if marked_private(file.content_string)]
    for file in private:
        files.remove(file)
    left = {file.src_uri for file in files} | generated
    left_out = {file.src_uri for file in private} | ({SHELF} - left)
    config.nav = navigation.without(config.nav, left_out)
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
