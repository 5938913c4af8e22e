"""Writes leave.json, what is told before leaving: the same on the server and on the device.

Rooms are made up by chance; what is told of each is the server's own word, from rows that are
cleaned by its forms and never stored (tests/vectors/rows.py). A room is kept when it is told
something of which no room before it was told. What the server's rules say is held by tests of
their own, most of all tests/shop/surveys/test_engine_checks.py and test_before.py. Run it from
the project's root:

    python -m tests.vectors.make_leave
"""

import json
import os
import random
from itertools import count
from pathlib import Path

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
django.setup()

from shared.conventions import Conventions, using  # noqa: E402 - models need settings
from shared.length import UnitSystem  # noqa: E402
from shop.surveys import adapter  # noqa: E402
from shop.surveys.reports.walk.leave import leave_told  # noqa: E402
from tests.vectors.make_plan import SHAPES, made_walls, stretched  # noqa: E402
from tests.vectors.rows import survey_of  # noqa: E402
from tests.vectors.words import PATTERNS  # noqa: E402

FILE = Path(__file__).with_name("leave.json")
LEAST_KEPT = 24


# Walls A and D cross: D was read far too long, and one turn makes up for another.
CROSSED = [
    {"lane": "site:1"},
    {"lane": "room:1"},
    {"lane": "survey:1", "shape": "flat"},
    *(
        {"lane": f"wall:{name}", "name": name, "length": length, "corner": corner}
        for name, length, corner in (
            ("A", "4000", "right"),
            ("B", "3000", "right"),
            ("C", "2000", "right"),
            ("D", "4000", "left"),
            ("E", "500", "right"),
            ("F", "1000", "right"),
        )
    ),
]


def chance(rng, share, text):
    return text if rng.random() < share else ""


def mm(rng, low, high):
    """A length as somebody types it."""
    length = rng.choice((rng.randint(low, high), rng.randint(2 * low, 2 * high) / 2))
    return (
        f"{length / 1000:g} m"
        if length % 10 == 0 and rng.random() < 0.1
        else f"{length:g}"
    )


def some(rng, most):
    return range(max(0, rng.randint(-most, most)))


def openings_of(rng, wall, length):
    for n in some(rng, 2):
        kind = rng.choice(("window", "window", "door", "recess"))
        width, height = rng.randint(500, 1500), rng.randint(700, 2300)
        panel = rng.random() < 0.5
        sizes = {"width_1": width, "height_1": height}
        if panel and rng.random() < 0.6:
            sizes |= {
                f"{axis}_{place}": size
                for axis, size in (("width", width), ("height", height))
                for place in (2, 3)
            }
            diagonal = round((width**2 + height**2) ** 0.5)
            sizes |= {"diagonal_1": diagonal, "diagonal_2": diagonal}
        read = {
            name: f"{max(1, size + rng.choice((0, 0, 0, 1, -2, 5, -9, 40)))}"
            for name, size in sizes.items()
        }
        yield {
            "lane": f"opening:{wall}{n}",
            "of": f"wall:{wall}",
            "kind": kind,
            "name": chance(rng, 0.2, f"bay {n}"),
            "from_left": chance(rng, 0.85, mm(rng, 0, length)),
            "sill": chance(rng, 0.7, mm(rng, 0, 1200)),
            "gets_panel": "yes" if panel else "",
            "reveal": chance(rng, 0.7, mm(rng, 20, 200)),
            "panel_depth": chance(rng, 0.7, mm(rng, 20, 120)),
            "glass": rng.choice(("", "single", "double", "sealed")),
            "faces": rng.choice(("", "", "n", "se", "w")),
            "removed": chance(rng, 0.05, "yes"),
        } | (read if rng.random() < 0.9 else {})  # fmt: skip


ZONES = "switch outlet thermostat sprinkler detector downlight radiator fireplace other"


