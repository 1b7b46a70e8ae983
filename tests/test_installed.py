"""The engine as a package: what a wheel holds, and a handbook built by it where no clone is."""

from __future__ import annotations

import shutil
import subprocess
import sys
import venv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from zipfile import ZipFile

import pytest

from site_build import FIXED_DAY, ROOT, own_handbook, tree

pytestmark = pytest.mark.process

#: What a wheel is made of.
PARTS = ("pyproject.toml", "setup.py", "README.md", "LICENSE", "hooks")
#: A folder of the tree and the name that a wheel gives it.
FOLDERS = {"hooks/theme": "handbook_theme", "hooks/schema": "handbook_schema"}
CODE = {"hooks/reckoner": "reckoner", "hooks/handbook_plugin": "handbook_plugin"}


@dataclass(frozen=True)
class Installed:
    """An environment that has the wheel; all other packages are those of this run."""

    wheel: Path
    python: Path

    def run(self, *words: str, where: Path) -> subprocess.CompletedProcess[str]:
        """Run its interpreter on the fixed day, with nothing of this tree to be found."""
        told = {"PATH": "/usr/bin:/bin", "SOURCE_DATE_EPOCH": FIXED_DAY, "NO_MKDOCS_2_WARNING": "1"}
        command = [str(self.python), *words]
        return subprocess.run(command, cwd=where, env=told, capture_output=True, text=True, check=False)


def pip(*words: str) -> None:
    done = subprocess.run([sys.executable, "-m", "pip", "--disable-pip-version-check", *words], capture_output=True)
    assert done.returncode == 0, done.stderr.decode()


def copied(source: Path) -> None:
    """What a wheel is made of, in another place: building leaves files beside it."""
    source.mkdir()
    for part in PARTS:
        copy = shutil.copytree if (ROOT / part).is_dir() else shutil.copy
        copy(ROOT / part, source / part)


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Installed]:
    """The wheel of this tree, in an environment of its own whose files cannot be written."""
    folder = tmp_path_factory.mktemp("installed")
    source = folder / "source"
    copied(source)
    pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(folder), str(source))
    shutil.rmtree(source)
    (wheel,) = folder.glob("*.whl")
    venv.create(folder / "venv")
    python = folder / "venv" / "bin" / "python"
    (packages,) = (folder / "venv" / "lib").glob("python*/site-packages")
    pip("--python", str(python), "install", "--no-deps", "--no-index", str(wheel))
    others = [path for path in sys.path if Path(path).name in {"site-packages", "dist-packages"}]
    (packages / "others.pth").write_text("\n".join(others), "utf-8")
    ours = [path for name in FOLDERS.values() for path in (packages / name, *(packages / name).rglob("*"))]
    for path in ours:
        path.chmod(0o555 if path.is_dir() else 0o444)
    yield Installed(wheel, python)
    for path in ours:
        path.chmod(0o755)


def names(folder: str, called: str) -> set[str]:
    """Every file of a folder of the tree, as a wheel calls it."""
    files = (path for path in (ROOT / folder).rglob("*") if path.is_file() and path.suffix != ".pyc")
    return {f"{called}/{path.relative_to(ROOT / folder).as_posix()}" for path in files}


def test_a_wheel_holds_all_that_is_needed_and_nothing_else(installed: Installed) -> None:
    held = {name for name in ZipFile(installed.wheel).namelist() if ".dist-info/" not in name}
    assert held == {name for pair in (FOLDERS | CODE).items() for name in names(*pair)}


@pytest.mark.parametrize("edition", ["site", "folder"])
def test_a_folder_of_ones_own_is_built_from_elsewhere(installed: Installed, edition: str, tmp_path: Path) -> None:
    root = own_handbook(tmp_path / "our own handbook", f"extra: {{edition: {edition}}}\n")
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    packages = installed.python.parents[1]
    before = tree(packages)
    settings = "../our own handbook/mkdocs.yml"
    done = installed.run("-B", "-m", "mkdocs", "build", "--strict", "-f", settings, where=elsewhere)
    assert done.returncode == 0, done.stdout + done.stderr
    assert tree(packages) == before
    assert list(elsewhere.iterdir()) == []
    site = root / ("site" if edition == "site" else "site-folder")
    page = site / ("solutions/fixer/index.html" if edition == "site" else "solutions/fixer.html")
    assert "Own pages" not in page.read_text("utf-8"), "the navigation has a place for a page called about"
    assert "safety data sheet" in page.read_text("utf-8")
    assert (site / "assets" / "bench.js").is_file()
    assert (site / "search" / "search_index.json").is_file()


def test_its_faults_are_said_and_nothing_of_this_tree_is_used(installed: Installed, tmp_path: Path) -> None:
    root = own_handbook(tmp_path / "ours")
    (root / "formulas" / "settings.yml").unlink()
    done = installed.run("-B", "-m", "mkdocs", "build", where=root)
    assert done.returncode == 1
    assert "formulas/settings.yml:1:1: the file is missing (add settings.yml)" in done.stderr
    assert "Traceback" not in done.stderr
    told = installed.run("-c", "from handbook_plugin.places import THEME, SCHEMA; print(THEME, SCHEMA)", where=root)
    assert [Path(word).parent.name for word in told.stdout.split()] == ["site-packages"] * 2


def test_an_installation_that_stays_a_clone_has_them_too(tmp_path: Path) -> None:
    """``pip install -e``, as README says; of a copy, for it leaves notes beside the sources."""
    clone, venv_folder = tmp_path / "clone", tmp_path / "venv"
    copied(clone)
    venv.create(venv_folder)
    python = venv_folder / "bin" / "python"
    pip("--python", str(python), "install", "--no-deps", "--no-index", "--no-build-isolation", "-e", str(clone))
    told = Installed(clone, python).run("-c", "from handbook_plugin import places; print(places.THEME)", where=tmp_path)
    assert told.stdout.strip() == str(clone / "hooks" / "theme")
