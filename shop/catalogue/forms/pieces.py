"""Forms of single pieces: keep one, find one."""

from __future__ import annotations

import re
from typing import Any

from django.core.exceptions import ValidationError

from shared.conventions import current
from shared.forms import LengthFormField, PlainCharField, PlainForm, typed
from shared.length import TICKS_PER_M, show_size
from shop.catalogue.forms.stock import lot_field
from shop.catalogue.models import Material, MaterialKind

LONGEST = 100 * TICKS_PER_M
OVER = 1.01  # a sheet may be a little larger than its name
LARGER = "That is more than a whole one: {size}. Measure again."
_CODE = re.compile(r"[Kk]?\s*(\d{1,9})")


class PieceForm(PlainForm):
    """A piece to keep, as long and wide as it can be used."""

    length = LengthFormField(
        label="Length", max_ticks=LONGEST, help_text="Along the grain, or off the roll."
    )
    width = LengthFormField(label="Width", max_ticks=LONGEST)
    note = PlainCharField(
        label="Where it stands, or what is wrong", max_length=200, required=False
    )

    def __init__(self, data: Any, *, material: Material, lots: list[str]) -> None:
        """Ask for a dye lot where there are any; a board's width is known."""
        super().__init__(data)
        self.material, self.lots = material, lots
        if material.kind == MaterialKind.FABRIC:
            note = self.fields.pop("note")
            self.fields |= {"lot": lot_field(lots), "note": note}
        if material.kind == MaterialKind.BOARD:
            self.fields["width"].initial = material.width_ticks

    def clean(self) -> dict[str, Any]:
        """Refuse what no whole one holds, either way round."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        length, width = cleaned.get("length"), cleaned.get("width")
        whole = (self.material.length_ticks, self.material.width_ticks)
        if length and width and not _fits((length, width), whole):
            self.add_error(
                "width" if not whole[0] else "length", LARGER.format(size=_size(*whole))
            )
        return cleaned

    def sizes(self) -> dict[str, Any]:
        """Return the lengths with the texts that were typed for them."""
        return {"length": typed(self, "length"), "width": typed(self, "width")}


def _fits(sides: tuple[int, int], whole: tuple[int | None, int | None]) -> bool:
    """Whether a piece lies within a whole one; a roll has no end."""
    long, wide = ((side or LONGEST) * OVER for side in whole)
    return any(a <= long and b <= wide for a, b in (sides, sides[::-1]))


def _size(length: int | None, width: int | None) -> str:
    conventions = current()
    sides = [side for side in (length, width) if side]
    size = show_size(
        *sides, units=conventions.unit_system, fraction=conventions.fraction
    )
    return size if length else f"{size} wide"


class PieceSearch(PlainForm):
    """A piece by the number on it, or pieces of a size at least."""

    q = PlainCharField(label="Number on it", max_length=20, required=False)
    length = LengthFormField(label="Length, at least", required=False)
    width = LengthFormField(label="Width, at least", required=False)

    def clean_q(self) -> int | None:
        """Read the number with or without its letter."""
        text = str(self.cleaned_data["q"] or "").strip()
        found = _CODE.fullmatch(text)
        if text and not found:
            raise ValidationError("A piece’s number looks like K12.", code="number")
        return int(found[1]) if found else None
