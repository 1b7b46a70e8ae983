"""Pieces that several pages show: sources, costs, offers, look-alikes, ages."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.ageing import Aged
from reckoner.calc.buying.pack_keeping import Kept
from reckoner.calc.explain import short
from reckoner.calc.mixing.strength import TooWeak
from reckoner.calc.prices.offers import PricedOffer
from reckoner.calc.results import Results
from reckoner.pages.shared.display import Display, source_text
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.weak_words import too_weak_words
from reckoner.records.chemical import LookAlike
from reckoner.records.prices import Offer
from reckoner.records.settings import FilmFormat
from reckoner.records.source import Source

#: What a reader does with a record that nobody has compared with its publication.
UNPROVEN = "not checked against the publication; prove it on film you can lose"
#: Certainties of what may stand in print.
COMPARABLE = frozenset({"from memory", "common practice"})
_NO_PUBLICATION = "there is no publication to check it against; prove it on film you can lose"


def said_invented(name: str, invented: bool) -> str:
    """A name, and that it is invented where it is and does not say so."""
    return f"{name} (invented)" if invented and "(invented)" not in name else name


def unproven_words(certainty: str) -> str:
    """What stands on top of a record that nobody has compared with print.

    >>> unproven_words("own practice")
    'Own practice: there is no publication to check it against; prove it on film you can lose'
    """
    return f"{certainty.capitalize()}: {UNPROVEN if certainty in COMPARABLE else _NO_PUBLICATION}"


_BRACKETS = re.compile(r" \([^)]*\)")

#: How many look-alikes stand where one weighs; all of them stand on the chemical's page.
NEAREST = 5


def source_line(certainty: str, citation: str | None) -> str:
    """Certainty of one value, with its publication where it has one."""
    return f"{citation}, {certainty}" if citation else certainty


@dataclass(frozen=True)
class Link:
    """Text with an address; ``href`` is empty where there is no page."""

    text: str
    href: str = ""


@dataclass(frozen=True)
class SourceView:
    """Provenance as shown."""

    text: str
    checked: str
    note: str
    certainty: str


@dataclass(frozen=True)
class PageWriter:
    """What a view writes a page with: figures, formats, and links from where the page stands."""

    results: Results
    show: Display
    links: Links
    site_url: str = ""

    def source(self, source: Source) -> SourceView:
        """Where a record is from."""
        return SourceView(source_text(source), self.show.day(source.checked), source.note or "", source.certainty)

    def chemical(self, chemical_id: str) -> Link:
        """Link to a chemical by name; one of the library that has no page here is named without one."""
        here = chemical_id in self.results.catalogue.chemicals
        return Link(self.short_name(chemical_id), self.links.to("chemical", chemical_id) if here else "")

    def short_name(self, chemical_id: str) -> str:
        """A chemical's name without the systematic name in brackets behind it."""
        return short(self.results.catalogue.known_chemicals[chemical_id].name)

    def formula(self, formula_id: str) -> Link:
        """Link to a formula by name."""
        return Link(self.results.catalogue.formulas[formula_id].name, self.links.to("formula", formula_id))

    def process(self, process_id: str) -> Link:
        """Link to a process by name."""
        return Link(self.results.catalogue.processes[process_id].name, self.links.to("process", process_id))

    def plan(self, plan_id: str) -> Link:
        """Link to a plan by name."""
        return Link(self.results.catalogue.plans[plan_id].name, self.links.to("plan", plan_id))

    def bottle(self, bottle_id: str) -> Link:
        """Link to a bottle."""
        return Link(bottle_id, self.links.to("bottle", bottle_id))

    def film(self, film: FilmFormat) -> str:
        """A film format's name without what stands in brackets: Super 8, 50 ft."""
        return _BRACKETS.sub("", film.name)

    def form(self, chemical_id: str, form_id: str) -> str:
        """A form's name as it stands beside its chemical's: without repeating that."""
        form = self.results.catalogue.chemicals[chemical_id].form(form_id)
        if form is None:
            return form_id
        return form.name.removeprefix(self.short_name(chemical_id)).lstrip(", ")

    def named(self, chemical_id: str, form_id: str) -> str:
        """A chemical with its form: sodium sulfite, anhydrous.

        A form with a name of its own stands alone: the free base 4-aminophenol is no form of its hydrochloride to read.
        """
        form = self.results.catalogue.chemicals[chemical_id].form(form_id)
        if form is not None and self.short_name(chemical_id).startswith(f"{form.name.split(', ')[0]} "):
            return form.name
        return f"{self.short_name(chemical_id)}, {self.form(chemical_id, form_id)}".rstrip(", ")

    def too_weak(self, weak_jars: Iterable[TooWeak]) -> tuple[str, ...]:
        """Jars that cannot reach the strength, and why."""
        return tuple(
            f"{self.named(weak_jar.jar.chemical.id, weak_jar.jar.form.id)}: {too_weak_words(weak_jar)}"
            for weak_jar in weak_jars
        )

    def supplier(self, supplier_id: str) -> str:
        """A supplier's name, and that it is invented where it is."""
        supplier = self.results.catalogue.suppliers[supplier_id]
        return said_invented(supplier.name, supplier.invented)

    def pack(self, offer: PricedOffer) -> str:
        """A pack with its form and assay, as 1 kg flakes, 97 % w/w."""
        assay = f", {self.show.strength(offer.offer.assay)}" if offer.offer.assay else ""
        return self.listed_pack(offer.offer) + assay

    def listed_pack(self, offer: Offer) -> str:
        """A pack with its form, as 2 × 500 g anhydrous."""
        count = f"{offer.count} × " if offer.count > 1 else ""
        return f"{count}{self.show.amount(offer.pack)} {self.form(offer.chemical, offer.form)}".rstrip()

    def rates(self, offers: Iterable[PricedOffer]) -> tuple[str, ...]:
        """The exchange rates behind some offers, with their days."""
        rates = {}
        for offer in offers:
            used = offer.exchange
            if used.day is not None:
                rate = self.show.exactish(used.factor, used.quote, 5)
                rates[used.base] = f"1 {used.base} = {rate}, rate of {self.show.day(used.day)}"
        return tuple(rates[base] for base in sorted(rates))

    def taxes(self, offers: Iterable[PricedOffer]) -> tuple[str, ...]:
        """Where each supplier is, and what was added to its listed prices."""
        lines = {}
        for offer in offers:
            rates = (("duty", offer.duty), ("VAT", offer.tax))
            added = " and ".join(f"{self.show.number(rate)} % {name}" for name, rate in rates if rate)
            added_words = [f"{added} added to the listed price"] if added else []
            supplier = self.results.catalogue.suppliers[offer.supplier]
            if supplier.vat_included:
                added_words.append("listed prices include VAT")
            where = f"{self.supplier(offer.supplier)}, {supplier.country}"
            lines[offer.supplier] = f"{where}: {'; '.join(added_words) or 'nothing added, no VAT'}"
        return tuple(lines[supplier] for supplier in sorted(lines))

    @property
    def demo(self) -> str:
        """Of which day a demonstration is; nothing for a handbook that follows the calendar."""
        catalogue = self.results.catalogue
        return f"Demonstration: all dates as of {self.show.day(catalogue.today)}." if catalogue.demo else ""

    def old_prices(self, offers: Iterable[PricedOffer]) -> tuple[str, ...]:
        """Prices and rates behind some offers that are out of date."""
        used = tuple(offers)
        lists = {(offer.supplier, offer.day) for offer in used}
        pairs = {f"{o.exchange.published.base} to {o.exchange.published.quote}" for o in used if o.exchange.published}
        lines = []
        for age in self.results.past_limit:
            priced = age.kind == "price list" and (age.subject, age.day) in lists
            rated = age.kind == "exchange rate" and age.subject in pairs
            if priced or rated:
                lines.append(self.age(age))
        return tuple(lines)

    def whose(self, kind: str, record_id: str) -> str:
        """That a record is a member's, and whether others are given it, or nothing."""
        member = self.results.catalogue.member_of(kind, record_id)
        return f"kept by {member.name}{', private' * member.private}" if member else ""

    def old_record(self, kind: str, record_id: str) -> str:
        """That a record is out of date, or nothing."""
        for age in self.results.ages_of.get((kind, record_id), ()):
            if age.old:
                return f"Last checked {self.show.day(age.day)}, out of date: the limit is {self.show.range(age.limit)}"
        return ""

    def age(self, dated: Aged) -> str:
        """One thing out of date, in a sentence."""
        name = self.subject(dated)
        day, until = self.show.day(dated.day), self.show.day(dated.good_until)
        return f"{dated.kind} {name} of {day}: out of date since {until}, by a limit of {self.show.range(dated.limit)}"

    def past_keeping(self, kept: Kept) -> str:
        """Of a pack: that its keeping time is over, and from when that was counted."""
        since = f"{kept.state} on {self.show.day(kept.since)}"
        return f"past its keeping time, which ended on {self.show.day(kept.until)} ({since})"

    def subject(self, dated: Aged) -> str:
        """The name of something dated."""
        if dated.kind == "price list":
            return self.supplier(dated.subject)
        if dated.kind == "hazard phrases":
            return "the texts of all codes"
        if dated.kind == "kit price":
            return self.results.catalogue.kits[dated.subject].name
        if dated.kind in {"chemical", "hazard record", "restriction"}:
            return self.short_name(dated.subject)
        named = {"formula": self.formula, "process": self.process}
        return named[dated.kind](dated.subject).text if dated.kind in named else dated.subject

    def look_alikes(self, chemical_id: str) -> tuple[str, ...]:
        """What a chemical is easily taken for, and why that matters."""
        table = self.results.catalogue.look_alikes
        groups = table.others(chemical_id) if table else ()
        return tuple(self._not_the_same(group, chemical_id) for group in groups)

    def not_the_same(self, chemical_id: str) -> str:
        """The names of a chemical's nearest look-alikes, for the line where one weighs; why stands on its page."""
        table = self.results.catalogue.look_alikes
        known = self.results.catalogue.known_chemicals
        groups = table.others(chemical_id) if table else ()
        others = dict.fromkeys(c for group in groups for c in group.chemicals if c != chemical_id and c in known)
        names = [self.short_name(other) for other in others]
        names += [name for group in groups for name in group.also] if not names else []
        shown = ", ".join(names[:NEAREST])
        return f"not {shown}" + (" or others like it" if len(names) > NEAREST else "") if names else ""

    def _not_the_same(self, group: LookAlike, chemical_id: str) -> str:
        chemicals = self.results.catalogue.known_chemicals
        names = [chemicals[other].name for other in group.chemicals if other != chemical_id and other in chemicals]
        others = ", ".join((*names, *group.also))
        return f"Not the same as {others}. {group.why}"
