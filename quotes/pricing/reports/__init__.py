"""What pages and papers show of prices."""

from quotes.pricing.reports.sums import (
    CostLine,
    Costs,
    basis,
    costs_of,
    price_groups,
)
from quotes.pricing.reports.words import show_figure, step_of

__all__ = [
    "CostLine",
    "Costs",
    "basis",
    "costs_of",
    "price_groups",
    "show_figure",
    "step_of",
]
