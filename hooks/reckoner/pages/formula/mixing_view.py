"""How a formula is mixed, and what its bath is like in use."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.bath import FormulaResult
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.formula import Formula


@dataclass(frozen=True)
class Mixing:
    """Steps of mixing with what goes before them; ``use`` is temperature and time of the bath."""

    cautions: tuple[str, ...]
    temperature: str
    water: str
    steps: tuple[str, ...]
    adjust: str
    ph: str
    use: tuple[str, ...]


def mixing(result: FormulaResult, writer: PageWriter) -> Mixing:
    """Put the mixing into words."""
    formula = result.formula
    return Mixing(
        cautions=tuple(caution.text for caution in result.cautions.mixing),
        temperature=writer.show.range(formula.mix_temperature) if formula.mix_temperature else "",
        water=f"{formula.water} water",
        steps=formula.mixing,
        adjust=adjustment(formula, writer),
        ph=_ph(formula, writer),
        use=_use(formula, writer),
    )


def adjustment(formula: Formula, writer: PageWriter) -> str:
    """The last adjustment of the pH, which has no amount."""
    if formula.adjust is None:
        return ""
    liquids = " or ".join(formula.adjust.using)
    aim = writer.show.range(formula.adjust.to_ph)
    return f"Last, to pH {aim} with {liquids}, drop by drop, in goggles and gloves; not costed."


def _ph(formula: Formula, writer: PageWriter) -> str:
    ph = formula.ph
    if ph is None:
        return ""
    tolerance = f" {ph.tolerance}" if ph.tolerance else ""
    at = f" at {writer.show.range(ph.at)}" if ph.at else ""
    return f"{writer.show.range(ph.value)}{tolerance}{at} ({ph.certainty})"


def _use(formula: Formula, writer: PageWriter) -> tuple[str, ...]:
    use = formula.use
    if use is None:
        return ()
    lines = []
    if use.temperature:
        lines.append(f"Temperature: {writer.show.range(use.temperature)} ({use.certainty})")
    if use.time:
        lines.append(f"Time: {writer.show.range(use.time)} ({use.certainty})")
    return (*lines, use.note) if use.note else tuple(lines)
