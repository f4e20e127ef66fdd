import pint
import pytest

from cards import units

# The reference is pint's own registry of units.
REGISTRY = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("constant", "name", "base"),
    [
        (units.INCH, "inch", "mm"),
        (units.FOOT, "foot", "mm"),
        (units.YARD, "yard", "mm"),
        (units.CENTIMETRE, "cm", "mm"),
        (units.METRE, "m", "mm"),
        (units.KILOMETRE, "km", "mm"),
        (units.POUND, "pound", "g"),
        (units.OUNCE, "ounce", "g"),
        (units.DRAM, "dram", "g"),
        (units.GRAIN, "grain", "g"),
        (units.KILOGRAM, "kg", "g"),
    ],
)
def test_constants_agree_with_pint(constant, name, base):
    assert float(constant) == pytest.approx(
        REGISTRY.Quantity(1, name).to(base).magnitude, rel=1e-14
    )
