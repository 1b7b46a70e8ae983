"""A film is never divided: how many whole films a batch takes in the owner's tanks, worked by hand; and the same in
plan, comparison and sessions."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reckoner.calc.film.bath_life import Stream, batches_for, sessions_of
from reckoner.calc.film.mixed_bath import Bath
from reckoner.calc.film.whole_films import Piece, Tankful, tankful
from reckoner.calc.results import Results
from reckoner.records.settings import Tank, TankLoad
from reckoner.units import Amount
from small import SETTINGS, SOURCE, chemical, formula, process, results, supplier

D = Decimal
#: 50 ft of super 8 have the area of 2.355 rolls of 80 square inches.
SUPER8 = Piece("super8", D("2.355"))
STILL = Piece("still", D(1))


def tank(millilitres: int, **holds: int) -> Tank:
    held = tuple(TankLoad(format=name, count=count) for name, count in holds.items())
    return Tank(name=f"tank {millilitres}", volume=Amount(D(millilitres), "mL"), holds=held)


ONE_REEL, TWO_REELS, CINE = tank(300, still=1), tank(600, still=2), tank(1000, super8=1)


@pytest.mark.parametrize(
    ("piece", "does", "once", "litres", "tanks", "films", "at_once"),
    [
        # Used once, 250 mL a roll: the cine tank takes the litre, and a litre does 1.7 of them by area: one.
        (SUPER8, 4, True, 1, (CINE,), 1, 1),
        # Half a litre does not fill it: two batches together, one film.
        (SUPER8, 4, True, "0.5", (CINE,), 1, 2),
        # A litre fills the tank of 300 mL three times, though it could do four rolls.
        (STILL, 4, True, 1, (ONE_REEL, TWO_REELS), 3, 1),
        # Only the tank of 600 mL: one filling, two rolls; the rest does not fill it again.
        (STILL, 4, True, 1, (TWO_REELS,), 2, 1),
        # 1 roll for 300 mL: 1 / 0.3 is cut short, and the tank of 300 mL does one roll all the same.
        (STILL, 1 / D("0.3"), True, 1, (ONE_REEL,), 3, 1),
        # Used again, 15 rolls: 15 / 2.355 = 6.4, six films one after another.
        (SUPER8, 15, False, 1, (CINE,), 6, 1),
        # No tank for it: by what the bath does alone.
        (SUPER8, 4, True, 1, (ONE_REEL,), 1, 1),
        # A film that needs more than a batch: 9.42 rolls at 4 a litre, three litres.
        (Piece("16mm", D("9.42")), 4, False, 1, (), 1, 3),
    ],
)
def test_whole_films_in_a_batch(
    piece: Piece, does: Decimal, once: bool, litres: Decimal, tanks: tuple[Tank, ...], films: int, at_once: int
) -> None:
    found = tankful(piece, D(does), once, D(litres), tanks)
    batch = D(does) * D(litres)
    assert found.at_once(batch) == at_once
    assert found.whole_films(batch * at_once) == films


def bath(does: int, once: bool, *tanks: Tank, days: int | None = None) -> Bath:
    fulls = {one.format: tankful(one, D(does), once, D(1), tanks) for one in (SUPER8, STILL)}
    return Bath("bath", D(does), None if days is None else D(days), once=once, tankfuls=fulls)


@pytest.mark.parametrize(
    ("films", "once", "batches"),
    [
        # 18 cartridges, a litre each: 18, where 18 × 2.355 / 4 would be 11.
        ((SUPER8,) * 18, True, 18),
        # Used again, 4 rolls a litre still do one whole film.
        ((SUPER8,) * 18, False, 18),
        # Ten rolls, three tankfuls of 300 mL a litre.
        ((STILL,) * 10, True, 4),
        ((STILL,) * 10, False, 3),
        # A litre for each cartridge, and two rolls together in a third.
        ((SUPER8, STILL, SUPER8, STILL), True, 3),
        # Used again, a roll goes in beside each cartridge: 3.355 of 4.
        ((SUPER8, STILL, SUPER8, STILL), False, 2),
    ],
)
def test_batches_of_a_session(films: tuple[Piece, ...], once: bool, batches: int) -> None:
    assert batches_for(bath(4, once, CINE, ONE_REEL), films) == batches


def test_two_films_together_are_one_load_and_on_two_days_two() -> None:
    """The tank of 600 mL takes two rolls at once: a litre for two on one day, a litre each on two days."""
    baths = (bath(4, True, TWO_REELS),)
    together = sessions_of(Stream(baths, D(1), 2, 2, 2, (STILL,)))
    apart = sessions_of(Stream(baths, D(1), 2, 1, 2, (STILL,)))
    assert [sum(mix.count for one in days for mix in one.mixes) for days in (together, apart)] == [1, 2]


pieces = st.lists(st.sampled_from([SUPER8, STILL]), min_size=1, max_size=12).map(tuple)


@given(pieces, st.integers(1, 12), st.booleans(), st.integers(1, 12), st.none() | st.integers(0, 60))
def test_batches_hold_whole_loads(
    films: tuple[Piece, ...], does: int, once: bool, gather: int, days: int | None
) -> None:
    """No batch does more than it can, none holds a part of a film, and every film goes through."""
    used = bath(does, once, CINE, TWO_REELS, days=days)
    found = [
        mix for one in sessions_of(Stream((used,), D(2), len(films), gather, len(films), films)) for mix in one.mixes
    ]
    assert all(mix.taken <= mix.does + D("1e-9") for mix in found)
    litres = sum(mix.count for mix in found)
    assert litres * does >= sum(piece.rolls for piece in films) - D("1e-9")
    if once:
        # A litre for every cartridge, whatever the bath could do.
        assert litres >= films.count(SUPER8)


FILMS = f"""formats:
  - {{id: super8, name: super 8, length: 50 ft, width: 7.976 mm, {SOURCE}}}
  - {{id: still, name: still, length: 1630 mm, width: 35 mm, counts_as: 1, {SOURCE}}}
