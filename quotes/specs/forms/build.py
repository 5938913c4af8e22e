"""Everything of a build but its rows, in the parts that apply."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.forms.boundfield import BoundField

from quotes.specs.forms.fields import Options, field_of_column, offer_materials
from quotes.specs.models import BuildSpec, Hanging
from shared.forms import PlainModelForm

FRAME = (
    "depth_ticks",
    "frame_stock",
    "joint",
    "through",
    "glued",
    "fastening",
    "kerf_ticks",
    "stile_bevel_deg",
    "wood_yield_percent",
    "one_person_kg",
)
FILL = ("fill", "fill_layers", "fill_setback_front_ticks", "fill_oversize_ticks")
CLOTH = (
    "front_fabric",
    "front_lining",
    "wrap_ticks",
    "finished_growth_ticks",
    "back_fabric",
    "back_style",
    "turn_ticks",
    "allow_seam",
    "seam_ticks",
)
HELD = {
    Hanging.CLEAT: (
        "cleat_wall_share",
        "cleat_wall_fixed_ticks",
        "cleat_wall_min_ticks",
        "cleat_step_ticks",
        "cleat_two_over_ticks",
        "cleat_two_travel_ticks",
        "cleat_margin_ticks",
        "cleat_finger_ticks",
        "cleat_holes",
        "cleat_hole_inset_ticks",
        "cleat_hole_spacing_ticks",
    ),
    Hanging.CHAIN: (
        "points_across",
        "points_down",
        "points_inset_ticks",
        "points_max_spacing_ticks",
    ),
    Hanging.EDGE: ("edge_clearance_ticks", "edge_strip", "edge_compressed_ticks"),
    Hanging.BATTENS: (
        "battens_strip_ticks",
        "battens_stock",
        "battens_count",
        "battens_end_gap_ticks",
        "battens_holes",
    ),
    Hanging.FEET: (
        "feet_length_ticks",
        "feet_strip_ticks",
        "feet_stock",
        "feet_count",
        "feet_inset_ticks",
    ),
}
BLOCKS = (
    "blocking_length_ticks",
    "blocking_width_ticks",
    "blocking_layers",
    "blocking_stock",
)


FIELD_OF_CONSTRAINT = {"name_once": "name", "back_has_fabric": "back_style"}
"""Where a constraint's sentence is shown, by its code."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the form: its heading and fields; a closed one does not apply now."""

    legend: str
    fields: list[BoundField]
    is_open: bool = True


class BuildForm(PlainModelForm):
    """Everything of a build but its rows."""

    class Meta:
        model = BuildSpec
        fields = (
            "name",
            "kind",
            "hanging",
            "notes",
            *FRAME,
            *FILL,
            *CLOTH,
            *(name for names in HELD.values() for name in names),
            *BLOCKS,
        )
        formfield_callback = field_of_column

    def __init__(self, *args: Any, options: Options, **kwargs: Any) -> None:
        """Fill the pickers."""
        super().__init__(*args, **kwargs)
        offer_materials(self, options)

    def _get_validation_exclusions(self) -> set[str]:
        """Check the name among builds in use, which needs to know that this one is."""
        left_out: set[str] = super()._get_validation_exclusions()  # type: ignore[misc]
        return left_out - {"archived_at"}

    def _update_errors(self, errors: ValidationError) -> None:
        """Put the sentence of a constraint beside a field, where there is one."""
        for error in errors.error_dict.pop(NON_FIELD_ERRORS, []):
            self.add_error(FIELD_OF_CONSTRAINT.get(error.code or ""), error)
        if errors.error_dict:
            super()._update_errors(errors)  # type: ignore[misc]

    @property
    def open_parts(self) -> list[Part]:
        """The parts that apply now."""
        return [part for part in self._parts() if part.is_open]

    @property
    def closed_parts(self) -> list[Part]:
        """The parts for other ways of holding it."""
        return [part for part in self._parts() if not part.is_open]

    def _parts(self) -> Iterator[Part]:
        yield Part("The build", self._bound("name", "kind", "hanging", "notes"))
        yield Part("Frame", self._bound(*FRAME))
        yield Part("Fill", self._bound(*FILL))
        yield Part("Cloth", self._bound(*CLOTH))
        now = self["hanging"].value()
        for hanging, names in HELD.items():
            legend = f"Held by {hanging.label}"
            yield Part(
                legend, self._bound(*names), self._shows(names, applies=hanging == now)
            )
        shown = self._shows(BLOCKS, applies=now == Hanging.CHAIN)
        yield Part("Blocks under hanging points", self._bound(*BLOCKS), shown)

    def _bound(self, *names: str) -> list[BoundField]:
        return [self[name] for name in names]

    def _shows(self, names: tuple[str, ...], *, applies: bool) -> bool:
        return applies or any(self[name].errors for name in names)
