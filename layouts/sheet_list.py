"""The sheets that there are, in the order in which a weaver takes them up, and who has which."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import zip_longest

from cards.draft_sheet import draft_sheet
from cards.pick_tally import pick_tally
from cards.project import Project
from cards.sley_card import ENDS_IN_A_BOX, sley_card
from cards.threading_chart import threading_chart
from cards.threading_groups import GROUP
from cards.tie_up_card import tie_up_card
from cards.warping_card import warping_card
from layouts.drawing import Drawing
from layouts.paper import Frame
from layouts.sheets import draft_sheet as draft_drawing
from layouts.sheets import pick_tally as tally_sheet
from layouts.sheets import sley_card as sley_sheet
from layouts.sheets import threading_chart as threading_sheet
from layouts.sheets import tie_up_card as tie_up_sheet
from layouts.sheets import warping_card as warping_sheet

Sheet = Callable[[Project, Frame], Drawing]


def _warping_card(project: Project, frame: Frame) -> Drawing:
    return warping_sheet.draw_warping_card(warping_card(project), frame)


def _threading_chart(project: Project, frame: Frame) -> Drawing:
    card = threading_chart(project)
    most = threading_sheet.most_in_a_group(card, frame.content[2])
    if most < GROUP:
        card = threading_chart(project, most)
    return threading_sheet.draw_threading_chart(card, frame)


def _sley_card(project: Project, frame: Frame) -> Drawing:
    drawings: list[Drawing] = []
    for in_a_box in ENDS_IN_A_BOX:
        drawings.append(sley_sheet.draw_sley_card(sley_card(project, in_a_box), frame))
        if len(drawings[-1].pages) == 1:
            break
    return min(drawings, key=lambda drawing: len(drawing.pages))


def _sett_table(project: Project, frame: Frame) -> Drawing:
    # Read only where somebody keeps reeds: every other print would wait for it in vain.
    from cards.sett_table import sett_table  # noqa: PLC0415
    from layouts.sheets.sett_table import draw_sett_table  # noqa: PLC0415

    return draw_sett_table(sett_table(project), frame)


def _tie_up_card(project: Project, frame: Frame) -> Drawing:
    return tie_up_sheet.draw_tie_up_card(tie_up_card(project), frame)


def _pick_tally(project: Project, frame: Frame) -> Drawing:
    return tally_sheet.draw_pick_tally(pick_tally(project), frame)


def _draft_sheet(project: Project, frame: Frame) -> Drawing:
    return draft_drawing.draw_draft_sheet(draft_sheet(project), frame)


def _cloth_sheet(project: Project, frame: Frame) -> Drawing:
    # Read only for projects of layers: every other print would wait for it in vain.
    from cards.cloth_sheet import cloth_sheet  # noqa: PLC0415
    from layouts.sheets.cloth_sheet import draw_cloth_sheet  # noqa: PLC0415

    return draw_cloth_sheet(cloth_sheet(project), frame)


def _heddle_count(project: Project, frame: Frame) -> Drawing:
    # Not every loom has its heddles counted.
    from cards.heddle_count import heddle_count  # noqa: PLC0415
    from layouts.sheets.heddle_count import draw_heddle_count  # noqa: PLC0415

    return draw_heddle_count(heddle_count(project), frame)


def _workings(project: Project, frame: Frame) -> Drawing:
    # Only those who ask for it wait for it.
    from cards.workings import workings_sheet  # noqa: PLC0415
    from layouts.sheets.workings import draw_workings  # noqa: PLC0415

    return draw_workings(workings_sheet(project), frame)


def _sett_advice(project: Project, frame: Frame) -> Drawing:
    # Read only where it is asked for, or where the sett is far off.
    from cards.sett_advice import sett_advice_card  # noqa: PLC0415
    from layouts.sheets.sett_advice import draw_sett_advice  # noqa: PLC0415

    return draw_sett_advice(sett_advice_card(project), frame)


def _yarn_list(project: Project, frame: Frame) -> Drawing:
    # Read when it is drawn: a print of single cards goes without.
    from cards.yarn_list import yarn_list  # noqa: PLC0415
    from layouts.sheets.yarn_list import draw_yarn_list  # noqa: PLC0415

    return draw_yarn_list(yarn_list(project), frame)


def _handout(project: Project, frame: Frame) -> Drawing:
    # Only a class asks for it.
    from cards.handout import handout  # noqa: PLC0415
    from layouts.sheets.handout import draw_handout  # noqa: PLC0415

    return draw_handout(handout(project), frame)


def _record(project: Project, frame: Frame) -> Drawing:
    # A print of some sheets only has mostly no need of it.
    from cards.record_sheet import record_sheet  # noqa: PLC0415
    from layouts.sheets.record_sheet import draw_record_sheet  # noqa: PLC0415

    return draw_record_sheet(record_sheet(project), frame)


def _measuring_ribbon(project: Project, frame: Frame) -> Drawing:
    # A tool for those who ask for it.
    from cards.measuring_ribbon import measuring_ribbon  # noqa: PLC0415
    from layouts.sheets.measuring_ribbon import draw_measuring_ribbon  # noqa: PLC0415

    return draw_measuring_ribbon(measuring_ribbon(project), frame)


def _beat_gauge(project: Project, frame: Frame) -> Drawing:
    # A tool for those who ask for it.
    from cards.beat_gauge import beat_gauge  # noqa: PLC0415
    from layouts.sheets.beat_gauge import draw_beat_gauge  # noqa: PLC0415

    return draw_beat_gauge(beat_gauge(project), frame)


def _reed_ruler(project: Project, frame: Frame) -> Drawing:
    # A tool for those who ask for it.
    from cards.reed_ruler import reed_ruler  # noqa: PLC0415
    from layouts.sheets.reed_ruler import draw_reed_ruler  # noqa: PLC0415

    return draw_reed_ruler(reed_ruler(project), frame)


CLOTH_SHEET = "cloth-sheet"
RECORD = "record"
HANDOUT = "handout"
WORKINGS = "workings"
SETT_TABLE = "sett-table"
SETT_ADVICE = "sett-advice"
HEDDLE_COUNT = "heddle-count"
YARN_LIST = "yarn-list"
MEASURING_RIBBON = "measuring-ribbon"
BEAT_GAUGE = "beat-gauge"
REED_RULER = "reed-ruler"

# In the order in which a weaver takes them up.
SHEETS: dict[str, Sheet] = {
    YARN_LIST: _yarn_list,
    warping_sheet.SLUG: _warping_card,
    HEDDLE_COUNT: _heddle_count,
    threading_sheet.SLUG: _threading_chart,
    sley_sheet.SLUG: _sley_card,
    tie_up_sheet.SLUG: _tie_up_card,
    tally_sheet.SLUG: _pick_tally,
    draft_drawing.SLUG: _draft_sheet,
    CLOTH_SHEET: _cloth_sheet,
    SETT_TABLE: _sett_table,
    SETT_ADVICE: _sett_advice,
    WORKINGS: _workings,
    MEASURING_RIBBON: _measuring_ribbon,
    BEAT_GAUGE: _beat_gauge,
    REED_RULER: _reed_ruler,
    RECORD: _record,
    HANDOUT: _handout,
}

# Sheets that only some projects have, which do, and what the others lack.
_ONLY_FOR: dict[str, tuple[Callable[[Project], bool], str]] = {
    CLOTH_SHEET: (lambda project: project.cloth.has_layers, "whose draft makes a single layer"),
    sley_sheet.SLUG: (lambda project: project.in_reed is not None, "whose loom has no reed"),
    SETT_TABLE: (lambda project: project.in_reed is not None, "whose loom has no reed"),
    REED_RULER: (lambda project: project.in_reed is not None, "whose loom has no reed"),
    SETT_ADVICE: (
        lambda project: bool(project.sett_advice.layers),
        "in whose draft nothing interlaces",
    ),
}

# Sheets that are printed when they are asked for, and of which projects also unasked.
_UNASKED: dict[str, Callable[[Project], bool]] = {
    HEDDLE_COUNT: lambda project: project.heddle_plan.known,
    SETT_TABLE: lambda project: project.in_reed is not None and project.in_reed.owned,
    SETT_ADVICE: lambda project: bool(project.sett_advice.far_off),
    WORKINGS: lambda project: False,
    HANDOUT: lambda project: False,
    MEASURING_RIBBON: lambda project: False,
    BEAT_GAUGE: lambda project: False,
    REED_RULER: lambda project: False,
}

# A whole folio goes without these where the paper is too small for them: no loom waits for them.
OPTIONAL = frozenset(
    {
        YARN_LIST,
        HEDDLE_COUNT,
        draft_drawing.SLUG,
        CLOTH_SHEET,
        SETT_TABLE,
        SETT_ADVICE,
        WORKINGS,
        MEASURING_RIBBON,
        BEAT_GAUGE,
        REED_RULER,
        RECORD,
        HANDOUT,
    }
)

# Sheets that a folio has for every loom of its spec, and whether they are another on a second one.
BY_LOOM: dict[str, Callable[[Project, Project], bool]] = {
    YARN_LIST: lambda own, other: _packages(own) != _packages(other),
    warping_sheet.SLUG: lambda own, other: abs(own.warp.length - other.warp.length) > 1.0,
    HEDDLE_COUNT: lambda own, other: bool(other.heddle_plan.moves or other.heddle_plan.added),
    sley_sheet.SLUG: lambda own, other: own.reed != other.reed,
    REED_RULER: lambda own, other: own.reed != other.reed,
    tie_up_sheet.SLUG: lambda own, other: True,
    tally_sheet.SLUG: lambda own, other: True,
}


def _lifted_other(own: Project, other: Project) -> bool:
    """Whether a loom without a tie-up has other lifts, pegs or bars for another kind of piece."""
    return not own.loom.moved and _woven_other(own, other)


def _woven_other(own: Project, other: Project) -> bool:
    """Whether two kinds of pieces differ in sheds or weft, and not only in how long they are."""
    pairs = zip_longest(own.weft.sections, other.weft.sections)
    return any(
        one is None
        or two is None
        or _goes_on_otherwise(one.sheds.values(), two.sheds.values())
        or _goes_on_otherwise(one.weft.values(), two.weft.values())
        for one, two in pairs
    )


def _goes_on_otherwise(one: Sequence[object], two: Sequence[object]) -> bool:
    """Whether the longer of two lists does not begin with the shorter one."""
    both = min(len(one), len(two))
    return one[:both] != two[:both]


# Sheets that a folio has for every kind of piece, and whether they are another for a second one.
BY_PIECE: dict[str, Callable[[Project, Project], bool]] = {
    tie_up_sheet.SLUG: _lifted_other,
    tally_sheet.SLUG: lambda own, other: True,
    MEASURING_RIBBON: lambda own, other: True,
    draft_drawing.SLUG: _woven_other,
    CLOTH_SHEET: _woven_other,
}


def _packages(project: Project) -> list[int | None]:
    return [total.need.packages for total in project.totals]


def sheets_of(project: Project) -> dict[str, Sheet]:
    """Return every sheet on which there is something to draw for a project."""
    return {name: draw for name, draw in SHEETS.items() if not lacking(project, name)}


def folio_of(project: Project) -> dict[str, Sheet]:
    """Return the sheets of a whole folio: those that have something to say without being asked."""
    return {
        name: draw
        for name, draw in sheets_of(project).items()
        if name not in _UNASKED or _UNASKED[name](project)
    }


def lacking(project: Project, name: str) -> str:
    """Return why there is nothing to draw on a sheet for a project, or nothing."""
    there, why = _ONLY_FOR.get(name, (None, ""))
    return "" if there is None or there(project) else why
