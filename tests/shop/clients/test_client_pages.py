"""The client pages: who may open them, what they show, what they change."""

import datetime as dt
from decimal import Decimal

import pytest
from django.urls import reverse

from shared.models import Entry
from shared.slots import Section
from shop.clients.models import Client, ClientNote
from shop.clients.slots import CLIENT_SECTIONS
from tests.cast import AS_HTMX
from tests.factories.clients import make_client, make_enquiry, make_site
from tests.pages import grows, refused, soup, text

LIST = "/clients/"


def _url(name, row):
    return reverse(f"shop:{name}", args=[row.pk])


@pytest.fixture
def browser(client_as, office, shop):
    return client_as(office)


@pytest.fixture
def mara(db):
    return make_client(phone="0151 496 0018")


def test_an_empty_list_says_what_to_do_first(browser):
    page = soup(browser.get(LIST))
    assert "No clients yet" in text(page.main)
    assert page.select_one(f'#clients a[href="{reverse("shop:client-new")}"]')


def test_a_fitter_is_not_told_to_do_what_the_office_does(client_as, fitter):
    page = soup(client_as(fitter).get(LIST))
    assert "The office writes them down" in text(page.main)
    assert not page.select(f'a[href="{reverse("shop:client-new")}"]')


def test_the_list_shows_what_bothers_each_client(browser, mara):
    make_enquiry(client=mara, bothers="Old.", asked_on=dt.date(2025, 1, 1))
    make_enquiry(client=mara, bothers="It rings.", asked_on=dt.date(2026, 3, 2))
    row = text(soup(browser.get(LIST)).select_one("#clients tbody tr"))
    assert "Mara Quill" in row
    assert "It rings." in row
    assert "2 Mar 2026" in row


def test_a_search_shows_only_who_fits(browser, mara):
    make_client(name="Otto Reed")
    page = soup(browser.get(LIST, {"q": "0018"}))
    assert [text(a) for a in page.select("#clients th a")] == ["Mara Quill"]
    assert page.select_one("#search-q")["value"] == "0018"


def test_a_search_for_nobody_says_what_else_to_try(browser, mara):
    assert "Nobody is found" in text(soup(browser.get(LIST, {"q": "x\0yz"})).main)


def test_htmx_gets_the_list_alone(browser, mara):
    response = browser.get(LIST, {"q": "mara"}, headers=AS_HTMX)
    page = soup(response)
    assert page.html is None
    assert next(page.children, None) is not None
    assert page.find(id="clients")
    assert "HX-Request" in response["Vary"]


def test_who_was_put_aside_is_listed_apart_and_found_by_search(browser, mara):
    mara.archived_at = dt.datetime(2026, 3, 2, tzinfo=dt.UTC)
    mara.save()
    assert "Mara" not in text(soup(browser.get(LIST)).main)
    assert "Mara" in text(soup(browser.get(LIST, {"aside": "1"})).main)
    assert "put aside" in text(soup(browser.get(LIST, {"q": "mara"})).tbody)


def test_long_lists_are_cut_into_pages_that_keep_the_search(browser):
    for number in range(51):
        make_client(name=f"Client {number:02}")
    page = soup(browser.get(LIST, {"q": "client"}))
    assert len(page.select("tbody tr")) == 50
    assert page.select_one('a[rel="next"]')["href"] == "?q=client&page=2"


def test_queries_do_not_grow_with_clients(browser):
    def make():
        make_enquiry(client=make_client())

    assert grows(browser, LIST, make) == 0
    assert grows(browser, f"{LIST}?q=quill", make) == 0


def test_queries_do_not_grow_with_what_is_known_of_a_client(browser, mara, office):
    def make():
        make_enquiry(client=mara)
        make_site(client=mara)
        ClientNote.objects.create(
            client=mara, by=office, at=dt.datetime(2026, 3, 2, tzinfo=dt.UTC), text="x"
        )

    assert grows(browser, mara.get_absolute_url(), make) == 0


def test_a_maker_sees_no_clients(client_as, maker, mara):
    for url in (LIST, mara.get_absolute_url(), _url("client-change", mara)):
        assert client_as(maker).get(url).status_code == 403


