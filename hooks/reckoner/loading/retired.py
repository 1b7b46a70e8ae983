"""Keys that an earlier form of the data files had, and what is written instead: a message says so.

A key that changes its name or its shape gets a line here, so that who takes a newer engine knows what to do.
"""

from __future__ import annotations

from reckoner.records.acute import AcuteValue
from reckoner.records.chemical import Chemical
from reckoner.records.record import Record
from reckoner.records.settings import TankLoad

#: Record and key to what to write instead. A key that is still there is one whose list has become a single value.
RETIRED: dict[tuple[type[Record], str], str] = {
    (Chemical, "extreme_ph"): "write strong: acid, or strong: alkali",
    (Chemical, "keep_apart"): "leave it out, and write the pair in incompatibilities.yml; or keep_apart: none known",
    (AcuteValue, "route"): "write way:, with gas, vapour or dust or mist of what is breathed",
    (AcuteValue, "mg_per_kg"): "write value: with its unit, as 300 mg/kg",
    (TankLoad, "fill"): "leave it out: the volume of the tank covers the film",
}


def written_instead(kind: type[Record] | None, key: str) -> str:
    """What to write for a key that an earlier form had, or nothing."""
    return RETIRED.get((kind, key), "") if kind else ""
