"""The kinds of page: for each a template, the subjects it is made for, and the view it shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from reckoner.calc.results import Results
from reckoner.pages.apart_view import ApartView, apart_view
from reckoner.pages.bottle_view import BottleView, bottle_view
from reckoner.pages.changes_view import ChangesView, changes_view
from reckoner.pages.chemical_view import ChemicalView, chemical_view
from reckoner.pages.display import Display
from reckoner.pages.film_view import FilmView, film_view
from reckoner.pages.formula_view import FormulaView, formula_view
from reckoner.pages.kit_view import KitOrOwnView, kit_or_own_view
from reckoner.pages.label_view import LabelView, bottle_label, label_view
from reckoner.pages.lists_view import (
    ListView,
    OutOfDateView,
    chemicals_view,
    formulas_view,
    home_view,
    out_of_date_view,
    plans_view,
    processes_view,
)
from reckoner.pages.page import FOLDERS, Links, Page
from reckoner.pages.parts import Shower
from reckoner.pages.plan_view import PlanView, plan_view
from reckoner.pages.process_view import ProcessView, process_view
from reckoner.pages.render import render
from reckoner.pages.shelf_view import ShelfView, shelf_view
from reckoner.records.catalogue import PERSONAL

View = (
    ApartView
    | BottleView
    | ChangesView
    | ChemicalView
    | FilmView
    | FormulaView
    | KitOrOwnView
    | LabelView
    | ListView
    | OutOfDateView
    | PlanView
    | ProcessView
    | ShelfView
)


@dataclass(frozen=True)
class PageKind:
    """A kind of page.

    Attributes:
        name: template without ``.md.jinja``.
        subjects: the paths of its pages with the record each shows.
        view: builds the context of one page.
    """

    name: str
    subjects: Callable[[Results], Iterator[tuple[str, str]]]
    view: Callable[[str, Shower], View]
    record: str | None = None


def _records(kind: str, ids: Callable[[Results], Iterator[str]]) -> Callable[[Results], Iterator[tuple[str, str]]]:
    return lambda results: ((f"{FOLDERS[kind]}/{i}.md", i) for i in ids(results))


def _one(path: str) -> Callable[[Results], Iterator[tuple[str, str]]]:
    return lambda results: iter([(path, "")])


def _owners(path: str) -> Callable[[Results], Iterator[tuple[str, str]]]:
    """A page that only the owner's own handbook has."""
    return lambda results: iter([(path, "")] if results.catalogue.audience == PERSONAL else [])


PAGE_KINDS: tuple[PageKind, ...] = (
    PageKind("home", _one("index.md"), lambda _, s: home_view(s)),
    PageKind("formulas", _one("solutions/index.md"), lambda _, s: formulas_view(s)),
    PageKind("chemicals", _one("chemicals/index.md"), lambda _, s: chemicals_view(s)),
    PageKind("processes", _one("processes/index.md"), lambda _, s: processes_view(s)),
    PageKind("plans", _one("plans/index.md"), lambda _, s: plans_view(s)),
    PageKind("kit_or_own", _one("kit-or-own.md"), lambda _, s: kit_or_own_view(s)),
    PageKind("shelf", _owners("shelf.md"), lambda _, s: shelf_view(s)),
    PageKind("label", lambda r: ((f"bottles/labels/{i}.md", i) for i in r.bottles), bottle_label),
    PageKind("bottle", lambda r: ((f"bottles/{i}.md", i) for i in r.bottles), bottle_view),
    PageKind("out_of_date", _one("out-of-date.md"), lambda _, s: out_of_date_view(s)),
    PageKind("price_changes", _one("price-changes.md"), lambda _, s: changes_view(s)),
    PageKind("apart", _one("keep-apart.md"), lambda _, s: apart_view(s)),
    PageKind("film_formats", _one("film-formats.md"), lambda _, s: film_view(s)),
    PageKind(
        "formula",
        _records("formula", lambda r: iter(r.formulas)),
        lambda i, s: formula_view(s.results.formulas[i], s),
        "formula",
    ),
    PageKind(
        "label",
        lambda r: ((f"labels/{i}.md", i) for i in r.formulas),
        lambda i, s: label_view(s.results.formulas[i], s),
    ),
    PageKind(
        "plan",
        lambda r: ((f"plans/{i}.md", i) for i in r.plans),
        lambda i, s: plan_view(i, s),
        "plan",
    ),
    PageKind(
        "chemical",
        _records("chemical", lambda r: iter(r.catalogue.chemicals)),
        lambda i, s: chemical_view(s.results.catalogue.chemicals[i], s),
        "chemical",
    ),
    PageKind(
        "process",
        _records("process", lambda r: iter(r.processes)),
        lambda i, s: process_view(s.results.catalogue.processes[i], s.results.processes[i], s),
        "process",
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
            view = kind.view(subject, Shower(results, show, Links(path, directories), site_url))
            yield Page(
                path=path,
                title=view.title,
                markdown=render(f"{kind.name}.md.jinja", view),
                names=_names(view),
                summary=view.summary,
                data_file=results.catalogue.file_of.get((kind.record, subject)) if kind.record else None,
            )
    yield from _moved(results, directories)


def _names(view: View) -> tuple[str, ...]:
    if isinstance(view, ChemicalView):
        numbers = (fact for form in view.forms for fact in form.facts if fact.startswith("CAS "))
        return (*view.synonyms, *view.household, *numbers)
    if isinstance(view, FormulaView | ProcessView):
        return (*view.also, *view.aliases)
    return ()


@dataclass(frozen=True)
class MovedView:
    """The context of ``moved.md.jinja``: an old address and where it leads."""

    title: str
    href: str


def _moved(results: Results, directories: bool) -> Iterator[Page]:
    """A plain page at every former address: labels carry addresses for years."""
    catalogue = results.catalogue
    for kind, records in (
        ("formula", catalogue.formulas),
        ("chemical", catalogue.chemicals),
        ("process", catalogue.processes),
    ):
        for record_id, record in records.items():
            for old in record.formerly:
                path = f"{FOLDERS[kind]}/{old}.md"
                view = MovedView(record.name, Links(path, directories).to(kind, record_id))
                yield Page(path, record.name, render("moved.md.jinja", view), (old,), "moved")
