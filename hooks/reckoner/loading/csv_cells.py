"""Cells of a supplier's own table put into our words: prices, packs and figures as shops export them.

What is not understood is left as it is, for the parser of the value to tell; so a cell is never told twice.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from babel import Locale
from babel.numbers import get_decimal_symbol, get_group_symbol

from reckoner.digits import misread, with_digits
from reckoner.money import MINOR_DIGITS
from reckoner.problems import ValueFault
from reckoner.records.catalogue import Tree
from reckoner.records.prices import Supplier

#: Signs that stand for one currency, and signs of several, with the commonest of them.
SYMBOLS = {"€": "EUR", "£": "GBP", "zł": "PLN", "Kč": "CZK", "₹": "INR", "₩": "KRW"}
SHARED = {"$": ("USD", "AUD", "CAD", "NZD"), "¥": ("JPY", "CNY"), "kr": ("SEK", "NOK", "DKK", "ISK")}
#: Small letters that shops write and authors do not; no other unit is meant by them.
_UNITS = {"ml": "mL", "l": "L"}
#: Cells of ``in_stock`` that need no word of the supplier's record.
FLAGS = ("yes", "no", "true", "false")
_FIGURE = r"\d[\d.,]*"
_SIGN = r"[^\d\s.,+-]*"
#: Prices alone may have spaces or apostrophes between their thousands: a pack of ``2 500 g`` may be two.
_SUM = r"\d(?:[\d.,'’ ]*\d)?"
_PRICE = re.compile(rf"(?P<before>{_SIGN})\s*(?P<number>{_SUM})\s*(?P<after>{_SIGN})\Z")
_PACK = re.compile(rf"(?:(?P<count>\d+)\s*[x×]\s*)?(?P<number>{_FIGURE})\s*(?P<unit>[A-Za-z_]*)\Z")


@dataclass(frozen=True)
class Dialect:
    """How the tables of one supplier are written; without arguments, as ours are.

    Attributes:
        sign: the decimal sign, the only one that figures of these tables have.
        group: what parts thousands, a space for all kinds of spaces; empty where nothing may.
        sizes: digits between two groups, counted from the decimal sign: the first, and all others.
        semicolons: whether they may part the cells.
        columns: a heading of theirs to ours.
        ignore_others: whether all other columns are left out.
        words: our column with a cell of theirs in small letters, to what it means here.
        currency: of a price that names none; None where it must name one.
    """

    sign: str = "."
    group: str = ""
    sizes: tuple[int, int] = (3, 3)
    semicolons: bool = False
    columns: Mapping[str, str] = field(default_factory=dict)
    ignore_others: bool = False
    words: Mapping[tuple[str, str], str] = field(default_factory=dict)
    currency: str | None = None


PLAIN = Dialect()


def dialect_of(tree: Tree | None, supplier: object) -> Dialect | None:
    """What a supplier's record says of its tables; None where it says something and has faults.

    A price without a currency is in the supplier's own, which its record names.
    """
    if not isinstance(supplier, Supplier):
        has_dialect = isinstance(tree, dict) and any(str(key).startswith("csv_") for key in tree)
        return None if has_dialect else replace(PLAIN, currency=_own_currency(tree))
    columns = {column.theirs: column.ours for column in supplier.csv_columns}
    dialect = Dialect(
        columns=columns,
        ignore_others=supplier.csv_other_columns is not None,
        words={(word.column, word.theirs.casefold()): word.ours for word in supplier.csv_words},
        currency=supplier.currency,
    )
    return _with_figures(dialect, supplier.csv_locale) if supplier.csv_locale else dialect


def _own_currency(tree: Tree | None) -> str | None:
    """The currency that a record with faults names all the same: its tables are not told what is told there."""
    currency = tree.get("currency") if isinstance(tree, dict) else None
    return currency if isinstance(currency, str) and re.fullmatch(r"[A-Z]{3}", currency) else None


def _with_figures(dialect: Dialect, locale: str) -> Dialect:
    """The dialect with decimal sign and grouping of a locale."""
    first, others = Locale.parse(locale).decimal_formats[None].grouping
    return replace(
        dialect,
        sign=get_decimal_symbol(locale),
        group=_spaced(get_group_symbol(locale)) or " ",
        sizes=(first, others),
        semicolons=True,
    )


def in_our_words(
    cells: Mapping[str, str], dialect: Dialect, numbers: frozenset[str] = frozenset()
) -> tuple[dict[str, str], dict[str, str]]:
    """A row by column as a YAML list would have it, and by column what is wrong.

    A cell that is told has a stand-in, so that it is not told again. ``numbers``: columns whose cell is a figure of a
    workbook, with a decimal point and no grouping whatever the supplier's locale.
    """
    # A grouping that no figure has: nothing in it can mean two things.
    exact = replace(dialect, sign=".", group=" ", sizes=(3, 3))
    words = {name: dialect.words.get((name, _spaced(cell).casefold()), cell) for name, cell in cells.items()}
    faults: dict[str, str] = {}
    in_stock = words.get("in_stock", "").strip()
    if dialect.columns and in_stock not in {"", *FLAGS}:
        words["in_stock"] = "yes"
        faults["in_stock"] = f"'{in_stock}' is neither yes nor no (say what it means under csv_words in supplier.yml)"
    for name, stand_in, read in (("price", "1 EUR", price), ("assay", "1 % w/w", strength)):
        try:
            words[name] = read(cells.get(name, ""), exact if name in numbers else dialect)
        except ValueFault as fault:
            words[name], faults[name] = stand_in, str(fault)
    if "price" in numbers:
        words["price"] = _in_full(words["price"])
    try:
        words["pack"], count = pack(cells["pack"], exact if "pack" in numbers else dialect)
        if count and cells.get("count", "").strip():
            raise ValueFault(f"'{cells['pack']}' says how many, and so does the column 'count' (leave one of them out)")
        words["count"] = count or cells.get("count", "")
    except ValueFault as fault:
        words["pack"], faults["pack"] = "1 g", str(fault)
    return words, faults


def price(text: str, dialect: Dialect) -> str:
    """A price with its currency's code behind it.

    A sign that several currencies share is taken for the supplier's own only where a bare number would be.

    Raises:
        ValueFault: a currency that is not known, or a sign of several.

    >>> price("8,90 €", Dialect(sign=","))
    '8.90 EUR'
    >>> price("£ 7.40", PLAIN)
    '7.40 GBP'
    """
    match = _PRICE.match(_spaced(text))
    if not match or (match["before"] and match["after"]):
        return text
    currency = _currency(match["before"] or match["after"], text, dialect)
    read = figure if MINOR_DIGITS.get(currency) == 3 else _one_thing
    return f"{read(match['number'], dialect)} {currency}".rstrip()


def _in_full(price: str) -> str:
    """A price with the decimals of its currency, as authors write it: a workbook's figure ends with its last digit."""
    number, _, currency = price.partition(" ")
    missing = MINOR_DIGITS.get(currency, 2) - len(number.partition(".")[2])
    if not currency or not number.replace(".", "").isdigit() or missing <= 0:
        return price
    return f"{number}{'' if '.' in number else '.'}{'0' * missing} {currency}"


