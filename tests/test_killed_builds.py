"""A build killed at any moment leaves the old site or the new one, whole."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from bad_input import VALID
from long_run import LONG
from reckoner.editions.site_swap import Swap, exchange
from site_build import FIXED_DAY, ROOT, build_here, build_site, project, tree

pytestmark = pytest.mark.process

#: Of real builds, spread over the time that one takes; and of a process that does nothing but swap.
BUILDS, SWAPS = (12, 40) if LONG else (3, 8)
FILES = 30
SWAPPING = f"""
import sys
from pathlib import Path
from reckoner.editions.site_swap import Swap, exchange
at_once = exchange if sys.argv[2] == "exchange" else lambda one, other: False
swap, number = Swap(Path(sys.argv[1]), at_once), 0
print("ready", flush=True)
while True:
    number += 1
    swap.begin()
    swap.beside.mkdir()
    for file in range({FILES}):
        (swap.beside / f"{{file}}.html").write_text(str(number))
    swap.finish()
"""


def killed(command: list[str], seconds: float, environment: dict[str, str], says: bytes = b"") -> None:
    """Start a command and kill it after so long, counted from when it says so."""
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment) as process:
        assert process.stdout is not None
        if says:
            assert process.stdout.readline().strip() == says
        time.sleep(seconds)
        process.kill()
        process.wait()


def edition(root: Path, word: str) -> None:
    settings = (VALID / "settings.yml").read_text("utf-8")
    (root / "formulas" / "settings.yml").write_text(settings.replace("Small handbook", word), "utf-8")


def test_builds_killed_at_random_moments(tmp_path: Path) -> None:
    root = project(tmp_path / "project")
    whole = {}
    for word in ("Even edition", "Odd edition"):
        edition(root, word)
        begun = time.monotonic()
        assert build_site(root / "site", root=root).exit_code == 0
        whole[word] = tree(root / "site")
        took = time.monotonic() - begun
    assert len({str(sorted(one.items())) for one in whole.values()}) == 2
    rough = random.Random(1)
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": FIXED_DAY}
    command = [sys.executable, "-m", "mkdocs", "build", "-q", "-f", str(root / "mkdocs.yml")]
    for number in range(BUILDS):
        edition(root, ("Even edition", "Odd edition")[number % 2])
        # From before the first file is written to behind the end.
        killed(command, took * (0.4 + 0.7 * (number + rough.random()) / BUILDS), environment)
        assert tree(root / "site") in whole.values()
    assert build_here(root / "site", root=root).exit_code == 0
    assert sorted(path.name for path in root.glob(".site*")) == []


@pytest.mark.parametrize("way", ["exchange", "renames"])
def test_swaps_killed_at_random_moments(way: str, tmp_path: Path) -> None:
    """With one exchange the site is there and whole at once; with two renames after the next command has begun."""
    site = tmp_path / "site"
    rough = random.Random(2)
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "hooks")}
    for _ in range(SWAPS):
        # At least one swap has been made when the first site stands.
        killed([sys.executable, "-c", SWAPPING, str(site), way], 0.05 + 0.05 * rough.random(), environment, b"ready")
        if way == "renames":
            Swap(site).begin()
        texts = [path.read_text() for path in site.iterdir()]
        assert len(texts) == FILES
        assert len(set(texts)) == 1


def test_two_folders_change_places_at_once(tmp_path: Path) -> None:
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    # A system or file system without an exchange says so, and leaves both as they were for the two renames.
    changed = exchange(tmp_path / "one", tmp_path / "other")
    in_one, in_other = ("other", "one") if changed else ("one", "other")
    assert [path.name for path in (tmp_path / "one").iterdir()] == [in_one]
    assert [path.name for path in (tmp_path / "other").iterdir()] == [in_other]
    assert exchange(tmp_path / "one", tmp_path / "nothing") is False


def test_a_link_in_the_sites_place_is_followed(tmp_path: Path) -> None:
    root = project(tmp_path / "project")
    (tmp_path / "web").mkdir()
    (root / "site").symlink_to(tmp_path / "web")
    for _ in range(2):
        assert build_here(root / "site", root=root).exit_code == 0
    assert (root / "site").is_symlink()
    assert (tmp_path / "web" / "index.html").is_file()
