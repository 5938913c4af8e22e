"""Pages of cutting: what can be cut, asking, a plan in each state, the saw's rules."""

from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.cutting.actions import finish_plan
from jobs.cutting.models import CutPlan, CutState, SawRules
from jobs.gates.models import Gate, GateKind
from shop.catalogue.actions import move_stock
from shop.catalogue.models import StockReason
from tests.cast import AS_HTMX
from tests.factories.catalogue import mm
from tests.factories.cutting import made, make_ask, make_plan, make_ply, make_wood_job
from tests.factories.jobs import AT
from tests.pages import grows, refused, shown, soup, text

pytestmark = pytest.mark.django_db
SAW = {
    "kerf_ticks": "3.2",
    "trim_ticks": "0",
    "halving": "whole",
    "keep_length_ticks": "300",
    "keep_width_ticks": "80",
}
LIST = "/cutting/"


@pytest.fixture
def ply(shop):
    return make_ply()


@pytest.fixture
def plan(ply, maker):
    return make_plan(by=maker, ply=ply)


@pytest.fixture
def page(client_as, maker):
    return client_as(maker)


def new_url(*jobs):
    query = "&".join(f"job={job.pk}" for job in jobs)
    return f"{reverse('jobs:cut-plan-new')}?{query}"


def at(plan, name):
    return reverse(f"jobs:cut-plan-{name}", args=(plan.pk,))


def told(response):
    return text(soup(response).select_one("#messages"))


def sizes(length="2440", width="1220", thickness="15"):
    return {"length": length, "width": width, "thickness": thickness}


def test_what_can_be_cut_is_listed_by_job_and_material(page, ply, maker):
    assert "Nothing is to be cut" in text(soup(page.get(LIST)).select_one("#uncut"))
    job = make_wood_job(by=maker, ply=ply)
    page_ = text(soup(page.get(LIST)).select_one("#uncut"))
    assert job.code in page_
    assert f"{ply.name}, 12 pieces" in page_


def test_what_waits_says_for_what_and_cannot_be_ticked(page, ply, maker):
    job = make_wood_job(by=maker, ply=ply)
    Gate.objects.create(job=job, kind=GateKind.DEPOSIT)
    page_ = soup(page.get(LIST)).select_one("#uncut")
    assert not page_.select("input[name=job]")
    assert page_.select_one(f'a[href^="/jobs/{job.pk}/"]')
    assert "2 waiting" in text(page_)


def test_plans_are_listed_the_open_first_and_as_a_fragment(page, plan, maker):
    finish_plan(plan, keep=(), by=maker, at=AT)
    other = make_plan(by=maker, ply=plan.material)
    response = page.get(LIST, headers=AS_HTMX)
    assert b"<html" not in response.content
    codes = [text(each) for each in soup(response).select("tbody th")]
    assert codes == [other.code, plan.code]


def test_the_list_asks_no_more_with_twenty_jobs_and_plans(page, ply, maker):
    def more():
        make_wood_job(by=maker, ply=ply)
        plan = make_ask(job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker)
        CutPlan.objects.filter(pk=plan.pk).update(state=CutState.STOPPED)

    assert grows(page, LIST, more) == 0


def test_a_plan_is_asked_for_and_opens(page, ply, maker):
    job = make_wood_job(by=maker, ply=ply)
    page_ = soup(page.get(new_url(job)))
    assert page_.select_one("input[name=material][checked]")["value"] == str(ply.pk)
    response = page.post(new_url(job), SAW | {"material": str(ply.pk)})
    plan = CutPlan.objects.get()
    assert response.url == plan.get_absolute_url()
    assert (plan.kerf_ticks, plan.may_trim_strips) == (mm(3.2), False)
    page_ = page.get(response.url)
    assert soup(page_).select_one('#cut-plan[hx-trigger="every 2s"]')
    made(plan)
    response = page.get(response.url, headers=AS_HTMX)
    assert b"<html" not in response.content
    (root,) = soup(response).find_all(recursive=False)
    assert (root["id"], root.get("hx-trigger")) == ("cut-plan", None)


@pytest.mark.parametrize(
    "query", ["", "?job=bananas", "?job=00000000-0000-4000-8000-000000000000"]
)
def test_with_no_job_it_says_to_choose_one(page, ply, query):
    response = page.get(reverse("jobs:cut-plan-new") + query)
    assert "Choose a job first" in text(soup(response).main)


