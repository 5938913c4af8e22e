"""What Django finds of this app's features."""

from shop.catalogue.models import Finish, Material, Operation, Supplier
from shop.clients.models import Client, ClientDetails, ClientNote, Enquiry, Site
from shop.people.models import Person, ShopProfile
from shop.surveys.models import (
    Beam,
    Covering,
    Furniture,
    Member,
    Opening,
    Reading,
    Room,
    Spot,
    Survey,
    Wall,
    Zone,
    ZoneRule,
)

__all__ = [
    "Beam",
    "Client",
    "ClientDetails",
    "ClientNote",
    "Covering",
    "Enquiry",
    "Finish",
    "Furniture",
    "Material",
    "Member",
    "Opening",
    "Operation",
    "Person",
    "Reading",
    "Room",
    "ShopProfile",
    "Site",
    "Spot",
    "Supplier",
    "Survey",
    "Wall",
    "Zone",
    "ZoneRule",
]
