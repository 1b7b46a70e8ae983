"""Small valid handbooks, each drawn by its number: which files and keys are in it, what it weighs, pays and wants.

They begin as the handbook of the cases of bad input with a full record of every kind beside it. Files and keys are
taken out and figures changed as long as what is left is valid.
"""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import yaml

from bad_input import VALID
from depending import Depending
from full_records import common_records, filler_of, own_records
from reckoner.calc.results import work_out
from reckoner.checks import check
from reckoner.loading.catalogue import build_catalogue, require
from reckoner.loading.files import DataFile, kind_of
from reckoner.loading.writing import to_yaml
from reckoner.outputs.export import handbook_json
from reckoner.problems import HandbookError, Problem
from reckoner.records.catalogue import Catalogue
from small import TODAY

#: File to what it says: a tree, or text that is no YAML.
Trees = dict[str, Any]
Change = Callable[[Trees, random.Random], None]

#: The numbers of the handbook of the cases, and of that with every key of every record.
PLAIN, FULL = 0, 1
#: Without these there is no handbook at all, or none that any rule looks at.
KEPT = {"settings.yml", "chemicals/water.yml", "solutions/fixers/fixer.yml"}
#: Reads texts only, no objects.
_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
#: A supplier whose tables are their own, and such a table.
EXPORTED = """name: Supplier three (invented)
country: Nowhere
currency: EUR
vat_included: yes
vat: 20 %
invented: yes
csv_locale: de
csv_columns:
  - {theirs: Artikel, ours: chemical}
  - {theirs: Ausführung, ours: form}
  - {theirs: Gebinde, ours: pack}
  - {theirs: Preis, ours: price}
csv_words:
  - {column: chemical, theirs: Natriumsulfit, ours: sodium-sulfite}
  - {column: form, theirs: wasserfrei, ours: anhydrous}
source: {certainty: invented, checked: 2026-11-01}
"""
TABLE = "Artikel;Ausführung;Gebinde;Preis\nNatriumsulfit;wasserfrei;1 kg;8,90 €\nNatriumsulfit;wasserfrei;2,5 kg;19 €\n"


@dataclass(frozen=True)
class Handbook:
    """A valid handbook: its files below ``formulas/``."""

    files: Mapping[str, bytes]

    @cached_property
    def figures(self) -> Mapping[str, Any]:
        """What comes out of it."""
        return figures_of(read(self.files))

    @cached_property
    def depending(self) -> Depending:
        """Who names whom in it."""
        return Depending(self.files)


def read(files: Mapping[str, bytes]) -> Catalogue:
    """The catalogue of files that are nowhere on disk.

    Raises:
        HandbookError: it is not valid.
    """
    catalogue, problems = _judged(files)
    return require(catalogue, problems)


def _judged(files: Mapping[str, bytes]) -> tuple[Catalogue, list[Problem]]:
    data = [DataFile(f"formulas/{name}", kind, raw.decode()) for name, raw in files.items() if (kind := _kind(name))]
    catalogue, problems = build_catalogue(data, TODAY)
    return catalogue, [*problems, *check(catalogue)]


def _kind(name: str) -> Any:
    return kind_of(Path(name))


def figures_of(catalogue: Catalogue) -> dict[str, Any]:
    """The exported figures."""
    return dict(json.loads(handbook_json(work_out(catalogue))))


@cache
def handbook(number: int) -> Handbook:
    """The handbook of a number: 0 is the one of the cases, 1 has every key of every record, the rest are drawn."""
    rng = random.Random(number)
    trees = _plain() if number == PLAIN else _full()
    for change in _changes(trees, rng) if number > FULL else ():
        changed = deepcopy(trees)
        for alter in change:
            alter(changed, rng)
        trees = changed if _valid(changed) else trees
    return Handbook(_written(trees))


def _valid(trees: Trees) -> bool:
    """Without a warning too: what a spoiled one is warned of is then the spoiler's."""
    try:
        return not _judged(_written(trees))[1]
    except HandbookError:
        return False


def _written(trees: Trees) -> dict[str, bytes]:
    return {name: (tree if isinstance(tree, str) else to_yaml(tree)).encode() for name, tree in sorted(trees.items())}


@cache
def _read_plain() -> Trees:
    texts = {path.relative_to(VALID).as_posix(): path.read_text("utf-8") for path in VALID.rglob("*.*")}
    return {name: _tree(text) if name.endswith(".yml") else text for name, text in texts.items()}


def _plain() -> Trees:
    return deepcopy(_read_plain())


def _tree(text: str) -> Any:
    return yaml.load(text, _LOADER)


def _full() -> Trees:
    filler = filler_of(lambda at: f"Some {at.rsplit('.', 1)[-1]}: a text")
    exported = {"prices/three/supplier.yml": _tree(EXPORTED), "prices/three/2026-11-03.csv": TABLE}
    return {**_plain(), **common_records(filler), **own_records(filler, "mine"), **exported}


def _changes(trees: Trees, rng: random.Random) -> Iterator[tuple[Change, ...]]:
    """What is tried, some of it together."""
    names = sorted(set(trees) - KEPT)
    for name in sorted(rng.sample(names, rng.randint(4, len(names) * 2 // 3)), key=_named_by_others):
        yield (lambda files, _, name=name: files.pop(name, None),)
    for together in (12, 12, 6, 6, 3, 3, 1, 1):
        yield (_without_a_key,) * together
    yield (_other_figures,)
    yield (_list_as_table,)
    yield (_more_offers,)


def _named_by_others(name: str) -> int:
    """Last goes what the rest needs."""
    order = ("plans", "kits", "shelf", "processes", "prices", "cautions", "incompatibilities", "solutions")
    return next((place for place, begin in enumerate(order) if name.startswith(begin)), len(order))


def _without_a_key(trees: Trees, rng: random.Random) -> None:
    """A key at any depth is left out."""
    places = [place for tree in trees.values() if isinstance(tree, dict) for place in _keys(tree)]
    mapping, key = rng.choice(places)
    mapping.pop(key, None)


def _keys(tree: Any) -> Iterator[tuple[dict[str, Any], str]]:
    if isinstance(tree, dict):
        for key, value in tree.items():
            yield tree, key
            yield from _keys(value)
    elif isinstance(tree, list):
        for item in tree:
            yield from _keys(item)


def _other_figures(trees: Trees, rng: random.Random) -> None:
    """Other amounts and prices."""
    for tree in trees.values():
        for mapping, key in list(_keys(tree)):
            if key in {"amount", "price"} and isinstance(mapping[key], str):
                figure = str(rng.choice([2, 3, 12, 45]) * rng.choice([1, 1, 10]) / rng.choice([1, 1, 10]))
                mapping[key] = re.sub(r"[\d.]+", figure.removesuffix(".0"), mapping[key], count=1)


def _list_as_table(trees: Trees, rng: random.Random) -> None:
    """A price list in YAML is written as CSV instead."""
    tree = trees.pop("prices/one/2026-11-01.yml", {"offers": []})
    rows = [",".join([*row.values()]) for row in tree["offers"]]
    trees["prices/one/2026-11-01.csv"] = "\n".join(["chemical,form,pack,price", *rows, ""])


def _more_offers(trees: Trees, rng: random.Random) -> None:
    """A newer list of rows of other packs."""
    chemical = {"chemical": "sodium-thiosulfate", "form": "pentahydrate"}
    packs = [{**chemical, "pack": f"{n * 50} g", "price": f"{n}.{n % 10} GBP"} for n in range(1, rng.randint(2, 12))]
    trees["prices/two/2026-11-10.yml"] = {"date": "2026-11-10", "offers": packs}
