"""A hazard finding in words: its rule, the bath's figure, the limit, and the ingredients that carry it."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from reckoner.calc.hazards.composition import MassRule
from reckoner.calc.hazards.extreme_ph import ACID_PH, BASE_PH
from reckoner.calc.hazards.finding import Carrier, Finding, Rule
from reckoner.calc.hazards.skin_eye import CORRODES, DAMAGES, IRRITATES
from reckoner.records.acute import INHALED, Route
from reckoner.rounding import round_half_up, significant

Named = Callable[[str], str]

NOT_STATED = "pH not stated, treated as corrosive"
#: How the mass of a litre was found.
MASS_RULES: dict[MassRule, str] = {
    "density": "recorded density of the bath",
    "ingredients": "no density recorded; the sum of the ingredients, which is more than 1.00 g/mL",
    "lighter liquids": "no density recorded; 1.00 g/mL less what lighter liquids lack: shares rather too high",
    "water": "no density recorded; 1.00 g/mL, which makes shares rather too high",
    "strength": "stated strength of the jar",
}
#: What each rule compares. ``{route}`` is that of acute toxicity, ``{limits}`` are the carriers' own.
RULES: dict[Rule, str] = {
    "3.1.3.6.1": "3.1.3.6.1, {route}",
    "3.1.3.6.2.3": "3.1.3.6.2.3, unknowns above 10 %, {route}",
    "3.2.3.1.2": "3.2.3.1.2, extreme pH",
    "3.2.3.1.2, pH not stated": f"{NOT_STATED} (3.2.3.1.2)",
    "3.3.3.1.2": "3.3.3.1.2, extreme pH",
    "3.3.3.1.2, pH not stated": f"{NOT_STATED} (3.3.3.1.2)",
    "table 3.2.3": "table 3.2.3, additive",
    "table 3.2.3, tenfold": "table 3.2.3, additive: corrosive counted tenfold",
    "table 3.2.4": "table 3.2.4, acid or base of extreme pH, not additive",
    "table 3.3.3": "table 3.3.3, additive",
    "table 3.3.3, tenfold": "table 3.3.3, additive: damaging counted tenfold",
    "table 3.3.4": "table 3.3.4, acid or base of extreme pH, not additive",
    "table 3.4.5": "table 3.4.5, not additive",
    "table 3.4.6": "Annex II 2.8 and table 3.4.6: contains a sensitiser",
    "table 3.4.6, beside the class": "Annex II 2.8 and table 3.4.6: named beside the class",
    "3.5 to 3.7": "3.5 to 3.7, not additive",
    "Annex VI, note 11": "boron compounds summed, note 11",
    "tables 3.8.3 and 3.9.4": "tables 3.8.3 and 3.9.4",
    "tables 3.8.3 and 3.9.4, own limit": "tables 3.8.3 and 3.9.4, limit of its own",
    "3.8.3.4.5": "3.8.3.4.5, additive",
    "3.10.3.3": "3.10.3.3, as thin as water: viscosity not measured",
    "table 4.1.1": "table 4.1.1, with M",
    "table 4.1.2, Chronic 1": "table 4.1.2, Chronic 1 with M",
    "table 4.1.2, Chronic 2": "table 4.1.2, ten times Chronic 1 with M, and Chronic 2",
    "table 4.1.2, Chronic 3": "table 4.1.2, a hundred times Chronic 1 with M, ten times Chronic 2, and Chronic 3",
    "table 4.1.2, Chronic 4": "table 4.1.2, Chronic 1 to 4 without weights",
    "Annex II, 1.2": "Annex II 1.2; the trigger of {limits} is this handbook's own",
    "UN 3.1.3.6.1": "UN 3.1.3.6.1, {route}, with ingredients of 2000 to 5000 mg/kg",
    "UN table 4.1.1, tenfold": "UN table 4.1.1, 10 times the sum with M",
    "UN table 4.1.1, hundredfold": "UN table 4.1.1, 100 times the sum with M",
}
#: Rules whose sum of share over limit is told as 1, and the general limit that this 1 stands for.
GENERAL: dict[Rule, str] = {
    "table 3.2.3": f"{CORRODES} %",
    "table 3.2.3, tenfold": f"{IRRITATES} % of irritants",
    "table 3.3.3": f"{DAMAGES} %",
    "table 3.3.3, tenfold": f"{IRRITATES} % of irritants",
}
#: Rules that add nothing up: each ingredient is told with its limit.
EACH: tuple[Rule, ...] = ("table 3.2.4", "table 3.3.4")


def rule_words(finding: Finding) -> str:
    """Section of the regulation and what it compares."""
    limits = sorted({carrier.limit for carrier in finding.carriers if carrier.limit is not None})
    limit_words = " and ".join(f"{figure(limit)} %" for limit in limits)
    return RULES[finding.rule].format(route=route_words(finding.route) if finding.route else "", limits=limit_words)


def route_words(route: Route) -> str:
    """A route into the body: ``inhalation of dust or mist``."""
    return f"inhalation of {route}" if route in INHALED else route


def value_words(finding: Finding, named: Named) -> str:
    """The bath's figure: ``5 %``, ``pH 12``, ``ATE of the bath 937.5``, ``sum of share over limit 1.1: …``.

    Args:
        named: a chemical's name by its id.
    """
    compared = finding.compared
    if compared.value is None:
        return ", ".join(_held(carrier, named) for carrier in finding.carriers)
    if finding.rule in EACH:
        return listed(finding, named)
    value = figure(compared.value)
    match compared.unit:
        case "% w/w":
            return f"{value} %"
        case "pH":
            return f"pH {value}"
        case "share over limit":
            return f"sum of share over limit {value}: {listed(finding, named)}"
        case _:
            return f"ATE of the bath {value}"


def compared_words(finding: Finding, named: Named) -> str:
    """The bath's figure and what it is compared with; a pH that nobody states is compared with nothing."""
    value = value_words(finding, named)
    if finding.compared.limit is None:
        return f"{value}; {limit_words(finding)} would decide otherwise"
    return f"{value} against {limit_words(finding)}"


