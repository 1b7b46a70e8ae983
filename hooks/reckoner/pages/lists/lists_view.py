"""Home and section pages."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from reckoner.calc.ageing import accepted
from reckoner.calc.film.bottles import BottleState
from reckoner.calc.results import Results
from reckoner.pages.safety.not_working_view import before, plan_in_short, process_in_short
from reckoner.pages.shared.capacity_words import rolls_words
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.shared.purposes import PURPOSES, purpose_title, slug
from reckoner.pages.shared.starters import plan_start
from reckoner.pages.shelf.bottle_view import expired_words
from reckoner.pages.trust.old_view import Coming, coming, counted, old_packs

#: Pages beside home that a button at its top leads to.
JUMPS = (
    ("Shelf", "shelf"),
    ("Buy a kit or mix it?", "kit-or-own"),
    ("Price changes", "price-changes"),
    ("Keep apart", "keep-apart"),
)

#: So many chemicals without a price are named.
MOST_NAMED = 5

#: For whom a build is, as its first page says it.
AUDIENCES = {
    "personal": "Built for its owner: the shelf and everything marked private are in it. Do not publish this one.",
    "club": "Built for the club: what its owner keeps private was left out before anything was worked out.",
}


@dataclass(frozen=True)
class ListLine:
    """A linked name with a remark beside it, and the address of its bench sheet where it has one.

    Attributes:
        expired: said instead of the remark after ``until``, a day in ISO 8601, or at once where that is empty.
    """

    name: Link
    remark: str
    bench: str = ""
    expired: str = ""
    until: str = ""


@dataclass(frozen=True)
class ListGroup:
    """Linked names under a heading."""

    title: str
    anchor: str
    lines: tuple[ListLine, ...]
    compare: str = ""


@dataclass(frozen=True)
class ListView:
    """The context of the home page and the section pages; home has buttons at its top.

    Attributes:
        anchors: buttons to groups of the page itself, title and anchor.
        jumps: buttons to other pages.
        lines: to begin with, where nothing is listed.
        unpriced: why some lines have no cost.
    """

    title: str
    summary: str
    notice: str
    demo: str
    groups: tuple[ListGroup, ...]
    expired: tuple[Link, ...]
    out_of_date: str
    accepted: int
    old_packs: tuple[Link, ...]
    out_of_date_link: str
    today: str
    untils: tuple[Coming, ...]
    audience: str
    prices: tuple[str, ...]
    anchors: tuple[tuple[str, str], ...] = ()
    jumps: tuple[Link, ...] = ()
    lines: str = ""
    unpriced: str = ""


def formulas_view(writer: PageWriter) -> ListView:
    """The section page of formulas, grouped by purpose."""
    groups = []
    for purpose in PURPOSES:
        lines = [_formula_line(i, writer) for i, r in writer.results.formulas.items() if r.formula.purpose == purpose]
        if lines:
            compare = writer.links.path(f"choose/{slug(purpose)}") if len(lines) > 1 else ""
            groups.append(replace(_group(purpose_title(purpose), lines), compare=compare))
    return replace(_list("Formulas", "Every formula, grouped by purpose", groups, writer), unpriced=_unpriced(writer))


def chemicals_view(writer: PageWriter) -> ListView:
    """The section page of chemicals, by first letter."""
    letters: dict[str, list[ListLine]] = {}
    for chemical in sorted(writer.results.catalogue.chemicals.values(), key=lambda c: c.name.lower()):
        first = next((letter for letter in chemical.name if letter.isalpha()), "#").upper()
        letters.setdefault(first, []).append(ListLine(writer.chemical(chemical.id), chemical.use))
    groups = [_group(letter, letters[letter]) for letter in sorted(letters)]
    return replace(_list("Chemicals", "Every chemical with its forms, names and offers", groups, writer), prices=())


def processes_view(writer: PageWriter) -> ListView:
    """The section page of processes."""
    lines = [_process_line(p, writer) for p in writer.results.processes]
    view = _list("Processes", "Complete processes, with times and temperatures", [_group("All", lines)], writer)
    return replace(view, unpriced=_unpriced(writer))


def plans_view(writer: PageWriter) -> ListView:
    """The section page of plans."""
    groups = [_group("All", _plan_lines(writer))] if writer.results.plans else []
    view = _list("Plans", "What to buy for what is to be mixed, and what it costs", groups, writer)
    return view if groups else replace(view, lines=plan_start(writer))


def _plan_lines(writer: PageWriter) -> list[ListLine]:
    lines = []
    for plan_id, result in writer.results.plans.items():
        cost = "no basket" if result.bought.missing else writer.show.money(result.bought.total)
        over = writer.show.range(result.bought.plan.over)
        words = f"over {over}; first order, delivered, {cost}"
        lines.append(ListLine(writer.plan(plan_id), " ".join(filter(None, (plan_in_short(plan_id, writer), words)))))
    return lines


def _bottle_lines(writer: PageWriter) -> list[ListLine]:
    """Bottles with the film left in them: the expired ones first, then those that expire next."""
    lines = []
    for state in writer.results.bottles.values():
        name = writer.results.catalogue.formulas[state.bottle.formula].name
        left = "" if state.left is None else f"; {rolls_words(state.left, writer)} left"
        until = f"; good until {writer.show.day(state.ends.day)}" if state.ends else ""
        lines.append(_bottle_line(state, f"{name}{left}{until}", f"{expired_words(state, writer)}. {name}.", writer))
    return lines


def _by_content(bottle_id: str, writer: PageWriter) -> Link:
    """A bottle by what it holds and when that was mixed, as its label names it."""
    bottle = writer.results.bottles[bottle_id].bottle
    name = writer.results.catalogue.formulas[bottle.formula].name
    return replace(writer.bottle(bottle_id), text=f"{name}, mixed {writer.show.day(bottle.mixed)}")


def _bottle_line(state: BottleState, good: str, expired: str, writer: PageWriter) -> ListLine:
    remark, instead = (before(state.bottle.formula, words, writer) for words in (good, expired))
    until = state.ends.day.isoformat() if state.ends and not state.old else ""
    return ListLine(writer.bottle(state.bottle.id), remark, expired=instead if state.ends else "", until=until)


def home_view(writer: PageWriter) -> ListView:
    """Home: what is out of date, then processes, then formulas, one tap each."""
    processes = _group("Processes", [_process_line(p, writer) for p in writer.results.processes])
    formulas = formulas_view(writer)
    plans = [_group("Plans", _plan_lines(writer))] if writer.results.plans else []
    bottles = [_group("Bottles", _bottle_lines(writer))] if writer.results.bottles else []
    groups = [*bottles, processes, *plans, *formulas.groups]
    view = _list(writer.results.catalogue.settings.title, "The handbook's first page", groups, writer)
    begins = [(group.title, group.anchor) for group in (*bottles, processes, *plans)]
    begins += [("Formulas", group.anchor) for group in formulas.groups[:1]]
    return replace(view, anchors=tuple(begins), jumps=tuple(_pages(writer)), unpriced=_unpriced(writer))


def _pages(writer: PageWriter) -> Iterator[Link]:
    yield Link("Chemicals", writer.links.section("chemicals"))
    for title, path in JUMPS:
        if path == "shelf" and writer.results.catalogue.shelf is None:
            continue
        yield Link(title, writer.links.path(path))


def _formula_line(formula_id: str, writer: PageWriter) -> ListLine:
    result = writer.results.formulas[formula_id]
    cost = result.cost.used_per_litre
    price = f"{writer.show.money(cost)} a litre" if cost else ""
    known = ", ".join(result.formula.also_published_as)
    remark = before(formula_id, "; ".join(filter(None, (known, result.formula.strength, price))), writer)
    bench = writer.links.path(f"bench/{formula_id}")
    return ListLine(writer.formula(formula_id), remark, bench)


def _process_line(process_id: str, writer: PageWriter) -> ListLine:
    sets = writer.results.processes[process_id]
    cost = sets.cost.to_start
    start = f"first order for {writer.show.exactish(sets.cost.batch_litres, 'L')} of each bath, without delivery"
    faulty = process_in_short(writer.results.catalogue.processes[process_id], writer)
    remark = f"{start}, {writer.show.money(cost)}" if cost else ""
    return ListLine(writer.process(process_id), " ".join(filter(None, (faulty, remark))))


def _unpriced(writer: PageWriter) -> str:
    """Once for a whole list, why some of it has no cost: what lacks a price, what most baths need first."""
    lacking = Counter(chemical for result in writer.results.formulas.values() for chemical in result.cost.missing)
    if not lacking:
        return ""
    names = [writer.short_name(chemical) for chemical, _ in lacking.most_common()]
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f"Where no cost stands, a price is missing: {', '.join(names[:MOST_NAMED])}{more}."


def _group(title: str, lines: Iterable[ListLine]) -> ListGroup:
    return ListGroup(title, title.lower().replace(" ", "-"), tuple(lines))


def _list(title: str, summary: str, groups: Iterable[ListGroup], writer: PageWriter) -> ListView:
    results: Results = writer.results
    return ListView(
        title=title,
        summary=summary,
        notice=results.catalogue.settings.notice or "",
        demo=writer.demo,
        groups=tuple(groups),
        expired=tuple(_by_content(age.subject, writer) for age in results.past_limit if age.kind == "bottle"),
        out_of_date=counted(age for age in results.past_limit if accepted(age, results.catalogue) is None),
        accepted=sum(accepted(age, results.catalogue) is not None for age in results.past_limit),
        old_packs=tuple(name for name, _ in old_packs(writer)),
        out_of_date_link=writer.links.path("out-of-date"),
        today=writer.show.day(results.catalogue.today),
        untils=coming(results),
        audience=AUDIENCES.get(results.catalogue.audience, results.catalogue.audience),
        prices=tuple(
            f"{writer.supplier(age.subject)}: {writer.show.day(age.day)}"
            for age in results.ages
            if age.kind == "price list"
        ),
    )
