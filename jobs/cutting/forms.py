"""What is typed about the saw, a plan that is asked for, and what lies on the bench."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.cutting.actions import Ask, PlanSettings, Real, Spoiled
from jobs.cutting.adapter import request_of
from jobs.cutting.models import CutKind, CutPlan, Halving, SawRules
from jobs.cutting.reports import Choice, KeptLine, notation, part_lines
from shared.conventions import current
from shared.forms import (
    CountField,
    LengthFormField,
    PlainCharField,
    PlainForm,
    PlainModelForm,
    TypedLength,
    typed,
)
from shared.length import TICKS_PER_INCH, TICKS_PER_M, TICKS_PER_MM

STALE = "Something here is no longer there: load the page again."
MOST_KERF_TICKS = 25 * TICKS_PER_MM
MOST_TRIM_TICKS = 200 * TICKS_PER_MM
MOST_SIZE_TICKS = 20 * TICKS_PER_M


def _example(metric: str, inches: str) -> str:
    return metric if current().is_metric else inches


def _saw_fields() -> dict[str, forms.Field]:
    """Return the lengths of the saw, which its rules and each plan have alike."""
    return {
        "kerf_ticks": LengthFormField(
            label="The saw takes",
            min_ticks=0,
            max_ticks=MOST_KERF_TICKS,
            help_text=f"Measured at a test cut, such as {_example('3.2', '1/8')}.",
        ),
        "trim_ticks": LengthFormField(
            label="Trimmed off each edge first",
            min_ticks=0,
            max_ticks=MOST_TRIM_TICKS,
            help_text="With that cut; 0 where factory edges are good.",
        ),
        "keep_length_ticks": LengthFormField(
            label="Offcuts are kept from this length", max_ticks=MOST_SIZE_TICKS
        ),
        "keep_width_ticks": LengthFormField(
            label="and this width", max_ticks=MOST_SIZE_TICKS
        ),
    }


def _cloth_fields() -> dict[str, forms.Field]:
    """Return what is asked of cloth, which the saw's rules and each plan have alike."""
    return {
        "flaw_percent": forms.DecimalField(
            label="Fabric to spare for flaws, in percent",
            min_value=0,
            max_value=100,
            max_digits=5,
            decimal_places=2,
        ),
        "repair_ticks": LengthFormField(
            label="Remnant for repairs, square of",
            min_ticks=0,
            max_ticks=MOST_SIZE_TICKS,
            help_text="Kept of each fabric, with the job's name on it; 0 for none.",
        ),
    }


