"""``data/handbook.json``: the same figures as on the pages, exact and rounded, with a schema of their own.

All figures are decimal strings, so that no reader loses digits; field names are kept from one edition to the next.
"""

from __future__ import annotations

import json
from collections.abc import Iterator

from reckoner.calc.bath import Batch, BatchRow, FormulaResult
from reckoner.calc.explain import explain
from reckoner.calc.film.bottles import BottleState
from reckoner.calc.hazards.classify import BathHazards
from reckoner.calc.hazards.extreme_ph import OwnLimit
from reckoner.calc.hazards.finding import Carrier, Finding
from reckoner.calc.mixing.working import plain, plain_if_known
from reckoner.calc.prices.costing import Cost, CostRow
from reckoner.calc.results import Results
from reckoner.money import Money
from reckoner.outputs.export_changes import changed_out, chemicals_out
from reckoner.outputs.export_fields import (
    BatchOut,
    BottleOut,
    CarrierOut,
    ChemicalOut,
    CostOut,
    CostRowOut,
    Fields,
    FindingOut,
    FormulaOut,
    HazardsOut,
    JarOut,
    LimitOf,
    OwnLimitOut,
    PlanOut,
    RateOut,
    RowOut,
    WorkingOut,
)
from reckoner.outputs.export_plans import plan_out
from reckoner.outputs.export_process import ProcessOut, process_out
from reckoner.pages.safety.ph_words import TREAT
from reckoner.pages.shared.finding_words import MASS_RULES
from reckoner.records.caution import Caution

#: 2: a finding's rule is its section, its value and limit are figures with a unit, and its ingredients stand apart.
EXPORT_FORMAT = 2


class HandbookOut(Fields):
    """The whole handbook's figures."""

    format: int
    today: str
    currency: str
    rates: list[RateOut]
    chemicals: list[ChemicalOut]
    formulas: list[FormulaOut]
    processes: list[ProcessOut]
    bottles: list[BottleOut]
    plans: list[PlanOut]


def handbook_json(results: Results) -> str:
    """The figures as JSON text."""
    catalogue = results.catalogue
    out = HandbookOut(
        format=EXPORT_FORMAT,
        today=catalogue.today.isoformat(),
        currency=catalogue.settings.currency,
        rates=[
            RateOut(base=r.base, quote=r.quote, rate=str(r.rate), date=r.day.isoformat())
            for r in catalogue.rates
            if r.day <= catalogue.today
        ],
        chemicals=chemicals_out(results),
        formulas=[_formula(result, results) for result in results.formulas.values()],
        plans=[plan_out(plan, results) for plan in results.plans.values()],
        bottles=[_bottle(state) for state in results.bottles.values()],
        processes=[
            process_out(catalogue.processes[process_id], results, cost_out(sets.cost))
            for process_id, sets in results.processes.items()
        ],
    )
    return out.model_dump_json() + "\n"


