"""What Django finds of this app's features."""

from quotes.offers.models import Answer, FreeLine, Quote, QuoteRevision, QuoteRoom
from quotes.pricing.models import PriceRules, TaxRate
from quotes.safety.models import LoadStatement
from quotes.specs.models import Brace, BuildSpec, PlannedPanel, SpecItem, SpecOperation

__all__ = [
    "Answer",
    "Brace",
    "BuildSpec",
    "FreeLine",
    "LoadStatement",
    "PlannedPanel",
    "PriceRules",
    "Quote",
    "QuoteRevision",
    "QuoteRoom",
    "SpecItem",
    "SpecOperation",
    "TaxRate",
]
