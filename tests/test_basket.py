"""The cheapest basket: against brute force, and against cases worked by hand."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reckoner.calc.buying.basket import Basket, basket_of, cheapest
from reckoner.calc.buying.basket_task import WHOLE, PackOption, Task
from reckoner.calc.buying.few_sellers import MOST_SELLERS
from reckoner.calc.buying.programme import Model, most_packs
from reckoner.calc.buying.terms import Terms


def offer(name: str, pool: str, gives: float, price: int, listed: int | None = None) -> PackOption:
    """``seller/pack`` with a share of a pool and a price."""
    return PackOption(name, name.split("/")[0], pool, int(gives * WHOLE), price, price if listed is None else listed)


def enough(task: Task, packs: dict[str, int]) -> bool:
    given = dict.fromkeys(task.pools, 0)
    for choice in task.choices:
        given[choice.pool] += choice.gives * packs[choice.id]
    return all(given[pool] >= left for pool, left in task.pools.items())


def ordered(task: Task, packs: dict[str, int]) -> bool:
    listed: dict[str, int] = {}
    for choice in task.choices:
        if packs[choice.id]:
            listed[choice.seller] = listed.get(choice.seller, 0) + packs[choice.id] * choice.listed
    return all(sum_ >= task.terms[seller].minimum for seller, sum_ in listed.items())


def brute(task: Task, most_sellers: int | None = None) -> list[Basket]:
    """Every cheapest basket, by trying all."""
    ranges = [range(most_packs(c, task.pools[c.pool], task.terms[c.seller]) + 1) for c in task.choices]
    best: list[Basket] = []
    for counts in product(*ranges):
        packs = {c.id: n for c, n in zip(task.choices, counts, strict=True)}
        if not enough(task, packs) or not ordered(task, packs):
            continue
        basket = basket_of(packs, task)
        if most_sellers is not None and len(basket.goods) > most_sellers:
            continue
        if not best or basket.total < best[0].total:
            best = [basket]
        elif basket.total == best[0].total:
            best.append(basket)
    return best


@st.composite
def tasks(draw: st.DrawFn) -> Task:
    """Up to three pools, three sellers, five offers: small enough to try every basket."""
    pools = draw(st.integers(1, 3))
    sellers = [f"s{i}" for i in range(draw(st.integers(1, 3)))]
    choices = []
    for index in range(draw(st.integers(1, 5))):
        seller, pool = draw(st.sampled_from(sellers)), f"p{draw(st.integers(0, pools - 1))}"
        # Shares of a half and up keep the number of packs, and so of baskets, small.
        gives = draw(st.integers(WHOLE // 2, 2 * WHOLE))
        price = draw(st.integers(200, 3000))
        choices.append(PackOption(f"{seller}/{index}", seller, pool, gives, price, draw(st.integers(150, 3000))))
    terms = {
        seller: Terms(
            draw(st.integers(0, 900)),
            draw(st.one_of(st.none(), st.integers(500, 5000))),
            draw(st.sampled_from([0, 0, 400, 900])),
        )
        for seller in sellers
    }
    demand = {f"p{i}": draw(st.sampled_from([WHOLE, WHOLE // 3, 0])) for i in range(pools)}
    # What the plan does not need is never bought, not for a threshold either.
    return Task(demand, tuple(choice for choice in choices if demand[choice.pool]), terms)


def small(task: Task) -> bool:
    size = 1
    for choice in task.choices:
        size *= most_packs(choice, task.pools[choice.pool], task.terms[choice.seller]) + 1
    return size <= 20_000


@settings(max_examples=300, deadline=None)
@given(tasks())
def test_the_solver_agrees_with_trying_everything(task: Task) -> None:
    if not small(task):
        return
    possible = all(any(c.pool == p for c in task.choices) for p, left in task.pools.items() if left)
    best = brute(task) if possible else []
    found = cheapest(task)
    assert (found is None) == (not best)
    if found is not None:
        assert found.total == best[0].total
        packs = {c.id: found.packs.get(c.id, 0) for c in task.choices}
        assert enough(task, packs)
        assert ordered(task, packs)
        assert sum(found.packs.values()) == min(sum(b.packs.values()) for b in best)


@settings(max_examples=60, deadline=None)
@given(tasks())
def test_with_one_seller_only(task: Task) -> None:
    possible = all(any(c.pool == p for c in task.choices) for p, left in task.pools.items() if left)
    if not small(task) or not possible:
        return
    best, found = brute(task, 1), cheapest(task, 1)
    assert (found is None) == (not best)
    assert found is None or (found.total == best[0].total and len(found.goods) <= 1)


@settings(max_examples=40, deadline=None)
@given(tasks(), st.randoms())
def test_the_order_of_the_offers_changes_nothing(task: Task, random: st.random.Random) -> None:  # type: ignore[name-defined]
    mixed = list(task.choices)
    random.shuffle(mixed)
    assert cheapest(task) == cheapest(Task(task.pools, tuple(mixed), task.terms))


@st.composite
def larger(draw: st.DrawFn) -> Task:
    """Too much to try everything: up to seven pools, four sellers and forty offers, limits near what is bought."""
    pools, sellers = draw(st.integers(1, 7)), draw(st.integers(1, 4))
    choices = []
    for pool in range(pools):
        for pack in range(draw(st.integers(1, 6))):
            seller, gives = f"s{draw(st.integers(0, sellers - 1))}", draw(st.integers(WHOLE // 20, 2 * WHOLE))
            listed = draw(st.integers(150, 3000))
            price = listed * 119 // 100 if draw(st.booleans()) else draw(st.integers(200, 3000))
            choices.append(PackOption(f"{seller}/{pool}/{pack}", seller, f"p{pool}", gives, price, listed))
    limits = st.none() | st.integers(500, 15000)
    terms = {
        f"s{i}": Terms(draw(st.integers(0, 900)), draw(limits), draw(st.sampled_from([0, 0, 900, 4000])))
        for i in range(sellers)
    }
    return Task({f"p{i}": draw(st.sampled_from([WHOLE, WHOLE // 3])) for i in range(pools)}, tuple(choices), terms)


@given(larger(), st.none() | st.integers(1, 3))
def test_what_is_proven_without_the_solver_is_what_it_finds(task: Task, most_sellers: int | None) -> None:
    model = Model(task, most_sellers)
    best = basket_of(model.bought(), task) if model.solve() else None
    found = cheapest(task, most_sellers)
    assert (found is None) == (best is None)
    if found is not None and best is not None:
        assert (found.total, sum(found.packs.values())) == (best.total, sum(best.packs.values()))
        assert most_sellers is None or len(found.goods) <= most_sellers
        packs = {c.id: found.packs.get(c.id, 0) for c in task.choices}
        assert enough(task, packs)
        assert ordered(task, packs)


def test_more_sellers_than_are_gone_through_go_to_the_solver() -> None:
    """Each sells the one thing, a cent dearer than the one before."""
    names = [f"s{i}" for i in range(MOST_SELLERS + 1)]
    task = Task({"a": WHOLE}, tuple(offer(f"{s}/a", "a", 1, 500 + i) for i, s in enumerate(names)), {})
    assert cheapest(task) == Basket({"s0/a": 1}, {"s0": 500}, {"s0": 0})


def test_two_small_packs_against_one_big() -> None:
    """Needed: two halves. Two small at 5.00 are 10.00, the big one at 9.50 is less; at 10.50 it is more."""
    small_pack = offer("s/small", "a", 0.5, 500)
    task = Task({"a": WHOLE}, (small_pack, offer("s/big", "a", 2.5, 950)), {"s": Terms()})
    assert cheapest(task) == Basket({"s/big": 1}, {"s": 950}, {"s": 0})
    task = Task({"a": WHOLE}, (small_pack, offer("s/big", "a", 2.5, 1050)), {"s": Terms()})
    assert cheapest(task) == Basket({"s/small": 2}, {"s": 1000}, {"s": 0})


def test_an_addition_that_reaches_free_delivery_and_pays() -> None:
    """18.00 of goods and 6.90 of delivery are 24.90; one pack more at 2.00 reaches 20.00: 20.00, delivered free."""
    task = Task(
        {"a": WHOLE, "b": WHOLE}, (offer("s/a", "a", 1, 1600), offer("s/b", "b", 1, 200)), {"s": Terms(690, 2000)}
    )
    assert cheapest(task) == Basket({"s/a": 1, "s/b": 2}, {"s": 2000}, {"s": 0})


def test_an_addition_that_reaches_free_delivery_and_does_not_pay() -> None:
    """12.00 and 3.00 of delivery are 15.00; to reach 20.00 takes 8.00 or more."""
    task = Task({"a": WHOLE}, (offer("s/a", "a", 1, 1200),), {"s": Terms(300, 2000)})
    assert cheapest(task) == Basket({"s/a": 1}, {"s": 1200}, {"s": 300})


def test_a_minimum_order_sends_the_buyer_elsewhere_or_makes_him_buy_more() -> None:
    """8.00 is under the minimum of 15.00: two packs there are 16.00, the dearer shop asks 11.00."""
    cheap, dear = offer("s/a", "a", 1, 800), offer("t/a", "a", 1, 1100)
    terms = {"s": Terms(minimum=1500), "t": Terms()}
    assert cheapest(Task({"a": WHOLE}, (cheap, dear), terms)) == Basket({"t/a": 1}, {"t": 1100}, {"t": 0})
    assert cheapest(Task({"a": WHOLE}, (cheap,), terms)) == Basket({"s/a": 2}, {"s": 1600}, {"s": 0})


def test_forms_mixed_in_one_pool() -> None:
    """A monohydrate pack gives 0.6 of the need at 4.00, an anhydrous one 0.5 at 3.00: one of each are 7.00; two
    monohydrate 8.00, two anhydrous 6.00."""
    mono, dry = offer("s/mono", "carbonate", 0.6, 400), offer("s/dry", "carbonate", 0.5, 300)
    assert cheapest(Task({"carbonate": WHOLE}, (mono, dry), {"s": Terms()})) == Basket(
        {"s/dry": 2}, {"s": 600}, {"s": 0}
    )
    dry = offer("s/dry", "carbonate", 0.45, 300)
    found = cheapest(Task({"carbonate": WHOLE}, (mono, dry), {"s": Terms()}))
    assert found == Basket({"s/dry": 1, "s/mono": 1}, {"s": 700}, {"s": 0})


def test_delivery_brings_an_order_together() -> None:
    """Apart 4.00 + 4.00 and twice 5.00 of delivery are 18.00; together 4.00 + 6.00 + 5.00 are 15.00."""
    choices = (offer("s/a", "a", 1, 400), offer("t/b", "b", 1, 400), offer("s/b", "b", 1, 600))
    found = cheapest(Task({"a": WHOLE, "b": WHOLE}, choices, {"s": Terms(500), "t": Terms(500)}))
    assert found == Basket({"s/a": 1, "s/b": 1}, {"s": 1000}, {"s": 500})


def test_a_third_of_the_need_thrice_is_the_need() -> None:
    third = PackOption("s/a", "s", "a", -(-WHOLE // 3), 100, 100)
    assert cheapest(Task({"a": WHOLE}, (third,), {"s": Terms()})) == Basket({"s/a": 3}, {"s": 300}, {"s": 0})


def test_nothing_for_sale_and_nothing_needed() -> None:
    assert cheapest(Task({"a": WHOLE}, (), {})) is None
    assert cheapest(Task({"a": 0}, (), {})) == Basket({}, {}, {})


@pytest.mark.parametrize("names", [("s/a", "s/b"), ("s/b", "s/a")])
def test_equal_baskets_are_told_apart_by_name(names: tuple[str, str]) -> None:
    choices = tuple(offer(name, "a", 1, 500) for name in names)
    assert cheapest(Task({"a": WHOLE}, choices, {"s": Terms()})) == Basket({"s/a": 1}, {"s": 500}, {"s": 0})
