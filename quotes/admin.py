"""What the admin shows of quotes: what was sent, answered and taken out, read-only."""

from django.contrib import admin

from quotes.models import Answer, LoadStatement, QuoteRevision
from quotes.specs.admin import PlannedPanelAdmin
from shared.admin import ReadOnlyAdmin

__all__ = [
    "AnswerAdmin",
    "LoadStatementAdmin",
    "PlannedPanelAdmin",
    "QuoteRevisionAdmin",
]


@admin.register(QuoteRevision)
class QuoteRevisionAdmin(ReadOnlyAdmin):
    """Quotes as they were sent."""

    list_display = ("__str__", "sent_at", "sent_by", "valid_until")
    list_select_related = ("quote", "sent_by")


@admin.register(Answer)
class AnswerAdmin(ReadOnlyAdmin):
    """What became of sent quotes."""

    list_display = ("revision", "kind", "at", "by")
    list_select_related = ("revision__quote", "by")


@admin.register(LoadStatement)
class LoadStatementAdmin(ReadOnlyAdmin):
    """What somebody stated about what carries a panel."""
