"""The pages of quotes: who may open them, whole and in parts, and what they show."""

import datetime as dt
import re

import pytest
from django.urls import reverse
from django.utils import timezone

from quotes.offers.actions import (
    accept_quote,
    decline_quote,
    lapse_quotes,
    void_quote,
)
from quotes.offers.models import Quote
from quotes.specs.models import PlannedPanel
from shared.models import Message
from shop.people.models import ShopProfile
from tests.cast import AS_HTMX
from tests.factories.catalogue import make_sheet, mm
from tests.factories.clients import make_client
from tests.factories.offers import (
    AT,
    make_cafe,
    make_line,
    make_quote,
    make_room,
    make_rules,
    make_sent,
    make_survey,
)
from tests.factories.specs import make_planned, make_spec
from tests.pages import grows, queries, soup, text

UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop", "quick_print")]


def page_of(quote):
    return reverse("quotes:quote", args=(quote.pk,))


def addresses(by):
    """Every address of quotes, and the methods that it answers."""
    quote = make_quote(by=by)
    line = make_line(quote=quote, by=by)
    revision = make_sent(by=by, quote=quote)
    mail = Message.objects.get()
    return {
        reverse("quotes:quotes"): "GET",
        reverse("quotes:quote-new"): "GET POST",
        page_of(quote): "GET",
        reverse("quotes:quote-change", args=(quote.pk,)): "GET POST",
        reverse("quotes:quote-rooms", args=(quote.pk,)): "GET POST",
        reverse("quotes:line-new", args=(quote.pk,)): "GET POST",
        reverse("quotes:line-change", args=(line.pk,)): "GET POST",
        reverse("quotes:line-remove", args=(line.pk,)): "POST",
        reverse("quotes:line-restore", args=(line.pk,)): "POST",
        reverse("quotes:quote-send", args=(quote.pk,)): "GET POST",
        reverse("quotes:quote-preview", args=(quote.pk,)): "GET",
        reverse("quotes:quote-pdf", args=(revision.pk,)): "GET",
        reverse("quotes:mail-again", args=(mail.pk,)): "POST",
        reverse("quotes:quote-accept", args=(quote.pk,)): "POST",
        reverse("quotes:quote-decline", args=(quote.pk,)): "POST",
        reverse("quotes:quote-take-back", args=(quote.pk,)): "POST",
        reverse("quotes:quote-void", args=(quote.pk,)): "POST",
    }


class TestAccess:
    def test_an_outsider_is_asked_to_sign_in(self, owner, client):
        for url, methods in addresses(owner).items():
            for method in methods.split():
                response = client.generic(method, url)
                assert response.status_code == 302, url
                assert response["Location"].startswith(reverse("shop:sign-in")), url

    @pytest.mark.parametrize("who", ["maker", "fitter"])
    def test_makers_and_fitters_are_kept_out(self, owner, client_as, request, who):
        browser = client_as(request.getfixturevalue(who))
        for url, methods in addresses(owner).items():
            for method in methods.split():
                response = browser.generic(method, url)
                assert response.status_code == 403, url
        assert Quote.objects.get().state == "sent"

    @pytest.mark.parametrize("who", ["owner", "office"])
    def test_owner_and_office_come_in(self, owner, office, client_as, request, who):
        browser = client_as(request.getfixturevalue(who))
        for url, methods in addresses(owner).items():
            if "GET" in methods:
                assert browser.get(url).status_code == 200, url

    def test_other_methods_are_refused(self, owner, client_as):
        browser = client_as(owner)
        for url, methods in addresses(owner).items():
            for method in {"GET", "POST", "PUT", "DELETE"} - set(methods.split()):
                assert browser.generic(method, url).status_code == 405, (method, url)

    def test_what_is_not_there_is_not_found(self, owner, client_as):
        browser = client_as(owner)
        for url, methods in addresses(owner).items():
            missing = UUID.sub("00000000-0000-4000-8000-000000000000", url)
            if missing == url:
                continue
            for method in methods.split():
                assert browser.generic(method, missing).status_code == 404, missing


