"""Store how the shop makes its prices."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from django.db import transaction

from quotes.pricing.models import PriceRules, TaxRate
from shared.audit.actions import record
from shop.people.models import Person

Rates = Mapping[str, Decimal | None]
"""The tax on each kind of line; None where it bears none."""


@transaction.atomic
def store_rules(
    rules: PriceRules, rates: Rates, *, by: Person, at: dt.datetime
) -> PriceRules:
    """Store the rules and the taxes; what changed is on record, with what it was."""
    before = _facts()
    rules.full_clean()
    rules.save()
    for kind, percent in rates.items():
        _store_rate(kind, percent)
    changed = dict(_changes(before, _facts()))
    if changed:
        text = "Price rules changed"
        record(by, verb="price-rules", text=text, by=by, at=at, detail=changed)
    return rules


@transaction.atomic
def change_fabric_yield(
    rules: PriceRules, percent: Decimal, *, by: Person, at: dt.datetime
) -> None:
    """Set how much of the roll ends up on panels, on average."""
    before = _facts()
    rules.fabric_yield_percent = percent
    rules.full_clean()
    rules.save(update_fields=["fabric_yield_percent"])
    changed = dict(_changes(before, _facts()))
    record(
        by,
        verb="price-rules",
        text="Price rules changed",
        by=by,
        at=at,
        detail=changed,
    )


def _store_rate(kind: str, percent: Decimal | None) -> None:
    if percent is None:
        TaxRate.objects.of_kind(kind).delete()
        return
    rate = TaxRate.objects.of_kind(kind).first() or TaxRate(line_kind=kind)
    rate.percent = percent
    rate.full_clean()
    rate.save()


def _facts() -> dict[str, str]:
    """Return everything that is stored, as text, by name."""
    rules = PriceRules.objects.first() or PriceRules()
    names = [f.attname for f in PriceRules._meta.concrete_fields if not f.primary_key]
    facts = {name: str(getattr(rules, name)) for name in names}
    taxes = {
        f"tax_{rate.line_kind}": str(rate.percent) for rate in TaxRate.objects.all()
    }
    return facts | taxes


def _changes(
    before: dict[str, str], after: dict[str, str]
) -> Iterator[tuple[str, Any]]:
    for name in sorted(before.keys() | after.keys()):
        was, now = before.get(name, ""), after.get(name, "")
        if was != now:
            yield name, [was, now]
