"""What a build costs by its size: ours, calculation included, against plain MkDocs with Material on the same pages.

    python tests/benchmarks/full_build.py                100, 300, 1,000 and 3,000 formulas: the best part of an hour
    python tests/benchmarks/full_build.py 100 300        some sizes
    python tests/benchmarks/full_build.py --rounds 3 100 the least of three runs each

The demonstration's records stand in for more under other ids. Plain MkDocs gets the final Markdown of the same pages,
the same theme and navigation, and its own full search. CPU seconds, memory and bytes are of whole processes; nothing is
passed or failed, and only ratios of one run mean anything.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "hooks"))

from generated import generated  # noqa: E402

from handbook_plugin.configuration import SCRIPT, STYLE, THEME_SETTINGS, TOC  # noqa: E402
from handbook_plugin.navigation import DEFAULT  # noqa: E402
from reckoner.build import build  # noqa: E402

#: What our build sets by itself, said to plain MkDocs.
PLAIN = {
    "site_name": "Formula handbook",
    "docs_dir": "handbook",
    "exclude_docs": "pictures/",
    "nav": DEFAULT,
    "theme": {"name": "material", "custom_dir": "hooks/theme", **THEME_SETTINGS},
    "extra": {"generator": False, "edition": "site"},
    "extra_css": [STYLE],
    "extra_javascript": [SCRIPT],
    "markdown_extensions": ["attr_list", {"toc": TOC}],
}

#: Formulas -> chemicals and price lists.
SIZES = {100: (100, 3), 300: (150, 6), 1000: (300, 12), 3000: (500, 20)}
BUILD = [sys.executable, "-m", "mkdocs", "build", "--quiet"]
#: The core by itself, in a process of its own so that its memory and CPU can be told.
CORE = "import sys; sys.path.insert(0, 'hooks'); from datetime import date; from pathlib import Path; "
CORE += "from reckoner.build import build; build(Path('formulas'), date.today())"
TOLD = ("formulas", "pages", "ours s", "plain s", "ratio", "ms a page", "core", "ours MB", "plain MB", "kB a page")
TOLD += ("plain kB", "index kB", "plain kB", "store kB", "store plain")


@dataclass(frozen=True)
class Spent:
    """CPU seconds and peak memory in MB of one process with its children."""

    seconds: float
    megabytes: float


def spent(command: list[str], where: Path) -> Spent:
    """Run one command to its end."""
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    process = subprocess.Popen(command, cwd=where, stdout=subprocess.DEVNULL, env=environment)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"{command} ended with {process.returncode}")
    return Spent(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def laid_out(folder: Path, formulas: int) -> tuple[Path, Path, int]:
    """The same handbook for ours and for plain MkDocs, and how many pages are generated."""
    ours, plain = folder / "ours", folder / "plain"
    for place in (ours, plain):
        place.mkdir()
        shutil.copytree(ROOT / "formulas" / "library" / "pages", place / "handbook")
        (place / "hooks").symlink_to(ROOT / "hooks")
        shutil.copy(ROOT / "mkdocs.yml", place)
    generated(ours / "formulas", formulas, *SIZES[formulas])
    pages = build(ours / "formulas", date.today()).pages
    for page in pages:
        target = plain / "handbook" / page.path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(page.markdown, "utf-8")
    (plain / "mkdocs.yml").write_text(json.dumps(PLAIN), "utf-8")
    return ours, plain, len(pages)


def measured(formulas: int, rounds: int) -> Iterator[str]:
    """The figures of one size."""
    with tempfile.TemporaryDirectory() as folder:
        ours, plain, pages = laid_out(Path(folder), formulas)
        both = [(spent(BUILD, ours), spent(BUILD, plain)) for _ in range(rounds)]
        with_hooks, without = (min(runs, key=lambda run: run.seconds) for runs in zip(*both, strict=True))
        core = spent([sys.executable, "-c", CORE], ours)
        yield from (str(formulas), str(pages), f"{with_hooks.seconds:.1f}", f"{without.seconds:.1f}")
        yield f"{with_hooks.seconds / without.seconds:.2f}"
        yield f"{1000 * with_hooks.seconds / pages:.1f}"
        yield f"{core.seconds / with_hooks.seconds:.0%}"
        yield from (f"{with_hooks.megabytes:.0f}", f"{without.megabytes:.0f}")
        for site in (ours / "site", plain / "site"):
            html = [path.stat().st_size for path in site.rglob("*.html") if path.name != "handbook.html"]
            yield f"{sum(html) / len(html) / 1000:.1f}"
        for site in (ours / "site", plain / "site"):
            yield f"{(site / 'search' / 'search_index.json').stat().st_size / 1000:.0f}"
        kept = re.findall(r'\["[^"]+","[0-9a-f]{64}",(\d+)\]', (ours / "site" / "sw.js").read_text("utf-8"))
        whole = sum(path.stat().st_size for path in (plain / "site").rglob("*") if path.is_file())
        yield from (f"{sum(map(int, kept)) / 1000:.0f}", f"{whole / 1000:.0f}")


def main() -> None:
    """Measure each size and print a line for it."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("formulas", nargs="*", type=int, choices=[[], *SIZES], default=[*SIZES], help="how many")
    ask.add_argument("--rounds", type=int, default=1, help="builds of each, of which the least counts")
    given = ask.parse_args()
    print(*(f"{title:>11}" for title in TOLD), sep="")
    for formulas in given.formulas:
        print(*(f"{figure:>11}" for figure in measured(formulas, given.rounds)), sep="", flush=True)


if __name__ == "__main__":
    main()
