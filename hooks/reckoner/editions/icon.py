"""The handbook's icon: a beaker with a drop over it, drawn here as a vector picture and as pixels."""

from __future__ import annotations

import struct
import zlib

BACK = (0x27, 0x34, 0x3B)
FRONT = (0xFF, 0xFF, 0xFF)
LIQUID = (0x7F, 0xD3, 0xDA)
#: Corners on a square of 100, inside the middle 60, so that a round or square mask takes nothing away.
_GLASS = ((28, 44), (72, 44), (72, 50), (68, 50), (68, 80), (32, 80), (32, 50), (28, 50))
_FILL = ((37, 58), (63, 58), (63, 75), (37, 75))
_DROP = ((50, 20), (56, 31), (50, 38), (44, 31))
_SHAPES = ((_GLASS, FRONT), (_FILL, LIQUID), (_DROP, LIQUID))
_Colour = tuple[int, int, int]
_Shape = tuple[tuple[int, int], ...]


def svg() -> str:
    """The icon as a vector picture."""
    shapes = "".join(f'<path fill="{_hex(colour)}" d="M{_path(shape)}z"/>' for shape, colour in _SHAPES)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">'
        f'<path fill="{_hex(BACK)}" d="M0 0h100v100H0z"/>{shapes}</svg>\n'
    )


def png(size: int) -> bytes:
    """The icon as a PNG of ``size`` pixels a side, without transparency (8 bits a channel)."""
    rows = b"".join(b"\x00" + _row((y + 0.5) * 100 / size, size) for y in range(size))
    header = struct.pack(">IIBBBBB", size, size, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in chunks)


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def _row(down: float, size: int) -> bytes:
    """One row of pixels at a height on the square of 100."""
    row = bytearray(bytes(BACK) * size)
    for shape, paint in _SHAPES:
        edges = [round(x * size / 100) for x in sorted(_crossings(down, shape))]
        for left, right in zip(edges[::2], edges[1::2], strict=True):
            row[3 * left : 3 * right] = bytes(paint) * (right - left)
    return bytes(row)


def _crossings(down: float, shape: _Shape) -> list[float]:
    """Where a level line crosses a polygon's outline: an even number of times."""
    sides = zip(shape, shape[1:] + shape[:1], strict=True)
    return [(x2 - x1) * (down - y1) / (y2 - y1) + x1 for (x1, y1), (x2, y2) in sides if (y1 > down) != (y2 > down)]


def _hex(colour: _Colour) -> str:
    return "#" + bytes(colour).hex()


def _path(shape: _Shape) -> str:
    return "L".join(f"{x} {y}" for x, y in shape)
