"""The rows of rules and taxes refuse what no price can be made of."""

from decimal import Decimal as D

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from quotes.pricing.models import PriceRules, TaxRate

pytestmark = pytest.mark.django_db

BROKEN = [
    {"id": 2},
    {"profit_basis": "margin", "profit_percent": D(100)},
    {"profit_basis": "guess"},
    {"allowance_basis": "shift", "allowance_percent": D(100)},
    {"minimum_charge": D(-1)},
    {"overhead_per_hour": D(-1)},
    {"trips": 0},
    {"crew": 0},
]


@pytest.mark.parametrize("broken", BROKEN)
def test_the_database_refuses_rules_that_make_no_price(broken):
    with pytest.raises(IntegrityError):
        PriceRules.objects.create(**broken)


@pytest.mark.parametrize("broken", BROKEN)
def test_a_sentence_says_why(broken):
    with pytest.raises(ValidationError) as caught:
        PriceRules(**broken).full_clean()
    assert caught.value.messages


def test_a_kind_of_line_has_one_rate():
    TaxRate.objects.create(line_kind="panels", percent=D(19))
    with pytest.raises(IntegrityError):
        TaxRate.objects.create(line_kind="panels", percent=D(7))


@pytest.mark.parametrize("percent", [D(-1), D(101)])
def test_a_rate_lies_between_nothing_and_all(percent):
    rate = TaxRate(line_kind="panels", percent=percent)
    with pytest.raises(ValidationError, match="between 0 and 100 %"):
        rate.validate_constraints()
    with pytest.raises(IntegrityError):
        rate.save()


def test_rows_say_what_they_are():
    assert str(PriceRules()) == "price rules"
    assert str(TaxRate(line_kind="panels", percent=D(19))) == "panels 19 %"
