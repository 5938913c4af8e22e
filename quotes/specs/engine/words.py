"""The words a build spec is written in; the values are what is stored."""

from __future__ import annotations

from enum import StrEnum


class PanelKind(StrEnum):
    """What a panel is for."""

    WALL = "wall"
    HUNG = "hung"
    REVEAL = "reveal"
    CORNER = "corner"
    SCREEN = "screen"


class Joint(StrEnum):
    """How the frame's corners meet."""

    BUTT = "butt"
    MITRE = "mitre"
    HALF_LAP = "half_lap"


class Through(StrEnum):
    """Which pair of members runs full length at butt joints."""

    WIDTH = "width"
    HEIGHT = "height"


class Runs(StrEnum):
    """Which way a brace runs."""

    ACROSS = "across"
    UPRIGHT = "upright"


class Lies(StrEnum):
    """How a brace lies in the frame."""

    FLAT = "flat"
    ON_EDGE = "on_edge"


class Edge(StrEnum):
    """How a brace's long edge is cut."""

    SQUARE = "square"
    BEVELLED = "bevelled"


class Position(StrEnum):
    """Where along the dimension it divides a brace sits."""

    TIGHT_TOP = "tight_top"
    TIGHT_BOTTOM = "tight_bottom"
    CENTRE = "centre"
    FRACTION = "fraction"
    SPREAD = "spread"


class Face(StrEnum):
    """The face a set-back is measured from."""

    FRONT = "front"
    BACK = "back"


class BackStyle(StrEnum):
    """Where the back fabric is fixed."""

    NONE = "none"
    INSIDE_FRAME = "inside_frame"
    OVER_BACK_EDGE = "over_back_edge"


class Hanging(StrEnum):
    """What holds the panel up."""

    CLEAT = "cleat"
    CHAIN = "chain"
    EDGE = "edge"
    BATTENS = "battens"
    FEET = "feet"


class ItemRole(StrEnum):
    """Whether an item is counted for the client's job or used up at the bench."""

    HARDWARE = "hardware"
    CONSUMABLE = "consumable"


class Fastening(StrEnum):
    """What holds the frame's corners besides glue."""

    NAILS = "nails"
    SCREWS = "screws"
    NONE = "none"


class Stage(StrEnum):
    """Which part of the job an operation belongs to."""

    MEASURE = "measure"
    BUILD = "build"
    UPHOLSTER = "upholster"
    PACK = "pack"
    INSTALL = "install"


class Driver(StrEnum):
    """What an item or an operation is counted by.

    JOB is 1 and is charged once for a job, however many panels it has; every other
    driver is counted for each panel. FRAME_METRE counts every strip of wood that is cut
    (a cleat pair once), SCREW_HOLE the holes in the building, HANGING_POINT the points,
    wall cleats, battens or feet that hold the panel.
    """

    JOB = "job"
    PANEL = "panel"
    JOINT = "joint"
    PART = "part"
    CUT = "cut"
    FRAME_METRE = "frame_metre"
    RIP_METRE = "rip_metre"
    BEVEL_METRE = "bevel_metre"
    BRACE = "brace"
    BLOCK = "block"
    FABRIC_M2 = "fabric_m2"
    FABRIC_EDGE_METRE = "fabric_edge_metre"
    SEAM_METRE = "seam_metre"
    FILL_M2 = "fill_m2"
    FILL_PIECE = "fill_piece"
    EDGE_STRIP_METRE = "edge_strip_metre"
    HANGING_POINT = "hanging_point"
    SCREW_HOLE = "screw_hole"
    FACE_M2 = "face_m2"


class PartRole(StrEnum):
    """What a wood part does."""

    RAIL = "rail"
    STILE = "stile"
    BRACE = "brace"
    PANEL_CLEAT = "panel_cleat"
    WALL_CLEAT = "wall_cleat"
    BLOCK = "block"
    BATTEN = "batten"
    FOOT = "foot"


class EndCut(StrEnum):
    """How a part's ends are cut."""

    SQUARE = "square"
    MITRE = "mitre"
    HALF_LAP = "half_lap"


class ClothRole(StrEnum):
    """Which side of the panel a cloth covers."""

    FRONT = "front"
    LINING = "lining"
    BACK = "back"
