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
PARTS = ("pyproject.toml", "README.md", "LICENSE", "hooks", "formulas/library")
#: A folder of the tree and the name that a wheel gives it.
FOLDERS = {
    "formulas/library": "handbook_library",
    "hooks/schema": "handbook_schema",
    "hooks/theme": "handbook_theme",
}
CODE = {f"hooks/{name}": name for name in ("reckoner", "handbook_command", "handbook_plugin")}


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
    (source / "formulas").mkdir(parents=True)
    for part in PARTS:
        copy = shutil.copytree if (ROOT / part).is_dir() else shutil.copy
        copy(ROOT / part, source / part)


def environment(folder: Path) -> tuple[Path, Path]:
    """An environment with the packages of this run, but not with this tree: its interpreter and its own packages."""
    venv.create(folder)
    (packages,) = (folder / "lib").glob("python*/site-packages")
    others = [path for path in sys.path if Path(path).name in {"site-packages", "dist-packages"}]
    (packages / "others.pth").write_text("\n".join(others), "utf-8")
    return folder / "bin" / "python", packages


def places(installed: Installed, where: Path) -> list[Path]:
    """Where the engine finds its folders."""
    folders = "shipped.library_folder(), shipped.schema_folder(), shipped.theme_folder()"
    code = f"from reckoner import shipped\nfor folder in ({folders}): print(folder)"
    return [Path(line) for line in installed.run("-c", code, where=where).stdout.splitlines()]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Installed]:
    """The wheel of this tree, in an environment of its own whose files cannot be written."""
    folder = tmp_path_factory.mktemp("installed")
    source = folder / "source"
    copied(source)
    pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(folder), str(source))
    shutil.rmtree(source)
    (wheel,) = folder.glob("*.whl")
    python, packages = environment(folder / "venv")
    pip("--python", str(python), "install", "--no-deps", "--no-index", str(wheel))
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
    assert [place.parent.name for place in places(installed, root)] == ["site-packages"] * 3


def test_a_handbook_begun_by_it_is_in_order_and_builds_strictly(installed: Installed, tmp_path: Path) -> None:
    for words in (
        ("handbook_command", "begin", "my handbook"),
        ("handbook_command", "check", "my handbook"),
        ("mkdocs", "build", "--strict", "-f", "my handbook/mkdocs.yml"),
    ):
        done = installed.run("-B", "-m", *words, where=tmp_path)
        assert done.returncode == 0, done.stdout + done.stderr
    assert (tmp_path / "my handbook" / "site" / "solutions" / "my-wash-aid" / "index.html").is_file()
    script = subprocess.run([installed.python.parent / "formula-handbook", "--help"], capture_output=True, text=True)
    assert (script.returncode, "begin" in script.stdout) == (0, True), script.stderr


def test_the_library_comes_with_it(installed: Installed, tmp_path: Path) -> None:
    root = own_handbook(tmp_path / "ours")
    for folder in ("chemicals", "processes", "solutions"):
        shutil.rmtree(root / "formulas" / folder)
    with (root / "formulas" / "settings.yml").open("a", encoding="utf-8") as settings:
        settings.write("library: {everything: yes}\n")
    code = (
        "from datetime import date; from pathlib import Path; from reckoner.build import load_checked; "
        "print(*sorted(load_checked(Path('formulas'), date(2026, 11, 25))[0].formulas))"
    )
    done = installed.run("-c", code, where=root)
    assert done.stdout.split() == sorted(path.stem for path in (ROOT / "formulas").rglob("solutions/*/*.yml"))


def test_an_installation_that_stays_a_clone_has_them_too(tmp_path: Path) -> None:
    """``pip install -e``, as README says; of a copy, for it leaves notes beside the sources."""
    clone = tmp_path / "clone"
    copied(clone)
    python, _ = environment(tmp_path / "venv")
    pip("--python", str(python), "install", "--no-deps", "--no-index", "--no-build-isolation", "-e", str(clone))
    there = [clone / "formulas" / "library", clone / "hooks" / "schema", clone / "hooks" / "theme"]
    assert places(Installed(clone, python), tmp_path) == there
