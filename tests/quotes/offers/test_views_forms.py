"""The forms of quotes: what is refused keeps everything typed; what is taken is stored."""

from decimal import Decimal as D

import pytest
from django.urls import reverse

from quotes.offers.models import FreeLine, Quote
from tests.cast import AS_HTMX
from tests.factories.clients import make_client
from tests.factories.offers import (
    AT,
    make_line,
    make_quote,
    make_room,
)
from tests.pages import BAD_TEXTS, GOOD_TEXTS, refused, soup, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop", "quick_print")]

NOBODY = "00000000-0000-4000-8000-000000000000"

TERMS = {"scope": "All of it.", "discount_percent": "5", "valid_days": "30"}
BAD_TERMS = [
    *(("scope", bad) for bad in (*BAD_TEXTS, "x" * 4001)),
    *(
        ("discount_percent", bad)
        for bad in ("ten", "-1", "100.01", "1e2", "NaN", "5.555555", "٣", "1 000 000")
    ),
    *(
        ("valid_days", bad)
        for bad in ("", "many", "-1", "0", "367", "9" * 30, "1.5", "\0")
    ),
]

LINE = {"text": "Paint", "kind": "labour", "quantity": "2", "unit_price": "30"}
BAD_LINES = [
    *(("text", bad) for bad in ("", *BAD_TEXTS, "x" * 201)),
    *(("kind", bad) for bad in ("", "panels", "rent", NOBODY)),
    *(
        ("quantity", bad)
        for bad in ("", "two", "-1", "0", "100001", "9" * 40, "1e3", "½", "\0", "1,250")
    ),
    *(
        ("unit_price", bad)
        for bad in ("", "much", "-1", "10000000", "9" * 40, "1e3", "€5", "1.005")
    ),
]


def of(name, row):
    return reverse(f"quotes:{name}", args=(row.pk,))


def messages(response):
    return text(soup(response).select_one("#messages"))


def refused_rooms(browser, url, bad, good):
    """Post a good room with a bad one: 422, a sentence, and the good one still ticked."""
    response = browser.post(url, {"rooms": [good.pk, bad]})
    assert response.status_code == 422
    page = soup(response)
    assert text(page.select_one("#id_rooms_field .errorlist li"))
    ticked = page.select("[name=rooms][checked]")
    assert [box["value"] for box in ticked] == [str(good.pk)]


class TestNew:
    url = "/quotes/new/"

    def test_without_clients_it_says_what_to_do_first(self, owner, client_as):
        page = soup(client_as(owner).get(self.url))
        assert page.find("a", href=reverse("shop:client-new"))

    def test_a_client_is_chosen_then_rooms(self, owner, client_as):
        client = make_client(name="Mara Quill")
        make_room(client=client, name="Café")
        make_room(client=make_client(name="Somebody else"), name="Not theirs")
        browser = client_as(owner)
        assert "Mara Quill" in text(soup(browser.get(self.url)).main)
        page = soup(browser.get(self.url, {"client": client.pk}))
        assert "Café" in text(page.main)
        assert "Not theirs" not in text(page.main)

    @pytest.mark.parametrize("typed", [NOBODY, "1", "x" * 300, "\0"])
    def test_a_client_who_is_not_there_is_refused(self, owner, client_as, typed):
        make_client()
        response = client_as(owner).get(self.url, {"client": typed})
        assert response.status_code == 422
        assert text(soup(response).select_one("#id_client_field .errorlist"))

    def test_a_client_put_aside_is_not_offered(self, owner, client_as):
        client = make_client()
        client.archived_at = AT
        client.save()
        response = client_as(owner).get(self.url, {"client": client.pk})
        assert response.status_code == 422

    def test_a_quote_begins_with_the_rooms_ticked(self, owner, client_as):
        client = make_client()
        room, _ = (make_room(client=client, name=name) for name in "ab")
        url = f"{self.url}?client={client.pk}"
        response = client_as(owner).post(url, {"rooms": [room.pk]}, follow=True)
        quote = Quote.objects.get()
        assert response.redirect_chain == [(quote.get_absolute_url(), 302)]
        assert list(quote.rooms.all()) == [room]
        assert "Quote Q" in messages(response)

    def test_a_quote_can_begin_without_rooms(self, owner, client_as):
        client_as(owner).post(f"{self.url}?client={make_client().pk}")
        assert Quote.objects.get().rooms.count() == 0

    @pytest.mark.parametrize("typed", [NOBODY, "1", "\0"])
    def test_a_room_that_is_not_there_is_refused(self, owner, client_as, typed):
        room = make_room(client=make_client())
        url = f"{self.url}?client={room.site.client_id}"
        refused_rooms(client_as(owner), url, typed, room)
        assert not Quote.objects.exists()

    def test_a_room_of_somebody_else_is_refused(self, owner, client_as):
        room, other = (make_room(client=make_client()) for _ in "ab")
        url = f"{self.url}?client={room.site.client_id}"
        refused_rooms(client_as(owner), url, other.pk, room)
        assert not Quote.objects.exists()


