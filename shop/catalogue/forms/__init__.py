"""Forms of the stores."""

from shop.catalogue.forms.stores import (
    FinishForm,
    MaterialForm,
    OperationForm,
    SupplierForm,
)

__all__ = ["FinishForm", "MaterialForm", "OperationForm", "SupplierForm"]
