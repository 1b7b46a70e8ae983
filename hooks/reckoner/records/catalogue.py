"""Everything loaded, frozen: what checks, calculations and pages read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from reckoner.money import ExchangeRate, Money, rate_in_force
from reckoner.problems import Location
from reckoner.records.caution import Cautions
from reckoner.records.chemical import Chemical, LookAlikes
from reckoner.records.formula import Formula
from reckoner.records.hazard import Phrases
from reckoner.records.incompatibility import Incompatibilities
from reckoner.records.kit import Kit
from reckoner.records.library import Library
from reckoner.records.member import Member
from reckoner.records.plan import Plan
from reckoner.records.practice import ControlTests
from reckoner.records.prices import ExchangeRates, PriceList, Supplier
from reckoner.records.process import Process
from reckoner.records.settings import FilmFormat, FilmFormats, Settings
from reckoner.records.shelf import Shelf
from reckoner.records.source import Source

Path = tuple[str | int, ...]
#: The audience that sees everything.
PERSONAL = "personal"
#: Begins the names of the files of a library that comes with the engine; one inside a handbook has its folder before.
INSTALLED = "library/"
#: A file as read: mappings, lists and texts.
Tree = dict[str, "Tree"] | list["Tree"] | str


@dataclass(frozen=True)
class Places:
    """Where each key and value of one file stands, by path from its top."""

    top: Location
    values: Mapping[Path, Location] = field(default_factory=dict)
    keys: Mapping[Path, Location] = field(default_factory=dict)

    def at(self, *path: str | int) -> Location:
        """The place of a value; where it is not in the file, that of the nearest thing around it."""
        for length in range(len(path), 0, -1):
            location = self.values.get(path[:length])
            if location:
                return location
        return self.top

    def key(self, *path: str | int) -> Location:
        """The place of a key, else of its value."""
        return self.keys.get(path) or self.at(*path)

    def without(self, dropped: set[Path]) -> Places:
        """Places of what is left, by its new paths: messages go on naming the lines of the file as it is."""
        if not dropped:
            return self
        return Places(self.top, _remaining(self.values, dropped), _remaining(self.keys, dropped))


def _remaining(table: Mapping[Path, Location], dropped: set[Path]) -> dict[Path, Location]:
    return {_path(path, dropped): at for path, at in table.items() if not any(path[: len(d)] == d for d in dropped)}


def _path(path: Path, dropped: set[Path]) -> Path:
    return tuple(
        step - sum((*path[:depth], before) in dropped for before in range(step)) if isinstance(step, int) else step
        for depth, step in enumerate(path)
    )


@dataclass(frozen=True)
class Reference:
    """A record named in a file that has other faults."""

    kind: str
    name: str
    at: Location
    form: str | None = None
    form_at: Location | None = None


@dataclass(frozen=True)
class ListedPrices:
    """One price list with its supplier and file."""

    supplier: str
    file: str
    prices: PriceList


@dataclass(frozen=True)
class Overridden:
    """A record of the library that one of the owner stands over.

    Attributes:
        library: as the library has it.
        file: where it stands there.
        source: where the owner's record or change is from.
        keys: that the owner changes, as they stand in a file; None where the owner's record stands in its place.
    """

    library: Chemical | Formula | Process
    file: str
    source: Source
    keys: frozenset[str] | None = None

    @property
    def whole(self) -> bool:
        """Whether the owner's record stands in the library's place."""
        return self.keys is None


@dataclass(frozen=True)
class Unchosen:
    """Records of the library that have no page: the owner chose others. Tables and hints still name them."""

    chemicals: Mapping[str, Chemical] = field(default_factory=dict)
    formulas: Mapping[str, Formula] = field(default_factory=dict)
    processes: Mapping[str, Process] = field(default_factory=dict)


@dataclass(frozen=True)
class Catalogue:
    """All records by id; ``places`` by file name; ``file_of`` gives a record's file from kind and id.

    ``references`` are the names in files that have faults and so are no records; ``audience`` is for whom this is.
    ``demo`` says that today is the day that a demonstration states, not the calendar's; ``overridden`` holds, by kind
    and id, what of the library the owner's records stand over; ``unchosen`` is what of it has no page.
    """

    settings: Settings
    chemicals: Mapping[str, Chemical]
    formulas: Mapping[str, Formula]
    processes: Mapping[str, Process]
    kits: Mapping[str, Kit]
    plans: Mapping[str, Plan]
    shelf: Shelf | None
    suppliers: Mapping[str, Supplier]
    price_lists: tuple[ListedPrices, ...]
    exchange_rates: ExchangeRates | None
    film_formats: FilmFormats | None
    look_alikes: LookAlikes | None
    phrases: Phrases | None
    incompatibilities: Incompatibilities | None
    cautions: Cautions | None
    places: Mapping[str, Places]
    file_of: Mapping[tuple[str, str], str]
    today: date
    control_tests: ControlTests | None = None
    library: Library | None = None
    members: Mapping[str, Member] = field(default_factory=dict)
    references: tuple[Reference, ...] = ()
    audience: str = PERSONAL
    demo: bool = False
    overridden: Mapping[tuple[str, str], Overridden] = field(default_factory=dict)
    library_files: frozenset[str] = frozenset()
    unchosen: Unchosen | None = None

    @cached_property
    def shipped(self) -> frozenset[tuple[str, str]]:
        """Kind and id of what is the library's alone."""
        return frozenset(key for key, file in self.file_of.items() if file in self.library_files)

    def judged_with_library(self, at: Location) -> bool:
        """Whether a value is one of an installed library, or of one that is here in part: it was judged where it is
        whole, and its owner can mend nothing there.
        """
        return at.file in self.library_files and (self.unchosen is not None or at.file.startswith(INSTALLED))

    @cached_property
    def known_chemicals(self) -> Mapping[str, Chemical]:
        """The chemicals that tables may name: those with a page, and those of the library without one."""
        return {**self.unchosen.chemicals, **self.chemicals} if self.unchosen else self.chemicals

    def called(self, word: str) -> list[str]:
        """Ids of the chemicals that have a word as name or synonym."""
        wanted = word.replace("-", " ").lower()
        return [
            chemical.id
            for chemical in self.known_chemicals.values()
            if wanted in {name.lower().replace("-", " ") for name in (chemical.name, *chemical.synonyms)}
        ]

    def record(self, kind: str, record_id: str) -> Chemical | Formula | Process:
        """A record of a kind that an owner may have one over."""
        records: dict[str, Mapping[str, Chemical | Formula | Process]] = {
            "chemical": self.chemicals,
            "formula": self.formulas,
            "process": self.processes,
        }
        return records[kind][record_id]

    def renamable(self, kind: str) -> Mapping[str, Chemical | Formula | Process | Plan]:
        """Records of a kind that may once have had another id, those without a page too."""
        records: dict[str, Mapping[str, Chemical | Formula | Process | Plan]] = {
            "chemical": self.known_chemicals,
            "formula": {**self.unchosen.formulas, **self.formulas} if self.unchosen else self.formulas,
            "process": {**self.unchosen.processes, **self.processes} if self.unchosen else self.processes,
            "plan": self.plans,
        }
        return records.get(kind, {})

    def member_of(self, kind: str, record_id: str) -> Member | None:
        """Whose a record is, by the folder below ``members/`` that it stands in; None where it is the handbook's."""
        _, inside, rest = self.file_of.get((kind, record_id), "").partition("/members/")
        return self.members.get(rest.partition("/")[0]) if inside else None

    @cached_property
    def rates(self) -> tuple[ExchangeRate, ...]:
        """Exchange rates as the money module takes them."""
        if self.exchange_rates is None:
            return ()
        return tuple(ExchangeRate(r.base, r.quote, r.rate, r.date) for r in self.exchange_rates.rates)

    @cached_property
    def films(self) -> Mapping[str, FilmFormat]:
        """The table of film formats by id; empty where there is none."""
        return {film.id: film for film in self.film_formats.formats} if self.film_formats else {}

    def own_money(self, money: Money) -> Money:
        """A sum in the owner's currency at today's rate, in whole minor units."""
        exchange = rate_in_force(self.rates, money.currency, self.settings.currency, self.today)
        assert exchange is not None, "checks refuse sums without a rate"
        return exchange.convert(money).whole

    def ids(self, kind: str) -> list[str]:
        """The ids of a kind, those of files with faults too."""
        return sorted(record_id for of_kind, record_id in self.file_of if of_kind == kind)

    def place(self, kind: str, record_id: str, *path: str | int) -> Location:
        """Where a value of a record stands."""
        return self.places[self.file_of[kind, record_id]].at(*path)
