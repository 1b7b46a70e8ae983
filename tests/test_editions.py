"""The editions' pure parts: one file, packs and their list, the policy, style sheets, icons."""

from __future__ import annotations

import gzip
import json
import re
from pathlib import Path

import pytest
from PIL import Image

from reckoner.editions.head import furnish
from reckoner.editions.manifest import manifest
from reckoner.editions.offline import PLACE, store, worker
from reckoner.editions.parts_kept import LEFT_OUT
from reckoner.editions.policy import hash_of, policy
from reckoner.editions.single_file import single_file
from reckoner.editions.style_used import lighter, only_used, used
from reckoner.editions.thinning import FinishedPage
from reckoner.editions.tokens import read, write
from site_build import Site

HOME = FinishedPage("index", "", '<h1 id="home">Home</h1><p><a href="solutions/a/">A</a></p>')
FORMULA = FinishedPage(
    "solutions/a",
    "solutions/a/",
    '<h1 id="a">A</h1><p class="hb-jump"><a href="#mix">Mix</a></p>'
    '<table class="hb-weigh"><tr><td><a href="../../chemicals/b/">B</a></td><td><b>1&#46;5 g</b></td></tr></table>'
    '<h2 id="mix">Mix</h2><p>Stir <a href="../../chemicals/b/#forms">B</a>.</p>'
    '<p><a href="../../labels/a/">Labels</a></p><p>See <a href="https://example.org/x">there</a>.</p>'
    '<h2 id="cost">Cost</h2><p>3 euro</p><h2 id="source">Source</h2><p>Invented</p>',
)
CHEMICAL = FinishedPage("chemicals/b", "chemicals/b/", '<h1>B</h1><h2 id="forms">Forms</h2><p hidden>later</p>')
LABEL = FinishedPage("labels/a", "labels/a/", "<h2>Label</h2>")


def whole() -> str:
    return single_file((LABEL, CHEMICAL, FORMULA, HOME), "Book", "1 Jan 2026")


def body(text: str) -> str:
    return text[text.index('<section id="index">') :]


def test_links_become_places_in_the_file() -> None:
    text = body(whole())
    assert '<section id="index"><h2>Home</h2><p><a href=#s1>A</a></p></section>' in text
    assert '<section id="s1"><h2>A</h2><p class=j><a href=#s1.1>Mix</a>' in text
    assert "<a href=#c2>B</a><td><b>1.5 g</b>" in text
    assert "<h3 id=s1.1>Mix</h3><p>Stir <a href=#c2.0>B</a>." in text
    assert '<section id="c2"><h2>B</h2><h3 id=c2.0>Forms</h3></section>' in text
    assert "<a href=https://example.org/x>there</a>" in text


def test_what_is_left_out_is_out_and_links_to_it_are_gone() -> None:
    text = body(whole())
    for gone in ("3 euro", "Cost", "Label", "later"):
        assert gone not in text
    assert "<h3>Source</h3><p>Invented" in text


def test_the_same_in_any_order() -> None:
    assert whole() == single_file((HOME, FORMULA, CHEMICAL, LABEL), "Book", "1 Jan 2026")


def test_every_rule_of_what_is_left_out_finds_something(site: Site) -> None:
    """A heading that was renamed would be back in the file unseen."""
    ids = {
        path.parent.relative_to(site.folder).as_posix(): {
            word
            for words in re.findall(r"""(?:<h[23] id|class)="([^"]+)""", path.read_text("utf-8"))
            for word in words.split()
        }
        for path in site.folder.rglob("index.html")
    }
    # A list of pages is called index where it is rendered.
    ids |= {f"{path}/index": there for path, there in ids.items()}
    for rule in LEFT_OUT:
        found = [there for path, there in ids.items() if re.fullmatch(rule.pages, path)]
        assert any(not rule.section or rule.section in there for there in found), rule


@pytest.mark.parametrize(
    ("html", "short"),
    [
        ("<p>a</p>\n<p>b  c</p>", "<p>a<p>b c</p>"),
        ("<p>a <b>b</b> <i>c</i></p>", "<p>a <b>b</b> <i>c</i></p>"),
        ("<li>a</li> <li>b</li>", "<li>a<li>b</li>"),
        ("<div><p>a</p></div>", "<div><p>a</div>"),
        ("<p>a</p> text", "<p>a</p>text"),
        ('<a title="x &quot;y&quot;">a &lt; b &amp;&nbsp;c</a>', '<a title="x &quot;y&quot;">a &lt; b &amp;\xa0c</a>'),
        ('<svg viewBox="0 0 1 1"><path d="M0 0"/></svg>', '<svg viewBox="0 0 1 1"><path d="M0 0" /></svg>'),
        ("<!-- no --><br/>a", "<br>a"),
        ("<td>a</td><!-- b --><td>c</td>", "<td>a<td>c</td>"),
    ],
)
def test_shortest_html(html: str, short: str) -> None:
    assert write(read(html)) == short
    assert write(read(short)) == short


