"""Files spoiled as people, editors, spreadsheets and disks spoil them, each way a function of a handbook's files.

``MUTATIONS`` has them by family. Each takes a random source and the files and returns what is changed: file to bytes,
None where it is gone; or None where there is nothing to spoil in that way.
"""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import count
from typing import Any

import yaml
from hypothesis import strategies as st

from depending import stem
from reckoner.loading.writing import to_yaml
from small_handbooks import FULL, Handbook, handbook

Files = Mapping[str, bytes]
Changed = dict[str, bytes | None]
Mutation = Callable[[random.Random, Files], Changed | None]
Lines = list[str]
MOST_TRIES = 20
#: Reads texts only, no objects.
_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


@dataclass(frozen=True)
class Mutant:
    """A handbook with something spoiled in it.

    Attributes:
        number: of the handbook it was.
        family: the family of the mutation, and ``way`` its name.
        changed: file to its bytes, None where it is gone.
    """

    number: int
    family: str
    way: str
    changed: Changed

    @property
    def handbook(self) -> Handbook:
        """What it was before."""
        return handbook(self.number)

    @property
    def files(self) -> dict[str, bytes]:
        """All files of what it is now."""
        files = {**self.handbook.files, **self.changed}
        return {name: raw for name, raw in files.items() if raw is not None}

    def __repr__(self) -> str:
        shown = {name: raw if raw is None else raw[:2000] for name, raw in self.changed.items()}
        return f"Mutant({self.number}, {self.family!r}, {self.way!r}, {shown})"


def mutant(rng: random.Random, number: int, family: str) -> Mutant:
    """A mutant of a handbook by one of the ways of a family that fit it, which really changes something."""
    for tries in count():
        # Some have no table, or no time of day.
        number = number if tries < MOST_TRIES else FULL
        files = handbook(number).files
        way = rng.choice(MUTATIONS[family])
        changed = way(rng, files)
        if changed and any(files.get(name) != raw for name, raw in changed.items()):
            return Mutant(number, family, _name(way), changed)
    raise AssertionError("every way fits the full handbook")


def mutants(family: str, handbooks: int) -> st.SearchStrategy[Mutant]:
    """Mutants of one family, of the first so many handbooks."""
    return st.builds(mutant, st.randoms(use_true_random=False), st.integers(0, handbooks - 1), st.just(family))


def _name(way: Any) -> str:
    if isinstance(way, partial):
        return _name(way.args[0])
    return str(getattr(way, "__name__", way)).strip("_")


# Lines and letters ------------------------------------------------------------------------------------------------


def _in_lines(change: Callable[[random.Random, Lines, int], None], rng: random.Random, files: Files) -> Changed | None:
    """A change at one line that is not empty."""
    name = rng.choice(sorted(files))
    lines = files[name].decode().split("\n")
    change(rng, lines, rng.choice([number for number, line in enumerate(lines) if line.strip()]))
    return {name: "\n".join(lines).encode()}


def _line_deleted(rng: random.Random, lines: Lines, at: int) -> None:
    del lines[at : at + rng.choice([1, 1, 1, 2, 4])]


def _line_doubled(rng: random.Random, lines: Lines, at: int) -> None:
    lines.insert(at, lines[at])


def _lines_swapped(rng: random.Random, lines: Lines, at: int) -> None:
    other = min(at + rng.choice([1, 1, 2, 5]), len(lines) - 1)
    lines[at], lines[other] = lines[other], lines[at]


def _line_moved(rng: random.Random, lines: Lines, at: int) -> None:
    lines.insert(rng.randrange(len(lines)), lines.pop(at))


def _lines_joined(rng: random.Random, lines: Lines, at: int) -> None:
    lines[at : at + 2] = [" ".join(lines[at : at + 2])]


def _line_broken(rng: random.Random, lines: Lines, at: int) -> None:
    cut = rng.randrange(len(lines[at]))
    lines[at : at + 1] = [lines[at][:cut], lines[at][cut:]]


def _indented(rng: random.Random, lines: Lines, at: int) -> None:
    for number in range(at, min(at + rng.choice([1, 1, 3]), len(lines))):
        lines[number] = rng.choice([" ", "  ", "    ", "\t", "\xa0"]) + lines[number]


def _outdented(rng: random.Random, lines: Lines, at: int) -> None:
    lines[at] = lines[at].removeprefix(rng.choice([" ", "  ", "    "]))


