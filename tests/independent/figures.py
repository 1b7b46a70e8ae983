"""Every weighing amount and every cost of a handbook worked out a second time, from the data files alone.

Nothing of the handbook's core is used: plain fractions, and the rules as the pages state them. ``worked`` gives each
figure under the path at which ``data/handbook.json`` has it; ``differences`` compares the two.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from independent.bench import HELD, LITRE, Bench, Row
from independent.market import Factor
from independent.reading import Tree, amount, half_up, money

CENT = Fraction(1, 100)
#: Figures that do not end are written to twelve places, after sums of 28 digits.
WRITTEN = Fraction(1, 10**12)
#: Not worked out here: a judgement, and words beside the figures.
LEFT_OUT = ("within_tolerance", "currency")


@dataclass(frozen=True)
class Figure:
    """A figure, between which bounds another may lie, and the step that it is rounded to (0: none)."""

    value: Fraction
    off: Fraction = Fraction(0)
    step: Fraction = Fraction(0)

    def agrees(self, told: str) -> bool:
        """Whether a figure of the JSON is this one."""
        low, high = self.value - self.off, self.value + self.off
        if self.step:
            return half_up(low, self.step) <= Fraction(told) <= half_up(high, self.step)
        return low - WRITTEN <= Fraction(told) <= high + WRITTEN

    def __add__(self, other: Figure) -> Figure:
        return Figure(self.value + other.value, self.off + other.off)

    def to(self, step: Fraction) -> Figure:
        """The same, rounded."""
        return Figure(self.value, self.off, step)


Worked = dict[str, Any]


def worked(bench: Bench) -> Worked:
    """Every figure, by its path in the JSON."""
    found: Worked = {}
    for formula_id in bench.formulas:
        at = f"formulas.{formula_id}"
        rows = bench.rows(bench.needs(formula_id))
        for number, size in enumerate(bench.settings["batch_sizes"]):
            found |= _batch(bench, formula_id, rows, amount(size)[1], f"{at}.batches.{number}")
        found |= _cost(bench, rows, f"{at}.cost")
    for process_id, process in bench.processes.items():
        steps = [step for step in process["steps"] if step.get("baths") and step.get("optional", "no") == "no"]
        baths = dict.fromkeys(step["baths"][0]["formula"] for step in steps)
        needs = tuple(need for bath in baths for need in bench.needs(bath))
        found |= _cost(bench, bench.rows(needs), f"processes.{process_id}.cost")
    return found


def _batch(bench: Bench, formula_id: str, rows: Iterable[Row], volume: Fraction, at: str) -> Worked:
    formula = bench.formulas[formula_id]
    needs = bench.needs(formula_id)
    filled = {need.line: (row, factor) for row in rows for need, factor in row.filled if not need.inside}
    start = _start(bench, formula, {need.line for need in needs}, filled)
    found: Worked = {
        f"{at}.volume": Figure(volume),
        f"{at}.start_water": None if start is None else Figure(start * volume / LITRE),
    }
    for number, (place, item, litre, optional) in enumerate(bench.lines(formula)):
        exact, unit, here = litre * volume / LITRE, bench.unit(item), f"{at}.rows.{number}"
        found |= {f"{here}.{key}": item.get(key) for key in ("chemical", "form", "formula")}
        found |= {f"{here}.alternative": place[1], f"{here}.optional": optional, f"{here}.per_litre": Figure(litre)}
        found[f"{here}.costed"] = any(need.line == place for need in needs)
        found |= _measured(bench, exact, Fraction(), unit, here)
        found |= _jar(bench, item, exact, filled.get(place), f"{here}.jar")
    return found | (_left_over(bench, found, start, volume, at) if "dilution" in formula else {})


def _left_over(bench: Bench, found: Worked, start: Fraction | None, volume: Fraction, at: str) -> Worked:
    """The largest part of a dilution, of equal ones the last and water behind all: what the others leave."""
    poured = {key: figure for key, figure in found.items() if key.startswith(f"{at}.rows.") and "_rounded" in key}
    if start is not None:
        water = _measured(bench, start * volume / LITRE, Fraction(), "mL", "water")
        poured["water"] = water["water.amount_rounded"]
    order = list(poured)
    largest = max(order, key=lambda key: (poured[key].value, order.index(key)))
    others = sum((half_up(figure.value, figure.step) for key, figure in poured.items() if key != largest), Fraction())
    return {} if largest == "water" else {largest: Figure(max(Fraction(), volume - others))}


def _start(bench: Bench, formula: Tree, taken: set[Any], filled: Mapping[Any, tuple[Row, Factor]]) -> Fraction | None:
    """Water to start a litre with: where jars hold more liquid than is asked and it would run over, less by that."""
    start = bench.start(formula)
    if start is None or "dilution" in formula:
        return start
    asked = poured = Fraction()
    for place, item, litre, _ in bench.lines(formula):
        if place in taken:
            own = litre if bench.unit(item) == "mL" else Fraction()
            row, (factor, _off) = filled.get(place, (None, (Fraction(), Fraction())))
            jar = litre * factor if row and row.offer is not None and bench.unit(row.bought) == "mL" else Fraction()
            asked, poured = asked + own, poured + max(own, jar)
    return start if start + poured <= LITRE else max(Fraction(), start - half_up(poured - asked, HELD))


def _jar(bench: Bench, item: Tree, exact: Fraction, filled: tuple[Row, Factor] | None, at: str) -> Worked:
    """What to take from the jar that is bought, where that is another."""
    if filled is None or filled[0].offer is None:
        return {at: None}
    row, (factor, off) = filled
    if row.bought == {key: item[key] for key in row.bought} and factor == 1:
        return {at: None}
    named: Worked = {f"{at}.{key}": value for key, value in row.bought.items()}
    return named | _measured(bench, exact * factor, off, bench.unit(row.bought), at)


def _measured(bench: Bench, exact: Fraction, off: Fraction, unit: str, at: str) -> Worked:
    """On the finest instrument that holds it, else the largest."""
    tools = []
    for tool in bench.settings["balances" if unit == "g" else "cylinders"]:
        holds = amount(tool["capacity"])[1] - amount(tool.get("vessel", "0 g"))[1]
        tools.append((amount(tool["step"])[1], amount(tool["capacity"])[1], tool["name"], holds))
    tools.sort()
    step, _, name, _ = next((tool for tool in tools if tool[3] >= exact), max(tools, key=lambda tool: tool[3]))
    return {
        f"{at}.amount_exact": Figure(exact, exact * off),
        f"{at}.amount_rounded": Figure(exact, exact * off, step),
        f"{at}.unit": unit,
        f"{at}.balance": name,
    }


def _cost(bench: Bench, rows: list[Row], at: str) -> Worked:
    found: Worked = {f"{at}.missing": sorted({row.bought["chemical"] for row in rows if not row.factors})}
    used, start = Figure(Fraction()), Figure(Fraction())
    lasts: list[tuple[Fraction, str, Fraction]] = []
    for number, row in enumerate(rows):
        said = _cost_row(bench, row)
        found |= {f"{at}.rows.{number}.{key}": value for key, value in said.items()}
        if row.factors:
            used, start = used + said["used"], start + said["to_start"]
        if row.offer and row.offer.chemical != "water":
            lasts.append((row.offer.content * row.packs / row.litre, row.offer.chemical, row.off))
    complete = not found[f"{at}.missing"]
    last = min(lasts, default=(None, None, Fraction()))
    sums = {"used_per_litre": used, "to_start": start}
    found |= {f"{at}.{key}": total if complete else None for key, total in sums.items()}
    found |= {f"{at}.{key}_rounded": total.to(CENT) if complete else None for key, total in sums.items()}
    found[f"{at}.runs_out_first"] = last[1]
    found[f"{at}.runs_out_after_litres"] = None if last[0] is None else Figure(last[0], last[0] * last[2])
    return found


def _cost_row(bench: Bench, row: Row) -> Worked:
    offer, litre, off = row.offer, row.litre, row.off
    found: Worked = dict.fromkeys(("offer", "price_date", "packs", "per_litre", "used", "to_start", "litres_per_pack"))
    found |= {"chemical": row.bought["chemical"], "unit": bench.unit(row.bought)}
    if offer:
        found |= {
            "offer": offer.id,
            "price_date": offer.day,
            "packs": row.packs,
            "per_litre": Figure(litre, litre * off),
        }
        price = offer.price / offer.content * litre
        found["used"] = Figure(price, price * off)
        found["to_start"] = Figure(offer.price * row.packs)
        found["litres_per_pack"] = Figure(offer.content / litre, offer.content / litre * off)
    elif row.factors:
        tap = bench.settings["tap_water"]
        price = money(tap["price"])[0] / amount(tap["per"])[1] * litre
        found |= {"per_litre": Figure(litre), "used": Figure(price), "to_start": Figure(price * bench.batch)}
    return found


def told(handbook: Any) -> dict[str, Any]:
    """The same figures as the JSON tells them, by path."""
    found: dict[str, Any] = {}
    for kind in ("formulas", "processes"):
        for one in handbook[kind]:
            kept = {key: one[key] for key in ("batches", "cost") if key in one}
            found |= dict(_leaves(kept, f"{kind}.{one['id']}"))
    return {at: value for at, value in found.items() if not at.endswith(LEFT_OUT)}


def _leaves(tree: Any, at: str) -> Iterator[tuple[str, Any]]:
    if isinstance(tree, dict) and tree:
        for key, value in tree.items():
            yield from _leaves(value, f"{at}.{key}")
    elif isinstance(tree, list) and tree and isinstance(tree[0], dict):
        for number, value in enumerate(tree):
            yield from _leaves(value, f"{at}.{number}")
    else:
        yield at, tree


def differences(worked: Worked, told: Mapping[str, Any]) -> list[str]:
    """Every path at which the two do not agree, and every path that only one has."""
    found = []
    for at in sorted({*worked, *told}):
        if at not in worked or at not in told:
            found.append(f"{at}: only {'the JSON' if at in told else 'this sum'} has it")
            continue
        ours, theirs = worked[at], told[at]
        if not isinstance(ours, Figure):
            found += [] if ours == theirs else [f"{at}: {theirs} in the JSON, {ours} here"]
        elif theirs is None or not ours.agrees(theirs):
            found.append(f"{at}: {theirs} in the JSON, {float(ours.value)} here, to the step {ours.step}")
        elif ours.step and half_up(Fraction(told[_unrounded(at)]), ours.step) != Fraction(theirs):
            found.append(f"{at}: {theirs} is not {told[_unrounded(at)]} rounded half up")
    return found


def _unrounded(at: str) -> str:
    return at.replace("amount_rounded", "amount_exact").removesuffix("_rounded")
