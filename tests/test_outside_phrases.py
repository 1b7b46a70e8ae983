"""Texts of hazard and precautionary statements, word for word against an independent table of the English statements.

The table is ``ghsystem_english.def`` (2020/02/17) of the LaTeX bundle chemmacros, as Debian's texlive-science holds it;
``tests/run`` fetches it into ``.cache/``. Its H and EUH statements are those of CLP, its P statements an older edition.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from reckoner.calc.hazards.classify import LABEL
from reckoner.calc.hazards.precaution import CHOICE, FIRST_STEPS
from reckoner.records.catalogue import Catalogue

FILE = Path(__file__).parent.parent / ".cache" / "ghsystem" / "ghsystem_english.def"
STATEMENT = re.compile(r"\\ghsystem_add_statement:nnn \{(\w+)\} \{ ([\w+ ]+?) \}\s+\{((?:[^{}]|\{[^{}]*\})*)\}")
#: TeX to text: blanks mean nothing, a tilde is a blank; a fill-in keeps its name between angle brackets.
MARKUP = (
    (r"\\bool_if:NF \\l_ghsystem_organs_bool \{([^}]*)\}", r"\1"),
    (r"\\ghsystem_(exposure|effect|organs|substance):", r"<\1>"),
    (r"\\ghsystem_slash:", "/"),
    (r"\\c_space_tl", "~"),
    (r"\s+", ""),
    (r"~+", " "),
)

ORGANS = ("H370", "H371", "H372", "H373")
#: What a supplier fills in where it is known; this handbook does not know it and leaves the general sentence.
FILL_INS = {
    "<exposure>": ("H340", "H341", "H350", "H351", "H360", "H361", *ORGANS),
    "<effect>": ("H360", "H361"),
    "<organs>": ORGANS,
}

CHOOSE = "the regulation gives a list to choose from"
OLD = "the table has an older edition of the P statements, or another spelling"
#: (code, words of the table, our words, why they differ).
DIFFERENCES = [
    ("H334", "orbreathing", "or breathing", "misprint"),
    ("EUH208", "<substance>", " a sensitiser", "the label names the substance; without one this stands"),
    ("P260", "dust/fume/gas/mist/vapours/spray", "dust/mist/vapours", CHOOSE),
    ("P280", "gloves/protective clothing/eye protection/face protection", "gloves/eye protection", CHOOSE),
    *(
        (code, "POISON CENTER or doctor/physician", "POISON CENTRE/doctor", OLD)
        for code in ("P301+P310", "P310", "P311", "P342+P311")
    ),
    ("P301+P312", "POISON CENTER or doctor/physician", "POISON CENTRE/doctor", OLD),
    ("P301+P330+P331", "rinse mouth", "Rinse mouth", "misprint: a sentence of its own"),
    ("P301+P330+P331", "vomitting", "vomiting", "misprint"),
    ("P302+P352", "soap and water", "water", OLD),
    ("P303+P361+P353", "Remove/Take off immediately", "Take off immediately", OLD),
    ("P303+P361+P353", "water/shower", "water", CHOOSE),
    ("P304+P340", "victim", "person", OLD),
    ("P304+P340", "at rest in a position comfortable", "comfortable", OLD),
]

#: Statements that CLP does not have and so the table does not (UN GHS, annex 3).
NOT_OF_CLP = {"H303", "H313", "H401", "H402"}


def read(text: str) -> dict[str, str]:
    """The statements of the file by code, written as ours are."""
    found = {}
    for kind, numbers, body in STATEMENT.findall(text):
        for markup, plain in MARKUP:
            body = re.sub(markup, plain, body)
        found["+".join(kind + number.strip() for number in numbers.split("+"))] = body.strip()
    return found


@pytest.fixture(scope="module")
def table() -> dict[str, str]:
    if not FILE.exists():
        fail = pytest.fail if os.environ.get("HANDBOOK_NO_SKIPS") else pytest.skip
        fail(f"{FILE.name} is not in .cache/: tests/run fetches it where there is apt-get")
    text = FILE.read_text("utf-8")
    found = read(text)
    # Each statement of the file was understood: none was left out by the pattern, none holds a macro.
    assert len(found) == text.count(r"\ghsystem_add_statement:nnn {") > 200
    return found


@pytest.fixture(scope="module")
def ours(demo: Catalogue) -> dict[str, str]:
    assert demo.phrases is not None
    return {phrase.code: phrase.text for phrase in demo.phrases.phrases}


def as_ours(code: str, text: str) -> str:
    """A text of the table with the differences that are known."""
    for fill_in, codes in FILL_INS.items():
        if code in codes:
            text = text.replace(fill_in, "")
    for differing, theirs, here, _ in DIFFERENCES:
        if differing == code:
            text = text.replace(theirs, here)
    return text


def test_every_text_is_that_of_the_table(ours: dict[str, str], table: dict[str, str]) -> None:
    theirs = {code: as_ours(code, table[code]) for code in ours if code in table}
    assert theirs == {code: text for code, text in ours.items() if code not in NOT_OF_CLP}


@pytest.mark.parametrize(("code", "theirs", "here", "why"), DIFFERENCES, ids=str)
def test_each_known_difference_is_there(
    ours: dict[str, str], table: dict[str, str], code: str, theirs: str, here: str, why: str
) -> None:
    """A row for words that the table or our file no longer has is to be struck out."""
    assert theirs in table[code]
    assert theirs not in ours[code]
    assert here in ours[code]


@pytest.mark.parametrize(("fill_in", "codes"), FILL_INS.items(), ids=str)
def test_each_fill_in_is_there(table: dict[str, str], fill_in: str, codes: tuple[str, ...]) -> None:
    assert [code for code in codes if fill_in not in table[code]] == []


def test_statements_missing_from_the_table_are_the_un_system_s(ours: dict[str, str], table: dict[str, str]) -> None:
    assert ours.keys() - table.keys() == NOT_OF_CLP


def test_every_code_that_a_chemical_or_a_rule_uses_has_a_text(demo: Catalogue, ours: dict[str, str]) -> None:
    used = {code for _, code in (*CHOICE, *FIRST_STEPS)} | LABEL.keys() | {"EUH208"}
    for chemical in demo.chemicals.values():
        for record in chemical.hazards:
            used |= {entry.h for entry in (*record.classes, *record.limits)} | set(record.euh)
    assert sorted(used - ours.keys()) == []
