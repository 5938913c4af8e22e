"""The install sheet: what the fitter reads on site."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from jobs.board.adapter import Like
from jobs.board.codes import runs_of
from jobs.board.models import Panel
from jobs.board.reports import size_words
from jobs.visits.adapter import not_ready, place_of
from jobs.visits.engine import (
    Holding,
    Line,
    SiteCaution,
    Step,
    order_on_site,
    site_cautions,
    where_to_fix,
)
from jobs.visits.models import SiteDay
from jobs.visits.reports.loads import LikePath, paths_of
from jobs.visits.reports.van import day_likes, list_of
from quotes.specs.engine.model import Hanging, Takeoff
from shared.conventions import current
from shop.clients.reports import getting_in


@dataclass(frozen=True, slots=True)
class SheetPanel:
    """One panel's row: what it is, its size, and where it goes."""

    code: str
    what: str
    size: str
    room: str
    fabric: str
    mass_kg: float
    warning: str


@dataclass(frozen=True, slots=True)
class SheetGroup:
    """Panels that are fixed alike: a small picture, and where the fixings go."""

    codes: str
    what: str
    size: str
    opening: str
    mass_kg: float
    picture: SafeString
    where: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class InstallSheet:
    """Everything on the install sheet besides the day and the letterhead."""

    panels: tuple[SheetPanel, ...]
    groups: tuple[SheetGroup, ...]
    hardware: tuple[Line, ...]
    wood: tuple[Line, ...]
    steps: tuple[Step, ...]
    cautions: tuple[SiteCaution, ...]
    stopped: tuple[LikePath, ...]
    cleared: tuple[LikePath, ...]
    access: str

    @property
    def total_kg(self) -> float:
        """What all panels weigh together."""
        return sum(panel.mass_kg for panel in self.panels)

    @property
    def not_ready(self) -> tuple[tuple[str, str], ...]:
        """Codes of what could not go when this was printed, by reason."""
        reasons: dict[str, list[str]] = {}
        for panel in self.panels:
            if panel.warning:
                reasons.setdefault(panel.warning, []).append(panel.code)
        return tuple((runs_of(codes), why) for why, codes in reasons.items())


def install_sheet(day: SiteDay) -> InstallSheet:
    """Lay out the sheet of a day. Three queries."""
    groups = day_likes(day)
    paths = paths_of(groups)
    loaded = {group.key: group.lines for group in list_of(groups).groups}
    panels = (_panel(panel, group) for group in groups for panel in group.panels)
    return InstallSheet(
        panels=tuple(sorted(panels, key=lambda row: row.code)),
        groups=tuple(_group(group) for group in groups),
        hardware=loaded.get("hardware", ()),
        wood=loaded.get("wood", ()),
        steps=order_on_site(Holding(group.carried.hanging) for group in groups),
        cautions=site_cautions(place_of(groups)),
        stopped=tuple(each for each in paths if each.is_stopped),
        cleared=tuple(each for each in paths if each.path and each.path.cleared),
        access=getting_in(day.site),
    )


def _panel(panel: Panel, group: Like) -> SheetPanel:
    """Give one row, in the panel's own size where it was measured."""
    return SheetPanel(
        code=panel.code,
        what=panel.spec_name,
        size=size_words(panel.build_width_ticks, panel.build_height_ticks),
        room=panel.room_name,
        fabric=panel.fabric_name,
        mass_kg=group.takeoff.mass.panel_kg,
        warning=not_ready(panel),
    )


def _group(group: Like) -> SheetGroup:
    conventions, takeoff = current(), group.takeoff
    finished = takeoff.finished
    return SheetGroup(
        codes=runs_of(group.codes),
        what=group.first.spec_name,
        size=size_words(finished.width_ticks, finished.height_ticks),
        opening=_opening(takeoff),
        mass_kg=takeoff.mass.panel_kg,
        picture=mark_safe(group.snapshot["drawings"].get("thumb", "")),  # noqa: S308 ours
        where=where_to_fix(
            takeoff.hang,
            takeoff.frame,
            units=conventions.unit_system,
            fraction=conventions.fraction,
        ),
    )


def _opening(takeoff: Takeoff) -> str:
    """Print the opening that a reveal panel is made for; nothing for other panels."""
    if takeoff.hang.kind is not Hanging.EDGE:
        return ""
    return size_words(takeoff.nominal.width_ticks, takeoff.nominal.height_ticks)
