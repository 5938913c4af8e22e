"""A roll plan's page: metres to cut and to buy, how good that is, pulls, drawings, facts."""

from __future__ import annotations

import uuid
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_UP, Decimal
from itertools import groupby

from django.utils.safestring import mark_safe

from jobs.board.codes import runs_of
from jobs.board.models import Panel
from jobs.cutting.adapter import cloth_request_of, roll_plan
from jobs.cutting.engine.cloth import ClothRequest
from jobs.cutting.engine.cloth_drawing import (
    LONGEST_MM,
    Segment,
    scale_of,
    segment_drawing,
    segments_of,
)
from jobs.cutting.engine.cloth_left import rests_of
from jobs.cutting.engine.notation import Notation
from jobs.cutting.models import CutPlan
from jobs.cutting.reports.answer import Bound, money_words
from jobs.cutting.reports.page import KeptLine
from jobs.cutting.reports.parts import PartLabel
from jobs.cutting.reports.saw import Line, Stage
from jobs.cutting.reports.sheets import Shown
from jobs.cutting.reports.words import notation
from shared.conventions import current
from shared.length import TICKS_PER_M
from shared.money import show_number
from shared.nesting.rolls import Cut, Placed, RollPlan, RollUse, Row, Way

CENTIMETRE = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class ClothLine:
    """Pieces of one size."""

    label: str
    size: str
    count: int
    owners: str


@dataclass(frozen=True, slots=True)
class RollLine:
    """One roll that is cut from, and how much of it."""

    name: str
    width: str
    cut: str
    spare: str
    left: str


@dataclass(frozen=True, slots=True)
class ClothAnswer:
    """What a plan of cloth that was made says."""

    title: str
    cut: str
    buy: str
    spare: str
    cost: str
    priced: str
    yield_text: str
    bound: Bound
    rolls: tuple[RollLine, ...]
    warnings: tuple[str, ...]
    sheets: tuple[Shown, ...]
    stages: tuple[Stage, ...]
    repairs: tuple[str, ...]
    kept: tuple[KeptLine, ...]


@dataclass(frozen=True, slots=True)
class ClothPage:
    """Everything that the page of a roll plan shows."""

    plan: CutPlan
    request: ClothRequest
    panels: tuple[Panel, ...]
    codes: str
    pieces: tuple[ClothLine, ...]
    planned_width: str
    answer: ClothAnswer | None

    @property
    def jobs(self) -> tuple[uuid.UUID, ...]:
        """The job that its panels are of."""
        return tuple(dict.fromkeys(panel.job_id for panel in self.panels))


def cloth_page(plan: CutPlan, *, sees_money: bool) -> ClothPage:
    """Return a roll plan's page; one query for its panels."""
    request = cloth_request_of(plan)
    ids = [uuid.UUID(panel.id) for panel in request.panels]
    panels = tuple(Panel.objects.with_job().by_ids(ids).order_by("job__code", "number"))
    found = roll_plan(plan) if plan.is_made else None
    width = max((s.width_ticks for s in request.sources if not s.is_piece), default=0)
    return ClothPage(
        plan=plan,
        request=request,
        panels=panels,
        codes=runs_of(panel.code for panel in panels),
        pieces=tuple(_pieces(request)),
        planned_width=notation().length(width),
        answer=_answer(plan, request, found, money=sees_money) if found else None,
    )


def _pieces(request: ClothRequest) -> Iterator[ClothLine]:
    codes, show = request.codes, notation()
    for part in request.parts:
        owners = runs_of(sorted({codes[owner.panel] for owner in part.owners}))
        size = show.size(part.width_ticks, part.height_ticks)
        yield ClothLine(part.label, size, part.count, owners or f"job {request.job}")


