"""The examples in the core's docstrings are true."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

CORE = Path(__file__).parent.parent / "hooks" / "reckoner"
WITH_EXAMPLES = sorted(
    ".".join(path.relative_to(CORE.parent).with_suffix("").parts)
    for path in CORE.rglob("*.py")
    if ">>> " in path.read_text(encoding="utf-8")
)


def test_the_modules_of_amounts_and_money_have_examples() -> None:
    assert {"reckoner.units", "reckoner.money", "reckoner.rounding", "reckoner.calc.mixing.molar"} <= set(WITH_EXAMPLES)


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_examples(name: str) -> None:
    found = doctest.testmod(importlib.import_module(name))
    assert found.failed == 0
    assert found.attempted > 0
