"""Measures what a phone, a screen reader and a validator make of one page of every kind; run by hand, prints tables.

    npm install --prefix tests/quality --no-package-lock
    python tests/quality/measure.py                    axe, vnu and Lighthouse, each page's median of five
    python tests/quality/measure.py axe home formula   one tool, some pages
    python tests/quality/measure.py --runs 1 --site site lighthouse

Needs Chromium (CHROME_PATH, else chromium on the path), Node for Lighthouse, Java for vnu. The versions stand in
package.json: scores and faults are theirs.
"""

from __future__ import annotations

import argparse
import gzip
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from statistics import median
from threading import Thread

from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from every_kind import PAGES, faults, with_axe  # noqa: E402
from phone import opened  # noqa: E402
from site_build import build_site  # noqa: E402

PARTS = HERE / "node_modules"
SCORES = ("performance", "accessibility", "best-practices", "seo")
FIGURES = ("largest-contentful-paint", "cumulative-layout-shift", "total-blocking-time", "total-byte-weight")
#: What Material 9.8.2 itself writes into every page, in the words of vnu 26.9.27.
MATERIALS_OWN = (
    "Attribute “autocomplete” is only allowed when the input type is",
    "The value of the “for” attribute of the “label” element must be the ID of a non-hidden form control.",
)
_PACKED = {".html", ".css", ".js", ".json", ".svg", ".webmanifest", ".xml"}


class _Packing(SimpleHTTPRequestHandler):
    """Answers as a usual host does: texts packed."""

    def log_message(self, format: str, *args: object) -> None:
        """Only the tables are printed."""

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() and self.path.split("?")[0].endswith("/") else path
        if path.suffix not in _PACKED or not path.is_file():
            super().do_GET()
            return
        data = gzip.compress(path.read_bytes(), 6)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(path))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)


@dataclass(frozen=True)
class Task:
    """The built site, where it answers, the pages to look at by name, and how often Lighthouse looks."""

    site: Path
    address: str
    pages: dict[str, str]
    runs: int


def axe(task: Task) -> None:
    """Violations in each scheme and in print."""
    script = (PARTS / "axe-core" / "axe.min.js").read_text("utf-8")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=_chromium(), args=["--no-sandbox", "--disable-gpu"])
        for name, path in task.pages.items():
            page = with_axe(opened(browser, task.address + path, still=True), script)
            found = faults(page)
            print(f"axe  {name:20}", *(f"{scheme} {len(lines)}" for scheme, lines in found.items()), sep="  ")
            for line, times in Counter(line for lines in found.values() for line in lines).items():
                print(f"       {times} × {line}")


def vnu(task: Task) -> None:
    """Errors that are not in Material's own list."""
    java = shutil.which("java")
    if java is None:
        print("vnu  left out: there is no java (apt-get install default-jre-headless)")
        return
    files = [_file(task.site, path) for path in task.pages.values()]
    command = [java, "-Xss8m", "-jar", str(PARTS / "vnu-jar" / "build" / "dist" / "vnu.jar"), "--errors-only"]
    done = subprocess.run([*command, "--format", "json", *map(str, files)], capture_output=True, text=True, check=False)
    errors = [(one["url"], one["message"]) for one in json.loads(done.stderr or done.stdout)["messages"]]
    own = [one for one in errors if not one[1].startswith(MATERIALS_OWN)]
    print(f"vnu  {len(files)} pages, {len(errors) - len(own)} errors of Material's own, {len(own)} others")
    for (url, message), times in Counter(own).items():
        print(f"       {times} × {re.sub(r'.*/(?=[^/]+/[^/]+$)', '', url)}: {message}")


def lighthouse(task: Task) -> None:
    """Medians of Lighthouse's four scores as on a phone, and what lowers them."""
    print("lighthouse, median of", task.runs, *SCORES, *FIGURES, sep="  ")
    for name, path in task.pages.items():
        looks = [_look(task.address + path) for _ in range(task.runs)]
        scores = [median((look["categories"][one]["score"] or 0) * 100 for look in looks) for one in SCORES]
        figures = [median(look["audits"][one].get("numericValue", 0) for look in looks) for one in FIGURES]
        print(f"  {name:20}", *(f"{one:4.0f}" for one in scores), *(f"{one:10.4g}" for one in figures), flush=True)
        for one in SCORES[1:]:
            for part in looks[0]["categories"][one]["auditRefs"]:
                audit = looks[0]["audits"][part["id"]]
                if part["weight"] and audit["score"] is not None and audit["score"] < 1:
                    print(f"       {one}: {part['id']}")


def _look(url: str) -> dict:  # type: ignore[type-arg]
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "report.json"
        command = [str(PARTS / ".bin" / "lighthouse"), url, "--quiet", "--output=json", f"--output-path={report}"]
        flags = "--chrome-flags=--headless=new --no-sandbox --disable-gpu"
        environment = {**os.environ, "CHROME_PATH": _chromium()}
        subprocess.run([*command, flags], env=environment, check=True, capture_output=True)
        return json.loads(report.read_text("utf-8"))


def _chromium() -> str:
    return os.environ.get("CHROME_PATH") or shutil.which("chromium") or "chromium"


def _file(site: Path, path: str) -> Path:
    return site / path if path.endswith(".html") else site / path / "index.html"


TOOLS: dict[str, Callable[[Task], None]] = {"axe": axe, "vnu": vnu, "lighthouse": lighthouse}


def main() -> None:
    """Build, serve, measure."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("words", nargs="*", help=f"tools ({', '.join(TOOLS)}) and pages ({', '.join(PAGES)})")
    ask.add_argument("--runs", type=int, default=5, help="how often Lighthouse looks at a page")
    ask.add_argument("--site", type=Path, help="a site that is already built")
    given = ask.parse_args()
    wrong = [word for word in given.words if word not in TOOLS and word not in PAGES]
    if wrong:
        ask.error(f"neither a tool nor a page: {', '.join(wrong)}")
    with tempfile.TemporaryDirectory() as folder:
        site = given.site or build_site(Path(folder) / "site").folder
        server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Packing, directory=str(site)))
        Thread(target=server.serve_forever, daemon=True).start()
        pages = {name: path for name, path in PAGES.items() if name in given.words} or PAGES
        task = Task(site, f"http://127.0.0.1:{server.server_port}/", pages, given.runs)
        for name in [word for word in TOOLS if word in given.words] or TOOLS:
            TOOLS[name](task)
        server.shutdown()


if __name__ == "__main__":
    main()
