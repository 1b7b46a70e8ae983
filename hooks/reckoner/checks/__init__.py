"""Rules across records: each looks at everything and reports every fault."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from reckoner.checks.amount_rules import plausible_amounts
from reckoner.checks.audience_rules import private_parts
from reckoner.checks.catalogue_rules import (
    caution_references,
    chemical_formulas,
    hazard_references,
    incompatible_chemicals,
    look_alikes,
    owners_formats,
    restrictions,
)
from reckoner.checks.formula_rules import (
    cycles,
    formula_references,
    names_in_faulty_files,
    process_references,
    published_slips,
    volumes,
)
from reckoner.checks.harm_rules import called_safe, dangerous_mixtures, kept_apart, plain_disposal
from reckoner.checks.hazard_rules import acute_values, limit_ions
from reckoner.checks.library_rules import chosen_names, milder_hazards, same_as_library
from reckoner.checks.plan_rules import compared_kits, kit_references, plan_money, plan_references
from reckoner.checks.price_rules import order_money, prices, repeated_offers, repeated_rates, same_day, water_price
from reckoner.checks.process_rules import process_names, process_orders
from reckoner.checks.record_rules import accepted_old, dates, former_ids, repeated_names
from reckoner.checks.shelf_rules import shelf_bottles, shelf_packs
from reckoner.checks.use_rules import replenishers, temperatures
from reckoner.problems import Problem
from reckoner.records.catalogue import Catalogue

Check = Callable[[Catalogue], Iterator[Problem]]

CHECKS: tuple[Check, ...] = (
    chemical_formulas,
    hazard_references,
    acute_values,
    limit_ions,
    formula_references,
    names_in_faulty_files,
    cycles,
    process_references,
    process_orders,
    process_names,
    prices,
    repeated_offers,
    repeated_rates,
    same_day,
    water_price,
    order_money,
    plan_references,
    compared_kits,
    kit_references,
    plan_money,
    look_alikes,
    chosen_names,
    same_as_library,
    milder_hazards,
    volumes,
    published_slips,
    plausible_amounts,
    dangerous_mixtures,
    kept_apart,
    plain_disposal,
    called_safe,
    incompatible_chemicals,
    caution_references,
    owners_formats,
    restrictions,
    shelf_packs,
    shelf_bottles,
    replenishers,
    temperatures,
    former_ids,
    repeated_names,
    private_parts,
    dates,
    accepted_old,
)


def check(catalogue: Catalogue) -> list[Problem]:
    """Every fault that no single file shows."""
    return [problem for rule in CHECKS for problem in rule(catalogue)]
