"""What pages show of prices: costs for the office, figures that open."""

from quotes.pricing.reports.costs import CostLine, Costs, costs_of
from quotes.pricing.reports.words import show_figure, step_of, steps_of

__all__ = ["CostLine", "Costs", "costs_of", "show_figure", "step_of", "steps_of"]
