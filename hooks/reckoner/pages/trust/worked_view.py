"""How the figures are worked out: each rule once, with one example out of this very build."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from reckoner.calc.explain import ARITHMETIC, explain
from reckoner.calc.film.capacity import doing
from reckoner.calc.film.per_roll import formula_per_roll
from reckoner.calc.mixing.working import Working, plain
from reckoner.money import Money
from reckoner.pages.shared.finding_words import limit_words, rule_words, value_words
from reckoner.pages.shared.parts import Link, PageWriter


@dataclass(frozen=True)
class ExampleView:
    """One rule with its example, and the page that the example is from."""

    title: str
    anchor: str
    rule: str
    inputs: tuple[str, ...]
    result: str
    source: str
    where: Link


@dataclass(frozen=True)
class WorkedView:
    """The context of ``worked.md.jinja``."""

    title: str
    summary: str
    today: str
    examples: tuple[ExampleView, ...]


Found = Iterator[tuple[Working, Link]]


def worked_view(writer: PageWriter) -> WorkedView:
    """Every rule that this build has an example of."""
    workings = ((working, link) for find in EXAMPLES for working, link in find(writer))
    examples = (_example(number, working, link) for number, (working, link) in enumerate(workings, 1))
    return WorkedView(
        title="How the figures are worked out",
        summary="Each calculation with an example of its own",
        today=writer.show.day(writer.results.catalogue.today),
        examples=tuple(examples),
    )


def _example(number: int, working: Working, link: Link) -> ExampleView:
    return ExampleView(
        title=working.figure[:1].upper() + working.figure[1:],
        anchor=f"rule-{number}",
        rule=working.rule[:1].upper() + working.rule[1:],
        inputs=tuple(f"{name}: {value}" for name, value in working.inputs),
        result=working.result,
        source=working.source,
        where=link,
    )


def _scaling(writer: PageWriter) -> Found:
    """The first row that an instrument rounds."""
    for formula_id, result in writer.results.formulas.items():
        for batch in result.batches:
            for row in batch.rows:
                exact, measured = row.row.exact, row.row.measured
                if row.row.line.chemical and row.weighability.within and exact != measured.rounded:
                    name = writer.short_name(row.row.line.chemical)
                    inputs = (
                        ("written", f"{name}, {row.row.line.item.amount} in {result.formula.makes}"),
                        ("batch", str(batch.table.volume)),
                        ("instrument", f"{measured.instrument}, step {plain(measured.step)} {measured.unit}"),
                    )
                    rule = "amount × batch ÷ volume the formula makes, rounded once, half up, to the instrument's step"
                    outcome = (
                        f"{plain(exact, 12)} {measured.unit}, weighed as {plain(measured.rounded)} {measured.unit}"
                    )
                    yield Working("amount for a batch", rule, inputs, outcome, ARITHMETIC), writer.formula(formula_id)
                    return


def _explained(writer: PageWriter) -> Found:
    """Each other rule of a formula's page once, by the example with the most inputs; the first of equals."""
    best: dict[str, tuple[Working, Link]] = {}
    for formula_id, result in writer.results.formulas.items():
        for working in explain(result, writer.results.catalogue)[1:]:
            known = best.get(working.rule)
            if known is None or len(working.inputs) > len(known[0].inputs):
                best[working.rule] = (working, writer.formula(formula_id))
    yield from best.values()


def _per_roll(writer: PageWriter) -> Found:
    for formula_id, result in writer.results.formulas.items():
        roll, does = formula_per_roll(result.formula, result.cost), doing(result.formula)
        used = result.cost.used_per_litre
        if roll is not None and does is not None and used is not None and does.cautious != does.generous:
            inputs = (
                ("used for a litre", f"{plain(used.number, 6)} {used.currency}"),
                ("a litre does", f"{plain(does.cautious, 3)} to {plain(does.generous, 3)} rolls of 80 square inches"),
            )
            ends = f"{plain(roll.generous.number, 6)} to {plain(roll.cautious.number, 6)} {used.currency}"
            rule = "cost used of a litre ÷ rolls that a litre does, at most and at least"
            yield Working("cost of a roll", rule, inputs, ends, ARITHMETIC), writer.formula(formula_id)
            return


def _hazards(writer: PageWriter) -> Found:
    """Each mixture rule that any bath reaches, once."""
    seen: set[str] = set()
    for formula_id, result in writer.results.formulas.items():
        for finding in result.hazards.findings:
            rule = rule_words(finding)
            if rule in seen:
                continue
            seen.add(rule)
            names = ", ".join(writer.short_name(chemical) for chemical in finding.chemicals)
            share, limit = value_words(finding, writer.short_name), limit_words(finding)
            inputs = (("share", share), ("limit", limit), ("carried by", names or "the bath"))
            reached = ", ".join(dict.fromkeys((finding.hazard, finding.h)))
            outcome = f"{reached}: indicative, by calculation"
            source = "mixture rules of Regulation (EC) No 1272/2008"
            yield Working(f"hazard {finding.hazard}", rule, inputs, outcome, source), writer.formula(formula_id)


def _basket(writer: PageWriter) -> Found:
    for plan_id, result in writer.results.plans.items():
        bought = result.bought
        if not bought.orders:
            continue
        sums = tuple(
            (
                writer.supplier(order.supplier),
                f"{_sum(order.goods)} and {_sum(order.delivery)} for delivery",
            )
            for order in bought.orders
        )
        rule = "whole packs and deliveries that fill every need, less the shelf, for the least money: solved to the "
        rule += "proven optimum; of two as cheap, the one of fewer packs"
        outcome = f"{_sum(bought.total)} together"
        yield Working("basket of a plan", rule, sums, outcome, "integer programme"), writer.plan(plan_id)
        return


def _sum(money: Money) -> str:
    return f"{format(money.rounded, 'f')} {money.currency}"


def _ages(writer: PageWriter) -> Found:
    for age in writer.results.ages[:1]:
        inputs = (
            (f"{age.kind} {writer.subject(age)}", age.day.isoformat()),
            ("limit", writer.show.range(age.limit)),
            ("today", writer.results.catalogue.today.isoformat()),
        )
        outcome = f"good until {age.good_until.isoformat()}: {'out of date' if age.old else 'within the limit'}"
        rule = "day of the record + limit, a month being a twelfth of 365.2425 days; the last day is still good"
        yield (
            Working("age of a record", rule, inputs, outcome, "Gregorian calendar"),
            Link("Out of date", writer.links.path("out-of-date")),
        )


EXAMPLES: tuple[Callable[[PageWriter], Found], ...] = (
    _scaling,
    _explained,
    _per_roll,
    _hazards,
    _basket,
    _ages,
)
