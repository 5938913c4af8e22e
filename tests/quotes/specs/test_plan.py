"""A room's planned panels: adding, changing, taking out, openings, bench sheet."""

import io
import uuid

import pytest
from django.urls import reverse
from pypdf import PdfReader

from quotes.specs.models import PlannedPanel
from shop.catalogue.models import Material
from tests.cast import AS_HTMX
from tests.factories.catalogue import make_fabric
from tests.factories.specs import make_planned, make_spec
from tests.factories.surveys import make_opening, make_room, make_survey, mm, wall_of
from tests.pages import BAD_TEXTS, grows, refused, shown, soup, text

SENTINEL = "98765.43"


@pytest.fixture
def room(shop):
    return make_room()


@pytest.fixture
def spec(shop):
    return make_spec(name="Wall panel")


@pytest.fixture
def reveal(shop):
    return make_spec(
        name="Plug",
        kind="reveal",
        hanging="edge",
        edge_clearance_ticks=mm(3),
        edge_compressed_ticks=mm(3),
    )


@pytest.fixture
def opening(room):
    wall = wall_of(make_survey(room=room))
    return make_opening(
        wall=wall,
        name="Left window",
        widths_mm=(873, 871, 874),
        heights_mm=(1214, 1210),
    )


@pytest.fixture
def browser(client_as, office):
    return client_as(office)


def page_of(room):
    return reverse("quotes:plan", args=(room.pk,))


def add_to(room):
    return reverse("quotes:plan-add", args=(room.pk,))


def url_of(name, panel):
    return reverse(f"quotes:{name}", args=(panel.pk,))


def typed(spec, **changed):
    usual = {"spec": str(spec.pk), "width": "600", "height": "1200"}
    return usual | {"fabric": "", "quantity": "1", "note": ""} | changed


class TestAdding:
    def test_an_empty_plan_says_what_to_do(self, room, spec, browser):
        assert "No panels yet" in text(soup(browser.get(page_of(room))).main)

    def test_without_builds_it_points_to_them(self, room, browser):
        page = soup(browser.get(page_of(room)))
        assert page.select_one("#plan-form a")["href"] == "/builds/"

    def test_so_many_rows_are_made_with_the_text_as_typed(self, room, spec, browser):
        answer = typed(spec, width="60 cm", quantity="14", note="Behind the bar")
        response = browser.post(add_to(room), answer, follow=True)
        panels = PlannedPanel.objects.in_room(room).live()
        assert panels.count() == 14
        assert {(p.width_ticks, p.width_text, p.note) for p in panels} == {
            (mm(600), "60 cm", "Behind the bar")
        }
        words = text(soup(response).main)
        assert "14 × Wall panel planned" in words
        assert "14 × Wall panel 600 × 1200 mm" in words

    def test_htmx_is_sent_to_the_plan(self, room, spec, browser):
        response = browser.post(add_to(room), typed(spec), headers=AS_HTMX)
        assert response["HX-Redirect"] == page_of(room)

    def test_a_fabric_of_its_own_is_shown_and_drawn(self, room, spec, browser):
        moss = make_fabric(name="Moss", colour="#5d6b45")
        browser.post(add_to(room), typed(spec, fabric=str(moss.pk)))
        page = soup(browser.get(page_of(room)))
        assert "Moss" in text(page.select_one(".lot"))
        assert page.select_one('.lot svg [fill="#5d6b45"]')

    def test_alike_is_grouped_and_another_size_is_not(self, room, spec, browser):
        for quantity, height in (("2", "1200"), ("3", "1200"), ("1", "900")):
            browser.post(add_to(room), typed(spec, quantity=quantity, height=height))
        lots = [
            text(lot.select_one("p"))
            for lot in soup(browser.get(page_of(room))).select(".lot")
        ]
        assert lots == ["5 × Wall panel 600 × 1200 mm", "1 × Wall panel 600 × 900 mm"]

    def test_what_is_only_flagged_is_planned_and_the_flag_shown(self, room, browser):
        heavy = make_spec(one_person_kg=3)
        assert browser.post(add_to(room), typed(heavy)).status_code == 302
        page = soup(browser.get(page_of(room)))
        assert "for one person" in text(page.select_one(".lot .caution"))

    @pytest.mark.parametrize(
        ("changed", "field"),
        [
            ({"spec": ""}, "spec"),
            ({"spec": str(uuid.uuid4())}, "spec"),
            ({"spec": "1"}, "spec"),
            ({"width": ""}, "width"),
            ({"width": "wide"}, "width"),
            ({"width": "-600"}, "width"),
            ({"width": "0"}, "width"),
            ({"width": "90"}, "width"),
            ({"height": "3000"}, "height"),
            ({"height": "25 m"}, "height"),
            ({"height": "9" * 99}, "height"),
            ({"quantity": ""}, "quantity"),
            ({"quantity": "0"}, "quantity"),
            ({"quantity": "-1"}, "quantity"),
            ({"quantity": "201"}, "quantity"),
            ({"quantity": "1.5"}, "quantity"),
            ({"quantity": "two"}, "quantity"),
            ({"fabric": str(uuid.uuid4())}, "fabric"),
            ({"note": "x" * 121}, "note"),
            *(({"note": bad}, "note") for bad in BAD_TEXTS),
        ],
    )
    def test_bad_input_is_refused(self, room, spec, browser, changed, field):
        refused(browser, add_to(room), typed(spec) | changed, field)
        assert not PlannedPanel.objects.exists()

    def test_a_roll_too_narrow_is_refused_beside_the_fabric(self, room, spec, browser):
        narrow = make_fabric(width_ticks=mm(300))
        refused(browser, add_to(room), typed(spec, fabric=str(narrow.pk)), "fabric")

    def test_a_build_that_cannot_be_is_refused_beside_it(self, room, browser):
        shallow = make_spec(depth_ticks=mm(40))
        refused(browser, add_to(room), typed(shallow), "spec")

    def test_a_build_put_aside_is_not_on_offer(self, room, spec, browser):
        spec.archived_at = spec.created_at
        spec.save()
        make_spec()
        refused(browser, add_to(room), typed(spec), "spec")


