"""What happens to one page on its way through MkDocs, and the state of the build that it is part of."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import BasePlugin, CombinedEvent, event_priority
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page as SitePage
from mkdocs.utils import get_relative_url

from reckoner.build import Built
from reckoner.editions.exact_names import Named
from reckoner.editions.head import furnish
from reckoner.editions.lean_search import as_html, stand_in
from reckoner.editions.published_files import shown_meta, without_remarks, without_unread_front
from reckoner.editions.set_aside import SetAside, put_back, set_aside
from reckoner.editions.site_swap import Swap
from reckoner.editions.thinning import FinishedPage
from reckoner.pages.shared.page import Page
from reckoner.records.catalogue import PERSONAL

#: Before, and after, what other plugins do with the same event, wherever mkdocs.yml lists them.
first, last = event_priority(100), event_priority(-100)


class Options(Config):
    """None: what mkdocs.yml says of a handbook stands under ``extra``."""


@dataclass
class Underway:
    """The state of one build; ``on_config`` makes it anew, for a plugin lives on while MkDocs serves."""

    audience: str = PERSONAL
    by_path: dict[str, Page] = field(default_factory=dict)
    swap: Swap | None = None
    whole: bool = False
    failed: bool = False
    put_aside: str | None = None
    html: dict[str, SetAside] = field(default_factory=dict)
    named: list[Named] = field(default_factory=list)
    finished: list[FinishedPage] = field(default_factory=list)


class PageEvents(BasePlugin[Options]):
    """What each page gets.

    Attributes:
        command: of MkDocs.
        built: the last good build; what an edit of prices changes is told against it.
        now: the state of the build that runs.
    """

    def __init__(self) -> None:
        self.command = "build"
        self.built: Built | None = None
        self.now = Underway()

    def _handwritten(self, page: SitePage) -> bool:
        return page.file.src_uri not in self.now.by_path

    @last
    def on_page_markdown(self, markdown: str, *, page: SitePage, config: MkDocsConfig, files: Files) -> str:
        """Keep a generated page's HTML out of the converter's way; take from others' what only its author reads."""
        if self._handwritten(page) and self.now.audience != PERSONAL:
            page.meta = shown_meta(dict(page.meta))
            return without_unread_front(markdown)
        if self._handwritten(page) or not config.extra.get("set_html_aside", True):
            return markdown
        kept = set_aside(markdown)
        self.now.html[page.file.src_uri] = kept
        return kept.markdown

    @last
    def on_page_content(self, html: str, *, page: SitePage, config: MkDocsConfig, files: Files) -> str:
        """Put the HTML back, and tell MkDocs which anchors it holds."""
        kept = self.now.html.pop(page.file.src_uri, None)
        if kept is None:
            return without_remarks(html) if self._handwritten(page) and self.now.audience != PERSONAL else html
        if page.present_anchor_ids is not None:
            page.present_anchor_ids |= kept.anchors
        return put_back(html, kept)

    @first
    def _lean(self, context: Any, *, page: SitePage, config: MkDocsConfig, nav: Any) -> Any:
        """Before the search plugin reads a generated page: put its names there instead of all its tables."""
        ours = self.now.by_path.get(page.file.src_uri)
        if not (page.meta.get("search") or {}).get("exclude"):
            names = ours.names if ours is not None else tuple(map(str, page.meta.get("tags") or ()))
            title, boost = (ours.title, ours.boost) if ours is not None else (str(page.title), 1.0)
            self.now.named.append(Named(page.url, title, names, boost, ours.beware if ours is not None else ""))
        if ours is not None and config.extra.get("lean_search", True):
            self.now.put_aside, page.content = page.content, stand_in(ours)
            page.meta.update(tags=list(ours.names), search={**page.meta.get("search", {}), "boost": ours.boost})
        if isinstance(page.meta.get("tags"), list):
            page.meta["tags"] = as_html(page.meta["tags"])
        return context

    @last
    def _as_it_is(self, context: Any, *, page: SitePage, config: MkDocsConfig, nav: Any) -> Any:
        """After the search plugin: the page as it is."""
        if self.now.put_aside is not None:
            page.content, self.now.put_aside = self.now.put_aside, None
        path = page.file.src_uri.removesuffix(".md")
        self.now.finished.append(FinishedPage(path, page.url, page.content or ""))
        return context

    on_page_context = CombinedEvent(_lean, _as_it_is)

    @last
    def on_post_page(self, output: str, *, page: SitePage, config: MkDocsConfig) -> str:
        """What every page gets in its head."""
        ours = self.now.by_path.get(page.file.src_uri)
        linked = ours.linked_data if ours is not None else ""
        return furnish(output, get_relative_url(".", page.url).rstrip("/") + "/", self.installable(config), linked)

    def installable(self, config: MkDocsConfig) -> bool:
        """Whether a phone may keep the site."""
        return bool(config.extra["edition"] == "site") and self.command != "serve"
