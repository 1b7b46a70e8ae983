"""The four screens: kept, without a flash, and in red and amber every pixel counted."""

from __future__ import annotations

import pytest
import segno
from playwright.sync_api import Browser, Page

from phone import Colour, colours, not_amber, not_red, opened

pytestmark = pytest.mark.browser
FORMULA, BENCH, LABEL = "solutions/bw-mq-borax/", "bench/bw-mq-borax/", "labels/bw-caustic-contrast-working/"
PROCESS = "processes/motion-picture-colour-negative-home/"
PAGES = ["", FORMULA, BENCH, PROCESS, LABEL, "kit-or-own/", "darkroom-screen/"]
WRONG = {"red": not_red, "amber": not_amber}
#: Text that is drawn thinner and smaller than red on black can carry.
TOO_SMALL = """() => {
  const found = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const at = walk.currentNode.parentElement, box = at.getBoundingClientRect(), style = getComputedStyle(at);
    const hidden = !walk.currentNode.data.trim() || at.closest('script, style, noscript, title, desc') || !box.width;
    if (hidden || !at.checkVisibility({ visibilityProperty: true, opacityProperty: true })) { continue; }
    const size = parseFloat(style.fontSize);
    if (size < 24 && !(size >= 18.66 && style.fontWeight >= 700)) { found.push(at.outerHTML.slice(0, 80)); }
  }
  return found;
}"""


def lit(counts: dict[Colour, int]) -> int:
    """Pixels of full strength: the page is not simply black."""
    return sum(count for colour, count in counts.items() if colour[0] == 255)


def check(page: Page, screen: str) -> None:
    counts = colours(page)
    assert WRONG[screen](counts) == {}
    assert lit(counts) > 300


@pytest.mark.parametrize(
    ("path", "screen"), [*((path, "red") for path in PAGES), *((path, "amber") for path in ("", BENCH, LABEL))]
)
def test_pages_hold_no_other_colour(browser: Browser, address: str, path: str, screen: str) -> None:
    page = opened(browser, address + path, screen)
    check(page, screen)
    page.evaluate("getSelection().selectAllChildren(document.body)")
    check(page, screen)
    page.evaluate("getSelection().removeAllRanges()")
    for _ in range(4):
        page.keyboard.press("Tab")
    check(page, screen)
    page.evaluate("window.scrollTo(0, document.documentElement.scrollHeight)")
    page.wait_for_timeout(200)
    check(page, screen)
    page.get_by_role("button", name="Screen", exact=True).click()
    check(page, screen)


@pytest.mark.parametrize("screen", ["red", "amber"])
def test_drawer_search_and_fields_hold_no_other_colour(browser: Browser, address: str, screen: str) -> None:
    page = opened(browser, address, screen)
    page.locator(".md-header__button[for=__drawer]").click()
    page.wait_for_timeout(500)
    check(page, screen)
    page = opened(browser, address, screen)
    page.locator(".md-header__button[for=__search]").click()
    page.locator(".md-search__input").press_sequentially("sulphite")
    page.locator(".md-search-result__item").first.wait_for(timeout=10_000)
    check(page, screen)
    page.locator(".md-search-result__link").first.hover()
    check(page, screen)
    page = opened(browser, address + BENCH, screen)
    page.locator(".bs-volume").fill("7")
    page.keyboard.press("Control+a")
    check(page, screen)
    page.locator(".bs-volume").fill("700")
    page.locator("#another .bs-row").first.click()
    page.locator("#another .bs-clear").click()
    check(page, screen)
    page = opened(browser, address + FORMULA, screen, width=1280)
    check(page, screen)


def test_a_code_is_left_out_of_a_red_label_and_its_address_said(browser: Browser, address: str) -> None:
    """The site of the tests has no address of its own, so its labels carry no code: one is put in."""
    page = opened(browser, address + LABEL, "red")
    page.evaluate(
        "svg => document.querySelector('.hb-foot').insertAdjacentHTML('beforeend',"
        " `<div class=hb-qr data-address='https://handbook.invalid/solutions/x/'>${svg}</div>`)",
        segno.make("https://handbook.invalid/").svg_inline(),
    )
    code = page.locator(".hb-qr").first
    code.scroll_into_view_if_needed()
    assert not code.locator("svg").is_visible()
    said = code.evaluate("e => getComputedStyle(e, '::after').content")
    assert "No code on a red or amber screen" in said
    assert "handbook.invalid/solutions/x/" in said or "attr(" in said
    check(page, "red")
    page.evaluate("document.documentElement.setAttribute('data-hb-screen', 'light')")
    assert code.locator("svg").is_visible()


