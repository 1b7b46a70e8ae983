"""The direction of imports: each layer may import only what stands to its right."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

HOOKS = Path(__file__).parent.parent / "hooks"
BASE = {"problems", "rounding", "digits", "units", "money"}

#: What each part of the core may import from the core, besides itself.
ALLOWED: dict[str, set[str]] = {
    "problems": set(),
    "rounding": set(),
    "digits": set(),
    "units": {"problems", "digits"},
    "money": {"problems", "rounding", "units"},
    "records": BASE,
    "spelling": {"problems", "records"},
    "shipped": set(),
    "loading": BASE | {"records", "shipped"},
    "calc": BASE | {"records"},
    "checks": BASE | {"records", "spelling", "calc"},
    "pages": BASE | {"records", "calc"},
    "audience": BASE | {"records"},
    "choice": {"records"},
    "library_news": {"problems", "records", "loading"},
    "one_file": BASE | {"records", "loading", "checks", "choice"},
    "guide": BASE | {"records", "loading", "pages"},
    "outputs": BASE | {"records", "calc", "pages"},
    "editions": {"pages"},
    "write_schemas": {"loading", "outputs"},
    "warn": BASE | {"records", "calc"},
    "build": BASE
    | {"records", "audience", "choice", "library_news", "guide", "loading", "checks", "calc", "pages", "warn"},
}
#: The rooms of a layer in their order: each may import those before it; what stands beside them may import all.
ROOMS: dict[str, tuple[str, ...]] = {
    "calc": ("mixing", "prices", "film", "hazards", "buying", "compare"),
    "pages": (
        "shared",
        "charts",
        "trust",
        "prices",
        "safety",
        "compare",
        "buying",
        "process",
        "formula",
        "shelf",
        "lists",
    ),
}
#: Packages only some places may touch; a folder ends in a slash.
ONLY = {
    "mkdocs": {"handbook_plugin/"},
    "handbook_plugin": {"handbook_plugin/", "handbook_hooks.py"},
    "handbook_command": {"handbook_command/"},
    "jinja2": {"reckoner/pages/shared/render.py"},
    "pint": {"reckoner/units.py"},
    "yaml": {"reckoner/loading/source.py"},
    "openpyxl": {"reckoner/loading/xlsx.py"},
    "molmass": {"reckoner/calc/mixing/molar.py"},
}


def imports(path: Path) -> set[str]:
    tree = ast.parse(path.read_text("utf-8"))
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative imports hide the direction"
            found.add(node.module or "")
    return found


def modules() -> list[Path]:
    return sorted(HOOKS.rglob("*.py"))


def faults(name: str, imported: set[str]) -> list[str]:
    """What one module (path below hooks/) may not import."""
    found = []
    for module in sorted(imported):
        parts = module.split(".")
        if parts[0] in ONLY and not {name, f"{name.split('/')[0]}/"} & ONLY[parts[0]]:
            found.append(f"{name} imports {parts[0]}")
        if parts[0] == "reckoner" and name.startswith("reckoner/") and len(parts) > 1:
            layer = name.split("/")[1].removesuffix(".py")
            if parts[1] != layer and parts[1] not in ALLOWED.get(layer, set()):
                found.append(f"{name} imports {module}")
            if parts[1] == layer and _goes_up(ROOMS.get(layer, ()), name.split("/")[2:], parts[2:]):
                found.append(f"{name} imports {module}, a later room")
    return found


def _goes_up(rooms: tuple[str, ...], importer: list[str], imported: list[str]) -> bool:
    """Whether a module in one room of a layer imports from a later room, or from what stands beside the rooms."""
    if len(importer) < 2 or not rooms:
        return False
    return not imported or imported[0] not in rooms[: rooms.index(importer[0]) + 1]


def test_imports_go_one_way() -> None:
    assert [fault for p in modules() for fault in faults(p.relative_to(HOOKS).as_posix(), imports(p))] == []


def test_every_part_of_the_core_has_a_rule() -> None:
    parts = {p.relative_to(HOOKS / "reckoner").parts[0].removesuffix(".py") for p in (HOOKS / "reckoner").rglob("*.py")}
    assert parts - {"__init__"} == set(ALLOWED)


@pytest.mark.parametrize("layer", ROOMS)
def test_every_room_has_its_place(layer: str) -> None:
    folders = {p.name for p in (HOOKS / "reckoner" / layer).iterdir() if p.is_dir() and p.name != "__pycache__"}
    assert folders == set(ROOMS[layer])


@pytest.mark.parametrize(
    ("name", "imported", "fault"),
    [
        (
            "reckoner/calc/mixing/scaling.py",
            {"mkdocs.plugins"},
            "reckoner/calc/mixing/scaling.py imports mkdocs",
        ),
        (
            "reckoner/calc/mixing/scaling.py",
            {"reckoner.pages.shared.page"},
            "reckoner/calc/mixing/scaling.py imports reckoner.pages.shared.page",
        ),
        (
            "reckoner/calc/mixing/scaling.py",
            {"reckoner.calc.prices.costing"},
            "reckoner/calc/mixing/scaling.py imports reckoner.calc.prices.costing, a later room",
        ),
        (
            "reckoner/pages/lists/lists_view.py",
            {"reckoner.pages.kinds"},
            "reckoner/pages/lists/lists_view.py imports reckoner.pages.kinds, a later room",
        ),
        (
            "reckoner/records/formula.py",
            {"reckoner.loading.files"},
            "reckoner/records/formula.py imports reckoner.loading.files",
        ),
        ("handbook_hooks.py", {"mkdocs.plugins"}, "handbook_hooks.py imports mkdocs"),
        ("reckoner/build.py", {"handbook_plugin.navigation"}, "reckoner/build.py imports handbook_plugin"),
        ("handbook_command/check.py", {"mkdocs"}, "handbook_command/check.py imports mkdocs"),
        ("reckoner/build.py", {"handbook_command.where"}, "reckoner/build.py imports handbook_command"),
    ],
)
def test_a_wrong_import_is_found(name: str, imported: set[str], fault: str) -> None:
    assert faults(name, imported) == [fault]