class RulesForm(PlainModelForm):
    """The saw's rules: what every new plan begins with."""

    class Meta:
        model = SawRules
        fields = (
            "kerf_ticks",
            "trim_ticks",
            "halving",
            "may_trim_strips",
            "keep_length_ticks",
            "keep_width_ticks",
            "flaw_percent",
            "repair_ticks",
        )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Take nothing for a cut, a trim or a remnant, too."""
        super().__init__(*args, **kwargs)
        self.fields |= _saw_fields()
        self.fields["repair_ticks"] = _cloth_fields()["repair_ticks"]
        self.order_fields(self.Meta.fields)


class AskForm(PlainForm):
    """Which materials are planned, and how."""

    material = forms.MultipleChoiceField(
        error_messages={
            "required": "Choose what is to be cut.",
            "invalid_choice": STALE,
        },
    )
    alternative = forms.MultipleChoiceField(
        required=False, error_messages={"invalid_choice": STALE}
    )
    halving = forms.ChoiceField(
        label="Halve sheets first",
        choices=Halving.choices,
        error_messages={"invalid_choice": "Choose not at all, lengthwise or across."},
    )
    may_trim_strips = forms.BooleanField(
        label="A third rip where it saves a sheet", required=False
    )
    use_offcuts = forms.BooleanField(label="Kept offcuts first", required=False)
    may_turn = forms.BooleanField(
        label="The grain may run either way",
        required=False,
        help_text="Only where it does not matter, as in fibreboard or plain cloth.",
    )

    def __init__(self, *args: Any, choices: Sequence[Choice], **kwargs: Any) -> None:
        """Offer the materials that some panel is ready for."""
        super().__init__(*args, **kwargs)
        self.choices = tuple(choice for choice in choices if choice.ready)
        others = {m.pk: m.name for c in self.choices for m in c.alternatives}
        self.fields["material"].choices = [  # type: ignore[attr-defined]
            (str(c.material.pk), c.material.name) for c in self.choices
        ]
        self.fields["alternative"].choices = [  # type: ignore[attr-defined]
            (str(pk), name) for pk, name in others.items()
        ]
        self.has_wood = any(c.is_wood for c in self.choices)
        self.has_cloth = any(c.is_cloth for c in self.choices)
        self.fields |= _saw_fields()
        if self.has_cloth:
            self.fields |= _cloth_fields()
        if not self.has_wood:
            for name in ("kerf_ticks", "trim_ticks", "halving", "may_trim_strips"):
                del self.fields[name]

    def asks(self) -> tuple[Ask, ...]:
        """Return a plan to ask for of each material that was chosen."""
        found = self.cleaned_data
        others = {"material", "alternative"}
        settings = PlanSettings(
            **{"kerf_ticks": 0}
            | {name: found[name] for name in self.fields if name not in others},
            alternatives=tuple(uuid.UUID(pk) for pk in found["alternative"]),
        )
        return tuple(
            Ask(tuple(p.pk for p in panels), choice.material, settings)
            for choice in self.choices
            if str(choice.material.pk) in found["material"]
            for panels in choice.apart
        )


class CheckForm(PlainForm):
    """What is cut, as tape and calliper say."""

    thickness = LengthFormField(
        label="Thickness, by calliper", max_ticks=4 * TICKS_PER_INCH
    )
    length = LengthFormField(label="Length, by tape", max_ticks=MOST_SIZE_TICKS)
    width = LengthFormField(label="Width, by tape", max_ticks=MOST_SIZE_TICKS)

    def __init__(self, *args: Any, plan: CutPlan, **kwargs: Any) -> None:
        """Ask for the width only of what is ripped."""
        super().__init__(*args, **kwargs)
        self.plan = plan
        if plan.kind == CutKind.BARS:
            del self.fields["width"]
        if plan.is_fill:
            del self.fields["thickness"]

    def real(self) -> Real:
        """Return what was measured; a bar's width, a slab's thickness are what the stores say."""
        sides = {name: typed(self, name) for name in self.fields}
        width = TypedLength(self.plan.material.width_ticks or 1, "")
        thickness = TypedLength(self.plan.material.thickness_ticks or 1, "")
        found = {name: side for name, side in sides.items() if side is not None}
        return Real(**{"width": width, "thickness": thickness} | found)


class RollCheckForm(PlainForm):
    """What is cut off a roll, as the tape and its label say."""

    width = LengthFormField(
        label="Width of the roll, by tape",
        max_ticks=MOST_SIZE_TICKS,
        help_text="From edge to edge, selvedges included.",
    )
    lot = PlainCharField(label="Dye lot on its label", required=False, max_length=40)

    def __init__(self, *args: Any, plan: CutPlan, **kwargs: Any) -> None:
        """Ask of a plan's roll."""
        super().__init__(*args, **kwargs)
        self.plan = plan

    def clean_width(self) -> int:
        """Refuse a width that the selvedges take all of."""
        width: int = self.cleaned_data["width"]
        if width <= 2 * (self.plan.material.selvedge_ticks or 0):
            raise ValidationError("The selvedges leave nothing of that.")
        return width

    def real_width(self) -> TypedLength:
        """Return what was measured."""
        found = typed(self, "width")
        return found or TypedLength(self.cleaned_data["width"], "")


