"""The comparison as tables to read in a terminal, as many columns in each as there is room for."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from cards.compare_rows import Cell, Row
from cards.compare_sheet import CompareSheet

_BETWEEN = 2
_LEAST, _MOST = 14, 30  # characters to a column
_LONGEST_NAME = 26
_FIGURES = 8
_LEGEND = "Least and most are those of a row. All figures are estimates: weave and wash a sample."


def compare_table(card: CompareSheet, width: int) -> str:
    """Return the comparison as lines no wider than `width` characters, if that is 45 or more."""
    head = min(_LONGEST_NAME, max(len(_name(row)) for part in card.parts for row in part.rows))
    room = max(_LEAST, width - head)
    each = max(1, room // (_LEAST + _BETWEEN))
    number = len(card.names)
    each = -(-number // -(-number // each))
    column = max(_LEAST, min(_MOST, room // each - _BETWEEN))
    tables = [
        _table(card, range(first, min(first + each, number)), head, column)
        for first in range(0, number, each)
    ]
    legend = textwrap.fill(_LEGEND, max(width, head))
    return "\n\n".join([card.heading.title, *tables, legend])


def _table(card: CompareSheet, columns: range, head: int, column: int) -> str:
    lines = [*_lines("", [card.names[place] for place in columns], head, column)]
    lines.append("-" * (head + len(columns) * (_BETWEEN + column)))
    for part in card.parts:
        lines.append(part.title)
        for row in part.rows:
            lines += _row(row, columns, head, column)
    return "\n".join(line.rstrip() for line in lines)


def _row(row: Row, columns: range, head: int, column: int) -> Iterator[str]:
    cells = [row.cells[place] for place in columns]
    texts = ["\n".join(cell.lines) for cell in cells]
    if row.is_figures:
        behind = max(len(tail(cell.lines[0])) for cell in row.cells)
        texts = [_figure(cell, behind) for cell in cells]
    return _lines(f"  {_name(row)}", texts, head, column)


def _name(row: Row) -> str:
    return f"{row.name}, {row.unit}" if row.unit else row.name


def _figure(cell: Cell, behind: int) -> str:
    """Return a figure that stands in line with those beside it, and its mark."""
    text = cell.lines[0]
    ending = " " * (behind - len(tail(text))) if cell.number is not None else ""
    return f"{text}{ending}".rjust(_FIGURES) + (f" {cell.mark}" if cell.mark else "")


def tail(text: str) -> str:
    """Return what of a figure stands behind its whole number.

    >>> tail("13.50"), tail("13 ½"), tail("12 480"), tail("½"), tail("8")
    ('.50', ' ½', '', '½', '')
    """
    if "." in text:
        return text[text.index(".") :]
    last = text[-1:]
    if not last.isnumeric() or last.isdigit():
        return ""
    return text[-2:] if text[-2:-1] == " " else last


def _lines(name: str, texts: Sequence[str], head: int, column: int) -> Iterator[str]:
    """Yield the lines of one row, each text wrapped in its column."""
    wrapped = [_wrapped(name, head), *(_wrapped(text, column) for text in texts)]
    for number in range(max(map(len, wrapped))):
        cells = [each[number] if number < len(each) else "" for each in wrapped]
        first, *others = cells
        yield first.ljust(head) + "".join(" " * _BETWEEN + each.ljust(column) for each in others)


def _wrapped(text: str, width: int) -> list[str]:
    lines = []
    for line in text.split("\n"):
        indent = line[: len(line) - len(line.lstrip())]
        lines += textwrap.wrap(line, width, subsequent_indent=f"{indent}  "[: width - 2]) or [""]
    return lines
