"""What told.js needs to say, on the device, what the server would say of the readings."""

from __future__ import annotations

import json

from shared.conventions import current
from shop.surveys.engine import OPENING_WORDS, PLAN_WORDS


def told_words(clearance_ticks: int) -> str:
    """Return the sentences with the shop's way of printing lengths, as JSON."""
    conventions = current()
    return json.dumps(
        {
            "words": PLAN_WORDS | OPENING_WORDS,
            "units": str(conventions.unit_system),
            "fraction": conventions.fraction,
            "clearance": clearance_ticks,
        },
        ensure_ascii=False,
    )
