"""What a text claims of a danger, on the ladders of hazard statements of CLP Annex III: as grave, graver or milder.

A ladder is one danger from its gravest rung down; words stand on a rung, statements too. "Suspected of causing cancer"
is the second rung of cancer: milder than H350, as grave as H351, and without ground where neither is recorded.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

Rungs = tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Claim:
    """One danger that a clause names.

    Attributes:
        words: as the text has them.
        clause: the clause to their end, where the chemical is named that they are said of.
        ladder: statements by rung, the gravest first; codes stand for all that begin with them.
        rung: the one that the words stand on.
    """

    words: str
    clause: str
    ladder: Rungs
    rung: int

    def graver(self, codes: Iterable[str]) -> str | None:
        """A recorded statement that the words make less of, or None."""
        above = tuple(code for rung in self.ladder[: self.rung] for code in rung)
        return next((code for code in sorted(codes) if above and code.startswith(above)), None)

    def grounded(self, codes: Iterable[str]) -> bool:
        """Whether a recorded statement is at least as grave as the words."""
        enough = tuple(code for rung in self.ladder[: self.rung + 1] for code in rung)
        return any(code.startswith(enough) for code in codes)

    @property
    def wanted(self) -> str:
        """The statements that would bear the words out."""
        return " or ".join(self.ladder[self.rung])


@dataclass(frozen=True)
class Wording:
    """Words for one rung of one danger."""

    pattern: re.Pattern[str]
    ladder: Rungs
    rung: int


def _wording(pattern: str, ladder: Rungs, rung: int) -> Wording:
    return Wording(re.compile(pattern, re.IGNORECASE), ladder, rung)


CANCER: Rungs = (("H350",), ("H351",))
GENES: Rungs = (("H340",), ("H341",))
CHILD: Rungs = (("H360",), ("H361",))
SKIN: Rungs = (("H314",), ("H315",))
EYES: Rungs = (("H314", "H318"), ("H319",))
ALLERGY: Rungs = (("H317", "H334"),)
AIRWAYS: Rungs = (("H334",),)
WATER: Rungs = (("H400", "H410"), ("H411",), ("H412",))
SWALLOWED: Rungs = (("H300",), ("H301",), ("H302",))
ON_SKIN: Rungs = (("H310",), ("H311",), ("H312",))
BREATHED: Rungs = (("H330",), ("H331",), ("H332",))
#: A poison is toxic or deadly, whichever way it is taken in.
POISON: Rungs = (("H300", "H301", "H310", "H311", "H330", "H331"),)
#: The words of the trade for the rungs of acute toxicity, the gravest first.
GRADES = (r"deadly|fatal", r"toxic", r"harmful")
#: Between the word of a grade and its route: no other grade, no new clause.
_WITHIN = r"(?:(?!deadly|fatal|toxic|harmful|burns|irritat|sensitis)[^.;:])*?"
#: From the clause's beginning without a word of doubt.
_FIRMLY = r"^(?:(?!suspect).)*?"
_SWALLOW, _SKIN, _BREATH = r"swallow|by mouth", r"(?:through|on|by|with) (?:the )?skin\b", r"breath|inhal"
ROUTES = ((_SWALLOW, SWALLOWED), (_SKIN, ON_SKIN), (_BREATH, BREATHED))

WORDINGS = (
    _wording(r"suspect[^.;]*?\bcancer", CANCER, 1),
    _wording(rf"{_FIRMLY}\b(?:cancer|carcinogen)", CANCER, 0),
    _wording(r"suspect[^.;]*?\bgenetic", GENES, 1),
    _wording(rf"{_FIRMLY}\bgenetic", GENES, 0),
    _wording(r"suspect[^.;]*?\b(?:unborn|fertility)", CHILD, 1),
    _wording(rf"{_FIRMLY}\b(?:unborn|fertility)", CHILD, 0),
    _wording(
        r"\bsensitis(?:e|es|er)\b(?! (?:of|to) (?:colloid|light|film))|(?:start|cause|set off)\w*[^.;]*?\ballerg",
        ALLERGY,
        0,
    ),
    _wording(r"sensitis[^.;]*?\b(?:airways|lungs)", AIRWAYS, 0),
    _wording(r"(?:burns (?:the )?skin|burns of (?:the )?skin|severe burns|\bcorrosive|burns skin)", SKIN, 0),
    _wording(r"irritat\w*[^.;:]*?\bskin", SKIN, 1),
    _wording(r"damag\w*[^.;:]*?\beyes?\b|burns[^.;:]*?\beyes?\b|\bblinds?\b", EYES, 0),
    _wording(r"irritat\w*[^.;:]*?\beyes?\b", EYES, 1),
    _wording(r"very toxic to (?:water|aquatic) life", WATER, 0),
    _wording(r"(?<!very )toxic to (?:water|aquatic) life", WATER, 1),
    _wording(r"harmful to (?:water|aquatic) life", WATER, 2),
    _wording(r"\bpoison(?:ous)?\b(?! cent)", POISON, 0),
    *(
        _wording(rf"\b(?:{grade})\b{_WITHIN}(?:{route})", ladder, rung)
        for rung, grade in enumerate(GRADES)
        for route, ladder in ROUTES
    ),
)
#: A grade without a route is said of the gravest one.
_BARE = tuple(
    _wording(
        rf"\b(?:{grade})\b(?!\s+(?:to\b|gas|for|product|waste))(?!{_WITHIN}(?:{_SWALLOW}|{_SKIN}|{_BREATH}))",
        tuple(a + b + c for a, b, c in zip(SWALLOWED, ON_SKIN, BREATHED, strict=True)),
        rung,
    )
    for rung, grade in enumerate(GRADES)
)
#: A clause: what one subject is said of.
_CLAUSE = re.compile(r"[^.;]+")
#: Somebody is named whose word it is: such a text may be stricter than the record.
_SOURCED = re.compile(
    r"\bsheets?\b|suppliers?\b|countries\b|jurisdictions?\b|from memory|common practice|published", re.I
)
#: A gas that the bath gives off, a process of light, a denial: not what the substance is classed as.
_NO_CLAIM = re.compile(
    r"\bgas(?:es)?\b|hydrogen (?:sulfide|cyanide)|\blight-sensitis|treat it as|no hazard|little documented|"
    r"not (?:classed|toxic)",
    re.I,
)


def claims(text: str) -> Iterator[Claim]:
    """What a text claims without naming whose word it is."""
    for clause in _CLAUSE.findall(text):
        if _NO_CLAIM.search(clause):
            continue
        for wording in (*WORDINGS, *_BARE):
            match = wording.pattern.search(clause)
            if match:
                yield Claim(match[0].strip(), clause[: match.end()], wording.ladder, wording.rung)


def sourced(text: str) -> bool:
    """Whether a text says whose word it is."""
    return bool(_SOURCED.search(text))
