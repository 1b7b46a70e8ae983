"""Records file by file, the owner's over the library's; frozen into a catalogue at the end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from reckoner.loading import kinds
from reckoner.loading.combine import combined, is_change
from reckoner.loading.csv_cells import PLAIN, Dialect, dialect_of
from reckoner.loading.csv_prices import parse_csv, parse_rows
from reckoner.loading.files import LIBRARY, MEMBERS, DataFile
from reckoner.loading.left_out import CHANGES
from reckoner.loading.references import references
from reckoner.loading.source import Parsed, parse_yaml
from reckoner.loading.structure import to_record
from reckoner.loading.workbook import workbook_rows
from reckoner.problems import Location, Problem, Severity, closest
from reckoner.records.catalogue import Catalogue, ListedPrices, Overridden, Places, Reference
from reckoner.records.chemical import Chemical
from reckoner.records.formula import Formula
from reckoner.records.member import Member
from reckoner.records.own_change import IN_LIBRARY, OwnChange
from reckoner.records.process import Process
from reckoner.records.values import Record, is_id

#: Kinds of file that name other records by id.
REFERRING = (
    kinds.FORMULA,
    kinds.PROCESS,
    kinds.KIT,
    kinds.PLAN,
    kinds.SHELF,
    kinds.PRICE_LIST,
    *kinds.TABLES,
    kinds.LOOK_ALIKES,
    kinds.INCOMPATIBILITIES,
    kinds.CAUTIONS,
)


class Collected:
    """Records of files that are given with the suppliers' own before their price tables."""

    def __init__(self, files: Sequence[DataFile]) -> None:
        self.files = files
        self.held = frozenset((file.kind.name, file.stem) for file in files if file.kind.has_id)
        self.problems: list[Problem] = []
        self.single: dict[str, Any] = {}
        self.by_id: dict[str, dict[str, Any]] = {
            "chemical": {},
            "formula": {},
            "process": {},
            "kit": {},
            "plan": {},
            "supplier": {},
        }
        self.members: dict[str, Member] = {}
        self.dialects: dict[str, Dialect | None] = {}
        self.lists: list[ListedPrices] = []
        self.places: dict[str, Places] = {}
        self.references: list[Reference] = []
        self.file_of: dict[tuple[str, str], str] = {}
        self.overridden: dict[tuple[str, str], Overridden] = {}
        own = {_key(file) for file in files if file.layer != LIBRARY}
        self.library_files = frozenset(file.name for file in files if file.layer == LIBRARY)
        #: Files of the library that the owner has one over: read only beside that.
        self.below = {_key(file): file for file in files if file.layer == LIBRARY and _key(file) in own}
        for file in files:
            if self.below.get(_key(file)) is not file:
                self._add(file)
        self.problems += _nameless(files)

    def _add(self, file: DataFile) -> None:
        if file.kind.has_id:
            # A record that cannot be read still holds its id, so that references to it are no second fault.
            self.file_of.setdefault((file.kind.name, file.stem), file.name)
        elif file.kind in (kinds.SUPPLIER, kinds.MEMBER):
            self.file_of[file.kind.name, file.folder] = file.name
        elif file.kind not in (kinds.PRICE_LIST, *kinds.TABLES):
            self.file_of[file.kind.name, ""] = file.name
        if file.text is None and file.raw is None:
            return
        parsed, change = self._over_library(file, _parse(file, self.dialects.get(file.folder, PLAIN)))
        record, problems = to_record(parsed, file.kind.record)
        self.problems.extend(problems)
        self.places[file.name] = parsed.places
        if record is not None and file.kind.has_id and (below := self.below.get(_key(file))):
            self._note_overridden(below, record, change)
        if file.kind is kinds.SUPPLIER:
            self.dialects[file.folder] = dialect_of(parsed.tree, record)
        if record is None and file.kind in REFERRING:
            self.references.extend(references(parsed))
        if file.kind.has_id:
            self._identify(file, parsed, self._as_its_owner_has_it(file, record))
        elif record is not None:
            self._keep(file, parsed, record)

    def _as_its_owner_has_it(self, file: DataFile, record: Record | None) -> Record | None:
        """Private where it is a private member's, or one's of whom nothing can be read."""
        if record is None or not file.layer.startswith(MEMBERS):
            return record
        member = self.members.get(file.layer.partition("/")[2])
        return record if member is not None and not member.private else record.model_copy(update={"private": True})

    def _over_library(self, file: DataFile, parsed: Parsed) -> tuple[Parsed, OwnChange | None]:
        """A file as it stands over the library's."""
        below = self.below.get(_key(file))
        if below is not None and file.layer.startswith(MEMBERS):
            message = f"the library has a {file.kind.name} '{file.stem}'"
            advice = f"give yours an id and a file name of its own, as {file.layer.partition('/')[2]}-{file.stem}"
            return Parsed(None, parsed.places, (Problem(parsed.places.at("id"), f"{message} ({advice})"),)), None
        if below is not None:
            library = parse_yaml(below.text or "", below.name)
            made, change = combined(parsed, library, file.kind)
            if not file.kind.has_id and made.tree == library.tree:
                message = f"{IN_LIBRARY} (take the file out, or add what is yours)"
                self.problems.append(Problem(parsed.places.top, message, Severity.WARNING))
            return made, change
        if not is_change(parsed, file.kind):
            return parsed, None
        return Parsed(None, parsed.places, (*parsed.problems, self._nothing_to_change(file, parsed))), None

    def _nothing_to_change(self, file: DataFile, parsed: Parsed) -> Problem:
        kind = file.kind.name
        if now := self._now_named(file):
            message = f"the library's {kind} '{file.stem}' is named '{now}' now (write id: {now} and rename the file)"
            return Problem(parsed.places.at("id"), message)
        guess = closest(file.stem, sorted(name for of, name in self.held if of == kind and name != file.stem))
        meant = f"did you mean '{guess}'?" if guess else "write the whole record, or library: in the settings"
        return Problem(parsed.places.key(CHANGES), f"the library has no {kind} '{file.stem}' to change ({meant})")

    def _now_named(self, file: DataFile) -> str:
        """The id of the library's record that once had the name of a file, or nothing."""
        for other in self.files:
            if other.layer == LIBRARY and other.kind is file.kind and file.stem in (other.text or ""):
                tree = parse_yaml(other.text or "", other.name).tree
                former = tree.get("formerly") if isinstance(tree, dict) else None
                if isinstance(former, list) and file.stem in former:
                    return other.stem
        return ""

    def _note_overridden(self, below: DataFile, record: Record, change: OwnChange | None) -> None:
        """Remember what of the library the owner's record stands in for."""
        parsed = parse_yaml(below.text or "", below.name)
        theirs, _ = to_record(parsed, below.kind.record)
        if isinstance(theirs, Chemical | Formula | Process):
            self.places[below.name] = parsed.places
            source = change.source if change is not None else getattr(record, "source")  # noqa: B009
            keys = frozenset(change.changes) if change is not None else None
            self.overridden[_key(below)] = Overridden(theirs, below.name, source, keys)

    def _identify(self, file: DataFile, parsed: Parsed, record: Record | None) -> None:
        kind = file.kind.name
        record_id = parsed.tree.get("id") if isinstance(parsed.tree, dict) else None
        if not isinstance(record_id, str):
            return
        # As the record reads it: quoted spaces round an id are no part of it.
        record_id = record_id.strip()
        if record_id != file.stem and is_id(record_id):
            taken = (kind, record_id) in self.held
            rename = f"another file is named {record_id}" if taken else "or rename the file"
            hint = f"write id: {file.stem}, {rename}" if is_id(file.stem) else f"rename it to {record_id}.yml"
            message = f"id '{record_id}' differs from the file's name ({hint})"
            self.problems.append(Problem(parsed.places.at("id"), message))
            if taken:
                # Else the file that was read first would be the record, and what names it seem at fault.
                return
        if record_id in self.by_id[kind]:
            other = self.file_of[kind, record_id]
            message = f"id '{record_id}' is also the id of {other} (give one of them another id and file name)"
            self.problems.append(Problem(parsed.places.at("id"), message))
            return
        self.file_of[kind, record_id] = file.name
        # A record with faults is kept as None: never used, but known to be there.
        self.by_id[kind][record_id] = record

    def _keep(self, file: DataFile, parsed: Parsed, record: Record) -> None:
        if file.kind is kinds.SUPPLIER:
            self.by_id["supplier"][file.folder] = record
        elif file.kind is kinds.MEMBER:
            self.members[file.folder] = record  # type: ignore[assignment]
        elif file.kind in (kinds.PRICE_LIST, *kinds.TABLES):
            self.lists.append(ListedPrices(file.folder, file.name, record))  # type: ignore[arg-type]
            self._check_date(file, parsed, record)
        else:
            self.single[file.kind.name] = record

    def _check_date(self, file: DataFile, parsed: Parsed, record: Any) -> None:
        if record.date.isoformat() != file.stem:
            message = f"date {record.date} differs from the file's name (write date: {file.stem}, or rename the file)"
            self.problems.append(Problem(parsed.places.at("date"), message))

    def catalogue(self, settings: Any, today: date) -> Catalogue:
        """Everything collected, of a day."""
        return Catalogue(
            settings=settings,
            chemicals=_sorted(self.by_id["chemical"]),
            formulas=_sorted(self.by_id["formula"]),
            processes=_sorted(self.by_id["process"]),
            kits=_sorted(self.by_id["kit"]),
            plans=_sorted(self.by_id["plan"]),
            shelf=self.single.get("shelf"),
            suppliers=_sorted(self.by_id["supplier"]),
            price_lists=tuple(
                sorted(
                    self.lists, key=lambda price_list: (price_list.supplier, price_list.prices.date, price_list.file)
                )
            ),
            exchange_rates=self.single.get("exchange_rates"),
            film_formats=self.single.get("film_formats"),
            look_alikes=self.single.get("look_alikes"),
            incompatibilities=self.single.get("incompatibilities"),
            cautions=self.single.get("cautions"),
            library=self.single.get("library"),
            control_tests=self.single.get("control_tests"),
            phrases=self.single.get("hazard_phrases"),
            places=self.places,
            file_of=self.file_of,
            today=today,
            references=tuple(self.references),
            overridden=self.overridden,
            members={folder: self.members[folder] for folder in sorted(self.members)},
            library_files=self.library_files,
        )


