"""Writing clients, enquiries and sites down, and what is refused."""

import datetime as dt
import unicodedata
from decimal import Decimal

import pytest
from django.urls import reverse

from shared.models import Entry
from shop.clients.models import Client, Enquiry, Site
from shop.clients.reports import getting_in
from tests.factories.clients import make_client, make_enquiry, make_site
from tests.factories.people import make_profile
from tests.pages import BAD_TEXTS, GOOD_TEXTS, refused, soup, text

NEW = "/clients/new/"
TYPED = {
    "name": "Mara Quill",
    "company": "Café Linnet",
    "phone": "0151 496 0018",
    "email": "mara@example.org",
    "address": "4 Weir Lane\nWeirford",
    "asked_on": "2026-03-02",
    "bothers": "Two tables talk and nobody hears a word.",
    "wants_noise_kept_out": "on",
    "use": "cafe",
    "tenure": "tenant",
    "setting": "public",
    "floor_m2": "42",
    "panels": "14",
    "budget_from": "2000",
    "budget_to": "4500.50",
    "wanted_by": "2026-06-01",
    "who_decides": "Mara",
    "found_us": "word of mouth",
    "site-same": "on",
    "site-address": "",
    "site-access_notes": "Ring at the back.",
    "site-year_built": "1965",
    "site-distance_km": "12.5",
    "site-travel_minutes": "25",
}


@pytest.fixture
def browser(client_as, office):
    make_profile(
        ballpark_per_panel_from=Decimal(180), ballpark_per_panel_to=Decimal(260)
    )
    return client_as(office)


def test_one_form_makes_client_enquiry_and_site(browser):
    response = browser.post(NEW, TYPED, follow=True)
    client = Client.objects.get()
    site, enquiry = client.sites.get(), client.enquiries.get()
    assert response.redirect_chain[-1][0] == client.get_absolute_url()
    assert client.details.phone_digits == "01514960018"
    assert site.address == client.details.address == "4 Weir Lane\nWeirford"
    assert (site.tenure, site.setting) == ("tenant", "public")
    assert (site.year_built, site.travel_minutes) == (1965, 25)
    assert enquiry.asked_on == dt.date(2026, 3, 2)
    assert enquiry.budget_to == Decimal("4500.5")
    assert enquiry.wants_noise_kept_out


def test_the_ballpark_is_reckoned_and_shown_with_how_it_came(browser):
    page = soup(browser.post(NEW, TYPED, follow=True))
    assert "EUR 2,500 to 3,700" in text(page.select_one(".workings"))
    assert "14 panels × EUR 180 to 260 = EUR 2,520 to 3,640" in text(page.main)


def test_name_and_bother_are_enough(browser):
    little = {"name": "M", "asked_on": "2026-03-02", "bothers": "Echo."}
    assert browser.post(NEW, little).status_code == 302
    assert not Site.objects.exists()


def test_another_address_of_the_rooms_wins(browser):
    browser.post(NEW, TYPED | {"site-address": "The Old Mill"})
    assert Site.objects.get().address == "The Old Mill"


def test_the_log_says_who_did_what_and_names_nobody(browser, office):
    browser.post(NEW, TYPED)
    entries = Entry.objects.about("client", Client.objects.get().pk)
    assert {e.verb for e in entries} == {"add", "enquiry", "site"}
    assert all(e.by == office for e in entries)
    assert not any("Mara" in e.text or "Weir" in e.text for e in entries)


