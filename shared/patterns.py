"""The pattern page: every component of the look, with sample data."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from django import forms
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import URLPattern, path
from django.utils.safestring import SafeString
from django.views.decorators.http import require_GET

from shared.forms import LengthFormField, PlainCharField


class SampleForm(forms.Form):
    """One field of each kind."""

    name = forms.CharField(label="Client", max_length=80)
    phone = forms.CharField(
        required=False,
        help_text="With the country code if it isn't a number from here.",
    )
    width = LengthFormField(help_text="As the tape or the laser shows it.")
    height = LengthFormField(required=False)
    kind = forms.ChoiceField(
        choices=(("wall", "Wall panel on cleats"), ("hung", "Hung panel"))
    )
    tenure = forms.ChoiceField(
        label="Who owns the room?",
        widget=forms.RadioSelect,
        choices=(("owner", "The client"), ("tenant", "A landlord")),
    )
    notes = forms.CharField(required=False, widget=forms.Textarea)
    public = forms.BooleanField(
        label="The public comes in",
        required=False,
        help_text="Then the fire class of every layer must be on paper.",
    )
    papers = PlainCharField(
        label="Who asks for fire papers",
        max_length=120,
        required=False,
        help_text="Unfolds when the box above is ticked.",
    )


@dataclass(frozen=True, slots=True)
class SampleStep:
    """A figure and how it came."""

    label: str
    amount: str
    sums: str = ""
    note: str = ""
    steps: tuple[SampleStep, ...] = ()


@dataclass(frozen=True, slots=True)
class SampleStop:
    """A stage and how many panels stand at it."""

    key: str
    label: str
    count: int
    state: str = ""


@dataclass(frozen=True, slots=True)
class SampleMark:
    """A word beside a panel's stage."""

    label: str
    look: str
    icon: str


@dataclass(frozen=True, slots=True)
class SamplePlate:
    """A panel as the bench shows it."""

    id: str
    code: str
    size: str
    letter: str
    weave: int
    fabric: str
    fill: str = ""
    marks: tuple[SampleMark, ...] = ()


@dataclass(frozen=True, slots=True)
class SampleEntry:
    """Something that somebody did."""

    text: str
    who: str
    when: datetime
    note: str = ""


@dataclass(frozen=True, slots=True)
class SampleStage:
    """One rail of the bench."""

    key: str
    label: str
    plates: tuple[SamplePlate, ...] = field(default=())


STEPS = SampleStep(
    "Wall panel 600 × 1200 mm",
    "118.40",
    note="One panel of fourteen, at the shop's own rates.",
    steps=(
        SampleStep(
            "Labour",
            "62.40",
            steps=(
                SampleStep(
                    "Frame joints",
                    "14.40",
                    sums="4 joints × 4.5 min × 48.00 an hour = 14.40",
                ),
                SampleStep(
                    "Upholstery",
                    "48.00",
                    sums="0.72 m² × 83.3 min × 48.00 an hour = 48.00",
                ),
            ),
        ),
        SampleStep(
            "Fabric",
            "31.00",
            sums="1.00 m off the roll × 31.00 a metre = 31.00",
            note="Seven panels come from 5.2 m of the roll; each bears its share.",
        ),
        SampleStep("Wood, fill and fixings", "25.00"),
    ),
)

STOPS = (
    SampleStop("planned", "planned", 0, "done"),
    SampleStop("measured", "measured", 4, "done"),
    SampleStop("built", "built", 9, "here"),
    SampleStop("upholstered", "upholstered", 6),
    SampleStop("installed", "installed", 2),
)

CUT = SampleMark("cut", "done", "cut")
WAITS = SampleMark("fabric B", "waiting", "waiting")
REWORK = SampleMark("rework", "rework", "rework")
WRAPPED = SampleMark("wrapped", "done", "wrapped")


def _plate(
    number: int, size: str, letter: str, marks: tuple[SampleMark, ...] = ()
) -> SamplePlate:
    """Make the plate of one sample panel."""
    weave, fill, name = {
        "A": (4, "#8fa58f", "loden green"),
        "B": (2, "#c98d7a", "brick"),
    }[letter]
    return SamplePlate(
        f"sample-{number}",
        f"KF-{number:02}",
        size,
        letter,
        weave,
        name,
        fill,
        marks,
    )