def _currency(written: str, text: str, dialect: Dialect) -> str:
    if not written:
        return dialect.currency or ""
    if written in SHARED:
        if dialect.currency in SHARED[written]:
            return dialect.currency
        raise ValueFault(f"'{written}' in '{text}' is the sign of several currencies (write {_either(written)})")
    if written in SYMBOLS or re.fullmatch(r"[A-Z]{3}", written):
        return SYMBOLS.get(written, written)
    mended, letters = with_digits(text)
    if letters and _PRICE.match(mended):
        raise ValueFault(misread(text, mended, letters))
    raise ValueFault(f"'{written}' in '{text}' is no currency that is known here (write its code, as 8.90 EUR)")


def _either(sign: str) -> str:
    *most, last = SHARED[sign]
    return f"{', '.join(most)} or {last}"


def pack(text: str, dialect: Dialect) -> tuple[str, str]:
    """A pack with a space before its unit, and how many are sold together, empty where the cell does not say.

    >>> pack("2x500g", PLAIN)
    ('500 g', '2')
    """
    match = _PACK.match(_spaced(text))
    if not match:
        return text, ""
    unit = _UNITS.get(match["unit"], match["unit"])
    return f"{_one_thing(match['number'], dialect)} {unit}".rstrip(), match["count"] or ""


def strength(text: str, dialect: Dialect) -> str:
    """A strength with a decimal point."""
    return re.sub(_FIGURE, lambda number: figure(number[0], dialect), text, count=1)


def _one_thing(text: str, dialect: Dialect) -> str:
    """A figure that can be in the thousands; ``1.250`` is told where no locale says what its point parts.

    Raises:
        ValueFault: as ``figure``; what is written instead has not just three decimals.
    """
    if dialect.sign == "." and not dialect.group and _grouped(text, ".", (3, 3)):
        fraction = text.rstrip("0").rstrip(".") if text.endswith("0") else f"{text}0"
        instead = f"write {text.replace('.', '')} or {fraction}, or csv_locale in supplier.yml"
        raise ValueFault(f"'{text}' can mean two things ({instead})")
    return figure(text, dialect)


def figure(text: str, dialect: Dialect) -> str:
    """A number with a decimal point and no grouping; the dialect's sign is the only decimal sign it may have.

    Thousands may be grouped as the locale does where nothing else can be meant: ``1.250`` is told, for it may be 1,25.

    Raises:
        ValueFault: a point where the decimal sign is another, or a figure that can mean two things.

    >>> figure("1.009,40", Dialect(sign=",", group="."))
    '1009.40'
    """
    sign, group = dialect.sign, dialect.group
    if group == "’":
        text, group = text.replace("’", "'"), "'"
    whole, point, part = text.partition(sign)
    if group and _grouped(whole, group, dialect.sizes):
        if not point and group in ".," and whole.count(group) == 1:
            raise _two_things(text, group, sign)
        return whole.replace(group, "") + (f".{part}" if point else "")
    if sign == "." or "." not in text:
        return text.replace(sign, ".")
    if sign in text:
        mend = f"write {text.replace('.', '')}" if _grouped(whole, ".", (3, 3)) else "check the figure"
        raise ValueFault(f"'{text}' has a point in it that parts no thousands here ({mend})")
    if _grouped(text, ".", (3, 3)):
        raise _two_things(text, ".", sign)
    fault = f"has a decimal point where this supplier's csv_locale has '{sign}'"
    raise ValueFault(f"'{text}' {fault} (write {text.replace('.', sign)})")


def _two_things(text: str, group: str, sign: str) -> ValueFault:
    either = f"{text.replace(group, '')} or {text.replace(group, sign)}"
    return ValueFault(f"'{text}' can mean two things (write {either})")


def _grouped(whole: str, group: str, sizes: tuple[int, int]) -> bool:
    """Whether a whole number is grouped just as a locale groups."""
    first, others = sizes
    mark = re.escape(group)
    pattern = rf"[1-9]\d{{0,{others - 1}}}(?:{mark}\d{{{others}}})*{mark}\d{{{first}}}"
    return re.fullmatch(pattern, whole) is not None


def _spaced(text: str) -> str:
    """With single plain spaces: exports hold narrow and unbreakable ones."""
    return " ".join(text.split())
