"""What all parts of a spec have in common."""

from pydantic import BaseModel, ConfigDict


class SpecModel(BaseModel):
    """A part of a spec: frozen, and no unknown keys."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True
    )
