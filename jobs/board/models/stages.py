"""The stages of a panel, in the order of the work."""

from django.db import models


class Stage(models.TextChoices):
    """How far a panel is, in the order of the work."""

    PLANNED = "planned", "planned"
    MEASURED = "measured", "measured"
    BUILT = "built", "built"
    UPHOLSTERED = "upholstered", "upholstered"
    INSTALLED = "installed", "installed"


STAGES: tuple[Stage, ...] = tuple(Stage)
