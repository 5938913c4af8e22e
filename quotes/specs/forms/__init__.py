"""Forms of builds and of planned panels."""

from quotes.specs.forms.build import BuildForm, BuildForms, ExampleForm
from quotes.specs.forms.plan import GroupForm, PlanOptions

__all__ = ["BuildForm", "BuildForms", "ExampleForm", "GroupForm", "PlanOptions"]