def limit_words(finding: Finding) -> str:
    """What the figure is compared with: ``25 %``, ``pH 2 or less``, ``2000 mg/kg``, ``1 (3 %)``."""
    compared = finding.compared
    if compared.limit is None:
        return f"a stated pH above {ACID_PH} and below {BASE_PH}"
    limit = figure(compared.limit)
    match compared.unit:
        case "% w/w":
            return f"{limit} %"
        case "pH":
            return f"pH {limit} or {'less' if compared.up_to else 'more'}"
        case "share over limit":
            return f"{limit}{_limits_used(finding)}"
        case unit:
            return f"{limit} {unit}"


def _limits_used(finding: Finding) -> str:
    """The general limit behind a sum of ratios only where one was used."""
    general, carriers = GENERAL.get(finding.rule), finding.carriers
    if general is None:
        return ""
    if not all(carrier.own for carrier in carriers):
        return f" ({general})"
    own = carriers[0].limit if len(carriers) == 1 else None
    return " (limits of their own)" if own is None else f" (limit of its own, {figure(own)} %)"


def listed(finding: Finding, named: Named) -> str:
    """Each ingredient's share with its limit: ``borax 3 % against 5 %``."""
    return ", ".join(
        f"{_held(carrier, named)} against {figure(carrier.limit)} %{BORROWED if carrier.borrowed else ''}"
        for carrier in finding.carriers
        if carrier.limit is not None
    )


BORROWED = " (none for eye damage is recorded; its limit of skin corrosion stands for it)"


def _held(carrier: Carrier, named: Named) -> str:
    much = "if it is taken instead" if carrier.percent is None else f"{figure(carrier.percent)} %"
    return f"{named(carrier.chemical)} {much}"


def figure(value: Decimal) -> str:
    """A share as text, rounded half up: two places, four below 1, and never "0" for what is not nothing."""
    rounded = round_half_up(value, Decimal("0.01") if value >= 1 else Decimal("0.0001"))
    if value != 0 and abs(value) < Decimal("0.001"):
        rounded = significant(value, 2)
    return format(rounded.normalize(), "f")
