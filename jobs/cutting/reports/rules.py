"""What the shop's saw takes."""

from __future__ import annotations

from jobs.cutting.models import SawRules


def saw_rules() -> SawRules:
    """Return the saw's rules, or what they are before anybody stored them. One query."""
    return SawRules.objects.first() or SawRules(pk=1)
