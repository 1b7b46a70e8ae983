"""A folder for a handbook of one's own: it builds at once, explains its settings, and overwrites nothing."""

from __future__ import annotations

import json
import re
from datetime import date
from html import unescape
from pathlib import Path

import jsonschema
import pytest
import yaml

from handbook_command import begin as beginning
from handbook_command.begin import begin, first_files
from handbook_command.command import main
from reckoner.audience import CLUB
from reckoner.build import Built, build, load_checked
from reckoner.guide import records_inside
from reckoner.library_news import KEPT
from reckoner.loading.files import kind_of
from reckoner.loading.source import parse_yaml
from reckoner.loading.structure import to_record
from reckoner.problems import Severity
from reckoner.records.catalogue import PERSONAL
from reckoner.records.record import Record, record_in
from reckoner.records.settings import Settings
from reckoner.write_schemas import all_schemas
from site_build import build_here, tree
from test_schemas import EditorLoader

Capture = pytest.CaptureFixture[str]
TODAY = date(2026, 11, 25)
#: The sign that hides a key: no space follows it.
UNUSED = re.compile(r"^( *)#(?=\S)", re.MULTILINE)
#: A key's explanation: below the sentence about all of them.
EXPLAINED = re.compile(r"^#   (\w+)  +\S", re.MULTILINE)
#: All of the library is chosen instead of some of it.
INSTEAD = "  everything: yes\n"
SETTINGS = first_files(TODAY)["formulas/settings.yml"]


def built(folder: Path, day: date) -> Built:
    return build(folder / "formulas", day)


def warnings(folder: Path, day: date, audience: str = PERSONAL) -> list[str]:
    problems = build(folder / "formulas", day, audience=audience).problems
    return [str(problem) for problem in problems if problem.severity is not Severity.NOTE]


