"""Film counted on the phone: against capacity, with the next time, undone, copied, and not counted twice."""

from __future__ import annotations

import io
import json
from datetime import UTC, datetime
from decimal import Decimal
from itertools import product
from typing import Any

import pytest
import yaml
from pdfminer.high_level import extract_text
from pdfminer.pdfpage import PDFPage
from playwright.sync_api import Browser, Page, Route

from counted import CASES, Counted, counted
from phone import blank, opened, tap
from reckoner.calc.film.times import next_time
from reckoner.calc.results import Results
from reckoner.records.use import Reuse

pytestmark = pytest.mark.browser
BOTTLE = "bottles/c41-2026-11/"


@pytest.fixture
def phone(browser: Browser, address: str) -> Page:
    return blank(browser, address, "of a day")


def visited(page: Page, url: str, day: str = "2026-11-25", **changed: Any) -> Page:
    """The bottle's page on a day, its figures changed as a later build would."""
    page.unroute_all()
    page.clock.set_fixed_time(datetime.fromisoformat(day).replace(tzinfo=UTC, hour=12))

    def change(route: Route) -> None:
        body = route.fetch().text()
        start = body.index('id="hb-bottle">') + len('id="hb-bottle">')
        end = body.index("</script>", start)
        data = json.loads(body[start:end]) | changed
        route.fulfill(body=body[:start] + json.dumps(data) + body[end:], content_type="text/html")

    if changed:
        page.route(url, change)
    page.goto(url)
    return page


def counting(page: Page) -> str:
    return page.locator("#hb-counting").inner_text()


def test_a_tap_counts_a_film_against_the_capacity(phone: Page, address: str) -> None:
    """Five rolls are in the shelf's file; 8 to 12 are recorded; from roll 9 on the time is 3:45."""
    page = visited(phone, address + BOTTLE)
    assert "On this phone only" not in counting(page)
    tap(page, "+ 1 120 roll film")
    assert "With it 6 rolls of 8–12; 2 left by the cautious figure." in counting(page)
    assert "Next film: 3:30." in counting(page)
    tap(page, "+ 1 Super 8, 50 ft")
    assert "With it 8.36 rolls of 8–12; spent by the cautious figure: test it." in counting(page)
    assert "Next film: 3:45." in counting(page)
    assert "Next film: 3:30" in page.locator("h1 ~ ul").first.inner_text(), "the build's own figure stays"


def test_it_is_kept_and_can_be_undone(phone: Page, address: str) -> None:
    page = visited(phone, address + BOTTLE)
    tap(page, "+ 1 120 roll film")
    tap(page, "+ 1 Sheet 4x5 in")
    page.reload()
    assert "With it 6.25 rolls" in counting(page)
    tap(page, "Undo the last")
    assert "With it 6 rolls" in counting(page)
    tap(page, "Undo the last")
    page.reload()
    assert "On this phone only" not in counting(page)


def test_the_lines_for_the_shelf_are_what_it_reads(phone: Page, address: str) -> None:
    page = visited(phone, address + BOTTLE)
    for name in ("+ 1 120 roll film", "+ 1 Super 8, 50 ft", "+ 1 120 roll film"):
        tap(page, name)
    text = page.locator("#hb-counting pre").inner_text()
    assert all(line.startswith("      - {") for line in text.splitlines()), "as the list stands in the file"
    lines = yaml.safe_load(text)
    assert [(str(line["day"]), line["format"], line["count"]) for line in lines] == [
        ("2026-11-25", "120", 2),
        ("2026-11-25", "super8-50ft", 1),
    ]


def test_what_a_later_build_holds_is_not_counted_twice(phone: Page, address: str) -> None:
    page = visited(phone, address + BOTTLE)
    for _ in range(2):
        tap(page, "+ 1 120 roll film")
    built = {"2026-11-20 135-36": 2, "2026-11-22 120": 3, "2026-11-25 120": 1}
    page = visited(phone, address + BOTTLE, "2026-11-26", through=built, rolls="6.000000000000")
    assert page.locator("#hb-counting li").count() == 1
    assert "With it 7 rolls" in counting(page)
    page = visited(phone, address + BOTTLE, "2026-11-26", through=built | {"2026-11-25 120": 2}, rolls="7.000000000000")
    assert "On this phone only" not in counting(page)
    assert page.evaluate("localStorage.length") == 0 or "film" not in page.evaluate("Object.keys(localStorage).join()")


def test_only_the_film_that_a_later_build_holds_goes(phone: Page, address: str) -> None:
    page = visited(phone, address + BOTTLE)
    for name in ("+ 1 120 roll film", "+ 1 Super 8, 50 ft"):
        tap(page, name)
    assert page.get_by_text("As of the build").is_visible()
    held = {"2026-11-20 135-36": 2, "2026-11-22 120": 3, "2026-11-25 120": 1}
    page = visited(phone, address + BOTTLE, "2026-11-26", through=held, rolls="6.000000000000")
    assert page.locator("#hb-counting li").all_inner_texts() == ["2026-11-25: Super 8, 50 ft"]
    assert "With it 8.36 rolls" in counting(page)


