"""CSV price lists as shops export them: their headings, their decimal sign, currencies and packs; and every fault."""

from __future__ import annotations

from decimal import Decimal

import pytest
from babel.numbers import format_decimal
from hypothesis import given
from hypothesis import strategies as st

from reckoner.loading.csv_cells import PLAIN, Dialect, dialect_of, figure, pack, price, strength
from reckoner.problems import HandbookError, ValueFault
from reckoner.records.prices import Offer
from small import chemical, load, supplier

COMMA = Dialect(sign=",", group=".", semicolons=True)
POINT = Dialect(group=",", semicolons=True)
SPACE = Dialect(sign=",", group=" ", semicolons=True)
SWISS = Dialect(group="’", semicolons=True)
INDIAN = Dialect(group=",", sizes=(3, 2), semicolons=True)
EXPORT = Dialect(sign=",", semicolons=True, columns={"Preis": "price"}, currency="EUR")
SALT = chemical("salt", "[{id: solid, name: solid, formula: NaCl}]")
RATES = (
    "rates: [{base: GBP, quote: EUR, rate: 1.20, date: 2026-11-01}]\nsource: {certainty: invented, checked: 2026-11-01}"
)
COLUMNS = """csv_columns:
  - {theirs: Artikel, ours: chemical}
  - {theirs: Sorte, ours: form}
  - {theirs: Inhalt, ours: pack}
  - {theirs: Preis in Euro, ours: price}
  - {theirs: Lagerort, ours: ignore}
  - {theirs: Gewicht, ours: ignore}
"""


def offers(table: str, more: str = "") -> tuple[Offer, ...]:
    """The offers of one table of a supplier whose record ends with ``more``."""
    catalogue = load(
        {
            "chemicals/salt.yml": SALT,
            "exchange_rates.yml": RATES,
            # The table's name is sorted before its supplier's: the order of reading is not that of the names.
            "prices/one/2026-11-01.csv": table,
            "prices/one/supplier.yml": supplier() + more,
        }
    )
    return catalogue.price_lists[0].prices.offers


@pytest.mark.parametrize(
    ("cell", "dialect", "read"),
    [
        ("8,90 €", COMMA, "8.90 EUR"),
        ("8,90\u00a0€", COMMA, "8.90 EUR"),
        ("€8.90", PLAIN, "8.90 EUR"),
        ("£ 7.40", PLAIN, "7.40 GBP"),
        ("7.40 GBP", PLAIN, "7.40 GBP"),
        ("GBP 7.40", PLAIN, "7.40 GBP"),
        ("7.40GBP", PLAIN, "7.40 GBP"),
        ("12 zł", COMMA, "12 PLN"),
        ("8,90", EXPORT, "8.90 EUR"),
        ("$8.90", Dialect(columns={"Price": "price"}, currency="CAD"), "8.90 CAD"),
        ("1.009,40 €", COMMA, "1009.40 EUR"),
        ("1.250.000 €", COMMA, "1250000 EUR"),
        ("€1,009.40", POINT, "1009.40 EUR"),
        ("1 009,40 €", SPACE, "1009.40 EUR"),
        ("1\u202f009 €", SPACE, "1009 EUR"),
        ("1’009.40 EUR", SWISS, "1009.40 EUR"),
        ("EUR 1'009", SWISS, "1009 EUR"),
        ("₹1,25,000.50", INDIAN, "125000.50 INR"),
        ("1.250 EUR", POINT, "1.250 EUR"),
        ("0.250 EUR", PLAIN, "0.250 EUR"),
        # A currency of thousandths (ISO 4217) has three decimals.
        ("1.250 KWD", PLAIN, "1.250 KWD"),
        # Not understood: left for the parser of prices to tell.
        ("1 009 EUR", PLAIN, "1 009 EUR"),
        ("1,009.40 EUR", PLAIN, "1,009.40 EUR"),
        ("1,25,000 EUR", POINT, "1,25,000 EUR"),
        ("0,250 EUR", POINT, "0,250 EUR"),
        ("8,90", COMMA, "8.90"),
        ("8,90 EUR", PLAIN, "8,90 EUR"),
        ("-1 EUR", PLAIN, "-1 EUR"),
        ("€8.90 EUR", PLAIN, "€8.90 EUR"),
        ("on request", PLAIN, "on request"),
        ("", PLAIN, ""),
    ],
)
def test_prices(cell: str, dialect: Dialect, read: str) -> None:
    assert price(cell, dialect) == read