def _line_instead(rng: random.Random, lines: Lines, at: int) -> None:
    lines[at] = rng.choice(
        [
            "---",
            "...",
            "%YAML 1.2",
            "# gone",
            "- ",
            "?",
            ": ",
            "<<<<<<< HEAD",
            "=======",
            "{",
            "[",
            "| ",
            "&a",
            "*a",
            "!!x y",
        ]
    )


def _letter(change: Callable[[random.Random, str, int], str], rng: random.Random, lines: Lines, at: int) -> None:
    lines[at] = change(rng, lines[at], rng.randrange(len(lines[at])))


def _left_out(rng: random.Random, line: str, at: int) -> str:
    return line[:at] + line[at + 1 :]


def _put_in(rng: random.Random, line: str, at: int) -> str:
    return line[:at] + rng.choice("aeg0159 .,:;'\"-_#&*!|>%@`{}[]()=+/\\~^$?<ßé½²中🙂\u0301") + line[at:]


def _instead(rng: random.Random, line: str, at: int) -> str:
    return _left_out(rng, _put_in(rng, line, at), at + 1)


def _turned(rng: random.Random, line: str, at: int) -> str:
    return line[:at] + line[at : at + 2][::-1] + line[at + 2 :]


def _doubled(rng: random.Random, line: str, at: int) -> str:
    return line[:at] + line[at] + line[at:]


#: What looks the same to a reader, or what an office program makes of it.
_LIKE = {"a": "а", "e": "е", "o": "о", "c": "с", "i": "і", "-": "–−‐", ":": "：꞉", "'": "’", '"': "“”„",
         " ": "\xa0\u2009\u3000",
         "1": "l１", "0": "O０", "l": "1", "µ": "μ", "°": "º", ",": "，", ".": "․"}  # fmt: skip


def _look_alike(rng: random.Random, line: str, at: int) -> str:
    places = [place for place, letter in enumerate(line) if letter in _LIKE]
    place = rng.choice(places or [at])
    return line[:place] + rng.choice(_LIKE.get(line[place], "x")) + line[place + 1 :]


def _other_case(rng: random.Random, line: str, at: int) -> str:
    return line.swapcase() if rng.random() < 0.3 else line[:at] + line[at].swapcase() + line[at + 1 :]


def _colon(rng: random.Random, line: str, at: int) -> str:
    """The colon behind a key is gone, glued to the value, doubled or another sign."""
    return line.replace(": ", rng.choice([" ", ":", " : ", ":: ", "; ", " = ", ":\t", ", "]), 1)


def _quoted(rng: random.Random, line: str, at: int) -> str:
    """A quote is opened or closed where there was none, or the other kind."""
    key, colon, value = line.partition(": ")
    quote = rng.choice("'\"“")
    return (
        key
        + colon
        + rng.choice([quote + value, value + quote, quote + value + quote, f"{value[:2]}{quote}{value[2:]}"])
    )


def _remark(rng: random.Random, line: str, at: int) -> str:
    return line[:at] + " # " + line[at:]


# Keys and values --------------------------------------------------------------------------------------------------


def _in_tree(change: Callable[[random.Random, Any, str], Any], rng: random.Random, files: Files) -> Changed | None:
    """A change at one key of a YAML file, at any depth."""
    name = rng.choice(sorted(name for name in files if name.endswith(".yml")))
    tree = yaml.load(files[name].decode(), _LOADER)
    mapping, key = rng.choice(list(_places(tree)))
    whole = change(rng, mapping, key)
    tree = tree if whole is None else whole
    return {name: (to_yaml(tree) if isinstance(tree, dict) else json.dumps(tree, indent=1)).encode()}


def _places(tree: Any) -> Iterator[tuple[dict[str, Any], str]]:
    if isinstance(tree, dict):
        for key, value in tree.items():
            yield tree, key
            yield from _places(value)
    elif isinstance(tree, list):
        for item in tree:
            yield from _places(item)


def _key_gone(rng: random.Random, mapping: Any, key: str) -> None:
    del mapping[key]


def _renamed(mapping: dict[str, Any], key: str, new: str) -> None:
    entries = [(new if old == key else old, value) for old, value in mapping.items()]
    mapping.clear()
    mapping.update(entries)


def _key_renamed(rng: random.Random, mapping: Any, key: str) -> None:
    at = rng.randrange(len(key))
    new = rng.choice(
        [key[:at] + key[at + 1 :], key[:at] + key[at] + key[at:], key.upper(), key + "s", "colour", key + " "]
    )
    _renamed(mapping, key, new or "k")


