"""One real MkDocs build of the demonstration data on a fixed day: what a reader gets."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from html import unescape
from pathlib import Path

import jsonschema
import pytest

from long_run import LONG
from reckoner.editions.exact_names import plain
from site_build import Site, build_here, build_site, project, tree

IDS = [path.stem for path in sorted((Path(__file__).parent.parent / "formulas").rglob("solutions/*/*.yml"))]


def test_every_formula_has_a_page(site: Site) -> None:
    assert [i for i in IDS if not (site.folder / "solutions" / i / "index.html").is_file()] == []


def test_nothing_is_requested_from_elsewhere(site: Site) -> None:
    """Fonts, scripts, styles and pictures all come from the site itself."""
    loading = re.compile(r"""<(?:script|img|link|iframe|source)\b[^>]*?(?:src|href)=["']?(https?:)?//""")
    pages = sorted(site.folder.rglob("*.html"))
    assert pages
    assert [page.name for page in pages if loading.search(page.read_text("utf-8"))] == []
    styles = "".join(path.read_text("utf-8") for path in site.folder.rglob("*.css"))
    assert not re.search(r"url\(\s*[\"']?(https?:)?//", styles)


def test_links_lead_somewhere(site: Site) -> None:
    """Every relative link of every page ends at a file of the site."""
    missing = set()
    for page in site.folder.rglob("*.html"):
        if page.name == "404.html":
            continue
        for href in re.findall(r"""<a\b[^>]*?href=["']?([^"'\s>]+)""", page.read_text("utf-8")):
            target = href.split("#")[0]
            if not target or ":" in target:
                continue
            path = (page.parent / target).resolve()
            if not (path.is_file() or (path / "index.html").is_file()):
                missing.add((page.relative_to(site.folder).as_posix(), href))
    assert sorted(missing) == []


def test_figures_fit_their_schema(site: Site) -> None:
    figures = json.loads((site.folder / "data" / "handbook.json").read_text("utf-8"))
    schema = json.loads((site.folder / "data" / "handbook.schema.json").read_text("utf-8"))
    jsonschema.validate(figures, schema)
    assert [formula["id"] for formula in figures["formulas"]] == sorted(IDS)


def test_figures_on_the_page_are_those_of_the_json(site: Site) -> None:
    """Each rounded amount that can be weighed stands on its formula's page with its unit."""
    for formula in site.figures["formulas"]:
        html = site.page(f"solutions/{formula['id']}")
        for batch in formula["batches"]:
            for row in batch["rows"]:
                if row["within_tolerance"]:
                    shown = re.compile(rf"<b>{re.escape(row['amount_rounded'])}(\.?0*)\u00a0{row['unit']}</b>")
                    assert shown.search(html), (formula["id"], batch["volume"], row)


def test_a_missing_price_never_makes_a_smaller_sum(site: Site) -> None:
    incomplete = [f for f in site.figures["formulas"] if f["cost"]["missing"]]
    assert "ecn2-developer" in {f["id"] for f in incomplete}
    for formula in incomplete:
        assert formula["cost"]["used_per_litre"] is None
        assert formula["cost"]["to_start"] is None
        assert "incomplete: no price for" in site.page(f"solutions/{formula['id']}")


def test_sums_are_the_sums_of_their_rows(site: Site) -> None:
    complete = [f for f in site.figures["formulas"] if not f["cost"]["missing"]]
    assert len(complete) >= 36
    for formula in complete:
        cost = formula["cost"]
        used = sum(Decimal(row["used"]) for row in cost["rows"])
        start = sum(Decimal(row["to_start"]) for row in cost["rows"])
        # Twelve decimals are written out, so a dozen rows may differ from the sum in the eleventh.
        assert abs(used - Decimal(cost["used_per_litre"])) < Decimal("1e-10")
        assert abs(start - Decimal(cost["to_start"])) < Decimal("1e-10")


def test_dates_of_prices_and_rates_stand_beside_them(site: Site) -> None:
    html = site.page("solutions/bw-mq-borax")
    assert re.search(r"\d{1,2} \w{3,4} 2026", html)
    assert "Suppliers and prices marked invented" in html


