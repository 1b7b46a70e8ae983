"""Letters that were typed or scanned where a digit belongs: they are named, and never read as digits."""

from __future__ import annotations

import re

#: What looks like a digit, and the digit; the last are Cyrillic and Greek.
_MEANT = {
    **dict.fromkeys("Oo", "0"),
    **dict.fromkeys("Il|", "1"),
    **{"Z": "2", "S": "5", "B": "8"},
    **dict.fromkeys("\u041e\u043e\u039f\u03bf", "0"),
    **dict.fromkeys("\u0406\u0456\u0399", "1"),
}
_LIKE = "".join(map(re.escape, _MEANT))
#: A figure with such letters in it, or of nothing but them where a text begins.
_FIGURE = re.compile(rf"(?<![^\W\d_])[{_LIKE}.,]*[0-9][{_LIKE}0-9.,]*|\A[{_LIKE}]+(?=[\s:+-]|\Z)")


def with_digits(text: str) -> tuple[str, str]:
    """A text with digits for letters that look like them inside its figures, and the names of those letters.

    The names are empty where there is none; whether the text then says anything is for its parser to judge.

    >>> with_digits("1OO g")
    ('100 g', 'the letter O')
    >>> with_digits("5 oz_avdp")
    ('5 oz_avdp', '')
    """
    seen: dict[str, None] = {}

    def mend(match: re.Match[str]) -> str:
        seen.update(dict.fromkeys(sign for sign in match[0] if sign in _MEANT))
        return "".join(_MEANT.get(sign, sign) for sign in match[0])

    mended = _FIGURE.sub(mend, text)
    return mended, " and ".join(_name(sign) for sign in seen)


def _name(sign: str) -> str:
    if sign == "|":
        return "a stroke"
    return f"the letter {sign}" if sign.isascii() else f"the Cyrillic or Greek letter {sign}"


def misread(text: str, mended: str, letters: str) -> str:
    """What is wrong with a text that has letters for digits."""
    return f"'{text}' has {letters} where a digit belongs (write {mended})"