@pytest.mark.parametrize("day", [TODAY, pytest.param(date(2027, 6, 30), marks=pytest.mark.sweep)])
def test_it_builds_without_a_warning_on_its_day_and_until_its_prices_are_old(day: date, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    begin(folder, day)
    assert warnings(folder, day) == []
    month = day.month + 4
    assert warnings(folder, day.replace(year=day.year + month // 13, month=(month - 1) % 12 + 1)) == []
    told = warnings(folder, day.replace(year=day.year + 1))
    assert any(f"price list example-supplier of {day} is out of date" in line for line in told), told


def test_for_its_club_it_builds_without_a_warning_too(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    assert warnings(tmp_path / "mine", TODAY, CLUB) == []


def test_it_has_processes_with_all_their_costs_and_all_that_is_invented_says_so(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    results = built(tmp_path / "mine", TODAY).results
    assert set(results.catalogue.processes) == {"my-print", "paper-print"}
    assert {"my-wash-aid", "paper-mq-1-2", "stop-citric", "fixer-plain-hypo"} <= set(results.formulas)
    costs = {name: result.cost for name, result in results.formulas.items()}
    assert [name for name, cost in costs.items() if cost is None or cost.missing] == []
    mine = results.catalogue.formulas["my-wash-aid"]
    (supplier,) = results.catalogue.suppliers.values()
    assert mine.source.certainty == supplier.source.certainty == "invented"
    assert supplier.invented
    assert "invented" in (results.catalogue.settings.notice or "")


@pytest.mark.process
def test_mkdocs_builds_it_strictly_as_it_is(tmp_path: Path) -> None:
    folder = tmp_path / "my own"
    begin(folder, TODAY)
    site = build_here(folder / "site", "--strict", root=folder)
    assert site.exit_code == 0, site.log
    assert "WARNING" not in site.log
    assert "A handbook just begun" in site.page("")
    assert "My wash aid (an invented example)" in site.page("solutions/my-wash-aid")
    assert "What was invented for you to begin with" in site.page("notes")
    assert "Own pages" in site.page("")
    assert "My first order" in site.page("plans/my-first-order")


@pytest.mark.process
def test_the_title_of_the_settings_is_the_name_on_every_page(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    settings = tmp_path / "mine" / "formulas" / "settings.yml"
    settings.write_text(SETTINGS.replace("title: My handbook", "title: Ada & Bo <darkroom>"), "utf-8")
    site = build_here(tmp_path / "mine" / "site", root=tmp_path / "mine")
    text = site.page("notes")
    text = (tmp_path / "mine" / "site" / "notes" / "index.html").read_text("utf-8")
    assert "<title>Notes - Ada &amp; Bo &lt;darkroom&gt;</title>" in text
    assert "My handbook" not in text
    assert "&amp;amp;" not in text
    manifest = json.loads((tmp_path / "mine" / "site" / "handbook.webmanifest").read_text("utf-8"))
    assert manifest["name"] == "Ada & Bo <darkroom>"


def page(made: Built, path: str) -> str:
    return next(page.markdown for page in made.pages if page.path == path)


def lines_on(made: Built, path: str) -> list[str]:
    """What a page prints to be copied."""
    return [unescape(text) for text in re.findall(r'<pre class="hb-lines">(.*?)</pre>', page(made, path), re.DOTALL)]


def test_the_example_of_a_plan_has_a_basket(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    plan = built(tmp_path / "mine", TODAY).results.plans["my-first-order"]
    assert not plan.bought.missing
    assert plan.bought.total.exact_minor > 0


def test_why_costs_are_missing_is_said_once_with_what_has_no_price(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    assert "a price is missing" not in page(built(tmp_path / "mine", TODAY), "index.md")
    (prices,) = (tmp_path / "mine" / "formulas" / "prices" / "example-supplier").glob("2*.yml")
    lines = prices.read_text("utf-8").splitlines(keepends=True)
    prices.write_text("".join(line for line in lines if "metol" not in line), "utf-8")
    home = page(built(tmp_path / "mine", TODAY), "index.md")
    assert home.count("Where no cost stands, a price is missing: Metol.") == 1
    assert "incomplete" not in home


def test_what_is_out_of_date_next_has_its_name(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    text = page(built(tmp_path / "mine", TODAY), "out-of-date.md")
    assert "the texts of all codes <small>hazard phrases of" in text
    assert ">all <small>" not in text


def test_a_paper_process_speaks_of_no_tank_and_no_film(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    text = page(built(tmp_path / "mine", TODAY), "processes/my-print.md")
    assert "Carbonate in the paper meets acid here" in text
    for words in ("Carbonate in the film", "your tanks", "tank shut", "for one 135"):
        assert words not in text, words


def test_the_lines_to_begin_a_plan_and_a_kit_with_work_as_they_are(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    data = tmp_path / "mine" / "formulas"
    plan = data / "plans" / "my-first-order.yml"
    plan.unlink()
    (lines,) = lines_on(built(tmp_path / "mine", TODAY), "plans/index.md")
    plan.write_text(lines, "utf-8")
    kit, compare = lines_on(built(tmp_path / "mine", TODAY), "kit-or-own.md")
    (data / "kits").mkdir()
    (data / "kits" / "my-kit.yml").write_text(kit, "utf-8")
    plan.write_text(f"{lines}\n{compare}\n", "utf-8")
    assert warnings(tmp_path / "mine", TODAY) == []
    made = built(tmp_path / "mine", TODAY)
    assert "My kit" in page(made, "kit-or-own.md")
    assert lines_on(made, "kit-or-own.md") == []


def sections() -> list[tuple[str, str]]:
    """Of the settings: remarks, and the keys below them with those that are remarks themselves made to count."""
    parts = []
    for block in SETTINGS.split("\n\n")[1:]:
        lines = block.splitlines()
        remarks = [line for line in lines if re.match(r"#(?: |$)", line)]
        keys = [line for line in lines if line not in remarks]
        parts.append(("\n".join(remarks), UNUSED.sub(r"\1", "\n".join(keys))))
    return parts


def test_every_key_of_the_settings_is_there_and_explained_above() -> None:
    explained: set[str] = set()
    for remarks, text in sections():
        tree = parse_yaml(text, "settings.yml").tree
        assert isinstance(tree, dict)
        assert len(remarks.removeprefix("# ")) > 20, text
        explained |= tree.keys()
        inside = [kind for key in tree for kind in _below(key)]
        wanted = {key for kind in inside for key in kind.by_key()}
        assert set(EXPLAINED.findall(remarks)) == wanted, text
        assert wanted <= _keys(tree), text
    assert explained == set(Settings.by_key())


def _below(key: str) -> list[type[Record]]:
    inner = record_in(Settings.by_key()[key].annotation)
    return [] if inner is None else list(records_inside(inner))


def _keys(tree: object) -> set[str]:
    if isinstance(tree, dict):
        return set(tree) | {key for value in tree.values() for key in _keys(value)}
    return {key for item in tree for key in _keys(item)} if isinstance(tree, list) else set()


def test_every_key_that_is_a_remark_may_be_used(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    used = UNUSED.sub(r"\1", SETTINGS.replace(INSTEAD.replace("  ", "  #"), ""))
    assert INSTEAD not in used
    record, problems = to_record(parse_yaml(used, "settings.yml"), Settings)
    assert (record is None, problems) == (False, ())
    (tmp_path / "mine" / "formulas" / "settings.yml").write_text(used, "utf-8")
    assert warnings(tmp_path / "mine", TODAY) == []


@pytest.mark.parametrize("name", ["shelf.yml", "settings.yml"])
def test_what_is_a_remark_fits_the_schema_too(name: str) -> None:
    files = first_files(TODAY)
    used = UNUSED.sub(r"\1", files[f"formulas/{name}"])
    schema = json.loads(all_schemas()[name.replace(".yml", ".json")])
    jsonschema.validate(yaml.load(used, EditorLoader), schema, jsonschema.Draft7Validator)


def test_bottles_that_are_a_remark_may_be_used(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    shelf = tmp_path / "mine" / "formulas" / "shelf.yml"
    shelf.write_text(UNUSED.sub(r"\1", shelf.read_text("utf-8")), "utf-8")
    made = built(tmp_path / "mine", TODAY)
    assert [problem for problem in made.problems if problem.severity is not Severity.NOTE] == []
    assert list(made.results.bottles) == ["stop-1"]


def test_every_data_file_names_its_schema_and_fits_it(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    data = tmp_path / "mine" / "formulas"
    files = sorted(data.rglob("*.yml"))
    assert len(files) == 7
    for path in files:
        first, _, rest = path.read_text("utf-8").partition("\n")
        schema = path.parent / first.removeprefix("# yaml-language-server: $schema=")
        kind = kind_of(path.relative_to(data))
        assert kind is not None
        assert schema.resolve() == tmp_path / "mine" / "schema" / f"{kind.name}.json"
        jsonschema.validate(
            yaml.load(rest, EditorLoader), json.loads(schema.read_text("utf-8")), jsonschema.Draft7Validator
        )


def test_the_processes_that_it_names_are_those_of_the_library(tmp_path: Path) -> None:
    begin(tmp_path / "mine", TODAY)
    settings = tmp_path / "mine" / "formulas" / "settings.yml"
    chosen = re.compile(r"^library:\n(?:  .*\n)+", re.MULTILINE)
    settings.write_text(chosen.sub("library: {everything: yes}\n", SETTINGS), "utf-8")
    library = set(load_checked(tmp_path / "mine" / "formulas", TODAY)[0].processes)
    (remarks,) = [remarks for remarks, text in sections() if text.startswith("library:")]
    named = remarks.partition("processes are ")[2].partition(".")[0]
    assert set(re.findall(r"[a-z][a-z-]+[a-z]", named)) - {"and"} == library - {"my-print"}


@pytest.fixture
def here(tmp_path: Path, fixed_day: None, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder at hand, on the fixed day."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_command_makes_it_and_says_how_to_go_on(here: Path, capsys: Capture) -> None:
    assert main(["begin", "new/my handbook"]) == 0
    said = capsys.readouterr().out
    assert "serve -f 'new/my handbook/mkdocs.yml'" in said
    assert "check 'new/my handbook'" in said
    assert main(["check", "new/my handbook"]) == 0
    made = here / "new" / "my handbook"
    assert set(tree(made)) == {*first_files(TODAY), KEPT, *(f"schema/{name}" for name in all_schemas())}
    assert [path.name for path in (here / "new").iterdir()] == ["my handbook"]
    assert made.stat().st_mode == (here / "new").stat().st_mode


def test_an_empty_folder_is_taken_and_stays_the_same(here: Path) -> None:
    place = here / "mine"
    place.mkdir()
    before = place.stat().st_ino
    assert main(["begin", "mine"]) == 0
    assert place.stat().st_ino == before, "whoever stands in it would stand nowhere"
    assert set(tree(place)) == {*first_files(TODAY), KEPT, *(f"schema/{name}" for name in all_schemas())}


def test_the_environment_may_lie_in_it(here: Path, capsys: Capture) -> None:
    (here / ".venv").mkdir()
    assert main(["begin", "."]) == 0
    said = capsys.readouterr().out.splitlines()
    assert [line.split()[1:] for line in said if line.startswith("    ")] == [["serve"], ["check"]]
    assert main(["check"]) == 0
    assert (here / ".venv").is_dir()


def _some_files(place: Path) -> None:
    place.mkdir()
    for name in "gfedcba":
        (place / name).write_text(name, "utf-8")


def _a_hidden_file(place: Path) -> None:
    place.mkdir()
    (place / ".git").mkdir()


def _a_link(place: Path) -> None:
    place.symlink_to("nowhere")


@pytest.mark.parametrize(
    ("lay", "asked", "said"),
    [
        (_some_files, "mine", "mine has files in it already: a, b, c, d, e and 2 more (name a new folder, or an empty"),
        (_a_hidden_file, "mine", "mine has files in it already: .git (name a new folder"),
        (lambda place: place.write_text("x", "utf-8"), "mine", "mine is a file (name a folder)"),
        (lambda place: place.write_text("x", "utf-8"), "mine/below/it", "mine is a file (name a folder)"),
        (_a_link, "mine", "mine is a link that leads nowhere (name another folder)"),
    ],
)
def test_nothing_is_overwritten(lay: object, asked: str, said: str, here: Path, capsys: Capture) -> None:
    assert callable(lay)
    lay(here / "mine")
    before, names = tree(here), sorted(here.rglob("*"))
    assert main(["begin", asked]) == 1
    (line,) = capsys.readouterr().out.splitlines()
    assert line.startswith(str(here / said))
    assert (tree(here), sorted(here.rglob("*"))) == (before, names)


@pytest.mark.parametrize("asked", ["mine/formulas", "mine/formulas/new", "mine/formulas/deep/new"])
def test_nothing_begins_in_the_data_of_another_handbook(asked: str, here: Path, capsys: Capture) -> None:
    (here / "mine" / "formulas").mkdir(parents=True)
    (here / "mine" / "mkdocs.yml").write_text("site_name: Mine\n", "utf-8")
    before = tree(here)
    assert main(["begin", asked]) == 1
    data = here / "mine" / "formulas"
    assert capsys.readouterr().out == (
        f"{here / asked} lies in the data of another handbook, {data} (name a folder outside it)\n"
    )
    assert tree(here) == before
    assert main(["begin", "mine/other"]) == 0


@pytest.mark.parametrize("there", [True, False])
def test_of_what_cannot_be_written_whole_nothing_stays(
    there: bool, here: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    if there:
        (here / "mine").mkdir()
    monkeypatch.setattr(beginning, "take_over", full)
    assert main(["begin", "mine"]) == 1
    assert capsys.readouterr().out == "mine cannot be written: No space left on device (name another folder)\n"
    assert list(here.rglob("*")) == ([here / "mine"] if there else [])