def test_a_job_with_nothing_left_to_plan_says_so(page, plan):
    job = plan.plan_panels.all()[0].panel.job
    assert "Nothing of it is to be cut" in text(soup(page.get(new_url(job))).main)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("material", ""),
        ("material", "00000000-0000-4000-8000-000000000000"),
        ("kerf_ticks", ""),
        ("kerf_ticks", "bananas"),
        ("kerf_ticks", "-3"),
        ("kerf_ticks", "90"),
        ("trim_ticks", "1e9"),
        ("halving", "thrice"),
        ("keep_length_ticks", "0"),
        ("keep_width_ticks", "999999999"),
        ("keep_width_ticks", "\0"),
    ],
)
def test_a_bad_ask_stores_nothing(page, ply, maker, field, value):
    job = make_wood_job(by=maker, ply=ply)
    typed = SAW | {"material": str(ply.pk), field: value}
    if field == "material":
        response = page.post(new_url(job), typed)
        assert response.status_code == 422
        assert soup(response).select("#id_material_field .errorlist li")
    else:
        typed.pop("material")
        refused(page, new_url(job), typed, field)
    assert not CutPlan.objects.exists()


def test_what_somebody_planned_meanwhile_is_said_beside_it(page, ply, maker, office):
    first, second = (make_wood_job(by=maker, ply=ply) for _ in range(2))
    make_ask(job=first, ply=ply, by=office)
    page.post(new_url(first, second), SAW | {"material": str(ply.pk)})
    newest = CutPlan.objects.newest_first()[0]
    assert {row.panel.job for row in newest.plan_panels.all()} == {second}


def test_the_answer_says_how_many_and_that_no_fewer_can_do(page, plan):
    page_ = soup(page.get(plan.get_absolute_url()))
    assert text(page_.select_one("#answer-title")) == "1 sheet"
    words = text(page_.select_one("#cut-plan"))
    assert "No plan of this kind needs fewer than 1 sheet." in words
    assert "rip strips along the sheet, then crosscut them" in words
    assert len(page_.select("#sheets-title ~ figure svg, section svg[role=img]")) == 1
    assert len(page_.select(".slip")) == 3


def test_only_who_sees_money_sees_what_it_is_worth(client_as, owner, page, plan):
    url = plan.get_absolute_url()
    assert "48.00" in text(soup(client_as(owner).get(url)))
    assert "48.00" not in text(soup(page.get(url)))


def test_a_refused_plan_says_why_and_leads_on(page, ply, maker):
    plan = make_ask(
        job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker, trim_ticks=mm(600)
    )
    plan = made(plan)
    page_ = soup(page.get(plan.get_absolute_url()))
    assert plan.refusal in text(page_)
    job = plan.plan_panels.all()[0].panel.job
    assert page_.select_one(f'a[href*="job={job.pk}"]')


def test_a_search_can_be_ended_from_the_page(page, ply, maker):
    plan = make_ask(job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker)
    assert page.post(at(plan, "stop")).url == plan.get_absolute_url()
    plan.refresh_from_db()
    assert plan.state == CutState.STOPPED
    assert "can be planned again" in text(soup(page.get(plan.get_absolute_url())))
    again = page.post(at(plan, "anew"))
    assert again.url == CutPlan.objects.get(replaces=plan).get_absolute_url()


def test_the_list_prints_only_after_somebody_measured(page, plan):
    for name in ("cut-list", "cut-labels"):
        response = page.get(reverse(f"jobs:{name}", args=(plan.pk,)), follow=True)
        assert "Measure what is to be cut first" in told(response)
    response = page.post(at(plan, "check"), sizes(), follow=True)
    assert "as planned" in told(response)
    page_ = soup(response)
    assert page_.select_one(f'a[href="{reverse("jobs:cut-list", args=(plan.pk,))}"]')


def test_another_size_leads_to_the_plan_made_anew(page, plan):
    response = page.post(at(plan, "check"), sizes(thickness="14.6"))
    now = CutPlan.objects.get(replaces=plan)
    assert response.url == now.get_absolute_url()
    page_ = text(soup(page.get(made(now).get_absolute_url())))
    assert "taken off with 14.6 mm, while the stores say 15 mm" in page_
    assert str(now) in text(soup(page.get(plan.get_absolute_url())))


