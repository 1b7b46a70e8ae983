"""Times, capacities and replenishment against printed rules and tables; each names its source and how it is known."""

from __future__ import annotations

from decimal import Decimal

import pytest

from outside import decimals
from reckoner.calc.film.capacity import Doing, rolls_of
from reckoner.calc.film.film import TRADE_UNIT_SQ_IN, area_m2, area_sq_in
from reckoner.calc.film.films_per_litre import rates, reach
from reckoner.calc.film.times import next_time, temperature_table, time_at, time_table
from reckoner.problems import ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.settings import FilmFormat
from reckoner.records.use import OtherTemperatures, Reuse

D = Decimal


def film(demo: Catalogue, format_id: str) -> FilmFormat:
    assert demo.film_formats is not None
    return next(one for one in demo.film_formats.formats if one.id == format_id)


def clock(seconds: Decimal) -> str:
    minutes, rest = divmod(int(seconds), 60)
    return f"{minutes}:{rest:02d}"


def test_ten_per_cent_more_for_each_film_done() -> None:
    """A French photographic course, text read: a tenth more after each film; the figures for 7:30 are worked out."""
    rule = Reuse.model_validate({"add": "10 %", "time": "7:30", "most": "10", "certainty": "common practice"})
    times = [clock(time.low) for _, time in time_table(rule)]
    assert times[:5] == ["7:30", "8:15", "9:00", "9:45", "10:30"]
    assert len(times) == 10
    assert next_time(rule, D(10), D(1)).seconds is None
    second = next_time(rule, D(1), D(1))
    assert (second.rule, second.factor) == ("10 % more for each roll a litre has done", D("1.1"))


def test_a_tenth_holds_for_a_litre_not_for_the_bottle() -> None:
    """Two films in two litres count as one film in one."""
    rule = Reuse.model_validate({"add": "10 %", "time": "7:30", "most": "10", "certainty": "common practice"})
    assert next_time(rule, D(2), D(2)) == next_time(rule, D(1), D(1))


def test_colour_developer_by_its_table(demo: Catalogue) -> None:
    """Common practice, no single source: rolls 1 to 4 3:15, 5 to 8 3:30, 9 to 12 3:45."""
    rule = demo.formulas["c41-developer"].reuse
    assert rule is not None
    assert [clock(time.low) for _, time in time_table(rule)] == ["3:15"] * 4 + ["3:30"] * 4 + ["3:45"] * 4


#: t(T) = t(20) × 2.25 ** (-(T - 20) / 10), factors worked out beside the rule (from memory: 2.0 to 2.5 for MQ borax).
FACTORS = {18: "1.176", 19: "1.084", 20: "1.000", 21: "0.922", 22: "0.850", 23: "0.784", 24: "0.723"}


@pytest.mark.parametrize(("degrees", "factor"), FACTORS.items())
def test_time_at_another_temperature(degrees: int, factor: str) -> None:
    rule = OtherTemperatures.model_validate(
        {
            "factor": "2.25",
            "temperature": "20 °C",
            "time": "100:00",
            "lowest": "18 °C",
            "highest": "24 °C",
            "certainty": "from memory",
        }
    )
    # In whole quarters of a minute: within half of one of the exact figure.
    assert abs(time_at(rule, D(degrees)).low - D(factor) * 6000) <= D("7.5") + 3
    with pytest.raises(ValueFault, match="outside 18 to 24 °C"):
        time_at(rule, D(25))


def test_the_old_exponential_is_the_same_coefficient() -> None:
    """exp(-0.081 dT), as old tables state it, is a factor of 2.248 for 10 °C."""
    assert decimals((D("0.081") * 10).exp(), 3) == D("2.248")


def test_colour_developers_are_held(demo: Catalogue) -> None:
    for formula_id in ("ecn2-developer", "ecn2-developer-home", "c41-developer", "e6-first-developer"):
        rule = demo.formulas[formula_id].other_temperatures
        assert rule is not None
        with pytest.raises(ValueFault, match="no other temperature"):
            time_at(rule, D(38))