class TestPreview:
    def test_while_typing_it_shows_what_would_be_made(self, room, spec, browser):
        response = browser.get(page_of(room), typed(spec), headers=AS_HTMX)
        page = soup(response)
        assert not page.find("html")
        assert page.find(id="plan-preview")
        assert "finished 603.2 × 1203.2 mm" in text(page)
        assert page.select("svg")

    def test_half_typed_shows_nothing_yet(self, room, spec, browser):
        answer = typed(spec, width="")
        response = browser.get(page_of(room), answer, headers=AS_HTMX)
        page = soup(response)
        assert response.status_code == 200
        assert page.find(id="plan-preview")
        assert not page.select("svg, .caution")

    def test_it_is_a_page_that_can_be_passed_on(self, room, spec, browser):
        page = soup(browser.get(page_of(room), typed(spec, width="450")))
        assert page.find("html")
        assert shown(page, "width") == "450"


class TestOpenings:
    def test_the_size_is_the_smallest_readings(self, room, reveal, opening, browser):
        answer = typed(reveal, width="", height="", opening=str(opening.pk))
        assert browser.post(add_to(room), answer).status_code == 302
        panel = PlannedPanel.objects.get()
        assert (panel.width_ticks, panel.height_ticks) == (mm(871), mm(1210))
        assert (panel.width_text, panel.height_text) == ("871", "1210")
        assert panel.opening == opening
        page = soup(browser.get(page_of(room)))
        assert "For Left window" in text(page.select_one(".lot"))

    def test_the_finished_panel_is_smaller_by_the_clearance(
        self, room, reveal, opening, browser
    ):
        answer = typed(reveal, width="", height="", opening=str(opening.pk))
        page = soup(browser.get(page_of(room), answer, headers=AS_HTMX))
        assert "opening 871 × 1210 mm, made 865 × 1204 mm" in text(page)
        browser.post(add_to(room), answer)
        said = text(soup(browser.get(page_of(room))).select_one(".lot"))
        assert "1 × Plug opening 871 × 1210 mm, made 865 × 1204 mm" in said

    @pytest.mark.parametrize(
        ("changed", "field"),
        [
            ({"width": "600"}, "width"),
            ({"quantity": "2"}, "quantity"),
            ({"opening": str(uuid.uuid4())}, "opening"),
        ],
    )
    def test_nothing_is_typed_twice(
        self, room, reveal, opening, browser, changed, field
    ):
        answer = typed(reveal, width="", height="", opening=str(opening.pk)) | changed
        refused(browser, add_to(room), answer, field)

    def test_only_a_reveal_panel_fills_one(self, room, spec, opening, browser):
        answer = typed(spec, width="", height="", opening=str(opening.pk))
        refused(browser, add_to(room), answer, "opening")

    def test_an_opening_of_another_room_is_not_on_offer(self, reveal, opening, browser):
        other = make_room()
        make_opening(wall=wall_of(make_survey(room=other)))
        answer = typed(reveal, width="", height="", opening=str(opening.pk))
        refused(browser, add_to(other), answer, "opening")

    def test_two_openings_are_two_lots(self, room, reveal, opening, browser):
        twin = make_opening(wall=opening.wall, widths_mm=(871,), heights_mm=(1210,))
        for each in (opening, twin):
            answer = typed(reveal, width="", height="", opening=str(each.pk))
            browser.post(add_to(room), answer)
        assert len(soup(browser.get(page_of(room))).select(".lot")) == 2