def _answer(
    plan: CutPlan, request: ClothRequest, found: RollPlan, *, money: bool
) -> ClothAnswer:
    spare = sum(use.spare_ticks for use in found.rolls)
    return ClothAnswer(
        title=f"{metres(found.cut_ticks)} to cut",
        cut=metres(found.cut_ticks),
        buy=metres(found.buy_ticks) if found.buy_ticks else "",
        spare=metres(spare) if spare else "",
        cost=_cost(request, found) if money else "",
        priced=""
        if request.has_price
        else "No price is known, so the plan takes the least length.",
        yield_text=_percent(plan.yield_percent or Decimal(0)),
        bound=bound_of_rolls(request, found),
        rolls=tuple(_roll(request, use) for use in found.rolls),
        warnings=found.warnings,
        sheets=cloth_sheets(plan, request, found),
        stages=cloth_stages(request, found),
        repairs=tuple(_repairs(plan, request, found)),
        kept=cloth_kept(plan),
    )


def metres(ticks: int) -> str:
    """Print a length off a roll in metres, rounded up to a centimetre."""
    found = (Decimal(ticks) / TICKS_PER_M).quantize(CENTIMETRE, ROUND_UP)
    return f"{show_number(found, locale=current().locale, decimals=2)} m"


def _percent(share: Decimal) -> str:
    return show_number(share, locale=current().locale, decimals=1)


