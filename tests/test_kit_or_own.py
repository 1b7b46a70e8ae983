"""Kit or own from the files an author writes: prices with tax and delivery, concentrates, labs, sessions, the demo."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from reckoner.calc.buying.programme import Model
from reckoner.calc.compare import reorder as shopping
from reckoner.calc.compare.alternative import Alternative
from reckoner.calc.compare.kit_or_own import Comparison, comparisons
from reckoner.calc.compare.plan_bridge import Bridge
from reckoner.calc.compare.sessions import sessions
from reckoner.calc.mixing.scaling import litre_lists
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.calc.prices.costing import Market
from reckoner.calc.prices.offers import sold
from reckoner.calc.results import Results
from reckoner.money import Money
from reckoner.pages.buying.plan_view import plan_view
from reckoner.pages.compare.kit_words import nth
from reckoner.pages.kinds import pages
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.rounding import up
from small import SETTINGS, SOURCE, chemical, formula, process, results, supplier

D = Decimal
FILM = f"formats:\n  - {{id: roll, name: a roll, length: 1.475 m, width: 35 mm, counts_as: 1, {SOURCE}}}\n"
RATES = f"rates: [{{base: GBP, quote: EUR, rate: 1.20, date: 2026-11-01}}]\n{SOURCE}\n"


def eur(number: str) -> Money:
    return Money(D(number), "EUR")


def bath(name: str, does: str, keeps: str, purpose: str = "fixer") -> str:
    """100 g of salt a litre."""
    more = f"capacity: [{{does: {does}, per: 1 L, certainty: common practice}}]\n" if does else ""
    more += f"keeping: [{{state: part-full bottle, time: {keeps}, certainty: common practice}}]\n" if keeps else ""
    return formula(name, "[{chemical: salt, form: solid, amount: 100 g}]", purpose, more)


def kit(kind: str = "kit", price: str = "30 EUR", more: str = "") -> str:
    figures = "" if kind == "lab" else "makes: 1 L\ndoes: 8-12 rolls\nmixed: 1-2 months\n"
    return (
        f"id: ready\nname: Ready-made\nkind: {kind}\nprocess: pr\nprice: {price}\ndelivery: 6 EUR\n{figures}{more}"
        f"day: 2026-11-01\ninvented: yes\n{SOURCE}\n"
    )


def plan(rolls: int = 12, over: str = "12 months", more: str = "") -> str:
    return (
        f"id: p\nname: a plan\nover: {over}\nwants: [{{process: pr, films: [{{format: roll, count: {rolls}}}]}}]\n"
        f"compare: [ready]\n{more}"
    )


def handbook(kit_text: str, plan_text: str, **more: str) -> Results:
    """A developer for 4-8 rolls that keeps a week, and a fixer for 20 that keeps two months, from one salt.

    The salt: 1 kg for 10 GBP without 20 % tax, that is 14.40 EUR; sent for 5 GBP, 7.20 EUR.
    """
    files = {
        "settings.yml": SETTINGS.replace("tap_water", "#"),
        "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
        "solutions/developer.yml": bath("developer", "4-8 rolls", "1-2 weeks", "colour developer"),
        "solutions/fixer.yml": bath("fixer", "20 rolls", "2 months"),
        "processes/pr.yml": process("developer", "fixer"),
        "film_formats.yml": FILM,
        "exchange_rates.yml": RATES,
        "prices/shop/supplier.yml": supplier("GBP", "no") + "delivery: {charge: 5 GBP, free_from: 50 GBP}\n",
        "prices/shop/2026-11-01.yml": (
            "date: 2026-11-01\noffers:\n"
            "  - {chemical: salt, form: solid, pack: 1 kg, price: 10 GBP}\n"
            "  - {chemical: water, form: tap, pack: 1000 L, price: 0.01 GBP}\n"
        ),
        "kits/ready.yml": kit_text,
        "plans/p.yml": plan_text,
    }
    return results({**files, **more})


def only(found: Results) -> tuple[Comparison, Alternative]:
    (comparison,) = found.comparisons["p"]
    return comparison, comparison.alternatives[0]


def cents(sums: tuple[Decimal, ...]) -> list[int]:
    return [int(one) for one in sums]


def test_tax_rate_and_delivery_are_those_of_the_prices() -> None:
    """The first session mixes 200 g: a pack at 14.40, a pack of water at 0.01, sent for 7.20."""
    comparison, _ = only(handbook(kit(), plan()))
    assert comparison.own is not None
    assert comparison.own.run.spent()[0] == 1440 + 1 + 720


def test_tap_water_is_paid_by_the_litre_that_is_mixed() -> None:
    """A litre at 1 EUR, each bath 1 L: 200 cents for every session beside the salt, of which there is a kilo."""
    metered = SETTINGS.replace("price: 4 EUR, per: 1000 L", "price: 1 EUR, per: 1 L")
    comparison, _ = only(handbook(kit(), plan(), **{"settings.yml": metered}))
    assert comparison.own is not None and comparison.own.plan is not None
    assert cents(comparison.own.plan.spent())[::3] == [1440 + 720 + 200 * session for session in (1, 2, 3, 4)]


def test_what_mixing_pays_follows_from_the_plan() -> None:
    """By hand: 12 rolls in sessions of 3, four developers and four fixers, 800 g of salt and some water.

    One pack of each at 14.40 and 0.01, sent for 7.20: 21.61 paid. 200 g of the kilo are left and good, 2.88, and nearly
    all of the water, 0.01; so the plan's all-in is 11.52 + 7.20 = 18.72.
    """
    comparison, _ = only(handbook(kit(), plan()))
    assert comparison.bridge == Bridge(plan=eur("18.72"), steps=(("left", eur("2.89")),), paid=eur("21.61"))
    assert comparison.own is not None and round(comparison.own.good) == 289


def test_two_bottles_of_an_offer_hold_what_one_of_twice_the_size_does() -> None:
    """2 x 500 g at 10 GBP as 1 kg at 10 GBP, where nothing dies once opened."""
    one = handbook(kit(), plan())
    pair = {"prices/shop/2026-11-08.yml": "date: 2026-11-08\ncomplete: yes\noffers:\n"}
    pair["prices/shop/2026-11-08.yml"] += (
        "  - {chemical: salt, form: solid, pack: 500 g, count: 2, price: 10 GBP}\n"
        "  - {chemical: water, form: tap, pack: 1000 L, price: 0.01 GBP}\n"
    )
    two = handbook(kit(), plan(), **pair)
    first, second = only(one)[0].own, only(two)[0].own
    assert first is not None and second is not None
    assert first.run.spent() == second.run.spent()
    assert first.good == second.good


def test_the_shelf_counts_as_it_was_paid_on_both_pages() -> None:
    """By hand: 500 g on the shelf, paid 10.00. 300 g more are needed: a kilo, of which 700 g, 10.08, stay good.

    Plan, all-in: 10.00 + 4.32 + 7.20 = 21.52. Paid: 10.00 + 14.40 + 0.01 + 7.20 = 31.61.
    """
    shelf = "packs: [{chemical: salt, form: solid, pack: 500 g, left: 500 g, paid: 10 EUR, bought: 2026-11-01}]\n"
    made = handbook(kit(), plan(), **{"shelf.yml": shelf})
    comparison, _ = only(made)
    assert made.plans["p"].money.parts.total.whole == eur("21.52")
    assert comparison.bridge == Bridge(plan=eur("21.52"), steps=(("left", eur("10.09")),), paid=eur("31.61"))
    assert comparison.own is not None and comparison.own.plan is not None
    # Water is short at once, so the year's order, 21.61, is made for the first session. The shelf's salt is counted
    # when it is mixed: 200 g, 4.00, for each of the first two sessions, and the last 100 g for the third.
    assert cents(comparison.own.plan.spent())[:9:3] == [2161 + 400, 2161 + 800, 3161]
    unused, _ = only(handbook(kit(), plan(more="use_shelf: no\n"), **{"shelf.yml": shelf}))
    assert unused.bridge is not None and unused.bridge.paid == eur("21.61")


def test_a_process_of_a_plan_that_does_more_is_taken_by_itself() -> None:
    """By hand: 1 L of developer besides takes 100 g more of the same kilo, which leaves 100 g, 1.44.

    Plan, all-in: 12.96 + 7.20 = 20.16, of it 8/9 for the film, 17.92, as delivery is shared by salt. By itself the film
    costs 18.72, 0.80 more.
    """
    litre = plan().replace("wants: [", "wants: [{formula: stock, litres: 1 L}, ")
    stock = {"solutions/stock.yml": bath("stock", "", "")}
    comparison, _ = only(handbook(kit(), litre, **stock))
    assert comparison.bridge == Bridge(
        eur("20.16"), (("others", eur("-2.24")), ("alone", eur("0.80")), ("left", eur("2.89"))), eur("21.61")
    )


def test_film_waits_three_months_for_a_session_where_the_plan_does_not_say() -> None:
    """A roll a month: three of the four rolls that a batch does gather; the developer dies, the fixer keeps a session.

    12 rolls: 4 sessions, 4 developers (3 poured away after 3 of 4 rolls), the fixer new each time: two months are over.
    """
    comparison, alternative = only(handbook(kit(), plan()))
    assert comparison.own is not None and comparison.own.plan is not None
    assert (comparison.own.session, alternative.session) == (3, 3)
    assert comparison.own.plan.mixed == {"developer": 4, "fixer": 4}
    assert comparison.own.plan.thrown == {"developer": 3, "fixer": 3}
    # 800 g of one pack of 1 kg, a single order.
    assert comparison.own.plan.spent()[-1] == 2161
    # A kit each session: it keeps a month.
    assert alternative.plan is not None
    assert alternative.plan.spent()[-1] == 4 * 3600


def test_a_kit_sets_its_own_sessions() -> None:
    """Film that may wait a year gathers by fours for the developer and by eights for the kit."""
    comparison, alternative = only(handbook(kit(), plan(16, "12 months", "wait: 12 months\n")))
    assert comparison.own is not None and alternative.plan is not None
    assert (comparison.own.session, alternative.session) == (4, 8)
    assert alternative.plan.spent()[-1] == 2 * 3600
    assert alternative.plan.thrown == {"ready": 0}


def test_a_concentrate_replaces_its_bath_and_the_owner_mixes_the_rest() -> None:
    """1 L makes 2 L of fixer, mixed a litre at a time, 8 rolls each way of two months at a roll a month.

    The developer alone: four batches of 100 g, one pack, 14.40 + 0.01 + 7.20. Four fixers of a litre: two packs of
    concentrate at 36.00. The rest of a pack keeps two years.
    """
    text = kit("concentrate", more="replaces: [fixer]\nmixes_in_parts: yes\nsealed: 2 years\n")
    text = text.replace("makes: 1 L\ndoes: 8-12", "makes: 2 L\ndoes: 16-24")
    comparison, alternative = only(handbook(text, plan()))
    assert alternative.plan is not None
    assert alternative.plan.mixed == {"ready": 4, "developer": 4}
    assert alternative.plan.spent()[-1] == 2161 + 2 * 3600
    assert comparison.own is not None


def test_the_rest_of_a_concentrate_dies_when_the_closed_pack_would() -> None:
    """Opened at the third roll and mixed again three rolls later: the rest of two months is dead, a pack each time."""
    text = kit("concentrate", more="replaces: [fixer]\nmixes_in_parts: yes\nsealed: 2 months\n")
    text = text.replace("makes: 1 L\ndoes: 8-12", "makes: 2 L\ndoes: 16-24")
    _, alternative = only(handbook(text, plan()))
    assert alternative.plan is not None
    assert alternative.plan.spent()[-1] == 2161 + 4 * 3600
    # Three rests of a litre, half of 30.00 each; the fourth is still good, as are 600 g of salt and most of the water.
    assert (alternative.plan.parts().dead, int(alternative.plan.parts().left)) == (4500, 1500 + 864)
    # So is what stays good of it all, with nearly all of the water, 0.01, that the plan buys by itself.
    assert round(alternative.good) == 1500 + 864 + 1


def test_a_lab_is_paid_by_the_roll_and_sends_a_parcel_for_what_a_batch_does() -> None:
    """9 EUR a roll; a batch of the developer does 4, so rolls 1, 5 and 9 pay 6 EUR for a parcel."""
    _, alternative = only(handbook(kit("lab", "9 EUR"), plan()))
    assert cents(alternative.run.spent()[:5]) == [1500, 2400, 3300, 4200, 5700]
    assert alternative.by_litre is None
    rolls = D(len(alternative.run.spent()))
    parts = alternative.run.ready_parts
    assert (parts.used, parts.delivery) == (900 * rolls, 600 * up(rolls / 4))


def test_the_answer_and_where_it_crosses() -> None:
    """Mixing starts at 21.61 and buys its second pack, 21.60 more, for the sixth session; the lab costs 5 a roll.

    Lab, 6 for a parcel of 4: 11, 16, 21, 26 at the fourth roll; mixing is cheaper from there on.
    """
    _, alternative = only(handbook(kit("lab", "5 EUR"), plan()))
    assert [(one.at, one.mixing) for one in alternative.crossings] == [(1, False), (4, True)]
    assert (alternative.answer.first, alternative.answer.rolls, alternative.answer.decisive.part) == (4, 24, "used")
    dearer = {case.case.factor: case.first for case in alternative.cases if case.case.kind == "ready"}
    # 20 % dearer: 13.20, 19.20, 25.20 at the third roll. 20 % cheaper: 8.80, 12.80, 16.80, 20.80, 29.60 at the fifth.
    assert (dearer[D("1.2")], dearer[D("0.8")]) == (3, 5)


@pytest.mark.parametrize(("roll", "month"), [(1, 1), (2, 1), (3, 2), (24, 12)])
def test_the_month_in_which_a_roll_comes(roll: int, month: int) -> None:
    """At two rolls a month."""
    question = replace(only(handbook(kit(), plan()))[0].question, rate=D(2))
    assert question.month_of(roll) == month


def test_a_single_roll_and_nothing_after_is_not_worth_a_pack() -> None:
    """One roll: 21.61 mixed, 9 + 6 at the lab; 800 g of the kilo are left, the most of the difference."""
    _, alternative = only(handbook(kit("lab", "9 EUR"), plan(1, "2 months", "nothing_after: yes\n")))
    answer = alternative.answer
    assert (answer.rolls, answer.first, answer.decisive.part, int(answer.decisive.own)) == (1, None, "left", 1152)
    # Were film to go on coming, the question is open at every rate.
    assert {answer.rolls for answer in alternative.rates} == {12, 24, 48, 120}


def test_no_figures_without_a_price_or_a_capacity() -> None:
    unknown = {f"solutions/{name}.yml": bath(name, "", "2 months") for name in ("developer", "fixer")}
    (found,) = handbook(kit(), plan(), **unknown).comparisons["p"]
    assert (found.own, found.alternatives, found.fault) == (None, (), "capacity")
    assert (found.question.process, found.question.rolls) == ("pr", 12)
    gone = {"plans/p.yml": plan(more="avoid: [shop]\n")}
    (found,) = handbook(kit(), plan(), **gone).comparisons["p"]
    assert found.fault == "price"
    assert "salt" in found.cost.missing


def test_a_plan_for_litres_is_answered_by_the_litre() -> None:
    litres = "id: p\nname: a plan\nover: 2 months\nwants: [{process: pr, litres: 2 L}]\ncompare: [ready]\n"
    comparison, alternative = only(handbook(kit(), litres))
    assert comparison.own is not None and comparison.own.plan is not None and alternative.plan is not None
    # Two sets of 200 g from one pack; two kits, each sent for 6 EUR.
    assert (comparison.own.plan.spent()[-1], alternative.plan.spent()[-1]) == (2161, 7200)
    assert comparison.question.rate == 2


def test_more_film_than_can_be_followed_is_cut_short() -> None:
    comparison, _ = only(handbook(kit(), plan(9_999_999, "1 days")))
    assert comparison.own is not None
    assert len(comparison.own.run.spent()) == 400


@pytest.mark.parametrize(
    ("waiting", "rate", "expected"),
    [
        # 4 rolls a litre: sessions of 4, and the rest in the smallest batch that does it.
        (10, "2", (4, 2, 2, "500 mL", "2", None)),
        (3, "1", (4, 0, 3, "1 L", "3", None)),
        (8, "1", (4, 2, 0, None, "4", None)),
        # 2.4 rolls gather in twelve months: process those two, in half a litre.
        (8, "0.2", (4, 2, 0, None, "20", 2)),
    ],
)
def test_sessions_use_the_developer_up(
    waiting: int, rate: str, expected: tuple[int, int, int, str | None, str, int | None]
) -> None:
    made = handbook(kit(), plan()).catalogue
    baths = tuple(made.formulas[i] for i in ("developer", "fixer"))
    found = sessions(baths, waiting, D(rate), D(1), made.settings)
    assert found is not None
    batch = str(found.rest_batch) if found.rest_batch else None
    assert (found.rolls, found.full, found.rest, batch, str(int(found.wait)), found.in_time) == expected
    assert found.bath == "developer"


def test_a_kits_price_grows_old_like_a_price_list() -> None:
    found = handbook(kit().replace("day: 2026-11-01", "day: 2026-05-01"), plan())
    assert [(one.kind, one.subject) for one in found.ages if one.old] == [("kit price", "ready")]
    text = {page.path: page.markdown for page in pages(found)}
    assert "Ready-made" in text["out-of-date.md"]
    assert "Ready-made (invented)" in text["kit-or-own.md"]
    assert 'href="../../kit-or-own/#kits-p-pr"' in text["processes/pr.md"]


@pytest.mark.parametrize(
    ("number", "said"), [(1, "1st"), (2, "2nd"), (3, "3rd"), (11, "11th"), (22, "22nd"), (113, "113th")]
)
def test_ordinals(number: int, said: str) -> None:
    assert nth(number) == said


def demo_answers(made: Results, plan_id: str) -> dict[str, Alternative]:
    return {one.kit.id: one for found in made.comparisons[plan_id] for one in found.alternatives}


def test_the_demo_reaches_both_answers(demo_results: Results) -> None:
    """A club's year pays for its packs; five rolls and none after do not."""
    club, few = (demo_answers(demo_results, i) for i in ("club-year", "small-backlog"))
    for kit_id in ("motion-picture-set", "lab-motion-picture", "fixer-concentrate"):
        assert club[kit_id].answer.first is not None
    for kit_id in ("colour-negative-still-set", "lab-still"):
        assert few[kit_id].answer.first is None
        assert few[kit_id].answer.decisive.part == "left"
    totals = {kit_id: one.plan.spent()[-1] for kit_id, one in few.items() if one.plan}
    mixing = demo_results.comparisons["small-backlog"][0].own
    assert mixing is not None and mixing.plan is not None
    assert min(totals.values()) < mixing.plan.spent()[-1]


