"""What later features do when a plan is made, and when it is cut."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from jobs.cutting.models import CutPlan
from shared.slots import Slot
from shop.catalogue.models import Material, StockMove
from shop.people.models import Person


@dataclass(frozen=True, slots=True)
class StockUse:
    """So much of a material left the stores for a plan, by this move."""

    material: Material
    quantity: Decimal
    move: StockMove


ON_PLANNED: Slot[Callable[[CutPlan], None]] = Slot("cut plan made")
"""Called inside the transaction that stores what the solver found, puts the plan aside, or
takes it back: whatever changes if the plan counts."""

ON_CUT: Slot[Callable[[CutPlan, tuple[StockUse, ...], Person, dt.datetime], None]] = (
    Slot("cut plan all cut")
)
"""Called inside the transaction that finishes a plan, with what it took of the stores."""

ON_CUT_UNDONE: Slot[Callable[[CutPlan, Person, dt.datetime], None]] = Slot(
    "finishing of a cut plan taken back"
)
"""Called inside the transaction that takes the finishing of a plan back."""
