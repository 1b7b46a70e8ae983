"""The figure of every hazard finding from its ingredients, and whether it reaches the limit: CLP, Annex I.

3.1.3.6.1 adds shares over estimates, 3.2.3 and 3.3.3 shares over limits, 4.1.3 weighted shares; tables 3.2.4, 3.3.4,
3.4.5, 3.5.2 to 3.7.2, 3.8.3 and 3.9.4 add nothing up. Written from memory of the regulation.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

Tree = Mapping[str, Any]
#: Shares are written to twelve places, and as many as forty of them are divided or weighted.
OFF = Fraction(1, 10**8)


def all_findings(figures: Tree) -> Iterator[tuple[str, Tree]]:
    """Every finding of the JSON with the id of its formula."""
    for formula in figures["formulas"]:
        hazards = formula["hazards"]
        own = (hazards["by_own_limit"] or {"findings": []})["findings"]
        for kind in (hazards["findings"], hazards["beyond_clp"], hazards["also_named"], own):
            yield from ((formula["id"], finding) for finding in kind)


def value_of(finding: Tree) -> Fraction | None:
    """A bath's figure from its ingredients; None of a pH, and where unknown ingredients shorten the 100 %."""
    ingredients, unit = finding["ingredients"], finding["unit"]
    if unit == "pH" or finding["rule"] == "3.1.3.6.2.3":
        return None
    shares = [Fraction(each["share"]) for each in ingredients]
    if unit == "% w/w":
        return sum((s * Fraction(each["weight"]) for s, each in zip(shares, ingredients, strict=True)), Fraction(0))
    if unit == "share over limit":
        return sum((s / Fraction(each["limit"]) for s, each in zip(shares, ingredients, strict=True)), Fraction(0))
    return 100 / sum((s / Fraction(each["ate"]) for s, each in zip(shares, ingredients, strict=True)), Fraction(0))


def holds(finding: Tree) -> bool:
    """Whether the figure told reaches the limit told; a pH that nobody states holds as it is."""
    if finding["value"] is None:
        return finding["limit"] is None and str(finding["rule"]).endswith("pH not stated")
    value, limit = Fraction(finding["value"]), Fraction(finding["limit"])
    return value <= limit if finding["up_to"] else value >= limit