def handbook_schema() -> str:
    """The JSON Schema of ``data/handbook.json``."""
    schema = HandbookOut.model_json_schema()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    return json.dumps(schema, indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def _formula(result: FormulaResult, results: Results) -> FormulaOut:
    formula = result.formula
    return FormulaOut(
        id=formula.id,
        name=formula.name,
        checked=formula.source.checked.isoformat(),
        certainty=formula.source.certainty,
        changed=changed_out("formula", formula.id, results),
        does_not_work=list(results.not_working.get(formula.id, ())),
        batches=[_batch(batch) for batch in result.batches],
        cost=cost_out(result.cost),
        hazards=_hazards(result.hazards),
        cautions=[caution.text for caution in _cautions(result)],
        working=[
            WorkingOut(
                figure=w.figure, rule=w.rule, inputs=[list(i) for i in w.inputs], result=w.result, source=w.source
            )
            for w in explain(result, results.catalogue)
        ],
    )


def _bottle(state: BottleState) -> BottleOut:
    could, then, ends = state.could, state.next, state.ends
    return BottleOut(
        id=state.bottle.id,
        formula=state.bottle.formula,
        litres=plain(state.bottle.volume.litres),
        mixed=state.bottle.mixed.isoformat(),
        rolls=plain(state.rolls, 12),
        rolls_cautious=plain(could.cautious, 12) if could else None,
        rolls_generous=plain(could.generous, 12) if could else None,
        rolls_left=None if state.left is None else plain(state.left, 12),
        next_seconds=[plain(then.seconds.low), plain(then.seconds.high)] if then and then.seconds else None,
        next_factor=plain(then.factor, 12) if then and then.factor else None,
        good_until=ends.day.isoformat() if ends else None,
        expired=state.old,
    )


def _hazards(bath: BathHazards) -> HazardsOut:
    return HazardsOut(
        signal_word=bath.label.signal,
        pictograms=list(bath.label.pictograms),
        statements=list(bath.label.statements),
        findings=[_finding(f) for f in bath.findings],
        beyond_clp=[_finding(f) for f in bath.elsewhere],
        not_assessed=[part.chemical for part in bath.unknown],
        also_named=[_finding(f) for f in bath.also_named],
        ph_not_stated=list(bath.ph_missing),
        by_own_limit=_own_limit(bath.own_limit),
        mass_rule=MASS_RULES[bath.composition.mass_rule],
    )


def _own_limit(own: OwnLimit | None) -> OwnLimitOut | None:
    if own is None:
        return None
    return OwnLimitOut(
        chemical=own.share.substance.chemical, findings=[_finding(f) for f in own.findings], treat=TREAT[own.strong]
    )


def _finding(f: Finding) -> FindingOut:
    compared = f.compared
    return FindingOut(
        hazard=f.hazard,
        statement=f.h,
        rule=f.rule,
        way=f.route,
        value=plain_if_known(compared.value),
        limit=plain_if_known(compared.limit),
        unit=compared.unit,
        up_to=compared.up_to,
        ingredients=[_carrier(carrier) for carrier in f.carriers],
    )


def _carrier(carrier: Carrier) -> CarrierOut:
    own: LimitOf = "skin corrosion" if carrier.borrowed else "its own" if carrier.own else "general"
    return CarrierOut(
        chemical=carrier.chemical,
        share=plain_if_known(carrier.percent),
        limit=plain_if_known(carrier.limit),
        limit_is=None if carrier.limit is None else own,
        weight=plain(carrier.weight, 12),
        ate=plain_if_known(carrier.ate),
    )


def _cautions(result: FormulaResult) -> Iterator[Caution]:
    """Cautions of the trade for mixing and keeping, each once."""
    cautions = result.cautions
    at_lines = (caution for of_line in cautions.ingredients.values() for caution in of_line)
    yield from dict.fromkeys((*cautions.before, *at_lines, *cautions.mixing, *cautions.keeping))


def _batch(batch: Batch) -> BatchOut:
    table = batch.table
    start = None if table.start_water is None else plain(table.start_water, 12)
    return BatchOut(volume=plain(table.volume.base), start_water=start, rows=[_row(row) for row in batch.rows])


def _row(batch_row: BatchRow) -> RowOut:
    row, line = batch_row.row, batch_row.row.line
    return RowOut(
        chemical=line.chemical,
        form=line.form,
        formula=line.formula,
        alternative=line.alternative,
        optional=line.optional,
        costed=batch_row.costed,
        per_litre=plain(line.per_litre),
        amount_exact=plain(row.exact, 12),
        amount_rounded=plain(row.measured.rounded),
        unit=line.unit,
        balance=row.measured.instrument,
        within_tolerance=batch_row.weighability.within,
        jar=_jar(batch_row),
    )


def _jar(row: BatchRow) -> JarOut | None:
    if row.jar is None:
        return None
    return JarOut(
        chemical=row.jar.jar.chemical.id,
        form=row.jar.jar.form.id,
        amount_exact=plain(row.jar.exact, 12),
        amount_rounded=plain(row.jar.measured.rounded),
        unit=row.jar.measured.unit,
        balance=row.jar.measured.instrument,
    )


def cost_out(cost: Cost) -> CostOut:
    """One cost, exact and rounded."""
    currency = next((row.used.currency for row in cost.rows if row.used), "")
    return CostOut(
        currency=currency,
        missing=list(cost.missing),
        used_per_litre=_exact(cost.used_per_litre),
        used_per_litre_rounded=_rounded(cost.used_per_litre),
        to_start=_exact(cost.to_start),
        to_start_rounded=_rounded(cost.to_start),
        runs_out_first=cost.first_out,
        runs_out_after_litres=plain_if_known(cost.first_out_litres),
        rows=[_cost_row(row) for row in cost.rows],
    )


def _cost_row(row: CostRow) -> CostRowOut:
    return CostRowOut(
        chemical=row.chemical,
        offer=row.offer.id if row.offer else None,
        price_date=row.offer.day.isoformat() if row.offer else None,
        packs=row.packs,
        per_litre=plain_if_known(row.per_litre),
        unit=row.unit,
        used=_exact(row.used),
        to_start=_exact(row.to_start),
        litres_per_pack=plain_if_known(row.litres_per_pack),
    )


def _exact(money: Money | None) -> str | None:
    return None if money is None else plain(money.number, 12)


def _rounded(money: Money | None) -> str | None:
    return None if money is None else format(money.rounded, "f")
