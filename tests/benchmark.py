"""Speed and size as ratios, measured in one run; asserts nothing about time.

Run it by hand, on a quiet machine: `python tests/benchmark.py`. It needs the extra `bench`.
The drawdown page is held against the same matrix drawn by matplotlib's pcolormesh, and against a
bare content stream of one rectangle a run of cells, compressed with zlib: the least a PDF can be.
"""

from __future__ import annotations

import io
import resource
import statistics
import subprocess
import sys
import tempfile
import time
import zlib
from collections.abc import Callable
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

LARGE = """\
loomfolio: 1
project: {title: A large project}
yarns:
  slate: {size: Ne 8/2, fibre: cotton}
  sand: {size: Ne 8/2, fibre: cotton}
loom: {action: rising, shafts: 8, treadles: 8}
cloth: {width: 130 cm, length: 600 cm}
sett: 8 per cm
picks: 8 per cm
given: {ends: 1200, picks: 6000}
draft:
  threading: "(1 2 3 4 5 6 7 8 7 6 5 4 3 2 1 8 3 4 5 6) to fill"
  tie_up: {1: 1 2 5 6, 2: 2 3 6 7, 3: 3 4 7 8, 4: 1 4 5 8, 5: 1 3, 6: 2 4, 7: 5 7, 8: 6 8}
  treadling: "(1 2 3 4 3 2) x 5, (5 6 7 8) x 7, 1 3 2 4"
warp_order: "(40 slate, 8 sand, 4 slate, 8 sand) to fill"
weft_order: "(30 slate, 6 sand) x 4, 9 slate"
"""


def whole_process(spec: Path, folder: str) -> tuple[float, float]:
    """Return wall seconds and peak MiB of printing a folio, from cold start to last byte."""
    command = [sys.executable, "-m", "layouts", "print", str(spec), "-o", folder]
    started = time.perf_counter()
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL)
    _, _, used = __import__("os").wait4(process.pid, 0)
    return time.perf_counter() - started, used.ru_maxrss / 1024


def least(work: Callable[[], object], runs: int = 5) -> float:
    """Return the least seconds of several runs, which the machine disturbed least."""
    times = []
    for _ in range(runs):
        started = time.perf_counter()
        work()
        times.append(time.perf_counter() - started)
    return min(times)


def ours(cells: np.ndarray) -> bytes:
    from layouts.drawing import Cells, Drawing, Page
    from layouts.pdf import pdf_bytes

    page = Page(210.0, 297.0, (Cells(10, 10, 0.3, 0.3, cells),), "drawdown")
    return pdf_bytes([Drawing("Drawdown", "drawdown", (page,))], title="Drawdown")


def pcolormesh(cells: np.ndarray) -> bytes:
    from matplotlib.backends.backend_pdf import FigureCanvasPdf
    from matplotlib.figure import Figure

    figure = Figure(figsize=(8.27, 11.69))
    FigureCanvasPdf(figure)
    figure.add_axes((0.05, 0.05, 0.9, 0.9)).pcolormesh(cells, cmap="binary")
    file = io.BytesIO()
    figure.savefig(file, format="pdf")
    return file.getvalue()


def bare_stream(cells: np.ndarray) -> bytes:
    parts = []
    for row, line in enumerate(cells):
        edges = np.flatnonzero(np.diff(np.concatenate(([0], line.view(np.int8), [0]))))
        parts.extend(f"{start} {row} {stop - start} 1 re" for start, stop in edges.reshape(-1, 2))
    return zlib.compress("\n".join([*parts, "f"]).encode())


def layers_by_networkx(cells: np.ndarray) -> int:
    """Count the layers of a drawdown as strongly connected components of its tournament."""
    import networkx as nx

    graph = nx.DiGraph()
    picks, ends = cells.shape
    for pick in range(picks):
        for end in range(ends):
            above, below = (("end", end), ("pick", pick))[:: 1 if cells[pick, end] else -1]
            graph.add_edge(above, below)
    return nx.number_strongly_connected_components(graph)


def analysis() -> None:
    """Print the times of finding layers, and of analysing a large layered cloth."""
    from cards.cloth.continuity import find_faults
    from cards.cloth.layers import layers
    from cards.cloth.pieces import find_pieces
    from cards.cloth.weft_path import follow, pick_layers, shuttle_plan
    from cards.draft.drawdown import drawdown

    fold = [frozenset(lift) for lift in ({1}, {1, 2, 3}, {1, 3, 4}, {3})]
    small = drawdown([1, 2, 3, 4] * 50, fold * 100)
    mine = least(lambda: layers(small))
    graph = least(lambda: layers_by_networkx(small), 2)
    print(  # noqa: T201
        f"layers of 200 ends x 400 picks: {mine * 1000:.2f} ms, networkx {graph * 1000:.0f} ms, "
        f"x {graph / mine:.0f}"
    )
    large = drawdown([1, 2, 3, 4] * 1000, fold * 5000)
    plan = shuttle_plan([0] * len(large), "right")

    def whole() -> int:
        found = layers(large)
        path = follow(pick_layers(found), plan)
        return len(find_pieces(path)) + len(find_faults(large, found, path))

    seconds = least(whole, 3)
    print(f"4,000 ends x 20,000 picks: layers, pieces, folds and edges in {seconds:.2f} s")  # noqa: T201


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as folder:
        large = Path(folder) / "large.yaml"
        large.write_text(LARGE, "utf-8")
        for name, spec, runs in (
            ("folio of 436 ends", ROOT / "specs" / "kitchen-towels.yaml", 7),
            ("folio of 1,200 ends and 6,000 picks", large, 5),
        ):
            found = [whole_process(spec, folder) for _ in range(runs)]
            wall = statistics.median(seconds for seconds, _ in found)
            peak = max(memory for _, memory in found)
            print(f"{name}: {wall:.2f} s (median of {runs}), {peak:.0f} MiB")  # noqa: T201
    bare = least(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True))
    print(f"starting Python alone: {bare:.2f} s")  # noqa: T201
    threading = np.arange(400) % 4
    lifts = np.array([[1, 1, 0, 0], [0, 1, 1, 0], [0, 0, 1, 1], [1, 0, 0, 1]], dtype=bool)
    cells = lifts[np.arange(800) % 4][:, threading]
    print("drawdown of a 2/2 twill, 400 ends x 800 picks, as one PDF page:")  # noqa: T201
    base = least(lambda: bare_stream(cells)), len(bare_stream(cells))
    for name, draw in (
        ("bare stream", bare_stream),
        ("loomfolio", ours),
        ("pcolormesh", pcolormesh),
    ):
        seconds, size = least(lambda draw=draw: draw(cells), 3), len(draw(cells))
        print(  # noqa: T201
            f"  {name:12} {seconds * 1000:8.1f} ms {size / 1024:8.1f} KiB"
            f"   time x {seconds / base[0]:6.2f}   size x {size / base[1]:6.2f}"
        )
    analysis()
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak of this process: {peak:.0f} MiB")  # noqa: T201


if __name__ == "__main__":
    main()
