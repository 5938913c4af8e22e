"""What Django finds of this app's features."""

from shop.catalogue.models import Material, Operation, Supplier
from shop.clients.models import Client, ClientDetails, ClientNote, Enquiry, Site
from shop.people.models import Person, ShopProfile
from shop.surveys.models import Opening, Reading, Room, Survey, Wall, Zone

__all__ = [
    "Client",
    "ClientDetails",
    "ClientNote",
    "Enquiry",
    "Material",
    "Opening",
    "Operation",
    "Person",
    "Reading",
    "Room",
    "ShopProfile",
    "Site",
    "Supplier",
    "Survey",
    "Wall",
    "Zone",
]
