"""What weaving costs, as a weaver writes it: her pace, her hour, what she will spend."""

from pydantic import Field

from cards.spec import fields as kind
from cards.spec.base import SpecModel


class Pace(SpecModel):
    """How fast work goes on a loom; what is left out is assumed."""

    winding: kind.EndsAnHour | None = Field(None, description="Ends wound in an hour")
    dressing: kind.EndsAnHour | None = Field(
        None, description="Ends beamed, threaded, sleyed and tied on in an hour"
    )
    weaving: kind.PicksAnHour | None = Field(None, description="Picks woven in an hour")


class Costs(SpecModel):
    """What an hour costs, and what the whole may cost."""

    hour: kind.PriceText | None = Field(None, description="An hour's work, as EUR 12")
    budget: kind.PriceText | None = Field(
        None, description="Most for yarn, and for hours if they cost anything"
    )