def _key_of_another(rng: random.Random, mapping: Any, key: str) -> None:
    _renamed(
        mapping, key, rng.choice(["id", "date", "forms", "offers", "steps", "source", "amount", "private", "format"])
    )


#: What may stand where something else is wanted.
_VALUES: tuple[Any, ...] = (
    "", "null", "~", "yes", "0", "-1", "1", "1e999", "0x10", ".inf", ".nan", "a", "[]", " ", "true", "1 g",
    [], {}, [[]], {"a": "b"}, ["a", "a"], [{"a": "b"}], {"": ""}, {"a": {"b": ["c"]}}, [""], ["", ""],
)  # fmt: skip


def _other_value(rng: random.Random, mapping: Any, key: str) -> None:
    mapping[key] = rng.choice(_VALUES)


def _value_in_list(rng: random.Random, mapping: Any, key: str) -> None:
    mapping[key] = [mapping[key]] if rng.random() < 0.7 else {key: mapping[key]}


def _values_swapped(rng: random.Random, mapping: Any, key: str) -> None:
    other = rng.choice(sorted(mapping))
    mapping[key], mapping[other] = mapping[other], mapping[key]


def _list_changed(rng: random.Random, mapping: Any, key: str) -> None:
    """A list loses an item, has one twice, is turned round or holds something else."""
    listed = mapping[key]
    if isinstance(listed, list) and listed:
        at = rng.randrange(len(listed))
        new = [
            listed[:at] + listed[at + 1 :],
            [*listed, listed[at]],
            listed[::-1],
            [*listed, rng.choice(_VALUES)],
            listed[0],
        ]
        mapping[key] = rng.choice(new)


def _key_put_in(rng: random.Random, mapping: Any, key: str) -> None:
    mapping[rng.choice(["note", "private", "certainty", "colour", "<<", "id", "of", "dilution", "time"])] = rng.choice(
        _VALUES
    )


def _whole_in_list(rng: random.Random, mapping: Any, key: str) -> Any:
    return rng.choice([[mapping], [], "x", [key], {key: mapping}])


def _record_of_another(rng: random.Random, files: Files) -> Changed | None:
    """A file holds what another holds."""
    name, other = rng.sample(sorted(files), 2)
    return {name: files[other]}


# Bytes and encodings ----------------------------------------------------------------------------------------------


def _in_bytes(change: Callable[[random.Random, bytes], bytes], rng: random.Random, files: Files) -> Changed | None:
    name = rng.choice(sorted(files))
    return {name: change(rng, files[name])}


def _flipped(rng: random.Random, raw: bytes) -> bytes:
    spoiled = bytearray(raw)
    for _ in range(rng.choice([1, 1, 2, 5])):
        spoiled[rng.randrange(len(raw))] ^= 1 << rng.randrange(8)
    return bytes(spoiled)


def _bytes_put_in(rng: random.Random, raw: bytes) -> bytes:
    """NUL, control characters, half and overlong sequences, and signs that are not seen."""
    at = rng.randrange(len(raw))
    odd = [b"\0", b"\x07", b"\x1b[31m", b"\xff", b"\xc3", b"\xe2\x82", b"\xf0\x9f\x98", b"\xed\xa0\x80",
           b"\xc0\xaf", b"\x85",
           *(sign.encode() for sign in "\x85\u2028\u200b\u202e\ufeff\u061c\ufffe\U0010ffff\x7f")]  # fmt: skip
    return raw[:at] + rng.choice(odd) + raw[at:]


def _cut_off(rng: random.Random, raw: bytes) -> bytes:
    return raw[: rng.randrange(len(raw))]


def _cut_out(rng: random.Random, raw: bytes) -> bytes:
    at = rng.randrange(len(raw))
    return raw[:at] + raw[at + rng.randrange(1, 200) :]


def _other_ends(rng: random.Random, raw: bytes) -> bytes:
    """Lines end as elsewhere, or only some do."""
    end = rng.choice([b"\r\n", b"\r", b"\n\n", b"\r\r\n"])
    ends = rng.choice([raw.count(b"\n"), rng.randint(1, 3)])
    return raw.replace(b"\n", end, ends)


