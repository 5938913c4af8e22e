"""What a cut plan was asked for, kept with it, and the job that the solver gets (pure)."""

from __future__ import annotations

from jobs.cutting.engine.request import (
    PricedBy,
    Request,
    Source,
    WantedPanel,
    bar_job,
    owners_of,
    sheet_job,
)

__all__ = [
    "PricedBy",
    "Request",
    "Source",
    "WantedPanel",
    "bar_job",
    "owners_of",
    "sheet_job",
]
