"""What is typed in the two jobs that are done from end to end in the browser."""

from __future__ import annotations

from dataclasses import dataclass, field

PANEL_OF_OPENING = "window"


@dataclass(frozen=True)
class Wanted:
    """Panels that are alike."""

    build: str
    quantity: int
    width: str = ""
    height: str = ""
    opening: str = ""


@dataclass(frozen=True)
class Story:
    """What is typed on the way; fields and choices are named by how their labels begin."""

    client: str
    mail: str
    who: dict[str, str]
    asked: dict[str, str]
    chosen: dict[str, str]
    room: str
    measured: dict[str, str]
    made_of: dict[str, str]
    opening: dict[str, str]
    opening_chosen: dict[str, str]
    more_readings: dict[str, str]
    panels: tuple[Wanted, ...]
    day: dict[str, str] = field(default_factory=dict)

    @property
    def count(self) -> int:
        """How many panels it comes to."""
        return sum(wanted.quantity for wanted in self.panels)


CAFE = Story(
    client="Café Driftling",
    mail="mara@driftling.example.org",
    who={
        "Name": "Mara Quill",
        "Company": "Café Driftling",
        "Phone": "01632 960 120",
        "E-mail": "mara@driftling.example.org",
        "Address": "3 Weir Lane, Thimbleford",
    },
    asked={
        "What bothers them": "Nobody understands the person across the table.",
        "Floor area": "75",
    },
    chosen={
        "What the room is for": "café",
        "Whose walls they are": "tenant",
        "Who comes in": "open to the public",
    },
    room="Guest room",
    measured={"Length": "11840", "Width": "6.32 m", "Height": "3150"},
    made_of={"Walls are made of": "brick", "Ceiling is made of": "board on wood"},
    opening_chosen={"What it is": "window", "Wall": "wall B"},
    opening={
        "From the left corner": "2450",
        "Sill above the floor": "880",
        "Width": "1046",
        "Height": "1389",
    },
    more_readings={
        "Width in the middle": "1043",
        "Width at the bottom": "1044",
        "Height in the middle": "1387",
    },
    panels=(
        Wanted("Wall panel", 14, "600", "1200"),
        Wanted("Hung panel", 4, "1200", "900"),
        Wanted("Reveal panel", 1, opening=PANEL_OF_OPENING),
        Wanted("Corner panel", 2, "400", "1200"),
    ),
)

BOOTH = Story(
    client="Oriel Tamm",
    mail="oriel@tamm.example.org",
    who={
        "Name": "Oriel Tamm",
        "Phone": "(555) 010-0122",
        "E-mail": "oriel@tamm.example.org",
        "Address": "8 Cordwainer Street, Thimbleford",
    },
    asked={
        "What bothers them": "Recordings sound boxy, and the dog next door is on them.",
        "Panels, roughly": "9",
    },
    chosen={
        "What the room is for": "voice booth",
        "Whose walls they are": "owner",
        "Who comes in": "private home",
    },
    room="Booth",
    # Each as another tape, or another hand, would write it.
    measured={"Length": "7' 11 1/2\"", "Width": "5-10-1/2", "Height": "7 ft 8 in"},
    made_of={
        "Walls are made of": "board on wood",
        "Ceiling is made of": "board on wood",
    },
    opening_chosen={"What it is": "window", "Wall": "wall C"},
    opening={
        "From the left corner": "1' 9\"",
        "Sill above the floor": "36",
        "Width": "27 5/8",
        "Height": "31 1/4",
    },
    more_readings={
        "Width in the middle": "27 9/16",
        "Width at the bottom": "27.625",
        "Height in the middle": "31-3/16",
    },
    panels=(
        Wanted("Wall panel", 6, "20", "48"),
        Wanted("Corner panel", 2, "16", "4'"),
        Wanted("Reveal panel", 1, opening=PANEL_OF_OPENING),
    ),
)
