"""Forms of builds and of planned panels."""

from quotes.specs.forms.build import BuildForm, BuildForms, ExampleForm, row_set_to_grow
from quotes.specs.forms.plan import GroupForm, PlanOptions

__all__ = [
    "BuildForm",
    "BuildForms",
    "ExampleForm",
    "GroupForm",
    "PlanOptions",
    "row_set_to_grow",
]