BAD = [
    ("name", ""),
    ("name", "n" * 121),
    *(("name", bad) for bad in BAD_TEXTS),
    ("company", "c" * 121),
    ("phone", "0" * 41),
    ("email", "mara at example"),
    ("address", "a" * 401),
    ("address", "a\0b"),
    ("asked_on", ""),
    ("asked_on", "yesterday"),
    ("asked_on", "0001-01-01"),
    ("asked_on", "99999-01-01"),
    ("bothers", ""),
    ("bothers", "b" * 2001),
    *(("bothers", bad) for bad in BAD_TEXTS),
    ("use", "dungeon"),
    ("tenure", "king"),
    ("setting", "secret"),
    ("floor_m2", "large"),
    ("floor_m2", "-4"),
    ("floor_m2", "0"),
    ("floor_m2", "99999999999999999999"),
    ("floor_m2", "42 acres"),
    ("panels", "some"),
    ("panels", "-1"),
    ("panels", "0"),
    ("panels", "1.5"),
    ("panels", "99999999999"),
    ("budget_from", "lots"),
    ("budget_from", "-1"),
    ("budget_from", "99999999999"),
    ("budget_from", "1,250"),
    ("budget_to", "1999"),
    ("wanted_by", "soon"),
    ("who_decides", "w" * 121),
    ("found_us", "f\u202ef"),
    ("site-address", "a" * 401),
    ("site-access_notes", "a" * 2001),
    ("site-year_built", "old"),
    ("site-year_built", "65"),
    ("site-year_built", "-1965"),
    ("site-distance_km", "far"),
    ("site-distance_km", "-1"),
    ("site-distance_km", "40000"),
    ("site-travel_minutes", "1441"),
    ("site-travel_minutes", "x"),
]


@pytest.mark.parametrize(("field", "value"), BAD)
def test_bad_input_is_refused_beside_its_field(browser, field, value):
    refused(browser, NEW, TYPED | {field: value}, field)
    assert not Client.objects.exists()
    assert not Enquiry.objects.exists()


@pytest.mark.parametrize("name", GOOD_TEXTS)
def test_odd_names_are_names_all_the_same(browser, name):
    page = soup(browser.post(NEW, TYPED | {"name": name, "company": ""}, follow=True))
    assert text(page.h1) == unicodedata.normalize("NFC", name)


def test_a_site_with_facts_and_no_address_is_asked_for_one(browser):
    typed = TYPED | {"address": "", "site-address": ""}
    refused(browser, NEW, typed, "site-address")
    assert not Client.objects.exists()


def test_changed_details_are_stored_and_found(browser):
    client = make_client()
    typed = {"name": "Mara Reed", "company": "", "phone": "+44 20 7946", "email": ""}
    url = reverse("shop:client-change", args=[client.pk])
    browser.post(url, typed | {"address": "", "notes": "Has a dog."})
    client = Client.objects.matching("mara reed").get()
    assert client.notes == "Has a dog."
    assert client.details.phone_digits == "44207946"


def test_a_refused_change_leaves_the_heading_and_the_row(browser):
    client = make_client()
    url = reverse("shop:client-change", args=[client.pk])
    page = refused(browser, url, {"name": "", "notes": "x"}, "name")
    assert "Mara Quill" in text(page.select_one(".crumbs"))
    client.details.refresh_from_db()
    assert client.details.name == "Mara Quill"


def _enquiry_typed(**given):
    names = (
        "asked_on bothers use tenure setting floor_m2 panels budget_from budget_to"
        " wanted_by who_decides found_us"
    )
    return {name: TYPED[name] for name in names.split()} | given


def test_a_second_enquiry_is_added(browser):
    client = make_client()
    url = reverse("shop:enquiry-new", args=[client.pk])
    assert browser.post(url, _enquiry_typed())["Location"] == client.get_absolute_url()
    assert client.enquiries.get().ballpark_from == 2500


def test_a_changed_enquiry_is_reckoned_anew(browser):
    enquiry = make_enquiry(panels=14)
    url = reverse("shop:enquiry-change", args=[enquiry.pk])
    browser.post(url, _enquiry_typed(panels="", floor_m2=""))
    enquiry.refresh_from_db()
    assert enquiry.ballpark_from is None
    assert enquiry.ballpark_how == ""


@pytest.mark.parametrize(
    ("field", "value"), [("bothers", ""), ("panels", "-1"), ("budget_to", "1")]
)
def test_a_bad_change_of_an_enquiry_is_refused(browser, field, value):
    enquiry = make_enquiry()
    url = reverse("shop:enquiry-change", args=[enquiry.pk])
    refused(browser, url, _enquiry_typed(**{field: value}), field)
    enquiry.refresh_from_db()
    assert enquiry.panels is None


