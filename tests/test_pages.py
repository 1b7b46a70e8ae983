"""Words and escaping: text from data stays text, whatever it looks like."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from html import unescape
from pathlib import Path

import markdown
import pytest
from mkdocs.utils.meta import get_data

from payloads import PAYLOADS, TYPED
from reckoner.money import Money
from reckoner.pages.kinds import pages
from reckoner.pages.safety.hazard_view import chemical_jars
from reckoner.pages.shared.display import Display, escape
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.shared.render import environment, render
from reckoner.problems import HandbookError
from reckoner.records.values import Range, parse_clock, parse_duration, parse_temperature
from small import SOURCE, chemical, formula, results

SHOW = Display("en_GB")

#: What an author could type, on purpose or not, that Markdown, HTML or Jinja would take for more than text.


@pytest.mark.parametrize("text", PAYLOADS)
def test_escaped_text_reads_as_it_was_written(text: str) -> None:
    """In a paragraph of Markdown and in a block of HTML alike."""
    for source in (f"{escape(text)}", f"<p>{escape(text)}</p>"):
        html = markdown.markdown(source, extensions=["attr_list", "toc"])
        assert html.count("<") == 2, html
        assert _text(html) == " ".join(text.split())


@pytest.mark.parametrize("text", [*PAYLOADS, "Ammonium thiosulfate, 60 %", "Entwickler für Farbfilm", "--- x", "a: b"])
def test_titles_reach_mkdocs_as_they_were_written(text: str) -> None:
    """A title that YAML refused would leave the whole front matter to Markdown, and what stands in it would be live."""
    page = environment().from_string("---\ntitle: {{ page | front_matter }}\n---\n\nbody\n").render(page=text)
    body, read = get_data(page)
    assert body.strip() == "body"
    assert unescape(read["title"]) == text
    assert not set("<>'") & set(read["title"])


def _text(html: str) -> str:
    inner = html.removeprefix("<p>").removesuffix("</p>")
    return " ".join(unescape(inner).split())


@pytest.mark.parametrize("text", TYPED)
def test_hostile_names_and_notes_are_text_on_the_page(text: str) -> None:
    quoted = "'" + text.replace("'", "''") + "'"
    made = results(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]").replace(
                "use: a test", f"use: {quoted}\nsynonyms: [{quoted}]\ncautions: [{quoted}]"
            ),
            "solutions/a/fix.yml": formula(
                "fix", "[{chemical: salt, form: solid, amount: 1 g}]", more=f"mixing: [{quoted}]\nnotes: [{quoted}]\n"
            ).replace("name: fix", f"name: {quoted}"),
        }
    )
    tags = {"script", "img", "b onmouseover", "!--"}
    for page in pages(made):
        body = page.markdown.split("\n---\n", 1)[1]
        html = markdown.markdown(body, extensions=["attr_list", "toc"])
        assert not any(f"<{tag}" in html for tag in tags), page.path
        assert 'href="javascript:' not in html


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        (SHOW.stepped(Decimal("2.5"), Decimal("0.01"), "g"), "2.50\u00a0g"),
        (SHOW.stepped(Decimal(380), Decimal(10), "mL"), "380\u00a0mL"),
        (SHOW.exactish(Decimal("0.0012"), "g"), "0.0012\u00a0g"),
        (SHOW.exactish(Decimal("71.428571"), "L"), "71.4\u00a0L"),
        (SHOW.money(Money(Decimal("0.005"), "EUR")), "€0.01"),
        (SHOW.money(Money(Decimal("0.004"), "EUR")), "<€0.01"),
        (SHOW.money(Money(Decimal("1234.565"), "EUR")), "€1,234.57"),
        (SHOW.range(parse_clock("3:15")), "3:15"),
        (SHOW.range(parse_clock("0:30-1:00")), "0:30–1:00"),
        (SHOW.range(parse_duration("1 year")), "1\u00a0year"),
        (SHOW.range(parse_duration("6-8 weeks")), "6–8\u00a0weeks"),
        (SHOW.range(parse_temperature("21-38 °C")), "21–38\u00a0°C"),
        (SHOW.percent(Decimal("0.0267")), "2.7\u00a0%"),
        (Display("de_DE").number(Decimal("2.50")), "2,5"),
    ],
)
def test_figures_read_as_they_should(said: str, shown: str) -> None:
    assert said == shown


@pytest.mark.parametrize(
    ("here", "directories", "to", "address"),
    [
        ("solutions/a.md", True, "chemicals/b", "../../chemicals/b/"),
        ("solutions/a.md", False, "chemicals/b", "../chemicals/b.html"),
        ("index.md", True, "solutions/a", "solutions/a/"),
        ("solutions/index.md", True, "solutions/a", "../solutions/a/"),
        ("solutions/a.md", True, "", "../../"),
        ("index.md", True, "", "./"),
        ("solutions/a.md", False, "", "../index.html"),
    ],
)
def test_addresses_from_page_to_page(here: str, directories: bool, to: str, address: str) -> None:
    assert Links(here, directories).path(to) == address


def test_a_template_that_fails_says_where(tmp_path: Path) -> None:
    (tmp_path / "bad.md.jinja").write_text("# Fine\n\n{{ page.nothing_like_this }}\n", "utf-8")
    with pytest.raises(HandbookError, match=r"bad\.md\.jinja:3:1: the template fails: .*nothing_like_this"):
        render("bad.md.jinja", Range(Decimal(1), Decimal(2), "weeks"), (tmp_path,))


def test_a_former_id_keeps_its_address() -> None:
    made = results(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
            "solutions/a/fix.yml": formula(
                "fix", "[{chemical: salt, form: solid, amount: 1 g}]", more="formerly: [old-fix]\n"
            ),
            "plans/p.yml": (
                "id: p\nformerly: [old-p]\nname: p\nover: 1 months\nwants: [{formula: fix, litres: 1 L}]\n"
            ),
        }
    )
    moved = {page.path: page.markdown for page in pages(made)}
    assert 'href="../../solutions/fix/"' in moved["solutions/old-fix.md"]
    assert 'href="../../plans/p/"' in moved["plans/old-p.md"]


def test_a_statement_names_the_organ_or_route_of_its_entry() -> None:
    record = (
        "hazards: [{forms: [solid], classes: [{hazard: STOT RE 1, h: H372, effect: thyroid},"
        " {hazard: Eye Irrit. 2, h: H319}], jurisdiction: GB, edition: a table, status: harmonised, " + SOURCE + "}]\n"
    )
    made = results({"chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]") + record})
    (jar,) = chemical_jars(
        made.catalogue.chemicals["salt"], PageWriter(made, Display("en_GB"), Links("chemicals/salt.md"))
    )
    assert [one.partition("Organ or route:")[2] for one in jar.statements] == ["", " thyroid."]


#: What pages said before, in words that nobody in the trade uses; the words for each stand in their place now.
OLD_WORDS = (
    "Kit or own",
    "strung together",
    "its lower end counts",
    "as much for each change",
    "used bath is another thing",
    "makes more than a litre",
    "How old these facts",
    "Keep and use up",
    "Neighbours that must not meet",
    "gap that is told",
    "Runs out first",
    "Film through it",
    "dead in packs",
    "gives out first",
    "× its own time",
    "HANDBOOK_URL",
    "poison_centre",
    "; to start",
)


@pytest.mark.parametrize("words", OLD_WORDS)
def test_pages_speak_the_words_of_the_trade(words: str, demo_pages: Mapping[str, str]) -> None:
    """Names of settings are for README, "How to write a formula" and the files themselves."""
    assert len(demo_pages) > 400
    assert not [path for path, text in demo_pages.items() if words in text and path != "how-to-write.md"]
