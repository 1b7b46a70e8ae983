"""What the owner's records say otherwise than the library's, in ``data/handbook.json`` and as a table."""

from __future__ import annotations

from typing import Any

from reckoner.calc.results import Results
from reckoner.outputs.export_fields import ChangedOut, ChemicalOut
from reckoner.outputs.tables import Column, Table
from reckoner.pages.shared.display import NBSP, Display
from reckoner.pages.shared.value_words import ValueWords

#: Figures with a decimal point, ids as ids.
_PLAIN = ValueWords(Display("en"), lambda key, text: text)
_COLUMNS = (
    Column("kind", "string", "chemical, formula or process", required=True),
    Column("id", "string", "id of the record", required=True),
    Column("key", "string", "keys as in a file and places in lists from 0, as keeping.0.time", required=True),
    Column("library", "string", "the library's value; empty where it has none"),
    Column("library checked", "date", "day on which the library's record was last checked", required=True),
    Column("here", "string", "the value of this handbook; empty where it has none"),
    Column("here checked", "date", "day on which the owner last checked it", required=True),
    Column("certainty", "string", "how sure the owner's value is", required=True),
)


def changed_out(kind: str, record_id: str, results: Results) -> list[ChangedOut]:
    """The differences of one record; none where it is the library's, or there is no library."""
    changes = results.own_changes.get((kind, record_id))
    return [
        ChangedOut(key=d.key, library=_text(d.library, d.last), here=_text(d.here, d.last))
        for d in (changes.differences if changes else ())
    ]


def chemicals_out(results: Results) -> list[ChemicalOut]:
    """Every chemical, with what the owner changes of it."""
    return [
        ChemicalOut(
            id=chemical.id,
            name=chemical.name,
            checked=chemical.source.checked.isoformat(),
            certainty=chemical.source.certainty,
            changed=changed_out("chemical", chemical.id, results),
            milder=list(changes.milder) if (changes := results.own_changes.get(("chemical", chemical.id))) else [],
            milder_because=chemical.milder_because,
        )
        for chemical in results.catalogue.chemicals.values()
    ]


def changes_table(results: Results) -> Table | None:
    """All differences as a table; None where nothing of a library is changed."""
    rows = tuple(
        (
            *(kind, record_id, changed.key),
            *(changed.library or "", changes.library.checked.isoformat()),
            *(changed.here or "", changes.here.checked.isoformat(), changes.here.certainty),
        )
        for (kind, record_id), changes in results.own_changes.items()
        for changed in changed_out(kind, record_id, results)
    )
    title = "What this handbook says otherwise than the library"
    return Table("own-changes.csv", "own-changes", title, _COLUMNS, rows) if rows else None


def _text(value: Any, key: str) -> str | None:
    return None if value in (None, ()) else _PLAIN.value(value, key).replace(NBSP, " ")