"""
TANKS = (
    "tanks:\n  - {name: reel, volume: 300 mL, holds: [{format: still, count: 1}]}\n"
    "  - {name: cine, volume: 1 L, holds: [{format: super8, count: 1}]}\n"
)


def handbook(
    films: str, first: str = "1 L", wait: str = "3 months", fixer: str = "15-20 rolls", keeps: int = 14
) -> Results:
    """A developer for 4 rolls, used once, and a fixer that is used again; a kit beside them."""
    once = "{does: 4 rolls, per: 1 L, once: yes, certainty: common practice}"
    keeping = f"keeping: [{{state: part-full bottle, time: {keeps} days, certainty: common practice}}]\n"
    salt = "[{chemical: salt, form: solid, amount: 100 g}]"
    return results(
        {
            "settings.yml": SETTINGS.replace("first_batch: 1 L", f"first_batch: {first}") + TANKS,
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
            "solutions/dev.yml": formula("dev", salt, "colour developer", f"capacity: [{once}]\n{keeping}"),
            "solutions/fix.yml": formula(
                "fix", salt, more=f"capacity: [{{does: {fixer}, per: 1 L, certainty: common practice}}]\n{keeping}"
            ),
            "solutions/stop.yml": formula("stop", salt, "stop bath"),
            "processes/pr.yml": process("dev", "stop", "fix"),
            "film_formats.yml": FILMS,
            "prices/shop/supplier.yml": supplier(),
            "prices/shop/2026-11-01.yml": "date: 2026-11-01\noffers:\n"
            "  - {chemical: salt, form: solid, pack: 1 kg, price: 5.00 EUR}\n",
            "kits/ready.yml": "id: ready\nname: Ready-made\nkind: kit\nprocess: pr\nprice: 30 EUR\nmakes: 1 L\n"
            f"does: 8-12 rolls\nmixed: 1-2 months\nday: 2026-11-01\ninvented: yes\n{SOURCE}\n",
            "plans/p.yml": f"id: p\nname: a plan\nover: 12 months\nwait: {wait}\ncompare: [ready]\n"
            f"wants: [{{process: pr, films: [{films}]}}]\n",
        }
    )


def litres(found: Results) -> dict[str, Decimal]:
    return {one.formula: one.litres for one in found.plans["p"].bought.baths}


def test_a_cartridge_takes_a_litre_in_plan_and_comparison() -> None:
    """18 cartridges: 18 L of developer, and of the stop bath that is mixed with it; fixer by sessions of 4 (a quarter).

    Four films of the fixer's six on one day, dead for the next after two weeks: 18 / 4, five batches.
    """
    found = handbook("{format: super8, count: 18}")
    assert litres(found) == {"dev": 18, "stop": 18, "fix": 5}
    (comparison,) = found.comparisons["p"]
    assert comparison.own is not None and comparison.own.plan is not None
    assert comparison.own.plan.mixed == {"dev": 18, "stop": 18, "fix": 5}
    assert (comparison.question.rolls, comparison.question.in_rolls) == (18, False)
    # A kit does 8 rolls, three cartridges: 18 / 3.
    assert comparison.alternatives[0].plan is not None
    assert comparison.alternatives[0].plan.mixed == {"ready": 6}


def test_ten_rolls_are_four_litres_in_plan_and_comparison() -> None:
    """Three tankfuls of 300 mL a litre: 3 + 3 + 3 + 1 where all may wait for one day."""
    found = handbook("{format: still, count: 10}", wait="12 months")
    assert litres(found)["dev"] == 4
    assert found.comparisons["p"][0].own is not None
    assert found.comparisons["p"][0].own.plan is not None
    assert found.comparisons["p"][0].own.plan.mixed["dev"] == 4


counts = st.tuples(st.integers(0, 30), st.integers(0, 30)).filter(any)


@settings(max_examples=25, deadline=None)
@given(
    counts,
    st.sampled_from(["500 mL", "1 L"]),
    st.sampled_from(["1 weeks", "3 months", "12 months"]),
    st.sampled_from(["1-2 rolls", "3.3 rolls", "15-20 rolls"]),
    st.sampled_from([1, 14, 400]),
)
def test_plan_and_comparison_mix_the_same_batches(
    wanted: tuple[int, int], first: str, wait: str, fixer: str, keeps: int
) -> None:
    films = ", ".join(
        f"{{format: {name}, count: {count}}}" for name, count in zip(("super8", "still"), wanted, strict=True) if count
    )
    found = handbook(films, first, wait, fixer, keeps)
    (comparison,) = found.comparisons["p"]
    assert comparison.own is not None and comparison.own.plan is not None
    baths = found.plans["p"].bought.baths
    assert {one.formula: one.batches for one in baths} == comparison.own.plan.mixed
    # The developer is poured away: a litre for each cartridge, 300 mL for each roll.
    assert litres(found)["dev"] >= wanted[0] + D("0.3") * wanted[1]


def test_very_much_film_is_counted_in_parts() -> None:
    """9,999 rolls in parts of 2,000 at most are enough: three to a litre, and no litre more than a part's last."""
    found = litres(handbook("{format: still, count: 9999}", wait="12 months"))
    assert 3333 <= found["dev"] <= 3333 + 5


def test_a_tankful_of_nothing_recorded_fills_the_tank() -> None:
    assert Tankful(batches=2).at_once(D(20)) == 2