@pytest.mark.parametrize(
    ("cell", "dialect", "told"),
    [
        ("$8.90", PLAIN, "'$' in '$8.90' is the sign of several currencies (write USD, AUD, CAD or NZD)"),
        ("8,90 $", EXPORT, "'$' in '8,90 $' is the sign of several currencies (write USD, AUD, CAD or NZD)"),
        ("¥900", PLAIN, "'¥' in '¥900' is the sign of several currencies (write JPY or CNY)"),
        ("8.90 eur", PLAIN, "'eur' in '8.90 eur' is no currency that is known here (write its code, as 8.90 EUR)"),
        ("8.90 €", COMMA, "'8.90' has a decimal point where this supplier's csv_locale has ',' (write 8,90)"),
        ("1.250 €", COMMA, "'1.250' can mean two things (write 1250 or 1,250)"),
        ("1.250,50 €", SPACE, "'1.250,50' has a point in it that parts no thousands here (write 1250,50)"),
        ("1.25,50 €", COMMA, "'1.25,50' has a point in it that parts no thousands here (check the figure)"),
        ("1,250 GBP", POINT, "'1,250' can mean two things (write 1250 or 1.250)"),
        # No locale says whether the point parts thousands.
        ("1.250 EUR", PLAIN, "'1.250' can mean two things (write 1250 or 1.25, or csv_locale in supplier.yml)"),
        ("€ 12.345", PLAIN, "'12.345' can mean two things (write 12345 or 12.3450, or csv_locale in supplier.yml)"),
    ],
)
def test_prices_that_are_refused(cell: str, dialect: Dialect, told: str) -> None:
    with pytest.raises(ValueFault) as fault:
        price(cell, dialect)
    assert str(fault.value) == told


@pytest.mark.parametrize(
    ("cell", "dialect", "read"),
    [
        ("250 g", PLAIN, ("250 g", "")),
        ("250g", PLAIN, ("250 g", "")),
        ("2 x 500 g", PLAIN, ("500 g", "2")),
        ("2x500g", PLAIN, ("500 g", "2")),
        ("3 × 1 L", PLAIN, ("1 L", "3")),
        ("500 ml", PLAIN, ("500 mL", "")),
        ("2,5 kg", COMMA, ("2.5 kg", "")),
        ("16 US_fl_oz", PLAIN, ("16 US_fl_oz", "")),
        ("1.000,5 g", COMMA, ("1000.5 g", "")),
        # Left for the parser of amounts to tell.
        ("2 500 g", SPACE, ("2 500 g", "")),
        ("500", PLAIN, ("500", "")),
        ("2 x 500", PLAIN, ("500", "2")),
        ("2,5 kg", PLAIN, ("2,5 kg", "")),
        ("a bag", PLAIN, ("a bag", "")),
    ],
)
def test_packs(cell: str, dialect: Dialect, read: tuple[str, str]) -> None:
    assert pack(cell, dialect) == read


def test_a_pack_that_can_be_read_two_ways_is_refused() -> None:
    with pytest.raises(ValueFault, match=r"'2\.500' can mean two things \(write 2500 or 2\.5, or csv_locale in"):
        pack("2.500 kg", PLAIN)
    assert pack("2.500 kg", POINT) == ("2.500 kg", "")
    assert strength("99.999 % w/w", PLAIN) == "99.999 % w/w"


@given(st.decimals("0.01", "99999", places=2))
def test_a_price_with_a_comma_is_the_price_with_a_point(number: Decimal) -> None:
    assert figure(str(number).replace(".", ","), COMMA) == figure(str(number), PLAIN) == str(number)


def test_a_shop_s_own_export_is_read_as_it_is() -> None:
    """Semicolons, a quoted cell with one in it, decimal commas, headings of its own, columns that nothing needs."""
    table = (
        'Artikel;Sorte;Inhalt;"Preis  in Euro";Lagerort;Gewicht\r\n'
        'salt;solid;2 x 500 g;8,90;"A;3";1,02\r\n'
        "salt;solid;2,5kg;17,50 €;;2,55\r\n"
        "salt;solid;250 g;£3,20;B;0,26\r\n"
    )
    found = offers(table, f"csv_locale: de_DE\n{COLUMNS}")
    assert [(str(one.pack), one.count, str(one.price)) for one in found] == [
        ("500 g", 2, "8.90 EUR"),
        ("2.5 kg", 1, "17.50 EUR"),
        ("250 g", 1, "3.20 GBP"),
    ]


