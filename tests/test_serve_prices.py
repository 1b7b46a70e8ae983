"""``mkdocs serve``: an edited price list is told in the log with what it does, before anything is published."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from mkdocs_serve import Served, serve
from site_build import project

pytestmark = pytest.mark.process


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    with serve(project(tmp_path / "project")) as begun:
        yield begun


def test_an_edit_of_a_price_shows_what_it_changes(served: Served) -> None:
    """The kilo of thiosulfate goes from 6.50 to 8.00 EUR, and the fixer costs more; then back again, past a fault."""
    begun = served.until("Serving on")
    assert not any("→" in line for line in begun), "each supplier has one list: nothing changed"
    path = served.root / "formulas" / "prices" / "one" / "2026-11-01.yml"
    path.write_text(path.read_text("utf-8").replace("6.50 EUR", "8.00 EUR"), "utf-8")
    told = served.until("Documentation built")
    assert any("handbook: one/sodium-thiosulfate/pentahydrate/1-kg: 6.50 EUR → 8.00 EUR" in line for line in told)
    assert any("handbook: fixer: a litre " in line and "→" in line for line in told)
    # A fault keeps the last good prices for the next comparison.
    path.write_text(path.read_text("utf-8").replace("8.00 EUR", "8.00 pounds"), "utf-8")
    served.until("'8.00 pounds' is no price")
    path.write_text(path.read_text("utf-8").replace("8.00 pounds", "6.50 EUR"), "utf-8")
    told = served.until("Documentation built")
    assert any("1-kg: 8.00 EUR → 6.50 EUR" in line for line in told)


def test_a_list_that_comes_while_serving_is_told_line_by_line(served: Served) -> None:
    served.until("Serving on")
    lists = served.root / "formulas" / "prices" / "one"
    old = (lists / "2026-11-01.yml").read_text("utf-8")
    new = old.replace("date: 2026-11-01", "date: 2026-11-20").replace("6.50 EUR", "7.10 EUR")
    (lists / "2026-11-20.yml").write_text(new, "utf-8")
    told = served.until("Documentation built")
    assert any("prices changed on 2026-11-20: 1 offer up" in line for line in told)
    assert any("handbook: one/sodium-thiosulfate/pentahydrate/1-kg: 6.50 EUR → 7.10 EUR" in line for line in told)