def test_any_picture_would_be_red_too(browser: Browser, address: str) -> None:
    """The layers take the colour out of whatever is shown, known to the style sheets or not."""
    for screen in ("red", "amber"):
        page = opened(browser, address + FORMULA, screen)
        page.evaluate("""() => document.querySelector('h1').insertAdjacentHTML('afterend',
          '<div style="height:9rem;background:linear-gradient(90deg,#0f0,#00f,#0ff,#fff,#f0f)">&#x1F9EA;'
          + '<input type=checkbox checked><progress></progress><input type=range></div>')""")
        assert WRONG[screen](colours(page)) == {}


@pytest.mark.parametrize("path", PAGES)
def test_red_type_is_large_or_bold_and_stays_on_the_page(browser: Browser, address: str, path: str) -> None:
    page = opened(browser, address + path, "red", width=320)
    assert page.evaluate(TOO_SMALL) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


@pytest.mark.parametrize("path", ["", BENCH, LABEL])
def test_chosen_at_the_bottom_kept_and_no_flash_on_the_next_page(browser: Browser, address: str, path: str) -> None:
    page = opened(browser, address + path)
    page.get_by_role("button", name="Screen", exact=True).click()
    for name in ("Light", "Dark", "Red", "Amber"):
        box = page.get_by_role("button", name=name, exact=True).bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 48
        assert box["y"] > 844 / 2
    page.get_by_role("button", name="Red", exact=True).click()
    page.add_init_script("""
      window.frames_seen = [];
      const look = () => {
        const at = document.body || document.documentElement;
        if (document.body) {
          const screen = document.documentElement.dataset.hbScreen, scheme = at.dataset.mdColorScheme;
          frames_seen.push([screen, scheme, getComputedStyle(at, '::after').mixBlendMode].join());
        }
        requestAnimationFrame(look);
      };
      requestAnimationFrame(look);""")
    page.goto(address + FORMULA)
    page.wait_for_timeout(300)
    assert set(page.evaluate("frames_seen")) == {"red,darkroom,multiply"}
    check(page, "red")


def test_dimming_is_dark_red_and_off_after_a_reload(browser: Browser, address: str) -> None:
    page = opened(browser, address + FORMULA, "red")
    page.get_by_role("button", name="Screen", exact=True).click()
    brightest = []
    for _ in range(3):
        page.locator(".hb-screen-panel > button").click()
        counts = colours(page)
        assert not_red(counts) == {}
        brightest.append(max(colour[0] for colour in counts))
    assert brightest == sorted(brightest, reverse=True)
    assert brightest[-1] < 100
    page.reload()
    assert lit(colours(page)) > 300


def test_light_and_dark_follow_the_system_until_one_is_chosen(browser: Browser, address: str) -> None:
    context = browser.new_context(color_scheme="dark", service_workers="block")
    page = context.new_page()
    for path in ("", BENCH):
        page.goto(address + path)
        assert page.evaluate("document.documentElement.dataset.hbScreen") == "dark"
    page.get_by_role("button", name="Screen", exact=True).click()
    page.get_by_role("button", name="Light", exact=True).click()
    page.goto(address)
    assert page.evaluate("document.body.dataset.mdColorScheme") == "default"
    context.close()


@pytest.mark.parametrize("path", [FORMULA, BENCH, LABEL])
def test_paper_stays_white_whatever_the_screen(browser: Browser, address: str, path: str) -> None:
    page = opened(browser, address + path, "red")
    page.emulate_media(media="print")
    counts = colours(page)
    pale = sum(count for colour, count in counts.items() if min(colour) > 220)
    assert pale > 0.75 * sum(counts.values())


def test_the_page_about_screens_calls_none_safe(browser: Browser, address: str) -> None:
    page = opened(browser, address, scripts=True)
    page.get_by_role("button", name="Screen", exact=True).click()
    assert "No screen is safe for film or paper" in page.locator(".hb-screen-panel").inner_text()
    page.get_by_role("link", name="About these screens").click()
    said = page.locator(".md-content").inner_text()
    for words in ("No screen is safe for film or paper", "total darkness", "keyboard", "Fog test", "Panchromatic"):
        assert words in said


#: Colours of what is seen, by tag: scripts may add a line at any moment.
PAINT = """() => [...new Set([...document.querySelectorAll('body, body *')].filter(part => part.checkVisibility())
  .map(part => [part, getComputedStyle(part)])
  .map(([part, style]) => [part.tagName, style.color, style.backgroundColor,
    style.borderBottomColor].join()))].sort()"""


@pytest.mark.parametrize("path", PAGES)
def test_paper_is_the_same_whichever_screen_prints_it(browser: Browser, address: str, path: str) -> None:
    """Black on white: neither the light links of the dark screen nor the white ones of the darkroom's go on paper."""
    printed = {}
    for screen in ("light", "dark", "red", "amber"):
        page = opened(browser, address + path, screen, still=True)
        page.emulate_media(media="print")
        printed[screen] = page.evaluate(PAINT)
    assert len(printed["light"]) > 5
    assert [screen for screen, colours in printed.items() if colours != printed["light"]] == []