def test_film_formats_have_areas_and_the_convention_beside_them(site: Site) -> None:
    """100 ft of 16 mm is 0.486 m2 by SMPTE 101-2003; the trade's unit is said to be a convention."""
    page = site.page("film-formats")
    assert "0.4862\u00a0m²" in page
    assert "That is a convention" in page


def test_unassessed_hazards_say_so(site: Site) -> None:
    unknown = [f for f in site.figures["formulas"] if f["hazards"]["not_assessed"]]
    assert unknown
    for formula in unknown:
        assert "Not assessed:" in site.page(f"solutions/{formula['id']}")
    assert "Hazard classes: <strong>not assessed</strong>" in site.page("chemicals/bleach-accelerator-pba-1")


def test_no_page_calls_anything_safe(site: Site) -> None:
    """Not a mixture, a lamp, a screen or a way of disposal. A safelight is the lamp's name in the trade."""
    for page in sorted(site.folder.rglob("*.html")):
        text = re.sub(r"<[^>]+>", " ", unescape(page.read_text("utf-8"))).lower()
        for found in re.finditer(r"\bsafe\b(?:ly)?", text):
            around = text[max(0, found.start() - 90) : found.end() + 40]
            assert re.search(r"\b(no|not|never|nothing)\b", around), (page.name, around)


def test_search_knows_both_spellings_and_cas(site: Site) -> None:
    entries = json.loads((site.folder / "search" / "search_index.json").read_text("utf-8"))["docs"]
    texts = {
        entry["location"].split("#")[0]: " ".join((entry["title"], entry["text"], *entry.get("tags", ())))
        for entry in entries
    }
    assert "sulphite" in texts["chemicals/sodium-sulfite/"]
    assert "D-76" in texts["solutions/bw-mq-borax/"]
    script = (site.folder / "assets" / "names.js").read_text("utf-8")
    table = json.loads(script.partition("=")[2].rstrip(";\n"))
    found = [table["pages"][page][0] for page in table["names"][plain("7757-83-7")]]
    assert found == ["chemicals/sodium-sulfite/"]


def test_an_empty_old_list_means_no_warning(site: Site) -> None:
    """On the fixed day nothing is past its limit, so a strict build passes."""
    assert "WARNING" not in site.log


@pytest.mark.parametrize("page", ["index.html", "solutions/index.html", "chemicals/index.html", "processes/index.html"])
def test_section_pages_are_in_the_navigation(site: Site, page: str) -> None:
    assert (site.folder / page).is_file()


@pytest.mark.parametrize("switch", ["lean_search", "set_html_aside"])
def test_pages_are_the_same_with_a_shortcut_off(switch: str, small_site: Site, tmp_path: Path) -> None:
    """Both shortcuts change only how fast a page is made: the pages differ at most in empty lines."""
    root, site = project(tmp_path / "project"), small_site
    with (root / "mkdocs.yml").open("a", encoding="utf-8") as settings:
        settings.write(f"extra:\n  {switch}: false\n")
    plain = build_here(tmp_path / "site", root=root)
    assert plain.exit_code == 0, plain.log
    pages = sorted(path.relative_to(site.folder) for path in site.folder.rglob("*.html"))
    assert pages == sorted(path.relative_to(plain.folder) for path in plain.folder.rglob("*.html"))
    for page in pages:
        assert _lines(site.folder / page) == _lines(plain.folder / page), page


def _lines(path: Path) -> list[str]:
    return [line for line in path.read_text("utf-8").splitlines() if line.strip()]


def test_two_builds_are_the_same(plain_site: Site, tmp_path: Path) -> None:
    """A handbook with every key of every record; built by another process, whose sets are in another order."""
    again = build_site(tmp_path / "site", root=plain_site.folder.parent)
    assert tree(plain_site.folder) == tree(again.folder)


if LONG:

    def test_two_builds_of_the_demonstration_are_the_same(site: Site, tmp_path: Path) -> None:
        assert tree(site.folder) == tree(build_here(tmp_path / "site").folder)

    @pytest.mark.process
    def test_the_demonstration_builds_on_the_real_date(tmp_path: Path) -> None:
        """A strict build of another day is in every run: test_demo_day.py."""
        built = build_here(tmp_path / "site", day=None)
        assert built.exit_code == 0, built.log
        assert (built.folder / "solutions" / "bw-mq-borax" / "index.html").is_file()
