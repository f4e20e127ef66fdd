"""Whether the loom has the shafts that a draft uses; if not, whether the same cloth needs fewer.

Shafts that rise in the same sheds carry ends that lie alike in the cloth, so they can be one shaft.
As many shafts are needed as there are different columns in the drawdown: no shaft can carry ends
that lie differently.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import cycle

from cards.sequence import Sequence
from cards.spec.models import Draft
from cards.spec.parts import Parts, Path
from cards.spec.words import in_words
from cards.spec.written import written_lifts, written_threading, written_tie_up

Shed = frozenset[int]
# For each threaded shaft the number of every shed that raises it.
Columns = Mapping[int, Shed]

# An example longer than this is not read, nor pasted; then words must do.
_LONGEST_EXAMPLE = 240


def check_shafts(parts: Parts, draft: Draft) -> None:
    """Note the shafts that are used and that the loom has not, wherever they stand."""
    if parts.loom is None:
        return
    most = parts.loom.shafts
    threadings = list(_threadings(parts, draft))
    threaded = {run.value for _, threading in threadings for run in threading.runs()}
    fit = _fit(parts, draft, threaded, most)
    for path, threading in threadings:
        found = _beyond(most, ((run.value, run.offset) for run in threading.runs()))
        _tell(parts, most, found, fit.for_threading(path, threading), path)
    for path, lifts in _lifts(parts, draft):
        found = _beyond(most, _numbers(lifts))
        _tell(parts, most, found, fit.for_sheds(found), path)
    for treadle, tied in (draft.tie_up or {}).items():
        found = _beyond(most, ((each, 0) for each in tied))
        _tell(parts, most, found, fit.for_sheds(found), ("draft", "tie_up", str(treadle)))


def fewest_shafts(columns: Columns) -> int:
    """Return how many shafts the ends need: as many as there are different columns."""
    return len(set(columns.values()))


def shafts_joined(columns: Columns, most: int) -> dict[int, int] | None:
    """Return the shaft from 1 to `most` on which the ends of each shaft can go, None if none can.

    Ends stay where they are wherever that is possible, and those that move are spread evenly over
    the shafts that rise with theirs.

    >>> up = {1: frozenset({0}), 2: frozenset({1}), 3: frozenset({0}), 4: frozenset({1})}
    >>> shafts_joined(up, 3), shafts_joined(up, 1)
    ({1: 1, 2: 2, 3: 3, 4: 2}, None)
    """
    if fewest_shafts(columns) > most:
        return None
    alike: dict[Shed, list[int]] = {}
    for shaft in sorted(columns):
        alike.setdefault(columns[shaft], []).append(shaft)
    places = {column: [s for s in shafts if s <= most] for column, shafts in alike.items()}
    free = [shaft for shaft in range(1, most + 1) if shaft not in columns]
    for own in places.values():
        if not own:
            own.append(free.pop(0) if free else max(places.values(), key=len).pop())
    joined: dict[int, int] = {}
    for column, shafts in alike.items():
        stay = [shaft for shaft in shafts if shaft in places[column]]
        joined |= {shaft: shaft for shaft in stay}
        others = (shaft for shaft in shafts if shaft not in stay)
        joined |= dict(zip(others, cycle(places[column]), strict=False))
    return dict(sorted(joined.items()))


class _Fit:
    """What would fit: `joined` has the shaft for the ends of each, `needs` how many are needed."""

    def __init__(
        self, draft: Draft, threaded: set[int], columns: Columns | None, most: int
    ) -> None:
        self.draft, self.threaded, self.most = draft, threaded, most
        self.needs = fewest_shafts(columns) if columns else None
        self.joined = shafts_joined(columns, most) if columns else None
        self.usual = f"use shafts 1 to {most}, or mend loom.shafts"

    def for_threading(self, path: Path, threading: Sequence[int]) -> str:
        """Return how to mend a threading that uses too many shafts."""
        if self.needs is None:
            return self.usual
        if self.joined is None:
            return (
                f"the cloth needs {self.needs} shafts, for so many kinds of ends move differently: "
                f"weave it on a loom of {self.needs} shafts or more, or mend loom.shafts"
            )
        why = f"the same cloth needs {self.needs} shafts, since some always rise together: thread "
        how = f"the ends of shaft {self._moved()}"
        lines = [f'{path[-1]}: "{written_threading(threading.map(self.joined.__getitem__))}"']
        lines += self._sheds() if path[0] == "draft" else []
        if sum(map(len, lines)) <= _LONGEST_EXAMPLE:
            how += f": {in_words([f'`{line}`' for line in lines], 'and')}"
        return f"{why}{how}; or mend loom.shafts"

    def _moved(self) -> str:
        """Return which shafts' ends go where, in words."""
        onto: dict[int, list[str]] = {}
        for old, new in (self.joined or {}).items():
            if old != new:
                onto.setdefault(new, []).append(str(old))
        return "; ".join(f"{in_words(old, 'and')} on {new}" for new, old in onto.items())

    def _sheds(self) -> list[str]:
        """Return what becomes of the tie-up, or of the lifts."""
        draft, joined = self.draft, self.joined or {}

        def moved(shafts: Iterable[int]) -> Shed:
            return frozenset(joined[shaft] for shaft in shafts if shaft in joined)

        if draft.tie_up is not None:
            tied = {treadle: moved(shafts) for treadle, shafts in draft.tie_up.items()}
            return [f"tie_up: {written_tie_up(tied)}"]
        return [f'lifts: "{written_lifts(draft.lifts.map(moved))}"'] if draft.lifts else []

    def for_sheds(self, found: Mapping[int, int]) -> str:
        """Return how to mend a lift or a tie of shafts that are not there."""
        if found and not self.threaded & found.keys():
            it = "it" if len(found) == 1 else "them"
            return f"leave {it} out, since no end is threaded on {it}; or mend loom.shafts"
        if self.joined is not None:
            return "the threading says how fewer shafts do; or mend loom.shafts"
        return self.usual


