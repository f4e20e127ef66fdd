"""A large photograph is scaled down without filling the memory, whatever its colours are.

Pillow makes the pictures; the system says what a process took.
"""

import sys
from io import BytesIO

import pytest
from PIL import Image

from cards.spec.refusal import NotationError
from layouts.photographs import MOST_PIXELS, check_photograph, shown
from tests.commands import start
from tests.layouts.test_photographs import frame, opened

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="memory is counted in other units")

SIDE = 6000
# Linux counts the most that a process took since its program began as VmHWM (proc(5)); what
# getrusage says goes back to the process that it was forked from.
MEASURE = """
import re, sys
from layouts.photographs import check_photograph
check_photograph(sys.stdin.buffer.read())
print(int(re.search("VmHWM:[^0-9]*([0-9]+) kB", open("/proc/self/status").read())[1]) // 1024)
"""


def png(image, **more):
    stream = BytesIO()
    image.save(stream, "PNG", compress_level=1, **more)
    return stream.getvalue()


@pytest.mark.parametrize(
    ("mode", "colour", "more"),
    [("P", 3, {"transparency": 0}), ("I;16", 60000, {}), ("RGBA", (1, 2, 3, 4), {})],
)
def test_memory(mode, colour, more):
    data = png(Image.new(mode, (SIDE, SIDE), colour), **more)
    # 144 MB are the pixels in four colours; half as much again is for all else.
    taken = int(start("-", program="-c " + MEASURE, input=data).stdout)
    assert taken < 300


def test_a_large_photograph_keeps_its_parts():
    # 3001 and 2003 are no multiples of anything by which they could be scaled down.
    image = Image.new("RGBA", (3001, 2003), (200, 30, 30, 255))
    image.paste((30, 30, 200, 255), (0, 1000, 3001, 2003))
    image.paste((0, 0, 0, 0), (1500, 0, 3001, 1000))
    made = shown(png(image), 60, 60, frame())
    assert (made.width, made.height) == pytest.approx((60, 60 * 2003 / 3001), abs=0.2)
    small = opened(made.data)
    across, down = small.size
    for place, wanted in (
        ((1, 1), (200, 30, 30)),
        ((3, 1), (255, 255, 255)),
        ((3, 3), (30, 30, 200)),
    ):
        found = small.getpixel((across * place[0] // 4, down * place[1] // 4))
        assert all(abs(one - other) < 12 for one, other in zip(found, wanted, strict=True))


def test_a_photograph_for_the_press_is_refused_earlier():
    side = int((MOST_PIXELS / 2) ** 0.5) + 1
    stream = BytesIO()
    Image.new("CMYK", (side, side)).save(stream, "JPEG")
    with pytest.raises(NotationError, match="30 million pixels and is in CMYK"):
        check_photograph(stream.getvalue())