def test_what_the_demo_says_of_a_plan_agrees_everywhere(demo_results: Results) -> None:
    """The plan's total is a row of the picture, sums only grow, and the bridge leads from the plan's page to here."""
    for plan_id, found in ((i, one) for i, all_ in demo_results.comparisons.items() for one in all_):
        assert found.own is not None and found.own.plan is not None and found.bridge is not None
        rolls, bridge = found.question.rolls, found.bridge
        for way in (found.own, *found.alternatives):
            assert list(way.run.spent()) == sorted(way.run.spent())
            assert list(way.by_litre or ()) == sorted(way.by_litre or ())
            if rolls and way.plan:
                assert way.plan.spent()[-1] == way.run.spent()[rolls - 1]
        assert bridge.plan == demo_results.plans[plan_id].money.parts.total.whole
        assert sum((sum_ for _, sum_ in bridge.steps), bridge.plan) == bridge.paid
        assert bridge.paid.exact_minor == round(found.own.plan.spent()[-1])


def test_a_plans_page_has_three_costs_a_film_and_one_rounding(demo_results: Results) -> None:
    """Every format of the owner has its row, and picture and table take the same whole cents."""
    view = plan_view("club-year", PageWriter(demo_results, Display("en_GB"), Links("plans/club-year.md")))
    formats = demo_results.catalogue.film_formats
    assert formats is not None
    names = {film.id: film.name for film in formats.formats}
    for table in view.films:
        assert {line.name for line in table.lines} == {names[i] for i in demo_results.catalogue.settings.formats}
    assert view.picture is not None
    shown = {bar.text.rsplit(" ", 1)[1] for bar in view.picture.bars}
    assert shown == {view.sum.film, view.sum.poured, view.sum.dying}


