"""Addresses and enquiries put aside and brought back."""

import datetime as dt

import pytest
from django.urls import reverse

from shared.models import Entry
from shop.clients.models import Client, Enquiry, Site
from shop.surveys.actions import add_room
from shop.surveys.forms import NewRoomForm, RoomForm
from shop.surveys.models import Room
from tests.cast import AS_HTMX
from tests.factories.clients import make_client, make_enquiry, make_site
from tests.factories.surveys import make_room
from tests.pages import grows, soup, text

AT = dt.datetime(2026, 3, 2, tzinfo=dt.UTC)
MAKE = {"site": make_site, "enquiry": make_enquiry}
BOTH = pytest.mark.parametrize("kind", sorted(MAKE))
EACH = pytest.mark.parametrize("verb", ["archive", "restore"])


def _url(kind, verb, row):
    return reverse(f"shop:{kind}-{verb}", args=[row.pk])


@pytest.fixture
def browser(client_as, office, shop):
    return client_as(office)


@BOTH
class TestAside:
    def test_it_is_undone_from_the_message(self, browser, kind):
        row = MAKE[kind]()
        answer = browser.post(_url(kind, "archive", row), follow=True)
        row.refresh_from_db()
        assert row.is_archived
        browser.post(soup(answer).select_one("#messages form")["action"])
        row.refresh_from_db()
        assert not row.is_archived
        about = Entry.objects.about("client", row.client_id)
        assert [entry.verb for entry in about] == ["restore", "archive"]

    def test_it_stands_in_a_fold_with_a_way_back(self, browser, kind):
        row = MAKE[kind]()
        url, way_back = row.client.get_absolute_url(), _url(kind, "restore", row)
        assert not soup(browser.get(url)).select(f'form[action="{way_back}"]')
        browser.post(_url(kind, "archive", row))
        page = soup(browser.get(url))
        assert not page.select(f"#{kind}-{row.pk}")
        assert page.select(f'details form[action="{way_back}"]')
        browser.post(way_back)
        assert soup(browser.get(url)).select(f"#{kind}-{row.pk}")

    def test_htmx_is_sent_to_the_client(self, browser, kind):
        row = MAKE[kind]()
        answer = browser.post(_url(kind, "archive", row), headers=AS_HTMX)
        assert answer.status_code == 204
        assert answer["HX-Redirect"] == row.client.get_absolute_url()

    @EACH
    def test_it_takes_a_post(self, browser, kind, verb):
        assert browser.get(_url(kind, verb, MAKE[kind]())).status_code == 405

    @EACH
    def test_what_is_gone_is_not_found(self, browser, kind, verb):
        row = MAKE[kind]()
        type(row).objects.all().delete()
        assert browser.post(_url(kind, verb, row)).status_code == 404

    @EACH
    @pytest.mark.parametrize("role", ["fitter", "maker"])
    def test_who_keeps_no_clients_may_not(
        self, request, db, client_as, kind, verb, role
    ):
        row = MAKE[kind]()
        browser = client_as(request.getfixturevalue(role))
        assert browser.post(_url(kind, verb, row)).status_code == 403
        row.refresh_from_db()
        assert not row.is_archived

    def test_a_fitter_sees_it_and_no_button(self, client_as, fitter, shop, kind):
        row = MAKE[kind](archived_at=AT)
        page = soup(client_as(fitter).get(row.client.get_absolute_url()))
        assert "Put aside 1" in text(page.main)
        assert not page.select('form[action*="/restore/"], form[action*="/archive/"]')

    def test_queries_do_not_grow(self, browser, kind):
        mara = make_client()

        def make():
            MAKE[kind](client=mara, archived_at=AT)

        assert grows(browser, mara.get_absolute_url(), make) == 0


class TestSite:
    @pytest.mark.parametrize(
        ("names", "said"),
        [
            (["Booth"], "Booth is still in use there. Put it aside first."),
            (
                ["Attic", "Booth", "Cellar"],
                "Attic, Booth and Cellar are still in use there. Put them aside first.",
            ),
        ],
    )
    def test_rooms_in_use_keep_it(self, browser, names, said):
        site = make_site()
        for name in names:
            make_room(site=site, name=name)
        answer = browser.post(_url("site", "archive", site))
        assert answer.status_code == 422
        assert said in text(soup(answer).main)
        site.refresh_from_db()
        assert not site.is_archived

    def test_rooms_put_aside_do_not(self, browser):
        site = make_site()
        make_room(site=site, archived_at=AT)
        browser.post(_url("site", "archive", site))
        site.refresh_from_db()
        assert site.is_archived

    def test_a_room_that_comes_back_brings_its_address(self, browser):
        room = make_room(site=make_site(archived_at=AT), archived_at=AT)
        browser.post(reverse("shop:room-restore", args=[room.pk]))
        room.site.refresh_from_db()
        assert not room.site.is_archived

    def test_a_room_written_down_there_meanwhile_brings_it_back(self, office):
        site = make_site(archived_at=AT)
        add_room(Room(site=site, name="Booth"), by=office, at=AT)
        site.refresh_from_db()
        assert not site.is_archived

    def test_it_is_not_offered_for_rooms(self, db):
        mara = make_client()
        used, aside = make_site(client=mara), make_site(client=mara, archived_at=AT)
        form = NewRoomForm(client=mara)
        assert list(form.room.fields["site"].queryset) == [used]
        assert form.room["site"].value() == used.pk
        other = RoomForm(client=mara, instance=make_room(site=used))
        assert list(other.fields["site"].queryset) == [used]
        own = RoomForm(client=mara, instance=make_room(site=aside, archived_at=AT))
        assert set(own.fields["site"].queryset) == {used, aside}

    def test_it_makes_no_caution(self, browser):
        site = make_site(year_built=1930)
        make_site(client=site.client, year_built=2015)
        make_enquiry(client=site.client)
        url = site.client.get_absolute_url()
        assert soup(browser.get(url)).select(".caution")
        browser.post(_url("site", "archive", site))
        assert not soup(browser.get(url)).select(".caution")


class TestEnquiry:
    def test_it_is_not_counted_as_the_last_one(self, db):
        mara = make_client()
        make_enquiry(client=mara, bothers="Old.", asked_on=dt.date(2025, 1, 1))
        make_enquiry(client=mara, bothers="New.", archived_at=AT)
        assert Client.objects.with_last_enquiry().get().bothers == "Old."

    def test_its_day_is_not_asked_for(self, db):
        day = dt.date(2026, 4, 1)
        enquiry = make_enquiry(wanted_by=day)
        assert Enquiry.objects.day_wanted() == day
        enquiry.archived_at = AT
        enquiry.save()
        assert Enquiry.objects.day_wanted() is None

    def test_it_says_nothing_of_the_next_room_or_address(self, browser):
        aside = make_enquiry(use="cafe", tenure="tenant", archived_at=AT)
        assert not NewRoomForm(client=aside.client).room["use"].value()
        url = reverse("shop:site-new", args=[aside.client_id])
        assert not soup(browser.get(url)).select("#id_tenure option[selected]")[0][
            "value"
        ]


def test_an_address_put_aside_still_finds_its_client(db):
    site = make_site(address="4 Weir Lane", archived_at=AT)
    assert list(Client.objects.matching("weir")) == [site.client]
    assert not Site.objects.offered(site.client).exists()
