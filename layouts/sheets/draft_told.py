"""What the pictures of a draft show, in words for those who hear them."""

from __future__ import annotations

from layouts.sheets.draft_chart import Chart
from layouts.sheets.draft_part import Part


def threads_shown(chart: Chart) -> str:
    """Return which ends and picks are drawn, in words."""
    return ", ".join(filter(None, (ends_shown(chart), picks_shown(chart))))


def ends_shown(chart: Chart) -> str:
    """Return which ends are drawn, in words, empty if none."""
    return _shown(chart.ends, "ends")


def picks_shown(chart: Chart) -> str:
    """Return which picks are drawn, in words, empty if none."""
    return _shown(chart.picks, "picks")


def _shown(part: Part, name: str) -> str:
    if not part.count:
        return ""
    first, last = part.threads[0] + 1, part.threads[part.count - 1] + 1
    return f"{part.count} {name} from {first} to {last}"


def shafts_and_columns(chart: Chart) -> str:
    """Return which shafts and treadles a chart has, in words."""
    shafts, numbers = chart.shafts, chart.numbers
    told = [f"shafts {shafts.start + 1} to {shafts.stop}"] if shafts else []
    if chart.columns and chart.section.by_treadle:
        told.append("treadles " + " ".join(str(number) for number in numbers))
    return ", ".join(told)


def yarns_used(part: Part) -> str:
    """Return which yarns the threads of a part are of, in words."""
    return "; ".join(f"{yarn.letter} {yarn.name}" for yarn in part.used)


def brackets_over(part: Part, threads: str) -> str:
    """Return what the brackets over the threads of a part say, in words.

    A bracket says `4 × 95 + 1`: 4 threads 95 times, and the first once more.
    """
    told = []
    for bracket in part.brackets:
        once, _, more = bracket.words.partition(" × ")
        times, _, rest = more.partition(" + ")
        told.append(f"{once} {threads} {times} times{f', then the first {rest}' if rest else ''}")
    return "; ".join(told)


def repeat_words(chart: Chart) -> str:
    """Return how large the repeat is that a frame shows, empty where none is framed."""
    ends, picks = chart.ends.frame, chart.picks.frame
    if ends is None and picks is None:
        return ""
    across = ends[1] - ends[0] if ends else chart.ends.count
    along = picks[1] - picks[0] if picks else chart.picks.count
    return f"; the frame is one repeat of {across} ends and {along} picks"


def tie_words(chart: Chart) -> str:
    """Return which treadle ties which shafts, and what the marks stand for."""
    ties, told = chart.card.ties, []
    for column, number in zip(chart.columns, chart.numbers, strict=True):
        tied = chart.card.tied[column]
        rise = f"rise {' '.join(map(str, tied.rise))}" if ties != "sink" and tied.rise else ""
        sink = f"sink {' '.join(map(str, tied.sink))}" if ties != "rise" and tied.sink else ""
        told.append(f"treadle {number}: {', '.join(filter(None, (rise, sink))) or 'nothing'}")
    if ties == "both":
        words = "A disc: the shaft rises with the treadle; a cross: it sinks; neither: no cord."
    else:
        kind = "number" if chart.numbered else "mark"
        words = f"A {kind}: the shaft {ties}s with the treadle."
    return f"{'; '.join(told)}. {words}"
