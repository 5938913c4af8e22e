"""Rooms as pages: found, opened, written down, changed, put aside."""

import uuid

import pytest
from django.urls import reverse

from shared.models import Entry
from shared.slots import Section
from shop.clients.models import Site
from shop.surveys.models import Room
from shop.surveys.slots import ROOM_SECTIONS
from tests.cast import AS_HTMX
from tests.factories.clients import make_client, make_site
from tests.factories.surveys import make_opening, make_room, make_survey, wall_of
from tests.pages import BAD_TEXTS, GOOD_TEXTS, grows, refused, soup, text

NOBODY = "00000000-0000-4000-8000-000000000000"

ROOMS = "shop:rooms"


def _url(name, room):
    return reverse(f"shop:{name}", args=[room.pk])


def _new(client):
    return f"{reverse('shop:room-new')}?client={client.pk}"


def _typed(site=None, **fields):
    return {
        "name": "Booth",
        "use": "voice",
        "storey": "basement",
        "sleeping_or_basement": "on",
        "notes": "Low door.",
        "site": str(site.pk) if site else "",
    } | fields


def _address(**fields):
    return {"site-address": "9 Quay", "site-access_notes": "Lift."} | {
        f"site-{name}": value for name, value in fields.items()
    }


class TestList:
    def test_an_empty_list_says_what_to_do_first(self, client_as, fitter):
        page = soup(client_as(fitter).get(reverse(ROOMS)))
        assert page.select_one(".empty a")["href"] == reverse("shop:room-new")

    def test_a_maker_sees_rooms_but_no_way_to_add_one(self, client_as, maker):
        page = soup(client_as(maker).get(reverse(ROOMS)))
        assert not page.select(f'a[href="{reverse("shop:room-new")}"]')

    @pytest.mark.parametrize("words", ["LÓFT", "weir", "quill", "loft weir quill"])
    def test_any_part_of_name_address_or_client_finds_it(self, client_as, maker, words):
        make_room(name="Lóft")
        make_room(
            name="Bar",
            site=make_site(client=make_client(name="Ossa"), address="9 Quay"),
        )
        page = soup(client_as(maker).get(reverse(ROOMS), {"q": words}))
        assert [text(a) for a in page.select("#rooms th a")] == ["Lóft"]

    def test_htmx_gets_the_list_alone(self, client_as, maker):
        make_room()
        answer = client_as(maker).get(reverse(ROOMS), {"q": "front"}, headers=AS_HTMX)
        assert b"<html" not in answer.content
        assert soup(answer).find(recursive=False)["id"] == "rooms"
        assert "HX-Request" in answer["Vary"]

    def test_rooms_put_aside_have_a_list_of_their_own(self, client_as, owner):
        room = make_room()
        client_as(owner).post(_url("room-archive", room))
        browser = client_as(owner)
        assert not soup(browser.get(reverse(ROOMS))).select("#rooms th")
        assert soup(browser.get(reverse(ROOMS), {"aside": "1"})).select("#rooms th")

    def test_queries_do_not_grow(self, client_as, maker):
        assert grows(client_as(maker), reverse(ROOMS), make_survey) == 0

    @pytest.mark.parametrize("odd", [*BAD_TEXTS, "%", "'", "x" * 500])
    def test_odd_words_find_nothing_and_break_nothing(self, client_as, maker, odd):
        make_room()
        assert client_as(maker).get(reverse(ROOMS), {"q": odd}).status_code == 200


