"""Money spent roll by roll, worked by hand to the cent; what must hold of every simulation."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reckoner.calc.buying.terms import Terms
from reckoner.calc.compare.crossing import Crossing, crossings, decisive, stays_cheaper
from reckoner.calc.compare.cupboard import Cupboard, Owned, Pack, rolls_within
from reckoner.calc.compare.simulated_side import Ahead, Run, Side, SpendingSplit, one_by_one
from reckoner.calc.compare.simulation import _usable, run
from reckoner.calc.film.days import MONTH
from reckoner.calc.film.mixed_bath import Bath

D = Decimal

ONE_A_MONTH = D(1)


def own(does: int = 4, days: Decimal | None = None, takes: int = 40, **pack: object) -> Side:
    """One bath that takes ``takes`` g from packs of 100 g at 500 cents, sent for 200 cents an order."""
    salt = Pack("salt", D(100), D(500), goods=D(500), seller="shop", **pack)  # type: ignore[arg-type]
    bath = Bath("bath", D(does), days, (("salt", D(takes)),))
    return Side((bath,), {"salt": salt}, {"shop": Terms(200)})


def kit(does: int = 8, days: Decimal | None = MONTH * 2) -> Side:
    """A kit of 1 L at 3000 cents, sent for 600, mixed whole."""
    pack = Pack("kit", D(1), D(3000), seller="kit", ready=True)
    return Side((Bath("kit", D(does), days, (("kit", D(1)),), ready=True),), {"kit": pack}, {"kit": Terms(600)})


def spent(side: Side, rolls: int, rate: Decimal = ONE_A_MONTH, gather: int = 1) -> list[int]:
    """Cents paid up to each roll."""
    return [int(cents) for cents in run(side, rate, rolls, gather).spent()]


def test_packs_are_bought_when_what_is_left_is_too_little() -> None:
    """A batch of 40 g does 4 rolls: mixed at rolls 1, 5, 9, 13.

    Roll 1: one pack, 500 + 200 for sending. 60 g left, so roll 5 buys nothing. At roll 9 20 g are left: a second pack,
    700 more. 80 g left: roll 13 buys nothing.
    """
    assert spent(own(), 13) == [700] * 8 + [1400] * 5


@pytest.mark.parametrize(("is_open", "there"), [(True, 0), (False, 10)])
def test_a_pack_that_is_open_is_not_opened_again(is_open: bool, there: int) -> None:
    """Two months left of it, a month once opened: drawn for roll 3, the open one dies with its day, a closed one later.

    One roll a month: the shelf's day is that of roll 1, so that two months end with roll 3.
    """
    pack = Pack("salt", D(100), D(500), opened=MONTH)
    cupboard = Cupboard({"salt": pack}, ONE_A_MONTH, (Owned(pack, D(20), MONTH * 2, is_open),))
    assert cupboard.draw("salt", D(10), 3).short == 0
    assert D(10) - cupboard.draw("salt", D(10), 4).short == there


@pytest.mark.parametrize(("second", "gives"), [(4, 5), (5, 2)])
def test_a_pack_gives_all_it_holds_while_it_is_good(second: int, gives: int) -> None:
    """Opened for roll 1 and good for three more: what is left does roll 4, and is lost at roll 5."""
    assert _usable(Pack("water", D(5), D(400)), 3, [(1, D(2)), (second, D(2))]) == gives


def test_every_cent_is_accounted_for() -> None:
    """The same after 13 rolls: four batches at 40 g x 5 cents = 200 each.

    Used: three whole batches and a quarter of the fourth, 650. Standing: 150. Left in the pack: 200 g bought less 160
    drawn, 40 g, 200. Delivery: two orders, 400. Together 1400.
    """
    found = run(own(), ONE_A_MONTH, 13)
    assert found.parts() == SpendingSplit(used=D(650), standing=D(150), left=D(200), delivery=D(400))
    assert (found.mixed, found.thrown, found.orders) == ({"bath": 4}, {"bath": 0}, 2)


def test_a_batch_that_dies_is_poured_away_unfinished() -> None:
    """It keeps a month, at two rolls a month: rolls 1, 2 and 3 lie within it, so every batch serves 3 of its 4 rolls.

    Ten rolls: mixed at 1, 4, 7 and 10; the first three are poured away with a quarter, 50 cents, unused.
    """
    found = run(own(days=MONTH), D(2), 10)
    assert (found.mixed["bath"], found.thrown["bath"], found.lost["bath"]) == (4, 3, 150)
    assert found.parts() == SpendingSplit(used=D(500), poured=D(150), standing=D(150), left=D(200), delivery=D(400))


def test_an_opened_pack_that_is_past_its_keeping_is_bought_again() -> None:
    """Opened packs keep 3 months, at a roll a month: the pack of roll 1 is good at roll 4 and dead at roll 5.

    So rolls 1, 5 and 9 each buy a pack; 60 g, 300 cents, die twice.
    """
    found = run(own(opened=MONTH * 3), ONE_A_MONTH, 9)
    assert [int(one) for one in found.spent()] == [700] * 4 + [1400] * 4 + [2100]
    assert (found.parts().dead, found.parts().left) == (600, 300)


def test_bottles_sold_together_open_one_by_one() -> None:
    """Two bottles of 50 g for 500: a mix of 40 g opens the first; the second keeps sealed for a year.

    Opened bottles keep no month, so the 10 g left in each die; roll 5 opens the second without an order.
    """
    side = own(opened=D(1), sealed=MONTH * 12)
    two = replace(side.packs["salt"], holds=D(50), units=2)
    found = run(replace(side, packs={"salt": two}), ONE_A_MONTH, 9)
    assert [int(one) for one in found.spent()] == [700] * 8 + [1400]
    assert found.parts().dead == 100


def test_a_pack_without_recorded_keeping_keeps() -> None:
    assert run(own(), D("0.01"), 13).parts().dead == 0


def test_orders_of_one_day_to_one_seller_are_one_and_may_be_sent_free() -> None:
    """Two salts of 500 from one shop, free from 1000: together they reach it.

    The second roll needs one pack, below the least order of 600: a second pack is cheaper than any other way to reach
    it, and is sent free.
    """
    salts = {i: Pack(i, D(100), D(500), goods=D(500), seller="shop") for i in ("a", "b")}
    shop = {"shop": Terms(200, free_from=1000, minimum=600)}
    both = Bath("bath", D(1), None, (("a", D(100)), ("b", D(50))))
    found = run(Side((both,), salts, shop), ONE_A_MONTH, 2)
    assert [int(one) for one in found.spent()] == [1000, 2000]
    assert found.orders == 2


def test_a_bath_of_which_nothing_is_recorded_is_mixed_with_the_first_to_give_out() -> None:
    """The second bath has no capacity: new at rolls 1, 5 and 9 with the first, at 40 g each of 5 cents a gram."""
    side = own()
    stop = Bath("stop", None, None, (("salt", D(40)),))
    found = run(replace(side, baths=(stop, *side.baths)), ONE_A_MONTH, 9)
    assert found.mixed == {"stop": 3, "bath": 3}
    assert found.parts().used == 3 * 400 - 300


def test_metered_water_is_paid_by_the_mix() -> None:
    side = own()
    wet = replace(side.baths[0], metered=D("0.4"))
    found = run(replace(side, baths=(wet,)), ONE_A_MONTH, 5)
    assert found.spent()[-1] == D("700.8")


def test_a_batch_that_does_less_than_a_roll_is_mixed_several_times() -> None:
    """0.4 rolls a batch: three batches of 40 g for each roll, two packs and 200 for sending."""
    side = own()
    found = run(replace(side, baths=(replace(side.baths[0], does=D("0.4")),)), ONE_A_MONTH, 2)
    assert found.mixed["bath"] == 6
    assert [int(one) for one in found.spent()] == [1200, 1900]


def test_a_kit_is_bought_whole_and_dies_whole() -> None:
    """8 rolls, or 2 months at a roll a month: rolls 1 to 3, then a new one for 3600."""
    found = run(kit(), ONE_A_MONTH, 6)
    assert [int(one) for one in found.spent()] == [3600] * 3 + [7200] * 3
    # 3 of 8 rolls of 3000 cents used of the first, as many of the second, which still stands.
    assert found.parts() == SpendingSplit(used=D(2250), poured=D(1875), standing=D(1875), delivery=D(1200))


def test_film_that_waits_for_a_session_uses_the_kit_up() -> None:
    """Eight rolls gathered do a kit in a day: 3600 for each eight, though it keeps but two months."""
    assert spent(kit(), 16, gather=8) == [3600] * 8 + [7200] * 8
    assert run(kit(), ONE_A_MONTH, 16, 8).thrown == {"kit": 0}


def test_the_last_session_may_be_smaller() -> None:
    """Ten rolls in sessions of 4 with a bath that keeps no week: mixed for 4, 4 and 2."""
    found = run(own(days=D(7)), ONE_A_MONTH, 10, 4)
    assert (found.mixed["bath"], found.thrown["bath"]) == (3, 0)
    assert found.parts().standing == 100


def water(**shelf: Decimal) -> Side:
    """A bath that takes 2 L for each roll: 5 L at 400, or 20 L at 1000; once opened it keeps no month."""
    day = D(1)
    packs = {
        "small": Pack("small", D(5), D(400), goods=D(400), seller="shop", opened=day, pool="water"),
        "large": Pack("large", D(20), D(1000), goods=D(1000), seller="shop", opened=day, pool="water"),
    }
    owned = tuple(Owned(Pack(i, D(5), D(300), opened=day, pool="water"), left) for i, left in shelf.items())
    return Side((Bath("bath", D(1), None, (("water", D(2)),)),), packs, {"shop": Terms(200)}, owned)


def test_a_year_is_ordered_at_once_in_bottles_that_are_used_before_they_die() -> None:
    """Four rolls a month apart: one 20 L bottle would do, but dies when opened; four of 5 L, 1600 and 200 for sending.

    The next four are ordered with the fifth roll.
    """
    found = run(water(), ONE_A_MONTH, 8, ahead=Ahead(4, 4))
    assert [int(one) for one in found.spent()] == [1800] * 4 + [3600] * 4
    assert (found.packs, found.orders) == ({"small": 8}, 2)
    # Without ageing 20 L hold all sixteen.
    assert int(run(water().lasting, ONE_A_MONTH, 8, ahead=Ahead(8, 8)).spent()[-1]) == 1200


def test_the_shelf_comes_first_and_counts_as_it_was_paid() -> None:
    """A closed bottle of 5 L paid 300: its 2 L for the first roll are 120; its rest dies and was never paid here."""
    found = run(water(jar=D(5)), ONE_A_MONTH, 2, ahead=Ahead(2, 2))
    assert [int(one) for one in found.spent()] == [120, 720]
    assert (found.owned, found.parts().dead, found.packs) == (120, 0, {"small": 1})


def test_a_sum_is_the_same_however_far_the_film_goes_on() -> None:
    """Film of the plan ends its own session: what is paid up to there does not change with what comes after."""
    side = own(days=D(7))
    assert run(side, ONE_A_MONTH, 6, 4, Ahead(6, 6)).spent() == run(side, ONE_A_MONTH, 20, 4, Ahead(6, 6)).spent()[:6]


@pytest.mark.parametrize(
    ("days", "rate", "later"), [("14", "3", 1), ("60.87375", "1.5", 3), ("60.8", "1.5", 2), ("0", "8", 0)]
)
def test_a_keeping_time_in_rolls_is_exact_at_its_end(days: str, rate: str, later: int) -> None:
    """Two months are 60.87375 days: at 1.5 rolls a month the third roll after comes on the very last day."""
    assert rolls_within(D(days), D(rate)) == later


def test_litre_for_litre_nothing_grows_old() -> None:
    """Batches of half a litre from the kit of 1 L: a kit for two; from the salt 40 g each, two to a pack of 100 g."""
    assert spent(one_by_one(kit(days=D(1)), D("0.5")), 4, D(1)) == [3600, 3600, 7200, 7200]
    assert spent(one_by_one(own(days=D(1), opened=D(1)), D("0.5")), 3, D(1)) == [700, 700, 1400]


def test_crossings_are_all_named_and_the_last_one_holds() -> None:
    """Mixing 700, 700, 1400, 1400; kit 360, 720, 1080, 1440: mixing is cheaper at the second, and from the fourth."""
    mixing, bought = [D(700), D(700), D(1400), D(1400)], [D(360), D(720), D(1080), D(1440)]
    assert crossings(mixing, bought) == (Crossing(1, False), Crossing(2, True), Crossing(3, False), Crossing(4, True))
    assert stays_cheaper(mixing, bought) == 4
    assert stays_cheaper(bought, mixing) is None


def test_equal_sums_change_nothing() -> None:
    assert crossings([D(5), D(5)], [D(5), D(6)]) == (Crossing(2, True),)
    assert stays_cheaper([D(5), D(5)], [D(6), D(5)]) is None
    # Less than a cent apart is shown, and counted, as equal.
    assert stays_cheaper([D("5.1")], [D("5.4")]) is None


@pytest.mark.parametrize(
    ("mixing", "bought", "part", "bath"),
    [
        # Eight rolls. Mixed: 8 batches of 40 g, 3 of 4 rolls poured away. Bought: 8 kits of 3000, used up.
        (own(days=D(1)), kit(does=1), "used", ""),
        # A batch of 100 g for each roll, 3 of 4 rolls of it poured away, against 25 g for each roll.
        (own(days=D(1), takes=100), own(does=1, takes=25), "poured", "bath"),
        # 10 g a roll against 1 g a roll, of one pack each.
        (own(does=1, takes=10), own(does=1, takes=1), "used", ""),
    ],
)
def test_the_reason_is_the_part_that_differs_most(mixing: Side, bought: Side, part: str, bath: str) -> None:
    reason = decisive(run(mixing, ONE_A_MONTH, 8), run(bought, ONE_A_MONTH, 8))
    assert (reason.part, reason.bath) == (part, bath)


def test_packs_larger_than_needed_are_the_reason_of_a_single_roll() -> None:
    """One roll: 475 of 500 cents stay in the pack; the other way a pack holds just what is needed."""
    small = own(does=1, takes=5)
    fitting = replace(small, packs={"salt": Pack("salt", D(5), D(25), seller="shop")})
    reason = decisive(run(small, ONE_A_MONTH, 1), run(fitting, ONE_A_MONTH, 1))
    assert (reason.part, reason.own, reason.other) == ("left", 475, 0)


sides = st.builds(
    own,
    does=st.integers(1, 12),
    days=st.none() | st.integers(0, 400).map(D),
    takes=st.integers(1, 250),
    opened=st.none() | st.integers(0, 800).map(D),
    sealed=st.none() | st.integers(0, 800).map(D),
)
kits = st.builds(kit, does=st.integers(1, 16), days=st.integers(0, 120).map(D))
rates = st.sampled_from([D("0.25"), D("0.5"), D(1), D(2), D(3), D(5), D(8)])
counts = st.integers(1, 40)
gathers = st.integers(1, 9)


@given(sides | kits, rates, counts, gathers)
def test_spending_never_falls_and_every_cent_has_a_part(side: Side, rate: Decimal, rolls: int, gather: int) -> None:
    found = run(side, rate, rolls, gather)
    assert len(found.spent()) == rolls
    assert list(found.spent()) == sorted(found.spent())
    assert abs(found.parts().total - found.spent()[-1]) < D("1e-15")
    assert all(value >= 0 for value in (found.parts().poured, found.parts().left, found.parts().dead))


aheads = st.builds(Ahead, first=st.integers(1, 40), later=st.integers(1, 20))


@given(sides | kits, rates, counts, counts, gathers, aheads)
def test_what_a_plan_pays_is_a_row_of_the_picture(
    side: Side, rate: Decimal, first: int, more: int, gather: int, ahead: Ahead
) -> None:
    """Sums only grow, and the sum at the plan's end is the same whether the film goes on or not."""
    ordered = replace(ahead, first=first)
    plan, picture = run(side, rate, first, gather, ordered), run(side, rate, first + more, gather, ordered)
    assert list(picture.spent()) == sorted(picture.spent())
    assert plan.spent() == picture.spent()[:first]
    assert abs(picture.parts().total - picture.spent()[-1]) < D("1e-15")


