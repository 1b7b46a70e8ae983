"""The day that a demonstration states in its settings, so that its figures do not grow old by the calendar alone."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from reckoner.loading import kinds
from reckoner.loading.files import DataFile
from reckoner.loading.source import parse_yaml
from reckoner.problems import ValueFault
from reckoner.records.values import parse_day


def demo_day(files: Iterable[DataFile]) -> date | None:
    """``demo_day`` of the settings; None where none is stated, or none that can be read.

    It is read by itself: settings with a fault somewhere else still say of which day the other files are judged. A
    day that cannot be read is a fault of the settings, told with its place as every other.
    """
    for file in files:
        tree = parse_yaml(file.text or "", file.name).tree if file.kind is kinds.SETTINGS else None
        written = tree.get("demo_day") if isinstance(tree, dict) else None
        if isinstance(written, str):
            try:
                return parse_day(written.strip())
            except ValueFault:
                return None
    return None
