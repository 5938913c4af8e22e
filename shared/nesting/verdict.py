"""What a search came to, in the caller's prices."""

from __future__ import annotations

from shared.nesting.result import Verdict
from shared.nesting.search import State


def verdict_on(state: State, bound_class: str, *, scale: int = 1) -> Verdict:
    """Return the verdict; ``scale`` is how many plates' prices make one of a sheet."""
    price = state.price or 0
    return Verdict(
        price=price // scale,
        lower_bound=min(price, state.bound) // scale,
        bound_class=bound_class,
        first_fit=None if state.first_fit is None else state.first_fit // scale,
        stopped=state.meter.is_over() and not state.is_proven,
        work=state.meter.work,
    )