class TestList:
    def test_nobody_has_a_quote_yet(self, owner, client_as):
        page = soup(client_as(owner).get(reverse("quotes:quotes")))
        assert "No quote yet" in text(page.find("main"))
        assert page.find("a", href=reverse("quotes:quote-new"))

    def test_each_is_named_with_client_state_and_sum(self, owner, client_as):
        make_sent(by=owner, quote=make_cafe(by=owner))
        page = soup(client_as(owner).get(reverse("quotes:quotes")))
        (row,) = page.select("#quote-list tbody tr")
        assert "Q2026-0001" in text(row.th)
        said = text(row)
        assert "Sample Café" in said
        assert "sent" in said
        assert "€6,719.89" in said

    def test_a_sum_keeps_its_own_currency(self, owner, client_as):
        make_sent(by=owner)
        ShopProfile.objects.update(currency="GBP")
        page = soup(client_as(owner).get(reverse("quotes:quotes")))
        assert "€" in text(page.select_one("#quote-list"))
        assert "£" not in text(page.select_one("#quote-list"))

    def test_htmx_gets_the_list_alone(self, owner, client_as):
        make_quote(by=owner)
        response = client_as(owner).get(reverse("quotes:quotes"), headers=AS_HTMX)
        page = soup(response)
        assert not page.find("html")
        assert [tag["id"] for tag in page.find_all(recursive=False)] == ["quote-list"]

    @pytest.mark.parametrize(
        ("typed", "found"),
        [
            ("0001", 1),
            ("q2026", 2),
            ("quill", 1),
            ("CAFÉ", 1),
            ("cafe mara", 1),
            ("cafe otto", 0),
            ("mara@", 1),
            ("\0", 2),
        ],
    )
    def test_it_is_searched_by_number_and_client(self, owner, client_as, typed, found):
        cafe = make_client(name="Mara Quill", company="Sample Café", email="mara@x.org")
        make_quote(by=owner, client=cafe, rooms=[])
        make_quote(by=owner, client=make_client(name="Otto Bell"), rooms=[])
        page = soup(client_as(owner).get(reverse("quotes:quotes"), {"q": typed}))
        assert len(page.select("#quote-list tbody tr")) == found

    def test_it_is_cut_down_to_a_state(self, owner, client_as):
        make_quote(by=owner, rooms=[])
        void_quote(make_quote(by=owner, rooms=[]), note="", by=owner, at=AT)
        browser = client_as(owner)
        for state, found in {"void": 1, "draft": 1, "sent": 0, "what": 2}.items():
            page = soup(browser.get(reverse("quotes:quotes"), {"state": state}))
            assert len(page.select("#quote-list tbody tr")) == found

    def test_fifty_stand_on_a_page(self, owner, client_as):
        client = make_client()
        for _ in range(51):
            make_quote(by=owner, client=client, rooms=[])
        browser = client_as(owner)
        first = soup(browser.get(reverse("quotes:quotes")))
        second = soup(browser.get(reverse("quotes:quotes"), {"page": "2"}))
        assert len(first.select("#quote-list tbody tr")) == 50
        assert len(second.select("#quote-list tbody tr")) == 1

    def test_queries_do_not_grow(self, owner, client_as):
        browser, url = client_as(owner), reverse("quotes:quotes")
        assert grows(browser, url, lambda: sent_line(owner)) == 0


def sent_line(by):
    """Send a quote of one line, which is quickly drawn up."""
    quote = make_quote(by=by, rooms=[])
    make_line(quote=quote, by=by)
    return make_sent(by=by, quote=quote)


