"""``formula-handbook changes`` and ``update``: what a newer library changes here, and taking it over once that is read.

Taking over writes the schemas that an editor uses, and the library's records as they are now, into the handbook's
folder ``schema``: what a later library changes is told against these.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from handbook_command.subcommand import FAULTS, IN_ORDER, Day, Subcommand, WrongUseError, print_all
from handbook_command.where import data_around, data_of
from reckoner.build import load_checked
from reckoner.library_news import KEPT, kept_in, library_now, news
from reckoner.loading.files import LIBRARY
from reckoner.problems import HandbookError, Problem, shown
from reckoner.records.catalogue import Catalogue
from reckoner.records.own_change import IN_LIBRARY
from reckoner.write_schemas import all_schemas


def _add_words(words: ArgumentParser) -> None:
    words.add_argument("folder", nargs="?", type=Path, metavar="FOLDER", help="a handbook; the one you stand in")


def _add_update_words(words: ArgumentParser) -> None:
    _add_words(words)
    words.add_argument(
        "--take-out-copies",
        action="store_true",
        help="remove files of yours that the library has word for word",
    )


def _read(words: Namespace, day: Day) -> tuple[Path, Catalogue, tuple[Problem, ...]] | None:
    """The data, what is in them and what is said of them; None, with every fault told, where they are not in order."""
    data = data_of(words.folder) if words.folder else data_around(Path())
    if data is None:
        raise WrongUseError("no mkdocs.yml in this folder or above it (go to your handbook's folder, or name it)")
    try:
        catalogue, problems = load_checked(data, day.today, day.asked)
    except HandbookError as faults:
        print_all(faults.problems)
        return None
    if catalogue.library is None or (data / LIBRARY).is_dir():
        raise WrongUseError("no library comes with the engine for this handbook (see library: in its settings.yml)")
    return data, catalogue, problems


def _changes(words: Namespace, day: Day) -> int:
    read = _read(words, day)
    if read is None:
        return FAULTS
    data, catalogue, _ = read
    before = kept_in(data)
    assert catalogue.library is not None, "else there was nothing to read"
    now = f"Library {catalogue.library.version} of {catalogue.library.date}"
    if before is None or isinstance(before, Problem):
        print(before or f"{now}: never taken over here (run formula-handbook update)")
        return IN_ORDER
    changed = news(before, library_now(data, catalogue), catalogue)
    count = f"{len(changed) or 'No'} change{'s' * (len(changed) != 1)}"
    print(f"{now}; taken over: {before.version}. {count} for your pages.")
    for change in changed:
        danger, yours = "Danger: " * change.danger, ", where a record of yours stands" * change.overridden
        print(shown(f"  {danger}{change}{yours}"))
    if changed:
        print("Once read: formula-handbook update")
    return IN_ORDER


def _update(words: Namespace, day: Day) -> int:
    read = _read(words, day)
    if read is None:
        return FAULTS
    data, catalogue, problems = read
    copies = {problem.at.file for problem in problems if problem.message.startswith(IN_LIBRARY)}
    taken_out = sorted(copies) if words.take_out_copies else []
    for name in taken_out:
        (data.parent / name).unlink()
        print(f"{name} taken out")
    written = take_over(data, catalogue)
    for path in written:
        print(path.relative_to(data.parent).as_posix())
    if not written and not taken_out:
        print("nothing new")
    return IN_ORDER


def take_over(data: Path, catalogue: Catalogue) -> list[Path]:
    """Write the schemas, and the library's records as they are now; the files that are new or other than before."""
    texts = {f"schema/{name}": text for name, text in all_schemas().items()}
    texts[KEPT] = library_now(data, catalogue).text()
    written = []
    for name, text in sorted(texts.items()):
        path = data.parent / name
        if not path.is_file() or path.read_text("utf-8") != text:
            path.parent.mkdir(exist_ok=True)
            path.write_text(text, "utf-8")
            written.append(path)
    return written


CHANGES = Subcommand(
    "changes",
    "tell what a newer library changes here",
    "Tells which library is installed, and what it changes of the pages of your handbook since you last took a library "
    "over: dangers first, then where a record of yours stands over the library's.",
    _add_words,
    _changes,
)
UPDATE = Subcommand(
    "update",
    "take a newer library over, once its changes are read",
    "Writes the schemas that your editor uses, and the library's records as they are now, into the folder schema, and "
    "tells which files those are. Nothing of yours is touched, unless you ask for copies to be taken out.",
    _add_update_words,
    _update,
)
