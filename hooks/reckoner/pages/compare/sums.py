"""Sums in the owner's currency, in words."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.money import ExactMinor, Minor, Money, in_currency
from reckoner.pages.shared.parts import PageWriter


@dataclass(frozen=True)
class SumWords:
    """Sums in the owner's currency, in words."""

    writer: PageWriter

    def minor(self, minor: Minor | ExactMinor) -> str:
        """Minor units, rounded once."""
        return self.writer.show.money(in_currency(minor, self.writer.results.catalogue.settings.currency))

    def signed(self, money: Money) -> str:
        """A sum that is added, or taken off."""
        return f"{'+' if money.number >= 0 else '−'} {self.writer.show.money(Money(abs(money.number), money.currency))}"
