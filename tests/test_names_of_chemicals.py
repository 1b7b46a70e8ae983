"""What is said of a chemical or form whose name nobody has: what the handbook knows of it, not what it looks like."""

from __future__ import annotations

from pathlib import Path

import pytest

from over_library import TODAY, lay
from reckoner.build import load_checked
from reckoner.problems import HandbookError
from small import SOURCE, formula, load

#: So long that it would be cut if it were a value.
ONLY_IF = "the label names nothing else and says one hundred per cent of it and is not a baking powder or a mixture"
SALTS = {
    f"chemicals/{name}.yml": f"id: {name}\nname: {name.title()}\nuse: a test\nrole: other\n{more}\n"
    f"forms: [{{id: dry, name: dry}}, {{id: wet-10, name: wet}}]\n{SOURCE}\n"
    for name, more in {
        "bicarbonate": "household: [{name: baking soda, only_if: the label says so.}]",
        "ash": f"synonyms: [soda ash, Salt C]\nhousehold: [{{name: washing soda, only_if: {ONLY_IF}}}]",
        "lye": "synonyms: [caustic soda, potash lye]",
        "pearl": "synonyms: [pearl potash]",
        "one": "synonyms: [acid of one]",
        "two": "synonyms: [acid of two]",
        "three": "synonyms: [acid of three]",
        "four": "synonyms: [acid of four]",
    }.items()
}
PAGE = "write the id of a chemical, as the page Chemicals lists them"


def faults(chemical: str, form: str) -> list[str]:
    """What is said of a formula of one chemical, without the place of the file."""
    text = formula("bath", f"[{{chemical: '{chemical}', form: '{form}', amount: 2 g}}]")
    try:
        load({**SALTS, "solutions/bath.yml": text})
    except HandbookError as told:
        return [str(problem).removeprefix("formulas/solutions/bath.yml:7:") for problem in told.problems]
    return []


@pytest.mark.parametrize(
    ("chemical", "form", "said"),
    [
        ("ash", "dry", ""),
        ("ash", "10 %", "39: Ash has no form '10 %' (write one of: dry, wet-10)"),
        ("Salt C", "dry", "26: unknown chemical 'Salt C' ('Salt C' is a name of 'ash', if that is what the jar holds)"),
        ("Washing powder", "dry", "26: 'Washing powder' is no id (write small letters, digits and hyphens, as"),
        (
            "soda",
            "dry",
            f"26: unknown chemical 'soda' ('washing soda' is sold as 'ash' only if: {ONLY_IF}; or 'baking soda' is "
            f"sold as 'bicarbonate' only if: the label says so; or {PAGE})",
        ),
        (
            "potash",
            "dry",
            "26: unknown chemical 'potash' ('potash lye' is a name of 'lye', if that is what the jar holds; or 'pearl "
            f"potash' is a name of 'pearl', if that is what the jar holds; or {PAGE})",
        ),
        # Of too many that have the word in their name none is picked, and none for a word that is hardly one.
        ("acid", "dry", f"26: unknown chemical 'acid' ({PAGE}, or describe it in a file in formulas/chemicals)"),
        ("of", "dry", f"26: unknown chemical 'of' ({PAGE}, or describe it in a file in formulas/chemicals)"),
    ],
)
def test_what_is_known_of_a_name_is_said(chemical: str, form: str, said: str) -> None:
    lines = faults(chemical, form)
    assert [line.startswith(said) for line in lines] == [True] * bool(said), lines


def test_an_unknown_chemical_and_a_form_that_is_none_are_both_told() -> None:
    assert [line.partition(" (")[0] for line in faults("qqqq", "10 %")] == [
        "26: unknown chemical 'qqqq'",
        "40: '10 %' is no id",
    ]


def test_a_form_of_the_library_is_known_where_nothing_else_brings_its_chemical(tmp_path: Path) -> None:
    text = formula("bath", "[{chemical: acetic-acid, form: 28 %, amount: 2 mL}]")
    with pytest.raises(HandbookError) as told:
        load_checked(lay(tmp_path, {"solutions/bath.yml": text}, "{purposes: [wash aid]}"), TODAY)
    (problem,) = told.value.problems
    assert "has no form '28 %' (write one of: " in problem.message
    assert "solution-28" in problem.message


def test_without_settings_nothing_else_is_told(tmp_path: Path) -> None:
    """Whether a library belongs to it stands there: else water itself would be unknown."""
    data = lay(tmp_path, {"solutions/bath.yml": formula("bath", "[{chemical: borax, form: x, amount: 2 g}]")})
    (data / "settings.yml").unlink()
    with pytest.raises(HandbookError) as told:
        load_checked(data, TODAY)
    assert str(told.value) == "formulas/settings.yml:1:1: the file is missing (add settings.yml)"