def _fit(parts: Parts, draft: Draft, threaded: set[int], most: int) -> _Fit:
    sheds = _sheds(parts, draft)
    if not sheds or max(threaded, default=0) <= most:
        return _Fit(draft, threaded, None, most)
    columns = {
        shaft: frozenset(number for number, shed in enumerate(sheds) if shaft in shed)
        for shaft in threaded
    }
    if fewest_shafts(columns) < 2:
        return _Fit(draft, threaded, None, most)  # no shed opens, so there is no cloth to speak of
    return _Fit(draft, threaded, columns, most)


def _sheds(parts: Parts, draft: Draft) -> list[Shed]:
    """Return every shed that is woven, once; none where the spec does not tell them all."""
    if not all(parts.sound(key) for key in ("draft", "weave", "selvedges")):
        return []
    own = [section for section in parts.weave if section.treadling or section.lifts]
    plans: list[Sequence[Shed] | None] = []
    if draft.tie_up is not None:
        plans += [section.treadling for section in own]
        plans += [draft.treadling] if len(own) < max(1, len(parts.weave)) else []
    else:
        plans += [section.lifts for section in own]
        plans += [draft.lifts] if len(own) < max(1, len(parts.weave)) else []
    if any(plan is None for plan in plans):
        return []
    picks = dict.fromkeys(run.value for plan in plans if plan for run in plan.runs())
    if draft.tie_up is None:
        return list(picks)
    tie_up = draft.tie_up
    if any(not pressed <= tie_up.keys() for pressed in picks):
        return []
    sheds = (frozenset(s for treadle in pressed for s in tie_up[treadle]) for pressed in picks)
    return list(dict.fromkeys(sheds))


def _threadings(parts: Parts, draft: Draft) -> Iterator[tuple[Path, Sequence[int]]]:
    if draft.threading is not None:
        yield ("draft", "threading"), draft.threading
    for side in ("right", "left"):
        threading = getattr(parts.selvedges, side, None)
        if threading is not None:
            yield ("selvedges", side), threading


def _lifts(parts: Parts, draft: Draft) -> Iterator[tuple[Path, Sequence[Shed]]]:
    if draft.lifts is not None:
        yield ("draft", "lifts"), draft.lifts
    for position, section in enumerate(parts.weave):
        if section.lifts is not None:
            yield ("weave", position, "lifts"), section.lifts


def _numbers(picks: Sequence[Shed]) -> Iterator[tuple[int, int]]:
    return ((each, run.offset) for run in picks.runs() for each in sorted(run.value))


def _beyond(most: int, numbers: Iterable[tuple[int, int]]) -> dict[int, int]:
    """Return the shafts beyond the last, each with the offset at which it stands first."""
    found: dict[int, int] = {}
    for number, offset in numbers:
        if number > most:
            found.setdefault(number, offset)
    return found


def _tell(parts: Parts, most: int, found: Mapping[int, int], mend: str, path: Path) -> None:
    if not found:
        return
    which = in_words(map(str, sorted(found)), "and")
    many = f"shaft {which} is" if len(found) == 1 else f"shafts {which} are"
    message = f"{many} used, but the loom has {most}"
    offset = min(found.values())
    parts.tell("error", "shaft-beyond-loom", message, mend, *path, offset=offset)
