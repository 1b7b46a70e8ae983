"""One rule of delivery and one of keeping: a plan's basket and a comparison's orders ask the same functions."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reckoner.calc.buying.basket import basket_of
from reckoner.calc.buying.basket_task import WHOLE, PackOption, Task
from reckoner.calc.buying.pack_keeping import days_left, keeps_until, past_keeping
from reckoner.calc.buying.terms import Terms
from reckoner.calc.compare.cupboard import Pack
from reckoner.calc.compare.reorder import Shop
from reckoner.records.chemical import Chemical
from reckoner.records.shelf import ShelfPack

D = Decimal
SOURCE = {"certainty": "common practice", "checked": "2026-11-25"}


@pytest.mark.parametrize(
    ("terms", "listed", "charge", "short"),
    [
        (Terms(590), 100_000, 590, None),
        (Terms(590, 5000), 4999, 590, 1),
        (Terms(590, 5000), 5000, 0, None),
        # Free from nothing: always free; and without a charge nothing is saved.
        (Terms(590, 0), 0, 0, None),
        (Terms(0, 5000), 100, 0, None),
    ],
)
def test_delivery_of_an_order(terms: Terms, listed: int, charge: int, short: int | None) -> None:
    assert (terms.charge(listed), terms.short_of_free(listed)) == (charge, short)


def test_what_an_order_must_have() -> None:
    """The larger of the two limits, to be sent free; a minimum alone where it is not."""
    assert [Terms(590, 5000, 2000).asked(free) for free in (False, True)] == [2000, 5000]
    assert [Terms(590, 2000, 5000).asked(free) for free in (False, True)] == [5000, 5000]
    assert [terms.limited for terms in (Terms(590), Terms(590, 0), Terms(590, None, 1))] == [False, True, True]


@given(st.integers(1, 5), st.integers(1, 3000), st.none() | st.integers(0, 9000), st.integers(0, 900))
def test_a_plan_and_a_comparison_pay_the_same_delivery(count: int, price: int, free: int | None, charge: int) -> None:
    terms = {"shop": Terms(charge, free)}
    task = Task({"salt": WHOLE}, (PackOption("salt", "shop", "salt", WHOLE, price, price),), terms)
    shop = Shop({"salt": Pack("salt", D(100), D(price), goods=D(price), seller="shop")}, terms)
    assert basket_of({"salt": count}, task).delivery == shop.charge({"salt": count})


def chemical(**keeping: str) -> Chemical:
    return Chemical.model_validate(
        {
            "id": "salt",
            "name": "Salt",
            "use": "a test",
            "role": "other",
            "forms": [{"id": "solid", "name": "crystals", "formula": "NaCl"}],
            "keeping": {**keeping, "certainty": "common practice"},
            "source": SOURCE,
        }
    )


def pack(**more: str) -> ShelfPack:
    told = {"chemical": "salt", "form": "solid", "pack": "100 g", "left": "50 g", "bought": "2026-01-01"}
    return ShelfPack.model_validate({**told, **more})


@pytest.mark.parametrize(
    ("of_pack", "until"),
    [
        (pack(), date(2026, 1, 15)),
        # Once opened, its time counts from that day by the shorter time of an opened pack.
        (pack(opened="2026-01-10"), date(2026, 1, 17)),
        # Opened late, it keeps on past what it would have kept closed.
        (pack(opened="2026-01-14"), date(2026, 1, 21)),
    ],
)
def test_the_plan_and_the_comparison_agree_on_a_packs_last_day(of_pack: ShelfPack, until: date) -> None:
    salt = chemical(sealed="2 weeks", opened="1 week")
    kept = keeps_until(of_pack, salt)
    assert kept is not None
    assert kept.until == until
    assert past_keeping(of_pack, salt, until) is None
    assert past_keeping(of_pack, salt, until + timedelta(days=1)) == kept
    left = [days_left(of_pack, salt, until + timedelta(days=days), "generous") for days in (-1, 0, 1)]
    assert left == [1, 0, 0]


def test_what_has_no_time_keeps_and_so_does_what_the_owner_uses_all_the_same() -> None:
    far = date(2036, 1, 1)
    assert keeps_until(pack(opened="2026-01-10"), chemical(sealed="2 weeks")) is None
    assert days_left(pack(), chemical(opened="1 week"), far, "cautious") is None
    assert days_left(pack(use_past_keeping="yes"), chemical(sealed="2 weeks"), far, "cautious") is None


def test_the_shorter_end_counts_where_one_is_cautious() -> None:
    salt, day = chemical(sealed="1-2 weeks"), date(2026, 1, 3)
    assert [days_left(pack(), salt, day, figure) for figure in ("cautious", "generous")] == [5, 12]
