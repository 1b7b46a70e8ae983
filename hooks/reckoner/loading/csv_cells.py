"""Cells of a supplier's own table put into our words: prices, packs and figures as shops export them.

What is not understood is left as it is, for the parser of the value to tell; so a cell is never told twice.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from babel.numbers import get_decimal_symbol

from reckoner.problems import ValueFault
from reckoner.records.catalogue import Tree
from reckoner.records.prices import Supplier

#: Signs that stand for one currency, and signs of several, with the commonest of them.
SYMBOLS = {"€": "EUR", "£": "GBP", "zł": "PLN", "Kč": "CZK", "₹": "INR", "₩": "KRW"}
SHARED = {"$": ("USD", "AUD", "CAD", "NZD"), "¥": ("JPY", "CNY"), "kr": ("SEK", "NOK", "DKK", "ISK")}
#: Small letters that shops write and authors do not; no other unit is meant by them.
_UNITS = {"ml": "mL", "l": "L"}
_FIGURE = r"\d[\d.,]*"
_SIGN = r"[^\d\s.,+-]*"
_PRICE = re.compile(rf"(?P<before>{_SIGN})\s*(?P<number>{_FIGURE})\s*(?P<after>{_SIGN})\Z")
_PACK = re.compile(rf"(?:(?P<count>\d+)\s*[x×]\s*)?(?P<number>{_FIGURE})\s*(?P<unit>[A-Za-z_]*)\Z")


@dataclass(frozen=True)
class Dialect:
    """How the tables of one supplier are written; without arguments, as ours are.

    Attributes:
        sign: the decimal sign, the only one that figures of these tables have.
        semicolons: whether they may part the cells.
        columns: a heading of theirs to ours.
        currency: of a price that names none; None where it must name one.
    """

    sign: str = "."
    semicolons: bool = False
    columns: Mapping[str, str] = field(default_factory=dict)
    currency: str | None = None


PLAIN = Dialect()


def dialect_of(tree: Tree | None, supplier: object) -> Dialect | None:
    """What a supplier's record says of its tables; None where it says something and has faults.

    A price without a currency is in the supplier's own only where the record lists the columns: then the table is the
    supplier's export. A table typed by hand names the currency of each price, so that no one takes pounds for euro.
    """
    if not isinstance(supplier, Supplier):
        said = isinstance(tree, dict) and any(key in tree for key in ("csv_locale", "csv_columns"))
        return None if said else PLAIN
    columns = {column.theirs: column.ours for column in supplier.csv_columns}
    return Dialect(
        sign=get_decimal_symbol(supplier.csv_locale) if supplier.csv_locale else ".",
        semicolons=supplier.csv_locale is not None,
        columns=columns,
        currency=supplier.currency if columns else None,
    )


def in_our_words(cells: Mapping[str, str], dialect: Dialect) -> tuple[dict[str, str], dict[str, str]]:
    """A row by column as a YAML list would have it, and by column what is wrong.

    A cell that is told has a stand-in, so that it is not told again.
    """
    words, faults = dict(cells), {}
    for name, stand_in, read in (("price", "1 EUR", price), ("assay", "1 % w/w", strength)):
        try:
            words[name] = read(cells.get(name, ""), dialect)
        except ValueFault as fault:
            words[name], faults[name] = stand_in, str(fault)
    try:
        words["pack"], count = pack(cells["pack"], dialect)
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
    found = _PRICE.match(_spaced(text))
    if not found or (found["before"] and found["after"]):
        return text
    currency = _currency(found["before"] or found["after"], text, dialect)
    return f"{figure(found['number'], dialect)} {currency}".rstrip()


def _currency(written: str, text: str, dialect: Dialect) -> str:
    if not written:
        return dialect.currency or ""
    if written in SHARED:
        if dialect.currency in SHARED[written]:
            return dialect.currency
        raise ValueFault(f"'{written}' in '{text}' is the sign of several currencies (write {_either(written)})")
    if written in SYMBOLS or re.fullmatch(r"[A-Z]{3}", written):
        return SYMBOLS.get(written, written)
    raise ValueFault(f"'{written}' in '{text}' is no currency that is known here (write its code, as 8.90 EUR)")


def _either(sign: str) -> str:
    *most, last = SHARED[sign]
    return f"{', '.join(most)} or {last}"


def pack(text: str, dialect: Dialect) -> tuple[str, str]:
    """A pack with a space before its unit, and how many are sold together, empty where the cell does not say.

    >>> pack("2x500g", PLAIN)
    ('500 g', '2')
    """
    found = _PACK.match(_spaced(text))
    if not found:
        return text, ""
    unit = _UNITS.get(found["unit"], found["unit"])
    return f"{figure(found['number'], dialect)} {unit}".rstrip(), found["count"] or ""


def strength(text: str, dialect: Dialect) -> str:
    """A strength with a decimal point."""
    return re.sub(_FIGURE, lambda found: figure(found[0], dialect), text, count=1)


def figure(text: str, dialect: Dialect) -> str:
    """A number with a decimal point; the dialect's sign is the only one it may have.

    Raises:
        ValueFault: a point where the decimal sign is another.

    >>> figure("8,90", Dialect(sign=","))
    '8.90'
    """
    sign = dialect.sign
    if sign == "." or "." not in text:
        return text.replace(sign, ".")
    plain = text.replace(".", "")
    if sign in text:
        raise ValueFault(f"'{text}' has a point in it (write {plain})")
    if re.fullmatch(r"[1-9]\d{0,2}(\.\d{3})+", text):
        raise ValueFault(f"'{text}' can mean two things (write {plain} or {text.replace('.', sign)})")
    what = f"has a decimal point where this supplier's csv_locale has '{sign}'"
    raise ValueFault(f"'{text}' {what} (write {text.replace('.', sign)})")


def _spaced(text: str) -> str:
    """With single plain spaces: exports hold narrow and unbreakable ones."""
    return " ".join(text.split())
