"""Kit or own as pages show it: for each process of a plan the sentence, the pictures, and how sure it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.compare.alternative import Alternative, Answer
from reckoner.calc.compare.kit_or_own import Comparison
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.pages.compare.kit_pictures import StepsView, by_litre, by_roll
from reckoner.pages.compare.kit_totals import TotalLine, bridge_lines, cheapest, short_labels, totals
from reckoner.pages.compare.kit_words import KitWords, kit_name, nth, session_lines
from reckoner.pages.safety.not_working_view import process_in_short
from reckoner.pages.shared.capacity_words import capacity_lines
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.shared.starters import kit_start
from reckoner.pages.trust.dates_view import DatedView, Wanted, dates_view, priced


@dataclass(frozen=True)
class SureLine:
    """One row of "how sure": a case or a rate, the answer, and why where it is never."""

    name: str
    answer: str
    because: str


@dataclass(frozen=True)
class AgainstView:
    """Mixing against one kit, concentrate or lab."""

    label: str
    name: str
    note: str
    sentence: str
    crossings: tuple[str, ...]
    litre_crossings: tuple[str, ...]
    sure: str
    cases: tuple[SureLine, ...]
    rates_sure: str
    rates: tuple[SureLine, ...]


@dataclass(frozen=True)
class ProcessKitsView:
    """One process of a plan; where ``fault`` says why, there are no figures.

    Attributes:
        cheapest: the way that costs least over the plan, in a sentence.
        capacities: what a litre of each bath does at least and at most, with the condition beside each.
    """

    id: str
    process: Link
    asked: str
    not_working: str
    fault: str
    cheapest: str
    totals: tuple[TotalLine, ...]
    bridge: tuple[tuple[str, str], ...]
    against: tuple[AgainstView, ...]
    by_roll: StepsView | None
    by_litre: StepsView | None
    capacities: tuple[str, ...]
    sessions: tuple[str, ...]
    packs: tuple[str, ...]


@dataclass(frozen=True)
class KitsView:
    """What a plan's kits come to; gear stands apart from all chemistry."""

    id: str
    plan: Link
    processes: tuple[ProcessKitsView, ...]
    gear: tuple[tuple[str, str], ...]
    horizon: str
    demo: bool


@dataclass(frozen=True)
class KitLine:
    """One plan's answer on a process's page; ``anchor`` is the place of its figures."""

    text: str
    plan: Link
    anchor: str


@dataclass(frozen=True)
class KitOrOwnView:
    """The context of ``kit_or_own.md.jinja``; ``lines`` are to begin with, where nothing is compared."""

    title: str
    summary: str
    plans: tuple[KitsView, ...]
    dates: tuple[DatedView, ...]
    lines: str


def kit_or_own_view(writer: PageWriter) -> KitOrOwnView:
    """Every plan that compares something."""
    plans = tuple(kits_view(i, writer) for i, comparisons in writer.results.comparisons.items() if comparisons)
    return KitOrOwnView(
        title="Buy a kit or mix it?",
        summary="At your rolls a month: is mixing cheaper than a kit or a lab, and from which roll on?",
        plans=plans,
        dates=dates_view(
            _dated(comparison for comparisons in writer.results.comparisons.values() for comparison in comparisons),
            writer,
        ),
        lines="" if plans else kit_start(writer),
    )


def kits_view(plan_id: str, writer: PageWriter) -> KitsView:
    """Put the comparisons of one plan into words."""
    plan = writer.results.catalogue.plans[plan_id]
    comparisons = writer.results.comparisons[plan_id]
    kits = [alternative.kit for comparison in comparisons for alternative in comparison.alternatives]
    return KitsView(
        id=f"kits-{plan_id}",
        plan=writer.plan(plan_id),
        processes=tuple(_process(plan_id, comparison, writer) for comparison in comparisons),
        gear=tuple((item.name, writer.show.money(item.price)) for item in plan.gear),
        horizon=KitWords(writer, comparisons[0].question).months(comparisons[0].question.months) if comparisons else "",
        demo=any(kit.invented for kit in kits),
    )


def _dated(comparisons: Iterable[Comparison]) -> Iterable[Wanted]:
    """The prices of kits, and of the packs that mixing buys."""
    for comparison in comparisons:
        yield from (("kit price", alternative.kit.id, None) for alternative in comparison.alternatives)
        yield from priced(comparison.offers)


def kit_lines(process_id: str, writer: PageWriter) -> tuple[KitLine, ...]:
    """For a process's page: the answers of every plan that asks, each with the address of its figures."""
    lines = []
    for plan_id, comparisons in writer.results.comparisons.items():
        for comparison in comparisons:
            if comparison.question.process == process_id and comparison.alternatives:
                words, labels = KitWords(writer, comparison.question), short_labels(comparison)
                pairs = zip(labels, comparison.alternatives, strict=True)
                verdicts = "; ".join(f"{words.verdict(a.answer, label.lower())}" for label, a in pairs)
                span = words.span(comparison.alternatives[0].answer)
                plan = Link(writer.plan(plan_id).text, writer.links.path("kit-or-own"))
                anchor = f"kits-{plan_id}-{process_id}"
                lines.append(KitLine(f"At {words.rate(comparison.question.rate)}, {span}: {verdicts}", plan, anchor))
    return tuple(lines)


