"""What a chemical's page shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.hazards.cautions import jar_cautions
from reckoner.calc.hazards.incompatible import keep_away, never_with
from reckoner.calc.mixing.molar import molar_mass
from reckoner.calc.mixing.substitution import Jar, convert
from reckoner.pages.safety.accident_view import RINSE
from reckoner.pages.safety.apart_view import PairView, never_together, pairs_view
from reckoner.pages.safety.hazard_view import JarView, chemical_air, chemical_first_steps, chemical_jars
from reckoner.pages.safety.law_view import NORTHERN_IRELAND, RestrictionView, law_of, restrictions_view
from reckoner.pages.shared.parts import Link, PageWriter, SourceView
from reckoner.pages.trust.dates_view import DatedView, classified, dates_view, priced
from reckoner.pages.trust.own_change_view import OwnChangeView, own_change_view
from reckoner.problems import ValueFault
from reckoner.records.chemical import Chemical, Form, Solubility
from reckoner.records.incompatibility import EVERYWHERE
from reckoner.records.prices import Offer


@dataclass(frozen=True)
class FormView:
    """One form: what it is, and how much of it stands for 1 g or mL of the others."""

    anchor: str
    name: str
    facts: tuple[str, ...]
    equivalents: tuple[str, ...]
    note: str
    law: tuple[str, ...]


@dataclass(frozen=True)
class OfferView:
    """One offer by unit price."""

    pack: str
    where: str
    price: str
    listed: str
    unit_price: str
    day: str
    note: str
    restrictions: tuple[RestrictionView, ...]


@dataclass(frozen=True)
class ChemicalView:
    """The context of ``chemical.md.jinja``."""

    title: str
    summary: str
    synonyms: tuple[str, ...]
    household: tuple[str, ...]
    use: str
    look_alikes: tuple[str, ...]
    accident: str
    rinse: str
    first_steps: tuple[str, ...]
    cautions: tuple[str, ...]
    hazards: tuple[JarView, ...]
    air: tuple[str, ...]
    keep_apart: str
    storage: tuple[str, ...]
    restrictions: tuple[RestrictionView, ...]
    northern_ireland: str
    never_with: str
    keep_away: tuple[PairView, ...]
    id: str
    forms: tuple[FormView, ...]
    offers: tuple[OfferView, ...]
    unit_amount: str
    rates: tuple[str, ...]
    taxes: tuple[str, ...]
    old: tuple[str, ...]
    formulas: tuple[Link, ...]
    source: SourceView
    own_change: OwnChangeView | None
    old_record: str
    old_hazards: str
    dates: tuple[DatedView, ...]


def chemical_view(chemical: Chemical, writer: PageWriter) -> ChemicalView:
    """Put one chemical into words."""
    offers = writer.results.offers.get(chemical.id, ())
    return ChemicalView(
        title=chemical.name,
        summary=chemical.use,
        synonyms=chemical.synonyms,
        household=tuple(f"{h.name}: only if {h.only_if}" for h in chemical.household),
        use=chemical.use,
        look_alikes=writer.look_alikes(chemical.id),
        accident=writer.links.path("accident"),
        rinse=RINSE,
        first_steps=chemical_first_steps(chemical, writer),
        cautions=jar_cautions(
            chemical.id, [(chemical.id, form.id) for form in chemical.forms], writer.results.catalogue
        ),
        hazards=chemical_jars(chemical, writer),
        air=chemical_air(chemical, writer),
        keep_apart=chemical.keep_apart or "",
        storage=chemical.storage,
        restrictions=restrictions_view(chemical.restrictions, chemical, writer),
        northern_ireland=NORTHERN_IRELAND,
        never_with=_never_with(chemical, writer),
        keep_away=_keep_away(chemical, writer),
        id=chemical.id,
        forms=tuple(_form(form, chemical, writer) for form in chemical.forms),
        offers=tuple(
            OfferView(
                pack=writer.pack(offer),
                where=writer.supplier(offer.supplier),
                price=writer.show.money(offer.price),
                listed=str(offer.listed),
                unit_price=writer.show.money(offer.unit_price * HUNDRED),
                day=writer.show.day(offer.day),
                note="; ".join(_notes(offer.offer)),
                restrictions=restrictions_view(offer.offer.restrictions, chemical, writer),
            )
            for offer in offers
        ),
        unit_amount=" or ".join(sorted({f"100 {offer.jar.unit}" for offer in offers})),
        rates=writer.rates(offers),
        taxes=writer.taxes(offers),
        old=writer.old_prices(offers),
        formulas=tuple(writer.formula(f) for f in writer.results.used_in.get(chemical.id, ())),
        source=writer.source(chemical.source),
        own_change=own_change_view("chemical", chemical.id, writer),
        old_record=writer.old_record("chemical", chemical.id),
        old_hazards=writer.old_record("hazard record", chemical.id),
        dates=dates_view(
            (
                ("chemical", chemical.id, None),
                *classified([chemical.id]),
                ("restriction", chemical.id, None),
                *priced(offers),
            ),
            writer,
        ),
    )


def _notes(offer: Offer) -> Iterator[str]:
    if offer.handed_over != "delivered":
        yield offer.handed_over + (
            ": no cost and no basket counts it" if offer.handed_over == "not deliverable" else ""
        )
    if offer.note:
        yield offer.note


def _never_with(chemical: Chemical, writer: PageWriter) -> str:
    table = writer.results.catalogue.incompatibilities
    return never_together(never_with([chemical.id], table, EVERYWHERE)) if table else ""


def _keep_away(chemical: Chemical, writer: PageWriter) -> tuple[PairView, ...]:
    table = writer.results.catalogue.incompatibilities
    return pairs_view(keep_away([chemical.id], table), writer) if table else ()


#: Unit prices are told for an amount that one buys: 100 g or 100 mL.
HUNDRED = Decimal(100)


def _form(form: Form, chemical: Chemical, writer: PageWriter) -> FormView:
    show = writer.show
    facts = []
    if form.formula:
        facts.append(f"Formula {form.formula}, molar mass {show.number(molar_mass(form.formula))} g/mol")
    if form.cas:
        facts.append(f"CAS {form.cas}")
    if form.strength:
        facts.append(f"Strength {show.strength(form.strength)}")
    if form.density is not None:
        facts.append(f"Density {show.number(form.density)} g/mL at 20 °C")
    law = tuple(
        f"{restriction.where}: {restriction.kind}"
        for line in law_of([(chemical.id, form.id)], writer)
        for restriction in line.restrictions
    )
    facts += [_solubility(solubility, writer) for solubility in form.solubility]
    return FormView(form.id, form.name, tuple(facts), _equivalents(form, chemical, writer), form.note or "", law)


def _solubility(solubility: Solubility, writer: PageWriter) -> str:
    cited = f"{solubility.citation}, {solubility.certainty}" if solubility.citation else solubility.certainty
    grams = writer.show.number(solubility.grams_per_litre)
    return f"Dissolves {grams} g in a litre of water at {writer.show.range(solubility.at)} ({cited})"


def _equivalents(form: Form, chemical: Chemical, writer: PageWriter) -> tuple[str, ...]:
    equivalents = []
    asked = Jar(chemical, form)
    for other_form in chemical.forms:
        if other_form.id == form.id:
            continue
        try:
            conversion = convert(asked, Jar(chemical, other_form))
        except ValueFault:
            continue
        amount = writer.show.exactish(conversion.factor, conversion.unit, 4)
        equivalents.append(f"1 {asked.unit} asked = {amount} {other_form.name}")
    return tuple(equivalents)
