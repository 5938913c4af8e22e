"""Forms of what lies in the stores: count it, book in, take out, along the shelf."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.http import QueryDict

from shared.forms import (
    MoneyFormField,
    PlainCharField,
    PlainDecimalField,
    PlainForm,
)
from shop.catalogue.actions.stock import Counted
from shop.catalogue.models import Material, MaterialKind, StockReason
from shop.catalogue.reports.shelf import ShelfRow
from shop.catalogue.reports.stock import counted_whole, quantity_text, unit_words

MOST = 1_000_000
_SEEN = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,3})?")
NONE = Decimal(0)
IN = ((StockReason.DELIVERED, "delivered"), (StockReason.BACK, "put back"))
WHY = "Say why it differs: it should be {should}."
SOME_DIFFER = "Say why what you counted differs: one reason for all of it."
CHANGED = (
    "Somebody moved some meanwhile: it was {was}, and should be {now} now. Look again."
)


def quantity_field(
    material: Material, *, label: str, least: Decimal | None = None, **kwargs: Any
) -> PlainDecimalField:
    """Return a box for so much of a material: whole ones, or three decimals of a metre."""
    whole = counted_whole(material)
    smallest = Decimal(1) if whole else Decimal("0.001")
    return PlainDecimalField(
        label=label,
        min_value=smallest if least is None else least,
        max_value=MOST,
        decimals=0 if whole else 3,
        example="3" if whole else "12.5",
        **kwargs,
    )


def lot_field(lots: Iterable[str]) -> PlainCharField:
    """Return a box for a dye lot, which offers those that are known."""
    field = PlainCharField(
        label="Dye lot",
        max_length=40,
        required=False,
        help_text="As on the roll’s label. Empty where nobody knows.",
    )
    field.widget.attrs["autocomplete"] = "off"
    if any(lots):
        field.widget.attrs["list"] = "lots"
    return field


class MoveForm(PlainForm):
    """So much of one material, and of which dye lot."""

    quantity_label = "How many {units}"
    least: Decimal | None = None

    def __init__(
        self,
        data: QueryDict | None,
        *,
        material: Material,
        levels: Mapping[str, Decimal],
        **kwargs: Any,
    ) -> None:
        """Ask in the material's own count; for a dye lot where there are any."""
        super().__init__(data, **kwargs)
        self.levels = levels
        self.material = material
        label = self.quantity_label.format(units=_asked(material))
        asked: dict[str, forms.Field] = {
            "quantity": quantity_field(material, label=label, least=self.least)
        }
        if material.kind == MaterialKind.FABRIC:
            asked["lot"] = lot_field(levels)
        self.fields = asked | self.fields

    @property
    def is_whole(self) -> bool:
        """Whether only whole ones are counted."""
        return counted_whole(self.material)

    @property
    def lots(self) -> list[str]:
        """Dye lots that are known."""
        return [lot for lot in self.levels if lot]

    @property
    def lot(self) -> str:
        """The dye lot that was typed, as it is kept."""
        return " ".join(str(self.cleaned_data.get("lot", "")).split())

    @property
    def shown_lot(self) -> str:
        """The dye lot that the page is about."""
        return self.lot if self.is_bound else str(self.initial.get("lot", ""))

    @property
    def seen(self) -> str:
        """What its level is as the page is shown, to be sent back with the count."""
        return f"{self.now:f}"

    @property
    def now(self) -> Decimal:
        """The level of the dye lot that the page is about."""
        return self.levels.get(self.shown_lot, NONE)

    @property
    def should(self) -> str:
        """How much there should be, in words."""
        return quantity_text(self.material, self.now)

    @property
    def stands(self) -> str:
        """How much there should be of the dye lot asked for, or of each that is known."""
        lot = self.shown_lot
        if lot or len(self.levels) < 2:
            of = f"Of dye lot {lot} there" if lot else "There"
            return f"{of} should be {self.should}."
        amounts = (
            f"{quantity_text(self.material, left)} of {lot or 'no known lot'}"
            for lot, left in self.levels.items()
        )
        return f"There should be {', '.join(amounts)}."


