"""All rules over one bath, and the label elements with precedence."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from reckoner.calc.hazards import health, organs, skin_eye, water_life
from reckoner.calc.hazards.acute import acute
from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.calc.hazards.extreme_ph import OwnLimit, extreme_ph, not_stated, own_limit, strong_in
from reckoner.calc.hazards.finding import Finding
from reckoner.calc.hazards.united_nations import beyond_clp
from reckoner.records.values import Range

HazardRule = Callable[[Composition], Iterator[Finding]]
HAZARD_RULES: tuple[HazardRule, ...] = (
    skin_eye.skin,
    skin_eye.eye,
    health.sensitisation,
    acute,
    health.cmr,
    water_life.gases,
    organs.organs,
    health.aspiration,
    water_life.aquatic,
)

#: Statement -> (pictogram, signal word); from memory of Annex I and V, agreeing with every row of the Annex VI extract.
LABEL: dict[str, tuple[str | None, str | None]] = {
    **dict.fromkeys(("H300", "H310", "H330", "H301", "H311", "H331"), ("GHS06", "Danger")),
    **dict.fromkeys(("H302", "H312", "H332"), ("GHS07", "Warning")),
    "H314": ("GHS05", "Danger"),
    "H318": ("GHS05", "Danger"),
    **dict.fromkeys(("H315", "H319", "H317", "H335", "H336"), ("GHS07", "Warning")),
    "H334": ("GHS08", "Danger"),
    **dict.fromkeys(("H340", "H350", "H360", "H370", "H372"), ("GHS08", "Danger")),
    **dict.fromkeys(("H341", "H351", "H361", "H371", "H373"), ("GHS08", "Warning")),
    "H304": ("GHS08", "Danger"),
    **dict.fromkeys(("H400", "H410"), ("GHS09", "Warning")),
    "H411": ("GHS09", None),
    "H290": ("GHS05", "Warning"),
    **dict.fromkeys(("H271", "H272"), ("GHS03", "Danger")),
    "H226": ("GHS02", "Warning"),
    "H225": ("GHS02", "Danger"),
    "H228": ("GHS02", "Warning"),
}


#: Classes whose statement also stands for a graver class: they take Warning (Annex I, table 2.14.2).
MILDER = {"Ox. Sol. 3": "H272", "Ox. Liq. 3": "H272"}


@dataclass(frozen=True)
class LabelElements:
    """Pictograms, signal word and statements after precedence."""

    pictograms: tuple[str, ...]
    signal: str | None
    statements: tuple[str, ...]


@dataclass(frozen=True)
class BathHazards:
    """The indicative result for one bath.

    Attributes:
        unknown: ingredients nobody has assessed; while there is one, nothing is said to be clear.
        elsewhere: what the UN's categories add that CLP leaves out.
        also_named: sensitisers that are named beside the one that classifies the bath.
        ph_missing: its strong acids and alkalis where no pH is stated: the bath is treated as corrosive.
        own_limit: its class by the limit of its only corrosive, told beside that by pH.
    """

    composition: Composition
    findings: tuple[Finding, ...]
    label: LabelElements
    unknown: tuple[Substance, ...]
    elsewhere: tuple[Finding, ...] = ()
    also_named: tuple[Finding, ...] = ()
    ph_missing: tuple[str, ...] = ()
    own_limit: OwnLimit | None = None


def classify(composition: Composition, ph: Range | None, instead: tuple[str, ...] = ()) -> BathHazards:
    """Run every rule and keep the most severe finding of each class and statement.

    Args:
        ph: of the bath as stated, or None.
        instead: ids of strong acids and alkalis that may stand in place of an ingredient.
    """
    by_ph = (*extreme_ph(ph), *not_stated(composition, ph, instead))
    kept = _most_severe([*by_ph, *(f for rule in HAZARD_RULES for f in rule(composition))])
    return BathHazards(
        composition,
        kept,
        label_of(f.h for f in kept),
        composition.unknown,
        beyond_clp(composition),
        health.also_named(composition),
        tuple(sorted(strong_in(composition, instead))) if ph is None else (),
        own_limit(composition, ph),
    )


def _most_severe(candidates: Iterable[Finding]) -> tuple[Finding, ...]:
    """Skin: corrosion removes irritation; eye: damage removes irritation; the same class and statement stands once."""
    findings = list(dict.fromkeys(candidates))
    statements = {f.h for f in findings}
    if "H314" in statements:
        findings = [f for f in findings if f.h != "H315"]
        # A sub-category found by shares says more than the plain category of the pH rule.
        if any(f.hazard[:12] == "Skin Corr. 1" and f.hazard != "Skin Corr. 1" for f in findings):
            findings = [f for f in findings if f.hazard != "Skin Corr. 1"]
    if "H318" in statements:
        findings = [f for f in findings if f.h != "H319"]
    return tuple(findings)


def label_of(statements: Iterable[str], classes: Iterable[str] = ()) -> LabelElements:
    """Precedence of Articles 20, 26 and 27: Danger before Warning, skull before exclamation mark, and so on.

    Args:
        classes: where they are known; one statement can stand for classes of different signal words.
    """
    milder = MILDER if MILDER.keys() & set(classes) else {}
    codes = list(dict.fromkeys(statements))
    if "H314" in codes:
        codes = [c for c in codes if c != "H318"]
    if "H410" in codes:
        codes = [c for c in codes if c != "H400"]
    elements = {code: LABEL.get(code[:4], (None, None)) for code in codes}
    pictograms = {picture for picture, _ in elements.values() if picture}
    if "GHS07" in pictograms and not _keeps_exclamation(codes, pictograms):
        pictograms.discard("GHS07")
    signals = {signal for code, (_, signal) in elements.items() if signal and code not in milder.values()}
    signals |= {"Warning" for code in elements if code in milder.values()}
    signal = "Danger" if "Danger" in signals else "Warning" if "Warning" in signals else None
    return LabelElements(tuple(sorted(pictograms)), signal, tuple(sorted(codes, key=_order)))


def _keeps_exclamation(codes: Iterable[str], pictograms: set[str]) -> bool:
    """Article 26(1): b skull removes it; c corrosion for skin and eye; d respiratory sensitiser for skin."""
    needing = {c for c in codes if LABEL.get(c[:4], (None, None))[0] == "GHS07"}
    if "GHS06" in pictograms:
        return False
    if "GHS05" in pictograms:
        needing -= {"H315", "H319"}
    if "H334" in set(codes):
        needing -= {"H317", "H315", "H319"}
    return bool(needing)


def _order(code: str) -> tuple[int, str]:
    return (1 if code.startswith("EUH") else 0, code)
