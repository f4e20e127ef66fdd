"""Photographs as they are put on paper: turned upright, as small as the page needs, and bare.

Only the pixels of a photograph are taken over. Whatever else its file says, where it was taken, by
what camera, with what words, is left behind: the picture is made anew from them. JPEG and PNG are
read, which every camera and every program write; other readers are never asked.
"""

from __future__ import annotations

import struct
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from typing import Any, Final

from cards.spec.refusal import NotationError
from layouts.paper import Frame

# A photograph on paper is looked at from near: 200 dots to the inch are enough for print, and
# 40 kB rather than 4 MB (common practice, no source).
DOTS_PER_MM: Final = 200 / 25.4

# What is more needs hundreds of megabytes to be opened. Telephones take 12 to 50 million.
MOST_PIXELS: Final = 60_000_000
_LONGEST: Final = 30_000
_STRIP: Final = 2_000_000  # pixels that are worked over at once

_QUALITY: Final = 85
_ORIENTATION: Final = 0x0112  # the tag of EXIF 2.3 that says which side was up
_LARGEST_PROFILE: Final = 1024 * 1024

_SAVE_AS: Final = "save it as JPEG or PNG"


@dataclass(frozen=True, slots=True)
class Shown:
    """A photograph as it is printed: a bare JPEG, and its size in mm."""

    data: bytes
    width: float
    height: float


def shown(data: bytes, width: float, height: float, frame: Frame) -> Shown:
    """Return a photograph as large as fits `width` x `height` mm, in greys for a grey frame.

    Raises NotationError where `data` are no photograph, damaged or too large.
    """
    dots = DOTS_PER_MM * frame.magnify
    image = _upright(data, (round(width * dots), round(height * dots)))
    across, down = image.size
    scale = min(width / across, height / down)
    bare = _bare(image, grey=frame.grey)
    return Shown(bare, across * scale, down * scale)


def check_photograph(data: bytes) -> None:
    """Raise NotationError where `data` are no photograph, damaged or too large."""
    _upright(data, (64, 64))


def _upright(data: bytes, most: tuple[int, int]) -> Any:  # noqa: ANN401 - Pillow comes late
    """Return the pixels, upright, in sRGB, no more of them than `most` across and down."""
    from PIL import Image  # noqa: PLC0415 -- only a record with photographs waits for it

    with _refusing():
        image = Image.open(BytesIO(data), formats=("JPEG", "PNG"))
        _check_size(image)
        profile = image.info.get("icc_profile")
        turned = image.getexif().get(_ORIENTATION, 1)
        across, down = most[::-1] if turned in _TURNED else most
        # A JPEG is opened at the size that is wanted, or a little larger.
        image.draft(None, (across * 2, down * 2))
        image.load()
        image = _reduced(image, across, down)
        if profile and len(profile) <= _LARGEST_PROFILE:
            image = _in_srgb(image, profile)
        image = image if image.mode in ("L", "RGB") else image.convert("RGB")
        image.thumbnail((max(1, across), max(1, down)), Image.Resampling.LANCZOS)
        way = _WAYS.get(turned)
        return image.transpose(Image.Transpose[way]) if way else image


# How pixels are turned to stand upright, by the tag of EXIF 2.3; the last four change sides.
_WAYS: Final = {
    2: "FLIP_LEFT_RIGHT", 3: "ROTATE_180", 4: "FLIP_TOP_BOTTOM",
    5: "TRANSPOSE", 6: "ROTATE_270", 7: "TRANSVERSE", 8: "ROTATE_90",
}  # fmt: skip
_TURNED: Final = frozenset({5, 6, 7, 8})


@contextmanager
def _refusing() -> Iterator[None]:
    """Turn what Pillow raises on bad files into a NotationError."""
    from PIL import Image, UnidentifiedImageError  # noqa: PLC0415

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of large images, which are refused, and of odd tags
            yield
    except UnidentifiedImageError as error:
        message = "this is no photograph that can be read"
        raise NotationError(message, _SAVE_AS, code="not-a-photograph") from error
    except Image.DecompressionBombError as error:
        raise _too_large() from error
    except (OSError, SyntaxError, ValueError, EOFError, struct.error, ArithmeticError,
            LookupError, TypeError, AttributeError, MemoryError) as error:  # fmt: skip
        if isinstance(error, NotationError):
            raise
        message = "the photograph is damaged"
        raise NotationError(
            message, "copy it anew from where it came from", code="damaged-photograph"
        ) from error


def _check_size(image: Any) -> None:  # noqa: ANN401
    across, down = image.size
    # All of the inks of a JPEG for the press may have to be unpacked before it can be scaled.
    inks = image.format == "JPEG" and len(image.getbands()) > len("RGB")
    most = MOST_PIXELS // 2 if inks else MOST_PIXELS
    if across * down > most or max(across, down) > _LONGEST:
        raise _too_large(most, " and is in CMYK" * inks)


def _too_large(most: int = MOST_PIXELS, why: str = "") -> NotationError:
    message = f"the photograph has more than {most // 1_000_000} million pixels{why}"
    return NotationError(message, "scale it down before", code="photograph-too-large")


def _reduced(image: Any, across: int, down: int) -> Any:  # noqa: ANN401
    """Return an image without transparency, at least twice as large as it is wanted if it can be.

    It is worked over strip by strip: a large image in other colours would fill the memory.
    """
    from PIL import Image  # noqa: PLC0415

    wide, high = image.size
    factor = max(1, int(max(wide / max(1, across), high / max(1, down)) / 2))
    rows = factor * max(1, _STRIP // (wide * factor))
    reduced = None
    for top in range(0, high, rows):
        strip = _plain(image.crop((0, top, wide, min(top + rows, high)))).reduce(factor)
        if reduced is None:
            reduced = Image.new(strip.mode, (-(-wide // factor), -(-high // factor)))
        reduced.paste(strip, (0, top // factor))
    return reduced


def _plain(image: Any) -> Any:  # noqa: ANN401
    """Return an image in eight bits a colour, on white where it is transparent."""
    from PIL import Image  # noqa: PLC0415

    if image.mode.startswith(("I", "F")):
        # Sixteen bits a pixel: the upper eight of them.
        image = image.convert("I").point(lambda value: value / 257).convert("L")
    if image.mode in ("RGBA", "LA", "PA", "La", "RGBa") or "transparency" in image.info:
        image = image.convert("RGBA")
        white = Image.new("RGBA", image.size, "white")
        image = Image.alpha_composite(white, image).convert("RGB")
    if image.mode == "1":
        return image.convert("L")
    return image if image.mode in ("L", "RGB", "CMYK") else image.convert("RGB")


def _in_srgb(image: Any, profile: bytes) -> Any:  # noqa: ANN401
    """Return an image with the colours of its profile; one that cannot be read is passed over."""
    from PIL import ImageCms  # noqa: PLC0415

    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        target = ImageCms.createProfile("sRGB")
        converted = ImageCms.profileToProfile(image, source, target, outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return image
    return image if converted is None else converted


def _bare(image: Any, *, grey: bool) -> bytes:  # noqa: ANN401
    """Return a JPEG of nothing but the pixels."""
    from PIL import Image  # noqa: PLC0415

    if grey:
        image = image.convert("L")
    bare = Image.frombytes(image.mode, image.size, image.tobytes())
    stream = BytesIO()
    bare.save(stream, "JPEG", quality=_QUALITY)
    return stream.getvalue()
