"""Bench sheets in Chromium: complete without scripts, ticks that stay, any other volume, and on A5 paper."""

from __future__ import annotations

import io
import json
from decimal import Decimal
from typing import Any

import pytest
from pdfminer.high_level import extract_text
from pdfminer.pdfpage import PDFPage
from playwright.sync_api import Browser, Locator, Page

from phone import opened
from reckoner.calc.results import Results
from reckoner.pages.formula.rescale_data import rescale_data
from rescaled import CASES, at_volumes, lists, writer_of
from site_build import Site

pytestmark = pytest.mark.browser
SHEET = "bench/ecn2-developer-home/"
SHEETS = [SHEET, "bench/bw-mq-borax/", "bench/stop-acetic/", "bench/bw-caustic-contrast-working/"]
#: Chromium's rescaled list in the words of the shared cases.
SHOWN = """section => {
  const plain = text => text.replace(/\\u00a0/g, ' ').trim();
  const amount = p => p && plain(p.querySelector('strong').textContent) + ' on the ' +
    plain(p.querySelector('small').textContent);
  const start = section.querySelector('[data-says=start]');
  return {
    volume: plain(section.querySelector('[data-says=volume]').textContent),
    start: start ? plain(start.textContent) : '',
    rows: [...section.querySelectorAll('[data-row]')].filter(r => /^\\d+$/.test(r.dataset.row)).map(r => {
      const advice = section.querySelector(`[data-advice="${r.dataset.row}"]`);
      const jar = amount(r.querySelector('[data-which=jar]'));
      return { asked: amount(r.querySelector('[data-which=asked]')), ...(jar && { jar }),
        ...(advice && !advice.hidden && { advice: plain(advice.textContent) }) };
    }),
  };
}"""
ALL = """([data, volumes]) => volumes.map(volume => {
  const plain = text => text.replace(/\\u00a0/g, ' '), list = hbRescale(data, volume);
  const amount = it => plain(it.figure + ' on the ' + it.tool);
  return { volume: plain(list.volume), start: plain(list.start || ''), rows: list.rows.map(row => ({
    asked: amount(row.asked), ...(row.jar && { jar: amount(row.jar) }),
    ...(row.advice && { advice: plain(row.advice) }) })) };
})"""


def row(page: Page, batch: str, name: str) -> Locator:
    return page.locator(f"#{batch} .bs-row", has_text=name).first


def test_without_scripts_the_whole_sheet_is_open(browser: Browser, address: str) -> None:
    page = opened(browser, address + SHEET, scripts=False)
    batches = page.locator(".bs-batch")
    assert batches.locator("h2 span").all_inner_texts() == [
        "250\u00a0mL",
        "500\u00a0mL",
        "600\u00a0mL",
        "1\u00a0L",
        "2\u00a0L",
        "5\u00a0L",
    ]
    for at in range(6):
        said = batches.nth(at).inner_text()
        for words in ("Gloves and goggles on", "Start with", "CD-3", "before the jar is opened", "pH 10.25", "Mix"):
            assert words in said
    assert page.locator("details, [hidden], button").count() == 0
    top = page.locator(".bs-before").bounding_box()
    assert top is not None
    assert top["y"] < 844 / 2