def test_a_first_litre_is_less_to_pay_as_a_kit_and_cheaper_mixed(demo_results: Results) -> None:
    """All-in is the plan's own sum, but for tap water of a cent or less."""
    (found,) = demo_results.comparisons["first-litre"]
    assert found.own is not None and found.own.plan is not None and found.alternatives[0].plan is not None
    paid, bought = found.own.plan.spent()[-1], found.alternatives[0].plan.spent()[-1]
    assert bought < paid
    assert abs(paid - found.own.good - demo_results.plans["first-litre"].money.parts.total.exact_minor) < 1 < bought
    assert paid - found.own.good < bought


@pytest.mark.parametrize(
    ("process_id", "kit_id"),
    [
        ("still-colour-negative", "colour-negative-still-set"),
        ("motion-picture-colour-negative-home", "motion-picture-set"),
    ],
)
def test_a_litre_costs_about_half_a_kit_and_the_first_basket_several_times(
    demo_results: Results, process_id: str, kit_id: str
) -> None:
    """Common practice, no source: wide bounds on invented prices."""
    cost, bought = demo_results.processes[process_id].cost, demo_results.catalogue.kits[kit_id]
    assert cost.used_per_litre and cost.to_start and bought.makes
    a_litre = bought.price.number / bought.makes.litres
    assert D("0.25") < cost.used_per_litre.number / a_litre < D("0.8")
    assert cost.to_start.number > 2 * cost.used_per_litre.number


