"""The size at which a build is shown."""

from __future__ import annotations

from collections.abc import Iterable

from quotes.specs.engine.model import NominalSize, Problem, TakeoffError
from shared.forms import LengthFormField, PlainForm


class ExampleForm(PlainForm):
    """The size at which a build is shown."""

    w = LengthFormField(label="Width")
    h = LengthFormField(label="Height")

    def size(self) -> NominalSize | None:
        """Return the size typed; nothing, with a sentence beside it, if there is none."""
        if not self.is_valid():
            return None
        try:
            return NominalSize(self.cleaned_data["w"], self.cleaned_data["h"])
        except TakeoffError as refused:
            self.show(refused.problems)
            return None

    def show(self, problems: Iterable[Problem]) -> list[Problem]:
        """Put refusals of the size beside their fields; return those of the build."""
        fields = {"width_ticks": "w", "height_ticks": "h"}
        others = []
        for problem in problems:
            if self.is_bound and problem.field in fields:
                self.add_error(fields[problem.field], problem.message)
            else:
                others.append(problem)
        return others
