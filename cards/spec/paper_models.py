"""The part of a spec that says what the sheets are printed on."""

from pydantic import Field

from cards.spec import fields as kind
from cards.spec.base import SpecModel


class Paper(SpecModel):
    """What the sheets are printed on."""

    size: kind.Size | None = Field(None, description="A4, A5, Letter, Legal, 5 x 8 in, W x H mm")
    orientation: kind.Orientation = Field("portrait", description="Which way up")
    binding: kind.Binding = Field("none", description="The edge that goes into the binder")
    holes: kind.Holes = Field("none", description="Marks for punched holes")
