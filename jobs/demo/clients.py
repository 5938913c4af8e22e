"""The invented clients: what each asked for and what was measured and planned for them."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from jobs.demo.people import Cast
from jobs.demo.rooms import (
    Hole,
    Measured,
    Place,
    Wish,
    furnish,
    keep_clear,
    measure,
    open_wall,
    plan,
)
from shared.conventions import today
from shop.clients.actions import add_client, note_said
from shop.clients.models import (
    Client,
    ClientDetails,
    Enquiry,
    Setting,
    Site,
    Tenure,
    Use,
)
from shop.surveys.models import Construction, OpeningKind, Room, SpotKind, ZoneKind

DAY = dt.timedelta(days=1)


def cafe(cast: Cast, at: dt.datetime) -> Room:
    """Write down a loud café: wall panels, hung ones, one for a window, two for corners."""
    asked = at - 40 * DAY
    site = Site(
        address="3 Weir Lane\nThimbleford",
        access_notes="Loading from the yard behind, before eight. Back door 84 cm wide."
        " Ring Mara on the way.",
        year_built=1964,
        tenure=Tenure.TENANT,
        setting=Setting.PUBLIC,
        distance_km=Decimal(14),
        travel_minutes=25,
    )
    add_client(
        ClientDetails(
            name="Mara Quill",
            company="Café Driftling",
            email="mara@driftling.example.org",
            phone="01632 960 120",
            address="3 Weir Lane\nThimbleford",
        ),
        enquiry=Enquiry(
            asked_on=today(asked),
            bothers="From eleven on nobody understands the person across the table."
            " Staff go home with headaches.",
            use=Use.CAFE,
            budget_from=Decimal(6000),
            budget_to=Decimal(12000),
            wanted_by=today(at + 20 * DAY),
            tenure=Tenure.TENANT,
            setting=Setting.PUBLIC,
            who_decides="Mara; the landlord has to agree to the fixings",
            found_us="Sat in another room that we did",
            floor_m2=Decimal(75),
            panels=20,
        ),
        site=site,
        by=cast.office,
        at=asked,
    )
    note_said(
        site.client,
        text="Landlord wants to see where the screws go before he agrees.",
        by=cast.office,
        at=at - 38 * DAY,
    )
    room = Room(site=site, name="Guest room", use=Use.CAFE, storey="ground floor")
    _measure_cafe(room, cast, at - 36 * DAY)
    return room


def _measure_cafe(room: Room, cast: Cast, at: dt.datetime) -> None:
    by = cast.fitter
    walls = measure(
        room,
        Measured(
            length="11840",
            width="6320",
            height="3150",
            walls=Construction.BRICK,
            ceiling=Construction.BOARD_WOOD,
            notes="Joists run along the short side. Old tiles behind the bar stay.",
        ),
        by=by,
        at=at,
    )
    side_window = Hole(
        OpeningKind.WINDOW,
        "side window",
        from_left="2450",
        sill="880",
        widths=("1046", "1043", "1044"),
        heights=("1389", "1387", "1388"),
        diagonals=("1737", "1736"),
        reveal="185",
        gets_panel=True,
    )
    door = Hole(
        OpeningKind.DOOR,
        "street door",
        from_left="900",
        sill="0",
        widths=("1010",),
        heights=("2130",),
        must_open=True,
    )
    window = open_wall(walls["B"], side_window, by=by, at=at)
    open_wall(walls["A"], door, by=by, at=at)
    keep_clear(walls["A"], ZoneKind.SWITCH, "2050", "1020", "90", "160", by=by, at=at)
    keep_clear(walls["C"], ZoneKind.RADIATOR, "400", "80", "1600", "600", by=by, at=at)
    counter = Place(SpotKind.SOURCE, "counter", "1500", "1200", "1500")
    furnish(walls, {"person": 34, "hard_seat": 40, "table": 14}, counter, by=by, at=at)
    plan(
        room,
        Wish("wall-panel", 14, ("600", "1200"), fabric="harbour-moss"),
        Wish("hung-panel", 4, ("1200", "900"), fabric="harbour-sand"),
        Wish("reveal-panel", 1, opening=window, fabric="kiln-brick"),
        Wish("corner-panel", 2, ("400", "1200"), note="left and right of the bar"),
        by=cast.office,
        at=at + 2 * DAY,
    )


def music_room(cast: Cast, at: dt.datetime) -> Room:
    """Write down a music room at home, for six wall panels."""
    asked = at - 64 * DAY
    site = Site(
        address="Alder End, Mill Rise\nNether Thimble",
        access_notes="Narrow stairs: 72 cm.",
        year_built=1931,
        tenure=Tenure.OWNER,
        setting=Setting.PRIVATE,
        distance_km=Decimal(6),
        travel_minutes=15,
    )
    add_client(
        ClientDetails(
            name="Nela Corvane",
            email="nela@corvane.example.org",
            phone="01632 960 121",
            address="Alder End, Mill Rise\nNether Thimble",
        ),
        enquiry=Enquiry(
            asked_on=today(asked),
            bothers="The cello sounds harsh, and every note hangs in the room.",
            use=Use.MUSIC,
            tenure=Tenure.OWNER,
            setting=Setting.PRIVATE,
            floor_m2=Decimal("18.5"),
        ),
        site=site,
        by=cast.office,
        at=asked,
    )
    room = Room(site=site, name="Music room", use=Use.MUSIC, storey="1st floor")
    measured = Measured(
        length="4870",
        width="3810",
        height="2620",
        walls=Construction.LATH,
        ceiling=Construction.LATH,
        counts={"person": 2, "soft_seat": 1, "shelves": 2},
        places=(Place(SpotKind.SEAT, "piano stool", "2 m", "1.5 m", "1.2 m"),),
    )
    measure(room, measured, by=cast.fitter, at=at - 60 * DAY)
    plan(
        room,
        Wish("wall-panel", 6, ("600", "1200"), fabric="kiln-ink"),
        by=cast.office,
        at=at - 58 * DAY,
    )
    return room


def voice_booth(cast: Cast, at: dt.datetime) -> Room:
    """Write down a voice booth under the stairs."""
    asked = at - 15 * DAY
    site = Site(
        address="8 Cordwainer Street\nThimbleford",
        access_notes="Ground floor, parking in front.",
        year_built=2009,
        tenure=Tenure.OWNER,
        setting=Setting.PRIVATE,
        distance_km=Decimal("3.5"),
        travel_minutes=10,
    )
    add_client(
        ClientDetails(
            name="Oriel Tamm",
            email="oriel@tamm.example.org",
            phone="01632 960 122",
            address="8 Cordwainer Street\nThimbleford",
        ),
        enquiry=Enquiry(
            asked_on=today(asked),
            bothers="Recordings sound boxy, and the neighbour's dog is on every take.",
            wants_noise_kept_out=True,
            use=Use.VOICE,
            tenure=Tenure.OWNER,
            setting=Setting.PRIVATE,
            panels=8,
        ),
        site=site,
        by=cast.office,
        at=asked,
    )
    room = Room(site=site, name="Booth", use=Use.VOICE, storey="ground floor")
    measured = Measured(
        length="2410",
        width="1780",
        height="2330",
        walls=Construction.BOARD_WOOD,
        ceiling=Construction.BOARD_WOOD,
        counts={"person": 1, "soft_seat": 1, "table": 1},
        places=(Place(SpotKind.SOURCE, "microphone", "1 m", "1 m", "1.4 m"),),
    )
    measure(room, measured, by=cast.fitter, at=at - 12 * DAY)
    plan(
        room,
        Wish("wall-panel", 6, ("500", "1200"), fabric="kiln-ink"),
        Wish("corner-panel", 2, ("400", "1200"), fabric="kiln-ink"),
        by=cast.owner,
        at=at - 10 * DAY,
    )
    return room


def hall(cast: Cast, at: dt.datetime) -> Room:
    """Write down a village hall, to be quoted for by the next meeting."""
    asked = at - 9 * DAY
    site = Site(
        address="The Green\nWimbrel",
        access_notes="Key at number 2. Ceiling needs the tall tower.",
        tenure=Tenure.OWNER,
        setting=Setting.PUBLIC,
        distance_km=Decimal(31),
        travel_minutes=45,
    )
    add_client(
        ClientDetails(
            name="Petra Lowick",
            company="Wimbrel Hall Committee",
            email="petra@wimbrel.example.org",
            phone="01632 960 123",
            address="The Green\nWimbrel",
        ),
        enquiry=Enquiry(
            asked_on=today(asked),
            bothers="Nobody in the back half follows what is said on the stage.",
            use=Use.HALL,
            tenure=Tenure.OWNER,
            setting=Setting.PUBLIC,
            who_decides="The committee, first Tuesday of the month",
            floor_m2=Decimal(144),
        ),
        site=site,
        by=cast.office,
        at=asked,
    )
    room = Room(site=site, name="Main hall", use=Use.HALL, storey="ground floor")
    measured = Measured(
        length="16200",
        width="8900",
        height="4400",
        walls=Construction.BLOCK,
        ceiling=Construction.TIMBER,
        counts={"person": 60, "hard_seat": 80},
        places=(Place(SpotKind.SOURCE, "stage", "4 m", "1 m", "1.7 m"),),
    )
    measure(room, measured, by=cast.fitter, at=at - 5 * DAY)
    plan(
        room,
        Wish("wall-panel", 24, ("600", "1200"), fabric="harbour-sand"),
        Wish("hung-panel", 10, ("1200", "900"), fabric="harbour-sand"),
        Wish("screen", 2, ("1000", "1600"), fabric="kiln-brick"),
        by=cast.office,
        at=at - 3 * DAY,
    )
    return room


def enquiry_only(cast: Cast, at: dt.datetime) -> Client:
    """Write down somebody who rang this morning."""
    return add_client(
        ClientDetails(name="Idris Fenn", phone="01632 960 124"),
        enquiry=Enquiry(
            asked_on=today(at),
            bothers="Two of us teach the drums in the same flat.",
            use=Use.TEACHING,
            tenure=Tenure.TENANT,
            wants_noise_kept_out=True,
            panels=10,
        ),
        by=cast.office,
        at=at,
    )
