"""Looks at a drawing as a careful eye would: overlaps, small type, marks outside the margins."""

from itertools import combinations

from layouts.drawing import Box, Cells, Disc, Line, Path, Picture, Text, flat
from layouts.typeface import cap_height, descent

LEAST_TYPE = 9.0
# Text may touch the edge of the margin by rounding, never by more.
PLAY = 0.01


def text_box(text):
    """Return left, top, right, bottom of the ink of a line: capitals down to descenders."""
    low = text.y + (descent(text.size) * 0.75 if set(text.text) & set("gjpqy,;()") else 0.1)
    return text.left, text.y - cap_height(text.size), text.left + text.width, low


def mark_box(mark):
    if isinstance(mark, Text):
        return text_box(mark)
    if isinstance(mark, Box | Picture):
        return mark.x, mark.y, mark.x + mark.width, mark.y + mark.height
    if isinstance(mark, Line):
        xs, ys = sorted((mark.x1, mark.x2)), sorted((mark.y1, mark.y2))
        return xs[0], ys[0], xs[1], ys[1]
    if isinstance(mark, Disc):
        r = mark.radius
        return mark.x - r, mark.y - r, mark.x + r, mark.y + r
    if isinstance(mark, Cells):
        rows, columns = mark.filled.shape
        return (
            mark.x,
            mark.y,
            mark.x + columns * mark.cell_width,
            mark.y + rows * mark.cell_height,
        )
    assert isinstance(mark, Path)
    points = [
        (step[at] + mark.at[0], step[at + 1] + mark.at[1])
        for step in mark.steps
        for at in range(1, len(step), 2)
    ]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def overlap(one, other, play=0.05):
    return (
        one[0] < other[2] - play
        and other[0] < one[2] - play
        and one[1] < other[3] - play
        and other[1] < one[3] - play
    )


def faults(page, frame):
    """Return what is wrong with a page, in words; an empty list if it is good."""
    found = []
    texts = [mark for mark in flat(page.marks) if isinstance(mark, Text)]
    found += [f"small type: {text.text!r}" for text in texts if text.size < LEAST_TYPE]
    found += [f"empty text at {text.x}, {text.y}" for text in texts if not text.text.strip()]
    for one, other in combinations(texts, 2):
        if overlap(text_box(one), text_box(other)):
            found.append(f"{one.text!r} lies on {other.text!r}")
    ticks = [
        mark
        for mark in flat(page.marks)
        if isinstance(mark, Box) and mark.width == mark.height == 5.0
    ]
    for tick in ticks:
        for text in texts:
            if overlap(mark_box(tick), text_box(text)):
                found.append(f"{text.text!r} lies on a box to tick")
    for one, other in combinations(ticks, 2):
        if overlap(mark_box(one), mark_box(other)):
            found.append("two boxes to tick lie on each other")
    x, y, width, height = frame.content
    for mark in flat(page.marks):
        box = mark_box(mark)
        inside = (
            x - PLAY <= box[0]
            and y - PLAY <= box[1]
            and box[2] <= x + width + PLAY
            and box[3] <= y + height + PLAY
        )
        # The marks for holes are the only ones that belong into the margin.
        if not inside and not (frame.holes != "none" and not isinstance(mark, Text)):
            found.append(f"outside the margins: {mark!r:.100}")
    return found
