"""Store what the shop takes as usual for what must stay clear."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from django.db import transaction

from shared.audit.actions import record
from shop.people.models import Person, ShopProfile
from shop.surveys.engine import USUAL
from shop.surveys.models import ZoneRule

Sides = tuple[int | None, int | None, int | None]
"""Margin, width, height."""


@transaction.atomic
def keep_usual(
    chosen: Mapping[str, Sides],
    *,
    shop: ShopProfile,
    clearance_ticks: int,
    by: Person,
    at: dt.datetime,
) -> None:
    """Store margins and sizes by kind, and what is left round a panel in an opening.

    What is empty, or as it comes with the program, keeps no row.
    """
    for kind, sides in chosen.items():
        _keep(kind, sides)
    shop.panel_clearance_ticks = clearance_ticks
    shop.full_clean()
    shop.save()
    record(by, verb="usual", text="Usual sizes of what stays clear", by=by, at=at)


def _keep(kind: str, sides: Sides) -> None:
    own = USUAL[kind]
    usual = (own.margin_ticks, own.width_ticks, own.height_ticks)
    margin, width, height = (
        typed if typed is not None else known
        for typed, known in zip(sides, usual, strict=True)
    )
    known = ZoneRule.objects.filter(pk=kind)
    if (margin, width, height) == usual:
        known.delete()
        return
    rule = known.first() or ZoneRule(kind=kind)
    rule.margin_ticks, rule.width_ticks, rule.height_ticks = margin, width, height
    rule.full_clean()
    rule.save()
