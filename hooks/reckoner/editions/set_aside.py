"""Ready HTML kept out of the Markdown converter's way, and put back into its output.

Most of a generated page is HTML already; Python-Markdown parses it twice only to copy it. Each block is handed over as
a one-line comment and put back afterwards: the pages differ in empty lines only. ``extra.set_html_aside: false`` in
mkdocs.yml switches it off, and a test compares.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

#: Lines from one that opens a block element at the margin, first of the page or behind an empty line, to the next empty
#: line. A heading right behind it would be swallowed, so such a block is left to the converter.
_OPENS = r"(?:\A|(?<=\n\n))<(?:table|ul|ol|dl|div|p|h2|h3|h4|figure|details)\b[^\n]*\n"
_BLOCK = re.compile(_OPENS + r"(?:[^\n#][^\n]*\n)*(?=\n|\Z)")
_ID = re.compile(r'\bid="([^"]+)"')
_MARK = re.compile(r"<!--handbook-(\d+)-->")


@dataclass(frozen=True)
class SetAside:
    """A page's Markdown with its HTML blocks taken out.

    Attributes:
        markdown: with a comment where each block stood.
        blocks: the HTML, in order.
        anchors: ids inside the blocks, which links may point to.
    """

    markdown: str
    blocks: tuple[str, ...]
    anchors: frozenset[str]


def set_aside(markdown: str) -> SetAside:
    """Take the HTML blocks out.

    >>> set_aside("# A\\n\\n<p>b</p>\\n\\nc\\n").markdown
    '# A\\n\\n<!--handbook-0-->\\n\\nc\\n'
    """
    blocks: list[str] = []

    def mark(block: re.Match[str]) -> str:
        blocks.append(block[0])
        return f"<!--handbook-{len(blocks) - 1}-->\n"

    short = _BLOCK.sub(mark, markdown)
    anchors = frozenset(anchor for block in blocks for anchor in _ID.findall(block))
    return SetAside(short, tuple(blocks), anchors)


def put_back(html: str, aside: SetAside) -> str:
    """Put the blocks back where their comments are."""
    return _MARK.sub(lambda mark: aside.blocks[int(mark[1])], html)
