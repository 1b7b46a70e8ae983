"""The page of what to do after an accident: short, by what happened, with the owner's poison centre."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.pages.safety.hazard_view import statement
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.trust.dates_view import DatedView, classified, dates_view
from reckoner.records.catalogue import PERSONAL

#: Said wherever an eye is meant, so that every page gives the same two times.
RINSE = (
    "Eyes: rinse now, lids held open, for several minutes at least; fifteen is the usual advice (common practice). "
    "Somebody else calls meanwhile."
)
LEAVE = (
    "A smell of almonds, rotten eggs, chlorine or burning sulfur that you did not expect: everybody out, shut the "
    "door, air the room from outside. Nobody goes back in for anything."
)


@dataclass(frozen=True)
class Happening:
    """One kind of accident: an anchor and a heading, the standard statements by code, and what practice adds."""

    anchor: str
    title: str
    codes: tuple[str, ...]
    practice: tuple[str, ...]


#: Common practice of first aid in the darkroom, beside the precautionary statements of Annex IV of CLP.
HAPPENINGS: tuple[Happening, ...] = (
    Happening(
        "eye",
        "In the eye",
        ("P305+P351+P338",),
        (
            RINSE,
            "Let the water run from the nose outwards, so that nothing reaches the other eye.",
            "Then a doctor, with the label. After an acid, an alkali or a jar marked H314 or H318 call at once.",
        ),
    ),
    Happening(
        "skin",
        "On the skin",
        ("P302+P352", "P303+P361+P353", "P333+P313"),
        (
            "Wet clothes, shoes, rings and gloves off while the water runs; fifteen minutes is the usual advice.",
            "Burns from hydroxide do not hurt at first, and those from dichromate or strong acid go deep: "
            "a doctor, even when it looks like little. Never neutralise on the skin.",
            "A rash that comes back when you work is an allergy: stop working with that substance for good.",
        ),
    ),
    Happening(
        "swallowed",
        "Swallowed",
        ("P301+P310", "P301+P330+P331"),
        (
            "Call before anything is felt: some poisons show after hours.",
            "Nothing to drink unless the centre says so. Nothing at all by mouth to somebody who is drowsy.",
        ),
    ),
    Happening(
        "breathed-in",
        "Breathed in",
        ("P304+P340", "P342+P311"),
        (
            LEAVE,
            "A tight chest, or coughing that stays, even hours later: call. Chlorine, sulfur dioxide, formaldehyde and "
            "acid mist can act late.",
        ),
    ),
    Happening(
        "spill",
        "Spilt",
        (),
        (
            "Children, pets and everybody without goggles and gloves out; window open.",
            "Liquid: keep it from the drain, take it up with cloths, wipe the rest with plenty of water.",
            "Powder: wet it and wipe it up. Never sweep it dry.",
            "Permanganate, dichromate, persulfate and peroxide: plenty of water, and no paper or sawdust left to dry.",
            "Never chlorine bleach on a spill, and nothing on it to neutralise it unless its page says so.",
            "What was wiped up is waste of the same class as the bath: its page says where it goes.",
        ),
    ),
    Happening(
        "fire",
        "Fire and burns",
        (),
        (
            "Everybody out, doors shut, fire brigade; tell them that chemicals are there, and which.",
            "Scalds and burns by heat: cool under running water for ten to twenty minutes, no ice, no ointment.",
            "Electric shock: cut the current at the switch or fuse before you touch anybody.",
        ),
    ),
)


@dataclass(frozen=True)
class HappeningView:
    """One kind of accident in words."""

    anchor: str
    title: str
    standard: tuple[str, ...]
    practice: tuple[str, ...]


@dataclass(frozen=True)
class AccidentView:
    """The context of ``accident.md.jinja``; ``centre`` is empty where the settings name none.

    ``own`` is whether the reader writes the settings.
    """

    title: str
    summary: str
    own: bool
    centre: str
    number: str
    checked: str
    happenings: tuple[HappeningView, ...]
    dates: tuple[DatedView, ...]


def accident_view(writer: PageWriter) -> AccidentView:
    """What to do, and whom to call."""
    centre = writer.results.catalogue.settings.poison_centre
    return AccidentView(
        title="Accident: what to do",
        summary="Eye, skin, swallowed, breathed in, spilt, fire; and whom to call",
        own=writer.results.catalogue.audience == PERSONAL,
        centre=centre.name if centre else "",
        number=centre.number if centre else "",
        checked=writer.show.day(centre.checked) if centre else "",
        happenings=tuple(
            HappeningView(
                happening.anchor,
                happening.title,
                tuple(statement(c, writer) for c in happening.codes),
                happening.practice,
            )
            for happening in HAPPENINGS
        ),
        dates=dates_view(classified(()), writer),
    )
