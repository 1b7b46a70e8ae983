"""What to wear and do, by hazard statement, for jars and for a bath."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from reckoner.calc.hazards.cautions import JarId
from reckoner.records.chemical import Chemical
from reckoner.records.hazard import Hazards

BREATHED = ("H330", "H331", "H332", "H334", "H335", "H372", "H373")
DUST = "No dust: weigh out of the draught, with a dust mask (FFP2 or better) and open air."
VAPOUR = "Vapour and mist: extraction or outdoors; a dust mask does nothing against vapour."
#: About what is in the jar or spilt; where the used bath goes stands with its keeping.
SPILLS = "Harms water life: collect spills and leftovers."
#: What to wear and do, by statement; common practice after the precautionary statements P261 to P284.
WEAR: tuple[tuple[tuple[str, ...], str], ...] = (
    (("H314", "H318", "H319"), "Splash goggles."),
    (("H314", "H315", "H317", "H310", "H311", "H312"), "Nitrile gloves, and an apron."),
    (("H300", "H301", "H302"), "No food, drink or kitchen vessels near it; wash hands."),
    (
        ("H340", "H341", "H350", "H351", "H360", "H361"),
        "Ask a doctor before working with it when pregnant; nothing of it on the skin.",
    ),
    (("H272",), "Keep it off paper, sawdust, alcohol and every organic thing."),
    (("H400", "H410", "H411", "H412"), SPILLS),
)
#: A gas set free by acid: EUH032 is the graver one.
GASES = (("EUH032", "very toxic gas"), ("EUH031", "toxic gas"))


def codes_of(record: Hazards) -> tuple[str, ...]:
    """Every statement of a record."""
    return (*(c.h for c in record.classes), *record.euh)


def jars_breathe(records: Mapping[JarId, Hazards], chemicals: Mapping[str, Chemical]) -> Iterator[str]:
    """What keeps dust or vapour out of the lungs: by the state of the jar, because a dust mask stops no vapour."""
    states = set()
    for (chemical, form_id), record in records.items():
        form = chemicals[chemical].form(form_id)
        codes = (*codes_of(record), *(limit.h for limit in record.limits))
        if form is not None and any(code.startswith(BREATHED) for code in codes):
            states.add(form.state)
    yield from (text for state, text in (("solid", DUST), ("liquid", VAPOUR)) if state in states)


def acid_words(codes: set[str], asked: bool) -> tuple[str, ...]:
    """That acid stays away, in one sentence; it yields only to a list that asks for acid itself.

    Args:
        asked: whether the formula's own list or last adjustment takes an acid.
    """
    gas = next((gas for code, gas in GASES if code in codes), "")
    if not gas:
        return ()
    if asked:
        return (f"Keep acid away: {gas}. Add it only in the step that names it.",)
    return (f"Never add acid: {gas}.",)


def bath_wear(codes: set[str], asked: bool) -> tuple[str, ...]:
    """The same for a bath, which is liquid."""
    return (
        *wear(codes),
        *acid_words(codes, asked),
        *((VAPOUR,) if any(code.startswith(BREATHED) for code in codes) else ()),
    )


def wear(codes: set[str]) -> tuple[str, ...]:
    """What to wear and do, whatever the state."""
    stems = {code if code.startswith("EUH") else code[:4] for code in codes}
    return tuple(text for statements, text in WEAR if stems & set(statements))
