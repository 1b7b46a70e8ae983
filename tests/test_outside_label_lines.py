"""Label lines of Annex VI of CLP: signal word and pictograms worked out from the recorded classes, entry by entry."""

from __future__ import annotations

import pytest

from reckoner.calc.hazards.classify import label_of
from reckoner.records.catalogue import Catalogue
from reckoner.records.hazard import Hazards

#: Regulation (EC) No 1272/2008, Annex VI, table 3, to ATP 21 (Regulation (EU) 2024/197), read: index number, signal
#: word and pictograms of the label column, statements of the classification columns (* a minimum classification).
#: Formaldehyde and benzotriazole to ATP 22, DTPA to ATP 18: the classes read, the pictograms by Annex V.
READ = {
    "acetic-acid": ("607-002-00-6", "Danger", "GHS02 GHS05", "H226 H314"),
    "ammonium-bromide": ("035-005-00-7", "Danger", "GHS07 GHS08", "H319 H336 H360FD H362 H372"),
    "benzotriazole": ("613-350-00-X", None, "GHS09", "H411"),
    "benzyl-alcohol": ("603-057-00-5", "Warning", "GHS07", "H302 H317 H319"),
    "borax": ("005-011-00-4", "Danger", "GHS08", "H360FD"),
    "boric-acid": ("005-007-00-2", "Danger", "GHS08", "H360FD"),
    "catechol": ("604-016-00-4", "Danger", "GHS06 GHS08", "H301 H311 H315 H319 H341 H350"),
    "cd-2": ("612-143-00-1", "Danger", "GHS06 GHS09", "H301* H317 H319 H400 H410"),
    "cd-3": ("612-134-00-2", "Warning", "GHS07 GHS09", "H302* H317 H400 H410"),
    "cd-4": ("612-133-00-7", "Danger", "GHS06 GHS08 GHS09", "H301* H317 H373* H400 H410"),
    "citric-acid": ("607-750-00-3", "Warning", "GHS07", "H319 H335"),
    "dtpa-pentasodium": ("607-736-00-7", "Danger", "GHS07 GHS08", "H332 H360D H373"),
    "ethylenediamine": ("612-006-00-6", "Danger", "GHS02 GHS05 GHS07 GHS08", "H226 H302* H312* H314 H317 H334"),
    "formaldehyde": ("605-001-00-5", "Danger", "GHS05 GHS06 GHS08", "H302 H314 H317 H330 H341 H350"),
    "hexamine": ("612-101-00-2", "Warning", "GHS02 GHS07", "H228 H317"),
    "hydroquinone": ("604-005-00-4", "Danger", "GHS05 GHS07 GHS08 GHS09", "H302* H317 H318 H341 H351 H400"),
    "hydroxylamine-sulfate": (
        "612-123-00-2",
        "Warning",
        "GHS05 GHS07 GHS08 GHS09",
        "H290 H302* H312* H315 H317 H319 H351 H373* H400",
    ),
    "metol": ("650-031-00-4", "Warning", "GHS07 GHS08 GHS09", "H302* H317 H373* H400 H410"),
    "p-aminophenol-hydrochloride": ("612-128-00-X", "Warning", "GHS07 GHS08 GHS09", "H302* H332* H341 H400 H410"),
    "phenidone": ("606-022-00-2", "Warning", "GHS07 GHS09", "H302* H411"),
    "potassium-dichromate": (
        "024-002-00-6",
        "Danger",
        "GHS03 GHS05 GHS06 GHS08 GHS09",
        "H272 H301* H312* H314 H317 H330* H334 H340 H350 H360FD H372 H400 H410",
    ),
    "potassium-hydroxide": ("019-002-00-8", "Danger", "GHS05 GHS07", "H302* H314"),
    "potassium-permanganate": ("025-002-00-9", "Danger", "GHS03 GHS07 GHS08 GHS09", "H272 H302* H361d H400 H410"),
    "potassium-thiocyanate": ("615-030-00-5", "Warning", "GHS07", "H302* H312* H332* H412"),
    "pyrogallol": ("604-009-00-6", "Warning", "GHS07 GHS08", "H302* H312* H332* H341 H412"),
    "sodium-bisulfate": ("016-046-00-X", "Danger", "GHS05", "H318"),
    "sodium-bisulfite": ("016-064-00-8", "Warning", "GHS07", "H302*"),
    "sodium-carbonate": ("011-005-00-2", "Warning", "GHS07", "H319"),
    "sodium-hydroxide": ("011-002-00-6", "Danger", "GHS05", "H314"),
    "sodium-metabisulfite": ("016-063-00-2", "Danger", "GHS05 GHS07", "H302* H318"),
    "sodium-thiocyanate": ("615-030-00-5", "Warning", "GHS07", "H302* H312* H332* H412"),
    "sulfuric-acid": ("016-020-00-8", "Danger", "GHS05", "H314"),
    "tetrasodium-edta": ("607-428-00-2", "Danger", "GHS05 GHS07", "H302* H318"),
}

