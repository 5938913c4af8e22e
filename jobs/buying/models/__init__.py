"""What jobs need, what is on order, what came, what a job used."""

from jobs.buying.models.deliveries import Delivery, DeliveryLine
from jobs.buying.models.needs import JobNeed, JobUse, NeedSource
from jobs.buying.models.orders import Order, OrderLine, OrderState

__all__ = [
    "Delivery",
    "DeliveryLine",
    "JobNeed",
    "JobUse",
    "NeedSource",
    "Order",
    "OrderLine",
    "OrderState",
]
