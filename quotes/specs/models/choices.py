"""The words of a build as the shop reads them; the values are the takeoff's."""

from django.db import models


class PanelKind(models.TextChoices):
    """Where a panel goes."""

    WALL = "wall", "wall panel"
    HUNG = "hung", "hung panel"
    REVEAL = "reveal", "reveal panel"
    CORNER = "corner", "corner panel"
    SCREEN = "screen", "free-standing screen"


class Joint(models.TextChoices):
    """How the frame's corners meet."""

    BUTT = "butt", "butt joint"
    MITRE = "mitre", "mitre"
    HALF_LAP = "half_lap", "half-lap"


class Fastening(models.TextChoices):
    """What holds the corners besides glue."""

    NAILS = "nails", "nails"
    SCREWS = "screws", "screws"
    NONE = "none", "nothing else"


class Through(models.TextChoices):
    """Which pair of a butt-jointed frame runs through."""

    WIDTH = "width", "top and bottom"
    HEIGHT = "height", "the two sides"


class BackStyle(models.TextChoices):
    """Where the back fabric lies."""

    NONE = "none", "no back fabric"
    INSIDE_FRAME = "inside_frame", "inside the frame, cleat bare"
    OVER_BACK_EDGE = "over_back_edge", "over the back edge"


class Hanging(models.TextChoices):
    """What holds the panel."""

    CLEAT = "cleat", "bevelled cleats"
    CHAIN = "chain", "links and chain"
    EDGE = "edge", "compressible edge"
    BATTENS = "battens", "battens in a corner"
    FEET = "feet", "feet"


class BraceRun(models.TextChoices):
    """Which way a brace runs."""

    ACROSS = "across", "across the width"
    UPRIGHT = "upright", "up the height"


class BraceLies(models.TextChoices):
    """How a brace lies in the frame."""

    FLAT = "flat", "flat"
    ON_EDGE = "on_edge", "on edge"


class BraceEdge(models.TextChoices):
    """The long edge of a brace."""

    SQUARE = "square", "square"
    BEVELLED = "bevelled", "bevelled: it is the cleat"


class BracePlace(models.TextChoices):
    """Where a brace goes."""

    TIGHT_TOP = "tight_top", "tight under the top rail"
    TIGHT_BOTTOM = "tight_bottom", "tight on the bottom rail"
    CENTRE = "centre", "in the middle"
    FRACTION = "fraction", "at a share of the way"
    SPREAD = "spread", "spread evenly"


class Face(models.TextChoices):
    """Which face a set-back counts from."""

    FRONT = "front", "front"
    BACK = "back", "back"
