"""What can be bought on one day, and what one jar stands for another: for ``bench.py``."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from pathlib import Path
from typing import Any

from independent.reading import (
    WEIGHTS_DIFFER,
    Tree,
    amount,
    half_up,
    many,
    mass,
    money,
    one,
    per_cent,
    price_lists,
    strength,
)


@dataclass(frozen=True)
class Need:
    """What a litre takes of a form: g of a solid, mL of a liquid."""

    chemical: str
    form: str
    litre: Fraction
    swap: tuple[str, ...] = ()
    inside: bool = False
    line: tuple[int, int] = (-1, 0)


@dataclass(frozen=True)
class Offer:
    """A pack in force, with its content in g or mL and its price in the owner's currency with tax."""

    id: str
    day: str
    chemical: str
    form: str
    assay: str | None
    content: Fraction
    price: Fraction


CENT = Fraction(1, 100)
#: What to take from a jar for 1 g or 1 mL asked, and how far that may be off.
Factor = tuple[Fraction, Fraction]


@dataclass
class Market:
    """Chemicals and offers of one folder on one day."""

    folder: Path
    today: str

    def __post_init__(self) -> None:
        self.settings = one(self.folder / "settings.yml")
        self.chemicals = many(self.folder, "chemicals/*.yml")

    def form(self, chemical: str, form: str) -> Tree:
        (found,) = [f for f in self.chemicals[chemical]["forms"] if f["id"] == form]
        return dict(found)

    def content(self, text: str, form: Tree) -> Fraction:
        """An amount of a form: g of a solid, mL of a liquid."""
        kind, number = amount(text)
        if form.get("state", "solid") == "liquid" and kind == "mass":
            return number / Fraction(form["density"].removesuffix(" g/mL"))
        assert kind == ("volume" if form.get("state", "solid") == "liquid" else "mass"), text
        return number

    @cached_property
    def offers(self) -> dict[str, list[Offer]]:
        """What can be bought, by chemical."""
        newest: dict[tuple[Any, ...], tuple[str, str, Tree]] = {}
        for supplier, day, complete, rows in price_lists(self.folder / "prices"):
            if day > self.today:
                continue
            if complete:
                newest = {key: row for key, row in newest.items() if key[0] != supplier}
            for row in rows:
                key = (supplier, row["chemical"], row["form"], amount(row["pack"]), row.get("count", "1"))
                newest[key] = (supplier, day, row)
        found: dict[str, list[Offer]] = {}
        for supplier, day, row in newest.values():
            if row.get("in_stock", "yes") == "yes" and row.get("handed_over") != "not deliverable":
                found.setdefault(row["chemical"], []).append(self._offer(supplier, day, row))
        return found

    def _offer(self, supplier: str, day: str, row: Tree) -> Offer:
        count = int(row.get("count", "1"))
        number, currency = money(row["price"])
        times = f"{count}x" if count > 1 else ""
        name = f"{supplier}/{row['chemical']}/{row['form']}/{times}{row['pack'].replace(' ', '-')}"
        content = self.content(row["pack"], self.form(row["chemical"], row["form"])) * count
        # A pack is paid in whole cents, one at least; everything starts from what is paid.
        price = max(CENT, half_up(number * self.charged(supplier) * self.rate(currency), CENT))
        return Offer(name, day, row["chemical"], row["form"], row.get("assay"), content, price)

    def charged(self, supplier: str) -> Fraction:
        """What duty and tax make of a listed price."""
        tree = one(self.folder / "prices" / supplier / "supplier.yml")
        tax = per_cent(tree["vat"]) if tree["vat_included"] == "no" else Fraction()
        return (1 + per_cent(tree.get("duty", "0 %"))) * (1 + tax)

    def rate(self, currency: str) -> Fraction:
        """How much of the owner's currency one of another is: the newest rate, turned round only where it must be."""
        own = self.settings["currency"]
        if currency == own:
            return Fraction(1)
        rates = one(self.folder / "exchange_rates.yml")["rates"]
        usable = [r for r in rates if {r["base"], r["quote"]} == {currency, own} and r["date"] <= self.today]
        newest = max(usable, key=lambda r: (r["date"], r["base"] == currency))
        number = Fraction(newest["rate"])
        return number if newest["base"] == currency else 1 / number

    def grams(self, form: Tree, assay: str | None) -> Fraction | None:
        """Grams of the compound in 1 g of a solid or 1 mL of a liquid."""
        stated = assay or form.get("strength")
        if form.get("state", "solid") == "solid":
            return strength(stated)[0] if stated else Fraction(1)
        if not stated:
            return None
        share, basis = strength(stated)
        if basis == "w/w" and "density" in form:
            return share * Fraction(form["density"].removesuffix(" g/mL"))
        return share if basis == "w/v" else None

    def _by_volume(self, need: Need, offer: Offer, asked: Tree, jar: Tree) -> Fraction | None:
        """Between solutions of one substance that are both told in % v/v."""
        stated = [strength(text) for text in (asked.get("strength"), offer.assay or jar.get("strength")) if text]
        same = need.chemical == offer.chemical and asked.get("formula") == jar.get("formula")
        if not same or len(stated) < 2 or {basis for _, basis in stated} != {"v/v"}:
            return None
        return stated[0][0] / stated[1][0]

    def factor(self, need: Need, offer: Offer) -> Factor | None:
        """From the asked form to an offer's."""
        asked, jar = self.form(need.chemical, need.form), self.form(offer.chemical, offer.form)
        same = (need.chemical, need.form) == (offer.chemical, offer.form)
        if same and (offer.assay is None or offer.assay == asked.get("strength")):
            return Fraction(1), Fraction()
        by_volume = self._by_volume(need, offer, asked, jar)
        if by_volume:
            return by_volume, Fraction()
        left, right = self.grams(asked, None), self.grams(jar, offer.assay)
        if left is None or right is None:
            return None
        if same:
            return left / right, Fraction()
        if "formula" not in asked or "formula" not in jar:
            return None
        gives: list[Fraction] = [Fraction(1), Fraction(1)]
        if need.chemical != offer.chemical:
            active = [self.chemicals[chemical].get("active") for chemical in (need.chemical, offer.chemical)]
            if None in active or active[0]["entity"] != active[1]["entity"]:
                return None
            gives = [Fraction(one_of.get("moles", "1")) for one_of in active]
        if asked["formula"] == jar["formula"]:
            return left / right, Fraction()
        return (left / mass(asked["formula"]) * gives[0]) / (right / mass(jar["formula"]) * gives[1]), WEIGHTS_DIFFER

    def fill(self, need: Need) -> list[tuple[Offer, Factor]]:
        """Offers that fill a need; another chemical only where the asked one is not to be had."""
        for chemical in (need.chemical, *need.swap):
            options = [(offer, self.factor(need, offer)) for offer in self.offers.get(chemical, [])]
            found = [(offer, factor) for offer, factor in options if factor]
            if found:
                return found
        return []

    def metered(self, need: Need) -> bool:
        return (need.chemical, need.form) == ("water", "tap") and "tap_water" in self.settings