@given(sides | kits, rates, counts, gathers)
def test_half_the_prices_is_half_of_everything(side: Side, rate: Decimal, rolls: int, gather: int) -> None:
    half = Side(
        side.baths,
        {i: replace(pack, price=pack.price / 2) for i, pack in side.packs.items()},
        {i: replace(terms, delivery=terms.delivery // 2) for i, terms in side.sellers.items()},
    )
    whole, halved = run(side, rate, rolls, gather), run(half, rate, rolls, gather)
    assert halved.spent() == whole.spent(D("0.5"), D("0.5"))
    assert abs(halved.parts().poured - whole.parts().poured / 2) < D("1e-15")


@given(st.integers(1, 16), st.integers(0, 120), rates, counts, gathers)
def test_a_kit_that_keeps_is_never_dearer(does: int, days: int, rate: Decimal, rolls: int, gather: int) -> None:
    short, ever = kit(does, D(days)), kit(does, None)
    pairs = zip(run(ever, rate, rolls, gather).spent(), run(short, rate, rolls, gather).spent(), strict=True)
    assert all(keeping <= dying for keeping, dying in pairs)


@given(sides | kits, rates, rates, counts)
def test_more_film_a_month_never_wastes_more_batches(side: Side, one: Decimal, other: Decimal, rolls: int) -> None:
    """Over the same rolls: a batch serves more of them before it dies. Followed to the end of the last batch."""
    slow, fast = (run(side, rate, rolls) for rate in sorted((one, other)))
    assert sum(fast.mixed.values()) <= sum(slow.mixed.values())
    assert _wasted(fast) <= _wasted(slow)


def _wasted(found: Run) -> Decimal:
    """What was poured away, and what of the last batch might be."""
    parts = found.parts()
    return parts.poured + parts.standing


@given(sides, counts)
def test_a_batch_used_up_in_one_session_never_dies(side: Side, rolls: int) -> None:
    does = side.baths[0].does
    assert does is not None
    assert run(side, D("0.25"), rolls, int(does)).thrown == {"bath": 0}


def test_what_several_chemicals_of_a_bath_cost_is_all_in_its_batch() -> None:
    """40 g of salt at 5 cents and 20 g of soda at 15 are 200 and 300 a batch of 4 rolls: six rolls use 750.

    Two batches: 250 stand in the second. Left of the two packs: 20 g of salt, 100, and 60 g of soda, 900.
    """
    one = own()
    soda = Pack("soda", D(100), D(1500), goods=D(1500), seller="shop")
    side = replace(
        one,
        baths=(Bath("bath", D(4), None, (("salt", D(40)), ("soda", D(20)))),),
        packs={**one.packs, "soda": soda},
    )
    found = run(side, ONE_A_MONTH, 6)
    assert found.parts() == SpendingSplit(used=D(750), standing=D(250), left=D(1000), delivery=D(200))
    assert found.spent()[-1] == found.parts().total == 2200


@pytest.mark.parametrize(
    ("keeps", "is_open", "bought"),
    [
        (None, True, 0),
        (MONTH * 3, True, 1),
        (MONTH * 4, True, 0),
        (None, False, 0),
    ],
)
def test_a_pack_on_the_shelf_serves_as_long_as_it_keeps(keeps: Decimal | None, is_open: bool, bought: int) -> None:
    """80 g on the shelf are two batches of four rolls, mixed at rolls 1 and 5: four months later, at a roll a month."""
    side = own()
    shelf = (Owned(side.packs["salt"], D(80), keeps, is_open),)
    found = run(replace(side, shelf=shelf), ONE_A_MONTH, 8)
    assert (found.packs.get("salt", 0), found.owned) == (bought, 400 if not bought else 200)
