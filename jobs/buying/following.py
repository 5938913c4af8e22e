"""What buying does when something below it changes: a yes, a measure, a cut plan."""

from __future__ import annotations

import datetime as dt

from jobs.board.models import Panel
from jobs.buying.actions import needs, uses
from jobs.cutting.models import CutPlan
from jobs.cutting.slots import StockUse
from quotes.offers.models import QuoteRevision
from shop.people.models import Person


def follow_yes(revision: QuoteRevision, by: Person | None, at: dt.datetime) -> None:
    """Write down what the job needs that a yes has just opened; inside its transaction."""
    needs.note_needs_of_revision(revision, at=at)


def follow_measure(panel: Panel, by: Person, at: dt.datetime) -> None:
    """Work a job's needs out anew; inside the transaction that measured a panel of it."""
    needs.note_needs(panel.job, at=at)


def follow_plan(plan: CutPlan) -> None:
    """Work the needs of a plan's jobs out anew; inside the transaction that changed it."""
    needs.note_needs_of_plan(plan, at=plan.planned_at or plan.asked_at)


def follow_cut(
    plan: CutPlan, taken: tuple[StockUse, ...], by: Person, at: dt.datetime
) -> None:
    """Write down which jobs a finished plan took its material for; inside its transaction."""
    uses.book_cut(plan, taken)
