"""The average yield, learnt from finished plans: a person accepts it or leaves it."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.cutting.engine.learning import Found, proposed
from jobs.cutting.models import YieldFinding
from jobs.cutting.reports.learning import LAST
from quotes.pricing.actions import change_fabric_yield
from quotes.pricing.models import PriceRules
from quotes.specs.actions import change_yield
from quotes.specs.models import BuildSpec
from shared.audit.actions import record
from shared.audit.models import Entry
from shop.people.models import Person

NOBODY = "Somebody decided on it meanwhile: look again."
CLOTH = "cloth"
VERB = "yield"


class CannotLearnError(Exception):
    """It was decided otherwise meanwhile; the message is the sentence to show."""


@transaction.atomic
def decide_yield(
    build: uuid.UUID | None, *, accept: bool, by: Person, at: dt.datetime
) -> Entry:
    """Take over the yield that finished plans propose, or leave it as it is.

    `build` is None for cloth. Returns the entry that an undo names. Raises
    `CannotLearnError` where nothing is open any more.
    """
    held = YieldFinding.objects.select_for_update().undecided().about(build)
    undecided = list(held.values_list("pk", flat=True))
    if not undecided:
        raise CannotLearnError(NOBODY)
    percent = proposal(build)
    before = _set(build, percent, by=by, at=at) if accept else None
    rows = YieldFinding.objects.filter(pk__in=undecided)
    rows.update(decided_at=at, decided_by=by, accepted=accept)
    what = "taken over" if accept else "left"
    return record(
        by,
        verb=VERB,
        text=f"Yield of {_name(build)}, {percent} %, {what}.",
        by=by,
        at=at,
        detail={
            "build": str(build or CLOTH),
            "findings": [str(pk) for pk in undecided],
            "was": "" if before is None else str(before),
            "now": str(percent) if accept else "",
        },
    )


def proposal(build: uuid.UUID | None) -> Decimal:
    """Return what the last plans propose for a build, in percent. One query."""
    rows = YieldFinding.objects.about(build).order_by("-at")[:LAST]
    return proposed(Found(row.parts_m2, row.stock_m2) for row in rows)


def _name(build: uuid.UUID | None) -> str:
    if build is None:
        return CLOTH
    row = YieldFinding.objects.about(build).order_by("-at").first()
    return row.build_name if row else str(build)


def _set(
    build: uuid.UUID | None, percent: Decimal, *, by: Person, at: dt.datetime
) -> Decimal | None:
    """Store a yield where prices take it from; return what stood there."""
    if build is None:
        rules = _rules()
        was: Decimal | None = rules.fabric_yield_percent
        change_fabric_yield(rules, percent, by=by, at=at)
    else:
        spec = _spec(build)
        was = spec.wood_yield_percent
        change_yield(spec, percent, by=by, at=at)
    return was


def _rules() -> PriceRules:
    rules = PriceRules.objects.select_for_update().first()
    if rules is None:
        raise CannotLearnError("There are no price rules yet: store them first.")
    return rules


def _spec(build: uuid.UUID | str) -> BuildSpec:
    spec: BuildSpec | None = (
        BuildSpec.objects.select_for_update().filter(pk=build).first()
    )
    if spec is None:
        raise CannotLearnError("That build is no longer kept.")
    return spec


@transaction.atomic
def undo_decision(entry: Entry, *, by: Person, at: dt.datetime) -> None:
    """Take a decision back: the yield that stood before, the findings open again.

    Raises `CannotLearnError` where the yield was changed since.
    """
    detail: Mapping[str, Any] = entry.detail if entry.verb == VERB else {}
    findings = YieldFinding.objects.select_for_update().filter(
        pk__in=detail.get("findings", ()), decided_at__isnull=False
    )
    if not findings:
        raise CannotLearnError(NOBODY)
    if detail["now"]:
        _put_back(detail, by=by, at=at)
    findings.update(decided_at=None, decided_by=None, accepted=False)
    record(by, verb="yield-undone", text="A yield was put back.", by=by, at=at)


def _put_back(detail: Mapping[str, Any], *, by: Person, at: dt.datetime) -> None:
    now, was = Decimal(detail["now"]), detail["was"]
    if detail["build"] == CLOTH:
        rules = _rules()
        if rules.fabric_yield_percent != now:
            raise CannotLearnError(NOBODY)
        change_fabric_yield(rules, Decimal(was), by=by, at=at)
        return
    spec = _spec(detail["build"])
    if spec.wood_yield_percent != now:
        raise CannotLearnError(NOBODY)
    change_yield(spec, Decimal(was) if was else None, by=by, at=at)
