"""Pages and papers of cloth: asking, a plan, at the table, the cutting list, drawings."""

import pytest
from django.urls import reverse

from jobs.cutting.actions import check_roll
from jobs.cutting.adapter import cloth_request_of, roll_plan
from jobs.cutting.engine.cloth_drawing import Segment, scale_of, segment_drawing
from jobs.cutting.engine.notation import Notation
from jobs.cutting.engine.results import rows_of
from jobs.cutting.models import CutPlan, CutState, CutTick
from jobs.cutting.reports.cloth import piece_names
from jobs.gates.models import Gate, GateKind
from shared.forms import TypedLength
from shared.length import UnitSystem
from tests.factories.catalogue import mm
from tests.factories.cloth import make_cloth, make_cloth_job, make_cloth_plan
from tests.factories.jobs import AT
from tests.pages import grows, soup, text

pytestmark = pytest.mark.django_db
LIST = "/cutting/"


@pytest.fixture
def cloth(shop):
    return make_cloth()


@pytest.fixture
def plan(cloth, maker):
    return make_cloth_plan(by=maker, cloth=cloth)


@pytest.fixture
def page(client_as, maker):
    return client_as(maker)


def at(plan, name):
    return reverse(f"jobs:cut-plan-{name}", args=(plan.pk,))


def ask_url(*jobs):
    query = "&".join(f"job={job.pk}" for job in jobs)
    return f"{reverse('jobs:cut-plan-new')}?{query}"


def test_cloth_is_listed_and_asked_for_job_by_job(page, cloth, maker):
    jobs = [make_cloth_job(by=maker, cloth=cloth) for _ in range(2)]
    assert f"{cloth.name}, 3 pieces" in text(soup(page.get(LIST)).select_one("#uncut"))
    shown = soup(page.get(ask_url(*jobs)))
    assert not shown.select("[name=kerf_ticks]")
    keep = {"keep_length_ticks": "300", "keep_width_ticks": "80"}
    typed = keep | {"material": str(cloth.pk), "repair_ticks": "200"}
    refused = page.post(ask_url(*jobs), typed | {"flaw_percent": "400"})
    assert (refused.status_code, CutPlan.objects.count()) == (422, 0)
    page.post(ask_url(*jobs), typed | {"flaw_percent": "7"})
    plans = CutPlan.objects.all()
    assert len(plans) == 2
    assert {len({p.panel.job_id for p in x.plan_panels.all()}) for x in plans} == {1}
    assert {(x.flaw_percent, x.repair_ticks) for x in plans} == {(7, mm(200))}


def test_what_is_wrong_with_a_cloth_is_said_before_and_after(page, maker, shop):
    odd = make_cloth(backed=True, fire_papers="", colour="ivory", directional=True)
    plan = make_cloth_plan(by=maker, cloth=odd)
    other = make_cloth_job(by=maker, cloth=odd)
    for url in (plan.get_absolute_url(), ask_url(other)):
        words = text(soup(page.get(url)))
        assert "shuts the fill off from air" in words
        assert "No fire papers" in words
        assert "pale: without a lining" in words
        assert "every piece runs up the roll" in words


def test_a_shut_gate_shows_as_waiting(page, cloth, maker):
    job = make_cloth_job(by=maker, cloth=cloth)
    Gate.objects.create(job=job, kind=GateKind.FABRIC, material=cloth)
    words = text(soup(page.get(LIST)).select_one("#uncut"))
    assert f"Fabric signed for: {cloth.name}" in words
    assert "3 waiting" in words


def test_the_page_says_metres_and_hides_money_from_makers(page, plan, client_as, owner):
    words = text(soup(page.get(plan.get_absolute_url())))
    assert "m to cut" in words
    assert "of it for flaws" in words
    assert "Worth" not in words
    assert "Worth" in text(soup(client_as(owner).get(plan.get_absolute_url())))


def test_the_list_prints_only_once_the_roll_was_measured(page, plan, maker):
    paper = reverse("jobs:cut-list", args=(plan.pk,))
    assert page.get(paper).url == plan.get_absolute_url()
    for typed in ({"width": ""}, {"width": "24"}, {"width": "bananas"}):
        assert page.post(at(plan, "check"), typed).status_code == 422
    page.post(at(plan, "check"), {"width": "1680", "lot": "L7"})
    plan.refresh_from_db()
    assert (plan.real_width_text, plan.lot) == ("1680", "L7")
    assert page.get(paper).content[:5] == b"%PDF-"
    labels = page.get(reverse("jobs:cut-labels", args=(plan.pk,)))
    assert labels.content[:5] == b"%PDF-"


def test_pulls_are_ticked_at_the_table(page, plan, maker):
    check_roll(plan, TypedLength(mm(1680), "1680"), "", by=maker, at=AT)
    url = reverse("jobs:cut-saw", args=(plan.pk,))
    shown = soup(page.get(url))
    keys = [each["value"] for each in shown.select("input[name=key]")]
    assert keys == [row.key for row in rows_of(plan.result)]
    assert "cut across; then along at" in text(shown)
    tick = reverse("jobs:cut-tick", args=(plan.pk,))
    page.post(tick, {"key": keys[0], "on": "yes"})
    assert set(CutTick.objects.standing(plan)) == {keys[0]}
    assert page.post(tick, {"key": "pull-9", "on": "yes"}).status_code == 422


def test_all_cut_and_taken_back_from_the_page(page, plan):
    page.post(at(plan, "finish"), {})
    plan.refresh_from_db()
    assert plan.state == CutState.CUT
    page.post(at(plan, "unfinish"))
    plan.refresh_from_db()
    assert plan.state == CutState.PLANNED


def test_fitters_do_not_plan_cloth(plan, client_as, fitter):
    assert client_as(fitter).get(plan.get_absolute_url()).status_code == 403


def test_the_lists_ask_no_more_with_more_cloth(page, cloth, maker):
    def more():
        make_cloth_job(by=maker, cloth=make_cloth())
        make_cloth_job(by=maker, cloth=cloth)

    assert grows(page, LIST, more) == 0


@pytest.mark.parametrize("units", list(UnitSystem))
def test_labels_of_a_roll_do_not_collide_and_lie_on_the_paper(units, maker, shop):
    kinds = (("wall-panel", 600, 1200, 4), ("wall-panel", 300, 400, 5))
    cloth = make_cloth(directional=True)
    plan = make_cloth_plan(by=maker, cloth=cloth, kinds=kinds)
    (use,) = roll_plan(plan).rolls
    show, names = Notation(units, 32), piece_names(cloth_request_of(plan))
    segment = Segment("C1-1", "Roll", use, use.rows, names, True, show)
    drawn = segment_drawing(segment, scale_of(use, show), words="Rows.")
    boxes = drawn.label_boxes()
    assert all(drawn.paper.contains(box) for box in boxes)
    pairs = [(a, b) for i, a in enumerate(boxes) for b in boxes[:i] if a.overlaps(b)]
    assert not pairs
    words = " ".join(label.text for label in drawn.labels())
    codes = {panel.code for panel in cloth_request_of(plan).panels}
    assert all(code in words for code in codes)
