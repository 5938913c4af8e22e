"""The site on the walk: address, the way in, the day there, the papers asked for."""

from __future__ import annotations

from shop.clients.models import Setting, Tenure
from shop.surveys.reports.walk.fields import Field, Kind

TENURES = tuple((str(value), str(label)) for value, label in Tenure.choices)
SETTINGS = tuple((str(value), str(label)) for value, label in Setting.choices)


def _line(name: str, label: str, most: int = 200) -> Field:
    return Field(name, label, "line", most=most)


SITE = Kind(
    "site",
    (
        Field("address", "Address", "area", most=400),
        Field("access_notes", "Getting in, else", "area", most=2000),
        Field("year_built", "Year built", "number"),
        Field("tenure", "Whose walls they are", "choice", choices=TENURES),
        Field("setting", "Who comes in", "choice", choices=SETTINGS),
        _line("parking", "Parking"),
        _line("stairs", "Stairs: how many, any tight turn"),
        _line("lift", "Lift: its inside size, the key"),
        Field("narrowest_door", "Narrowest door on the way in"),
        _line("floor_protection", "Floor protection"),
        _line("working_hours", "Working hours"),
        _line("power", "Power"),
        _line("who_is_there", "Who is there on the day"),
        _line("purchase_order", "Purchase order", 80),
        _line("insurance_papers", "Insurance papers asked for"),
        _line("induction", "Induction on site"),
    ),
)
