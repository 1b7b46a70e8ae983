"""A mistake while serving: the last good pages are served at once, the fault on top, until it is mended."""

from __future__ import annotations

import logging
import re
import shutil
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from html import unescape
from pathlib import Path
from statistics import median
from types import SimpleNamespace
from typing import Any
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
from mkdocs.exceptions import Abort, ConfigurationError
from mkdocs.livereload import LiveReloadServer

from handbook_plugin import epochs
from handbook_plugin.build_faults import fault_lines, overheard
from handbook_plugin.serving import serving
from mkdocs_serve import PATIENCE, Served, serve
from reckoner.editions.head import furnish
from reckoner.editions.policy import hash_of, policy
from reckoner.editions.served_page import with_faults, with_reload_allowed
from site_build import own_handbook, project

#: The owner's own hook: templates beside the handbook, and a build that takes as long as a file is there.
OWN_HOOK = """
import time
from pathlib import Path

HERE = Path(__file__).parent


def on_config(config):
    config.theme.dirs.insert(0, str(HERE / "templates"))


def on_nav(nav, config, files):
    while (HERE / "slow").exists():
        (HERE / "building").touch()
        time.sleep(0.05)
"""
#: What the tests spoil, and put back.
OWN = ("mkdocs.yml", "handbook", "formulas", "templates")
OFFER = Path("formulas/prices/one/2026-11-01.yml")
BLOCK = re.compile(r'<div class="hb-fault" role="alert".*?</div>', re.S)
RELOAD = re.compile(r"livereload\(\d+, \d+\)")
#: Seconds in which a page is answered, whatever is being built.
AT_ONCE = 0.1


@dataclass(frozen=True)
class Answer:
    """What a browser gets."""

    status: int
    html: str
    seconds: float

    @property
    def block(self) -> str:
        """The text of the faults on top; empty where none stands."""
        block = BLOCK.search(self.html)
        return unescape(re.sub(r"<[^>]+>", " ", block[0])) if block else ""

    @property
    def page(self) -> str:
        """All but the faults, and but what counts the versions for the reload."""
        return RELOAD.sub("", re.sub(r"sha256-[^&]+", "", BLOCK.sub("", self.html)))


def get(served: Served, path: str = "") -> Answer:
    begun = time.monotonic()
    try:
        with urlopen(served.address + path, timeout=PATIENCE) as response:
            status, html = response.status, response.read().decode("utf-8")
    except HTTPError as error:
        with error:
            status, html = error.code, error.read().decode("utf-8")
    return Answer(status, html, time.monotonic() - begun)


def until(served: Served, wanted: Callable[[Answer], bool], what: str) -> Answer:
    """The first answer that is as wanted; every answer on the way has come too, each as a whole page."""
    last = time.monotonic() + PATIENCE
    while time.monotonic() < last:
        answer = get(served)
        assert answer.status == 200
        assert "</html>" in answer.html
        if wanted(answer):
            return answer
        time.sleep(0.1)
    pytest.fail(f"{what} did not come in {PATIENCE} s; the page says: {answer.block or 'nothing of a fault'}")


def until_shown(served: Served, *words: str) -> Answer:
    return until(served, lambda answer: all(word in answer.block for word in words), " and ".join(words))


def until_mended(served: Served) -> Answer:
    return until(served, lambda answer: not answer.block, "a page without a fault")


