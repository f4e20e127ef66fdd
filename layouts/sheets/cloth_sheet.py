"""Draws the cloth sheet: kind by kind what cloth it is, its cross-section, its sides, its proof."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cards.cloth_sheet import ClothKind, ClothSheet, Look, SheetLayer
from cards.cloth_words import layer_letter, listed
from cards.project.float_lengths import FloatLength
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets import end_view
from layouts.sheets.cross_section import (
    drawn_at_each_side,
    least_height,
    one_column,
    section_blocks,
)
from layouts.sheets.layer_faces import PAIR, faces, letters_of
from layouts.sheets.layer_mark import lettered_marks, marks_width
from layouts.sheets.opened_cloth import opened_blocks, opened_words, titled
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    HEAVY,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    key_figures,
    paragraph,
    rule,
    stack,
    yarn_names,
)
from layouts.typeface import BODY, FIGURE, LABEL

SLUG = "cloth-sheet"

_SIDE_BY_SIDE = 150.0
_PATCH = 9.0, 7.0
_MARK = 2.6
_GAP = 3.0
_APART = 0.6
_MOST_BESIDE = 66.0  # of what stands beside the underside
_ONLY_DRAFT = (
    "Proved is the draft. Wrong threads, sheds that do not clear and tight turns show on the loom."
)
_FACES = (
    "Left its drawdown, right its yarns as they lie: an upright bar is warp on top, a level one "
    "weft."
)


def draw_cloth_sheet(card: ClothSheet, frame: Frame) -> Drawing:
    """Return the pages of a cloth sheet."""
    flow = PageFlow(frame, card.heading, _legend(card))
    flow.add(key_figures(_key_figures(card), flow.width))
    flow.add(yarn_names(card.yarns, flow.width))
    flow.add(paragraph(_ONLY_DRAFT, flow.width, BODY, colour=SOFT))
    for title, told in (
        ("Chosen for this cloth, and why", card.chosen),
        ("Where layers change places", card.exchanges),
    ):
        if told:
            flow.keep(_told(title, told, flow.width))
    for kind in card.kinds:
        flow.gap(4.0)
        _kind(flow, card, kind)
    flow.notes()
    return flow.drawing("Cloth sheet", SLUG)


def _legend(card: ClothSheet) -> str:
    first = "at the top" if card.first_row_on_top else "at the bottom"
    return (
        "All is seen from the front of the loom. In drawdowns a filled cell has the "
        f"{card.filled} on top, and the first row is {first}. First end at the {card.first_end}."
    )


def _key_figures(card: ClothSheet) -> list[tuple[str, str]]:
    kinds = len(card.kinds)
    return [
        (str(card.lanes), "layers"),
        (str(card.ends), "ends of all layers"),
        (str(card.picks), "picks in a piece"),
        (str(kinds), "kind of cloth" if kinds == 1 else "kinds of cloth"),
    ]


def _told(title: str, told: Iterable[str], width: float) -> list[Block]:
    """Return sentences under a title."""
    head = paragraph(title, width, BODY, "bold", role="heading")
    lines = [_item(f"{each[:1].upper()}{each[1:]}.", width) for each in told]
    return [stack([Block(1.5, lambda x, y: ()), head, lines[0]]), *lines[1:]]


def _item(text: str, width: float) -> Block:
    """Return a paragraph that hangs behind a dash."""
    return beside([(0.0, paragraph("–", 4.0, BODY)), (4.0, paragraph(text, width - 4.0, BODY))])


def _kind(flow: PageFlow, card: ClothSheet, kind: ClothKind) -> None:
    introduction = _introduction(card, kind, flow.width)
    together = sum(block.height for block in introduction) + least_height(kind.section)
    together += _section_title(card, kind, flow.width).height
    if kind is not card.kinds[0] and flow.room < together <= flow.full_room:
        flow.turn()
    flow.keep(introduction)
    looks = [_looks(card, kind, PAIR)] if kind.looks else []
    both = stack([*looks, *_proof(kind, PAIR)], gap=_APART)
    beside_faces = both if both.height <= _MOST_BESIDE else stack(looks)
    rows, placed = faces(card, kind, flow.width, beside_faces)
    rows[0] = stack([titled("Each layer by itself", _FACES, flow.width), rows[0]])
    if _faces_first(flow, card, kind, rows):
        _add_all(flow, rows)
        _section(flow, card, kind, 0.0)
    else:
        _section(flow, card, kind, rows[0].height + 2 * _GAP)
        _add_all(flow, rows)
    for opened in kind.opened:
        letters = " ".join(kind.layers[layer].letters for layer in opened.piece.layers)
        title = titled(f"Opened out: {letters}", opened_words(kind, opened), flow.width)
        room = flow.full_room - title.height
        first, *others = opened_blocks(card, kind, opened, flow.width, room)
        _add_all(flow, [stack([title, first]), *others])
    if kind.looks and not placed:
        _add_all(flow, [_looks(card, kind, flow.width)])
    if not placed or beside_faces is not both:
        flow.gap(_GAP)
        flow.keep(_proof(kind, flow.width))


def _faces_first(flow: PageFlow, card: ClothSheet, kind: ClothKind, rows: list[Block]) -> bool:
    """Whether the faces fill what is left of a page, and the cross-section fits on the next."""
    height = one_column(kind.section, flow.width)
    height += _section_title(card, kind, flow.width).height + _GAP
    together = sum(row.height for row in rows) + _GAP
    return flow.room < height <= flow.full_room and together <= flow.room


def _add_all(flow: PageFlow, blocks: Sequence[Block]) -> None:
    flow.gap(_GAP)
    for block in blocks:
        flow.add(block)


def _introduction(card: ClothSheet, kind: ClothKind, width: float) -> list[Block]:
    """Return what the cloth is and which layers it has, with its end view."""
    title = f"{kind.words[:1].upper()}{kind.words[1:]}"
    if len(kind.layers) == 1:
        title += f", {listed([layer_letter(lane) for lane in kind.layers[0].lanes])} woven together"
    head = stack(
        [
            Block(1.5, lambda x, y: (rule(x, y, width, HEAVY, INK),)),
            paragraph(title, width, FIGURE - 2, "bold", role="heading"),
            paragraph(_where(kind), width, BODY, colour=SOFT),
            Block(1.5, lambda x, y: ()),
        ]
    )
    view = end_view.end_view(kind)
    if width < _SIDE_BY_SIDE:
        start = (width - end_view.WIDTH) / 2
        return [stack([head, beside([(start, view)])]), *_layers(card, kind, width)]
    room = width - end_view.WIDTH - 8.0
    both = [(0.0, stack(_layers(card, kind, room))), (width - end_view.WIDTH, view)]
    return [stack([head, beside(both)])]


def _where(kind: ClothKind) -> str:
    spans = ", ".join(f"{first} to {last}" for first, last in kind.spans)
    return f"{', '.join(kind.sections)}: picks {spans} of a piece"


def _layers(card: ClothSheet, kind: ClothKind, width: float) -> list[Block]:
    told = [_layer(card, layer, width) for layer in kind.layers]
    if len(kind.pieces) > 1:
        told += [paragraph(f"{words}.", width, BODY) for words in kind.piece_words]
    return told


def _layer(card: ClothSheet, layer: SheetLayer, width: float) -> Block:
    indent = marks_width(layer.lanes, _MARK) + 3.0
    shafts = "; ".join(f"shafts {_shafts(each)}" for each in layer.shafts)
    name = "woven together" if len(layer.lanes) > 1 else layer.name
    head = paragraph(f"{name}, {shafts}", width - indent, LABEL, "bold")
    more = paragraph(_threads(card, layer), width - indent, BODY, colour=SOFT)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from lettered_marks(layer.lanes, x, y + baseline(LABEL), _MARK)
        yield from head.draw(x + indent, y)
        yield from more.draw(x + indent, y + head.height)

    return Block(head.height + more.height + 1.4, draw)


def _threads(card: ClothSheet, layer: SheetLayer) -> str:
    words = (
        f"{layer.ends} ends, warp {letters_of(layer.warp)}; "
        f"{layer.picks} picks, weft {letters_of(layer.weft)}"
    )
    if not layer.floats:
        return words
    floats = ", ".join(_float(card, each) for each in layer.floats)
    return f"{words}. Longest floats: {floats}"


def _float(card: ClothSheet, found: FloatLength) -> str:
    passed = "pick" if found.system == "warp" else "end"
    number = f"{found.threads} {passed}{'' if found.threads == 1 else 's'}"
    return f"{number} ({card.figures.width(found.length)}) in the {found.system}"


def _shafts(shafts: Iterable[int]) -> str:
    return " ".join(str(shaft) for shaft in shafts) or "none"


def _section(flow: PageFlow, card: ClothSheet, kind: ClothKind, follows: float) -> None:
    title = _section_title(card, kind, flow.width)
    height = title.height + one_column(kind.section, flow.width) + _GAP
    if flow.room < height <= flow.full_room and flow.room < flow.full_room / 2:
        flow.turn()
    first = flow.room - title.height - _GAP
    room = flow.full_room - title.height
    blocks = section_blocks(kind.section, flow.width, first, room, follows)
    _add_all(flow, [stack([title, blocks[0]]), *blocks[1:]])


def _section_title(card: ClothSheet, kind: ClothKind, width: float) -> Block:
    return titled("Cross-section", _section_words(card, kind, width), width)


def _section_words(card: ClothSheet, kind: ClothKind, width: float) -> str:
    section = kind.section
    words = ["The line is the weft, the marks are the ends."]
    if len(kind.layers) > 1:
        words.append(
            "Dashes lead to the next pick of the same shuttle: a turn stays in its layer, a fold "
            "goes on in another."
        )
    else:
        words.append("Dashes lead to the next pick of the same shuttle.")
    sides = drawn_at_each_side(section, width)
    if sides:
        words.append(
            f"Of {card.ends} ends those at both edges are drawn; the break stands for the others."
        )
    words.append(_cycle_words(kind))
    return " ".join(words)


def _cycle_words(kind: ClothKind) -> str:
    cycle, first = kind.section.cycle, kind.spans[0][0]
    start = f"pick 1 is pick {first} of the piece" if first > 1 else ""
    if not cycle.whole:
        more = f", {start}" if start else ""
        return f"These are the first {cycle.picks} picks{more}."
    more = f"; {start}" if start else ""
    words = f"These {cycle.picks} picks repeat{more}."
    if not cycle.shuttles and cycle.sides:
        words += " The shuttle changes in some repeats, its side does not: the first is drawn."
    elif not cycle.shuttles:
        words += " Shuttles and sides change from repeat to repeat: those of the first are drawn."
    return words


def _looks(card: ClothSheet, kind: ClothKind, width: float) -> Block:
    title = paragraph("To look underneath at the loom", width, LABEL, "bold", role="heading")
    return stack([title, *(_item(_look(card, look), width) for look in kind.looks)])


def _look(card: ClothSheet, look: Look) -> str:
    if card.sinking:
        how = f"sink shafts {_shafts(look.down)}, so that {_shafts(look.shafts)} stay up"
    else:
        how = f"raise shafts {_shafts(look.shafts)}"
    return f"Raise {look.raised} whole: {how}. Below lies {look.shows}, seen from the open side."


def _proof(kind: ClothKind, width: float) -> list[Block]:
    proof = kind.proof
    title = paragraph(f"The proof: {proof.verdict}", width, LABEL, "bold", role="heading")
    parts = [_item(f"{fault}.", width) for fault in proof.faults]
    parts += [_item(told, width) for told in proof.looked_at]
    return [stack([title, parts[0]]), *parts[1:]]
