"""Labour time against FACTS-materials section 9.

Normal time = observed × rating; standard time = normal × (1 + A) with the allowance A
a share of work, normal ÷ (1 - A) with A a share of the shift [S: time-standards
textbook chapter]. Tolerance 1e-3 min.
"""

from decimal import Decimal as D

import pytest

from quotes.pricing.engine import (
    Allowance,
    AllowanceKind,
    PanelDemand,
    PriceRules,
    Profit,
    ProfitKind,
    Stage,
    Work,
    price_panel,
)


def standard_minutes(allowance, *, pieces="1", rating="110"):
    """Minutes priced for pieces of work observed at 12.0 min each."""
    work = Work(
        "w", "Work", Stage.BUILD, D(pieces), "pieces", D("12.0"), D(60), D(rating)
    )
    rules = PriceRules("EUR", Profit(ProfitKind.MARKUP, D(0)), allowance=allowance)
    line = price_panel(PanelDemand("p", "Panel", D(1), (), (work,)), rules)
    assert line.cost.work[0].money.value == line.cost.work[0].minutes.value
    return line.cost.work[0].minutes.value


@pytest.mark.parametrize(
    ("allowance", "minutes"),
    [
        (Allowance(), "13.20"),
        (Allowance(AllowanceKind.OF_WORK, D(15)), "15.180"),
        (Allowance(AllowanceKind.OF_SHIFT, D(15)), "15.529"),
    ],
)
def test_twelve_minutes_at_110_percent(allowance, minutes):
    assert abs(standard_minutes(allowance) - D(minutes)) < D("1e-3")


def test_a_personal_allowance_of_24_minutes_in_480_is_a_share_of_the_shift():
    """5 % of an eight-hour shift [S]: 456 minutes of work fill 480."""
    rest = Allowance(AllowanceKind.OF_SHIFT, D(24) * 100 / D(480))
    assert standard_minutes(rest, pieces="38", rating="100") == D(480)