class TestPage:
    def test_a_room_nobody_measured_says_so_and_where_to(self, client_as, fitter):
        room = make_room()
        page = soup(client_as(fitter).get(_url("room", room)))
        assert "Nobody has measured" in text(page.select_one(".sheet--sunk"))
        assert page.select(f'a[href="{_url("survey-new", room)}"]')

    def test_a_measured_room_shows_plan_figures_and_openings(self, client_as, maker):
        survey = make_survey(length_mm=5000, width_mm=4000)
        make_opening(wall=wall_of(survey))
        page = soup(client_as(maker).get(_url("room", survey.room)))
        assert page.select_one("figure svg[role=img]")
        assert "20 m²" in text(page.find(attrs={"aria-labelledby": "measured"}))
        assert "900 × 1200 mm" in text(page.select_one("#openings"))

    def test_what_to_mind_stands_on_the_page(self, client_as, maker):
        room = make_room(sleeping_or_basement=True)
        page = text(soup(client_as(maker).get(_url("room", room))).main)
        assert "Escape window" in page
        assert "Old paint and ceilings" in page

    def test_a_maker_sees_no_phone_or_email_and_changes_nothing(self, client_as, maker):
        mara = make_client(phone="0151 4960 12", email="mara@example.org")
        survey = make_survey(room=make_room(site=make_site(client=mara)))
        answer = client_as(maker).get(_url("room", survey.room))
        page = soup(answer)
        assert b"4960" not in answer.content
        assert b"mara@" not in answer.content
        assert not page.select("main form")
        assert not page.select(f'main a[href="{mara.get_absolute_url()}"]')

    def test_parts_that_others_add_are_shown(self, client_as, maker, monkeypatch):
        monkeypatch.setattr(
            ROOM_SECTIONS,
            "_functions",
            [lambda _, room: Section("shared/_empty.html", {"title": f"In {room}"})],
        )
        page = soup(client_as(maker).get(_url("room", make_room())))
        assert "In Front room" in text(page.main)

    def test_queries_do_not_grow_with_what_is_measured(self, client_as, maker):
        survey = make_survey()
        wall = wall_of(survey)
        url = _url("room", survey.room)
        assert grows(client_as(maker), url, lambda: make_opening(wall=wall)) == 0

    def test_a_stale_address_is_not_found(self, client_as, maker):
        url = reverse("shop:room", args=[uuid.uuid4()])
        assert client_as(maker).get(url).status_code == 404

    def test_rooms_stand_on_the_clients_page(self, client_as, office):
        room = make_room()
        url = room.site.client.get_absolute_url()
        page = soup(client_as(office).get(url))
        section = page.find(attrs={"aria-labelledby": "rooms"})
        assert section.find("a", href=room.get_absolute_url())
        assert section.find("a", href=_new(room.site.client))


class TestNew:
    def test_first_it_asks_whose_room_it_is(self, client_as, fitter):
        mara, _ = make_client(), make_client(name="Ossa")
        page = soup(client_as(fitter).get(reverse("shop:room-new"), {"q": "quill"}))
        assert [a["href"] for a in page.select("#whose a")] == [_new(mara)]

    def test_a_room_at_a_known_site(self, client_as, fitter):
        site = make_site()
        browser = client_as(fitter)
        page = soup(browser.post(_new(site.client), _typed(site), follow=True))
        room = Room.objects.get()
        assert (room.name, room.site, room.sleeping_or_basement) == (
            "Booth",
            site,
            True,
        )
        assert "Booth is written down" in text(page.find(id="messages"))
        assert Entry.objects.about("room", room.pk).get().by == fitter

    def test_a_room_at_a_new_address(self, client_as, fitter):
        site = make_site()
        client_as(fitter).post(_new(site.client), _typed() | _address())
        assert Room.objects.get().site.address == "9 Quay"
        assert Room.objects.get().site.client == site.client

    def test_the_first_address_is_the_clients_own(self, client_as, fitter):
        mara = make_client(address="4 Weir Lane")
        page = soup(client_as(fitter).get(_new(mara)))
        assert text(page.select_one('[name="site-address"]')) == "4 Weir Lane"

    def test_no_address_at_all_is_refused(self, client_as, fitter):
        site = make_site()
        typed = _typed() | _address(address="")
        refused(client_as(fitter), _new(site.client), typed, "site-address")
        assert not Room.objects.exists()
        assert Site.objects.count() == 1

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("name", ""),
            ("name", "n" * 81),
            *(("name", bad) for bad in BAD_TEXTS),
            ("use", "castle"),
            ("storey", "s" * 41),
            ("notes", "n" * 4001),
            ("site", "nonsense"),
            ("site", NOBODY),
            ("site-year_built", "19x5"),
            ("site-year_built", "999999"),
            ("site-year_built", "-1"),
            ("site-travel_minutes", "0.5"),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, client_as, fitter, field, value
    ):
        site = make_site()
        typed = _typed() | _address() | {field: value}
        refused(client_as(fitter), _new(site.client), typed, field)
        assert not Room.objects.exists()
        assert Site.objects.count() == 1

    def test_the_site_of_another_client_is_refused(self, client_as, fitter):
        mine, other = make_site(), make_site(client=make_client(name="Ossa"))
        refused(client_as(fitter), _new(mine.client), _typed(other), "site")
        assert not Room.objects.exists()

    @pytest.mark.parametrize("name", GOOD_TEXTS)
    def test_odd_names_are_names(self, client_as, fitter, name):
        site = make_site()
        client_as(fitter).post(_new(site.client), _typed(site, name=name))
        page = soup(client_as(fitter).get(Room.objects.get().get_absolute_url()))
        assert text(page.h1) == Room.objects.get().name

    @pytest.mark.parametrize("asked", ["nonsense", NOBODY])
    def test_a_client_who_is_not_there_is_not_found(self, client_as, fitter, asked):
        url = f"{reverse('shop:room-new')}?client={asked}"
        assert client_as(fitter).get(url).status_code == 404


