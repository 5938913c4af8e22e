"""What pages and papers show of builds and planned panels."""

from quotes.specs.reports.figures import Step
from quotes.specs.reports.fit import UNMEASURED, RoomSize, room_size
from quotes.specs.reports.plan import (
    MeasuredOpening,
    PanelGroup,
    group_of,
    group_panels,
    groups_in_room,
    measured_openings,
)
from quotes.specs.reports.tables import Named, Tables, tables_of
from quotes.specs.reports.worked import (
    BuildRow,
    Example,
    Preview,
    Worked,
    builds_at_usual_size,
    example_of,
    size_words,
    usual_size,
    work_out,
)

__all__ = [
    "UNMEASURED",
    "BuildRow",
    "Example",
    "MeasuredOpening",
    "Named",
    "PanelGroup",
    "Preview",
    "RoomSize",
    "Step",
    "Tables",
    "Worked",
    "builds_at_usual_size",
    "example_of",
    "group_of",
    "group_panels",
    "groups_in_room",
    "measured_openings",
    "room_size",
    "size_words",
    "tables_of",
    "usual_size",
    "work_out",
]
