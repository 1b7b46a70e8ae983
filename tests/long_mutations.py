"""``python tests/long_mutations.py [HANDBOOKS] [SITES] [FIRST]``: ten thousand spoiled handbooks, a hundred by MkDocs.

Prints what became of them, by family and by way, and all that should not be, with the number that makes it again:
``python tests/long_mutations.py 1 0 NUMBER``. Exit code 1 where there is such a thing, where fewer than 99 in 100 of
the refused are refused at the place, or where memory grows.
"""

from __future__ import annotations

import random
import resource
import shutil
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "hooks"))

from mutant_outcome import Outcome, Workbench, lay
from mutations import MUTATIONS, Mutant, mutant
from site_build import build_here, project, tree

HANDBOOKS, SITES = 10_000, 100
#: Drawn handbooks, and how many mutants in turn are of the same one, which then lies there already.
DRAWN, IN_TURN = 40, 50
#: Of the refused, the share refused at the place; kilobytes that memory may grow by after the first hundred.
AT_THE_PLACE, GROWTH = 0.99, 400_000
COLUMNS = ("built", "refused at the place", "in the file", "elsewhere", "with a fault")
NAMED = {"": 0, "line": 1, "file": 2, "elsewhere": 3}


@dataclass
class Counts:
    """What became of them all."""

    of: dict[str, Counter[int]] = field(default_factory=dict)
    slowest: float = 0

    def add(self, number: int, spoiled: Mutant, outcome: Outcome) -> None:
        """Count one."""
        for group in (spoiled.family, f"  {spoiled.family}: {spoiled.way}"):
            counter = self.of.setdefault(group, Counter())
            counter[NAMED[outcome.named]] += 1
            counter[4] += bool(outcome.faults)
        self.slowest = max(self.slowest, outcome.seconds)
        if outcome.faults or outcome.named in {"file", "elsewhere"}:
            what = "; ".join(outcome.faults) or f"{outcome.named}: {outcome.said[0][:200]}"
            print(f"{number} {spoiled.family}, {spoiled.way}, {sorted(spoiled.changed)[:2]}: {what}", flush=True)

    def sum(self, column: int) -> int:
        """Of all families."""
        return sum(self.of[family][column] for family in MUTATIONS if family in self.of)

    def __str__(self) -> str:
        lines = [f"{'':44}" + "".join(f"{column:>22}" for column in COLUMNS)]
        for group, counter in sorted(self.of.items(), key=lambda one: one[0].strip()):
            lines.append(f"{group:44}" + "".join(f"{counter[column]:22}" for column in range(5)))
        lines.append(f"{'all':44}" + "".join(f"{self.sum(column):22}" for column in range(5)))
        return "\n".join(lines)


def of_number(number: int) -> Mutant:
    """The mutant of a number."""
    family = list(MUTATIONS)[number % len(MUTATIONS)]
    return mutant(random.Random(number), number // IN_TURN % DRAWN, family)


def many(count: int, first: int = 0) -> tuple[Counts, int]:
    """So many mutants, and the kilobytes that memory grew by."""
    counts, used = Counts(), 0
    with tempfile.TemporaryDirectory() as folder:
        workbench = Workbench(Path(folder))
        for number in range(first, first + count):
            spoiled = of_number(number)
            counts.add(number, spoiled, workbench.outcome(spoiled))
            if number == first + 100:
                used = _used()
    return counts, _used() - used if used else 0


def _used() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


def sites(count: int, first: int = 0) -> tuple[Counter[str], list[str]]:
    """So many mutants through ``mkdocs build``: exit codes, and what should not be."""
    codes: Counter[str] = Counter()
    wrong: list[str] = []
    with tempfile.TemporaryDirectory() as folder:
        root = project(Path(folder) / "project")
        assert build_here(root / "site", root=root).exit_code == 0
        before = tree(root / "site")
        for number in range(first, first + count):
            spoiled = of_number(number * 7)
            shutil.rmtree(root / "formulas")
            lay(root / "formulas", spoiled.files)
            built = build_here(root / "site", root=root)
            now = tree(root / "site")
            codes[f"exit code {built.exit_code}"] += 1
            if built.exit_code == 0:
                before = now
            for fault, there in (
                ("the old site changed", now != before),
                ("a traceback", "Traceback" in built.log),
                ("another exit code", built.exit_code not in (0, 1)),
                ("nothing said", built.exit_code == 1 and "the last site stays as it was" not in built.log),
                ("half a site left", any(root.glob(".site*"))),
            ):
                if there:
                    wrong.append(f"{number * 7} {fault}: {spoiled.way} {built.log[-500:]}")
    return codes, wrong


def main(arguments: list[str]) -> int:
    """Run, print, and return the exit code."""
    count, by_mkdocs, first = [*map(int, arguments), *(HANDBOOKS, SITES, 0)[len(arguments) :]]
    begun = time.process_time()
    counts, grown = many(count, first)
    print(counts)
    refused = counts.sum(1) + counts.sum(2) + counts.sum(3)
    share = counts.sum(1) / refused if refused else 1
    print(f"refused at the place: {share:.2%}; slowest {counts.slowest:.1f} s; memory grew by {grown // 1000} MB")
    codes, wrong = sites(by_mkdocs, first) if by_mkdocs else (Counter(), [])
    print(*(f"mkdocs build, {code}: {times}" for code, times in sorted(codes.items())), *wrong, sep="\n")
    print(f"{time.process_time() - begun:.0f} s of the processor")
    return 1 if counts.sum(3) or counts.sum(4) or share < AT_THE_PLACE or grown > GROWTH or wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
