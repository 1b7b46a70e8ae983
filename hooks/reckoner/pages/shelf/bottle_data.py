"""What a bottle's page tells the script that counts film on the phone: exact decimals as text, as the build reckons."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

from markupsafe import Markup

from reckoner.calc.film.bottles import BottleState, at_once
from reckoner.calc.film.capacity import rolls_of
from reckoner.calc.film.films_per_litre import owners_films
from reckoner.calc.mixing.working import plain
from reckoner.pages.shared.display import inside_script
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.use import Reuse


def bottle_data(state: BottleState, writer: PageWriter) -> Markup:
    """The figures as JSON that may stand inside a page."""
    catalogue, bottle = writer.results.catalogue, state.bottle
    through = Counter[str]()
    for poured in bottle.through:
        through[f"{poured.day.isoformat()} {poured.format}"] += poured.count
    data = {
        "id": bottle.id,
        "sign": writer.show.sign,
        "until": state.ends.day.isoformat() if state.ends else "",
        "expired": f"expired, it was good until {writer.show.day(state.ends.day)}: discard it" if state.ends else "",
        "old": state.old,
        "litres": _exact(bottle.volume.litres),
        "volume": writer.show.amount(bottle.volume),
        "rolls": _exact(state.rolls),
        "loads": state.loads,
        "cautious": _exact(state.could.cautious) if state.could else "",
        "generous": _exact(state.could.generous) if state.could else "",
        "through": dict(through),
        "formats": [
            {
                "id": film.id,
                "name": writer.film(film),
                "rolls": _exact(rolls_of(film)),
                "at_once": at_once(film, catalogue.settings.tanks) or 0,
            }
            for film in owners_films(catalogue)
        ],
        "reuse": _rule(catalogue.formulas[bottle.formula].reuse),
    }
    return inside_script(data)


def _rule(reuse: Reuse | None) -> dict[str, object] | None:
    if reuse is None:
        return None
    steps = [
        {"from": step.from_roll, "low": plain(step.time.low), "high": plain(step.time.high)} for step in reuse.steps
    ]
    low, high = (plain(reuse.time.low), plain(reuse.time.high)) if reuse.time else ("", "")
    return {
        "most": reuse.most,
        "steps": steps,
        "add": "" if reuse.add is None else plain(reuse.add),
        "low": low,
        "high": high,
    }


def _exact(value: Decimal) -> str:
    return format(value, "f")