def test_a_published_table_has_nothing_between_its_rows() -> None:
    rule = OtherTemperatures.model_validate(
        {
            "table": [{"temperature": "68 °F", "time": "8:00"}, {"temperature": "75 °F", "time": "5:45"}],
            "certainty": "published",
        }
    )
    assert time_at(rule, D(20)).low == 480
    with pytest.raises(ValueFault, match="in no row"):
        time_at(rule, D(22))


def test_a_table_of_times_stays_inside_its_range() -> None:
    """65 °F is 18.3 °C and 75 °F 23.9 °C: whole degrees from 19 to 23 lie between them."""
    rule = OtherTemperatures.model_validate(
        {
            **{"factor": "2", "time": "6:00", "temperature": "68 °F", "lowest": "65 °F", "highest": "75 °F"},
            "certainty": "common practice",
        }
    )
    assert [at.low for at, _ in temperature_table(rule)] == [19, 20, 21, 22, 23]


def test_twelve_rolls_are_five_to_five_and_a_half_cartridges(demo: Catalogue) -> None:
    """Common practice: a litre of motion-picture developer does twelve rolls 135-36 or two to three runs of cartridges.

    By the trade's 80 square inches that is 5.1 cartridges of 50 ft, by the cut length of 135-36 5.6: two runs of two,
    or nearly three, so both rules of thumb agree with the area.
    """
    super8, roll = film(demo, "super8-50ft"), film(demo, "135-36")
    assert decimals(12 * TRADE_UNIT_SQ_IN / area_sq_in(super8), 1) == D("5.1")
    assert decimals(12 * area_m2(roll) / area_m2(super8), 1) == D("5.6")
    found = reach(Doing(D(12), D(12)), (super8, roll), demo.films)
    assert (found[0].cautious, found[0].by_area) == (D("5.0"), D("5.6"))
    assert (found[1].cautious, found[1].by_area) == (D("12.0"), None)
    assert 2 * 2 <= found[0].cautious < 3 * 2


#: mL for 100 ft, Process ECN-2 Specifications, from memory; 16 mm is printed as half (rule read in H-24.09 table 9-4).
ECN2 = {
    "ecn2-prebath": (400, 200),
    "ecn2-developer": (900, 450),
    "ecn2-stop": (600, 300),
    "ecn2-bleach": (200, 100),
    "ecn2-fixer": (600, 300),
    "final-rinse": (400, 200),
}


@pytest.mark.parametrize(("formula_id", "published"), ECN2.items())
def test_replenishment_for_a_hundred_feet(demo: Catalogue, formula_id: str, published: tuple[int, int]) -> None:
    films = (film(demo, "35mm-100ft"), film(demo, "16mm-100ft"), film(demo, "super8-50ft"))
    found = rates(demo.formulas[formula_id], films, demo.films)
    assert tuple(one.millilitres for one in found[:2]) == published
    assert all(one.published for one in found[:2])
    # Super 8 takes the 16 mm rate by area: 50 ft of 7.976 mm are a quarter of 100 ft of 15.95 mm.
    assert decimals(found[2].millilitres / published[1], 3) == D("0.250")


def test_the_half_for_16_mm_is_not_the_ratio_of_the_areas(demo: Catalogue) -> None:
    """Areas from SMPTE widths: 15.95 of 34.975 mm."""
    ratio = area_m2(film(demo, "16mm-100ft")) / area_m2(film(demo, "35mm-100ft"))
    assert decimals(ratio, 3) == D("0.456")


def test_replenisher_of_a_borax_developer_for_a_roll(demo: Catalogue) -> None:
    """30 mL for 80 square inches (Kodak Publication J-78, from memory); a sheet 4x5 is a quarter."""
    films = (film(demo, "135-36"), film(demo, "sheet-4x5in"))
    found = rates(demo.formulas["bw-mq-borax"], films, demo.films)
    assert [one.millilitres for one in found] == [30, D("7.5")]
    assert rolls_of(films[1]) == D("0.25")
