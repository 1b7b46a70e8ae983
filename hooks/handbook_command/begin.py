"""``formula-handbook begin``: a folder for a handbook of one's own, which builds at once.

Its files are those of ``first/`` with the day put in, the schemas that an editor checks them by, and what it takes over
of the library.
"""

from __future__ import annotations

import shlex
import sys
from argparse import ArgumentParser, Namespace
from datetime import date
from pathlib import Path
from shutil import rmtree
from tempfile import mkdtemp

from handbook_command.library import take_over
from handbook_command.subcommand import FAULTS, IN_ORDER, Day, Subcommand, print_all
from handbook_command.where import data_around
from reckoner.build import load_checked
from reckoner.problems import HandbookError, shown

FIRST = Path(__file__).parent / "first"
#: Stands in the files of ``first/``, and in the name of the price list, where the day goes.
TODAY = "TODAY"
#: So many names of what lies in the way are said.
_SAID = 5
#: The environment that the command itself may run in: it may lie in the new handbook.
_ENVIRONMENT = ".venv"


def first_files(today: date) -> dict[str, str]:
    """Path below the new folder to text, of all that is the owner's to change."""
    day = today.isoformat()
    return {
        path.relative_to(FIRST).as_posix().replace(TODAY, day): path.read_text("utf-8").replace(TODAY, day)
        for path in sorted(FIRST.rglob("*"))
        if path.is_file()
    }


def in_the_way(folder: Path) -> str:
    """Why nothing can begin in a folder; empty where it is not there yet, or has nothing but the environment in it."""
    for place in (folder, *folder.parents):
        if place.is_symlink() and not place.exists():
            return f"{place} is a link that leads nowhere (name another folder)"
        if place.exists() and not place.is_dir():
            return f"{place} is a file (name a folder)"
    data = data_around(folder.parent)
    if data is not None and folder.resolve().is_relative_to(data.resolve()):
        return f"{folder} lies in the data of another handbook, {data} (name a folder outside it)"
    names = sorted({path.name for path in folder.iterdir()} - {_ENVIRONMENT}) if folder.is_dir() else []
    if not names:
        return ""
    more = f" and {len(names) - _SAID} more" if len(names) > _SAID else ""
    return f"{folder} has files in it already: {', '.join(names[:_SAID])}{more} (name a new folder, or an empty one)"


def begin(folder: Path, today: date) -> None:
    """Write the files of a new handbook: all of them, or none.

    They are written into a folder beside and then moved, so that nothing half done is ever found.

    Args:
        folder: not there, or empty but for the environment.
        today: the day that is put into them.

    Raises:
        HandbookError: the library has faults.
        OSError: nothing can be written there.
    """
    there = folder.is_dir()
    beside = folder if there else folder.parent
    beside.mkdir(parents=True, exist_ok=True)
    aside = Path(mkdtemp(prefix=".begin-", dir=beside))
    made = aside / "handbook"
    try:
        for name, text in first_files(today).items():
            (made / name).parent.mkdir(parents=True, exist_ok=True)
            (made / name).write_text(text, "utf-8")
        catalogue, _ = load_checked(made / "formulas", today)
        take_over(made / "formulas", catalogue)
        if there:
            # Whoever stands in an empty folder goes on standing in it.
            for path in made.iterdir():
                path.rename(folder / path.name)
        else:
            made.rename(folder)
    finally:
        rmtree(aside, ignore_errors=True)


def _add_words(words: ArgumentParser) -> None:
    words.add_argument("folder", type=Path, metavar="FOLDER", help="a new folder, or an empty one")


def _run(words: Namespace, day: Day) -> int:
    folder: Path = words.folder
    try:
        if said := in_the_way(folder.absolute()):
            print(shown(said))
            return FAULTS
        begin(folder, day.today)
    except HandbookError as faults:
        print_all(faults.problems)
        print("nothing is made: the library has faults (install formula-handbook anew)")
        return FAULTS
    except OSError as error:
        print(f"{folder} cannot be written: {error.strerror} (name another folder)")
        return FAULTS
    # Who stands in it need not name it; else each command does.
    here = folder.resolve() == Path.cwd()
    print(f"{'The handbook' if here else folder} is made. To read it, at http://127.0.0.1:8000/:")
    print(f"    {_command('mkdocs')} serve" + ("" if here else f" -f {shlex.quote(str(folder / 'mkdocs.yml'))}"))
    print("To check what you change in it:")
    print(f"    {_command('formula-handbook')} check" + ("" if here else f" {shlex.quote(str(folder))}"))
    return IN_ORDER


def _command(name: str) -> str:
    """A command as it is called from here: beside the one that runs."""
    beside = Path(sys.argv[0]).with_name(name)
    return shlex.quote(str(beside)) if beside.is_file() else name


BEGIN = Subcommand(
    "begin",
    "make a folder for a handbook of your own",
    "Makes a folder for a handbook of your own: settings that are explained in the file, a supplier with a price list, "
    "a formula, a shelf and a page. What is invented says so. It builds at once. Nothing that is there is overwritten.",
    _add_words,
    _run,
)
