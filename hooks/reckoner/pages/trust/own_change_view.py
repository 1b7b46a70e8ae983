"""What a record of the owner says otherwise than the library's, in plain words, with both dates."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.own_changes import Difference, OwnChanges
from reckoner.pages.shared.display import source_text
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.shared.value_words import CHEMICALS, FORMULAS, ValueWords

OWN_WEIGHTS = "The weights are this handbook's own, not the library's."
#: Where there are more differences than this, those that speak of no danger stand in a fold, whose line names them.
FEW = 5
#: Keys that speak of danger, to people or to film.
DANGER = frozenset(
    (
        *("cautions", "darkness", "disposal", "disposal_collect", "disposal_note", "does_not_work", "hazards"),
        *("keep_apart", "ph", "ph_not_stated", "restrictions", "storage", "strong"),
    )
)


@dataclass(frozen=True)
class OwnChangeView:
    """The block "Changed in this handbook".

    Attributes:
        milder: what of the library's dangers is weaker here, and why; mostly empty.
        lines: the differences that always stand open: what speaks of danger, and all where they are few.
        folded: the line of the fold that the rest stands in, and
        rest: those.
    """

    summary: str
    milder: str
    lines: tuple[str, ...]
    folded: str
    rest: tuple[str, ...]


def own_change_view(kind: str, record_id: str, writer: PageWriter) -> OwnChangeView | None:
    """What the owner changes of one record; None where it is the library's or there is none of that."""
    changes = writer.results.own_changes.get((kind, record_id))
    if changes is None:
        return None
    show = writer.show
    library, day = show.day(changes.library.checked), show.day(changes.here.checked)
    what = "the one here in its place" if changes.whole else "the change here"
    words = ValueWords(show, lambda key, text: _named(key, text, writer))
    few = len(changes.differences) <= FEW
    shut = tuple(difference for difference in changes.differences if not few and difference.path[0] not in DANGER)

    def lines(differences: Iterable[Difference]) -> tuple[str, ...]:
        here = f"{day}, {changes.here.certainty}"
        return tuple(_line(difference, library, here, words) for difference in differences)

    same = "" if changes.differences else " Nothing differs but the source."
    return OwnChangeView(
        summary=f"The library's record is of {library}, {what} of {day}: {source_text(changes.here)}.{same}",
        milder=_milder(changes),
        lines=lines(difference for difference in changes.differences if few or difference.path[0] in DANGER),
        folded=_folded(shut, words) if shut else "",
        rest=lines(shut),
    )


def own_weights(formula_id: str, writer: PageWriter) -> str:
    """That what is weighed is the owner's word, or nothing."""
    changes = writer.results.own_changes.get(("formula", formula_id))
    return OWN_WEIGHTS if changes and changes.own_weights else ""


def milder_jars(chemicals: Iterable[str], writer: PageWriter) -> tuple[str, ...]:
    """That a bath's dangers are worked out from records milder than the library's, which a reader cannot see there."""
    names = _milder_names(chemicals, writer)
    return (f"Recorded here with less danger than in the library: {names}. Why stands on that page.",) if names else ()


def milder_on_label(chemicals: Iterable[str], writer: PageWriter) -> str:
    """The same in as few words as a label has room for, or nothing."""
    names = _milder_names(chemicals, writer)
    return f"Less danger recorded than in the library: {names}." if names else ""


def _milder_names(chemicals: Iterable[str], writer: PageWriter) -> str:
    changes = writer.results.own_changes
    milder = (chemical for chemical in chemicals if (of := changes.get(("chemical", chemical))) and of.milder)
    return ", ".join(dict.fromkeys(writer.short_name(chemical) for chemical in milder))


def _milder(changes: OwnChanges) -> str:
    lost = "; ".join(changes.milder)
    return f"Milder than the library's record: {lost}. Reason: {changes.because}" if lost else ""


def _folded(differences: tuple[Difference, ...], words: ValueWords) -> str:
    keys = dict.fromkeys(words.key(str(difference.path[0])) for difference in differences)
    count = f"{len(differences)} differences" if len(differences) > 1 else "1 difference"
    return f"{count} from the library's record: {', '.join(keys)}"


def _line(difference: Difference, library: str, here: str, words: ValueWords) -> str:
    """As ``keeping, full bottle: library 6 months (1 Oct 2026), here 1 year (30 Nov 2026, own practice)``."""
    old, new = words.sides(difference)
    return f"{words.path(difference)}: library {old} ({library}), here {new} ({here})"


def _named(key: str, text: str, writer: PageWriter) -> str:
    """The name of what a key names by its id; any other text as it is."""
    catalogue = writer.results.catalogue
    if key in CHEMICALS and text in catalogue.known_chemicals:
        return writer.short_name(text)
    formulas = catalogue.renamable("formula")
    return formulas[text].name if key in FORMULAS and text in formulas else text
