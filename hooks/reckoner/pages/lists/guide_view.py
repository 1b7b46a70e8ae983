"""The page that tells how to write a formula: its context, put together by ``guide.py``."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class KeyLine:
    """One key of a record.

    Attributes:
        needed: whether it may not be left out.
        meaning: what it is, in a sentence.
        written: how its value is written, with the units that it may have.
        example: the key as it stands in a file.
        slip: the same with a mistake in it.
        message: what reading that mistake says.
    """

    key: str
    needed: bool
    meaning: str
    written: str
    example: str
    slip: str
    message: str


@dataclass(frozen=True)
class KeysOf:
    """The keys of the formula itself, or of what stands below one of them."""

    title: str
    anchor: str
    about: str
    keys: tuple[KeyLine, ...]


@dataclass(frozen=True)
class StarterFile:
    """A template to fill in: the lines of a file for one purpose."""

    purpose: str
    anchor: str
    text: str


@dataclass(frozen=True)
class ChemicalIds:
    """A chemical as files name it, and its forms."""

    name: str
    id: str
    forms: tuple[str, ...]


@dataclass(frozen=True)
class GuideView:
    """The context of ``how_to_write.md.jinja``."""

    title: str
    summary: str
    blank: str
    parts: tuple[KeysOf, ...]
    starts: tuple[StarterFile, ...]
    chemicals: tuple[ChemicalIds, ...]