def test_a_site_is_offered_what_is_known_already(browser):
    client = make_client(address="4 Weir Lane")
    make_enquiry(client=client, tenure="tenant", setting="work")
    page = soup(browser.get(reverse("shop:site-new", args=[client.pk])))
    assert page.find(id="id_address").get_text().strip() == "4 Weir Lane"
    assert page.select_one("#id_tenure [selected]")["value"] == "tenant"


SITE = {
    "address": "The Old Mill",
    "access_notes": "",
    "year_built": "",
    "tenure": "",
    "setting": "",
    "distance_km": "",
    "travel_minutes": "",
}


def test_a_site_is_added_and_changed(browser):
    client = make_client()
    browser.post(reverse("shop:site-new", args=[client.pk]), SITE)
    site = client.sites.get()
    url = reverse("shop:site-change", args=[site.pk])
    browser.post(url, SITE | {"address": "The New Mill", "year_built": "2001"})
    site.refresh_from_db()
    assert (site.address, site.year_built) == ("The New Mill", 2001)
    assert Client.objects.matching("new mill").get() == client


@pytest.mark.parametrize(
    ("field", "value"), [("address", ""), ("address", "a\0"), ("year_built", "3000")]
)
def test_a_bad_site_is_refused(browser, field, value):
    site = make_site()
    url = reverse("shop:site-change", args=[site.pk])
    refused(browser, url, SITE | {field: value}, field)
    site.refresh_from_db()
    assert site.address == "4 Weir Lane"


WAY_IN = {
    "parking": "two bays behind",
    "stairs": "14, a turn half way",
    "lift": "",
    "narrowest_door_ticks": "72 cm",
    "floor_protection": "oak, cover it",
    "working_hours": "8 to 17, no noise at noon",
    "power": "in the hall",
    "who_is_there": "Ina, 01632 960 200",
    "purchase_order": "PO-4471",
    "insurance_papers": "liability",
    "induction": "ten minutes at the gate",
}


def test_a_site_keeps_the_way_in_the_day_and_the_papers(browser):
    site = make_site(access_notes="Round the back.")
    browser.post(reverse("shop:site-change", args=[site.pk]), SITE | WAY_IN)
    site.refresh_from_db()
    assert (site.narrowest_door_ticks, site.narrowest_door_text) == (720 * 320, "72 cm")
    assert site.purchase_order == "PO-4471"
    page = soup(browser.get(site.client.get_absolute_url()))
    facts = text(page.select_one(f"#site-{site.pk}"))
    for known in ("Parking two bays behind", "Narrowest door on the way in 720 mm"):
        assert known in facts
    assert "Lift" not in facts


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("parking", "p" * 201),
        ("stairs", "a\0"),
        ("narrowest_door_ticks", "0"),
        ("narrowest_door_ticks", "6 m"),
        ("narrowest_door_ticks", "narrow"),
        ("purchase_order", "n" * 81),
    ],
)
def test_bad_words_on_the_way_in_are_refused(browser, field, value):
    url = reverse("shop:site-change", args=[make_site().pk])
    refused(browser, url, SITE | WAY_IN | {field: value}, field)


def test_all_that_is_known_of_getting_in_is_one_text(shop):
    site = make_site(access_notes="Ring twice.", parking="behind", lift="none")
    assert getting_in(site) == "Ring twice.\nParking: behind\nLift: none"
    assert getting_in(make_site(access_notes="")) == ""


def test_in_a_shop_of_feet_a_bare_area_is_square_feet(browser):
    make_profile(unit_system="imperial", currency="USD", locale="en_US")
    browser.post(NEW, TYPED | {"floor_m2": "450", "site-distance_km": "10"})
    enquiry = Enquiry.objects.get()
    assert enquiry.floor_m2 == Decimal("41.8064")
    page = soup(browser.get(reverse("shop:enquiry-change", args=[enquiry.pk])))
    assert page.find(id="id_floor_m2")["value"] == "450 ft²"
    assert Site.objects.get().distance_km == Decimal("16.0934")
