"""Plans as figures for the JSON, and a plan's basket as CSV."""

from __future__ import annotations

from reckoner.calc.buying.all_in import PlanSplit
from reckoner.calc.buying.plan_basket import Bought, Order, PlanBought
from reckoner.calc.mixing.working import plain
from reckoner.calc.prices.offers import PricedOffer
from reckoner.calc.results import PlanResult, Results
from reckoner.money import Money
from reckoner.outputs.export_fields import PartsOut, PlanBathOut, PlanLineOut, PlanOrderOut, PlanOut
from reckoner.outputs.tables import Column, Table
from reckoner.pages.safety.not_working_view import IN_A_TITLE


def columns(currency: str) -> tuple[Column, ...]:
    """The columns of a basket."""
    return (
        Column("supplier", "string", "name of the supplier", required=True),
        Column("chemical", "string", "name of the chemical, or delivery", required=True),
        Column("form", "string", "id of the form"),
        Column("pack", "string", "what one unit of a pack holds, with its unit"),
        Column("count", "integer", "units in a pack"),
        Column("packs", "integer", "how many packs to order"),
        Column("price each", "number", "with duty and tax", currency=currency, required=True),
        Column("sum", "number", "of all packs of the row, with duty and tax", currency=currency, required=True),
        Column("currency", "string", "of price and sum", required=True),
        Column("listed each", "number", "what the supplier asks, in the currency of the next column"),
        Column("listed in", "string", "currency of the supplier's list"),
        Column("added to it", "string", "duty, tax and rate of exchange on top of the listed price"),
        Column("list of", "date", "day of the price list"),
        Column("note", "string", "remark on the offer or the delivery"),
        Column("warning", "string", "baths of the plan that do not work as written, by name; else empty"),
    )


def plan_out(result: PlanResult, results: Results) -> PlanOut:
    """One plan's figures; sums as decimal strings of the owner's currency."""
    bought, money = result.bought, result.sure
    return PlanOut(
        id=bought.plan.id,
        name=bought.plan.name,
        missing=list(bought.missing),
        to_start=_sum(bought.total) if money else None,
        one_supplier_fewer=None if bought.fewer_total is None else _sum(bought.fewer_total),
        all_in=_parts(money.parts) if money else None,
        orders=[
            PlanOrderOut(
                supplier=order.supplier,
                fetched=order.fetched,
                goods=_sum(order.goods),
                delivery=_sum(order.delivery),
                lines=[
                    PlanLineOut(offer=line.offer.id, packs=line.packs, sum=_sum(line.price)) for line in order.lines
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
                all_in=_parts(money.by_formula[bath.formula]) if money else None,
            )
            for bath in bought.baths
        ],
        per_roll={
            process.process: _sum(process.per_roll)
            for process in (money.processes if money else ())
            if process.per_roll is not None
        },
    )


def basket_table(bought: PlanBought, results: Results) -> Table:
    """The basket, one offer a row and one for each order's delivery, ready to be ordered from.

    ``price each`` and ``sum`` are in the owner's currency with duty and tax; the column of sums, deliveries among them,
    adds up to what the basket costs. ``listed each`` is what the supplier asks, in its own currency.
    """
    rows: list[tuple[str, ...]] = []
    for order in bought.orders:
        rows += [_offer_row(line, order, results) for line in order.lines]
        rows.append(_delivery_row(order, results))
    plan = bought.plan
    faulty = [bath.formula for bath in bought.baths if bath.formula in results.not_working]
    names = ", ".join(results.catalogue.formulas[formula_id].name for formula_id in faulty)
    warning = f"{names}: {IN_A_TITLE}" if faulty else ""
    return Table(
        path=f"plan-{plan.id}.csv",
        name=f"plan-{plan.id}",
        title=f"Basket: {plan.name}",
        columns=columns(results.catalogue.settings.currency),
        rows=tuple((*row, warning) for row in rows),
    )


def _offer_row(line: Bought, order: Order, results: Results) -> tuple[str, ...]:
    offer = line.offer.offer
    each = line.offer.price
    return (
        results.catalogue.suppliers[order.supplier].name,
        results.catalogue.chemicals[offer.chemical].name,
        offer.form,
        str(offer.pack),
        str(offer.count),
        str(line.packs),
        format(each.rounded, "f"),
        format(line.price.rounded, "f"),
        each.currency,
        format(line.offer.listed.number, "f"),
        line.offer.listed.currency,
        _added(line.offer),
        line.offer.day.isoformat(),
        offer.note or "",
    )


def _added(offer: PricedOffer) -> str:
    """What is on top of the listed price: duty and tax where the list leaves them out, and the rate of exchange."""
    added = [f"{plain(rate, 5)} % {name}" for name, rate in (("duty", offer.duty), ("VAT", offer.tax)) if rate]
    if offer.exchange.day is not None:
        added.append(f"1 {offer.exchange.base} = {plain(offer.exchange.factor, 6)} {offer.exchange.quote}")
    return "; ".join(added)


def _delivery_row(order: Order, results: Results) -> tuple[str, ...]:
    """An order's delivery; a row of nothing where it is free or fetched, so that nobody looks for it."""
    supplier = results.catalogue.suppliers[order.supplier]
    charge = order.delivery
    paid = supplier.delivery is not None and charge.number > 0
    listed = supplier.delivery.charge if supplier.delivery and paid else None
    free = "" if paid else "free"
    if order.fetched:
        free = "fetched from the shop"
    elif supplier.delivery is None:
        free = "no charge is recorded, so none is counted"
    sum_ = format(charge.rounded, "f")
    return (
        *(supplier.name, "delivery", "", "", "", "", sum_, sum_, charge.currency),
        format(listed.number, "f") if listed else "",
        listed.currency if listed else "",
        _added(order.lines[0].offer) if listed else "",
        "",
        free,
    )


def _parts(parts: PlanSplit) -> PartsOut:
    return PartsOut(
        film=_sum(parts.film),
        poured_away=_sum(parts.poured),
        left_over_and_dead=_sum(parts.dying),
        delivery=_sum(parts.delivery),
        total=_sum(parts.total),
    )


def _sum(money: Money) -> str:
    return plain(money.number, 12)
