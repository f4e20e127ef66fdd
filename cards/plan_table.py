"""The project as a table to read in a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from cards.calculation.first_dent import first_dent
from cards.calculation.sley import pattern_text
from cards.cloth_words import exchange_words, listed, pieces_words
from cards.cost_words import hours_shares, hours_words, most_words, pace_words, sum_words
from cards.figures import Figures, money
from cards.loom.shed import has_ties
from cards.plan_allowances import allowance_rows
from cards.project.at_the_loom import LoomPlan
from cards.project.model import Project
from cards.sett_words import closest_words

Rows = list[tuple[str, str]]


def plan_table(project: Project, others: Sequence[Project] = ()) -> str:
    """Return the plan as lines of text under short headings; `others` is it on other looms."""
    figures = Figures(project.units)
    parts = [
        (project.info.title, _project(project)),
        ("Warp", _warp(project, figures)),
        *[(_title("Weft", kind), _weft(kind, figures)) for kind in project.kinds],
        ("Yarn to buy", _yarns(project, figures)),
        ("Hours, estimated", [*hours_shares(project), ("pace", pace_words(project))]),
        ("Allowances", allowance_rows(project)),
        ("Loom", _loom(project, figures)),
        *[(_title("Cloth", kind), _cloth(kind, figures)) for kind in project.kinds],
    ]
    most = [(each.size, most_words(each, figures)) for each in project.most]
    if most:
        parts.append(("The most it could be", most))
    if others:
        parts.append(("Also on", [(each.loom.name, _treadles(each.loom)) for each in others]))
    width = max(len(name) for _, rows in parts for name, _ in rows)
    text = [_part(title, rows, width) for title, rows in parts]
    return "\n\n".join(text)


def _title(what: str, kind: Project) -> str:
    """Return the heading over the weft or the cloth of one kind of piece."""
    return f"{what} of {kind.piece}" if kind.piece else what


def _part(title: str, rows: Rows, width: int) -> str:
    return "\n".join([title, *(f"  {name.ljust(width)}  {value}" for name, value in rows)])


def _project(project: Project) -> Rows:
    info = project.info
    rows = [("candidate", project.candidate)] if project.candidate else []
    rows += [("code", info.code or "–"), ("date", info.date.isoformat() if info.date else "–")]
    rows.append(("fingerprint", project.source.fingerprint))
    rows.append(("summary", " ".join((info.summary or "–").split())))
    if project.asked is not None:
        figures = Figures(project.units)
        rows.append((project.asked.size, f"the most, {most_words(project.asked, figures)}"))
    return rows


def _warp(project: Project, figures: Figures) -> Rows:
    warp = project.warp
    rows = [
        ("ends", str(warp.ends) + (f" + {warp.floating} floating" if warp.floating else "")),
        ("warp length", figures.both("long", warp.length)),
        ("width in the reed", figures.both("width", warp.width_in_reed)),
        ("finished width", figures.both("width", warp.finished_width)),
        ("sett", figures.both("density", project.sett.ends_total)),
        *[("of the closest", words) for words in closest_words(project, figures)],
    ]
    for share in warp.by_yarn:
        length = figures.both("yarn", share.need.length)
        rows.append((share.yarn.name, f"{share.threads} ends, {length}"))
    return rows


def _cloth(project: Project, figures: Figures) -> Rows:
    rows = [("weight", figures.both("by_area", project.cloth_weight.total))]
    for stretch in project.cloth.stretches:
        names = listed([project.weft.sections[place].name for place in stretch.sections])
        rows.append((names, pieces_words(stretch.pieces, len(stretch.layers))))
    rows += [
        ("exchange", exchange_words(each.after, each.pick)) for each in project.cloth.exchanges
    ]
    rows += [("chosen", told) for told in project.chosen]
    return rows


def _weft(project: Project, figures: Figures) -> Rows:
    weft = project.weft
    each = f" ({weft.pieces} × {weft.picks_each})" if weft.pieces > 1 else ""
    rows = [("finished width", figures.both("width", project.warp.finished_width))]
    if not project.piece:
        rows = []
    rows += [
        ("picks", f"{weft.picks}{each}"),
        ("picks on the loom", figures.both("density", project.sett.picks_total)),
    ]
    rows += [
        (section.name, f"{section.picks} picks, {figures.both('tape', section.length)}")
        for section in weft.sections
    ]
    for share in weft.by_yarn:
        length = figures.both("yarn", share.need.length)
        rows.append((share.yarn.name, f"{share.threads} picks, {length}"))
    return rows


def _yarns(project: Project, figures: Figures) -> Rows:
    rows = []
    for total in project.totals:
        need, yarn = total.need, total.yarn
        parts = [figures.both("yarn", need.length), figures.both("mass", need.buy)]
        if need.on_hand:
            parts[1] = f"{figures.both('mass', need.mass)}, on hand {_near(figures, need.on_hand)}"
            parts.append(f"to buy {figures.both('mass', need.buy)}" if need.buy else "enough")
        if need.packages:
            parts.append(f"{need.packages} × {yarn.put_up_text}")
        if need.packages and need.cost is not None:
            parts.append(money(need.cost, yarn.currency))
        if need.left is not None:
            parts.append(f"left over {_near(figures, need.left)}")
        rows.append((yarn.name, ", ".join(parts)))
    return rows + _bill(project)


def _near(figures: Figures, grams: float) -> str:
    """Return a mass that is there in both units, never more than there is."""
    return f"{figures.mass_down(grams)} ({figures.other().mass_down(grams)})"


def _bill(project: Project) -> Rows:
    bill = project.bill
    rows = [("cost of the yarn", sum_words(each)) for each in bill.yarn]
    if bill.missing:
        rows.append(("not priced", listed([project.yarn(key).name for key in bill.missing])))
    if bill.hours is not None and bill.hour is not None:
        counted, hour = hours_words(project.hours.counted), sum_words(bill.hour)
        rows.append(("cost of the hours", f"{sum_words(bill.hours)}, {counted} at {hour}"))
        if bill.total is not None:
            rows.append(("cost in all", sum_words(bill.total)))
    if bill.budget is not None:
        rows.append(("budget", sum_words(bill.budget)))
    return rows


def _treadles(loom: LoomPlan) -> str:
    """Return how the lifts are made on a loom, in short."""
    if not has_ties(loom.action):
        return f"{loom.action}, lifted pick by pick"
    if not loom.tied:
        return f"{loom.action}, too few treadles: the shafts are lifted by hand"
    cords = sum(each.cords for each in loom.tied)
    words = f"{loom.action}, {len(loom.tied)} treadles, {cords} cords"
    return words if loom.together == 1 else f"{words}, up to {loom.together} pressed at once"


def _loom(project: Project, figures: Figures) -> Rows:
    loom = project.loom
    rows = [
        ("action", _treadles(loom)),
        ("shafts", str(loom.shafts)),
        ("heddles", ", ".join(f"{n}: {many}" for n, many in enumerate(loom.heddles, start=1))),
    ]
    plan = project.heddle_plan
    moves = [f"{each.heddles} from shaft {each.source} to {each.target}" for each in plan.moves]
    if moves:
        rows.append(("move heddles", ", ".join(moves)))
    if plan.added:
        adds = [f"{each.added} on shaft {each.shaft}" for each in plan.shafts if each.added]
        rows.append(("add heddles", ", ".join(adds)))
    if project.sleying is not None and project.reed is not None:
        pattern = pattern_text(project.sleying.pattern)
        reed = figures.both("reed", project.reed)
        rows.append(("sley", f"{pattern} in a reed of {reed}, {project.sleying.dents} dents"))
        start = first_dent(project.sleying.dents, project.sleying.reed)
        side = project.warp.first_end
        place = (
            f"dent {start.count} from the {start.middle} in the middle" if start.count else "middle"
        )
        rows.append(("first end", f"{place}, to the {side}"))
    return rows