class TestChanging:
    @pytest.fixture
    def lot(self, room, spec):
        return [make_planned(room=room, spec=spec) for _ in range(3)]

    def test_the_form_shows_the_panels_as_they_are(self, lot, browser):
        page = soup(browser.get(url_of("plan-change", lot[0])))
        assert shown(page, "width") == "600 mm"
        assert shown(page, "quantity") == "3"
        assert shown(page, "spec") == str(lot[0].spec_id)

    def test_all_change_together_and_keep_their_identity(self, lot, spec, browser):
        answer = typed(spec, width="800", quantity="3")
        assert browser.post(url_of("plan-change", lot[1]), answer).status_code == 302
        panels = PlannedPanel.objects.live()
        assert {p.pk for p in panels} == {p.pk for p in lot}
        assert {p.width_ticks for p in panels} == {mm(800)}

    @pytest.mark.parametrize(("quantity", "kept"), [("5", 3), ("1", 1)])
    def test_more_or_fewer(self, lot, spec, browser, quantity, kept):
        browser.post(url_of("plan-change", lot[0]), typed(spec, quantity=quantity))
        now = {p.pk for p in PlannedPanel.objects.live()}
        assert len(now) == int(quantity)
        assert len(now & {p.pk for p in lot}) == kept

    def test_another_lot_is_left_alone(self, room, lot, spec, browser):
        other = make_planned(room=room, spec=spec, width_mm=450)
        browser.post(
            url_of("plan-change", lot[0]), typed(spec, width="800", quantity="3")
        )
        other.refresh_from_db()
        assert other.width_ticks == mm(450)

    def test_bad_input_is_refused_and_nothing_stored(self, lot, spec, browser):
        refused(
            browser, url_of("plan-change", lot[0]), typed(spec, width="90"), "width"
        )
        assert {p.width_ticks for p in PlannedPanel.objects.all()} == {mm(600)}

    def test_what_is_in_a_job_stays(self, lot, spec, browser):
        PlannedPanel.objects.filter(pk=lot[0].pk).update(committed_at=lot[0].created_at)
        assert browser.get(url_of("plan-change", lot[0])).status_code == 404
        browser.post(
            url_of("plan-change", lot[1]), typed(spec, width="800", quantity="2")
        )
        lot[0].refresh_from_db()
        assert lot[0].width_ticks == mm(600)

    def test_taking_out_can_be_undone(self, lot, browser):
        page = soup(browser.post(url_of("plan-drop", lot[0]), follow=True))
        assert not PlannedPanel.objects.live().exists()
        undo = page.select_one("#messages form")["action"]
        page = soup(browser.post(undo, follow=True))
        assert PlannedPanel.objects.live().count() == 3
        assert "3 × Wall panel put back" in text(page.select_one("#messages"))

    def test_undo_puts_back_only_what_went_together(self, room, lot, spec, browser):
        browser.post(url_of("plan-drop", lot[0]))
        again = make_planned(room=room, spec=spec)
        browser.post(url_of("plan-drop", again))
        browser.post(url_of("plan-restore", again))
        assert [p.pk for p in PlannedPanel.objects.live()] == [again.pk]

    def test_what_is_in_a_job_is_not_taken_out(self, lot, browser):
        PlannedPanel.objects.update(committed_at=lot[0].created_at)
        page = soup(browser.post(url_of("plan-drop", lot[0]), follow=True))
        assert PlannedPanel.objects.live().count() == 3
        assert "in a job" in text(page.select_one(".lot"))
        assert not page.select(".lot form")