def _escaped(rng: random.Random, raw: bytes) -> bytes:
    """A value becomes a quoted one with an escape in it."""
    lines = raw.decode().split("\n")
    at = rng.choice([number for number, line in enumerate(lines) if ": " in line] or [0])
    escape = rng.choice(
        ["\\ud800", "\\udfff", "\\0", "\\x00", "\\uffff", "\\U00110000", "\\U0001F642", "\\q", "\\N", "\\e", "\\r"]
    )
    lines[at] = f'{lines[at].partition(": ")[0]}: "{escape}{rng.choice(["", "a"])}"'
    return "\n".join(lines).encode()


def _encoded(rng: random.Random, raw: bytes) -> bytes:
    """Saved in another encoding, with or without a mark, with a letter that is not in ASCII."""
    encoding = rng.choice(
        ["utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-32-le", "utf-7", "cp500", "cp1252"]
    )
    text = raw.decode().replace("a", rng.choice("aä"), rng.randint(1, 9))
    return text.encode(encoding, "replace")


def _encoded_twice(rng: random.Random, raw: bytes) -> bytes:
    return raw.decode().replace("e", "é", rng.randint(1, 3)).encode().decode("cp1252").encode()


def _other_file(rng: random.Random, raw: bytes) -> bytes:
    """What is no text at all, or nothing."""
    return rng.choice([b"", b"\n", b"\n\n  \n", b"#\n", b"\x1f\x8b\x08\0", b"PK\x03\x04", b"%PDF-1.4\n",
                       b"\x89PNG\r\n\x1a\n", b"<!DOCTYPE html>\n<html>", b"null", b"-", b"{}", b"[]", b"\xef\xbb\xbf",
                       rng.randbytes(60)])  # fmt: skip


# Sizes ------------------------------------------------------------------------------------------------------------