def _process(plan_id: str, comparison: Comparison, writer: PageWriter) -> ProcessKitsView:
    question, words, labels = comparison.question, KitWords(writer, comparison.question), short_labels(comparison)
    section, own = f"kits-{plan_id}-{question.process}", comparison.own.session if comparison.own else 0
    against = tuple(
        _against(alternative, label, words, comparison)
        for alternative, label in zip(comparison.alternatives, labels, strict=True)
    )
    return ProcessKitsView(
        id=section,
        process=writer.process(question.process),
        asked=_asked(comparison, words),
        not_working=process_in_short(writer.results.catalogue.processes[question.process], writer),
        fault=_fault(comparison, writer),
        cheapest=cheapest(comparison, labels, _asked(comparison, words), writer),
        totals=tuple(totals(comparison, labels, writer)),
        bridge=bridge_lines(comparison, writer),
        against=against,
        by_roll=by_roll(section, comparison, labels, writer),
        by_litre=by_litre(section, comparison, labels, writer),
        capacities=capacity_lines(usual_baths(writer.results.catalogue.processes[question.process]), writer),
        sessions=tuple(session_lines(comparison.sessions, own, words)) if comparison.sessions else (),
        packs=_packs(comparison, writer),
    )


def _asked(comparison: Comparison, words: KitWords) -> str:
    """What the plan asks, to stand after "for"."""
    question = comparison.question
    if question.litres is not None:
        return f"{words.writer.show.exactish(question.litres, 'L')} of each bath"
    assert question.rolls is not None
    ends = ", and nothing after" if question.ends else ""
    months = words.months(question.rolls / question.rate)
    return f"the plan's {words.count(question.rolls)} in {months} ({words.rate(question.rate)}{ends})"


def _fault(comparison: Comparison, writer: PageWriter) -> str:
    if comparison.fault == "price":
        names = ", ".join(writer.short_name(chemical) for chemical in comparison.cost.missing)
        return f"No figures: no price for {names}."
    return "No figures: no bath of this process has a recorded capacity." if comparison.fault else ""


def _against(alternative: Alternative, label: str, words: KitWords, comparison: Comparison) -> AgainstView:
    kit, batch = alternative.kit, comparison.cost.batch_litres
    replaces = ", ".join(words.bath(i) for i in kit.replaces)
    notes = [f"Replaces {replaces}; the other baths are mixed"] if replaces else []
    notes += [kit.note.rstrip(".")] if kit.note else []
    return AgainstView(
        label=label,
        name=kit_name(kit),
        note=". ".join(notes),
        sentence=_sentence(alternative, label.lower(), words),
        crossings=tuple(words.crossing(change, f"the {label.lower()}") for change in alternative.crossings),
        litre_crossings=tuple(
            words.litre_crossing(c, f"the {label.lower()}", batch) for c in alternative.litre_crossings
        ),
        sure=_spread(alternative.cases, words),
        rates_sure=_spread(alternative.rates, words),
        cases=_sure([(words.case(a.case, label), a) for a in alternative.cases], label.lower(), words),
        rates=_sure([(words.rate(a.rate), a) for a in alternative.rates], label.lower(), words),
    )


def _sentence(alternative: Alternative, label: str, words: KitWords) -> str:
    answer = alternative.answer
    opening = f"At {words.rate(answer.rate)}, {words.span(answer)}, {words.verdict(answer, label)}"
    return f"{opening}, mostly because {words.because(answer, label)}. {words.at_rates(alternative, label)}"


def _spread(answers: Iterable[Answer], words: KitWords) -> str:
    """From the earliest to the latest film, and how often never."""
    first = [answer.first for answer in answers]
    known = sorted(film for film in first if film is not None)
    never = len(first) - len(known)
    if not known:
        return f"never in all {len(first)} cases"
    span = nth(known[0]) if known[0] == known[-1] else f"{nth(known[0])} to the {nth(known[-1])}"
    return f"from the {span} {words.question.unit}" + (f", never in {never} of {len(first)} cases" if never else "")


def _sure(answers: Iterable[tuple[str, Answer]], label: str, words: KitWords) -> tuple[SureLine, ...]:
    """The reason stands where mixing is never cheaper, and where it is another than the last one told."""
    lines, last_reason = [], ("", "")
    for name, answer in answers:
        if answer.first is not None:
            lines.append(SureLine(name, f"from the {nth(answer.first)} {words.question.unit}", ""))
            continue
        reason = answer.decisive.part, answer.decisive.bath
        lines.append(SureLine(name, "never", "" if reason == last_reason else words.because(answer, label)))
        last_reason = reason
    return tuple(lines)


def _packs(comparison: Comparison, writer: PageWriter) -> tuple[str, ...]:
    """The offers that mixing buys, and how many packs over the rolls of the picture."""
    if comparison.own is None:
        return ()
    packs, name = comparison.own.run.packs, writer.short_name
    return tuple(
        f"{packs[offer.id]} × {name(offer.offer.chemical)}, {writer.pack(offer)}, {writer.supplier(offer.supplier)}"
        for offer in comparison.offers
        if offer.id in packs
    )
