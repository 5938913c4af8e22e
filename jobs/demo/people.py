"""The invented shop and the four people who work in it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

from shop.people.actions import add_person, change_profile
from shop.people.models import Person, RoleChoice, ShopProfile


@dataclass(frozen=True, slots=True)
class Part:
    """One person of the cast and how to sign in as them."""

    username: str
    role: RoleChoice
    first_name: str
    last_name: str
    password: str


PARTS = (
    Part("ada", RoleChoice.OWNER, "Ada", "Brindle", "maple-batten-71"),
    Part("olek", RoleChoice.OFFICE, "Olek", "Varn", "paper-square-28"),
    Part("mina", RoleChoice.MAKER, "Mina", "Tolle", "bevel-forty-five"),
    Part("finn", RoleChoice.FITTER, "Finn", "Marrow", "ladder-and-level-9"),
)
"""One for each role. Known to everybody: the demo is no place for real data."""

TERMS = """\
Half is due when you say yes, the rest within fourteen days of the last panel going up.
Panels are made to your sizes and can't be taken back, but whatever is wrong with them we put right.
Please clear the walls and half a metre in front of them before we come.
"""


@dataclass(frozen=True, slots=True)
class Cast:
    """The people of the demo, by what they do."""

    owner: Person
    office: Person
    maker: Person
    fitter: Person


def sign_ins() -> list[str]:
    """Return a line for each role: what it is, the name and the password."""
    return [f"{p.role.label:<8} {p.username:<6} {p.password}" for p in PARTS]


def hire(at: dt.datetime) -> Cast:
    """Take the cast on; the owner comes first and takes on the others."""
    owner = _person(PARTS[0], at)
    people = [
        add_person(
            owner if part is PARTS[0] else _person(part, at),
            password=part.password,
            by=owner,
            at=at,
        )
        for part in PARTS
    ]
    return Cast(*people)


def _person(part: Part, at: dt.datetime) -> Person:
    return Person(
        username=part.username,
        role=part.role,
        first_name=part.first_name,
        last_name=part.last_name,
        email=f"{part.username}@bevel-and-batten.example.org",
        date_joined=at,
    )


def open_shop(owner: Person, at: dt.datetime) -> ShopProfile:
    """Write the shop's page, marked as invented."""
    shop = ShopProfile(
        name="Bevel & Batten",
        strapline="Quiet walls, made to measure",
        address="12 Sawpit Yard\nThimbleford",
        phone="01632 960 100",
        email="office@bevel-and-batten.example.org",
        web="bevel-and-batten.example.org",
        tax_number="XX 000 0000 00",
        how_to_pay="By transfer to Bevel & Batten, account XX00 0000 0000 0000 (invented).",
        terms=TERMS,
        currency="GBP",
        locale="en_GB",
        time_zone="Europe/London",
        quote_valid_days=30,
        ballpark_per_m2_from=Decimal(110),
        ballpark_per_m2_to=Decimal(190),
        ballpark_per_panel_from=Decimal(240),
        ballpark_per_panel_to=Decimal(420),
        invented=True,
    )
    change_profile(shop, by=owner, at=at)
    return shop
