"""Forms of builds and of planned panels."""

from quotes.specs.forms.build import BuildForm
from quotes.specs.forms.example import ExampleForm
from quotes.specs.forms.plan import GroupForm, PlanOptions
from quotes.specs.forms.whole import BuildForms, row_set_to_grow

__all__ = [
    "BuildForm",
    "BuildForms",
    "ExampleForm",
    "GroupForm",
    "PlanOptions",
    "row_set_to_grow",
]
