"""The kinds of value that a spec's fields hold: each a reader of text and a JSON Schema.

The schema describes what may be written in the file, the type what the program then holds.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from typing import Annotated, Any, Literal, get_args

from pydantic import PlainValidator, WithJsonSchema

from cards.sequence import Sequence
from cards.spec import (
    fibre_notation,
    notation,
    sequences,
    size_systems,
    texts,
    uses,
    words,
    yarn_notation,
)
from cards.spec.numbers import take_number
from cards.spec.paper import PaperSize, parse_paper_size
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.units import Units as UnitsName

MOST_SHAFTS = sequences.MOST_SHAFTS

_LENGTH = {
    "type": "string",
    "pattern": r"^\s*[\d.½¼¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]+.*[A-Za-z]+\.?\s*$",
    "examples": ["130 cm", "4 1/2 in", "2.5 m", "1 3/4 yd"],
}
_DENSITY = {"type": "string", "examples": ["5 per cm", "40 per 10 cm", "12 per in", "24 epi"]}
_PERCENT = {"type": "string", "pattern": r"^.*(%|[Pp]er ?cent)\s*$", "examples": ["8 %"]}
_SEQUENCE = {"type": ["string", "integer"]}


def _whole(what: str, least: int, most: int) -> tuple[PlainValidator, WithJsonSchema]:
    """How to read a whole number from `least` to `most`, and how to describe it."""
    return (
        PlainValidator(lambda value: words.read_whole(value, what, least, most)),
        WithJsonSchema({"type": "integer", "minimum": least, "maximum": most}),
    )


def _choice(what: str, *choices: str) -> tuple[PlainValidator, WithJsonSchema]:
    return (
        PlainValidator(lambda value: words.read_choice(value, choices, what)),
        WithJsonSchema({"type": "string", "enum": list(choices)}),
    )


def _read(
    reader: Callable[[object], object], schema: dict[str, Any]
) -> tuple[PlainValidator, WithJsonSchema]:
    return PlainValidator(reader), WithJsonSchema(schema)


def _text(most: int) -> dict[str, Any]:
    return {"type": ["string", "number"], "maxLength": most}


def _line(most: int) -> tuple[PlainValidator, WithJsonSchema]:
    """How to read a text that is printed in a line, and how to describe it."""
    return _read(lambda value: texts.read_line(value, most), _text(most))


def _cloth_length(value: object) -> float:
    return notation.parse_length(value, least=5)


def _loom_width(value: object) -> float:
    return notation.parse_length(value, least=20, most=10_000)


def _longest_warp(value: object) -> float:
    return notation.parse_length(value, least=500, most=200_000)


def _sett(value: object) -> float:
    return notation.parse_density(value, least=1)


def _wraps(value: object) -> float:
    """Return wraps per mm: from 2 in an inch to 500 in an inch."""
    if isinstance(value, str):
        value = re.sub(r"\s*wpi\s*$", " per in", value, flags=re.IGNORECASE)
    return notation.parse_density(value, least=8, most=2000)


# Yarns from loose roving to hard reeled silk lie well within these (assumed).
_LEAST_ASHENHURST, _MOST_ASHENHURST = 0.5, 1.3


def _ashenhurst(value: object) -> float:
    text = words.text_of(value, "a number such as 0.90")
    number, end = take_number(text)
    if text[end:].strip():
        message = f"`{shortened(text[end:])}` stands after the number"
        raise NotationError(message, "write a bare number such as 0.90", end, code="stray-text")
    if not _LEAST_ASHENHURST <= number <= _MOST_ASHENHURST:
        message = f"no yarn has a constant of {shortened(text)}"
        mend = f"write {_LEAST_ASHENHURST} to {_MOST_ASHENHURST}, such as 0.90 for a firm yarn"
        raise NotationError(message, mend, code="out-of-range")
    return float(number)


def _length_or_nothing(value: object) -> float:
    return notation.parse_length(value, zero=True)


def _section_length(value: object) -> float | Literal["fill"]:
    if isinstance(value, str) and value.strip().lower() == "fill":
        return "fill"
    return notation.parse_length(value)


def _heddles(value: object) -> int | tuple[int, ...]:
    if isinstance(value, (list, tuple)) or len(words.text_of(value, "heddles").split()) > 1:
        return words.read_numbers(value, "heddles", 5000, least=0)
    return words.read_whole(value, "heddles", 1, 5000)


def _shafts(value: object) -> tuple[int, ...]:
    return words.read_numbers(value, "shaft", MOST_SHAFTS)


# Looms that go by their shed or by their kind (common practice).
_BY_KIND = {"jack": "rising", "counterbalance": "sinking"}
_ACTIONS = (
    "rising", "sinking", "countermarch", "table", "direct", "dobby", "rigid heddle",
)  # fmt: skip


def _action(value: object) -> str:
    action = words.read_choice(value, (*_ACTIONS, *_BY_KIND), "loom action")
    return _BY_KIND.get(action, action)


def _pairs(value: object) -> tuple[tuple[int, int], ...]:
    return words.read_pairs(value, "shaft", MOST_SHAFTS)


Title = Annotated[str, *_line(texts.MOST_IN_A_TITLE)]
Name = Annotated[str, *_line(texts.MOST_IN_A_NAME)]
Note = Annotated[str, *_line(texts.MOST_IN_A_NOTE)]
Passage = Annotated[str, *_read(texts.read_passage, _text(texts.MOST_IN_A_PASSAGE))]
Length = Annotated[float, *_read(notation.parse_length, _LENGTH)]
ClothLength = Annotated[float, *_read(_cloth_length, _LENGTH)]
LoomWidth = Annotated[float, *_read(_loom_width, _LENGTH)]
LongestWarp = Annotated[float, *_read(_longest_warp, _LENGTH)]
LengthOrNothing = Annotated[float, *_read(_length_or_nothing, _LENGTH)]
SectionLength = Annotated[
    float | Literal["fill"],
    *_read(_section_length, {"anyOf": [{"const": "fill"}, _LENGTH]}),
]
Density = Annotated[float, *_read(notation.parse_density, _DENSITY)]
Sett = Annotated[float, *_read(_sett, _DENSITY)]
Percent = Annotated[float, *_read(notation.parse_percent, _PERCENT)]
YesNo = Annotated[
    bool,
    *_read(words.read_yes_no, {"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no"]}]}),
]
Date = Annotated[
    dt.date, *_read(words.read_date, {"type": "string", "pattern": r"^\d{4}-\d\d-\d\d$"})
]

YarnName = Annotated[
    str,
    *_read(words.read_yarn_name, {"type": "string", "pattern": "^[A-Za-z][A-Za-z0-9_-]{0,39}$"}),
]
Colour = Annotated[
    str,
    *_read(
        words.read_colour,
        {"type": "string", "pattern": "^#[0-9a-fA-F]{6}$", "examples": ["#44546a"]},
    ),
]
Letter = Annotated[str, *_read(words.read_letter, {"type": ["string", "integer"], "maxLength": 2})]
LabelText = Annotated[
    yarn_notation.Label,
    *_read(
        yarn_notation.parse_label,
        {"type": "string", "examples": ["590 m per 100 g", "3360 yd/lb"]},
    ),
]
PutUpText = Annotated[
    yarn_notation.PutUp,
    *_read(yarn_notation.parse_put_up, {"type": "string", "examples": ["100 g", "8 oz"]}),
]
PriceText = Annotated[
    yarn_notation.Price,
    *_read(
        yarn_notation.parse_price,
        {"type": ["number", "string"], "minimum": 0, "examples": [9.80, "9.80 EUR"]},
    ),
]
Fibre = Annotated[
    fibre_notation.Fibre,
    *_read(
        fibre_notation.parse_fibre,
        {
            "anyOf": [
                {"type": "string", "enum": [*fibre_notation.FIBRES, fibre_notation.BLEND]},
                {
                    "type": "object",
                    "properties": {
                        name: {**_PERCENT, "description": f"Share of {name}, as 60 %"}
                        for name in fibre_notation.FIBRES
                    },
                    "additionalProperties": False,
                    "minProperties": 2,
                },
            ]
        },
    ),
]
Wraps = Annotated[float, *_read(_wraps, {"type": "string", "examples": ["14 per cm", "36 per in"]})]
Ashenhurst = Annotated[
    float,
    *_read(
        _ashenhurst,
        {"type": ["number", "string"], "minimum": _LEAST_ASHENHURST, "maximum": _MOST_ASHENHURST},
    ),
]
Use = Annotated[uses.Use, *_choice("use", *uses.USES)]
Action = Annotated[
    Literal["rising", "sinking", "countermarch", "table", "direct", "dobby", "rigid heddle"],
    *_read(
        _action,
        {
            "type": "string",
            "enum": [
                "rising", "jack", "sinking", "counterbalance", "countermarch", "table", "direct",
                "dobby", "rigid heddle",
            ],
        },
    ),
]  # fmt: skip
AtOnce = Annotated[int, *_whole("treadles at once", 1, 3)]
TreadleOrder = Annotated[
    Literal[
        "as written", "order of use", "alternating", "from the middle", "tabby outside",
        "shortest reach",
    ],
    *_choice(
        "treadle order",
        "as written", "order of use", "alternating", "from the middle", "tabby outside",
        "shortest reach",
    ),
]  # fmt: skip
Pairs = Annotated[
    tuple[tuple[int, int], ...],
    *_read(_pairs, {"type": ["string", "array"], "examples": ["1 2, 3 4"]}),
]
LowerUpper = Annotated[Literal["lower", "upper"], *_choice("lamms", "lower", "upper")]
PicksABar = Annotated[int, *_whole("picks a bar", 1, 2)]
LeastBars = Annotated[int, *_whole("bars", 1, 200)]
System = Annotated[
    size_systems.System,
    *_read(size_systems.read_system, {"type": "string", "enum": list(size_systems.SYSTEMS)}),
]
SeatName = Annotated[str, *_line(40)]
Units = Annotated[UnitsName, *_choice("kind of units", *get_args(UnitsName))]
FrontBack = Annotated[Literal["front", "back"], *_choice("side", "front", "back")]
LeftRight = Annotated[Literal["left", "right"], *_choice("side", "left", "right")]
AboveBelow = Annotated[Literal["above", "below"], *_choice("place", "above", "below")]
RiseSink = Annotated[Literal["rise", "sink"], *_choice("meaning", "rise", "sink")]
MarksNumbers = Annotated[Literal["marks", "numbers"], *_choice("form", "marks", "numbers")]
DownUp = Annotated[Literal["down", "up"], *_choice("direction", "down", "up")]
WarpWeft = Annotated[Literal["warp", "weft"], *_choice("meaning", "warp", "weft")]
Orientation = Annotated[
    Literal["portrait", "landscape"], *_choice("orientation", "portrait", "landscape")
]
Binding = Annotated[
    Literal["left", "right", "top", "none"],
    *_choice("binding edge", "left", "right", "top", "none"),
]
Holes = Annotated[Literal["iso-838", "none"], *_choice("kind of holes", "iso-838", "none")]
Size = Annotated[
    PaperSize,
    *_read(
        parse_paper_size,
        {
            "type": "string",
            "examples": ["A4", "A5", "Letter", "Legal", "5 x 8 in", "200 x 250 mm"],
        },
    ),
]

Shafts = Annotated[int, *_whole("shafts", 2, MOST_SHAFTS)]
Treadles = Annotated[int, *_whole("treadles", 1, MOST_SHAFTS)]
Treadle = Annotated[
    int,
    PlainValidator(lambda value: words.read_whole(value, "treadle", 1, MOST_SHAFTS)),
    WithJsonSchema({"type": "string", "pattern": "^[1-9][0-9]?$"}),
]
Heddles = Annotated[
    int | tuple[int, ...],
    *_read(_heddles, {"type": ["integer", "string", "array"], "items": {"type": "integer"}}),
]
TiedShafts = Annotated[
    tuple[int, ...],
    *_read(
        _shafts,
        {
            "type": ["string", "integer", "array"],
            "items": {"type": "integer", "minimum": 1, "maximum": MOST_SHAFTS},
            "examples": ["1 3"],
        },
    ),
]
Threading = Annotated[
    Sequence[int],
    *_read(sequences.parse_threading, {**_SEQUENCE, "examples": ["(1 2 3 4) to fill, 3 2 1"]}),
]
Treadling = Annotated[
    Sequence[frozenset[int]],
    *_read(sequences.parse_treadling, {**_SEQUENCE, "examples": ["(1 2) x 60", "(1 2 3+4) x 8"]}),
]
Lifts = Annotated[
    Sequence[frozenset[int]],
    *_read(sequences.parse_lifts, {**_SEQUENCE, "examples": ["(1; 1 2 3; 3; 1 3 4) x 30"]}),
]
Shuttles = Annotated[
    Sequence[int],
    *_read(sequences.parse_shuttles, {**_SEQUENCE, "examples": ["1 2", "1 1 2 2"]}),
]
ExpectedPieces = Annotated[
    Literal["separate", "tube", "folded"],
    *_choice("kind of pieces", "separate", "tube", "folded"),
]
Order = Annotated[
    Sequence[str],
    *_read(
        sequences.parse_order,
        {"type": "string", "examples": ["24 slate, (2 sand, 2 slate) to fill, 24 slate"]},
    ),
]

Pieces = Annotated[int, *_whole("pieces", 1, 100)]
Most = Annotated[
    Literal["length", "width", "pieces"],
    *_choice("size", "length", "width", "pieces"),
]
WarpState = Annotated[
    Literal["wound", "on the loom"], *_choice("state of the warp", "wound", "on the loom")
]
EndsAnHour = Annotated[int, *_whole("ends an hour", 1, 5000)]
PicksAnHour = Annotated[int, *_whole("picks an hour", 1, 10_000)]
SpareEnds = Annotated[int, *_whole("spare ends", 0, 50)]
Ends = Annotated[int, *_whole("ends", 2, 20_000)]
Picks = Annotated[int, *_whole("picks", 1, 100_000)]
Repeats = Annotated[int, *_whole("repeats", 1, 100_000)]
Layers = Annotated[int, *_whole("layers", 1, 8)]
Strands = Annotated[int, *_whole("strands", 1, 8)]
Bout = Annotated[int, *_whole("ends in a bout", 4, 400)]
Plies = Annotated[int, *_whole("plies", 1, 100)]
