"""schema.org's HowTo in the head of a formula's page, read by an HTML parser and by one of JSON."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from typing import Any

import pytest

from reckoner.editions.head import furnish
from reckoner.pages.kinds import pages
from small import chemical, formula, results, supplier

BEFORE = "<!doctype html><html><head><meta charset=utf-8></head><body><script>1</script></body></html>"
HOSTILE = "</script><script>alert(1)</script> & <!-- \u2028 ]]>"


class Blocks(HTMLParser):
    """Every script element with its type and text, as an HTML parser sees them."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[tuple[str, str]] = []
        self.inside: str | None = None
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "script":
            self.inside = dict(attrs).get("type") or ""
            self.found.append((self.inside, ""))

    def handle_data(self, data: str) -> None:
        if self.inside is not None:
            self.found[-1] = (self.inside, self.found[-1][1] + data)

    def handle_endtag(self, tag: str) -> None:
        self.inside = None if tag == "script" else self.inside


def html_of(more: str = "", name: str = "bath", priced: bool = True) -> str:
    files = {
        "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
        "solutions/bath.yml": formula("bath", "[{chemical: salt, form: solid, amount: 100 g}]", more=more).replace(
            "name: bath", "name: " + json.dumps(name)
        ),
    }
    if priced:
        files["prices/shop/supplier.yml"] = supplier()
        offer = "{chemical: salt, form: solid, pack: 1 kg, price: 10.00 EUR}"
        files["prices/shop/2026-11-01.yml"] = f"date: 2026-11-01\noffers: [{offer}]\n"
    made = {page.path: page for page in pages(results(files))}
    assert [path for path, page in made.items() if page.linked_data] == ["solutions/bath.md"]
    return furnish(BEFORE, "./", True, made["solutions/bath.md"].linked_data)


def data(html: str) -> Any:
    (block,) = [text for kind, text in Blocks(html).found if kind == "application/ld+json"]
    return json.loads(block)


def test_supplies_steps_and_cost_of_the_first_batch() -> None:
    """100 g at 1 ct a gram and 1 L of water at 0.4 ct: 1.00 EUR."""
    found = data(html_of("mixing: [stir it, let it stand]\n"))
    assert (found["@context"], found["@type"], found["name"]) == ("https://schema.org", "HowTo", "bath")
    salt, water = found["supply"]
    assert salt["name"] == "salt, solid"
    assert salt["requiredQuantity"] == {
        "@type": "QuantitativeValue",
        "value": "100",
        "unitCode": "GRM",
        "unitText": "g",
    }
    assert (water["name"], water["requiredQuantity"]) == ("tap water", "to make 1000 mL")
    assert [step["text"] for step in found["step"]] == ["Protect yourself.", "stir it", "let it stand"]
    assert [step["position"] for step in found["step"]] == [1, 2, 3]
    assert found["step"][0]["itemListElement"][0] == {"@type": "HowToTip", "text": "wear gloves"}
    assert found["estimatedCost"] == {"@type": "MonetaryAmount", "currency": "EUR", "value": "1.00"}


def test_no_cost_where_a_price_is_missing() -> None:
    assert "estimatedCost" not in data(html_of(priced=False))


def test_nothing_in_the_data_ends_the_block() -> None:
    html = html_of(f"mixing: [{json.dumps(HOSTILE, ensure_ascii=False)}]\n".replace("\u2028", ""), HOSTILE[:-5])
    assert [kind for kind, _ in Blocks(html).found] == ["", "application/ld+json", ""]
    found = data(html)
    assert found["name"] == HOSTILE[:-5].strip()
    assert found["step"][1]["text"] == " ".join(HOSTILE.replace("\u2028", "").split())


def test_what_could_end_a_script_is_refused() -> None:
    with pytest.raises(ValueError):
        furnish(BEFORE, "./", True, '{"name":"</script>"}')


def test_the_policy_names_scripts_and_no_data() -> None:
    def allowed(html: str) -> str:
        return re.findall(r"script-src [^;]*", html)[0]

    assert allowed(html_of()) == allowed(furnish(BEFORE, "./", True))
