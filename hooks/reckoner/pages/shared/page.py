"""A finished page, and the addresses of pages."""

from __future__ import annotations

from dataclasses import dataclass

FOLDERS = {
    "formula": "solutions",
    "chemical": "chemicals",
    "process": "processes",
    "plan": "plans",
    "bottle": "bottles",
}


@dataclass(frozen=True)
class Page:
    """A page as text, for whatever builds the site.

    Attributes:
        path: Markdown file in the site's tree, as ``solutions/x.md``.
        title: plain text.
        markdown: the page.
        names: other names it is searched by, with their variants.
        boost: how much sooner than others of the same words it is found.
        summary: one line for the search list.
        beware: what stands beside the title in a search result, as "does not work as written"; mostly empty.
        linked_data: JSON-LD for the page's head, ready to stand inside a script element; empty where it has none.
    """

    path: str
    title: str
    markdown: str
    names: tuple[str, ...] = ()
    boost: float = 1.0
    summary: str = ""
    beware: str = ""
    linked_data: str = ""


@dataclass(frozen=True)
class Links:
    """Addresses as seen from one page; ``directories`` is true where pages end in a slash."""

    here: str
    directories: bool = True

    def to(self, kind: str, record_id: str) -> str:
        """Address of a record's page."""
        return self.path(f"{FOLDERS[kind]}/{record_id}")

    def path(self, path: str, anchor: str = "") -> str:
        """Address of a page by its path without ending; ``""`` is home."""
        target = f"{path}/" if self.directories and path else f"{path or 'index'}.html"
        if self.directories and not path:
            target = ""
        return (self._up() + target or "./") + (f"#{anchor}" if anchor else "")

    def section(self, folder: str) -> str:
        """Address of the page that lists a folder's pages."""
        return self._up() + (f"{folder}/" if self.directories else f"{folder}/index.html")

    def file(self, path: str) -> str:
        """Address of a file that is no page, as ``data/handbook.json``."""
        return self._up() + path

    def _up(self) -> str:
        parts = self.here.removesuffix(".md").split("/")
        depth = len(parts) - 1
        if self.directories and parts[-1] != "index":
            depth += 1
        return "../" * depth
