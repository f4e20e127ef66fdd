"""A PDF whose small objects are packed into compressed streams, and its table of them likewise.

A structure tree is thousands of objects of a few bytes; written out one by one they would be as
long as all the rest of the file. ISO 32000-1, 7.5.7 and 7.5.8.
"""

from __future__ import annotations

import zlib
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_TOGETHER = 400  # objects a stream: a reader unpacks the whole of one for the first of its objects
_WIDTHS = (1, 4, 2)  # bytes of the three columns of the table


def pack(canvas: Canvas) -> None:
    """Have the document of the canvas written packed when it is saved."""
    document: Any = canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001
    document.format = partial(_packed, document)


def _packed(document: Any) -> bytes:  # noqa: ANN401 - reportlab's document has no types
    """Write the whole file, in place of reportlab's own last step."""
    from reportlab.pdfbase.pdfdoc import PDFFile  # noqa: PLC0415 - loaded when there is a canvas

    root, info = document.Reference(document.Catalog), document.Reference(document.info)
    alone, small = _bodies(document, {root.name, info.name})
    file = PDFFile(document._pdfVersion)  # noqa: SLF001
    offsets = {number: _written(file, number, body) for number, body in alone.items()}
    free = len(document.numberToId) + 1
    places: dict[int, tuple[int, int]] = {}
    numbers = sorted(small)
    for start in range(0, len(numbers), _TOGETHER):
        together = numbers[start : start + _TOGETHER]
        places |= {number: (free, index) for index, number in enumerate(together)}
        offsets[free] = _written(file, free, _stream_of(together, small))
        free += 1
    offsets[free] = file.offset
    words = (
        f"/Root {_reference(root, document)}/Info {_reference(info, document)}"
        f"/ID {document.ID().decode('latin-1').split(chr(10) + '%')[0].strip()}"
    )
    _written(file, free, _table(offsets, places, words))
    file.add(f"startxref\n{offsets[free]}\n%%EOF\n")
    return bytes(file.format(document))


def _bodies(document: Any, plain: set[str]) -> tuple[dict[int, bytes], dict[int, bytes]]:  # noqa: ANN401
    """Return objects by number: those that stand by themselves, and those that can be packed.

    Streams cannot; the two that a reader looks for first, named in `plain`, are not.
    """
    from reportlab.pdfbase.pdfdoc import format as written  # noqa: PLC0415

    alone: dict[int, bytes] = {}
    small: dict[int, bytes] = {}
    number = 1
    while number in document.numberToId:  # which grows while objects are written
        name = document.numberToId[number]
        body = written(document.idToObject[name], document, toplevel=1)
        streamed = body.rstrip().endswith(b"endstream")
        (alone if streamed or name in plain else small)[number] = body
        number += 1
    return alone, small


def _reference(reference: Any, document: Any) -> str:  # noqa: ANN401
    return str(reference.format(document).decode("ascii"))


def _written(file: Any, number: int, body: bytes) -> int:  # noqa: ANN401
    """Write an object and return where it begins."""
    end = b"" if body.endswith(b"\n") else b"\n"
    return int(file.add(b"%d 0 obj\n%b%bendobj\n" % (number, body, end)))


def _stream_of(numbers: list[int], bodies: dict[int, bytes]) -> bytes:
    """Return objects as one stream: their numbers and places, then the objects."""
    index, objects, offset = [], [], 0
    for number in numbers:
        body = bodies[number].strip()
        index.append(b"%d %d" % (number, offset))
        objects.append(body)
        offset += len(body) + 1
    head = b" ".join(index) + b"\n"
    entries = b"/Type/ObjStm/N %d/First %d" % (len(numbers), len(head))
    return _stream(entries, head + b"\n".join(objects))


def _table(offsets: dict[int, int], places: dict[int, tuple[int, int]], words: str) -> bytes:
    """Return the table of where every object lies, as a stream."""
    size = max(offsets) + 1
    rows = np.zeros((size, sum(_WIDTHS)), dtype=np.uint8)
    rows[0, 5:] = 255
    for number in range(1, size):
        kind, second, third = (2, *places[number]) if number in places else (1, offsets[number], 0)
        rows[number] = np.frombuffer(
            b"%b%b%b" % (kind.to_bytes(1), second.to_bytes(4), third.to_bytes(2)), dtype=np.uint8
        )
    columns = sum(_WIDTHS)
    entries = (
        f"/Type/XRef/Size {size}/W[{' '.join(map(str, _WIDTHS))}]{words}"
        f"/DecodeParms<</Predictor 12/Columns {columns}>>"
    )
    return _stream(entries.encode("latin-1"), _differences(rows))


def _differences(rows: NDArray[np.uint8]) -> bytes:
    """Return rows of bytes as what each differs from the one above: PNG's filter 2, Up."""
    above = np.vstack([np.zeros((1, rows.shape[1]), dtype=np.uint8), rows[:-1]])
    marked = np.full((len(rows), rows.shape[1] + 1), 2, dtype=np.uint8)
    marked[:, 1:] = rows - above
    return marked.tobytes()


def _stream(entries: bytes, content: bytes) -> bytes:
    packed = zlib.compress(content, 9)
    return b"<<%b/Filter/FlateDecode/Length %d>>\nstream\n%b\nendstream\n" % (
        entries,
        len(packed),
        packed,
    )