def boxes_of(rng, lane, length, height):
    """Zones, studs or joists, on a wall or the ceiling."""
    for n in some(rng, 2):
        yield {
            "lane": f"zone:{lane}{n}",
            "of": lane,
            "kind": rng.choice(ZONES.split()),
            "left": chance(rng, 0.8, mm(rng, 0, length)),
            "bottom": chance(rng, 0.85, mm(rng, 0, height)),
            "width": chance(rng, 0.3, mm(rng, 40, 900)),
            "height": chance(rng, 0.3, mm(rng, 40, 900)),
            "margin": chance(rng, 0.2, mm(rng, 0, 300)),
            "note": chance(rng, 0.2, "the old one"),
        }
    start = rng.randint(50, 400)
    for n in some(rng, 4):
        at = start + n * rng.choice((400, 400, 400, 455, 900))
        yield {"lane": f"member:{lane}{n}", "of": lane, "at": chance(rng, 0.9, f"{at}")}


MADE_OF = "board_wood board_metal lath brick block concrete timber grid glass isolated"


def made_of(rng, runs):
    return {
        "construction": rng.choice(("", *MADE_OF.split())),
        "spacing": rng.choice(("", "", "400", "600", "16 in")),
        "run": rng.choice(("", *runs)),
        "heated": chance(rng, 0.1, "yes"),
    }


def walls_of(rng):
    name = rng.choice(("rectangle", "rectangle", *SHAPES))
    height, like = rng.randint(2200, 2800), made_of(rng, ("upright", "level"))
    for wall, ticks, corner, inside, diagonal in made_walls(
        rng, stretched(rng, SHAPES[name])
    ):
        length = ticks / 320 + rng.choice((0,) * 12 + (900, -300))
        made = made_of(rng, ("upright", "level")) if rng.random() < 0.3 else like
        angle = inside and inside % 180_000 != 90_000
        yield (
            {
                "lane": f"wall:{wall}",
                "name": chance(rng, 0.97, wall),
                "length": chance(rng, 0.9, f"{round(length, 1):g}"),
                "corner": rng.choice(("right", "left", "angle", "diagonal")) if rng.random() < 0.02 else corner,
                "angle": chance(rng, 0.9, f"{inside / 1000:g}") if angle else "",
                "diagonal": chance(rng, 0.95, f"{round(diagonal / 320 + rng.choice((0,) * 9 + (4000,)), 1):g}") if diagonal else "",
                "height": chance(rng, 0.4, f"{height + rng.randint(-20, 20)}"),
                "removed": chance(rng, 0.02, "yes"),
            }
            | made,
            max(1, round(length)),
        )  # fmt: skip


def coverings_of(rng, lanes):
    """Finishes of surfaces and of parts, on any of them."""
    for n in some(rng, 9):
        lane = rng.choice(("survey:1", "survey:1", "survey:1", *lanes))
        surface = (
            rng.choice(("walls", "ceiling", "floor")) if lane == "survey:1" else ""
        )
        part = rng.random() < 0.3
        yield {
            "lane": f"covering:{n}",
            "of": lane,
            "surface": surface or lane.partition(":")[0],
            "finish": rng.choice(("", "plaster", "wood", "carpet")),
            "width": chance(rng, 0.8, mm(rng, 300, 4000)) if part else "",
            "height": chance(rng, 0.8, mm(rng, 300, 4000)) if part else "",
        }  # fmt: skip


def around(rng):
    """The site, the room and the survey with its ceiling."""
    yield {
        "lane": "site:1",
        "year_built": rng.choice(("", "1890", "1985", "1986", "2004")),
        "tenure": rng.choice(("", "owner", "tenant")),
        "setting": rng.choice(("", "private", "work", "public")),
        "narrowest_door": chance(rng, 0.6, mm(rng, 600, 1000)),
    }
    yield {
        "lane": "room:1",
        "use": rng.choice(("", "music", "office")),
        "sleeping": chance(rng, 0.3, "yes"),
    }
    shape = rng.choice(("flat", "flat", "flat", "slope", "corners"))
    ceiling = {"height": chance(rng, 0.9, mm(rng, 2200, 2800)), "shape": shape}
    yield {"lane": "survey:1"} | ceiling | made_of(rng, ("along", "across"))