class TestChange:
    def test_what_is_typed_is_stored(self, client_as, office):
        room = make_room()
        client_as(office).post(_url("room-change", room), _typed(room.site))
        room.refresh_from_db()
        assert (room.name, room.search_text) == ("Booth", "booth")

    def test_a_refused_change_keeps_the_heading(self, client_as, office):
        room = make_room()
        typed = _typed(room.site, name="")
        page = refused(client_as(office), _url("room-change", room), typed, "name")
        assert text(page.h1) == "Change Front room"
        room.refresh_from_db()
        assert room.name == "Front room"

    def test_a_room_is_put_aside_and_comes_back(self, client_as, fitter):
        room = make_room()
        browser = client_as(fitter)
        page = soup(browser.post(_url("room-archive", room), follow=True))
        room.refresh_from_db()
        assert room.is_archived
        browser.post(page.select_one("#messages form")["action"])
        room.refresh_from_db()
        assert not room.is_archived


WRITING = ("room-change", "room-archive", "room-restore", "survey-new")


class TestAccess:
    @pytest.mark.parametrize("name", [*WRITING, "room", "rooms", "room-new"])
    def test_an_outsider_is_sent_to_sign_in(self, client, db, name):
        args = [] if name in ("rooms", "room-new") else [make_room().pk]
        answer = client.get(reverse(f"shop:{name}", args=args))
        assert answer.status_code == 302
        assert reverse("shop:sign-in") in answer.url

    @pytest.mark.parametrize("name", WRITING)
    def test_a_maker_writes_nothing(self, client_as, maker, name):
        room = make_room()
        assert client_as(maker).post(_url(name, room)).status_code == 403
        room.refresh_from_db()
        assert not room.is_archived

    def test_a_maker_adds_no_room(self, client_as, maker):
        assert client_as(maker).get(reverse("shop:room-new")).status_code == 403

    @pytest.mark.parametrize("name", ["room-archive", "room-restore"])
    def test_putting_aside_takes_a_post(self, client_as, owner, name):
        assert client_as(owner).get(_url(name, make_room())).status_code == 405

    @pytest.mark.parametrize("name", ["room", "rooms"])
    def test_reading_takes_no_post(self, client_as, owner, name):
        args = [make_room().pk] if name == "room" else []
        url = reverse(f"shop:{name}", args=args)
        assert client_as(owner).post(url).status_code == 405
