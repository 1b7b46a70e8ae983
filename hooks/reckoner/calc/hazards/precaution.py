"""At most six precautionary statements for a label, the gravest hazards first (CLP Article 28(3))."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

#: (statements of hazard by their first four characters, precautionary statement), in order of choice; from memory of
#: Annex IV in the edition of the phrase table (P310 to P312, which later editions write as P316 to P319), those that a
#: home user can act on.
CHOICE: tuple[tuple[frozenset[str], str], ...] = (
    (
        frozenset(
            {"H314", "H315", "H317", "H318", "H319", "H310", "H311", "H312"}
            | {"H340", "H341", "H350", "H351", "H360", "H361"}
        ),
        "P280",
    ),
    (frozenset({"H314", "H318", "H319"}), "P305+P351+P338"),
    (frozenset({"H300", "H301"}), "P301+P310"),
    (frozenset({"H314"}), "P303+P361+P353"),
    (frozenset({"H314"}), "P301+P330+P331"),
    (frozenset({"H310", "H314", "H318", "H330"}), "P310"),
    (frozenset({"H330", "H331", "H332", "H334", "H335", "H372", "H373"}), "P260"),
    (frozenset({"H302"}), "P301+P312"),
    (frozenset({"H315", "H317"}), "P302+P352"),
    (frozenset({"H340", "H341", "H350", "H351", "H360", "H361"}), "P308+P313"),
    (frozenset({"H400", "H410", "H411", "H412"}), "P273"),
    (frozenset({"H314", "H340", "H350", "H360", "H300", "H301"}), "P405"),
)
MOST = 6

#: What to do after an accident, in order; the first two stand for every bath, whatever it holds. From memory of
#: Annex IV in the same edition; nothing beyond these statements is said here.
FIRST_STEPS: tuple[tuple[frozenset[str], str], ...] = (
    (frozenset(), "P305+P351+P338"),
    (frozenset(), "P302+P352"),
    (frozenset({"H314"}), "P303+P361+P353"),
    (frozenset({"H300", "H301"}), "P301+P310"),
    (frozenset({"H314"}), "P301+P330+P331"),
    (frozenset({"H330", "H331", "H332", "H334", "H335", "EUH031", "EUH032"}), "P304+P340"),
    (frozenset({"H310", "H314", "H318", "H330"}), "P310"),
    (frozenset({"H311", "H331"}), "P311"),
    (frozenset({"H334"}), "P342+P311"),
    (frozenset({"H302"}), "P301+P312"),
    (frozenset({"H317"}), "P333+P313"),
    (frozenset({"H340", "H341", "H350", "H351", "H360", "H361"}), "P308+P313"),
)

#: A label leaves out what is plainly redundant (CLP Article 28(1), from memory): who takes off all clothes and rinses
#: has washed the skin.
REDUNDANT = {"P302+P352": {"P303+P361+P353"}}
#: A statement that waits for a symptom is left out beside one of these, which do not wait.
WAITS = {"P301+P312": {"P301+P310", "P310"}, "P311": {"P310"}}


def precautions(statements: Iterable[str]) -> tuple[str, ...]:
    """Codes of precautionary statements for some hazard statements."""
    stems = {code[:4] for code in statements}
    return _without(REDUNDANT, _gravest(code for hazards, code in CHOICE if hazards & stems))[:MOST]


def first_steps(statements: Iterable[str]) -> tuple[str, ...]:
    """Codes of what to do after an accident with something that carries these statements."""
    stems = {code if code.startswith("EUH") else code[:4] for code in statements}
    return _gravest(code for hazards, code in FIRST_STEPS if not hazards or hazards & stems)


def _gravest(codes: Iterable[str]) -> tuple[str, ...]:
    return _without(WAITS, tuple(codes))


def _without(beside: Mapping[str, set[str]], codes: tuple[str, ...]) -> tuple[str, ...]:
    """Codes without those that another among them makes needless."""
    return tuple(code for code in codes if not beside.get(code, set()) & set(codes))
