"""Photographs as they go into a file: a JPEG as it is, a PNG unpacked, each of them once.

Whoever draws the picture has scaled it down and turned it upright; nothing is done to it here.
"""

from __future__ import annotations

import hashlib
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reportlab.pdfbase.pdfdoc import PDFImageXObject
    from reportlab.pdfgen.canvas import Canvas

_KINDS = {b"\xff\xd8\xff": "image/jpeg", b"\x89PNG\r\n\x1a\n": "image/png"}


def media_type(data: bytes) -> str:
    r"""Return `image/jpeg` or `image/png`, by the first bytes. Raises ValueError for anything else.

    >>> media_type(b"\xff\xd8\xff\xe0")
    'image/jpeg'
    """
    for start, kind in _KINDS.items():
        if data.startswith(start):
            return kind
    raise ValueError("a picture must be a JPEG or a PNG")


def image_name(canvas: Canvas, data: bytes) -> str:
    """Return the name by which the page draws a picture, which goes into the file but once."""
    key = hashlib.sha256(data).hexdigest()[:24]
    document = canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001
    # reportlab's own way in would decode every JPEG, to know it again.
    if not document.hasForm(key):
        document.Reference(_image(key, data), document.getXObjectName(key))
    canvas._formsinuse.append(key)  # type: ignore[attr-defined]  # noqa: SLF001
    return str(document.getXObjectName(key))


def _image(key: str, data: bytes) -> PDFImageXObject:
    from PIL import Image  # noqa: PLC0415 - few folios have pictures
    from reportlab.lib.utils import ImageReader  # noqa: PLC0415
    from reportlab.pdfbase.pdfdoc import PDFImageXObject  # noqa: PLC0415

    image = PDFImageXObject(key)
    if media_type(data) == "image/jpeg":
        if not image.loadImageFromJPEG(BytesIO(data)):
            raise ValueError("the picture is not a whole JPEG")
        return image
    drawn: Image.Image = Image.open(BytesIO(data))
    grey = drawn.mode in ("1", "L")
    if not grey and drawn.mode != "RGB":  # what is seen through is white, as the paper is
        drawn = drawn.convert("RGBA")
        ground = Image.new("RGBA", drawn.size, "white")
        drawn = Image.alpha_composite(ground, drawn)
    image.loadImageFromSRC(ImageReader(drawn.convert("L" if grey else "RGB")))
    return image
