"""Forms of the stores, and their lists as files."""

from shop.catalogue.forms.books import BOOKS, Book
from shop.catalogue.forms.files import ImportForm, StoreForm
from shop.catalogue.forms.plans import Plan, plan_import
from shop.catalogue.forms.stores import (
    FinishForm,
    MaterialForm,
    OperationForm,
    SupplierForm,
)

__all__ = [
    "BOOKS",
    "Book",
    "FinishForm",
    "ImportForm",
    "MaterialForm",
    "OperationForm",
    "Plan",
    "StoreForm",
    "SupplierForm",
    "plan_import",
]
