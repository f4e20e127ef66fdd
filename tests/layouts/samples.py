"""One mark of every kind. A new kind needs a sample here, and a decoder, before the tests pass."""

from io import BytesIO

import numpy as np
from PIL import Image

from layouts.drawing import Box, Cells, Disc, Figure, Line, Part, Path, Picture
from layouts.typeface import label

_LETTER = label(30, 40, "Threading  4 1/2 in <&> é", 12, "bold", "middle", "#123456")


def picture_file(kind="png", size=(7, 5), mode="RGB"):
    """A file of a small picture, no pixel of which is like another."""
    pixels = np.arange(size[0] * size[1] * len(mode), dtype=np.uint8) * 5
    seen = Image.frombytes(mode, size, pixels.tobytes())
    file = BytesIO()
    seen.save(file, kind, **({"quality": 95} if kind == "jpeg" else {}))
    return file.getvalue()


SAMPLES = {
    type(mark): mark
    for mark in (
        Line(10, 20, 110, 20, 0.35, "#b03a2e", (2, 1)),
        Box(12.5, 30, 40, 7.25, "#ddeeff", "#000000", 0.2),
        Disc(50, 60, 3, None, "#808080", 0.15),
        Path((("M", 1, 2), ("L", 3, 4), ("C", 5, 6, 7, 8, 9, 10), ("Z",)), "#00ff00", None),
        Path((("M", 1, 2), ("L", 3, 4), ("L", 5, 1), ("Z",)), "#102030", at=(20.5, 31.25)),
        _LETTER,
        Cells(20, 80, 1.7, 2.3, np.array([[True, False, True], [False, True, True]]), "#44546a"),
        Figure((Line(0, 0, 9, 9), _LETTER), "A twill", "Rises to the right"),
        Picture(60, 200, 42, 30, picture_file(), "The sample", "washed"),
        Part((_LETTER, Line(30, 41, 90, 41)), "heading"),
    )
}