class FinishForm(PlainForm):
    """Which offcuts of a plan are kept."""

    keep = forms.MultipleChoiceField(
        label="Offcuts that are kept",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": STALE},
    )

    def __init__(self, *args: Any, kept: Sequence[KeptLine], **kwargs: Any) -> None:
        """Offer what is worth keeping."""
        super().__init__(*args, **kwargs)
        self.fields["keep"].choices = [  # type: ignore[attr-defined]
            (line.key, line.words) for line in kept
        ]


class TickForm(PlainForm):
    """One row of a plan, done or not."""

    key = forms.ChoiceField(
        error_messages={
            "required": "Tap a row.",
            "invalid_choice": "This row is no longer in the plan: it has changed.",
        }
    )
    on = forms.ChoiceField(
        choices=(("yes", "done"), ("no", "not done")),
        error_messages={
            "required": "Say whether it is done.",
            "invalid_choice": "Say whether it is done: yes or no.",
        },
    )

    def __init__(self, data: Any, *, keys: Iterable[str]) -> None:
        """Take the rows of the plan, and no others."""
        super().__init__(data)
        chosen: Any = self.fields["key"]
        chosen.choices = [(key, key) for key in keys]


class SpoiledForm(PlainForm):
    """What went wrong at the saw: how far it was, what is lost, what is no use any more."""

    begun = CountField()
    useless = forms.MultipleChoiceField(
        label="The rest of these can't be used",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": STALE},
    )
    note = PlainCharField(
        label="What happened",
        required=False,
        max_length=200,
        help_text="For whoever reads it later.",
    )

    def __init__(self, *args: Any, plan: CutPlan, **kwargs: Any) -> None:
        """Ask of each part how many are lost."""
        super().__init__(*args, **kwargs)
        self.parts = {
            f"lost-{line.letter}": line
            for line in part_lines(request_of(plan), notation())
        }
        many = plan.pieces_used or 0
        self.fields["begun"] = CountField(
            label=f"{plan.noun.capitalize()}s begun, of {many}",
            max_value=many,
            help_text="Counted from the first in the plan. The others stay whole.",
        )
        self.fields["useless"].choices = [  # type: ignore[attr-defined]
            (str(number), f"{plan.noun} {number}") for number in range(1, many + 1)
        ]
        self.fields |= {
            name: CountField(
                label=f"{line.letter} {line.label}, {line.size}",
                required=False,
                max_value=line.count,
                help_text=f"Of {line.count}.",
            )
            for name, line in self.parts.items()
        }
        self.order_fields(("begun", *self.parts, "useless", "note"))

    @property
    def lost_fields(self) -> list[forms.BoundField]:
        """The boxes of the parts."""
        return [self[name] for name in self.parts]

    def spoiled(self) -> Spoiled:
        """Return what was said."""
        found = self.cleaned_data
        lost = {line.key: found[name] or 0 for name, line in self.parts.items()}
        return Spoiled(
            begun=found["begun"],
            lost={key: count for key, count in lost.items() if count},
            useless=frozenset(map(int, found["useless"])),
            note=found["note"],
        )


class YieldForm(PlainForm):
    """A yield that is taken over into prices, or left as it is."""

    build = forms.ChoiceField(
        error_messages={"required": STALE, "invalid_choice": STALE}
    )
    what = forms.ChoiceField(
        choices=(("take", "take it over"), ("leave", "leave it")),
        error_messages={
            "required": "Take it over, or leave it.",
            "invalid_choice": "Take it over, or leave it.",
        },
    )

    def __init__(self, data: Any, *, keys: Iterable[str]) -> None:
        """Take what some plan says something of."""
        super().__init__(data)
        self.fields["build"].choices = [  # type: ignore[attr-defined]
            (key, key) for key in keys
        ]

    def build_id(self) -> uuid.UUID | None:
        """Return the build, or nothing for cloth."""
        key = self.cleaned_data["build"]
        return None if key == "cloth" else uuid.UUID(key)