FILES = [
    ("index.html", b"<p>home</p>"),
    ("a/index.html", b"<p>a</p>" * 60_000),
    ("assets/x.js", b"1"),
    ("assets/x.js.map", b"{}"),
    ("assets/javascripts/lunr/min/lunr.de.min.js", b"2"),
    ("sitemap.xml", b"<x/>"),
    ("sw.js", b"3"),
]


def test_packs_hold_the_pages_and_the_list_tells_where() -> None:
    kept = store(FILES, "1 Jan 2026")
    listed = json.loads(kept.listed)
    packs = dict(kept.packs)
    assert set(listed["pages"]) == {"index.html", "a/index.html"}
    for path, (pack, start, end) in listed["pages"].items():
        assert gzip.decompress(packs[pack])[start:end] == dict(FILES)[path]
    assert [path for path, _, _ in listed["files"]] == ["assets/x.js", *packs]
    assert kept.size == 1 + sum(map(len, packs.values())) < 10_000
    assert listed["day"] == "1 Jan 2026"


def test_a_build_is_named_by_what_is_in_it() -> None:
    def build(files: list[tuple[str, bytes]]) -> str:
        return str(json.loads(store(files, "1 Jan 2026").listed)["build"])

    assert build(FILES) == build(FILES[::-1])
    assert build(FILES) != build([*FILES[1:], ("index.html", b"<p>home.</p>")])
    assert build(FILES) == build([*FILES[:-1], ("sw.js", b"another")])


def test_the_list_has_one_place_in_the_worker() -> None:
    assert worker(f"const LIST = {PLACE};", "{}") == "const LIST = {};"
    with pytest.raises(ValueError, match="no single"):
        worker("const LIST = 1;", "{}")


def test_the_policy_names_inline_scripts_and_no_others() -> None:
    page = '<script>a()</script><script src="b.js"></script><script type="application/json">{}</script>'
    rule = policy(page)
    assert f"script-src 'self' '{hash_of('a()')}';" in rule
    assert rule.count("sha256-") == 1
    assert "unsafe" not in rule
    assert "http" not in rule


def test_the_policy_stands_before_all_that_it_rules() -> None:
    page = furnish(
        '<head>\n  <meta charset="utf-8">\n\n  <script>a( )\n  b</script></head><pre>x\n\n  y</pre>', "../", True
    )
    assert page.index("Content-Security-Policy") < page.index("<link") < page.index("<script>")
    assert f"{hash_of('a( )' + chr(10) + '  b')}" in page
    assert "<pre>x\n\n  y</pre>" in page
    assert '<link rel="manifest" href="../handbook.webmanifest">' in page
    assert "manifest" not in furnish("<meta charset=utf-8>", "./", False)


def test_styles_of_what_is_not_there_go() -> None:
    names = used(
        ['<p dir="ltr" class="a b"><i class=c data-md-color-scheme="slate">'], ["x.add('d--e');set('red','rtl')"]
    )
    assert names.classes == {"a", "b", "c", "d--e"}
    css = '@charset "UTF-8";.a,.z{x:1}.y .a{x:2}.d--e:not(.q){x:3}@media print{.z{x:4}}@keyframes k{0%{x:5}}'
    assert only_used(css, names) == '@charset "UTF-8";.a{x:1}.d--e:not(.q){x:3}@keyframes k{0%{x:5}}'
    chosen = "[data-md-color-scheme=slate]{x:1}[data-md-color-scheme=red]{x:2}[dir=ltr] .a{x:3}"
    # A word in a script is a scheme: no script gives a page another main colour.
    other = "[data-md-color-primary=red]{x:4}[data-md-color-primary=blue]{x:4}[dir=rtl] .a{x:5}"
    assert only_used(chosen + other, names) == chosen


def test_variables_that_nobody_reads_go() -> None:
    css = ":root{--a:url('data:;{}');--b:1;--c:var(--d);--d:2}p{color:var(--b)}"
    assert lighter({"x": css}, ["<p>"], [], "") == {"x": ":root{--b:1;}p{color:var(--b)}"}
    assert "--c" in lighter({"x": css}, ["<p>"], [], "a{color:var(--c)}")["x"]


ASSETS = Path(__file__).parent.parent / "hooks" / "theme" / "assets"


def test_an_icon_has_the_size_that_its_name_tells() -> None:
    for path in ASSETS.glob("icon-*.png"):
        with Image.open(path) as icon:
            assert icon.size == (int(path.stem.removeprefix("icon-")),) * 2
            assert icon.getpixel((0, 0)) == (0x27, 0x34, 0x3B), "a mask may take the corners away"


def test_the_manifest_has_what_installing_needs() -> None:
    members = json.loads(manifest("Formula handbook", "Words", "en"))
    assert (members["start_url"], members["scope"], members["id"]) == ("./", "./", "./")
    assert members["display"] == "standalone"
    assert all((ASSETS.parent / icon["src"]).is_file() for icon in members["icons"])
    assert {(icon["sizes"], icon.get("purpose", "any")) for icon in members["icons"]} >= {
        ("192x192", "any"),
        ("512x512", "any"),
        ("512x512", "maskable"),
    }
