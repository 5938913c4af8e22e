"""Drafts are begun, changed and filled with lines."""

import datetime as dt
from decimal import Decimal as D

import pytest
from django.core.exceptions import ValidationError

from quotes.offers.actions import (
    CannotAnswerError,
    Terms,
    change_terms,
    drop_line,
    put_line,
    restore_line,
    set_rooms,
    start_quote,
    void_quote,
)
from quotes.offers.draft import work_out_draft
from quotes.offers.models import FreeLine, Quote, QuoteState
from shared.audit.reports import log_of
from shared.conventions import Conventions, using
from shared.numbering import Counter
from tests.factories.clients import make_client
from tests.factories.offers import AT, make_line, make_quote, make_room
from tests.factories.specs import make_planned, make_spec

pytestmark = pytest.mark.django_db

UTC = dt.UTC


def begun(by, at=AT):
    return start_quote(make_client(), rooms=[], by=by, at=at)


class TestStart:
    def test_numbers_follow_one_another(self, owner):
        assert [begun(owner).number for _ in range(3)] == [
            "Q2026-0001",
            "Q2026-0002",
            "Q2026-0003",
        ]

    def test_a_year_begins_at_one_at_the_shops_own_midnight(self, owner):
        new_year = dt.datetime(2027, 1, 1, 4, 59, tzinfo=UTC)
        with using(Conventions(time_zone="America/New_York")):
            before = begun(owner, new_year).number
            after = begun(owner, new_year + dt.timedelta(minutes=1)).number
        assert (before, after) == ("Q2026-0001", "Q2027-0001")

    def test_a_start_that_fails_uses_no_number_up(self, owner, monkeypatch):
        with monkeypatch.context() as broken:
            broken.setattr("quotes.offers.actions.drafting.record", None)
            with pytest.raises(TypeError):
                begun(owner)
        assert not Quote.objects.exists()
        assert begun(owner).number == "Q2026-0001"

    def test_a_room_named_twice_starts_nothing(self, owner):
        room = make_room()
        with pytest.raises(Exception, match=r"(?i)unique"):
            start_quote(room.site.client, rooms=[room, room], by=owner, at=AT)
        assert not Quote.objects.exists()
        assert not Counter.objects.filter(series="quote").exists()

    def test_a_draft_takes_the_shops_validity_and_is_on_record(self, owner, shop):
        shop.quote_valid_days = 45
        shop.save()
        quote = begun(owner)
        assert (quote.state, quote.valid_days) == (QuoteState.DRAFT, 45)
        (entry,) = log_of(quote)
        assert (entry.text, entry.who) == ("Quote Q2026-0001 made.", "Ada")


class TestChange:
    def test_terms_are_stored_and_the_version_rises(self, owner):
        quote = make_quote(by=owner)
        terms = Terms(scope="All of it.", discount_percent=D("7.5"), valid_days=14)
        change_terms(quote, terms, by=owner, at=AT)
        quote.refresh_from_db()
        assert (quote.scope, quote.discount_percent) == ("All of it.", D("7.5"))
        assert (quote.valid_days, quote.version) == (14, 1)

    @pytest.mark.parametrize(
        ("terms", "field"),
        [
            (Terms("", D("100.1"), 30), "discount_percent"),
            (Terms("", D(-1), 30), "discount_percent"),
            (Terms("", D(0), 0), "valid_days"),
            (Terms("", D(0), 367), "valid_days"),
        ],
    )
    def test_terms_out_of_range_store_nothing(self, owner, terms, field):
        quote = make_quote(by=owner)
        with pytest.raises(ValidationError) as refused:
            change_terms(quote, terms, by=owner, at=AT)
        assert field in refused.value.message_dict
        quote.refresh_from_db()
        assert quote.version == 0

    def test_rooms_keep_the_order_they_were_given_in(self, owner):
        quote = make_quote(by=owner, rooms=[])
        rooms = [make_room(client=quote.client, name=name) for name in "CAB"]
        set_rooms(quote, rooms, by=owner, at=AT)
        assert [room.name for room in quote.rooms_in_order()] == ["C", "A", "B"]

    def test_a_settled_quote_stays_as_it_is(self, owner):
        quote = make_quote(by=owner)
        line = make_line(quote=quote, by=owner)
        void_quote(quote, note="", by=owner, at=AT)
        attempts = (
            lambda: change_terms(quote, Terms("", D(0), 30), by=owner, at=AT),
            lambda: set_rooms(quote, [], by=owner, at=AT),
            lambda: put_line(line, by=owner, at=AT),
            lambda: drop_line(line, by=owner, at=AT),
            lambda: restore_line(line, by=owner, at=AT),
            lambda: void_quote(quote, note="", by=owner, at=AT),
        )
        for attempt in attempts:
            with pytest.raises(CannotAnswerError, match="void and stays as it is"):
                attempt()
        assert quote.rooms.count() == 1


