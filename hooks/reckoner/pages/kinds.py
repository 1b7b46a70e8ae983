"""The kinds of page: for each a template, the subjects it is made for, and the view it shows."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from reckoner.calc.results import Results
from reckoner.pages.buying.plan_view import PlanView, plan_view
from reckoner.pages.compare.kit_view import KitOrOwnView, kit_or_own_view
from reckoner.pages.formula.bench_view import BenchView, bench_view
from reckoner.pages.formula.chemical_view import ChemicalView, chemical_view
from reckoner.pages.formula.formula_view import FormulaView, formula_view
from reckoner.pages.formula.how_to import how_to
from reckoner.pages.formula.label_view import LabelView, bottle_label, label_view
from reckoner.pages.lists.choose_view import ChooseView, choose_view, shown_purposes
from reckoner.pages.lists.lists_view import (
    ListView,
    chemicals_view,
    formulas_view,
    home_view,
    plans_view,
    processes_view,
)
from reckoner.pages.prices.changes_view import ChangesView, changes_view
from reckoner.pages.process.control_view import SignsView, signs_view
from reckoner.pages.process.film_view import FilmView, film_view
from reckoner.pages.process.process_view import ProcessView, process_view
from reckoner.pages.safety.accident_view import AccidentView, accident_view
from reckoner.pages.safety.apart_view import ApartView, apart_view
from reckoner.pages.safety.codes_view import CodesView, codes_view
from reckoner.pages.safety.law_view import LawView, law_view
from reckoner.pages.safety.not_working_view import beside_title
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import FOLDERS, Links, Page
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.shared.render import render
from reckoner.pages.shared.search_names import searched
from reckoner.pages.shared.search_words import (
    ACCIDENT_WORDS,
    APART_WORDS,
    BATH_WORDS,
    FILM_WORDS,
    KIT_WORDS,
    LAW_WORDS,
    PROCESS_WORDS,
    SHELF_WORDS,
    SIGN_WORDS,
)
from reckoner.pages.shelf.bottle_view import BottleView, bottle_view
from reckoner.pages.shelf.shelf_view import ShelfView, shelf_view
from reckoner.pages.trust.old_view import OutOfDateView, out_of_date_view
from reckoner.pages.trust.sources_view import SourcesView, sources_view
from reckoner.pages.trust.unknown_view import UnknownView, unknown_view
from reckoner.pages.trust.worked_view import WorkedView, worked_view
from reckoner.records.catalogue import PERSONAL

View = (
    AccidentView
    | ApartView
    | BenchView
    | BottleView
    | ChangesView
    | ChemicalView
    | ChooseView
    | CodesView
    | FilmView
    | FormulaView
    | KitOrOwnView
    | LabelView
    | LawView
    | ListView
    | OutOfDateView
    | PlanView
    | ProcessView
    | SignsView
    | ShelfView
    | SourcesView
    | UnknownView
    | WorkedView
)


@dataclass(frozen=True)
class PageKind:
    """A kind of page.

    Attributes:
        name: template without ``.md.jinja``.
        subjects: the paths of its pages with the record each shows.
        view: builds the context of one page.
        words: what people ask for when they mean this page.
        linked_data: JSON-LD of a subject, for the head of its page.
        boost: a process comes before its baths, a bath before its bottles.
    """

    name: str
    subjects: Callable[[Results], Iterator[tuple[str, str]]]
    view: Callable[[str, PageWriter], View]
    words: tuple[str, ...] = ()
    linked_data: Callable[[str, PageWriter], str] = lambda _, __: ""
    boost: float = 1.0


def _records(kind: str, ids: Callable[[Results], Iterator[str]]) -> Callable[[Results], Iterator[tuple[str, str]]]:
    return lambda results: ((f"{FOLDERS[kind]}/{i}.md", i) for i in ids(results))


def _single(
    name: str, path: str, view: Callable[[PageWriter], View], words: tuple[str, ...] = (), boost: float = 1.0
) -> PageKind:
    """A page that every handbook has once."""
    return PageKind(name, lambda _: iter([(path, "")]), lambda _, writer: view(writer), words, boost=boost)


def _owners(path: str) -> Callable[[Results], Iterator[tuple[str, str]]]:
    """A page that only the owner's own handbook has."""
    return lambda results: iter([(path, "")] if results.catalogue.audience == PERSONAL else [])


