"""What each formula takes and what it is bought as, out of the data files: for ``figures.py``."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from independent.market import Factor, Market, Need, Offer
from independent.reading import Tree, amount, half_up, many

#: Amounts are held for one litre to this many g or mL, and scaled from there.
HELD = Fraction(1, 10**9)
LITRE = Fraction(1000)


@dataclass(frozen=True)
class Row:
    """One chemical of a cost: its needs, the offer that fills them all and what a litre takes of it."""

    needs: tuple[Need, ...]
    offer: Offer | None = None
    factors: tuple[Factor, ...] = ()
    packs: int = 0

    @property
    def bought(self) -> Tree:
        """Chemical and form of the jar."""
        jar = self.offer or self.needs[0]
        return {"chemical": jar.chemical, "form": jar.form}

    @property
    def litre(self) -> Fraction:
        return sum((need.litre * factor for need, (factor, _) in self.filled), Fraction())

    @property
    def filled(self) -> Iterator[tuple[Need, Factor]]:
        return zip(self.needs, self.factors, strict=False)

    @property
    def off(self) -> Fraction:
        return max((off for _, off in self.factors), default=Fraction())


class Bench(Market):
    """Formulas over a market."""

    def __init__(self, folder: Path, today: str) -> None:
        super().__init__(folder, today)
        self.formulas = many(folder, "solutions/*/*.yml")
        self.batch = amount(self.settings["first_batch"])[1] / LITRE
        self.processes = many(folder, "processes/*.yml")
        self._known: dict[str, tuple[Need, ...]] = {}

    def lines(self, formula: Tree) -> Iterator[tuple[tuple[int, int], Tree, Fraction, bool]]:
        """Place, item, amount in a litre, and whether it is optional; alternatives behind what they replace."""
        if "dilution" in formula:
            parts = [Fraction(part) for part in formula["dilution"].split("+")]
            for index, used in enumerate(formula["of"]):
                yield (index, 0), {"formula": used}, half_up(LITRE * parts[index] / sum(parts), HELD), False
            return
        for index, line in enumerate(formula["ingredients"]):
            for number, item in enumerate([line, *line.get("or", [])]):
                yield (index, number), item, self.held(formula, item), line.get("optional") == "yes"

    def held(self, formula: Tree, item: Tree) -> Fraction:
        """The amount in a litre."""
        number = amount(item["amount"])[1]
        if "chemical" in item:
            number = self.content(item["amount"], self.form(item["chemical"], item["form"]))
        return half_up(number * LITRE / amount(formula["makes"])[1], HELD)

    def unit(self, item: Tree) -> str:
        """g for a solid, mL for a liquid or a solution."""
        solid = "chemical" in item and self.form(item["chemical"], item["form"]).get("state", "solid") == "solid"
        return "g" if solid else "mL"

    def start(self, formula: Tree) -> Fraction | None:
        """mL of water that go in first, for a litre."""
        if "dilution" in formula:
            parts = [Fraction(part) for part in formula["dilution"].split("+")]
            return half_up(LITRE * parts[-1] / sum(parts), HELD) if len(parts) > len(formula["of"]) else None
        if "start_water" not in formula:
            return None
        return half_up(amount(formula["start_water"])[1] * LITRE / amount(formula["makes"])[1], HELD)

    def needs(self, formula_id: str) -> tuple[Need, ...]:
        """What a litre takes of every chemical, solutions taken apart, water last."""
        if formula_id not in self._known:
            self._known[formula_id] = tuple(self._all_needs(self.formulas[formula_id]))
        return self._known[formula_id]

    def _all_needs(self, formula: Tree) -> Iterator[Need]:
        choices: dict[int, list[tuple[Need, ...]]] = {}
        liquids = Fraction()
        for place, item, litre, optional in self.lines(formula):
            if not optional:
                choices.setdefault(place[0], []).append(self._of(item, litre, place))
                liquids += litre if place[1] == 0 and self.unit(item) == "mL" else 0
        for options in choices.values():
            able = (option for option in options if all(self.metered(n) or self.fill(n) for n in option))
            yield from next(able, options[0])
        water = LITRE - liquids
        if "make_up_with" in formula:
            yield from self._of(formula["make_up_with"], self.held(formula, formula["make_up_with"]), (-1, 0))
            water = self.start(formula) or Fraction()
        if water > 0:
            yield Need("water", formula.get("water", "purified"), water)

    def _of(self, item: Tree, litre: Fraction, line: tuple[int, int]) -> tuple[Need, ...]:
        if "chemical" in item:
            return (Need(item["chemical"], item["form"], litre, tuple(item.get("swap", ())), False, line),)
        inner = self.needs(item["formula"])
        return tuple(Need(n.chemical, n.form, n.litre * litre / LITRE, n.swap, True, line) for n in inner)

    def rows(self, needs: tuple[Need, ...]) -> list[Row]:
        """What is bought: one offer for all needs of a chemical, the one that costs least to start."""
        pools: dict[tuple[str, str], list[Need]] = {}
        for need in needs:
            options = self.fill(need)
            key = (options[0][0].chemical if options else need.chemical, "")
            if need.chemical == "water" or "formula" not in self.form(need.chemical, need.form):
                key = (key[0], need.form)
            pools.setdefault(key, []).append(need)
        return [self._row(tuple(pool)) for pool in pools.values()]

    def _row(self, needs: tuple[Need, ...]) -> Row:
        if self.metered(needs[0]):
            return Row(needs, None, tuple((Fraction(1), Fraction()) for _ in needs))
        found: list[tuple[Fraction, Fraction, str, Row]] = []
        for offer, _ in self.fill(needs[0]):
            factors = tuple(factor for need in needs for other, factor in self.fill(need) if other == offer)
            if len(factors) == len(needs):
                litre = Row(needs, offer, factors).litre
                packs = max(1, -((-litre * self.batch / offer.content).__floor__()))
                row = Row(needs, offer, factors, packs)
                found.append((offer.price * packs, offer.price / offer.content * litre, offer.id, row))
        return min(found, key=lambda choice: choice[:3])[3] if found else Row(needs)
