"""The fields of ``data/handbook.json``: written down once and kept from one edition to the next.

All figures are decimal strings, so that no reader loses digits.
"""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

UNDELIVERED = "whole packs for the first batch, without delivery: a plan's to_start is delivered"
DECIMAL = r"^-?\d+(\.\d+)?$"


class _Fields(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


def _figure(text: str) -> str:
    return Field(pattern=DECIMAL, description=text)  # type: ignore[no-any-return]


class JarOut(_Fields):
    """What to weigh from the jar bought, where it holds another form."""

    chemical: str
    form: str
    amount_exact: str = _figure("unrounded, in unit")
    amount_rounded: str = _figure("to the instrument's step, half up")
    unit: str
    balance: str


class RowOut(_Fields):
    """One ingredient of a batch, in mixing order."""

    chemical: str | None
    form: str | None
    formula: str | None
    alternative: int
    optional: bool
    costed: bool
    per_litre: str = _figure("g or mL in a litre, to 1e-9")
    amount_exact: str = _figure("unrounded, in unit")
    amount_rounded: str = _figure("to the instrument's step, half up")
    unit: str
    balance: str
    within_tolerance: bool
    jar: JarOut | None


class BatchOut(_Fields):
    """One batch size."""

    volume: str = _figure("mL")
    start_water: str | None
    rows: list[RowOut]


class CostRowOut(_Fields):
    """One chemical's cost. ``offer`` is supplier/chemical/form/pack, or null where nothing is for sale."""

    chemical: str
    offer: str | None
    price_date: str | None
    packs: int | None
    per_litre: str | None
    unit: str
    used: str | None
    to_start: str | None = Field(description=UNDELIVERED)
    litres_per_pack: str | None


class CostOut(_Fields):
    """Sums are null while a price is missing; ``missing`` names the chemicals."""

    currency: str
    missing: list[str]
    used_per_litre: str | None
    used_per_litre_rounded: str | None
    to_start: str | None = Field(description=UNDELIVERED)
    to_start_rounded: str | None = Field(description=UNDELIVERED)
    runs_out_first: str | None
    runs_out_after_litres: str | None
    rows: list[CostRowOut]


class WorkingOut(_Fields):
    """How a figure was worked out."""

    figure: str
    rule: str
    inputs: list[list[str]]
    result: str
    source: str


class FindingOut(_Fields):
    """One class that the bath reaches by calculation, with its rule, share and limit."""

    hazard: str
    statement: str
    rule: str
    share: str
    limit: str
    chemicals: list[str]


class HazardsOut(_Fields):
    """Indicative classification of the mixed bath; ``not_assessed`` names ingredients without data."""

    signal_word: str | None
    pictograms: list[str]
    statements: list[str]
    findings: list[FindingOut]
    not_assessed: list[str]
    beyond_clp: list[FindingOut]
    mass_rule: str


class FormulaOut(_Fields):
    """One formula."""

    id: str
    name: str
    checked: str
    certainty: str
    batches: list[BatchOut]
    cost: CostOut
    hazards: HazardsOut
    cautions: list[str]
    working: list[WorkingOut]


class SpanOut(_Fields):
    """A value or a span, in the unit of its source."""

    low: str = _figure("least")
    high: str = _figure("most; the same as low for one value")
    unit: str


class StepOut(_Fields):
    """One step of a process; times in seconds. ``backing`` is what the film must have for the step to be done."""

    number: int
    name: str
    kind: str
    baths: list[str]
    time: SpanOut | None
    time_note: str | None
    time_certainty: str | None
    temperature: SpanOut | None
    tolerance: SpanOut | None
    temperature_certainty: str | None
    agitation: str | None
    agitation_certainty: str | None
    light: str
    backing: str | None
    only_for: str | None
    optional: bool
    certainty: str
    citation: str | None


class RemarkOut(_Fields):
    """One thing that is said, and how sure it is."""

    text: str
    certainty: str
    citation: str | None


class VariationOut(_Fields):
    """A step pushed, pulled or at another temperature; the time in seconds."""

    name: str
    step: str
    time: SpanOut
    temperature: SpanOut | None
    note: str | None
    certainty: str
    citation: str | None


class WetTimeOut(_Fields):
    """Seconds in baths and water, with the numbers of steps that have no time or may be left out."""

    low: str = _figure("seconds, steps that are always done")
    high: str = _figure("seconds, steps that are always done")
    untimed: list[int]
    optional_low: str = _figure("seconds on top, steps that may be left out")
    optional_high: str = _figure("seconds on top, steps that may be left out")
    optional: list[int]


class ProcessOut(_Fields):
    """One process: its schedule, the baths of a set, how many sets the packs make, what ends them.

    ``wet_time`` is for film with backing, ``wet_time_without_backing`` null where no step depends on one.
    """

    id: str
    name: str
    kind: str
    adapts: str | None
    steps: list[StepOut]
    wet_time: WetTimeOut
    wet_time_without_backing: WetTimeOut | None
    gives_out_first: str | None
    rolls_cautious: str | None
    rolls_generous: str | None
    variations: list[VariationOut]
    backing_removal: list[RemarkOut]
    faults: list[RemarkOut]
    baths: list[str]
    complete_sets: int | None
    ends_with: str | None
    restock_cost: str | None
    cost: CostOut


class PartsOut(_Fields):
    """What money went for; the parts add up to the total."""

    film: str
    poured_away: str
    left_over_and_dead: str
    delivery: str
    total: str


class PlanLineOut(_Fields):
    """Packs of one offer."""

    offer: str
    packs: int
    sum: str


class PlanOrderOut(_Fields):
    """What one supplier sends."""

    supplier: str
    fetched: bool
    goods: str
    delivery: str
    lines: list[PlanLineOut]


class PlanBathOut(_Fields):
    """One bath that a plan mixes."""

    formula: str
    litres: str
    batches: int
    rolls: str
    all_in: PartsOut | None


class PlanOut(_Fields):
    """One plan: its cheapest basket and its money in the owner's currency."""

    id: str
    name: str
    missing: list[str]
    to_start: str | None = Field(
        description="the basket's whole packs and the delivery of every order; null where nothing fills the plan"
    )
    one_supplier_fewer: str | None
    all_in: PartsOut | None
    orders: list[PlanOrderOut]
    baths: list[PlanBathOut]
    per_roll: dict[str, str]


class RateOut(_Fields):
    """A dated exchange rate as recorded."""

    base: str
    quote: str
    rate: str
    date: str


class BottleOut(_Fields):
    """A bottle on the shelf as of the build; rolls of 80 square inches, litres, days."""

    id: str
    formula: str
    litres: str
    mixed: str
    rolls: str
    rolls_cautious: str | None
    rolls_generous: str | None
    rolls_left: str | None
    next_seconds: list[str] | None
    next_factor: str | None
    good_until: str | None


class HandbookOut(_Fields):
    """The whole handbook's figures."""

    format: int
    today: str
    currency: str
    rates: list[RateOut]
    formulas: list[FormulaOut]
    processes: list[ProcessOut]
    bottles: list[BottleOut]
    plans: list[PlanOut]