class TestLines:
    def test_lines_stand_in_the_order_they_came(self, owner):
        quote = make_quote(by=owner)
        for text in ("One", "Two", "Three"):
            make_line(quote=quote, by=owner, text=text)
        assert [line.text for line in quote.free_lines.all()] == ["One", "Two", "Three"]

    def test_a_changed_line_keeps_its_place(self, owner):
        quote = make_quote(by=owner)
        first, _ = (make_line(quote=quote, by=owner, text=text) for text in "ab")
        first.text = "Take them down, and paint"
        put_line(first, by=owner, at=AT)
        assert [line.position for line in quote.free_lines.all()] == [0, 1]

    @pytest.mark.parametrize(
        "fields",
        [{"text": ""}, {"quantity": D(0)}, {"unit_price": D(-1)}, {"kind": "rent"}],
    )
    def test_a_line_without_sense_is_not_stored(self, owner, fields):
        quote = make_quote(by=owner)
        with pytest.raises(ValidationError):
            make_line(quote=quote, by=owner, **fields)
        assert not FreeLine.objects.exists()

    def test_a_line_taken_out_is_not_in_the_draft_and_can_be_put_back(self, owner):
        quote = make_quote(by=owner, panels=0)
        line = make_line(quote=quote, by=owner)
        drop_line(line, by=owner, at=AT)
        assert work_out_draft(quote).rows.free_lines == ()
        restore_line(line, by=owner, at=AT)
        assert work_out_draft(quote).rows.free_lines == (line,)
        assert [entry.text for entry in log_of(quote)][:2] == [
            "Line put back: Take down old boards",
            "Line taken out: Take down old boards",
        ]


class TestDraft:
    def test_what_stands_in_the_way_is_said_in_sentences(self, owner):
        client = make_client()
        empty = make_room(client=client, name="Back room")
        quote = make_quote(by=owner, client=client, rooms=[empty])
        draft = work_out_draft(quote)
        assert draft.trouble == (
            "There is nothing to offer yet: plan panels for a room, or add a line.",
            "Back room has no panels: plan some, or take it out.",
        )
        assert draft.flags == (
            "The client has no e-mail address yet: you will be asked for one.",
        )

    def test_a_material_without_price_stands_in_the_way(self, owner):
        quote = make_quote(by=owner)
        spec = work_out_draft(quote).rows.specs[0]
        spec.fill.pack_price = None
        spec.fill.save()
        draft = work_out_draft(quote)
        assert draft.priced is None
        assert draft.trouble == (f"No price yet for: {spec.fill.name}.",)

    def test_a_size_that_cannot_be_built_names_the_panel(self, owner):
        quote = make_quote(by=owner, spec=make_spec(name="Quiet square"))
        panel = work_out_draft(quote).rows.panels[0]
        panel.width_ticks = 320 * 20
        panel.save()
        trouble = work_out_draft(quote).trouble
        assert trouble
        assert trouble[0].startswith("Quiet square, 20 × 1200 mm: ")

    def test_queries_do_not_grow_with_the_draft(self, owner, count_queries):
        small = make_quote(by=owner, panels=2)
        rooms = [make_room(client=small.client, name=f"Room {n}") for n in range(20)]
        few = count_queries(lambda: work_out_draft(small))
        for room in rooms:
            make_planned(room=room, spec=make_spec())
        large = make_quote(by=owner, client=small.client, rooms=rooms)
        make_line(quote=large, by=owner)
        assert count_queries(lambda: work_out_draft(large)) <= few