#: The same from memory; entries that later adaptations may have changed.
RECALLED = {
    "hydrogen-peroxide": ("008-003-00-9", "Danger", "GHS03 GHS05 GHS07", "H271 H302* H314 H332*"),
    "isothiazolinone-biocide": (
        "613-167-00-5",
        "Danger",
        "GHS05 GHS06 GHS09",
        "H301 H310 H314 H317 H318 H330 H400 H410",
    ),
    "phosphoric-acid": ("015-011-00-6", "Danger", "GHS05", "H314"),
    "propionic-acid": ("607-089-00-0", "Danger", "GHS05", "H314"),
    "sodium-sulfide": ("016-009-00-8", "Danger", "GHS05 GHS06 GHS09", "H302* H311* H314 H400"),
    "thiourea": ("612-082-00-0", "Warning", "GHS07 GHS08 GHS09", "H302* H351 H361d H411"),
}
LINES = READ | RECALLED

#: Where a record's line is another than the entry's: (signal word, pictograms, why).
OTHER_LINES = {
    "benzotriazole": ("Warning", "GHS07 GHS09", "suppliers' H302 and H319 stand beside the entry"),
    "potassium-permanganate": (
        "Danger",
        "GHS03 GHS05 GHS07 GHS08 GHS09",
        "GHS05 is for eye damage, which suppliers' sheets often add",
    ),
}

#: Where a record holds other statements than the entry: (left out, added, why).
OTHER_STATEMENTS = {
    "benzotriazole": ("", "H302 H319", "suppliers' own classification beside the entry"),
    "p-aminophenol-hydrochloride": ("", "H317", "skin sensitiser in other jurisdictions; the stricter word is kept"),
    "potassium-permanganate": ("", "H318", "suppliers' sheets often add eye damage; the entry says nothing of the eye"),
}


def recorded(demo: Catalogue, chemical: str) -> Hazards:
    """The record that follows the entry."""
    records = demo.chemicals[chemical].hazards
    return next((r for r in records if r.status == "harmonised"), records[0])


def test_every_harmonised_record_is_compared(demo: Catalogue) -> None:
    harmonised = {i for i, c in demo.chemicals.items() if any(r.status == "harmonised" for r in c.hazards)}
    assert harmonised == LINES.keys()


@pytest.mark.parametrize("chemical", LINES)
def test_the_record_names_its_entry(demo: Catalogue, chemical: str) -> None:
    record = recorded(demo, chemical)
    assert record.index == LINES[chemical][0]
    assert f"index {record.index}" in str(record.source.citation)
    assert record.checked_against == "ATP 23"


@pytest.mark.parametrize("chemical", LINES)
def test_label_line_recomputed_from_the_classes(demo: Catalogue, chemical: str) -> None:
    classes = recorded(demo, chemical).classes
    label = label_of((c.h for c in classes), (c.hazard for c in classes))
    _, signal, pictograms, _ = LINES[chemical]
    if chemical in OTHER_LINES:
        assert OTHER_LINES[chemical][:2] != (signal, pictograms), "a row that is not needed"
        signal, pictograms, _ = OTHER_LINES[chemical]
    assert (label.signal, " ".join(label.pictograms)) == (signal, pictograms)


@pytest.mark.parametrize("chemical", LINES)
def test_statements_and_minimum_classifications_are_the_entry_s(demo: Catalogue, chemical: str) -> None:
    here = {f"{c.h}*" if c.minimum else c.h for c in recorded(demo, chemical).classes}
    entry = set(LINES[chemical][3].split())
    without, more, _ = OTHER_STATEMENTS.get(chemical, ("", "", ""))
    assert entry - here == set(without.split())
    assert here - entry == set(more.split())