class TestPage:
    def test_a_draft_shows_panels_price_and_cost(self, owner, client_as):
        quote = make_cafe(by=owner)
        said = text(soup(client_as(owner).get(page_of(quote))).find("main"))
        for words in (
            "8 × Wall panel on bevelled cleats",
            "Harbour weave, moss; €202.30 each",
            "Take down the old boards",
            "Total €6,719.89",
            "What it costs the shop",
            "Margin 30.1 %",
        ):
            assert words in said

    def test_a_panel_larger_than_its_room_is_told_and_can_be_sent(
        self, owner, client_as
    ):
        client = make_client(email="mara@example.org")
        room = make_room(client=client)
        make_survey(room=room, by=owner)
        stock = make_sheet(length_ticks=mm(4000))
        make_planned(room=room, spec=make_spec(frame_stock=stock), height_mm=2700)
        quote = make_quote(by=owner, client=client, rooms=[room])
        page = soup(client_as(owner).get(page_of(quote)))
        said = text(page.find(id="quote-next"))
        assert "Taller than the room, which is 2600 mm high." in said
        assert "Before it can go" not in said

    def test_a_panel_in_an_opening_shows_both_sizes_named(self, owner, client_as):
        quote, browser = make_cafe(by=owner), client_as(owner)
        both = "opening 873 × 1411 mm, made 867 × 1405 mm"
        assert both in text(soup(browser.get(page_of(quote))).main)
        make_sent(by=owner, quote=quote)
        accept_quote(quote, note="", by=owner, at=AT)
        assert both in text(soup(browser.get(page_of(quote))).main)

    def test_costs_are_folded_and_the_margin_stays_in_sight(self, owner, client_as):
        quote = make_cafe(by=owner)
        fold = soup(client_as(owner).get(page_of(quote))).find(id="cost-lines")
        assert not fold.has_attr("open")
        assert text(fold.summary) == "Margin 30.1 %"
        assert "Materials" in text(fold.select_one(".workings__inside"))

    def test_costs_of_a_settled_quote_are_folded_too(self, owner, client_as):
        quote = make_cafe(by=owner)
        make_sent(by=owner, quote=quote)
        accept_quote(quote, note="", by=owner, at=AT)
        fold = soup(client_as(owner).get(page_of(quote))).find(id="agreed-cost-lines")
        assert not fold.has_attr("open")
        assert text(fold.summary).startswith("Margin €")
        assert "Overhead" in text(fold.select_one(".workings__inside"))

    def test_every_figure_opens_to_what_was_typed(self, owner, client_as):
        quote = make_cafe(by=owner)
        said = text(soup(client_as(owner).get(page_of(quote))).find("main"))
        assert "4 joints × 4.5 min × 48.00 an hour" in said

    def test_what_stands_in_the_way_is_said(self, owner, client_as):
        client = make_client()
        quote = make_quote(by=owner, client=client, rooms=[make_room(client=client)])
        said = text(soup(client_as(owner).get(page_of(quote))).find("main"))
        assert "There is nothing to offer yet" in said
        assert "no e-mail address yet" in said
        preview = reverse("quotes:quote-preview", args=(quote.pk,))
        assert client_as(owner).get(preview).status_code == 404

    def test_a_change_after_sending_is_said(self, owner, client_as):
        quote = make_sent(by=owner).quote
        browser = client_as(owner)
        assert "Changed since" not in text(soup(browser.get(page_of(quote))).main)
        PlannedPanel.objects.first().delete()
        assert "Changed since" in text(soup(browser.get(page_of(quote))).main)

    def test_what_the_client_has_is_not_offered_to_be_sent_again(
        self, owner, client_as
    ):
        quote, browser = make_sent(by=owner, at=timezone.now()).quote, client_as(owner)
        url = reverse("quotes:quote-send", args=(quote.pk,))
        assert not soup(browser.get(page_of(quote))).find("a", href=url)
        assert "Nothing has changed" in text(soup(browser.get(url)).main)
        PlannedPanel.objects.first().delete()
        link = soup(browser.get(page_of(quote))).find("a", href=url)
        assert text(link) == "Send the next revision"
        assert "Nothing has changed" not in text(soup(browser.get(url)).main)

    def test_what_has_run_out_can_be_sent_again_as_it_is(self, owner, client_as):
        quote = make_sent(by=owner, at=timezone.now() - dt.timedelta(days=31)).quote
        url = reverse("quotes:quote-send", args=(quote.pk,))
        link = soup(client_as(owner).get(page_of(quote))).find("a", href=url)
        assert text(link) == "Send it again, with a new date"

    @pytest.mark.parametrize(
        ("settle", "state"),
        [(accept_quote, "accepted"), (decline_quote, "declined"), (void_quote, "void")],
    )
    def test_what_became_of_it_is_shown(self, owner, client_as, settle, state):
        revision = make_sent(by=owner)
        settle(revision.quote, note="So they said.", by=owner, at=AT)
        page = soup(client_as(owner).get(page_of(revision.quote)))
        assert state in text(page.select_one(".head"))
        assert "So they said." in text(page.find("main"))
        assert page.find("a", href=reverse("quotes:quote-pdf", args=(revision.pk,)))

    def test_a_lapsed_quote_can_be_sent_again(self, owner, client_as):
        quote = make_sent(by=owner).quote
        lapse_quotes(at=AT + dt.timedelta(days=40))
        page = soup(client_as(owner).get(page_of(quote)))
        assert "lapsed" in text(page.select_one(".head"))
        assert page.find("a", href=reverse("quotes:quote-send", args=(quote.pk,)))

    def test_an_accepted_quote_shows_what_was_agreed(self, owner, client_as):
        quote = make_cafe(by=owner)
        make_sent(by=owner, quote=quote)
        accept_quote(quote, note="", by=owner, at=AT)
        make_rules(tax="0", profit_percent=0)
        PlannedPanel.objects.update(note="Changed since")
        page = soup(client_as(owner).get(page_of(quote)))
        said = text(page.find("main"))
        assert "8 × Wall panel on bevelled cleats" in said
        assert "Total €6,719.89" in said
        assert "Changed since" not in said
        assert "nothing to offer" not in said
        assert "0 of 21 panels installed." in said
        assert "To the job" in said
        assert not page.find("a", href=reverse("quotes:quote-change", args=(quote.pk,)))

    def test_it_is_agreed_in_the_currency_it_was_sent_in(self, owner, client_as):
        quote = make_sent(by=owner).quote
        accept_quote(quote, note="", by=owner, at=AT)
        ShopProfile.objects.update(currency="GBP", locale="de_AT")
        said = text(soup(client_as(owner).get(page_of(quote))).find("main"))
        assert "£" not in said

    def test_a_void_quote_without_a_paper_has_a_page(self, owner, client_as):
        quote = make_quote(by=owner)
        void_quote(quote, note="", by=owner, at=AT)
        page = soup(client_as(owner).get(page_of(quote)))
        assert "void" in text(page.select_one(".head"))
        assert not page.select("main form")

    def test_queries_do_not_grow_with_panels_and_rooms(self, owner, client_as):
        small, large = (
            make_quote(by=owner, client=client, rooms=full_rooms(client, count, owner))
            for count in (2, 20)
            for client in [make_client(email="mara@example.org")]
        )
        browser = client_as(owner)
        browser.get(page_of(small))
        assert queries(browser, page_of(large)) == queries(browser, page_of(small))

    def test_queries_do_not_grow_with_what_was_sent(self, owner, client_as):
        browser, quote = client_as(owner), sent_line(owner).quote
        url = page_of(quote)
        assert grows(browser, url, lambda: make_sent(by=owner, quote=quote)) == 0

    def test_queries_do_not_grow_with_free_lines(self, owner, client_as):
        quote = make_quote(by=owner)
        url = page_of(quote)
        browser = client_as(owner)
        assert grows(browser, url, lambda: make_line(quote=quote, by=owner)) == 0

    def test_queries_of_a_settled_quote_do_not_grow(self, owner, client_as):
        browser, counts = client_as(owner), []
        for count in (2, 20):
            quote = make_sent(by=owner, panels=count).quote
            accept_quote(quote, note="", by=owner, at=AT)
            browser.get(page_of(quote))
            counts.append(queries(browser, page_of(quote)))
        assert counts[0] == counts[1]


def full_rooms(client, count, by):
    """Return so many rooms, each measured, each with a panel of a build of its own."""
    rooms = [make_room(client=client, name=f"Room {n}") for n in range(count)]
    for room in rooms:
        make_survey(room=room, by=by)
        make_planned(room=room, spec=make_spec())
    return rooms