class TestTerms:
    @pytest.mark.parametrize(("field", "typed"), BAD_TERMS)
    def test_what_makes_no_sense_is_refused(self, owner, client_as, field, typed):
        quote = make_quote(by=owner, rooms=[])
        refused(
            client_as(owner), of("quote-change", quote), TERMS | {field: typed}, field
        )
        quote.refresh_from_db()
        assert quote.version == 0

    @pytest.mark.parametrize("scope", ["", *GOOD_TEXTS, "Two\r\nlines"])
    def test_what_makes_sense_is_stored(self, owner, client_as, scope):
        quote = make_quote(by=owner, rooms=[])
        url = of("quote-change", quote)
        client_as(owner).post(
            url, TERMS | {"scope": scope, "discount_percent": "2,5 %"}
        )
        quote.refresh_from_db()
        assert (quote.discount_percent, quote.valid_days) == (D("2.5"), 30)
        assert len(quote.scope) <= len(scope)
        assert bool(quote.scope) == bool(scope)

    def test_what_stands_is_shown(self, owner, client_as):
        quote = make_quote(by=owner, rooms=[], scope="As said.", valid_days=14)
        page = soup(client_as(owner).get(of("quote-change", quote)))
        assert text(page.select_one("[name=scope]")) == "As said."
        assert page.select_one("[name=valid_days]")["value"] == "14"

    def test_htmx_is_told_where_to_go(self, owner, client_as):
        quote = make_quote(by=owner, rooms=[])
        response = client_as(owner).post(
            of("quote-change", quote), TERMS, headers=AS_HTMX
        )
        assert (response.status_code, response["HX-Redirect"]) == (
            204,
            quote.get_absolute_url(),
        )


class TestRooms:
    def test_rooms_are_ticked_and_stored(self, owner, client_as):
        quote = make_quote(by=owner)
        old, new = quote.rooms.get(), make_room(client=quote.client, name="Back")
        browser, url = client_as(owner), of("quote-rooms", quote)
        ticked = soup(browser.get(url)).select("[name=rooms][checked]")
        assert [box["value"] for box in ticked] == [str(old.pk)]
        browser.post(url, {"rooms": [new.pk]})
        assert list(quote.rooms.all()) == [new]

    @pytest.mark.parametrize("typed", [NOBODY, "1", "\0"])
    def test_a_room_that_is_not_there_is_refused(self, owner, client_as, typed):
        quote = make_quote(by=owner)
        room, url = quote.rooms.get(), of("quote-rooms", quote)
        refused_rooms(client_as(owner), url, typed, room)
        assert quote.rooms.count() == 1

    def test_a_room_of_somebody_else_is_refused(self, owner, client_as):
        quote, other = make_quote(by=owner), make_room(client=make_client())
        url = of("quote-rooms", quote)
        refused_rooms(client_as(owner), url, other.pk, quote.rooms.get())
        assert quote.rooms.count() == 1


class TestLines:
    @pytest.mark.parametrize(("field", "typed"), BAD_LINES)
    def test_what_makes_no_sense_is_refused(self, owner, client_as, field, typed):
        quote = make_quote(by=owner, rooms=[])
        refused(client_as(owner), of("line-new", quote), LINE | {field: typed}, field)
        assert not FreeLine.objects.exists()

    @pytest.mark.parametrize(("field", "typed"), BAD_LINES)
    def test_a_change_is_held_to_the_same(self, owner, client_as, field, typed):
        line = make_line(quote=make_quote(by=owner, rooms=[]), by=owner)
        refused(client_as(owner), of("line-change", line), LINE | {field: typed}, field)
        line.refresh_from_db()
        assert line.text == "Take down old boards"

    @pytest.mark.parametrize("words", GOOD_TEXTS)
    def test_a_line_is_added(self, owner, client_as, words):
        quote = make_quote(by=owner, rooms=[])
        typed = LINE | {"text": words, "quantity": "2,5"}
        response = client_as(owner).post(of("line-new", quote), typed, follow=True)
        line = FreeLine.objects.get()
        assert (line.quantity, line.unit_price, line.kind) == (D("2.5"), 30, "labour")
        assert line.text in text(soup(response).main)

    def test_a_line_is_changed(self, owner, client_as):
        line = make_line(quote=make_quote(by=owner, rooms=[]), by=owner)
        client_as(owner).post(of("line-change", line), LINE)
        line.refresh_from_db()
        assert (line.text, line.quantity) == ("Paint", 2)

    def test_a_line_is_taken_out_and_put_back(self, owner, client_as):
        line = make_line(quote=make_quote(by=owner, rooms=[]), by=owner)
        browser = client_as(owner)
        response = browser.post(of("line-remove", line), follow=True)
        undo = soup(response).select_one("#messages form")
        assert undo["action"] == of("line-restore", line)
        assert not FreeLine.objects.live().exists()
        assert browser.get(of("line-change", line)).status_code == 404
        browser.post(undo["action"])
        assert FreeLine.objects.live().get() == line

    def test_a_total_too_large_to_be_right_stands_in_the_way(self, owner, client_as):
        quote = make_quote(by=owner, rooms=[])
        typed = LINE | {"quantity": "100000", "unit_price": "9999999"}
        response = client_as(owner).post(of("line-new", quote), typed, follow=True)
        assert "too large to be right" in text(soup(response).main)
