"""Which file holds which record: the layout of ``formulas/`` as one table."""

from __future__ import annotations

from dataclasses import dataclass

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
from reckoner.records.settings import FilmFormats, Settings
from reckoner.records.shelf import Shelf
from reckoner.records.values import Record


@dataclass(frozen=True)
class FileKind:
    """One kind of data file.

    Attributes:
        name: singular, also the schema's file name.
        pattern: glob below ``formulas/``.
        record: what the file holds.
        has_id: the record's id equals the file's name.
    """

    name: str
    pattern: str
    record: type[Record]
    has_id: bool = False


SETTINGS = FileKind("settings", "settings.yml", Settings)
EXCHANGE_RATES = FileKind("exchange_rates", "exchange_rates.yml", ExchangeRates)
FILM_FORMATS = FileKind("film_formats", "film_formats.yml", FilmFormats)
LOOK_ALIKES = FileKind("look_alikes", "look_alikes.yml", LookAlikes)
HAZARD_PHRASES = FileKind("hazard_phrases", "hazard_phrases.yml", Phrases)
INCOMPATIBILITIES = FileKind("incompatibilities", "incompatibilities.yml", Incompatibilities)
CAUTIONS = FileKind("cautions", "cautions.yml", Cautions)
CONTROL_TESTS = FileKind("control_tests", "control_tests.yml", ControlTests)
LIBRARY = FileKind("library", "library.yml", Library)
MEMBER = FileKind("member", "member.yml", Member)
CHEMICAL = FileKind("chemical", "chemicals/*.yml", Chemical, has_id=True)
FORMULA = FileKind("formula", "solutions/**/*.yml", Formula, has_id=True)
PROCESS = FileKind("process", "processes/*.yml", Process, has_id=True)
KIT = FileKind("kit", "kits/*.yml", Kit, has_id=True)
PLAN = FileKind("plan", "plans/*.yml", Plan, has_id=True)
SHELF = FileKind("shelf", "shelf.yml", Shelf)
SUPPLIER = FileKind("supplier", "prices/*/supplier.yml", Supplier)
PRICE_LIST = FileKind("price_list", "prices/*/[0-9]*.yml", PriceList)
PRICE_TABLE = FileKind("price_table", "prices/*/[0-9]*.csv", PriceList)
PRICE_XLSX = FileKind("price_table", "prices/*/[0-9]*.xlsx", PriceList)
PRICE_ODS = FileKind("price_table", "prices/*/[0-9]*.ods", PriceList)
#: Kinds that are tables, and hold no keys.
TABLES = (PRICE_TABLE, PRICE_XLSX, PRICE_ODS)

#: Order matters only where one file matches two patterns: the first wins.
FILE_KINDS: tuple[FileKind, ...] = (
    SETTINGS,
    EXCHANGE_RATES,
    FILM_FORMATS,
    LOOK_ALIKES,
    HAZARD_PHRASES,
    INCOMPATIBILITIES,
    CAUTIONS,
    CONTROL_TESTS,
    LIBRARY,
    MEMBER,
    CHEMICAL,
    FORMULA,
    PROCESS,
    KIT,
    PLAN,
    SHELF,
    SUPPLIER,
    PRICE_LIST,
    *TABLES,
)
#: What may stand in a member's folder, below ``members/``.
MEMBER_KINDS: tuple[FileKind, ...] = (MEMBER, FORMULA, PROCESS, KIT, PLAN)
