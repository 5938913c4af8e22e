"""The shop's own page."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from django.http import HttpResponse
from django.urls import reverse

from shared.conventions import from_provider
from shared.length import UnitSystem
from shared.slots import Section
from shop.people.models import ShopProfile
from shop.people.slots import SHOP_SECTIONS
from tests.pages import BAD_TEXTS, refused, soup, text

URL = "/shop/"
GOOD = {
    "name": "Quillback Panels",
    "strapline": "",
    "address": "1 Mill Yard\nWeirford",
    "phone": "0151 496 0018",
    "email": "office@example.org",
    "web": "",
    "tax_number": "",
    "how_to_pay": "By transfer.",
    "terms": "",
    "quote_valid_days": "21",
    "unit_system": "imperial",
    "fraction": "32",
    "currency": "usd",
    "locale": "en-US",
    "time_zone": "America/New_York",
    "paper": "Letter",
    "ballpark_per_m2_from": "60",
    "ballpark_per_m2_to": "95.50",
    "ballpark_per_panel_from": "",
    "ballpark_per_panel_to": "",
}


@pytest.fixture
def browser(client_as, owner):
    return client_as(owner)


def test_the_page_works_before_the_shop_is_set_up(browser):
    page = soup(browser.get(URL))
    assert page.find(attrs={"name": "name"})["value"] == "Your shop"


def test_what_is_stored_holds_for_the_next_page(browser):
    response = browser.post(URL, GOOD, follow=True)
    assert "Stored" in text(soup(response).find(id="messages"))
    conventions = from_provider()
    assert conventions.unit_system is UnitSystem.IMPERIAL
    assert (conventions.currency, conventions.locale) == ("USD", "en_US")
    assert conventions.time_zone == "America/New_York"
    shop = ShopProfile.objects.get()
    assert (shop.quote_valid_days, shop.ballpark_per_m2_to) == (21, Decimal("95.50"))


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", ""),
        ("name", "n" * 121),
        *(("name", bad) for bad in BAD_TEXTS),
        ("address", "a" * 401),
        ("email", "office at example"),
        ("quote_valid_days", ""),
        ("quote_valid_days", "soon"),
        ("quote_valid_days", "0"),
        ("quote_valid_days", "-3"),
        ("quote_valid_days", "99999999999999"),
        ("unit_system", "cubits"),
        ("fraction", "7"),
        ("currency", "XXY"),
        ("currency", "euro"),
        ("currency", ""),
        ("locale", "xx_YY"),
        ("locale", "../../etc"),
        ("locale", "en_"),
        ("time_zone", "Mars/Olympus"),
        ("time_zone", "../etc/passwd"),
        ("paper", "A3"),
        ("ballpark_per_m2_from", "sixty"),
        ("ballpark_per_m2_from", "-1"),
        ("ballpark_per_m2_from", "1e3"),
        ("ballpark_per_m2_from", "99999999999"),
        ("ballpark_per_m2_to", ""),
        ("ballpark_per_m2_to", "59"),
        ("ballpark_per_panel_from", "NaN"),
    ],
)
def test_bad_input_is_refused_beside_its_field(browser, field, value):
    refused(browser, URL, GOOD | {field: value}, field)
    assert not ShopProfile.objects.exists()


def test_a_second_shop_is_refused_by_the_database(shop):
    with pytest.raises(IntegrityError), transaction.atomic():
        ShopProfile.objects.create(id=2, name="Another")


def test_half_a_ballpark_is_refused_by_the_database(shop):
    shop.ballpark_per_m2_from = Decimal(60)
    with pytest.raises(IntegrityError), transaction.atomic():
        shop.save()


def test_an_invented_shop_is_marked_on_every_page(shop, client_as, maker):
    shop.invented = True
    shop.save()
    page = soup(client_as(maker).get(maker.get_absolute_url()))
    assert "Quillback Panels" in text(page.header)
    assert "nvented" in text(page.body)


def test_upper_features_add_to_the_page(browser, shop, monkeypatch):
    monkeypatch.setattr(SHOP_SECTIONS, "_functions", [])
    SHOP_SECTIONS.add(
        lambda request, shop: Section(
            "shared/_caution.html", {"title": f"From above for {shop.name}"}
        )
    )
    SHOP_SECTIONS.add(lambda request, shop: None)
    response: HttpResponse = browser.get(reverse("shop:profile"))
    assert "From above for Quillback Panels" in text(soup(response).main)
