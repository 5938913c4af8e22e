"""Parts that upper apps add to a material's page, and what they know of its stock."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.http import HttpRequest

from shared.slots import Section, Slot
from shop.catalogue.models import Material

MATERIAL_SECTIONS: Slot[Callable[[HttpRequest, Material], Section | None]] = Slot(
    "material page"
)
"""Functions that give a section of a material's page, or nothing for this person."""


@dataclass(frozen=True, slots=True)
class Line:
    """One order or job that a number is made of; its text holds no money."""

    text: str
    quantity: Decimal
    url: str = ""


@dataclass(frozen=True, slots=True)
class Promised:
    """What is on its way of a material, and what jobs will take, in its own count."""

    on_order: Decimal = Decimal(0)
    promised: Decimal = Decimal(0)
    order_lines: tuple[Line, ...] = ()
    job_lines: tuple[Line, ...] = ()

    def __add__(self, other: Promised) -> Promised:
        """Add what two features know."""
        return Promised(
            self.on_order + other.on_order,
            self.promised + other.promised,
            self.order_lines + other.order_lines,
            self.job_lines + other.job_lines,
        )


PROMISES: Slot[Callable[[Sequence[uuid.UUID]], Mapping[uuid.UUID, Promised]]] = Slot(
    "promised stock"
)
"""Functions that say what is on order and promised of many materials at once.

A material without either may be left out. What several functions say is added up.
"""
