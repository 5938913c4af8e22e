"""What the takeoff refuses or flags, and the one error it raises."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How bad a problem is: refuse stops the takeoff, flag only warns."""

    REFUSE = "refuse"
    FLAG = "flag"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a size or a build, for the form to show by its field.

    field names a field of NominalSize ("width_ticks", "height_ticks"), of Build
    ("depth_ticks", "fill", "front_fabric" …) or of a brace ("braces[0].strip_ticks").
    message is a sentence for people that says what would work.
    """

    field: str
    severity: Severity
    message: str


class TakeoffError(ValueError):
    """A build, a material or a size that cannot be taken off.

    field and message are those of the first refusal; problems holds every refusal
    (and any flag found on the way) so that a form can show them all at once.
    """

    def __init__(
        self, field: str, message: str, problems: tuple[Problem, ...] = ()
    ) -> None:
        """Keep the field and the sentence; problems defaults to just this one."""
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message
        self.problems = problems or (Problem(field, Severity.REFUSE, message),)