@pytest.mark.parametrize(
    ("field", "value"),
    [("length", ""), ("width", "wide"), ("thickness", "0"), ("thickness", "299")],
)
def test_a_bad_size_is_said_beside_it_and_stores_nothing(page, plan, field, value):
    page_ = page.post(at(plan, "check"), sizes(**{field: value}))
    assert page_.status_code == 422
    assert soup(page_).select(f"#id_{field}_field .errorlist li")
    assert shown(soup(page_), field) == value
    plan.refresh_from_db()
    assert plan.checked_at is None


def test_all_cut_is_said_with_a_way_back(page, plan):
    url = plan.get_absolute_url()
    keys = [each["value"] for each in soup(page.get(url)).select("input[name=keep]")]
    response = page.post(at(plan, "finish"), {"keep": keys}, follow=True)
    assert f"{plan} is all cut" in told(response)
    undo = soup(response).select_one(f'form[action="{at(plan, "unfinish")}"]')
    assert undo
    again = page.post(at(plan, "finish"), {"keep": keys}, follow=True)
    assert "look again" in told(again)
    back = page.post(at(plan, "unfinish"), follow=True)
    assert "not all cut" in told(back)


def test_an_unknown_offcut_keeps_nothing(page, plan):
    response = page.post(at(plan, "finish"), {"keep": ["9-9-9"]})
    assert response.status_code == 422
    plan.refresh_from_db()
    assert plan.state == CutState.PLANNED


def test_another_halving_is_planned_from_the_page(page, plan):
    page.post(at(plan, "anew"), {"halving": "lengthwise"})
    now = made(CutPlan.objects.get(replaces=plan))
    assert (now.halving, now.state) == ("lengthwise", CutState.PLANNED)


def test_a_plan_that_was_dropped_comes_back(page, plan):
    response = page.post(at(plan, "drop"), follow=True)
    assert soup(response).select_one(f'form[action="{at(plan, "restore")}"]')
    assert "is back" in told(page.post(at(plan, "restore"), follow=True))


def test_the_plans_page_asks_no_more_with_twenty_panels(
    page, ply, maker, count_queries
):
    def asks(panels):
        plan = make_plan(by=maker, ply=ply, kinds=(("wall-panel", 600, 1200, panels),))
        page.get(plan.get_absolute_url())
        return count_queries(lambda: page.get(plan.get_absolute_url()))

    assert asks(20) == asks(2)


@pytest.mark.parametrize(
    "name", ["show", "stop", "check", "finish", "unfinish", "drop", "restore", "anew"]
)
def test_who_may_not_cut_is_refused_and_outsiders_sign_in(
    client_as, fitter, plan, client, name
):
    url = plan.get_absolute_url() if name == "show" else at(plan, name)
    ask = "get" if name == "show" else "post"
    assert getattr(client_as(fitter), ask)(url).status_code == 403
    assert "/accounts/login/" in getattr(client, ask)(url).url
    if name != "show":
        assert client_as(fitter).get(url).status_code == 405


@pytest.mark.parametrize("name", ["cutting", "cut-plan-new", "saw-rules"])
def test_cutting_is_for_those_who_cut(client_as, fitter, shop, name):
    assert client_as(fitter).get(reverse(f"jobs:{name}")).status_code == 403


def test_the_saws_rules_are_stored_and_new_plans_begin_with_them(page, ply, maker):
    url = reverse("jobs:saw-rules")
    page_ = soup(page.get(url))
    assert page_.select_one("#id_kerf_ticks")["value"] == "3.2 mm"
    typed = SAW | {"kerf_ticks": "2.4", "flaw_percent": "5", "repair_ticks": "0"}
    assert page.post(url, typed).status_code == 302
    assert SawRules.objects.get().kerf_ticks == mm(2.4)
    job = make_wood_job(by=maker, ply=ply)
    page_ = soup(page.get(new_url(job)))
    assert page_.select_one("#id_kerf_ticks")["value"] == "2.4 mm"
    for field, value in (
        ("kerf_ticks", "x"),
        ("flaw_percent", "101"),
        ("repair_ticks", "-1"),
    ):
        refused(page, url, typed | {field: value}, field)
    assert SawRules.objects.get().kerf_ticks == mm(2.4)


def test_what_does_not_lie_in_the_stores_is_said_before_anything_is_cut(
    client_as, maker, shop
):
    plan = make_plan(by=maker)
    browser = client_as(maker)
    short = "by the stores there is 0 sheets"
    assert short in browser.get(plan.get_absolute_url()).content.decode()
    why = StockReason.DELIVERED
    move_stock(plan.material, Decimal(9), why, by=maker, at=AT)
    assert short not in browser.get(plan.get_absolute_url()).content.decode()