class TestAccess:
    def test_a_fitter_looks_and_changes_nothing(self, room, spec, client_as, fitter):
        panel = make_planned(room=room, spec=spec)
        browser = client_as(fitter)
        page = soup(browser.get(page_of(room)))
        assert page.select(".lot")
        assert not page.select("#plan-form, .lot form")
        assert browser.post(add_to(room), typed(spec)).status_code == 403
        for name in ("plan-change", "plan-drop", "plan-restore"):
            assert browser.post(url_of(name, panel)).status_code == 403

    def test_a_maker_plans_without_seeing_the_client(
        self, room, spec, client_as, maker
    ):
        browser = client_as(maker)
        assert browser.post(add_to(room), typed(spec)).status_code == 302
        assert str(room.site.client) not in text(soup(browser.get(page_of(room))).main)

    def test_an_outsider_signs_in_first(self, room, client):
        assert client.get(page_of(room)).status_code == 302

    def test_what_is_not_there_is_not_found(self, shop, browser):
        for name in ("plan", "plan-change", "plan-sheet"):
            assert (
                browser.get(reverse(f"quotes:{name}", args=(uuid.uuid4(),))).status_code
                == 404
            )

    def test_wrong_methods_are_refused(self, room, browser):
        assert browser.get(add_to(room)).status_code == 405
        assert browser.post(page_of(room)).status_code == 405

    def test_no_price_is_shown(self, room, spec, browser, client_as, maker):
        make_planned(room=room, spec=spec)
        Material.objects.update(pack_price=SENTINEL)
        for somebody in (browser, client_as(maker)):
            assert SENTINEL not in somebody.get(page_of(room)).content.decode()


def test_queries_do_not_grow_with_lots(room, browser):
    sizes = iter(range(500, 900, 10))

    def one_more():
        make_planned(room=room, spec=make_spec(), width_mm=next(sizes))

    assert grows(browser, page_of(room), one_more) == 0


def test_the_next_step_is_a_quote_for_those_who_quote(
    room, spec, browser, client_as, maker
):
    make_planned(room=room, spec=spec)
    link = f'a[href="/quotes/new/?client={room.site.client_id}"]'
    assert soup(browser.get(page_of(room))).select_one(link)
    assert not soup(client_as(maker).get(page_of(room))).select_one(link)


def test_the_bench_sheet_is_for_all_that_are_alike(room, spec, browser):
    panels = [make_planned(room=room, spec=spec, note="Bar") for _ in range(4)]
    response = browser.get(url_of("plan-sheet", panels[2]))
    assert response["Cache-Control"] == "private, no-store"
    words = PdfReader(io.BytesIO(response.content)).pages[0].extract_text()
    assert "4 × Wall panel" in words
    assert room.name in words
    assert "Bar" in words


def test_a_refused_size_has_no_bench_sheet_but_a_reason(room, spec, browser):
    panel = make_planned(room=room, spec=spec, width_mm=90)
    page = soup(browser.get(url_of("plan-sheet", panel), follow=True))
    assert text(page.select_one("#messages"))
    assert page.select_one(".lot .caution--stop")


def test_the_room_page_shows_the_plan(room, spec, browser):
    make_planned(room=room, spec=spec)
    section = soup(browser.get(room.get_absolute_url())).find(id="room-panels")
    assert "1 × Wall panel 600 × 1200 mm" in text(section)
    assert section.select_one(f'a[href="{page_of(room)}"]')
