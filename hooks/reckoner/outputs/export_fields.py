"""The fields of ``data/handbook.json``: written down once and kept from one edition to the next.

All figures are decimal strings, so that no reader loses digits.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from reckoner.calc.hazards.finding import Rule, Unit
from reckoner.records.acute import Route

UNDELIVERED = "whole packs for the first batch, without delivery: a plan's to_start is delivered"
DECIMAL = r"^-?\d+(\.\d+)?$"


class Fields(BaseModel):
    """What every part of the file is: frozen, and nothing in it but its fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")


def figure(text: str) -> str:
    """A figure with its meaning."""
    return Field(pattern=DECIMAL, description=text)  # type: ignore[no-any-return]


def figure_if_known(text: str) -> str | None:
    """A figure that may be null."""
    return Field(pattern=DECIMAL, description=text)  # type: ignore[no-any-return]


class JarOut(Fields):
    """What to weigh from the jar bought, where it holds another form."""

    chemical: str
    form: str
    amount_exact: str = figure("unrounded, in unit")
    amount_rounded: str = figure("to the instrument's step, half up")
    unit: str
    balance: str


class RowOut(Fields):
    """One ingredient of a batch, in mixing order."""

    chemical: str | None
    form: str | None
    formula: str | None
    alternative: int
    optional: bool
    costed: bool
    per_litre: str = figure("g or mL in a litre, to 1e-9")
    amount_exact: str = figure("unrounded, in unit")
    amount_rounded: str = figure("to the instrument's step, half up")
    unit: str
    balance: str
    within_tolerance: bool
    jar: JarOut | None


class BatchOut(Fields):
    """One batch size."""

    volume: str = figure("mL")
    start_water: str | None
    rows: list[RowOut]


class CostRowOut(Fields):
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


class CostOut(Fields):
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


class WorkingOut(Fields):
    """How a figure was worked out."""

    figure: str
    rule: str
    inputs: list[list[str]]
    result: str
    source: str


#: Whose limit a share is held against; that of skin corrosion stands where a record has none of eye damage.
LimitOf = Literal["general", "its own", "skin corrosion"]


class CarrierOut(Fields):
    """An ingredient that carries a finding; ``share`` is null of what may be taken instead of an ingredient."""

    chemical: str
    share: str | None = figure_if_known("% w/w of the bath")
    limit: str | None = figure_if_known("% w/w that the share is held against; null where only the whole has a limit")
    limit_is: LimitOf | None
    weight: str = figure("how many times the share is counted: factor M, and ten or a hundred for a graver category")
    ate: str | None = figure_if_known("acute toxicity estimate, in the finding's unit")


class FindingOut(Fields):
    """One class that the bath reaches by calculation: its figure beside the limit of the rule, both in ``unit``.

    ``rule`` is a section of Annex I of CLP unless it says otherwise. The class holds from the limit upwards, or up to
    it where ``up_to`` is true. Where nobody states a pH, ``value`` and ``limit`` are null.
    """

    hazard: str
    statement: str
    rule: Rule
    way: Route | None
    value: str | None = figure_if_known("of the bath: the sum of its ingredients where the rule adds, else the largest")
    limit: str | None = figure_if_known("of the rule")
    unit: Unit
    up_to: bool
    ingredients: list[CarrierOut]


class OwnLimitOut(Fields):
    """The class of a bath by the limits of its only corrosive; without findings it is none."""

    chemical: str
    findings: list[FindingOut]
    treat: str


class HazardsOut(Fields):
    """Indicative classification of the mixed bath; ``not_assessed`` names ingredients without data.

    ``ph_not_stated`` names strong acids and alkalis of a bath without a stated pH: it is treated as corrosive.
    ``by_own_limit`` is the class by the limits of its only corrosive, told beside the class by pH.
    """

    signal_word: str | None
    pictograms: list[str]
    statements: list[str]
    findings: list[FindingOut]
    not_assessed: list[str]
    beyond_clp: list[FindingOut]
    also_named: list[FindingOut]
    ph_not_stated: list[str]
    by_own_limit: OwnLimitOut | None
    mass_rule: str


class ChangedOut(Fields):
    """One value that the owner's record has otherwise than the library's; null where there is none."""

    key: str = Field(description="keys as in a file and places in lists from 0: keeping.0.time")
    library: str | None
    here: str | None


class ChemicalOut(Fields):
    """One chemical; ``milder`` is what of the library's dangers its record makes less of, ``milder_because`` why."""

    id: str
    name: str
    checked: str
    certainty: str
    changed: list[ChangedOut]
    milder: list[str]
    milder_because: str | None


class FormulaOut(Fields):
    """One formula; ``does_not_work`` has the ids of formulas in it that do not work as written, itself first.

    ``changed`` is what its owner says otherwise than the library that the handbook is built over.
    """

    id: str
    name: str
    checked: str
    certainty: str
    changed: list[ChangedOut]
    does_not_work: list[str]
    batches: list[BatchOut]
    cost: CostOut
    hazards: HazardsOut
    cautions: list[str]
    working: list[WorkingOut]


class PartsOut(Fields):
    """What money went for; the parts add up to the total."""

    film: str
    poured_away: str
    left_over_and_dead: str
    delivery: str
    total: str


class PlanLineOut(Fields):
    """Packs of one offer."""

    offer: str
    packs: int
    sum: str


class PlanOrderOut(Fields):
    """What one supplier sends."""

    supplier: str
    fetched: bool
    goods: str
    delivery: str
    lines: list[PlanLineOut]


class PlanBathOut(Fields):
    """One bath that a plan mixes."""

    formula: str
    litres: str
    batches: int
    rolls: str
    all_in: PartsOut | None


class PlanOut(Fields):
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


class RateOut(Fields):
    """A dated exchange rate as recorded."""

    base: str
    quote: str
    rate: str
    date: str


class BottleOut(Fields):
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
    expired: bool
