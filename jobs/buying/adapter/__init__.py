"""Rows turned into what the engine takes: pieces into amounts, needs into questions."""

from jobs.buying.adapter.needs import Covered, Needed, Terms, needs_of
from jobs.buying.adapter.questions import Rows, Thing, Used, things_of

__all__ = [
    "Covered",
    "Needed",
    "Rows",
    "Terms",
    "Thing",
    "Used",
    "needs_of",
    "things_of",
]
