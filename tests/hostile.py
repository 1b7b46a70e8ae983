"""A handbook whose every text is hostile, and its twin of plain words."""

from __future__ import annotations

import shutil
from pathlib import Path

from bad_input import VALID
from full_records import common_records, filler_of, own_records, write
from payloads import PAYLOADS, SPREADSHEET
from site_build import ROOT, Site, build_here


def handbook(root: Path, hostile: bool, edition: str | None = None) -> Site:
    """Every text of every record is a row of all payloads, each beginning with another; or as many plain words.

    Names and notes, which stand in tables for spreadsheets, begin with what a spreadsheet would run.
    """
    count = [0]

    def text(at: str) -> str:
        count[0] += 1
        first = count[0] % len(PAYLOADS)
        if at.endswith((".name", ".note")):
            first = PAYLOADS.index(SPREADSHEET[count[0] % len(SPREADSHEET)])
        rotated = [*PAYLOADS[first:], *PAYLOADS[:first]]
        return f"{' '.join(rotated)} end{count[0]}" if hostile else f"Plain words end{count[0]}"

    root.mkdir()
    for name in ("hooks", "handbook"):
        (root / name).symlink_to(ROOT / name)
    shutil.copy(ROOT / "mkdocs.yml", root)
    shutil.copytree(VALID, root / "formulas")
    filler = filler_of(text)
    write(root / "formulas", {**common_records(filler), **own_records(filler, "mine")})
    # The folder edition would not be put where the site belongs.
    built = build_here(root / ("pages" if edition else "site"), root=root, edition=edition)
    assert built.exit_code == 0, built.log
    assert count[0] > 150
    return built
