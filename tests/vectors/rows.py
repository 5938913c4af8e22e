"""A survey's rows, never stored, from the fields of its page as devices and vectors have them.

Each text goes the way that a write from a device goes: cleaned by the form of the pages, put
into its column. What is asked of the rows then is the server's own code.
"""

from decimal import Decimal
from string import ascii_uppercase
from uuid import NAMESPACE_URL, uuid5

from shared.conventions import current
from shared.length import LengthError, parse
from shop.catalogue.models import Finish
from shop.clients.forms import SiteAccessForm
from shop.clients.models import Client, ClientDetails, Site
from shop.surveys.forms import RoomForm, SurveyForm
from shop.surveys.models import (
    Covering,
    Member,
    Opening,
    Reading,
    Room,
    Survey,
    Wall,
    Zone,
)
from shop.surveys.offline import inside, openings, places, walls
from shop.surveys.offline.records import Record, put
from shop.surveys.reports.walk.openings import READINGS, reading_of
from shop.surveys.reports.walk.site import SITE
from shop.surveys.reports.walk.walls import HALF
from shop.surveys.reports.walk.who import ROOM, SURVEY

RECORDS = {
    "site": Record(SITE, Site.objects.all, SiteAccessForm, print),
    "room": Record(ROOM, Room.objects.all, RoomForm, print),
    "survey": Record(SURVEY, Survey.objects.all, SurveyForm, print),
    "wall": walls.RECORD,
    "opening": openings.RECORD,
    "zone": places.ZONES,
    "member": places.MEMBERS,
    "beam": places.BEAMS,
    "covering": inside.COVERINGS,
    "spot": inside.SPOTS,
}
MODELS = {kind: record.rows().model for kind, record in RECORDS.items()}
READ = {one.name for one in READINGS}
APART = {"lane", "of", "removed", "angle", "finish", *READ}


def standing(records):
    """Leave out what was taken out, and what lies on it."""
    out = set()
    for one in records:
        below = one.get("of") in out and not one["lane"].startswith("wall:")
        if one.get("removed") or below:
            out.add(one["lane"])
    return [one for one in records if one["lane"] not in out]


def row_of(record):
    kind = record["lane"].partition(":")[0]
    row = MODELS[kind](pk=uuid5(NAMESPACE_URL, record["lane"]))
    for name, text in record.items():
        if text and name not in APART:
            put(RECORDS[kind], row, name, text)
    return row


def readings_of(record, opening):
    for name in sorted(READ & record.keys()):
        axis, place = reading_of(name)
        try:
            ticks = parse(record[name], units=current().unit_system)
        except LengthError:
            continue
        yield Reading(
            opening=opening, axis=axis, place=place, ticks=ticks, text=record[name]
        )


def cached(row, **lists):
    """Give a row what its queries would have brought."""
    row._prefetched_objects_cache = {}
    for name, rows in lists.items():
        kept = getattr(type(row), name).rel.related_model.objects.all()
        kept._result_cache, kept._prefetch_done = list(rows), True
        row._prefetched_objects_cache[name] = kept
    return row


def unread_first(rows, column, at=lambda row: 0):
    def key(row):
        read = getattr(row, column)
        return (at(row), -1 if read is None else read)

    return sorted(rows, key=key)


def survey_of(records):
    """Return a survey `with_room()` and `with_inside()`, and whether it has a photo."""
    there = standing(records)
    photo = any(one["lane"].startswith("photo:") for one in there)
    kept = [one for one in there if not one["lane"].startswith("photo:")]
    rows = {one["lane"]: row_of(one) for one in kept}
    by_kind = {kind: [] for kind in RECORDS}
    for one in kept:
        by_kind[one["lane"].partition(":")[0]].append(rows[one["lane"]])
        belong(rows[one["lane"]], rows.get(one.get("of")), one)
    (survey,), (room,), (site,) = (by_kind[k] for k in ("survey", "room", "site"))
    survey.room, room.site, survey.revision = room, site, 1
    site.client = Client(details=ClientDetails())
    walk(survey, by_kind, records)
    return survey, photo


def belong(row, parent, record):
    """Tie a part to what it lies on, as the write that makes it does."""
    if isinstance(row, Opening):
        row.wall = parent
        cached(row, readings=readings_of(record, row))
    elif isinstance(row, Zone | Member) and isinstance(parent, Wall):
        row.wall = parent
    elif isinstance(row, Wall) and record.get("angle"):
        inside_angle = Decimal(record["angle"].replace(",", "."))
        row.turn_millidegrees = round((HALF - inside_angle) * 1000)
    elif isinstance(row, Covering):
        row.finish = Finish(name=record["finish"]) if record.get("finish") else None
        if isinstance(parent, Wall):
            row.surface, row.wall = "wall", parent
        elif isinstance(parent, Opening):
            row.surface, row.opening = "opening", parent


def walk(survey, by_kind, records):
    """Put the parts in the order in which queries bring them."""
    taken = {one.get("name") for one in records if one["lane"].startswith("wall:")}
    for position, wall in enumerate(by_kind["wall"]):
        wall.survey, wall.position = survey, position
        free = (letter for letter in ascii_uppercase if letter not in taken)
        wall.name = wall.name or next(free)
        taken.add(wall.name)
        mine = [one for one in by_kind["opening"] if one.wall == wall]
        cached(wall, openings=unread_first(mine, "from_left_ticks"))

    def place(part):
        return part.wall.position if part.wall_id else -1

    cached(
        survey,
        walls=by_kind["wall"],
        zones=unread_first(by_kind["zone"], "left_ticks", place),
        members=unread_first(by_kind["member"], "at_ticks", place),
        beams=by_kind["beam"],
        coverings=by_kind["covering"],
        spots=by_kind["spot"],
        furniture=(),
    )
