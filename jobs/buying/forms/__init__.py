"""What is typed about orders, deliveries, and material taken out for a job."""

from jobs.buying.forms.deliveries import DeliveryForm
from jobs.buying.forms.orders import (
    AddLineForm,
    DraftForm,
    ExpectForm,
    MailForm,
    NewOrderForm,
    PlaceForm,
)
from jobs.buying.forms.uses import TakeOutForm

__all__ = [
    "AddLineForm",
    "DeliveryForm",
    "DraftForm",
    "ExpectForm",
    "MailForm",
    "NewOrderForm",
    "PlaceForm",
    "TakeOutForm",
]