def test_a_fitter_reads_and_changes_nothing(client_as, fitter, mara):
    browser = client_as(fitter)
    page = soup(browser.get(mara.get_absolute_url()))
    assert not page.select('a[href$="/change/"], form[action$="/archive/"]')
    for name in ("client-change", "enquiry-new", "site-new"):
        assert browser.get(_url(name, mara)).status_code == 403
    assert browser.post(_url("client-archive", mara)).status_code == 403


def test_money_is_shown_to_the_office_and_not_to_a_fitter(
    client_as, office, fitter, mara
):
    make_enquiry(
        client=mara,
        budget_to=Decimal(7777),
        ballpark_from=Decimal(2500),
        ballpark_to=Decimal(3700),
        ballpark_how="14 panels",
    )
    url = mara.get_absolute_url()
    seen = text(soup(client_as(office).get(url)).main)
    assert "up to EUR 7,777" in seen
    assert "Ballpark, not a quote EUR 2,500 to 3,700" in seen
    hidden = text(soup(client_as(fitter).get(url)).main)
    assert "7,777" not in hidden
    assert "2,500" not in hidden


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"wants_noise_kept_out": True}, "Panels do not stop noise"),
        ({"tenure": "tenant"}, "landlord’s permission"),
        ({"setting": "public"}, "Fire papers"),
        ({"setting": "work"}, "Fire papers"),
        ({}, "test before drilling"),
    ],
)
def test_cautions_stand_beside_the_enquiry(browser, mara, facts, words):
    make_enquiry(client=mara, **facts)
    cautions = soup(browser.get(mara.get_absolute_url())).select(".caution")
    assert any(words in text(caution) for caution in cautions)


def test_a_new_house_brings_no_caution_about_paint(browser, mara):
    make_enquiry(client=mara)
    make_site(client=mara, year_built=2015)
    assert not soup(browser.get(mara.get_absolute_url())).select(".caution")


def test_putting_aside_is_undone_from_the_message(browser, mara):
    response = browser.post(_url("client-archive", mara), follow=True)
    mara.refresh_from_db()
    assert mara.is_archived
    browser.post(soup(response).select_one("#messages form")["action"])
    mara.refresh_from_db()
    assert not mara.is_archived
    verbs = [e.verb for e in Entry.objects.about("client", mara.pk)]
    assert verbs == ["restore", "archive"]


@pytest.mark.parametrize("name", ["client-archive", "client-restore", "client-said"])
def test_changes_take_a_post(browser, mara, name):
    assert browser.get(_url(name, mara)).status_code == 405


@pytest.mark.parametrize("name", ["client", "client-change", "enquiry-new", "site-new"])
def test_a_stale_or_foreign_address_is_not_found(browser, mara, office, name):
    Client.objects.all().delete()
    assert browser.get(_url(name, mara)).status_code == 404
    assert browser.get(_url(name, office)).status_code == 404


def test_a_visitor_is_sent_to_sign_in(client, mara):
    assert client.get(mara.get_absolute_url())["Location"].startswith(
        "/accounts/login/"
    )


def test_what_is_said_is_kept_with_who_wrote_it(client_as, fitter, mara):
    typed = {"text": "Ring at the back door."}
    response = client_as(fitter).post(_url("client-said", mara), typed, follow=True)
    said = text(soup(response).find(id="said"))
    assert "Ring at the back door." in said
    assert "Finn" in said


def test_htmx_gets_the_notes_alone(browser, mara):
    typed = {"text": "Paint is fresh."}
    response = browser.post(_url("client-said", mara), typed, headers=AS_HTMX)
    page = soup(response)
    assert page.html is None
    assert "Paint is fresh." in text(page.find(id="said"))
    assert page.textarea.get_text().strip() == ""


@pytest.mark.parametrize("bad", ["", "  ", "a\0b", "\u202e", "n" * 2001])
def test_a_note_of_nothing_is_refused(browser, mara, bad):
    refused(browser, _url("client-said", mara), {"text": bad}, "text")
    assert not ClientNote.objects.exists()


def test_upper_features_add_to_the_page(browser, mara, monkeypatch):
    monkeypatch.setattr(CLIENT_SECTIONS, "_functions", [])
    CLIENT_SECTIONS.add(
        lambda request, client: Section(
            "shared/_caution.html", {"title": f"Rooms of {client}"}
        )
    )
    page = soup(browser.get(mara.get_absolute_url()))
    assert "Rooms of Mara Quill" in text(page.main)
