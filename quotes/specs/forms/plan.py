"""Forms of a room's planned panels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Self

from quotes.specs.actions import MOST_PANELS, PanelChoice
from quotes.specs.engine.model import NominalSize, TakeoffError
from quotes.specs.forms.fields import Pick
from quotes.specs.models import BuildSpec, PanelKind, PlannedPanel
from quotes.specs.reports import (
    MeasuredOpening,
    PanelGroup,
    Preview,
    RoomSize,
    Worked,
    measured_openings,
    room_size,
    work_out,
)
from shared.forms import CountField, LengthFormField, PlainCharField, PlainForm, typed
from shop.catalogue.models import Material, MaterialKind
from shop.surveys.models import Room

FIELD_OF_PROBLEM = {
    "width_ticks": "width",
    "height_ticks": "height",
    "front_fabric": "fabric",
}
"""Where the takeoff's sentence is shown; any other belongs to the build."""


@dataclass(frozen=True, slots=True)
class PlanOptions:
    """What the plan's pickers offer."""

    specs: tuple[BuildSpec, ...]
    fabrics: tuple[Material, ...]
    openings: tuple[MeasuredOpening, ...]
    room_size: RoomSize

    @classmethod
    def for_room(cls, room: Room, panel: PlannedPanel | None = None) -> Self:
        """Read builds, fabrics and measured openings. Seven queries at most.

        What a panel has stays on offer, though it was put aside.
        """
        specs = BuildSpec.objects.live()
        fabrics = Material.objects.live().of_kind(MaterialKind.FABRIC)
        if panel is not None:
            specs |= BuildSpec.objects.filter(pk=panel.spec_id)
            if panel.fabric_id is not None:
                fabrics |= Material.objects.filter(pk=panel.fabric_id)
        survey = room.surveys.newest_first().with_parts().first()
        return cls(
            tuple(specs), tuple(fabrics), measured_openings(survey), room_size(survey)
        )


