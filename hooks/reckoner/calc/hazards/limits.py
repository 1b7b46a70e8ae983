"""Which specific limits the rules use, and bands that end where nothing graver begins."""

from __future__ import annotations

from reckoner.calc.hazards import health, organs, skin_eye
from reckoner.records.hazard import ClassCode, Hazards, SpecificLimit

PHYSICAL = ("Ox.", "Flam.", "Met.")
#: Classes whose limits a rule of a mixed bath uses.
BY_RULES: frozenset[str] = frozenset(
    (
        *skin_eye.DAMAGING,
        "Skin Irrit. 2",
        "Eye Irrit. 2",
        *(hazard for classes, *_ in health.SENSITISERS for hazard in classes),
        *(hazard for hazard, _ in health.CMR),
        *(hazard for first, second, _ in organs.KINDS for hazard in (first, second)),
        organs.NARCOTIC_OR_IRRITANT,
    )
)
#: Classes of one kind, from mild to grave: a band of one may end where a later one begins.
KINDS: tuple[tuple[ClassCode, ...], ...] = (
    ("Skin Irrit. 2", "Skin Corr. 1C", "Skin Corr. 1B", "Skin Corr. 1A", "Skin Corr. 1"),
    ("Eye Irrit. 2", "Eye Dam. 1", "Skin Corr. 1C", "Skin Corr. 1B", "Skin Corr. 1A", "Skin Corr. 1"),
    ("STOT SE 3", "STOT SE 2", "STOT SE 1"),
    ("STOT RE 2", "STOT RE 1"),
    ("Muta. 2", "Muta. 1B", "Muta. 1A"),
    ("Carc. 2", "Carc. 1B", "Carc. 1A"),
    ("Repr. 2", "Repr. 1B", "Repr. 1A"),
    ("Ox. Liq. 3", "Ox. Liq. 2", "Ox. Liq. 1"),
)


def used(limit: SpecificLimit) -> bool:
    """Whether a rule of the bath or the label of a jar uses a limit."""
    return limit.hazard in BY_RULES or limit.hazard.startswith(PHYSICAL)


def ends_in_nothing(limit: SpecificLimit, record: Hazards) -> bool:
    """Whether a band ends where the record begins nothing graver of its kind: the rules go on saying it there."""
    if limit.below is None:
        return False
    graver = {later for kind in KINDS if limit.hazard in kind for later in kind[kind.index(limit.hazard) + 1 :]}
    return all(other.hazard not in graver or other.start.percent != limit.below.percent for other in record.limits)
