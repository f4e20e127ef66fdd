"""Checks of prices that need nothing worked out."""

from __future__ import annotations

from cards.spec.parts import Parts


def check_prices(parts: Parts) -> None:
    """Tell a price that does not say what it is for."""
    for name, yarn in (parts.yarns or {}).items():
        if yarn.price is None or yarn.put_up is not None:
            continue
        if parts.sound("yarns", name):
            message = f"yarn '{name}' has a price, and no put-up that it is for"
            mend = "add what one package holds, such as `put_up: 100 g`, or leave the price out"
            parts.tell("error", "price-without-put-up", message, mend, "yarns", name, "price")