def rewrite(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def put_back(root: Path) -> None:
    """Every file as it was, and none that was not there; what is as it was is not touched."""
    before = root.parent / "as-it-was"
    for kept in (path for path in before.rglob("*") if path.is_file()):
        path = root / kept.relative_to(before)
        if not path.is_file() or path.read_bytes() != kept.read_bytes():
            path.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(kept, path)
    for path in (path for name in OWN for path in (root / name).rglob("*") if path.is_file()):
        if not (before / path.relative_to(root)).is_file():
            path.unlink()


def sites(served: Served) -> list[Path]:
    """Output folders that are kept at the moment."""
    temporary = served.root.parent / "temporary"
    return [*temporary.glob("mkdocs_*"), *temporary.glob("handbook_*/site-*")]


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("served")
    root = project(folder / "project")
    rewrite(root / "mkdocs.yml", "hooks:\n", "watch: [templates]\nhooks:\n  - own_hook.py\n")
    (root / "own_hook.py").write_text(OWN_HOOK, "utf-8")
    (root / "handbook" / "notes.md").write_text("# Notes\n\nOf one's own.\n", "utf-8")
    (root / "templates").mkdir()
    (folder / "as-it-was").mkdir()
    (root / "templates" / "own.html").write_text("{{ page.content }}\n{{ 1 / 0 }}\n", "utf-8")
    for name in OWN:
        (shutil.copytree if (root / name).is_dir() else shutil.copy)(root / name, folder / "as-it-was" / name)
    (folder / "temporary").mkdir()
    with serve(root, temporary=folder / "temporary") as begun:
        begun.until("Serving on")
        yield begun


def _unclosed(root: Path) -> None:
    with (root / "mkdocs.yml").open("a") as configuration:
        configuration.write("\nextra: [a\n")


def _unreadable(root: Path) -> None:
    (root / "formulas" / "chemicals" / "\udcff.yml").write_text("name: x\n", "utf-8")


#: What is done to a project, and what is then read on top of its pages.
MISTAKES: tuple[tuple[Callable[[Path], Any], tuple[str, ...]], ...] = (
    (
        lambda root: rewrite(root / OFFER, "6.50 EUR", "8.00 <pounds>"),
        ("1 fault", f"{OFFER}:6:12: '8.00 <pounds>' is no price (write number, space and currency code, as 8.90 EUR)"),
    ),
    (
        lambda root: rewrite(root / "formulas" / "settings.yml", "locale:", "locals:"),
        ("1 fault.", "formulas/settings.yml:4:1: unknown key 'locals' (did you mean 'locale'?)"),
    ),
    (_unreadable, ("formulas/chemicals/<U+DCFF>.yml:1:1: ", "(rename the file)")),
    (_unclosed, ("mkdocs.yml:", ":8: the list is not closed as it should be (add ]")),
    (
        lambda root: rewrite(root / "mkdocs.yml", "docs_dir: handbook", "docs_dir: nowhere"),
        ("mkdocs.yml:1:1: Config value 'docs_dir'", "nowhere"),
    ),
    (lambda root: (root / "mkdocs.yml").unlink(), ("mkdocs.yml' does not exist",)),
    (
        lambda root: rewrite(root / "handbook" / "notes.md", "# ", "---\nsearch: 5\n---\n# "),
        ("handbook/notes.md:1:1: the page cannot be built: ",),
    ),
    (
        lambda root: rewrite(root / "handbook" / "notes.md", "# ", "---\ntemplate: own.html\n---\n# "),
        ("templates/own.html:2:1: ZeroDivisionError: ",),
    ),
    (
        lambda root: (root / "templates" / "404.html").write_text("{% if %}\n", "utf-8"),
        ("templates/404.html:1:1: TemplateSyntaxError: ",),
    ),
    (lambda root: (root / "formulas").rename(root / "elsewhere"), ("formulas",)),
    (lambda root: shutil.rmtree(root / "handbook"), ("mkdocs.yml:1:1: Config value 'docs_dir'",)),
)


@pytest.mark.process
def test_each_mistake_is_on_top_of_the_last_good_page_until_it_is_mended(served: Served) -> None:
    good = get(served)
    assert not good.block
    label = get(served, "labels/fixer/").html
    assert ("No QR code" in label, "hb-qr" in label) == (True, False), "its address is this computer's"
    for spoil, words in MISTAKES:
        put_back(served.root)
        # Files come back one by one, and a build between two of them is a good one too.
        until(served, lambda answer: answer.page == good.page and not answer.block, "the page as it was")
        spoil(served.root)
        shown = until_shown(served, "Not rebuilt: ", "This is the last good page.", *words)
        assert shown.page == good.page
        assert "<pounds>" not in shown.html, "a fault's text is escaped"
        assert get(served, "nowhere/").status == 404
        assert get(served, "nowhere/").block == shown.block
        assert get(served, "assets/screen.css").status == 200
        assert len(sites(served)) <= 2
    put_back(served.root)
    until(served, lambda answer: answer.page == good.page and not answer.block, "the page as it was")
    # The folder of the data, the handwritten pages and mkdocs.yml were gone, and are watched again.
    for name, old, new in (
        (str(OFFER), "6.50 EUR", "8.00 pounds"),
        ("handbook/notes.md", "# ", "---\nsearch: 5\n---\n# "),
        ("mkdocs.yml", "site_name:", "site_name: ["),
    ):
        rewrite(served.root / name, old, new)
        until_shown(served, f"{name}:")
        put_back(served.root)
    until_mended(served)
    assert len(sites(served)) <= 2


@pytest.mark.process
def test_pages_are_answered_at_once_while_a_slow_build_runs(served: Served) -> None:
    put_back(served.root)
    good = until_mended(served)
    slow = served.root / "slow"
    slow.touch()
    rewrite(served.root / "handbook" / "notes.md", "# Notes", "# All notes")
    last = time.monotonic() + PATIENCE
    while not (served.root / "building").exists():
        assert time.monotonic() < last, "no build began"
        time.sleep(0.05)
    answers = [get(served, path) for path in ("", "notes/", "solutions/", "nowhere/", "search/search_index.json") * 3]
    assert median(answer.seconds for answer in answers) < AT_ONCE, [answer.seconds for answer in answers]
    assert [answer.status for answer in answers] == [200, 200, 200, 404, 200] * 3
    assert answers[0].page == good.page
    assert "All notes" not in answers[1].html
    slow.unlink()
    until(served, lambda _: "All notes" in get(served, "notes/").html, "the new page")
    put_back(served.root)


def registered(packages: Path) -> Path:
    """A folder of packages in which MkDocs finds this tree's plugin, whatever is installed."""
    about = packages / "formula_handbook-0.dist-info"
    about.mkdir(parents=True)
    (about / "METADATA").write_text("Metadata-Version: 2.1\nName: formula-handbook\nVersion: 0\n", "utf-8")
    found = "[mkdocs.plugins]\nformula-handbook = handbook_plugin.plugin:HandbookPlugin\n"
    (about / "entry_points.txt").write_text(found, "utf-8")
    return packages


@pytest.mark.process
def test_a_plugin_serves_so_too_and_the_end_removes_all_folders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """``--clean`` builds as for publishing; MkDocs asks for a plugin's part in serving all the same."""
    (tmp_path / "temporary").mkdir()
    monkeypatch.setenv("PYTHONPATH", str(registered(tmp_path / "packages")))
    root = own_handbook(tmp_path / "own")
    with serve(root, "--clean", temporary=tmp_path / "temporary") as begun:
        begun.until("Serving on")
        good = get(begun, "about/")
        assert "Our own words." in good.page
        rewrite(root / OFFER, "6.50 EUR", "8.00 pounds")
        until_shown(begun, f"{OFFER}:6:12: ")
        assert get(begun, "about/").page == good.page
        rewrite(root / OFFER, "8.00 pounds", "8.00 EUR")
        until_mended(begun)
        assert get(begun, "about/").page == good.page
    assert list((tmp_path / "temporary").iterdir()) == []
    assert not (root / "site").exists()


@pytest.mark.process
def test_a_fault_at_the_start_ends_it_with_the_usual_messages(tmp_path: Path) -> None:
    (tmp_path / "temporary").mkdir()
    root = project(tmp_path / "project")
    rewrite(root / OFFER, "6.50 EUR", "8.00 pounds")
    with serve(root, temporary=tmp_path / "temporary") as begun:
        told = begun.until("Aborted with a BuildError!")
        assert begun.process.wait(timeout=PATIENCE) == 1
    assert f"{OFFER}:6:12: '8.00 pounds' is no price (write number, space and currency code, as 8.90 EUR)" in told
    assert list((tmp_path / "temporary").iterdir()) == []


class Stub:
    """A server of another MkDocs, with the public names alone."""

    def __init__(self, root: Path, **private: object) -> None:
        self.root, self.builder, self.error_handler = str(root), self._build, lambda code: None
        self.app: Any = self.serve_request
        self.__dict__.update(private)

    def _build(self) -> None:
        raise RuntimeError("not built")

    def serve_request(self, environ: dict[str, Any], start_response: Any) -> list[bytes]:
        start_response("200 OK", [("Content-Type", "text/html"), ("Content-Length", "6")])
        return [b"<p>one"]

    def get_app(self) -> Any:
        return self.app

    def set_app(self, app: Any) -> None:
        self.app = app


@pytest.mark.parametrize(
    "private",
    [
        {},
        {"_wanted_epoch": 1, "_visible_epoch": 1},
        {"_wanted_epoch": "1", "_visible_epoch": 1, "_epoch_cond": threading.Condition()},
        {"_wanted_epoch": 1, "_visible_epoch": 1, "_epoch_cond": threading.Lock()},
    ],
)
def test_another_server_is_left_to_serve_in_its_own_way(tmp_path: Path, private: dict[str, object]) -> None:
    stub = Stub(tmp_path, **private)
    build, error_page = stub.builder, stub.error_handler
    assert serving(stub, SimpleNamespace(config_file_path=None, docs_dir="")) is None  # type: ignore[arg-type]
    assert (stub.builder, stub.error_handler, stub.root) == (build, error_page, str(tmp_path))
    assert {name: vars(stub)[name] for name in private} == private
    begun: list[Any] = []
    assert stub.app({}, lambda *started: begun.append(started)) == [b"<p>one"]
    assert begun == [
        ("200 OK", [("Content-Type", "text/html"), ("Content-Length", "6"), ("Cache-Control", "no-store")])
    ]


def test_the_server_of_the_mkdocs_that_is_installed_is_known(tmp_path: Path) -> None:
    server = LiveReloadServer(lambda: None, "127.0.0.1", 0, str(tmp_path))
    try:
        assert epochs.understood(server)
        server._wanted_epoch = server._visible_epoch + 5
        with epochs.answering(server):
            assert server._wanted_epoch == server._visible_epoch
        assert server._wanted_epoch == server._visible_epoch + 5
    finally:
        server.server_close()


def test_what_stopped_a_strict_build_is_what_it_warned_of(tmp_path: Path) -> None:
    with overheard() as records:
        logging.getLogger("mkdocs.plugins.handbook").warning("formulas/a.yml:2:1: old (renew it)")
        elsewhere = threading.Thread(target=lambda: logging.getLogger("mkdocs.livereload").warning("code 404"))
        elsewhere.start()
        elsewhere.join()
    lines = fault_lines(Abort("Aborted with 1 warnings in strict mode!"), records, tmp_path / "mkdocs.yml", tmp_path)
    assert lines == ("formulas/a.yml:2:1: old (renew it)",)


def test_a_fault_of_which_nothing_is_logged_is_its_own_words(tmp_path: Path) -> None:
    root = tmp_path / ("a-long-name" * 10)
    error = ConfigurationError(f"no file '{root}/base.yml'\nnor\u202eanother")
    lines = fault_lines(error, [], root / "mkdocs.yml", root)
    assert lines == ("no file 'base.yml'", "nor<U+202E>another")


HEADER = '<body dir="ltr"><label></label><header class="md-header" data-md><nav></nav></header><div>page</div></body>'


@pytest.mark.parametrize(
    ("page", "before"),
    [
        (HEADER, "</nav></header>"),
        (
            '<html><head><title>t</title></head><body class="a"><main><header>own</header></main></body>',
            '<body class="a">',
        ),
        ("404 Not Found", ""),
    ],
)
def test_faults_stand_below_the_header_or_first(page: str, before: str) -> None:
    shown = with_faults(
        page, ("a.yml:1:1: <b>x</b> (write y)", "b:1:1: two", "c:1:1: three", "d:1:1: four", "e:1:1: five")
    )
    assert f'{before}<div class="hb-fault" role="alert"' in shown
    assert BLOCK.sub("", shown) == page
    block = Answer(200, shown, 0).block
    assert "Not rebuilt: 5 faults." in block
    assert "a.yml:1:1: <b>x</b> (write y)" in block
    assert "<b>" not in shown
    assert "c:1:1: three" in block
    assert "four" not in block
    assert "and 2 more, in the terminal" in block
    assert "style=" not in shown.replace(page, "")
    assert with_faults(page, ()) == page


def test_the_policy_names_the_script_that_reloads_and_nothing_else() -> None:
    built = furnish(
        '<html><head><meta charset="utf-8"></head><body><script>first()</script><p>text</p></body></html>', "./", False
    )
    served = built.replace("</body>", "<script>livereload(1, 2);</script></body>")
    allowed = with_reload_allowed(served)
    assert hash_of("livereload(1, 2);") in allowed
    policies = [unescape(html.partition('Policy" content="')[2].partition('"')[0]) for html in (allowed, served)]
    assert sorted(re.findall(r"'sha256-[^']+'", policies[0])) == sorted(re.findall(r"'sha256-[^']+'", policy(served)))
    assert re.sub(r" 'sha256-[^']+'", "", policies[0]) == re.sub(r" 'sha256-[^']+'", "", policies[1])
    assert with_reload_allowed("<p>no script</p>") == "<p>no script</p>"
