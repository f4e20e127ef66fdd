"""The one error that every notation of the spec raises: what is wrong, how to mend it, where.

The place is an offset in the text that was read; the reader of the file turns it into a line.
"""

from __future__ import annotations


class NotationError(ValueError):
    """A text that cannot be read.

    `offset` is the character at which the trouble starts. `path` leads from the value to the
    part of it that is at fault, when the value is a list or a mapping.
    """

    def __init__(
        self,
        message: str,
        mend: str,
        offset: int = 0,
        *,
        code: str = "bad-notation",
        path: tuple[str | int, ...] = (),
    ) -> None:
        """Keep the parts of the complaint apart, so that each can be placed and printed."""
        super().__init__(message)
        self.message = message
        self.mend = mend
        self.offset = offset
        self.code = code
        self.path = path

    def moved(self, offset: int) -> NotationError:
        """Return the same complaint about a text that stands `offset` characters further on."""
        return NotationError(
            self.message, self.mend, self.offset + offset, code=self.code, path=self.path
        )
