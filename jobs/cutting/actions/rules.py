"""Change what the shop's saw takes."""

from __future__ import annotations

import datetime as dt
import uuid

from django.db import transaction

from jobs.cutting.models import SawRules
from shared.audit.models import Entry
from shop.people.models import Person

SUBJECT = uuid.UUID(int=1)
"""What the log knows the one row by."""


@transaction.atomic
def change_rules(rules: SawRules, *, by: Person, at: dt.datetime) -> SawRules:
    """Store the saw's rules; plans that are there keep theirs."""
    rules.pk = 1
    rules.full_clean(validate_unique=False)
    rules.save()
    Entry.objects.create(
        at=at,
        by=by,
        kind="sawrules",
        subject_id=SUBJECT,
        verb="changed",
        text="Saw rules changed.",
        detail={},
    )
    return rules
