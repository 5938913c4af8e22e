"""What told.js needs to say, on the device, what the server would say of the readings."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from shared.conventions import current
from shared.money import symbols
from shop.clients.adapter import floor_rates
from shop.clients.engine.cautions import ASBESTOS_BEFORE
from shop.clients.engine.cautions import SHOWN as OF_SITE
from shop.people.models import ShopProfile
from shop.surveys.engine import OPENING_WORDS, PLAN_WORDS, Usual
from shop.surveys.engine.asks import MISSING, NEEDED
from shop.surveys.engine.cautions import SHOWN
from shop.surveys.engine.findings import WORDS
from shop.surveys.engine.surfaces import WORDS as OF_SURFACES
from shop.surveys.models import BeamKind, OpeningKind, SpotKind, ZoneKind

LABELS = {
    str(value): str(label)
    for kinds in (OpeningKind, ZoneKind, BeamKind, SpotKind)
    for value, label in kinds.choices
}
"""What each kind of part is called; where two kinds share a key they share the word."""


def told_words(
    clearance_ticks: int, usual: Mapping[str, Usual], rates_of: ShopProfile | None
) -> str:
    """Return rules and sentences with the shop's way of printing lengths, as JSON.

    The shop's rates for a floor go along where `rates_of` it may be seen.
    """
    conventions = current()
    return json.dumps(
        {
            "words": OF_SURFACES | WORDS | PLAN_WORDS | OPENING_WORDS,
            "missing": [group.as_data for group in MISSING],
            "needed": [group.as_data for group in NEEDED],
            "cautions": _cautions(),
            "oldBefore": ASBESTOS_BEFORE,
            "labels": LABELS,
            "usual": {kind: _sides(one) for kind, one in usual.items()},
            "units": str(conventions.unit_system),
            "fraction": conventions.fraction,
            "clearance": clearance_ticks,
            "numbers": symbols(conventions.locale),
        }
        | _rates(rates_of),
        ensure_ascii=False,
    )


def _cautions() -> list[Any]:
    return [[when, caution.title, caution.text] for when, caution in (*SHOWN, *OF_SITE)]


def _sides(usual: Usual) -> tuple[int | None, ...]:
    return usual.margin_ticks, usual.width_ticks, usual.height_ticks


def _rates(shop: ShopProfile | None) -> dict[str, Any]:
    rates = floor_rates(shop) if shop else None
    if shop is None or rates is None:
        return {}
    return {
        "currency": shop.currency,
        "rates": [f"{end:f}" for end in (rates.low, rates.high)],
    }
