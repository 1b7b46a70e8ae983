"""Plans as figures for the JSON, and a plan's basket as CSV."""

from __future__ import annotations

from decimal import Decimal

from reckoner.calc.all_in import Parts
from reckoner.calc.buying import PlanBought, in_currency
from reckoner.calc.results import PlanResult, Results
from reckoner.calc.working import plain
from reckoner.pages.csv_out import to_csv
from reckoner.pages.export_fields import PartsOut, PlanBathOut, PlanLineOut, PlanOrderOut, PlanOut

HEADER = ("supplier", "chemical", "form", "pack", "count", "packs", "price each", "sum", "currency", "list of", "note")


def plan_out(result: PlanResult, results: Results) -> PlanOut:
    """One plan's figures; sums in minor units as decimal strings of the owner's currency."""
    bought, money = result.bought, result.money
    currency = results.catalogue.settings.currency
    return PlanOut(
        id=bought.plan.id,
        name=bought.plan.name,
        missing=list(bought.missing),
        to_start=_sum(Decimal(bought.total), currency),
        one_supplier_fewer=None if bought.fewer_total is None else _sum(Decimal(bought.fewer_total), currency),
        all_in=_parts(money.parts, currency),
        orders=[
            PlanOrderOut(
                supplier=order.supplier,
                fetched=order.fetched,
                goods=_sum(Decimal(order.goods), currency),
                delivery=_sum(Decimal(order.delivery), currency),
                lines=[
                    PlanLineOut(offer=line.offer.id, packs=line.packs, sum=_sum(Decimal(line.price), currency))
                    for line in order.lines
                ],
            )
            for order in bought.orders
        ],
        baths=[
            PlanBathOut(
                formula=bath.formula,
                litres=plain(bath.litres, 12),
                batches=bath.batches,
                rolls=plain(bath.rolls, 12),
                all_in=_parts(money.by_formula[bath.formula], currency),
            )
            for bath in bought.baths
        ],
        per_roll={one.process: _sum(one.per_roll, currency) for one in money.processes if one.per_roll is not None},
    )


def basket_csv(bought: PlanBought, results: Results) -> str:
    """The basket, one offer a row, ready to be ordered from; prices in the owner's currency with tax."""
    names = results.catalogue.suppliers
    rows = [HEADER]
    for order in bought.orders:
        for line in order.lines:
            offer = line.offer.offer
            each = in_currency(line.price // line.packs, results.catalogue.settings.currency)
            rows.append(
                (
                    names[order.supplier].name,
                    results.catalogue.chemicals[offer.chemical].name,
                    offer.form,
                    str(offer.pack),
                    str(offer.count),
                    str(line.packs),
                    format(each.rounded, "f"),
                    format(each.times(Decimal(line.packs)).rounded, "f"),
                    each.currency,
                    line.offer.day.isoformat(),
                    offer.note or "",
                )
            )
    return to_csv(rows)


def _parts(parts: Parts, currency: str) -> PartsOut:
    return PartsOut(
        film=_sum(parts.film, currency),
        poured_away=_sum(parts.poured, currency),
        left_over_and_dead=_sum(parts.dying, currency),
        delivery=_sum(parts.delivery, currency),
        total=_sum(parts.total, currency),
    )


def _sum(minor: Decimal, currency: str) -> str:
    return plain(in_currency(1, currency).times(minor).number, 12)
