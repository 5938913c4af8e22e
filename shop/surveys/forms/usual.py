"""The form for what a shop takes as usual: clear margins and sizes by kind."""

from __future__ import annotations

from typing import Any

from django.forms import BoundField

from shared.forms import LengthFormField, PlainForm
from shop.people.models import ShopProfile
from shop.surveys.engine import Usual
from shop.surveys.forms.surveys import LONGEST_TICKS, THICKEST_TICKS
from shop.surveys.models import ZoneKind

SIDES = ("margin", "width", "height")


class UsualForm(PlainForm):
    """Three lengths for each kind, and what is left round a panel in an opening.

    What is left empty is what comes with the program.
    """

    clearance = LengthFormField(
        label="Left free round a panel in an opening, on each side",
        min_ticks=0,
        max_ticks=THICKEST_TICKS,
        help_text="Comes with 3 mm: common practice, no source.",
    )

    def __init__(
        self, *args: Any, usual: dict[str, Usual], shop: ShopProfile, **kwargs: Any
    ) -> None:
        """Show what is usual now."""
        super().__init__(*args, **kwargs)
        self.usual = usual
        self.initial["clearance"] = shop.panel_clearance_ticks
        for kind in ZoneKind:
            now = usual[kind.value]
            for side in SIDES:
                name = f"{kind.value}_{side}"
                self.fields[name] = LengthFormField(
                    label=f"{kind.label.capitalize()}, {side}",
                    min_ticks=0 if side == "margin" else 1,
                    max_ticks=LONGEST_TICKS,
                    required=False,
                )
                self.initial[name] = getattr(now, f"{side}_ticks")

    @property
    def rows(self) -> list[tuple[str, str, list[BoundField]]]:
        """Each kind with where its margin comes from, and its three fields."""
        return [
            (
                kind.label.capitalize(),
                self.usual[kind.value].source,
                [self[f"{kind.value}_{side}"] for side in SIDES],
            )
            for kind in ZoneKind
        ]

    def chosen(self) -> dict[str, tuple[int | None, int | None, int | None]]:
        """Return margin, width and height of each kind as typed. Call it when valid."""
        return {
            kind.value: (
                self.cleaned_data[f"{kind.value}_margin"],
                self.cleaned_data[f"{kind.value}_width"],
                self.cleaned_data[f"{kind.value}_height"],
            )
            for kind in ZoneKind
        }
