"""Why a jar is too weak for what is asked of it, in words."""

from __future__ import annotations

from reckoner.calc.mixing.strength import TooWeak
from reckoner.calc.mixing.working import plain
from reckoner.records.values import Strength


def too_weak_words(weak: TooWeak) -> str:
    """Why a jar is not taken, without its name."""
    if weak.strength is None:
        return "more of it would be needed than the vessel has room for"
    needs = f"needs at least {_stated(weak.least)}" if weak.least else "no strength of it has room beside the rest"
    return f"{_stated(weak.strength)} is too weak: {needs}"


def _stated(strength: Strength) -> str:
    return f"{plain(strength.percent)} % {strength.basis}"
