"""What is not known yet that matters once the panels are to hang: told, never in the way."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.urls import reverse

from quotes.offers.rows import DraftRows
from quotes.safety.models import LoadStatement
from quotes.specs.models import Hanging
from quotes.specs.reports import PanelGroup, measured_openings, size_words
from shared.dates import show_day
from shop.catalogue.models import Material
from shop.clients.models import Setting, Site, Tenure
from shop.surveys.models import Construction, Room, Survey

STALE_AFTER = dt.timedelta(days=183)
"""Half a year: within it a room is taken to be as it was measured."""

ON_WALLS = frozenset({Hanging.CLEAT, Hanging.BATTENS})
BELOW_CEILING = frozenset({Hanging.CHAIN})
SHARED_USE = frozenset({Setting.WORK, Setting.PUBLIC})


@dataclass(frozen=True, slots=True)
class Unknown:
    """One thing that is not known: in a sentence, and where it is filled in."""

    text: str
    url: str
    action: str


def unknown_of(
    rows: DraftRows, groups: Iterable[PanelGroup], *, on: dt.date
) -> tuple[Unknown, ...]:
    """Gather what is not known of the rooms that get panels, as of a local day.

    One query, whatever the size of the draft.
    """
    listed = tuple(groups)
    surveys = {survey.room_id: survey for survey in rows.surveys}
    found: list[Unknown] = []
    for room in rows.rooms:
        mine = [group for group in listed if group.first.room_id == room.pk]
        if mine:
            found += _of_room(room, surveys.get(room.pk), mine, on=on)
    used = {group.first.room_id for group in listed}
    sites = {room.site_id: room.site for room in rows.rooms if room.pk in used}
    found += _of_sites(sites.values())
    found += _papers(rows.rooms, listed)
    found += _ratings(listed)
    return tuple(found)


def _of_room(
    room: Room, survey: Survey | None, groups: list[PanelGroup], *, on: dt.date
) -> Iterator[Unknown]:
    if survey is None:
        yield Unknown(
            f"Nobody has measured {room.name}: how high it is, and what its walls and"
            " ceiling are made of, is not known.",
            reverse("shop:survey-new", args=(room.pk,)),
            f"Measure {room.name}",
        )
        return
    hangings = {group.worked.spec.hanging for group in groups}
    if hangings & ON_WALLS:
        yield from _walls(room, survey)
    if hangings & BELOW_CEILING and survey.construction == Construction.UNKNOWN:
        yield Unknown(
            f"What the ceiling of {room.name} is made of has not been looked at yet: it"
            " decides how panels hang from it.",
            reverse("shop:survey-change", args=(survey.pk,)),
            f"Say what the ceiling of {room.name} is made of",
        )
    if on - survey.measured_on > STALE_AFTER:
        yield Unknown(
            f"{room.name} was measured on {show_day(survey.measured_on)}, more than half"
            " a year ago: look whether anything has changed since.",
            reverse("shop:survey-new", args=(room.pk,)),
            f"Measure {room.name} again",
        )
    yield from _openings(survey, groups)


def _walls(room: Room, survey: Survey) -> Iterator[Unknown]:
    """Name the walls that nobody has looked at; one alone leads to its own form."""
    unseen = [w for w in survey.walls.all() if w.construction == Construction.UNKNOWN]
    if not unseen:
        return
    names = ", ".join(wall.name for wall in unseen)
    url = f"{survey.get_absolute_url()}#walls"
    if len(unseen) == 1:
        url = reverse("shop:wall-change", args=(unseen[0].pk,))
    yield Unknown(
        f"What {'wall' if len(unseen) == 1 else 'walls'} {names} of {room.name}"
        f" {'is' if len(unseen) == 1 else 'are'} made of has not been looked at yet: it"
        " decides how panels hang.",
        url,
        f"Say what the walls of {room.name} are made of",
    )


def _openings(survey: Survey, groups: list[PanelGroup]) -> Iterator[Unknown]:
    """Compare panels that fill an opening with what was read of it last."""
    newest = {m.opening.lineage: m.size for m in measured_openings(survey)}
    for group in groups:
        if group.opening is None:
            continue
        size, planned = newest.get(group.opening.lineage), group.worked.size
        if size == planned:
            continue
        now = f"reads {size_words(size)} now" if size else "is not in the newest survey"
        yield Unknown(
            f"{group.worked.spec.name} was planned for an opening of"
            f" {size_words(planned)}, which {now}: {group.opening}.",
            reverse("quotes:plan-change", args=(group.first.pk,)),
            "Choose the opening again",
        )


def _of_sites(sites: Iterable[Site]) -> Iterator[Unknown]:
    for site in sites:
        if not site.tenure or not site.setting:
            yield Unknown(
                f"Whether {_first_line(site)} is owned or rented, and private or open to"
                " others, is not written down: it decides whether a landlord and fire"
                " papers are asked for.",
                reverse("shop:site-change", args=(site.pk,)),
                "Say whose it is",
            )


def _first_line(site: Site) -> str:
    lines = site.address.splitlines()
    return lines[0] if lines else "the place"


def _papers(rooms: Iterable[Room], groups: tuple[PanelGroup, ...]) -> Iterator[Unknown]:
    """Name cloth and fill without fire papers, where papers are asked for."""
    asking = {room.pk: room.name for room in rooms if _asks_for_papers(room.site)}
    lacking: dict[Material, dict[str, None]] = {}
    for group in groups:
        if name := asking.get(group.first.room_id):
            for material in _cloth_and_fill(group):
                if not (material.fire_class or material.fire_papers):
                    lacking.setdefault(material, {})[name] = None
    for material, names in lacking.items():
        yield Unknown(
            f"Fire papers are asked for in {', '.join(names)}, and none is on file for"
            f" {material.name}.",
            reverse("shop:material-change", args=(material.pk,)),
            f"File the papers of {material.name}",
        )


def _asks_for_papers(site: Site) -> bool:
    return site.tenure == Tenure.TENANT or site.setting in SHARED_USE


def _cloth_and_fill(group: PanelGroup) -> Iterator[Material]:
    build, materials = group.worked.build, group.worked.materials
    if build is not None:
        keys = (build.front_fabric, build.front_lining, build.back_fabric, build.fill)
        yield from (materials[key] for key in keys if key)


def _ratings(groups: tuple[PanelGroup, ...]) -> Iterator[Unknown]:
    """Name what carries a panel and has no working load on file. One query."""
    carrying = dict(pair for group in groups for pair in _carrying(group))
    unrated = {k: m for k, m in carrying.items() if m.rated_load_n is None}
    stated = LoadStatement.objects.standing(f"item:{key}" for key in carrying)
    for key, material in unrated.items():
        if f"item:{key}" not in stated:
            yield Unknown(
                f"No working load is on file for {material.name}: what hangs by it is"
                " not cleared until its maker or somebody competent has said one.",
                reverse("shop:material-change", args=(material.pk,)),
                f"Write down the rating of {material.name}",
            )


def _carrying(group: PanelGroup) -> Iterator[tuple[str, Material]]:
    if group.worked.takeoff is not None:
        for item in group.worked.takeoff.items:
            if item.in_load_path:
                yield item.material, group.worked.materials[item.material]
