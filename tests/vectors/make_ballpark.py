"""Writes ballpark.json, what a floor comes to by a shop's rates: on the server and the device.

The hand-written ones are worked out by hand; the others are the server's own word (held by
tests/shop/clients/test_ballpark.py). Run it from the project's root:

    python -m tests.vectors.make_ballpark
"""

import os
import random
from decimal import Decimal
from pathlib import Path

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
django.setup()

from shared.conventions import using  # noqa: E402 - models need settings
from shared.quantities import AREA  # noqa: E402
from shop.clients.adapter import ballpark_for_floor  # noqa: E402
from shop.people.models import ShopProfile  # noqa: E402
from tests.vectors.decimals import as_text  # noqa: E402

FILE = Path(__file__).with_name("ballpark.json")

# Units, locale, m², rates; what the device has to say.
HAND = [
    (  # 20 × 35 = 700, 20 × 60 = 1200
        ("metric", "en_GB", 20.0, ["35", "60"]),
        "20 m²",
        "EUR 700 to 1,200",
        "20 m² × EUR 35 to 60 = EUR 700 to 1,200; rounded outwards to two figures",
    ),
    (  # 12.345 is a hair above the half as a float, 12.125 is one: to the even 12.12
        ("metric", "de", 12.125, ["100.5", "999.9999"]),
        "12,13 m²",
        "EUR 1.200 to 13.000",
        "12,12 m² × EUR 100,5 to 1.000 = EUR 1.218,06 to 12.120; rounded outwards to two"
        " figures",
    ),
    (  # 215.278 ft² at 0.09290304 m²
        ("imperial", "en_US", 20.0, ["50", "100"]),
        "215.28 ft²",
        "EUR 1,000 to 2,000",
        "215.28 ft² × EUR 4.65 to 9.29 = EUR 1,000 to 2,000; rounded outwards to two figures",
    ),
    (("metric", "en_GB", 0.001, ["35", "60"]), "0 m²", "", ""),
]


def shop_of(units, locale, rates):
    low, high = map(Decimal, rates)
    return ShopProfile(
        unit_system=units,
        locale=locale,
        currency="EUR",
        ballpark_per_m2_from=low,
        ballpark_per_m2_to=high,
    )


def told_of(units, locale, area, rates):
    """What the server says of a floor."""
    shop = shop_of(units, locale, rates)
    with using(shop.conventions()):
        found = ballpark_for_floor(Decimal(str(round(area, 2))), shop)
        return [AREA.rounded(area), *(found or ("", ""))]


def floors():
    for given, *told in HAND:
        yield [*given, *told]
    rng = random.Random(1492)
    for n in range(60):
        area = rng.choice((rng.uniform(0.01, 400), rng.randint(1, 3200) / 8))
        low = rng.choice((0, rng.randint(1, 900), rng.randint(1, 9_000_000) / 10_000))
        rates = [f"{low:.4f}", f"{low + rng.randint(0, 5000) / 4:.4f}"]
        locale = rng.choice(("en_GB", "en_US", "de", "fr", "sv", "de_CH", "es"))
        given = ("imperial" if n % 4 == 3 else "metric", locale, area, rates)
        yield [*given, *told_of(*given)]


if __name__ == "__main__":
    FILE.write_text(as_text(floors()))