def test_an_export_with_words_of_its_own_and_columns_that_nothing_needs() -> None:
    table = (
        "EAN;Artikel;Sorte;Inhalt;Preis in Euro;Lieferbar;Lagerort;Gewicht\n"
        "4001;Kochsalz;Fest;25 kg;1.009,40;ja;A;25,2\n"
        "4002;kochsalz;solid;1 kg;9,40;Nein;A;1,02\n"
    )
    columns = "".join(line for line in COLUMNS.splitlines(keepends=True) if "ignore" not in line)
    words = """csv_other_columns: ignore
csv_words:
  - {column: chemical, theirs: Kochsalz, ours: salt}
  - {column: form, theirs: fest, ours: solid}
  - {column: in_stock, theirs: ja, ours: yes}
  - {column: in_stock, theirs: nein, ours: no}
"""
    found = offers(table, f"csv_locale: de_DE\n{columns}  - {{theirs: Lieferbar, ours: in_stock}}\n{words}")
    assert [(one.chemical, one.form, str(one.price), one.in_stock) for one in found] == [
        ("salt", "solid", "1009.40 EUR", True),
        ("salt", "solid", "9.40 EUR", False),
    ]


@given(
    st.sampled_from(["de_DE", "en_GB", "fr_FR", "de_CH", "pl_PL", "sv_SE", "en_IN"]), st.decimals(0, 10**6, places=2)
)
def test_what_a_locale_writes_is_read_again(locale: str, number: Decimal) -> None:
    """As Babel writes figures with grouping; two decimals leave nothing that can mean two things."""
    record = load({"prices/one/supplier.yml": f"{supplier()}csv_locale: {locale}\n"}).suppliers["one"]
    dialect = dialect_of({}, record)
    assert dialect is not None
    written = format_decimal(number, "#,##0.00" if locale != "en_IN" else "#,##,##0.00", locale=locale)
    assert Decimal(price(f"{written} EUR", dialect).removesuffix(" EUR")) == number


def test_our_own_headings_need_no_mapping() -> None:
    found = offers(
        "Artikel,form,pack,price\nsalt,solid,1 kg,£5\n", "csv_columns: [{theirs: Artikel, ours: chemical}]\n"
    )
    assert [str(one.price) for one in found] == ["5 GBP"]


def test_a_table_with_commas_is_read_though_semicolons_are_allowed() -> None:
    found = offers('chemical,form,pack,price\nsalt,solid,1 kg,"5,20 EUR"\n', "csv_locale: de_DE\n")
    assert [str(one.price) for one in found] == ["5.20 EUR"]


def test_faults_are_told_at_their_cells_and_all_at_once() -> None:
    """Columns are counted in the file as it is, behind quoted cells too."""
    table = (
        "Artikel;Sorte;Inhalt;Preis in Euro\n"
        '"salt";solid;500;8.90\n'
        "salt;solid;1 kg;$9\n"
        "salt;powder;2 kg;9,00\n"
        "salt;solid;5 kg\n"
    )
    with pytest.raises(HandbookError) as error:
        offers(table, f"csv_locale: de_DE\n{COLUMNS}")
    place = "formulas/prices/one/2026-11-01.csv"
    assert str(error.value).splitlines() == [
        f"{place}:2:14: '500' has no unit (write 500 g or 500 mL)",
        f"{place}:2:18: '8.90' has a decimal point where this supplier's csv_locale has ',' (write 8,90)",
        f"{place}:3:17: '$' in '$9' is the sign of several currencies (write USD, AUD, CAD or NZD)",
        f"{place}:4:6: salt has no form 'powder' (write one of: solid)",
        f"{place}:5:1: 3 cells where the header has 4 (write a semicolon for each empty cell)",
    ]


def test_a_bare_number_is_in_the_suppliers_currency() -> None:
    (offer,) = offers("chemical;form;pack;price\nsalt;solid;1 kg;8,90\n", "csv_locale: de_DE\n")
    assert str(offer.price) == "8.90 EUR"
    (other,) = offers("chemical,form,pack,price\nsalt,solid,1 kg,8.90 GBP\n", "")
    assert str(other.price) == "8.90 GBP"


@pytest.mark.parametrize("heading", ["Chemical,FORM,Pack,Price,In Stock", "CHEMICAL,Form,PACK,PRICE,in_stock"])
def test_headings_may_have_capitals(heading: str) -> None:
    (offer,) = offers(f"\ufeff{heading}\nsalt,solid,1 kg,8.90,no\n".removeprefix("\ufeff"), "")
    assert not offer.in_stock
    with pytest.raises(HandbookError, match="column 'price' stands twice"):
        offers("Chemical,Form,Pack,Price,price\nsalt,solid,1 kg,8.90,9\n", "")
    (theirs,) = offers("ARTIKEL;sorte;Inhalt;PREIS IN EURO\nsalt;solid;1 kg;8,90\n", f"csv_locale: de_DE\n{COLUMNS}")
    assert str(theirs.price) == "8.90 EUR"


def test_a_record_without_a_word_of_tables_reads_ours() -> None:
    assert dialect_of({"name": "x"}, None) == PLAIN
    assert dialect_of({"name": "x", "csv_locale": "de_DE"}, None) is None
