"""Fill: whole slabs and cut ones, offcuts first; measured, cut, and taken back."""

import pytest

from jobs.cutting.actions import finish_plan, unfinish_plan
from jobs.cutting.adapter import counts_of, plan_of, request_of
from jobs.cutting.models import CutState, YieldFinding
from shared.forms import TypedLength
from shop.catalogue.actions import keep_piece
from shop.catalogue.models import StockLevel, StockPiece
from tests.factories.catalogue import mm
from tests.factories.cloth import make_cloth_ask, make_cloth_job, make_wool
from tests.factories.cutting import made
from tests.factories.jobs import AT
from tests.pages import soup, text

pytestmark = pytest.mark.django_db
KINDS = (("wall-panel", 636, 1236, 3), ("wall-panel", 500, 700, 1))


@pytest.fixture
def wool(shop):
    return make_wool()


@pytest.fixture
def plan(wool, maker):
    job = make_cloth_job(by=maker, wool=wool, kinds=KINDS)
    return made(make_cloth_ask(job=job, cloth=wool, by=maker))


def test_every_piece_of_the_takeoffs_is_cut_once(plan, wool):
    assert (plan.state, plan.refusal) == (CutState.PLANNED, "")
    request, found = request_of(plan), plan_of(plan)
    wanted = {part.key: part.count for part in request.parts}
    placed = dict.fromkeys(wanted, 0)
    for layout in found.layouts:
        for plate in layout.plates:
            for strip in plate.strips:
                for piece in strip.pieces:
                    placed[piece.part] += layout.count
    assert placed == wanted
    assert sum(wanted.values()) >= 4
    assert found.verdict.lower_bound <= found.verdict.price


def test_an_offcut_that_is_large_enough_goes_first(wool, maker):
    sizes = {"length": TypedLength(mm(1150), ""), "width": TypedLength(mm(590), "")}
    piece = keep_piece(wool, by=maker, at=AT, **sizes)
    job = make_cloth_job(by=maker, wool=wool, kinds=(("wall-panel", 500, 700, 1),))
    plan = made(make_cloth_ask(job=job, cloth=wool, by=maker))
    assert counts_of(plan_of(plan)) == {f"offcut {piece.code}": 1}


def test_finishing_books_slabs_and_is_taken_back(plan, wool, maker):
    whole = sum(n for k, n in counts_of(plan_of(plan)).items() if k == wool.code)
    finish_plan(plan, keep=(), by=maker, at=AT)
    level = StockLevel.objects.get(material=wool)
    assert level.quantity == -whole
    assert not YieldFinding.objects.exists()
    unfinish_plan(plan, by=maker, at=AT)
    level.refresh_from_db()
    assert (level.quantity, StockPiece.objects.count()) == (0, 0)


def test_its_pages_speak_of_a_knife(plan, maker, client_as):
    page = client_as(maker)
    shown = page.get(plan.get_absolute_url()).content.decode()
    assert "At the table, in this order" in shown
    words = text(soup(page.get(plan.get_absolute_url())).select_one("#cut-plan"))
    assert "fence" not in words
    assert "blade" not in words
    check = page.post(
        f"{plan.get_absolute_url()}check/", {"length": "1200", "width": "600"}
    )
    assert check.status_code == 302
    assert page.get(f"{plan.get_absolute_url()}cut-list.pdf").content[:5] == b"%PDF-"
    at_it = page.get(f"{plan.get_absolute_url()}saw/").content.decode()
    assert "dust mask" in at_it