def _big(rng: random.Random, mapping: Any, key: str) -> None:
    """A value is very long, very deep or very many."""
    size = rng.choice([100, 300, 6_000, 60_000])
    deep: Any = "x"
    for _ in range(min(size, 200)):
        deep = [deep] if rng.random() < 0.5 else {"a": deep}
    value = mapping[key]
    many = value * min(size, 3000) if isinstance(value, list) else [value] * min(size, 3000)
    mapping[key] = rng.choice(
        ["x" * size, "word " * (size // 5), "9" * size, "é" * size, f"{'0' * size}1 g", deep, many, many]
    )


def _many_keys(rng: random.Random, mapping: Any, key: str) -> None:
    mapping.update({f"{key}{number}": "x" for number in range(rng.choice([30, 300, 3000]))})


def _long_key(rng: random.Random, mapping: Any, key: str) -> None:
    _renamed(mapping, key, key * rng.choice([10, 100, 1000]))


def _huge_figure(rng: random.Random, files: Files) -> Changed | None:
    """A figure is huge, tiny or has very many digits."""
    figure = rng.choice(["9" * 40, "9" * 190, "1e400", "1e-400", f"0.{'0' * 60}1", f"1.{'3' * 90}", "1000000000",
                         "0.0000001", "99999999999999999", "-0", "00012",
                         "1_000", "1e3", "+5", "1/0", "1000000"])  # fmt: skip
    return _replaced(rng, files, re.compile(r"(?<=: )\d[\d.]*(?= |$)", re.M), lambda _: figure)


def _padded(rng: random.Random, raw: bytes) -> bytes:
    """Thousands of empty lines, remarks or spaces, somewhere."""
    lines = raw.split(b"\n")
    at = rng.randrange(len(lines))
    padding = rng.choice([b"\n", b"# remark\n", b" \n", b" ", b",", b"a\n"]) * rng.choice([10, 1_000, 50_000])
    return b"\n".join(lines[:at]) + b"\n" + padding + b"\n".join(lines[at:])


def _many_files(rng: random.Random, files: Files) -> Changed | None:
    """One record many times over, under other names."""
    name = rng.choice(sorted(name for name in files if "/" in name))
    own = stem(name)
    copies = {name.replace(own, f"{own}-{number}"): number for number in range(2, rng.choice([4, 30]))}
    renew = rng.random() < 0.7
    return {
        copy: files[name].replace(f"id: {own}".encode(), f"id: {own}-{number}".encode()) if renew else files[name]
        for copy, number in copies.items()
    }


# Dates, units, names ----------------------------------------------------------------------------------------------


def _replaced(rng: random.Random, files: Files, pattern: re.Pattern[str], new: Callable[[str], str]) -> Changed | None:
    """One thing that fits a pattern, in some file, becomes another."""
    found = [(name, one) for name in sorted(files) for one in pattern.finditer(files[name].decode())]
    if not found:
        return None
    name, one = rng.choice(found)
    text = files[name].decode()
    return {name: (text[: one.start()] + new(one[0]) + text[one.end() :]).encode()}


_DATES = """{year}-02-30|{year}-13-01|{year}-00-10|{year}-11-31|2025-02-29|2027-01-01|2026-11-26|9999-12-31|10000-01-01
0001-01-01|0000-01-01|1899-12-31|1970-01-01|{day}.{month}.{year}|{month}/{day}/{year}|{year}/{month}/{day}|{year}
{year}{month}{day}|{year}-{month}|today|{year}-{month}-{day}T10:00:00Z|{year}-{month}-{day} 10:00|2026-W48-3|46000
{short}-{month}-{day}|-{year}-{month}-{day}|{day}-{month}-{year}|２０２６-11-25|2026-1-5|{day} November {year}
2020-02-29|2024-06-30""".replace("\n", "|").split("|")


def _other_date(rng: random.Random, files: Files) -> Changed | None:
    """Impossible, future, long past, or written as elsewhere."""

    def new(old: str) -> str:
        year, month, day = old.split("-")
        return rng.choice(_DATES).format(year=year, month=month, day=day, short=year[2:])

    return _replaced(rng, files, re.compile(r"\b\d{4}-\d\d-\d\d\b"), new)


def _list_of_another_day(rng: random.Random, files: Files) -> Changed | None:
    """A price list's file has another date in its name."""
    lists = [name for name in sorted(files) if re.search(r"/\d[^/]*\Z", name)]
    if not lists:
        return None
    name = rng.choice(lists)
    day = rng.choice(
        ["2026-02-30", "2027-01-01", "1.11.2026", "2026-11-1", "2019-05-05", "0-list", "2026-11-01 copy", "9999-12-31"]
    )
    return {name: None, name.replace(stem(name), day): files[name]}


_UNITS = """g mL L kg mg °C % %_w/w min s h months weeks years rolls EUR GBP m cm2 oz gr pt lb US_fl_oz imp_fl_oz
oz_avdp grain drop ml l Kg G MG litre grams ° C F K ppm mol M XXX € $ 1 g/mL w/v ft""".replace("\n", " ").split(" ")
_WRITINGS = """{figure}{unit}|{figure}|{unit}|{figure},5 {unit}|-{figure} {unit}|0 {unit}|1 1/2 {unit}|1,000 {unit}
1.000,5 {unit}|{figure}-{figure} {unit}|9-1 {unit}|ca. {figure} {unit}|<{figure} {unit}|{figure}  {unit}|½ {unit}
{figure} {unit} {figure} {unit}|{figure} {unit} + 1|١ {unit}|１ {unit}|{figure}\xa0{unit}|{unit} {figure}
{figure} {unit}.|{figure}. {unit}|.5 {unit}|+{figure} {unit}|{figure} {unit} {unit}|({figure} {unit})
{figure} {unit} (about)|1 000 {unit}""".replace("\n", "|").split("|")
_AMOUNT = re.compile(r"(?<=: )\d[\d.]* (?:[^\W\d]|[°%])[^\n]*")


def _other_unit(rng: random.Random, files: Files) -> Changed | None:
    return _replaced(rng, files, _AMOUNT, lambda old: f"{old.split(' ')[0]} {rng.choice(_UNITS).replace('_w', ' w')}")


def _other_writing(rng: random.Random, files: Files) -> Changed | None:
    """Without its space, unit or figure; with a comma, a sign, a range, a fraction, other digits."""

    def new(old: str) -> str:
        figure, unit = old.split(" ", 1)
        return rng.choice(_WRITINGS).format(figure=figure, unit=unit)

    return _replaced(rng, files, _AMOUNT, new)


def _other_time(rng: random.Random, files: Files) -> Changed | None:
    new = [
        "3:60",
        "-3:15",
        "0:00",
        "99:59:59",
        "3.15",
        "3:15:15",
        "3 min",
        "195 s",
        "3:1",
        "::",
        "3'15\"",
        "999999:00",
        "1:30 h",
    ]
    return _replaced(rng, files, re.compile(r"(?<=: )\d+:\d\d\b"), lambda _: rng.choice(new))


def _known(files: Files) -> list[str]:
    return sorted(
        {stem(name) for name in files if name.startswith(("chemicals/", "solutions/", "processes/", "kits/"))}
    )


def _other_name(rng: random.Random, files: Files) -> Changed | None:
    """A name of a record, wherever it is named or where it is given, becomes another."""
    known = _known(files)
    pattern = re.compile(
        r"(?<![\w-])(?:" + "|".join(map(re.escape, sorted(known, key=len, reverse=True))) + r")(?![\w-])"
    )
    other = rng.choice(known)

    def new(old: str) -> str:
        return rng.choice(
            [
                other,
                f"{old}x",
                old[:-1],
                old.upper(),
                "nothing-of-the-kind",
                old.replace("-", "_"),
                "../x",
                f"{old} {other}",
            ]
        )

    return _replaced(rng, files, pattern, new)


def _form_changed(rng: random.Random, files: Files) -> Changed | None:
    new = ["anhydrous", "pentahydrate", "purified", "solution-60", "monohydrate", "x", "Anhydrous", "tap"]
    return _replaced(rng, files, re.compile(r"(?<=form: )[\w-]+|(?<=- id: )[\w-]+"), lambda _: rng.choice(new))


def _id_changed(rng: random.Random, files: Files) -> Changed | None:
    """A record has another id, in the file alone or with its name."""
    name = rng.choice(sorted(name for name in files if stem(name) in _known(files)))
    new = rng.choice([f"{stem(name)}-new", *_known(files)])
    text = re.sub(rb"(?m)^id: .*$", f"id: {new}".encode(), files[name])
    return {name: text} if rng.random() < 0.5 else {name: None, name.replace(stem(name), new): text}


def _file_gone(rng: random.Random, files: Files) -> Changed | None:
    return {rng.choice(sorted(files)): None}


_FILE_NAMES = """{base}-2.{ending}|{base}.yaml|{base}.txt|{base}.YML|{base}.yml.txt|{base}.csv|{base} copy.{ending}
{base}.{ending}~|{folder}/.{last}|{capitals}.{ending}|{last}|chemicals/{last}|solutions/{last}|plans/{last}|kits/{last}
{folder}/deeper/{last}|prices/{last}|prices/new/{last}|{base}\u202e.{ending}""".replace("\n", "|").split("|")


def _file_renamed(rng: random.Random, files: Files) -> Changed | None:
    """Another name, ending or folder."""
    name = rng.choice(sorted(files))
    base, ending = name.rsplit(".", 1)
    folder, _, last = name.rpartition("/")
    new = rng.choice(_FILE_NAMES).format(base=base, ending=ending, folder=folder, last=last, capitals=base.upper())
    new = new.lstrip("/")
    return {name: None, new: files[name]}


def _file_twice(rng: random.Random, files: Files) -> Changed | None:
    name = rng.choice(sorted(files))
    last = name.rsplit("/", 1)[-1]
    new = rng.choice([f"solutions/x/{last}", f"chemicals/{last}", f"prices/one/{last}", name.replace(".", "-2.")])
    return {new: files[name]}


def _round_about(rng: random.Random, files: Files) -> Changed | None:
    """A formula is made with one that may be made with it."""
    formulas = sorted(name for name in files if name.startswith("solutions/"))
    name, other = rng.choice(formulas), rng.choice(formulas)
    tree = yaml.load(files[name].decode(), _LOADER)
    if "ingredients" in tree:
        tree["ingredients"].append({"formula": stem(other), "amount": "1 mL"})
    else:
        tree["of"] = [stem(other)]
    return {name: to_yaml(tree).encode()}


# Tables -----------------------------------------------------------------------------------------------------------


def _in_table(
    change: Callable[[random.Random, list[Lines], str], None], rng: random.Random, files: Files
) -> Changed | None:
    tables = sorted(name for name in files if name.endswith(".csv"))
    if not tables:
        return None
    name = rng.choice(tables)
    text = files[name].decode()
    sign = ";" if ";" in text else ","
    rows = [line.split(sign) for line in text.splitlines()]
    change(rng, rows, sign)
    return {name: ("\n".join(sign.join(row) for row in rows) + "\n").encode()}


def _column_gone(rng: random.Random, rows: list[Lines], sign: str) -> None:
    at = rng.randrange(len(rows[0]))
    for row in rows:
        del row[at : at + 1]


def _columns_swapped(rng: random.Random, rows: list[Lines], sign: str) -> None:
    some = [rows[0]] if rng.random() < 0.5 else rows
    one, other = rng.sample(range(len(rows[0])), 2)
    for row in some:
        row[one], row[other] = row[other], row[one]


_CELLS = f"""| |"|"a|a"b|""|x|1|1.000,50 EUR|1,50|€|-3 EUR|1e9 EUR|=1+1|#REF!|\t|'1|∞|0 g|0|1 kg|5 EUR|12.50 XXX|100 %
NULL|1 x 1 g|3 × 2 g|\x0b|{"9" * 80}""".replace("\n", "|").split("|")


def _cell_changed(rng: random.Random, rows: list[Lines], sign: str) -> None:
    row = rng.choice(rows)
    row[rng.randrange(len(row))] = rng.choice(_CELLS)


def _cell_gone(rng: random.Random, rows: list[Lines], sign: str) -> None:
    row = rng.choice(rows)
    del row[rng.randrange(len(row))]


def _cell_more(rng: random.Random, rows: list[Lines], sign: str) -> None:
    row = rng.choice(rows)
    row.insert(rng.randrange(len(row) + 1), rng.choice(["", "x", "yes"]))


def _row_changed(rng: random.Random, rows: list[Lines], sign: str) -> None:
    """A row is gone, twice, empty, or there are very many."""
    at = rng.randrange(len(rows))
    rows[at : at + 1] = rng.choice(
        [[], [rows[at]] * 2, [[""]], [rows[at], [""]], [[rows[at][0]]], [rows[at]] * 3000, [["sum"]]]
    )


def _other_sign(rng: random.Random, rows: list[Lines], sign: str) -> None:
    """Another sign between the cells, in all rows or in one."""
    new = rng.choice([";", "\t", "|", ", ", ","])
    for row in rows if rng.random() < 0.6 else [rng.choice(rows)]:
        row[:] = [new.join(row)]


def _of_lines(*changes: Callable[[random.Random, Lines, int], None]) -> tuple[Mutation, ...]:
    return tuple(partial(_in_lines, change) for change in changes)


def _of_letters(*changes: Callable[[random.Random, str, int], str]) -> tuple[Mutation, ...]:
    return tuple(partial(_in_lines, partial(_letter, change)) for change in changes)


def _of_trees(*changes: Callable[[random.Random, Any, str], Any]) -> tuple[Mutation, ...]:
    return tuple(partial(_in_tree, change) for change in changes)


def _of_bytes(*changes: Callable[[random.Random, bytes], bytes]) -> tuple[Mutation, ...]:
    return tuple(partial(_in_bytes, change) for change in changes)


def _of_tables(*changes: Callable[[random.Random, list[Lines], str], None]) -> tuple[Mutation, ...]:
    return tuple(partial(_in_table, change) for change in changes)


#: Family -> its ways.
MUTATIONS: dict[str, tuple[Mutation, ...]] = {
    "lines": _of_lines(
        _line_deleted, _line_doubled, _lines_swapped, _line_moved, _lines_joined, _line_broken, _indented, _outdented,
        _line_instead,
    ),
    "letters": _of_letters(
        _left_out, _put_in, _instead, _turned, _doubled, _look_alike, _other_case, _colon, _quoted, _remark
    ),
    "structure": (
        *_of_trees(
            _key_gone, _key_renamed, _key_of_another, _other_value, _other_value, _value_in_list, _values_swapped,
            _list_changed, _key_put_in, _whole_in_list,
        ),
        _record_of_another,
    ),
    "bytes": _of_bytes(_flipped, _bytes_put_in, _cut_off, _cut_out, _other_ends),
    "encodings": _of_bytes(_escaped, _escaped, _encoded, _encoded_twice, _other_file),
    "sizes": (*_of_trees(_big, _big, _many_keys, _long_key), _huge_figure, *_of_bytes(_padded), _many_files),
    "dates": (_other_date, _other_date, _other_date, _list_of_another_day),
    "units": (_other_unit, _other_writing, _other_writing, _other_time),
    "names": (
        _other_name, _other_name, _form_changed, _id_changed, _file_gone, _file_renamed, _file_twice, _round_about
    ),
    "tables": _of_tables(
        _column_gone, _columns_swapped, _cell_changed, _cell_changed, _cell_gone, _cell_more, _row_changed, _other_sign
    ),
}  # fmt: skip