class GroupForm(PlainForm):
    """Build, size and fabric of panels that are alike, and how many."""

    spec = Pick(label="Build", empty="Choose a build")
    width = LengthFormField(label="Width", required=False)
    height = LengthFormField(label="Height", required=False)
    opening = Pick(
        label="Opening it fills",
        required=False,
        empty="None: the size is typed",
        help_text="For reveal panels: the size comes from the smallest readings.",
    )
    fabric = Pick(label="Front fabric", required=False, empty="The build’s own")
    quantity = CountField(
        label="How many", min_value=1, max_value=MOST_PANELS, initial=1, example="14"
    )
    note = PlainCharField(label="Note", max_length=120, required=False)

    def __init__(
        self, *args: Any, options: PlanOptions, to_store: bool = True, **kwargs: Any
    ) -> None:
        """Fill the pickers; `to_store` is no where the form is only looked at."""
        super().__init__(*args, **kwargs)
        self.options = options
        self.to_store = to_store
        self.worked: Worked | None = None
        openings = options.openings
        pickers: dict[str, Pick] = {
            n: f for n, f in self.fields.items() if isinstance(f, Pick)
        }
        pickers["spec"].offer(
            options.specs, [f"{s} ({s.get_kind_display()})" for s in options.specs]
        )
        pickers["fabric"].offer(options.fabrics)
        pickers["opening"].offer(
            [o.opening for o in openings], [o.label for o in openings]
        )
        if not openings:
            del self.fields["opening"]
            self.fields["width"].required = self.fields["height"].required = True

    @staticmethod
    def initial_of(group: PanelGroup) -> dict[str, Any]:
        """Show panels that are alike as the form would have them typed."""
        first = group.first
        sides = {"width": first.width_ticks, "height": first.height_ticks}
        return {
            "spec": first.spec_id,
            "opening": first.opening_id,
            "fabric": first.fabric_id,
            "quantity": group.count,
            "note": first.note,
            **({} if first.opening_id else sides),
        }

    def clean(self) -> dict[str, Any]:
        """Find the size, and let the takeoff say whether there can be such a panel."""
        cleaned = super().clean() or {}
        size = self._from_opening() if cleaned.get("opening") else self._as_typed()
        spec = cleaned.get("spec")
        if size and spec and not self.errors:
            self._work_out(spec, size)
        return cleaned

    def _from_opening(self) -> NominalSize | None:
        """Take the opening's smallest readings; refuse a second size beside them."""
        spec = self.cleaned_data.get("spec")
        if spec and spec.kind != PanelKind.REVEAL:
            self.add_error("opening", "Only a reveal panel fills an opening.")
        for name in ("width", "height"):
            if self.cleaned_data.get(name) is not None:
                self.add_error(name, "The opening gives the size: leave this empty.")
        if (self.cleaned_data.get("quantity") or 1) > 1:
            self.add_error("quantity", "One opening takes one panel.")
        found = self._measured()
        return found.size if found else None

    def _measured(self) -> MeasuredOpening | None:
        chosen = self.cleaned_data.get("opening")
        return next((o for o in self.options.openings if o.opening == chosen), None)

    def _as_typed(self) -> NominalSize | None:
        width, height = (self.cleaned_data.get(name) for name in ("width", "height"))
        for name, value in (("width", width), ("height", height)):
            if value is None and name not in self.errors:
                self.add_error(name, "Type a size, or choose an opening.")
        if width is None or height is None:
            return None
        try:
            return NominalSize(width, height)
        except TakeoffError as refused:
            self.add_error(FIELD_OF_PROBLEM[refused.field], refused.message)
            return None

    def _work_out(self, spec: BuildSpec, size: NominalSize) -> None:
        whole = BuildSpec.objects.with_parts().get(pk=spec.pk)
        self.worked = work_out(whole, size, fabric=self.cleaned_data.get("fabric"))
        for problem in self.worked.refused:
            self.add_error(self._field_of(problem.field), problem.message)

    def _field_of(self, field: str) -> str:
        """Name the field that can be put right here: not a size that was not typed."""
        name = FIELD_OF_PROBLEM.get(field, "spec")
        if name in {"width", "height"} and self.cleaned_data.get("opening"):
            return "opening"
        return name if name in self.fields else "spec"

    @property
    def too_big(self) -> dict[str, str]:
        """What is larger than the room, by field; told, never refused."""
        spec, size = self._in_hand()
        if spec is None or size is None or self.errors:
            return {}
        return self.options.room_size.too_big(size, hanging=spec.hanging)

    def _in_hand(self) -> tuple[BuildSpec | None, NominalSize | None]:
        """Return the build and size that were typed, or that the form opened with."""
        if self.worked is not None:
            typed_in = self["opening"].value() if "opening" in self.fields else None
            return self.worked.spec, None if typed_in else self.worked.size
        width, height = self.initial.get("width"), self.initial.get("height")
        if self.is_bound or not width or not height:
            return None, None
        specs = (s for s in self.options.specs if s.pk == self.initial.get("spec"))
        return next(specs, None), NominalSize(width, height)

    @property
    def preview(self) -> Preview | None:
        """What the typed size would make; nothing while it is refused or not whole."""
        worked = self.worked
        if worked is None or worked.takeoff is None or self.errors:
            return None
        return Preview(worked)

    @property
    def choice(self) -> PanelChoice:
        """What was chosen; only of a valid form."""
        cleaned, measured = self.cleaned_data, self._measured()
        worked = self.worked
        if worked is None:
            raise ValueError("the form was refused")
        width, height = typed(self, "width"), typed(self, "height")
        return PanelChoice(
            spec=worked.spec,
            size=worked.size,
            width_text=measured.width_text if measured else width.text if width else "",
            height_text=measured.height_text
            if measured
            else height.text
            if height
            else "",
            fabric=cleaned.get("fabric"),
            opening=cleaned.get("opening"),
            quantity=cleaned["quantity"],
            note=cleaned["note"],
        )
