"""How much the handbook's hooks add: a full build against plain MkDocs with Material on the same final Markdown.

Prints CPU seconds of both, their ratio, and the time of each stage; run it by hand. It is no test and has no limit.
The demonstration's records are repeated under other ids: how many formulas, chemicals and price lists are its words.
"""

from __future__ import annotations

import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
from datetime import date
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "hooks"))

from generated import generated  # noqa: E402

from reckoner.build import build  # noqa: E402

FORMULAS, CHEMICALS, LISTS = map(int, [*sys.argv[1:], *("100", "60", "3")[len(sys.argv) - 1 :]])
ROUNDS = 3


def cpu_of(command: list[str], where: Path) -> float:
    """CPU seconds of one command, children included."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    subprocess.run(command, cwd=where, check=True, capture_output=True, env=environment)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder:
        ours, plain = Path(folder, "ours"), Path(folder, "plain")
        for place in (ours, plain):
            place.mkdir()
            shutil.copytree(ROOT / "handbook", place / "handbook")
            (place / "hooks").symlink_to(ROOT / "hooks")
            shutil.copy(ROOT / "mkdocs.yml", place)
        generated(ours / "formulas", FORMULAS, CHEMICALS, LISTS)
        built = build(ours / "formulas", date.today())
        for page in built.pages:
            target = plain / "handbook" / page.path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(page.markdown, "utf-8")
        settings = (plain / "mkdocs.yml").read_text("utf-8")
        settings = re.sub(r"^hooks:\n.*\n", "", settings, flags=re.M)
        settings = re.sub(r"^watch:\n.*\n", "", settings, flags=re.M)
        # The same pages are left out of the navigation as the hooks leave out.
        settings += "\nnot_in_nav: |\n  /solutions/*\n  /chemicals/*\n  /processes/*\n"
        (plain / "mkdocs.yml").write_text(settings, "utf-8")
        command = [sys.executable, "-m", "mkdocs", "build", "--quiet"]
        pairs = [(cpu_of(command, ours), cpu_of(command, plain)) for _ in range(ROUNDS)]
        with_hooks, without = (min(times) for times in zip(*pairs, strict=True))
        print(f"{len(built.pages)} pages: {with_hooks:.2f} s with the hooks, {without:.2f} s plain")
        print(f"ratio {with_hooks / without:.2f}")
        for stage, seconds in built.stages:
            print(f"  {stage}: {seconds:.2f} s")
        for name, place in (("with the hooks", ours), ("plain", plain)):
            size = (place / "site" / "search" / "search_index.json").stat().st_size
            print(f"  search index {name}: {size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
