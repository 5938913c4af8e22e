"""What a sent quote keeps: all that the job needs, no cost, and readable for years."""

import io
import json
import re
from decimal import Decimal as D
from decimal import InvalidOperation

import pytest
from pypdf import PdfReader

from jobs.board.actions import open_job
from jobs.board.models import Panel
from quotes.offers.actions import accept_quote
from quotes.offers.documents import letterhead_of, quote_pdf
from quotes.offers.models import QuoteRevision
from quotes.offers.paper import paper_of
from quotes.offers.snapshot import SCHEMA
from quotes.specs.documents import panel_sheet_pdf
from shared.money import round_money
from shop.catalogue.models import Material, Operation
from shop.clients.models import Client, ClientDetails, Site
from tests.factories.jobs import make_revision
from tests.factories.offers import (
    AT,
    make_cafe,
    make_line,
    make_quote,
    make_rules,
    make_sent,
    make_survey,
    snapshot_of_draft,
)
from tests.factories.people import make_profile
from tests.factories.specs import make_spec, make_spec_operation
from tests.quotes.offers.write_golden import golden_path, small_cafe

pytestmark = pytest.mark.django_db

UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\Z")


@pytest.fixture(scope="module")
def kept():
    return json.loads(golden_path(1).read_text(encoding="utf-8"))


def leaves(value, path=()):
    """Yield every plain value with the keys on the way to it; an id as a key is a star."""
    if isinstance(value, dict):
        for key, below in value.items():
            yield from leaves(below, (*path, "*" if UUID.match(key) else key))
    elif isinstance(value, list):
        for below in value:
            yield from leaves(below, (*path, "[]"))
    else:
        yield path, value


def shape(snapshot):
    return {(path, type(value).__name__) for path, value in leaves(snapshot)}


class TestKeptSnapshot:
    """A snapshot of schema 1, as it was written when the schema was made."""

    def test_each_schema_has_one(self):
        assert all(golden_path(schema).exists() for schema in range(1, SCHEMA + 1))

    def test_what_is_written_today_has_its_keys_and_kinds(self, kept):
        assert shape(small_cafe()) == shape(kept)

    def test_its_paper_can_be_laid_out(self, kept):
        paper = paper_of(kept)
        assert paper.reference == "Q2026-0001A"
        (room,) = paper.rooms
        assert [(row.codes, row.count) for row in room.rows] == [
            ("1–2", 2),
            ("3", 1),
            ("4", 1),
            ("5", 1),
        ]
        assert [row.size for row in room.rows] == [
            "600 × 1200 mm",
            "1200 × 900 mm",
            "873 × 1411 mm",
            "400 × 1200 mm",
        ]
        assert paper.sums.gross == D(kept["price"]["gross"])

    def test_its_paper_can_be_printed(self, kept):
        text = text_of(quote_pdf(kept))
        assert "Quote Q2026-0001A: 5 sound-absorbing panels" in text

    def test_a_job_can_be_opened_and_its_sheets_printed(self, kept, owner):
        revision = make_revision(
            by=owner, snapshot=kept, client=client_with(kept["client"]["id"])
        )
        open_job(revision, owner, AT)
        panels = list(Panel.objects.order_by("number"))
        assert [panel.kind for panel in panels] == [
            "wall",
            "wall",
            "hung",
            "reveal",
            "corner",
        ]
        letterhead = letterhead_of(kept["shop"])
        for panel in (panels[0], panels[-1]):
            sheet = panel_sheet_pdf(
                panel.snapshot, letterhead=letterhead, codes=[panel.code]
            )
            assert panel.code in text_of(sheet)


def client_with(key):
    """Return a client of a given id, as the kept snapshot names it."""
    client = Client.objects.create(id=key)
    details = ClientDetails(client=client, name="Mara Quill")
    details.index()
    details.save()
    return client


def text_of(pdf):
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


class TestAsStored:
    def test_it_comes_back_from_the_database_as_it_went_in(self, owner, quick_print):
        make_sent(by=owner, quote=make_cafe(by=owner))
        (printed,) = quick_print
        stored = QuoteRevision.objects.get().snapshot
        assert stored == printed
        assert paper_of(stored) == paper_of(printed)

    def test_it_is_plain_json(self, owner):
        snapshot = snapshot_of_draft(make_cafe(by=owner))
        assert json.loads(json.dumps(snapshot, allow_nan=False)) == snapshot

    def test_money_and_quantities_are_texts(self, owner):
        make_rules()
        quote = make_quote(by=owner)
        price = snapshot_of_draft(quote)["price"]
        numbers = [value for _, value in leaves(price) if not isinstance(value, str)]
        assert numbers == [False]  # whether prices include tax

    def test_what_was_measured_goes_along(self, owner):
        quote = make_quote(by=owner)
        room = quote.rooms.get()
        make_survey(room=room, by=owner, construction="lath", heated=True)
        (kept,) = snapshot_of_draft(quote)["rooms"]
        assert kept["ceiling"] == {"construction": "lath", "heated": True}
        assert [wall["construction"] for wall in kept["walls"]][:2] == [
            "brick",
            "board_wood",
        ]

    def test_a_room_nobody_measured_is_kept_all_the_same(self, owner):
        (kept,) = snapshot_of_draft(make_quote(by=owner))["rooms"]
        assert kept["walls"] == []
        assert kept["ceiling"] == {"construction": "", "heated": False}

    def test_panels_are_numbered_once_room_by_room(self, owner):
        snapshot = snapshot_of_draft(make_cafe(by=owner))
        assert [panel["number"] for panel in snapshot["panels"]] == list(range(1, 22))
        assert len({panel["planned_panel"] for panel in snapshot["panels"]}) == 21
        counts = [group["count"] for group in snapshot["groups"].values()]
        assert sum(counts) == 21


