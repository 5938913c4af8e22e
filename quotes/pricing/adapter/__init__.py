"""Rows and takeoffs turned into what the pricing engine takes."""

from quotes.pricing.adapter.request import ExtraLine, demand_of, request_of
from quotes.pricing.adapter.rules import Basis, rules_of

__all__ = ["Basis", "ExtraLine", "demand_of", "request_of", "rules_of"]
