"""What a room's plan says beside its fields: once what can't be, and what is too large."""

import pytest
from django.urls import reverse

from quotes.specs.engine.model import NominalSize
from quotes.specs.models import PlannedPanel
from quotes.specs.reports import room_size
from tests.cast import AS_HTMX
from tests.factories.catalogue import make_sheet
from tests.factories.specs import make_spec
from tests.factories.surveys import make_room, make_survey, mm
from tests.pages import soup, text


@pytest.fixture
def room(shop):
    return make_room()


@pytest.fixture
def spec(shop):
    return make_spec(name="Wall panel")


@pytest.fixture
def browser(client_as, office):
    return client_as(office)


def page_of(room):
    return reverse("quotes:plan", args=(room.pk,))


def add_to(room):
    return reverse("quotes:plan-add", args=(room.pk,))


def typed(spec, **changed):
    usual = {"spec": str(spec.pk), "width": "600", "height": "1200"}
    return usual | {"fabric": "", "quantity": "1", "note": ""} | changed


class TestSaidOnce:
    """What can't be is said once, beside the field that can be put right."""

    def told(self, page):
        """Every place of a page or fragment where the sentence stands."""
        return [
            node.parent
            for node in page.find_all(string=lambda words: "inside the frame" in words)
        ]

    @pytest.mark.parametrize("headers", [{}, AS_HTMX])
    def test_a_refused_size(self, room, spec, browser, headers):
        answer = typed(spec, width="20")
        response = browser.post(add_to(room), answer, headers=headers)
        assert response.status_code == 422
        page = soup(response)
        (sentence,) = self.told(page)
        assert sentence.find_parent(id="id_width_said")
        summary = page.select_one("#form-errors")
        assert text(summary.select_one('a[href="#id_width_field"]')) == "Width"

    def test_while_typing(self, room, spec, browser):
        answer = typed(spec, width="20")
        page = soup(browser.get(page_of(room), answer, headers=AS_HTMX))
        (sentence,) = self.told(page)
        place = sentence.find_parent(id="id_width_said")
        assert place["hx-swap-oob"] == "true"
        assert text(page.find(id="id_height_said")) == ""

    def test_a_page_passed_on_was_not_refused(self, room, spec, browser):
        page = soup(browser.get(page_of(room), typed(spec, width="20")))
        assert len(self.told(page)) == 1
        assert not page.select("#form-errors, [hx-swap-oob]")

    def test_what_is_still_empty_is_let_be_while_typing(self, room, spec, browser):
        answer = typed(spec, width="")
        page = soup(browser.get(page_of(room), answer, headers=AS_HTMX))
        assert text(page.find(id="id_width_said")) == ""


class TestLargerThanTheRoom:
    @pytest.fixture
    def room(self, shop):
        survey = make_survey(length_mm=2200, width_mm=1500, height_mm=1100)
        return survey.room

    @pytest.fixture
    def long_stock(self):
        return make_spec(
            name="Long", frame_stock=make_sheet(length_ticks=mm(4000), name="Long")
        )

    @pytest.mark.parametrize(
        ("width", "height", "field", "sentence"),
        [
            ("2300", "1000", "width", "Wider than the longest wall here, 2200 mm."),
            ("600", "1200", "height", "Taller than the room, which is 1100 mm high."),
        ],
    )
    def test_it_is_told_beside_the_field_and_kept(
        self, room, long_stock, browser, width, height, field, sentence
    ):
        answer = typed(long_stock, width=width, height=height)
        live = soup(browser.get(page_of(room), answer, headers=AS_HTMX))
        assert text(live.find(id=f"id_{field}_said")) == sentence
        assert live.select("svg")
        assert browser.post(add_to(room), answer).status_code == 302
        lot = soup(browser.get(page_of(room))).select_one(".lot")
        assert sentence in text(lot.select_one(".caution"))
        panel = PlannedPanel.objects.get()
        change = soup(browser.get(reverse("quotes:plan-change", args=(panel.pk,))))
        assert text(change.find(id=f"id_{field}_said")) == sentence

    def test_what_just_fits_is_not_told(self, room, long_stock, browser):
        answer = typed(long_stock, width="2200", height="1100")
        live = soup(browser.get(page_of(room), answer, headers=AS_HTMX))
        assert not live.select(".field__told")

    def test_below_the_ceiling_no_side_stands_upright(self, room):
        size = NominalSize(mm(600), mm(1200))
        limits = room_size(room.surveys.with_parts().get())
        assert set(limits.too_big(size, hanging="cleat")) == {"height"}
        assert limits.too_big(size, hanging="chain") == {}
        long = NominalSize(mm(600), mm(2300))
        assert "Longer than" in limits.too_big(long, hanging="chain")["height"]

    def test_a_room_nobody_measured_tells_nothing(self, spec, browser):
        other = make_room()
        answer = typed(spec, height="2400")
        live = soup(browser.get(page_of(other), answer, headers=AS_HTMX))
        assert not live.select(".field__told")

    def test_the_highest_corner_counts(self, room):
        survey = room.surveys.with_parts().get()
        survey.walls.filter(name="B").update(height_ticks=mm(2600))
        limits = room_size(room.surveys.with_parts().get())
        assert limits.height_ticks == mm(2600)