STAGES = (
    SampleStage("planned", "Planned"),
    SampleStage(
        "measured",
        "Measured",
        (
            _plate(15, "1200 × 900", "B", (CUT, WAITS)),
            _plate(16, "1200 × 900", "B", (WAITS,)),
            _plate(17, "1200 × 900", "B", (WAITS,)),
        ),
    ),
    SampleStage(
        "built",
        "Built",
        (
            *(_plate(n, "600 × 1200", "A") for n in range(1, 9)),
            _plate(19, "873 × 1416", "A", (REWORK,)),
        ),
    ),
    SampleStage(
        "upholstered",
        "Upholstered",
        tuple(_plate(n, "600 × 1200", "A", (WRAPPED,)) for n in range(9, 13)),
    ),
    SampleStage("installed", "Installed"),
)

PILLS = (
    SampleMark("draft", "draft", "edit"),
    SampleMark("sent", "sent", "mail"),
    SampleMark("accepted", "accepted", "check"),
    SampleMark("declined", "declined", "cross"),
    SampleMark("lapsed", "lapsed", ""),
    SampleMark("void", "void", ""),
    SampleMark("due today", "due", "calendar"),
    SampleMark("3 days late", "late", "caution"),
    SampleMark("waiting for fabric B", "waiting", "waiting"),
    SampleMark("cut", "done", "cut"),
    SampleMark("rework", "rework", "rework"),
)

ENTRIES = (
    SampleEntry(
        "KF-09 to KF-12 upholstered",
        "Mira Sample",
        datetime(2030, 3, 4, 15, 20, tzinfo=UTC),
    ),
    SampleEntry(
        "KF-19 sent back from upholstered to built",
        "Mira Sample",
        datetime(2030, 3, 4, 11, 2, tzinfo=UTC),
        "Corner not square: 3 mm.",
    ),
    SampleEntry(
        "Quote 2030-014 A accepted",
        "Otto Example",
        datetime(2030, 2, 20, 9, 41, tzinfo=UTC),
    ),
)

SKETCH = SafeString(
    '<svg viewBox="0 0 400 230" fill="none" stroke="#111" font-size="13" '
    'font-family="Atkinson Hyperlegible Next, sans-serif" role="img" '
    'aria-label="Front of a panel 1200 wide and 600 high">'
    "<title>Front of a panel 1200 wide and 600 high</title>"
    '<path d="M60 20h300v150H60z" stroke-width="2"/>'
    '<path d="M60 182v22M360 182v22M60 196h300" stroke-width="1"/>'
    '<path d="m56 200 8-8M356 200l8-8" stroke-width="2"/>'
    '<path d="M26 20h22M26 170h22M38 20v150" stroke-width="1"/>'
    '<path d="m34 24 8-8M34 174l8-8" stroke-width="2"/>'
    '<g fill="#111" stroke="none" text-anchor="middle"><text x="210" y="216">1200</text>'
    '<text x="20" y="99" transform="rotate(-90 20 99)">600</text></g></svg>'
)


def _context() -> dict[str, Any]:
    """Gather what the page shows."""
    refused = SampleForm(
        {
            "name": "",
            "width": "about two arms",
            "kind": "wall",
            "notes": "Kept as typed.",
        }
    )
    refused.is_valid()
    return {
        "form": SampleForm(auto_id="plain-%s", initial={"width": 384000}),
        "refused": refused,
        "step": STEPS,
        "stops": STOPS,
        "stages": STAGES,
        "pills": PILLS,
        "entries": ENTRIES,
        "sketch": SKETCH,
        "page": Paginator(range(60), 20).page(2),
        "weaves": tuple(zip("ABCDEFGH", range(1, 9), strict=True)),
    }


@require_GET
def patterns(request: HttpRequest) -> HttpResponse:
    """Show every component once, in the light and size that the reader has."""
    return render(request, "shared/patterns.html", _context())


urlpatterns: list[URLPattern] = [path("patterns/", patterns, name="patterns")]