def _asked(material: Material) -> str:
    words = {"m": "metres", "ml": "millilitres", "g": "grams"}
    return words.get(unit_words(material), unit_words(material))


class TakeForm(MoveForm):
    """What is taken out."""

    note = PlainCharField(
        label="What for", max_length=200, required=False, help_text="A job, a repair."
    )


class BookForm(MoveForm):
    """What comes in, and for whom may see it, what one cost."""

    why = forms.ChoiceField(
        label="Why", choices=IN, initial=StockReason.DELIVERED, widget=forms.RadioSelect
    )
    unit_cost = MoneyFormField(
        label="What one cost",
        required=False,
        unit_price=True,
        max_value=Decimal(999_999_999),
        help_text="Without tax, if you want it kept. The price in the catalogue stays.",
    )
    note = PlainCharField(
        label="Note",
        max_length=200,
        required=False,
        help_text="The delivery note’s number, or where it comes from.",
    )


class CountForm(MoveForm):
    """What somebody counted, and why it differs."""

    quantity_label = "How many {units} are there"
    least = NONE
    note = PlainCharField(
        label="Why it differs",
        max_length=200,
        required=False,
        help_text="Only where it does: broken, miscounted, taken and not booked.",
    )

    def clean(self) -> dict[str, Any]:
        """Want a reason for a difference, and a count of what is there now."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        counted = cleaned.get("quantity")
        if counted is None or "lot" in self.errors:
            return cleaned
        now = self.levels.get(self.lot, NONE)
        seen = _number(self.data.get("seen", ""))
        same_lot = self.lot == self.data.get("seen_lot", "")
        if seen is not None and same_lot and seen != now:
            self.add_error("quantity", _changed(self.material, seen, now))
        elif counted != now and not cleaned.get("note") and "note" not in self.errors:
            should = quantity_text(self.material, now)
            self.add_error("note", WHY.format(should=should))
        return cleaned


def _changed(material: Material, was: Decimal, now: Decimal) -> str:
    return CHANGED.format(
        was=quantity_text(material, was), now=quantity_text(material, now)
    )


def _number(text: object) -> Decimal | None:
    """Read a number that a page of ours wrote; nothing for anything else."""
    return Decimal(str(text)) if _SEEN.fullmatch(str(text)) else None


class StocktakeForm(PlainForm):
    """One box for each thing on a shelf, and one reason for all that differs."""

    note = PlainCharField(
        label="Why it differs",
        max_length=200,
        required=False,
        help_text="One reason for all of it, such as a monthly count.",
    )

    def __init__(self, data: QueryDict | None, *, rows: Sequence[ShelfRow]) -> None:
        """Ask for each row; what is left empty was not counted."""
        super().__init__(data)
        self.rows = rows
        for row in rows:
            self.fields[row.name] = quantity_field(
                row.material, label=row.label, least=NONE, required=False
            )

    def clean(self) -> dict[str, Any]:
        """Want counts of what is there now, and a reason where any differs."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for row in self.rows:
            seen = _number(self.data.get(f"seen-{row.name}", ""))
            counted = cleaned.get(row.name)
            if counted is not None and seen is not None and seen != row.quantity:
                self.add_error(row.name, _changed(row.material, seen, row.quantity))
        differs = any(c.quantity != c.seen for c in self.counts())
        if differs and not cleaned.get("note") and "note" not in self.errors:
            self.add_error("note", SOME_DIFFER)
        return cleaned

    def counts(self) -> list[Counted]:
        """Return what was counted, each with what it should have been."""
        return [
            Counted(row.material, counted, lot=row.lot, seen=row.quantity)
            for row in self.rows
            if (counted := self.cleaned_data.get(row.name)) is not None
        ]

    def boxes(self) -> list[tuple[ShelfRow, forms.BoundField]]:
        """Return each row with its box."""
        return [(row, self[row.name]) for row in self.rows]
