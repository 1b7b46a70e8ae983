"""Kit or own summed up: what each way costs over a plan, which is cheapest, how that follows from the plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.compare.kit_or_own import Comparison
from reckoner.calc.compare.simulated_side import Run
from reckoner.money import ExactMinor, Money, in_currency, money_shares
from reckoner.pages.compare.kit_pictures import MIXING
from reckoner.pages.compare.sums import SumWords
from reckoner.pages.shared.parts import PageWriter

#: Why mixing pays another sum than the plan's all-in.
STEPS = {
    "others": "Other processes and baths of the plan, not compared here",
    "alone": "This process bought by itself: it shares no packs, batches and deliveries",
    "left": "Left over in packs and still good: paid all the same",
    "batches": "Tap water, and batches that no other process shares",
    "dying": "More packs, because an opened one expires before it is used up",
}


@dataclass(frozen=True)
class TotalLine:
    """What one way costs over the plan; ``paid`` is ``good``, still in packs, and ``all_in``."""

    name: str
    paid: str
    good: str
    all_in: str
    facts: tuple[str, ...]


@dataclass(frozen=True)
class _Paid:
    """One way over the plan; sums in whole minor units."""

    name: str
    session: int
    run: Run
    paid: Money
    all_in: Money
    good: Money

    @property
    def in_sentence(self) -> str:
        """The way inside a sentence."""
        return self.name.lower() if self.name == MIXING else f"the {self.name.lower()}"


def short_labels(comparison: Comparison) -> list[str]:
    """Short names for the columns: Kit, Lab; numbered where two are of one kind."""
    kinds = Counter(alternative.kit.kind for alternative in comparison.alternatives)
    seen: Counter[str] = Counter()
    labels = []
    for alternative in comparison.alternatives:
        seen[alternative.kit.kind] += 1
        number = f" {seen[alternative.kit.kind]}" if kinds[alternative.kit.kind] > 1 else ""
        labels.append(alternative.kit.kind.capitalize() + number)
    return labels


def _plans(comparison: Comparison, labels: list[str], currency: str) -> list[_Paid]:
    """What happened over the plan, of each way."""
    ways: list[tuple[str, int, Run | None, Decimal]] = []
    if comparison.own is not None:
        ways.append((MIXING, comparison.own.session, comparison.own.plan, comparison.own.good))
    ways += [
        (label, alternative.session, alternative.plan, alternative.good)
        for label, alternative in zip(labels, comparison.alternatives, strict=True)
    ]
    paid = []
    for name, session, run, good in ways:
        if run is not None:
            spent, kept = in_currency(run.spent()[-1], currency), in_currency(good, currency)
            paid.append(_Paid(name, session, run, spent.whole, *money_shares(spent, [spent - kept, kept])))
    return paid


def cheapest(comparison: Comparison, labels: list[str], asked: str, writer: PageWriter) -> str:
    """The cheapest way over the plan, by money paid and all-in; empty where there is only one."""
    ways = _plans(comparison, labels, writer.results.catalogue.settings.currency)
    if len(ways) < 2:
        return ""
    money = writer.show.money
    least, second = sorted(ways, key=lambda way: (way.paid.number, way.name))[:2]
    best, next_best = sorted(ways, key=lambda way: (way.all_in.number, way.name))[:2]
    name = least.in_sentence[0].upper() + least.in_sentence[1:]
    if best is least:
        all_in = f", full cost {money(least.all_in)}" if least.good.number else ""
        other = f", full cost {money(next_best.all_in)}" if next_best is second and second.good.number else ""
        return (
            f"{name} costs least for {asked}: {money(least.paid)} paid{all_in}. "
            f"Next is {second.in_sentence}: {money(second.paid)} paid{other}."
        )
    metered = best.name == MIXING and writer.results.catalogue.settings.tap_water is not None
    tap = ", with the tap water, which the plan's own sum leaves out" if metered else ""
    return (
        f"{name} takes the least money for {asked}: {money(least.paid)}; "
        f"{best.in_sentence} takes {money(best.paid)}. "
        f"But {money(best.good)} of that is left in packs, still good for more: "
        f"the full cost of {best.in_sentence} is {money(best.all_in)}{tap}."
    )


def totals(comparison: Comparison, labels: list[str], writer: PageWriter) -> Iterable[TotalLine]:
    """What each way costs over the plan, and what of it is lost."""
    in_words = SumWords(writer)
    money = writer.show.money
    for way in _plans(comparison, labels, writer.results.catalogue.settings.currency):
        yield TotalLine(
            way.name,
            money(way.paid),
            money(way.good),
            money(way.all_in),
            tuple(_facts(way, comparison, in_words)),
        )


def _facts(way: _Paid, comparison: Comparison, in_words: SumWords) -> Iterable[str]:
    run, parts, rolls = way.run, way.run.parts(), comparison.question.rolls
    if rolls:
        yield f"full cost of a {comparison.question.unit} {in_words.writer.show.money(way.all_in / rolls)}"
    if run.mixed and way.session > 1 and rolls:
        yield f"sessions of {way.session}"
    thrown, mixed = sum(run.thrown.values()), sum(run.mixed.values())
    if thrown:
        yield f"{thrown} of {mixed} batches of all baths poured away unfinished, worth {in_words.minor(parts.poured)}"
    elif mixed:
        yield "nothing poured away unfinished"
    if run.owned:
        yield f"from the shelf, as paid, {in_words.minor(run.owned)}"
    if parts.left > way.good.minor + 1:
        end = "with nothing to come" if comparison.question.ends else "which will expire before it is used at this rate"
        yield f"left in packs besides, {end}: {in_words.minor(ExactMinor(parts.left - way.good.minor))}"
    if parts.dead:
        yield f"expired in packs: {in_words.minor(parts.dead)}"
    sent = f"delivery {in_words.minor(parts.delivery)}" if parts.delivery else "sent free"
    yield f"{run.orders} {'order' if mixed else 'parcel'}{'' if run.orders == 1 else 's'}, {sent}"


def bridge_lines(comparison: Comparison, writer: PageWriter) -> tuple[tuple[str, str], ...]:
    """From the plan's all-in sum to what mixing pays; the lines add up."""
    if comparison.bridge is None:
        return ()
    in_words = SumWords(writer)
    steps = ((STEPS[reason], in_words.signed(sum_)) for reason, sum_ in comparison.bridge.steps)
    start = ("The plan's full cost, as its page says", writer.show.money(comparison.bridge.plan))
    return (start, *steps, ("Paid by mixing up to the plan's end", writer.show.money(comparison.bridge.paid)))
