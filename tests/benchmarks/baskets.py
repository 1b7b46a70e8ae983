"""How long the cheapest basket takes: 30 chemicals of 6 suppliers in 4 packs each, and a year's plan for 12 processes.

Prints seconds, the proven gap, and the share of a whole build; run it by hand. It is no test and has no limit.
"""

from __future__ import annotations

import random
import shutil
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "hooks"))

from reckoner.build import build  # noqa: E402
from reckoner.calc.buying import plan_basket  # noqa: E402
from reckoner.calc.buying.basket import cheapest  # noqa: E402
from reckoner.calc.buying.basket_task import WHOLE, PackOption, Task  # noqa: E402
from reckoner.calc.buying.programme import Model  # noqa: E402
from reckoner.calc.buying.terms import Terms  # noqa: E402

TODAY = date(2026, 11, 25)
CHEMICALS, SUPPLIERS, PACKS = 30, 6, 4


def made_up(seed: int) -> Task:
    """Prices that fall with the size of the pack, a little different in each shop; every shop sends for a charge."""
    dice = random.Random(seed)
    choices = []
    for chemical in range(CHEMICALS):
        level = dice.uniform(4, 40)
        for supplier in range(SUPPLIERS):
            mood = dice.uniform(0.8, 1.3)
            for pack in range(PACKS):
                share = 0.2 * 2.5**pack
                price = round(100 * level * mood * share**0.75)
                choices.append(
                    PackOption(
                        f"s{supplier}/c{chemical}/{pack}",
                        f"s{supplier}",
                        f"c{chemical}",
                        int(share * WHOLE),
                        price,
                        price,
                    )
                )
    terms = {f"s{s}": Terms(690 + 50 * s, 10_000 + 1000 * s, 2000) for s in range(SUPPLIERS)}
    return Task({f"c{c}": WHOLE for c in range(CHEMICALS)}, tuple(choices), terms)


def solved(seed: int) -> None:
    """One made-up task."""
    task = made_up(seed)
    model = Model(task, None)
    begun = time.perf_counter()
    assert model.solve()
    spent = time.perf_counter() - begun
    gap, orders = model.solver.getInfo().mip_gap, len(cheapest(task).goods)  # type: ignore[union-attr]
    print(f"  seed {seed}: proven in {spent:.2f} s, gap {gap:.1%}, {orders} orders")


def stocked(data: Path) -> None:
    """Offers at made-up prices for what the demonstration's suppliers do not sell."""
    results = build(data, TODAY).results
    rows = []
    for name in results.plans["year"].bought.missing:
        form = results.catalogue.chemicals[name].forms[0]
        pack = "250 g" if form.state == "solid" else "250 mL"
        rows.append(f"  - {{chemical: {name}, form: {form.id}, pack: {pack}, price: 9.00 EUR}}")
    text = "date: 2026-11-20\noffers:\n" + "\n".join(rows) + "\n"
    (data / "prices" / "quellhain-laborbedarf" / "2026-11-20.yml").write_text(text, "utf-8")


def year() -> None:
    """The demonstration with one plan: a year of every process, some twice in other formats, 12 in all."""
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder) / "formulas"
        shutil.copytree(ROOT / "formulas", data)
        for old in (data / "plans").glob("*.yml"):
            old.unlink()
        processes = sorted(path.stem for path in (data / "library" / "processes").glob("*.yml"))
        twelve = (processes * 2)[:12]
        formats = ["135-36"] * len(processes) + ["super8-50ft"] * len(processes)
        wants = "".join(
            f"  - {{process: {process}, films: [{{format: {film}, count: 12}}]}}\n"
            for process, film in zip(twelve, formats, strict=False)
        )
        (data / "plans" / "year.yml").write_text(f"id: year\nname: A year\nover: 12 months\nwants:\n{wants}", "utf-8")
        stocked(data)
        spent = 0.0

        def timed(task: Task, most: int | None = None) -> object:
            nonlocal spent
            begun = time.perf_counter()
            found = cheapest(task, most)
            spent += time.perf_counter() - begun
            return found

        plan_basket.cheapest = timed  # type: ignore[assignment]
        begun = time.perf_counter()
        made = build(data, TODAY)
        whole = time.perf_counter() - begun
        plan = made.results.plans["year"].bought
        offers = sum(len(pool.pool.offers) for pool in plan.pools)
        print(
            f"  {len(plan.pools)} pools, {offers} offers, {len(plan.orders)} orders, missing: {plan.missing or 'none'}"
        )
        print(f"  solving {spent:.2f} s, {spent / whole:.0%} of the core's build of {whole:.2f} s")


if __name__ == "__main__":
    print(f"{CHEMICALS} chemicals, {SUPPLIERS} suppliers, {PACKS} packs each:")
    for number in range(3):
        solved(number)
    print("A year's plan for 12 processes:")
    year()