def test_the_shelf_tells_of_film_counted_on_this_phone(phone: Page, address: str) -> None:
    page = visited(phone, address + BOTTLE)
    tap(page, "+ 1 120 roll film")
    page.goto(address + "shelf/")
    assert page.get_by_text("film counted on this phone").count() == 1


def test_film_that_the_build_held_already_is_another_film(phone: Page, address: str) -> None:
    """Three rolls 120 stand on the 22nd in the file; one more counted that day is a fourth."""
    page = visited(phone, address + BOTTLE, "2026-11-22")
    tap(page, "+ 1 120 roll film")
    page.reload()
    assert "With it 6 rolls" in counting(page)


RULES: list[dict[str, Any]] = [
    {"add": "10 %", "time": "7:30", "most": "10", "certainty": "common practice"},
    {"add": "4 %", "time": "6:00-6:30", "most": "8", "certainty": "common practice"},
    {"add": "3.5 %", "time": "3:15", "most": "12", "certainty": "common practice"},
]


@pytest.mark.parametrize("rule", RULES)
def test_the_next_time_is_the_builds_to_the_second(phone: Page, address: str, rule: dict[str, Any]) -> None:
    """The same rule in the browser and in the core, for whole films and for cartridges."""
    reuse = Reuse.model_validate(rule)
    assert reuse.time is not None and reuse.add is not None
    data = {
        "most": reuse.most, "steps": [], "add": str(reuse.add), "low": str(reuse.time.low), "high": str(reuse.time.high)
    }  # fmt: skip
    for done in ("0", "1", "2.355118110236", "7.499"):
        page = visited(phone, address + BOTTLE, reuse=data, rolls=done, litres="1.500000000000")
        tap(page, "+ 1 120 roll film")
        seconds = next_time(reuse, Decimal(done) + 1, Decimal("1.5")).seconds
        assert seconds is not None
        ends = [f"{int(end) // 60}:{int(end) % 60:02d}" for end in (seconds.low, seconds.high)]
        assert f"Next film: {'–'.join(dict.fromkeys(ends))}." in counting(page)
        said = counting(page).replace("\u00a0", " ")
        assert "through 1 L, " in said and "a litre; films of one load share one time." in said
        tap(page, "Undo the last")


#: What the page's script says, in the keys of the shared cases.
SAID = """all => all.map(([bottle, films]) => {
  const said = hbBottle(bottle, films);
  return { rolls: said.rolls, loads: Number(said.loads.split(' ')[0]), litre: said.litre, next: said.next,
    left: said.left, spent: said.spent, over: said.over };
})"""


def said(phone: Page, address: str, bottles: list[Counted]) -> list[dict[str, Any]]:
    page = visited(phone, address + BOTTLE)
    answers: list[dict[str, Any]] = page.evaluate(SAID, [[bottle.data, bottle.films] for bottle in bottles])
    return answers


def test_figures_of_the_shared_cases(phone: Page, address: str, demo_results: Results) -> None:
    bottles = [counted(demo_results, case) for case in CASES]
    assert said(phone, address, bottles) == [case["says"] for case in CASES]


def test_the_phone_says_of_any_bottle_what_the_build_will(phone: Page, address: str, demo_results: Results) -> None:
    """Every rule, volumes that do not divide, and films of every kind, up to past the end of the rule."""
    kinds = ("120", "135-36", "sheet-4x5in", "super8-50ft", "double8-25ft", "16mm-100ft")
    rules: list[dict[str, Any]] = [*RULES, {"add": "7.5 %", "most": "9", "certainty": "common practice"}]
    volumes = ("237 mL", "300 mL", "700 mL", "1.5 L", "2.3 L", "3785 mL")
    through = ([], ["{day: 2026-11-20, format: 16mm-100ft, length: 7 ft}"])
    films = [
        [f"2026-11-2{at % 3} {kinds[at % some]}" for at in range(many)] for some in (1, 3, 6) for many in (1, 5, 9)
    ]
    cases = [
        {"volume": volume, "rule": rule, "does": "4-7.5 rolls", "through": before, "counted": on_phone}
        for rule, volume, before, on_phone in product(rules, volumes, through, films)
    ]
    bottles = [counted(demo_results, case) for case in cases]
    assert len({json.dumps(bottle.says) for bottle in bottles}) > 100
    assert said(phone, address, bottles) == [bottle.says for bottle in bottles]


def test_the_log_is_one_sheet_of_a5(browser: Browser, address: str) -> None:
    """148 × 210 mm in points."""
    page = opened(browser, address + BOTTLE)
    printed = io.BytesIO(page.pdf(prefer_css_page_size=True))
    sizes = [tuple(round(side) for side in sheet.mediabox[2:]) for sheet in PDFPage.get_pages(printed)]
    assert sizes == [(420, 595)] or sizes == [(419, 595)]
    text = extract_text(printed)
    assert "Good until" in text and "27 Nov 2026" in text


def test_without_scripts_nothing_is_promised(browser: Browser, address: str) -> None:
    page = opened(browser, address + BOTTLE, scripts=False)
    assert page.locator("#hb-counting").inner_text() == ""
    assert "5 rolls" in page.locator("main").inner_text()