def _nameless(files: Sequence[DataFile]) -> Iterator[Problem]:
    """Members' folders without the file that says whose they are."""
    told = {file.layer for file in files if file.kind is kinds.MEMBER}
    for layer in sorted({file.layer for file in files if file.layer.startswith(MEMBERS)} - told):
        folder = next(file.name.partition(layer)[0] for file in files if file.layer == layer)
        advice = "add it, with name: and, where nobody else may see the folder, private: yes"
        yield Problem(Location(f"{folder}{layer}/member.yml"), f"the file is missing ({advice})")


def _key(file: DataFile) -> tuple[str, str]:
    """Kind and id; kind alone of what there is one file of."""
    return file.kind.name, file.stem if file.kind.has_id else ""


def _sorted(records: dict[str, Any]) -> dict[str, Any]:
    return {record_id: records[record_id] for record_id in sorted(records) if records[record_id] is not None}


def _parse(file: DataFile, dialect: Dialect | None) -> Parsed:
    text = file.text or ""
    if file.kind in kinds.TABLES:
        if dialect is None:
            # How to read it stands in a record with faults: those are told, and the table waits.
            return Parsed(None, Places(Location(file.name)), ())
        if file.raw is not None:
            return parse_rows(workbook_rows(file.raw, file.name), file.name, file.stem, dialect)
        return parse_csv(text, file.name, file.stem, dialect)
    return parse_yaml(text, file.name)