@pytest.mark.parametrize("width", [390, 320])
@pytest.mark.parametrize("path", SHEETS)
def test_huge_type_and_no_scrolling_sideways(browser: Browser, address: str, path: str, width: int) -> None:
    page = opened(browser, address + path, width=width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    sizes = page.locator(".bs p, .bs h1, .bs h2, .bs small, .bs span, .bs b, .bs li").evaluate_all(
        "all => all.map(e => parseFloat(getComputedStyle(e).fontSize))"
    )
    assert min(sizes) >= 24
    figures = page.locator(".bs-amount strong").evaluate_all(
        "all => all.map(e => parseFloat(getComputedStyle(e).fontSize))"
    )
    assert min(figures) >= 36


def test_one_tap_from_home_and_from_the_formula(browser: Browser, address: str) -> None:
    page = opened(browser, address)
    link = page.locator('a.hb-bench[href="bench/ecn2-developer-home/"]')
    box = link.bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 48
    link.click()
    assert page.url == address + SHEET
    page.locator(".bs-ways a", has_text="Formula").click()
    assert page.url == address + "solutions/ecn2-developer-home/"
    page.locator(".hb-jump a", has_text="Bench sheet").click()
    assert page.url == address + SHEET


def test_a_tap_anywhere_on_a_row_ticks_it_and_a_reload_keeps_it(browser: Browser, address: str) -> None:
    page = opened(browser, address + SHEET)
    boxes = page.locator(".bs-row").evaluate_all("all => all.map(e => e.getBoundingClientRect().height)")
    assert min(boxes) >= 48
    sulfite = row(page, "make-1-l", "Sodium sulfite")
    box = sulfite.bounding_box()
    assert box is not None
    for corner in ((3, 3), (box["width"] - 3, box["height"] - 3), (box["width"] - 3, 3)):
        before = sulfite.get_attribute("aria-checked")
        sulfite.click(position={"x": corner[0], "y": corner[1]})
        assert sulfite.get_attribute("aria-checked") != before
    page.reload()
    assert row(page, "make-1-l", "Sodium sulfite").get_attribute("aria-checked") == "true"
    assert row(page, "make-2-l", "Sodium sulfite").get_attribute("aria-checked") == "false"
    assert page.locator("#make-1-l .bs-said").inner_text().startswith("1 of ")
    page.goto(address + "bench/bw-mq-borax/")
    assert page.locator("[aria-checked=true]").count() == 0


def test_ticks_go_only_by_two_taps(browser: Browser, address: str) -> None:
    page = opened(browser, address + SHEET)
    row(page, "make-1-l", "Sodium sulfite").click()
    clear = page.locator("#make-1-l .bs-clear")
    clear.click()
    assert page.locator("[aria-checked=true]").count() == 1
    assert clear.inner_text() == "Tap again to clear"
    clear.click()
    assert page.locator("[aria-checked=true]").count() == 0
    page.locator("#make-1-l").get_by_role("button", name="Bring the ticks back").click()
    assert page.locator("[aria-checked=true]").count() == 1
    assert not page.locator("#make-1-l .bs-back").is_visible()
    clear.click()
    clear.click()
    page.reload()
    assert page.locator("[aria-checked=true]").count() == 0


def test_ticks_of_another_day_are_said_and_changed_figures_are_not_ticked(browser: Browser, address: str) -> None:
    page = opened(browser, address + SHEET)
    row(page, "make-1-l", "Sodium sulfite").click()
    key = "handbook.bench.ecn2-developer-home.1000"
    page.evaluate(
        "key => localStorage.setItem(key, JSON.stringify({ ...JSON.parse(localStorage.getItem(key)), at: 0 }))", key
    )
    page.reload()
    assert "Ticks of another day" in page.locator("#make-1-l .bs-said").inner_text()
    page.evaluate("key => localStorage.setItem(key, localStorage.getItem(key).replace('2.00', '2.10'))", key)
    page.reload()
    assert page.locator("#make-1-l [aria-checked=true]").count() == 0


def test_what_may_be_taken_instead_is_no_row_more_to_tick(browser: Browser, address: str) -> None:
    page = opened(browser, address + SHEET)
    batch = page.locator("#make-1-l")
    rows, instead = batch.locator(".bs-row").count(), batch.locator(".bs-row[data-or]").count()
    assert instead >= 1
    for number in range(rows):
        row = batch.locator(".bs-row").nth(number)
        if row.get_attribute("data-or") is None:
            row.click()
    assert batch.locator(".bs-said").inner_text().startswith(f"{rows - instead} of {rows - instead} ticked")


def test_one_size_can_be_printed_alone(browser: Browser, address: str) -> None:
    """The list typed in too; afterwards the browser's own menu prints every size again."""
    page = opened(browser, address + SHEET)
    page.evaluate("window.print = () => {}")
    page.locator(".bs-volume").fill("730")
    page.locator("#another .bs-print").click()
    text = " ".join(extract_text(io.BytesIO(page.pdf(prefer_css_page_size=True))).split())
    assert "730 mL" in text and "CD-3" in text
    assert "600 mL" not in text
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    text = " ".join(extract_text(io.BytesIO(page.pdf(prefer_css_page_size=True))).split())
    assert "600 mL" in text and "730 mL" not in text


#: The field takes 10 mL and more; the script itself works out less.
TYPED = [case for case in CASES if Decimal(case["typed"]) >= 10]


@pytest.mark.parametrize("case", TYPED, ids=lambda case: f"{case['formula']} {case['typed']}")
def test_a_typed_volume_gives_the_shared_cases(browser: Browser, address: str, case: dict[str, Any]) -> None:
    page = opened(browser, f"{address}bench/{case['formula']}/")
    page.locator(".bs-volume").fill(case["typed"])
    assert page.locator("#another").evaluate(SHOWN) == {k: case[k] for k in ("volume", "start", "rows")}


def test_cases_below_what_may_be_typed_are_the_scripts_too(
    browser: Browser, address: str, demo_results: Results
) -> None:
    below = [case for case in CASES if case not in TYPED]
    assert below
    page, writer = opened(browser, address + SHEET), writer_of(demo_results)
    for case in below:
        data = json.loads(rescale_data(demo_results.formulas[case["formula"]], writer))
        assert page.evaluate(ALL, [data, [case["typed"]]]) == [{k: case[k] for k in ("volume", "start", "rows")}]


def test_every_formula_rescales_digit_for_digit(browser: Browser, address: str, demo_results: Results) -> None:
    volumes = ["10", "62.5", "125", "187.5", "310", "425.25", "777.7", "1250", "3333.333", "7500", "12345.678", "50000"]
    worked = at_volumes(demo_results, demo_results.formulas, volumes)
    page = opened(browser, address + SHEET)
    writer = writer_of(demo_results)
    compared = 0
    for formula, result in demo_results.formulas.items():
        data = json.loads(rescale_data(result, writer))
        assert page.evaluate(ALL, [data, volumes]) == lists(worked, formula), formula
        compared += sum(len(batch.rows) for batch in worked.formulas[formula].batches)
    assert compared > 3000


def test_wrong_volumes_show_no_list(browser: Browser, address: str) -> None:
    page = opened(browser, address + SHEET)
    field, wrong = page.locator(".bs-volume"), page.locator(".bs-wrong")
    for typed in ("", "-5", "9", "50001", "51 L", "0.009 L", "1.000.5", "1e3", "1,5,0", "1 gal"):
        field.fill(typed)
        assert wrong.is_visible(), typed
        assert not page.locator("#another .bs-row").first.is_visible(), typed
    for typed, volume in (
        ("0750,50", "750.5"),
        ("730 mL", "730"),
        ("0,73 L", "730"),
        ("1.5l", "1500"),
        ("50 L", "50000"),
    ):
        field.fill(typed)
        assert not wrong.is_visible(), typed
        assert page.locator("#another h2 span").inner_text() == f"{volume}\u00a0mL"


def test_keys_change_the_volume_without_the_keyboard_and_it_is_kept(browser: Browser, address: str) -> None:
    page = opened(browser, address + SHEET)
    seen = []
    for key in ("More", "More", "Less", "Less", "Less"):
        page.get_by_role("button", name=key, exact=True).click()
        seen.append(page.locator(".bs-volume").input_value())
    assert seen == ["760", "770", "760", "750", "740"]
    # Steps of 10 mL up to a litre, of 50 to five, of 250 above; from 10 mL to 50 L.
    for typed, less, more in (
        ("1000", "990", "1050"),
        ("1000.001", "1000", "1050"),
        ("999.999", "990", "1000"),
        ("5000", "4950", "5250"),
        ("5000.5", "5000", "5250"),
        ("12.5", "10", "20"),
        ("10", "10", "20"),
        ("49999", "49750", "50000"),
        ("50000", "49750", "50000"),
        ("1625", "1600", "1650"),
    ):
        for key, gives in (("More", more), ("Less", less)):
            page.locator(".bs-volume").fill(typed)
            page.get_by_role("button", name=key, exact=True).click()
            assert page.locator(".bs-volume").input_value() == gives, (typed, key)
    page.reload()
    assert page.locator("#another h2 span").inner_text() == "1600\u00a0mL"
    assert page.evaluate("document.activeElement.tagName") == "BODY"


def test_keep_awake_asks_by_a_tap_and_again_when_the_page_comes_back(browser: Browser, address: str) -> None:
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    page.add_init_script("""
      window.asked = 0;
      Object.defineProperty(navigator, 'wakeLock', { value: { request: async () => {
        asked += 1;
        const lock = new EventTarget();
        lock.release = async () => lock.dispatchEvent(new Event('release'));
        window.lock = lock;
        return lock;
      } } });""")
    page.goto(address + SHEET)
    assert page.evaluate("asked") == 0
    page.get_by_role("button", name="Keep awake").click()
    page.get_by_role("button", name="Stays awake").wait_for()
    page.evaluate("lock.release()")
    page.get_by_role("button", name="Keep awake").wait_for()
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    page.get_by_role("button", name="Stays awake").wait_for()
    assert page.evaluate("asked") == 2
    page.get_by_role("button", name="Stays awake").click()
    page.get_by_role("button", name="Keep awake").wait_for()
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert page.evaluate("asked") == 2
    context.close()


def test_a5_paper_starts_each_batch_on_a_sheet_of_its_own(browser: Browser, address: str) -> None:
    page = opened(browser, address + SHEET, screen="red")
    row(page, "make-1-l", "Sodium sulfite").click()
    pdf = page.pdf(prefer_css_page_size=True)
    sheets = list(PDFPage.get_pages(io.BytesIO(pdf)))
    assert {tuple(round(side / 72 * 25.4) for side in sheet.mediabox[2:]) for sheet in sheets} == {(148, 210)}
    texts = [extract_text(io.BytesIO(pdf), page_numbers=[at]).replace("\u00a0", " ") for at in range(len(sheets))]
    assert "Gloves and goggles on" in texts[0]
    first = next(at for at, text in enumerate(texts) if text.startswith("250"))
    assert "current safety data sheet" in "".join(texts[:first])
    starts = [text.split("\n")[0] for text in texts if text.startswith(("250", "500", "600", "1 L", "2 L", "5 L"))]
    assert starts == ["250 mL", "500 mL", "600 mL", "1 L", "2 L", "5 L"]
    printed = "\n".join(texts)
    assert "Keep awake" not in printed
    assert "ticked" not in printed


def test_sheets_are_no_search_results_and_ask_no_other_host(browser: Browser, address: str, site: Site) -> None:
    assert '"bench/' not in (site.folder / "search" / "search_index.json").read_text("utf-8")
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address + SHEET, wait_until="networkidle")
    assert [url for url in asked if not url.startswith(address)] == []
    context.close()