def test_the_plan_and_its_kits_agree_on_sessions_and_batches(demo_results: Results) -> None:
    """Both gather what one batch does of each bath that is used again, and mix the same batches for it."""
    seen = 0
    for plan_id, found in ((i, one) for i, all_ in demo_results.comparisons.items() for one in all_):
        if not found.question.rolls or found.own is None or found.own.plan is None:
            continue
        planned = {bath.formula: bath for bath in demo_results.plans[plan_id].bought.baths}
        shared = _shared(demo_results, plan_id)
        for bath, batches in found.own.plan.mixed.items():
            seen += 1
            assert planned[bath].session == found.own.session or bath in shared
            assert planned[bath].batches == batches or bath in shared
    assert seen > 10


def _shared(found: Results, plan_id: str) -> set[str]:
    """Baths that film of several processes of a plan goes through."""
    wants = found.plans[plan_id].bought.plan.wants
    baths = [i for w in wants if w.process for i in usual_baths(found.catalogue.processes[w.process])]
    return {bath for bath in baths if baths.count(bath) > 1}


def test_the_demo_needs_the_solver_seldom(demo_results: Results, monkeypatch: pytest.MonkeyPatch) -> None:
    """Solving is what takes time: no more programmes than this for all comparisons, nothing remembered."""
    solved, solve = [], Model.solve

    def counted(model: Model) -> bool:
        solved.append(model)
        return solve(model)

    monkeypatch.setattr(Model, "solve", counted)
    shopping._cheapest.cache_clear()
    made = demo_results.catalogue
    lists = litre_lists(made.formulas, made.chemicals)
    market = Market(sold(demo_results.offers), lists, made.chemicals, made.settings.currency, made.settings.tap_water)
    for plan in made.plans.values():
        comparisons(plan, made, market, demo_results.plans[plan.id].sure)
    assert 0 < len(solved) <= 60


def test_other_prices_change_no_pack(demo_results: Results) -> None:
    """Dearer goods are the same goods: what is paid for one kind changes with its factor, the rest stays."""
    cases = 0
    for one in (each for found in demo_results.comparisons.values() for each in found):
        for other in one.alternatives:
            base, *more = other.cases
            for case in (case for case in more if case.case.kind in {"chemicals", "ready"}):
                changed = case.case.factor if case.case.kind == "chemicals" else 1
                assert case.own == base.own * changed
                cases += 1
    assert cases