PAGE_KINDS: tuple[PageKind, ...] = (
    _single("home", "index.md", home_view),
    _single("section", "solutions/index.md", formulas_view, words=BATH_WORDS),
    _single("section", "chemicals/index.md", chemicals_view),
    _single("section", "processes/index.md", processes_view, words=PROCESS_WORDS),
    _single("plans", "plans/index.md", plans_view),
    _single("kit_or_own", "kit-or-own.md", kit_or_own_view, words=KIT_WORDS, boost=2.0),
    PageKind("shelf", _owners("shelf.md"), lambda _, writer: shelf_view(writer), words=SHELF_WORDS, boost=1.5),
    PageKind("label", lambda r: ((f"bottles/labels/{i}.md", i) for i in r.bottles), bottle_label),
    PageKind("bottle", lambda r: ((f"bottles/{i}.md", i) for i in r.bottles), bottle_view, boost=0.2),
    _single("out_of_date", "out-of-date.md", out_of_date_view),
    _single("worked", "worked-out.md", worked_view),
    _single("sources", "sources.md", sources_view, words=("publications", "references")),
    _single("unknown", "not-known.md", unknown_view, words=("gaps", "doubts")),
    _single("price_changes", "price-changes.md", changes_view),
    _single("accident", "accident.md", accident_view, words=ACCIDENT_WORDS, boost=3.0),
    _single("apart", "keep-apart.md", apart_view, words=APART_WORDS, boost=1.5),
    _single("law", "law.md", law_view, words=LAW_WORDS, boost=1.5),
    PageKind("choose", shown_purposes, choose_view, boost=1.8),
    _single("signs", "tests-and-signs.md", signs_view, words=SIGN_WORDS, boost=1.5),
    _single("codes", "hazard-codes.md", codes_view, boost=1.5),
    _single("film_formats", "film-formats.md", film_view, words=FILM_WORDS, boost=1.5),
    PageKind(
        "formula",
        _records("formula", lambda r: iter(r.formulas)),
        lambda i, writer: formula_view(writer.results.formulas[i], writer),
        linked_data=lambda i, writer: how_to(writer.results.formulas[i], writer),
    ),
    PageKind(
        "label",
        lambda r: ((f"labels/{i}.md", i) for i in r.formulas),
        lambda i, writer: label_view(writer.results.formulas[i], writer),
    ),
    PageKind(
        "bench",
        lambda r: ((f"bench/{i}.md", i) for i in r.formulas),
        lambda i, writer: bench_view(writer.results.formulas[i], writer),
    ),
    PageKind("plan", lambda r: ((f"plans/{i}.md", i) for i in r.plans), plan_view),
    PageKind(
        "chemical",
        _records("chemical", lambda r: iter(r.catalogue.chemicals)),
        lambda i, writer: chemical_view(writer.results.catalogue.chemicals[i], writer),
        boost=1.2,
    ),
    PageKind(
        "process",
        _records("process", lambda r: iter(r.processes)),
        lambda i, writer: process_view(writer.results.catalogue.processes[i], writer.results.processes[i], writer),
        boost=2.0,
    ),
)


def pages(results: Results, directories: bool = True, site_url: str = "") -> Iterator[Page]:
    """Every generated page as text; ``site_url`` is where the site will stand, for the QR codes of labels.

    Raises:
        HandbookError: a template fails.
    """
    show = Display(results.catalogue.settings.locale)
    for kind in PAGE_KINDS:
        for path, subject in kind.subjects(results):
            writer = PageWriter(results, show, Links(path, directories), site_url)
            view = kind.view(subject, writer)
            yield Page(
                path=path,
                title=view.title,
                markdown=render(f"{kind.name}.md.jinja", view),
                names=searched((view.title, *kind.words, *_names(view))),
                boost=_boost(kind, view),
                summary=view.summary,
                beware=beside_title(kind.name, subject, writer) if subject else "",
                linked_data=kind.linked_data(subject, writer),
            )
    yield from _moved(results, show, directories)


def _boost(kind: PageKind, view: View) -> float:
    """A solution that others are made of comes before its dilutions and replenishers."""
    return kind.boost * 1.4 if isinstance(view, FormulaView) and view.used_in.formulas else kind.boost


def _names(view: View) -> tuple[str, ...]:
    if isinstance(view, ChemicalView):
        numbers = (fact.removeprefix("CAS ") for form in view.forms for fact in form.facts if fact.startswith("CAS "))
        # What stands behind a household name's colon warns of it; nobody searches by that.
        return (*view.synonyms, *(name.partition(":")[0] for name in view.household), *numbers)
    if isinstance(view, CodesView):
        return view.names
    if isinstance(view, LawView):
        return view.places
    if isinstance(view, ChooseView):
        return view.names
    if isinstance(view, ProcessView):
        faults = (name for fault, _ in view.faults for name in re.split(r"[(),]", fault.partition(":")[0]))
        ways = [variation.name for variation in view.variations]
        otherwise = (
            word for variation in ways for word in (variation, variation.split()[0], f"{variation.split()[0]}ing")
        )
        return (*view.also, *view.aliases, *(name.strip() for name in faults if name.strip()), *otherwise)
    if isinstance(view, FormulaView):
        return (*view.head.also, *view.head.aliases)
    return ()


@dataclass(frozen=True)
class MovedView:
    """The context of ``moved.md.jinja``: an old address and where it leads."""

    title: str
    href: str


def _moved(results: Results, show: Display, directories: bool) -> Iterator[Page]:
    """A plain page at every former address: labels carry addresses for years."""
    catalogue = results.catalogue
    for kind, records in (
        ("formula", catalogue.formulas),
        ("chemical", catalogue.chemicals),
        ("process", catalogue.processes),
        ("plan", catalogue.plans),
    ):
        for record_id, record in records.items():
            for old in record.formerly:
                path = f"{FOLDERS[kind]}/{old}.md"
                links = Links(path, directories)
                text = render("moved.md.jinja", MovedView(record.name, links.to(kind, record_id)))
                beware = beside_title(kind, record_id, PageWriter(results, show, links))
                yield Page(path, record.name, text, (old,), summary="moved", beware=beware)
