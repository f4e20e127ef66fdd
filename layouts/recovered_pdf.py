"""The files attached to a PDF that are the source of what is drawn in it.

pypdf reads the file. It raises errors of many kinds where a file is damaged, and says things of its
own on the way: both end here.
"""

from __future__ import annotations

import hashlib
import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import TYPE_CHECKING, Any

from layouts.attachment import MEDIA_TYPE, Attachment, Relationship
from layouts.not_recovered import MOST_FILES, NotRecovered, damaged, limited, unpacked

if TYPE_CHECKING:
    from pypdf import PdfReader

_RELATIONSHIPS: dict[str, Relationship] = {"/Source": "Source", "/Data": "Data"}


def files_in_pdf(data: bytes) -> list[Attachment]:
    """Return the files that travel in a PDF; raises NotRecovered where it cannot be read."""
    from pypdf import PdfReader  # noqa: PLC0415 - 150 ms that only this command needs

    with _in_silence():
        try:
            return list(_attached(PdfReader(BytesIO(data))))
        except NotRecovered:
            raise
        except Exception as error:  # whatever a damaged file makes of pypdf
            raise damaged() from error


def _attached(reader: PdfReader) -> Iterator[Attachment]:
    if reader.is_encrypted:
        raise NotRecovered(
            "this PDF is encrypted", "open it with its password, and save it without"
        )
    for number, entry in enumerate(reader.attachment_list):
        if number > MOST_FILES:
            break
        relationship = _RELATIONSHIPS.get(str(entry.pdf_object.get("/AFRelationship")))
        about: Any = entry.pdf_object
        stream = about["/EF"]["/F"].get_object()
        if relationship is not None and stream.get("/Subtype") == f"/{MEDIA_TYPE}":
            yield Attachment(str(entry.name), _content(stream), relationship)


def _content(stream: Any) -> bytes:  # noqa: ANN401 - as pypdf has it
    """Return the bytes of an embedded file, checked by its checksum if it has one."""
    filters = stream.get("/Filter")
    if isinstance(filters, list) and len(filters) == 1:
        filters = filters[0]
    # pypdf unpacks as much as there is, here no more than a spec may have.
    plain = str(filters) == "/FlateDecode" and "/DecodeParms" not in stream
    content = unpacked(stream._data) if plain else limited(bytes(stream.get_data()))  # noqa: SLF001
    checksum = stream.get("/Params", {}).get("/CheckSum")
    if checksum is not None:
        wanted = getattr(checksum, "original_bytes", checksum)
        if wanted != hashlib.md5(content, usedforsecurity=False).digest():
            raise damaged()
    return content


@contextmanager
def _in_silence() -> Iterator[None]:
    """Keep pypdf from telling the weaver what it thinks of a file."""
    logger = logging.getLogger("pypdf")
    before = logger.level
    logger.setLevel(logging.CRITICAL + 1)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    finally:
        logger.setLevel(before)