def room(rng):
    """The records of a room, in the order of its page."""
    found = list(around(rng))
    lanes = []
    for wall, length in list(walls_of(rng)):
        found.append(wall)
        name = wall["lane"].removeprefix("wall:")
        found += openings_of(rng, name, length)
        found += boxes_of(rng, wall["lane"], length, 2400)
    lanes = [
        one["lane"] for one in found if one["lane"].startswith(("wall:", "opening:"))
    ]
    found += boxes_of(rng, "survey:1", 5000, 4000)
    for n in some(rng, 2):
        sizes = {
            side: chance(rng, 0.9, mm(rng, 100, 900))
            for side in ("length", "width", "drop")
        }
        found.append(
            {
                "lane": f"beam:{n}",
                "of": "survey:1",
                "kind": rng.choice(("beam", "soffit")),
            }
            | sizes
        )
    found += coverings_of(rng, lanes)
    for n in some(rng, 2):
        kind = rng.choice(("seat", "desk", "screen", "loudspeaker"))
        at = {side: chance(rng, 0.9, mm(rng, 100, 7000)) for side in ("left", "bottom")}
        found.append(
            {
                "lane": f"spot:{n}",
                "of": "survey:1",
                "kind": kind,
                "name": chance(rng, 0.2, "sofa"),
            }
            | at
        )
    if rng.random() < 0.5:
        found.append({"lane": "photo:1", "removed": chance(rng, 0.2, "yes")})
    return [
        {key: text for key, text in one.items() if text or key in ("name", "preset")}
        for one in found
    ]  # fmt: skip


def told_of(records, units="metric"):
    """What the server tells of a room, and the corners of its plan where it has one."""
    with using(Conventions(unit_system=UnitSystem(units), locale="de")):
        survey, photo = survey_of(records)
        told = leave_told(survey, has_photo=photo)
        plan = adapter.room_in(survey)
    corners = plan and [
        [round(corner.x_ticks), round(corner.y_ticks)] for corner in plan.corners
    ]
    cautions = [caution.title for caution in told.cautions]
    return [list(told.told), list(told.missing), list(told.later), cautions, corners]


def kinds_of(told):
    """Which sentences there are, whatever stands in them."""
    said = [sentence for part in told[:4] for sentence in part]
    return {
        key
        for key, pattern in PATTERNS.items()
        for one in said
        if pattern.fullmatch(one)
    }


def rooms():
    """Yield [units, records, what is told] of rooms that add something."""
    yield ["metric", CROSSED, told_of(CROSSED)]
    rng, seen, kept = random.Random(310), kinds_of(told_of(CROSSED)), 0
    for tried in count():
        if kept >= LEAST_KEPT and seen >= PATTERNS.keys():
            return
        records, units = room(rng), "imperial" if tried % 4 == 3 else "metric"
        if units == "imperial":
            records = [in_mm(one) for one in records]
        told = told_of(records, units)
        kinds = kinds_of(told)
        if kinds - seen or kept < LEAST_KEPT:
            kept += 1
            seen |= kinds
            yield [units, records, told]


def in_mm(record):
    """Say the unit of each length, where a bare number is not millimetres."""
    apart = {"lane", "of", "name", "angle", "year_built"}
    return {
        key: f"{text} mm" if key not in apart and text.replace(".", "").isdigit() else text
        for key, text in record.items()
    }  # fmt: skip


def as_text(cases):
    lines = (
        json.dumps(case, ensure_ascii=False, separators=(",", ":")) for case in cases
    )
    return "[\n" + ",\n".join(lines) + "\n]\n"


if __name__ == "__main__":
    FILE.write_text(as_text(rooms()))
