"""Template filters: the same figure under the conventions of two shops."""

from decimal import Decimal

import pytest
from django.template import Context, Template

from shared.conventions import Conventions, using
from shared.length import UnitSystem, from_inches, from_mm

METRIC = Conventions(locale="de_DE")
IMPERIAL = Conventions(
    unit_system=UnitSystem.IMPERIAL, fraction=32, currency="USD", locale="en_US"
)


def rendered(source, **context):
    return Template("{% load ui %}" + source).render(Context(context, autoescape=False))


@pytest.mark.parametrize(
    ("source", "value", "metric", "imperial"),
    [
        ("length", from_mm(3750), "3750 mm", "12' 3 5/8\""),
        ("length", from_inches(1) // 32 * 3, "2.4 mm", '3/32"'),
        ("cut", from_mm(1170.3), "1170.5 mm", '46 1/16"'),
        ("cut", from_mm(1170.2), "1170 mm", '46 1/16"'),
        ("cut", from_inches(147), "3734 mm", '147"'),
        ("length_exact", from_mm(600.125), "600.125 mm", '23.627"'),
        ("length_both", from_inches(24), "609.6 mm (2' 0\")", "2' 0\" (609.6 mm)"),
        ("money", Decimal("1234.5"), "1.234,50\u00a0€", "$1,234.50"),
        ("unit_price", Decimal("0.0325"), "0,0325 EUR", "0.0325 USD"),
        ("unit_price", Decimal("12.5000"), "12,50\u00a0€", "$12.50"),
        ("mass", 30.61, "30,6 kg", "67.5 lb"),
        ("mass", Decimal("27.22"), "27,2 kg", "60 lb"),
        ("area", 2.9729, "2,97 m²", "32 ft²"),
        ("hours", Decimal("94.5"), "1 h 35 min", "1 h 35 min"),
        ("hours", 120, "2 h", "2 h"),
        ("hours", 0, "0 min", "0 min"),
        ("percent", Decimal("28.5714"), "28,57 %", "28.57 %"),
        ("quantity", Decimal("1234.50"), "1.234,5", "1,234.5"),
        ("quantity:0", 12.5, "13", "13"),
    ],
)
def test_prints_by_the_shops_conventions(source, value, metric, imperial):
    for conventions, expected in ((METRIC, metric), (IMPERIAL, imperial)):
        with using(conventions):
            assert rendered("{{ value|" + source + " }}", value=value) == expected


@pytest.mark.parametrize(
    "name",
    [
        *("length", "cut", "length_exact", "length_both", "money", "unit_price"),
        *("mass", "area", "hours", "percent", "quantity"),
    ],
)
def test_nothing_prints_as_nothing(name):
    assert rendered("{{ value|" + name + " }}", value=None) == ""


def test_length_still_counts_what_is_no_length():
    assert rendered("{{ value|length }}", value=["a", "b"]) == "2"


def test_sizes_name_their_unit_once():
    sides = {"w": from_inches(24), "h": from_inches(48.5)}
    with using(IMPERIAL):
        assert rendered("{% size w h %}", **sides) == "24 × 48 1/2 in"
    with using(METRIC):
        assert rendered("{% size w h %}", **sides) == "609.6 × 1231.9 mm"
