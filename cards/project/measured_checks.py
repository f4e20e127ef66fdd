"""Findings about what was measured: sizes that cannot all be true of one cloth."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from cards.calculation.measured import Found, Sizes, lost
from cards.project.problems import Problems
from cards.spec import Spec

NOTHING = "nothing that was measured tells of take-up, draw-in or shrinkage"
ADD = "add sizes to `measured:`, such as `off_loom: {width: 42 cm, length: 180 cm}`"

# Cloth that is wider or longer than before by more than this was not measured alike twice.
_GREW = 0.02
# No more can be given as an allowance; nothing that is woven loses more.
_MOST_LOST = 0.60

Path = tuple[str, ...]
_Size = tuple[str, float | None]


def check_found(found: Iterable[Found], problems: Problems) -> None:
    """Note that nothing can be read back from what was measured."""
    if all(each.value is None for each in found):
        problems.note("nothing-measured", NOTHING, ADD, "measured")


def check_measured(
    spec: Spec,
    sizes: Sizes,
    warp_length: float,
    masses: Mapping[str, tuple[float, float]],
    problems: Problems,
) -> None:
    """Tell what of the measured sizes, in mm, and masses, in g, contradicts the rest."""
    actual = spec.measured
    if actual is None:
        return
    if actual.warp_length is not None:
        warp_length = actual.warp_length
    _check_warp(spec, sizes, warp_length, problems)
    _check_width(sizes, problems)
    off_width = ("off the loom", sizes.off_width)
    off_length = ("off the loom", sizes.off_length)
    pairs: list[tuple[str, _Size, _Size, Path]] = [
        ("longer", ("under tension", sizes.woven), off_length, ("off_loom", "length")),
        ("longer", off_length, ("washed", sizes.washed_length), ("washed", "length")),
        ("wider", off_width, ("washed", sizes.washed_width), ("washed", "width")),
        ("wider", ("at the reed", sizes.reed), off_width, ("off_loom", "width")),
    ]
    # What lies between may not have been measured; sizes further apart are held together then.
    if sizes.off_length is None:
        whole = ("washed", sizes.washed_length)
        pairs.append(("longer", ("under tension", sizes.woven), whole, ("washed", "length")))
    for word, earlier, later, path in pairs:
        _check_pair(word, earlier, later, path, problems)
    _check_masses(spec, masses, problems)


def _check_warp(spec: Spec, sizes: Sizes, length: float, problems: Problems) -> None:
    figures, pieces = problems.figures, spec.cloth.pieces
    for key, size in (("woven", sizes.woven), ("warp_used", sizes.used)):
        if size is not None and size * pieces > length:
            whole = f"{pieces} pieces of {figures.tape(size)}" if pieces > 1 else figures.tape(size)
            what = "woven" if key == "woven" else "of warp used"
            problems.error(
                "measured-contradicts",
                f"{whole} {what} do not come out of a warp of {figures.long(length)}",
                "measure one piece; is `warp_length` the warp that was wound?",
                "measured",
                key,
            )
            return
    if sizes.used is not None and sizes.off_length is not None and sizes.used < sizes.off_length:
        at = "warp_used" if spec.measured and spec.measured.warp_used is not None else "waste"
        problems.error(
            "measured-contradicts",
            f"{figures.tape(max(0.0, sizes.used))} of warp for a piece is less than the "
            f"{figures.tape(sizes.off_length)} that it measures off the loom",
            "correct the lengths: warp, waste, header, sample and fringes are all of the warp",
            "measured",
            at,
        )


def _check_width(sizes: Sizes, problems: Problems) -> None:
    """Refuse cloth that is wider than its warp in the reed, off the loom or else washed."""
    reed, width, key, stage = sizes.reed, sizes.off_width, "off_loom", "off the loom"
    if width is None:
        width, key, stage = sizes.washed_width, "washed", "washed"
    if reed is None or width is None or lost(reed, width) >= -_GREW / 2:
        return
    figures = problems.figures
    problems.error(
        "measured-contradicts",
        f"{figures.width(width)} wide {stage} is more than the {figures.width(reed)} at the reed",
        "correct one of them; cloth of joined layers is measured opened out",
        "measured",
        key,
        "width",
    )


def _check_pair(word: str, earlier: _Size, later: _Size, path: Path, problems: Problems) -> None:
    (before, size), (after, rest) = earlier, later
    if size is None or rest is None:
        return
    share, figures = lost(size, rest), problems.figures
    if share < -_GREW and before != "at the reed":
        problems.warning(
            "measured-grew",
            f"the cloth is {-share:.1%} {word} {after} than {before}, which counts as no loss",
            "measure both flat and without pulling; hems count, fringes do not",
            "measured",
            *path,
        )
    elif share > _MOST_LOST:
        problems.error(
            "measured-contradicts",
            f"{figures.tape(rest)} {after} of {figures.tape(size)} {before} is {share:.0%} less",
            "correct one of them: no cloth loses so much",
            "measured",
            *path,
        )


def _check_masses(
    spec: Spec, masses: Mapping[str, tuple[float, float]], problems: Problems
) -> None:
    actual = spec.measured
    for key in actual.yarns if actual is not None else ():
        if key not in masses:
            problems.error(
                "unknown-yarn",
                f"there is no yarn '{key}' in this cloth",
                f"weigh one of {', '.join(spec.yarns)}",
                "measured",
                "yarns",
                key,
            )
            continue
        before, after = masses[key]
        if after > before:
            problems.error(
                "measured-contradicts",
                f"{after:g} g of '{key}' are left of {before:g} g",
                "give `before` as all that there was of it, and `after` as what is left",
                "measured",
                "yarns",
                key,
            )