SECRETS = {
    "pack price": "917.37",
    "hourly rate": "83.19",
    "overhead": "21.123",
    "profit": "43.217",
    "travel": "7.77",
}
"""Figures that nobody but owner and office may see, each odd enough to be found."""


def draft_with_secrets(by):
    make_profile()
    make_rules(
        overhead_percent=D(SECRETS["overhead"]),
        profit_percent=D(SECRETS["profit"]),
        travel_rate_per_km=D(SECRETS["travel"]),
    )
    spec = make_spec()
    make_spec_operation(spec=spec)
    Material.objects.update(pack_price=D(SECRETS["pack price"]))
    Operation.objects.update(hourly_rate=D(SECRETS["hourly rate"]))
    quote = make_quote(by=by, spec=spec)
    Site.objects.update(distance_km=D(12))
    make_line(quote=quote, by=by)
    return quote


def told(value, figures):
    """Return which of some figures are found among all values, whole or in a text."""
    texts = "\n".join(cents(found) for _, found in leaves(value))
    return {figure for figure in figures if is_told(figure, texts)}


def cents(value):
    """Write an amount to the cent, so that it is found however exact it is kept."""
    try:
        return f"{value} {round_money(D(value), 'EUR')}"
    except (InvalidOperation, TypeError, ValueError):
        return str(value)


def is_told(figure, text):
    """Whether a figure stands in a text as a number of its own."""
    return bool(re.search(rf"(?<![\d.]){re.escape(figure)}(?!\d)", text))


class TestPrivacy:
    @pytest.fixture
    def revision(self, owner, quick_print):
        return make_sent(by=owner, quote=draft_with_secrets(owner))

    @pytest.fixture
    def costs(self, revision):
        """Every cost worked out, to the cent, but for the price the client gets too."""
        figures = {
            k: v for k, v in revision.snapshot["costs"].items() if k != "workings"
        }
        worked = {D(value) for _, value in leaves(figures)}
        cents = {str(round_money(amount, "EUR")) for amount in worked if amount}
        assert len(cents) == 8
        return cents - {revision.snapshot["price"]["net"]}

    def test_the_search_finds_what_is_there(self, revision, costs):
        assert told(revision.snapshot["costs"], costs) == costs

    def test_everything_but_the_costs_tells_none(self, revision, costs):
        rest = {k: v for k, v in revision.snapshot.items() if k != "costs"}
        assert told(rest, {*costs, *SECRETS.values()}) == set()

    def test_a_jobs_panel_tells_no_money_at_all(self, revision, costs, owner):
        open_job(revision, owner, AT)
        price = revision.snapshot["price"]
        amounts = {price["gross"], price["net"], price["tax"], price["deposit"]}
        for panel in Panel.objects.all():
            keys = {key for path, _ in leaves(panel.snapshot) for key in path}
            assert not keys & {"price", "costs", "pack_price", "hourly_rate", "net"}
            assert told(panel.snapshot, {*costs, *SECRETS.values(), *amounts}) == set()

    def test_the_paper_tells_no_cost(self, revision, costs):
        text = text_of(quote_pdf(revision.snapshot))
        assert revision.snapshot["quote"]["number"] in text
        plain = text.replace(",", "")
        assert is_told(revision.snapshot["price"]["gross"], plain)
        assert [f for f in {*costs, *SECRETS.values()} if is_told(f, plain)] == []
        assert not re.search(r"(?i)margin|overhead|mark-?up|profit|cost", text)


def test_how_each_figure_came_is_kept_and_opens_on_the_settled_page(
    client_as, owner, shop, time_machine
):
    time_machine.move_to(AT)
    revision = make_sent(by=owner)
    kept = revision.snapshot["costs"]["workings"]
    assert any(" × " in json.dumps(step, ensure_ascii=False) for step in kept)
    accept_quote(revision.quote, note="", by=owner, at=AT)
    page = client_as(owner).get(revision.quote.get_absolute_url()).content.decode()
    assert kept[0]["label"] in page
    assert "How each figure came" in page