def _cost(request: ClothRequest, found: RollPlan) -> str:
    if not request.has_price:
        return ""
    return money_words(-(-found.cost.numerator // found.cost.denominator))


def bound_of_rolls(request: ClothRequest, found: RollPlan) -> Bound:
    """Say whether a better plan of this kind can exist."""
    verdict = found.verdict
    about = verdict.bound_class
    if verdict.proven:
        return Bound("No plan of this kind takes less.", about, proven=True)
    prices = {request.source(use.roll).price for use in found.rolls} - {0}
    gap = verdict.price - verdict.lower_bound
    if len(prices) == 1:
        (price,) = prices
        sentence = f"At most {metres(-(-gap // price))} less might be possible."
    else:
        share = _percent(100 * Decimal(gap) / Decimal(verdict.price))
        sentence = (
            f"A plan of this kind may exist that takes less, by {share} % at most."
        )
    return Bound(sentence, about, proven=False)


def _roll(request: ClothRequest, use: RollUse) -> RollLine:
    return RollLine(
        name=request.source(use.roll).name,
        width=notation().length(use.usable_ticks),
        cut=metres(use.cut_ticks),
        spare=metres(use.spare_ticks) if use.spare_ticks else "",
        left=metres(use.left_ticks) if use.left_ticks else "",
    )


def _repairs(plan: CutPlan, request: ClothRequest, found: RollPlan) -> Iterator[str]:
    for rest in rests_of(request, found, plan.keep_length_ticks, plan.keep_width_ticks):
        if rest.for_repairs:
            size = notation().size(rest.length_ticks, rest.width_ticks)
            yield f"{size}, for repairs of {request.job}"


def cloth_kept(plan: CutPlan) -> tuple[KeptLine, ...]:
    """Return remnants that may be kept besides those for repairs; nothing is drawn."""
    found, request = roll_plan(plan) if plan.is_made else None, cloth_request_of(plan)
    if found is None:
        return ()
    rests = rests_of(request, found, plan.keep_length_ticks, plan.keep_width_ticks)
    return tuple(
        KeptLine(
            rest.key,
            f"{notation().size(rest.length_ticks, rest.width_ticks)},"
            f" {request.source(rest.roll).name}",
        )
        for rest in rests
        if not rest.for_repairs
    )


def cloth_stages(request: ClothRequest, found: RollPlan) -> tuple[Stage, ...]:
    """Return what is pulled and cut, roll by roll, in the order to cut."""
    names = piece_names(request)
    return tuple(
        Stage(
            step=f"roll-{number}",
            title=f"Roll {number}: {request.source(use.roll).name}",
            lines=tuple(_line(number, row, names) for row in use.rows),
        )
        for number, use in enumerate(found.rolls, start=1)
    )


def _line(number: int, row: Row, names: Mapping[tuple[str, int], str]) -> Line:
    show = notation()
    return Line(
        key=f"pull-{number}-{row.at_ticks}-{row.along_ticks}",
        setting=f"pull {show.length(row.along_ticks)}",
        tilt="",
        cuts=len(row.cuts),
        where=_cuts(row, show),
        pieces=tuple(_name(piece, names) for piece in row.pieces),
        note="",
    )


def _name(piece: Placed, names: Mapping[tuple[str, int], str]) -> str:
    drop = f", drop {piece.drop + 1}" if piece.drop else ""
    turned = ", turned" if piece.turned else ""
    return f"{names[piece.part, piece.copy]}{drop}{turned}"


def _cuts(row: Row, show: Notation) -> str:
    """Say where a row is cut: across first, then along, each further cut by its place."""
    words = ["cut across"]
    later = sorted((c for c in row.cuts if c.depth > 1), key=lambda c: c.depth)
    for (depth, way), group in groupby(later, key=lambda c: (c.depth, c.way)):
        cuts = list(group)
        if way is Way.ALONG and depth == 2:
            words.append(f"along at {_at(sorted(c.at_ticks for c in cuts), show)}")
        else:
            words += [_within(cut, row, show) for cut in cuts]
    return "; then ".join(words)


def _at(places: Sequence[int], show: Notation) -> str:
    return ", ".join(show.bare(place) for place in places)


def _within(cut: Cut, row: Row, show: Notation) -> str:
    """Say one cut inside a row: places along it are from where the row begins."""
    along = cut.way is Way.ALONG
    at = cut.at_ticks if along else cut.at_ticks - row.at_ticks
    back = row.at_ticks if along else 0
    ends = show.bare(cut.from_ticks - back), show.bare(cut.to_ticks - back)
    return f"{cut.way} at {show.bare(at)}, from {ends[0]} to {ends[1]}"


def piece_names(request: ClothRequest) -> Mapping[tuple[str, int], str]:
    """Name every piece: its panel's code and what it covers; a remnant by its job."""
    codes = request.codes
    names = {
        (part.key, copy): f"{codes[owner.panel]} {part.label}"
        for part in request.parts
        for copy, owner in enumerate(part.owners)
    }
    return names | {
        (part.key, 0): f"{request.job} repairs"
        for part in request.parts
        if part.for_repairs
    }


def cloth_sheets(
    plan: CutPlan, request: ClothRequest, found: RollPlan
) -> tuple[Shown, ...]:
    """Draw every roll, in segments."""
    return tuple(
        shown
        for number, use in enumerate(found.rolls, start=1)
        for shown in _segments(plan, request, number, use)
    )


def _segments(
    plan: CutPlan, request: ClothRequest, number: int, use: RollUse
) -> Iterator[Shown]:
    show, names = notation(), piece_names(request)
    scale = scale_of(use, show)
    for part, rows in enumerate(
        segments_of(use.rows, scale.ticks(LONGEST_MM)), start=1
    ):
        ends = rows[0].at_ticks, rows[-1].at_ticks + rows[-1].along_ticks
        span = f"{metres(ends[0])} to {metres(ends[1])}"
        title = f"Roll {number}, {request.source(use.roll).name}: {span}"
        words = tuple(
            f"Pull {show.length(row.along_ticks)}: "
            f"{', '.join(_name(piece, names) for piece in row.pieces)}."
            for row in rows
        )
        key = f"{plan.code}-{number}-{part}"
        segment = Segment(key, title, use, rows, names, request.directional, show)
        drawn = segment_drawing(segment, scale, words=" ".join(words))
        svg = mark_safe(drawn.svg())  # noqa: S308 - escaped by the drawing
        yield Shown(key, title, 1, svg, words)


def cloth_labels(request: ClothRequest) -> tuple[PartLabel, ...]:
    """Return a label for every piece, panel by panel, and for remnants."""
    show, codes, labels = notation(), request.codes, list[PartLabel]()
    for part in request.parts:
        size = show.size(part.width_ticks, part.height_ticks)
        owners = [codes[owner.panel] for owner in part.owners] or [request.job]
        labels += [PartLabel("", code, part.label, size) for code in owners]
    return tuple(sorted(labels, key=lambda label: (label.panel, label.name)))
