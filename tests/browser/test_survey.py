"""Measuring in place: parts are written, refused and taken out without leaving the page."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from shop.surveys.models import Opening
from tests.browser.conftest import PHONE, SIZES, overflows
from tests.factories.surveys import (
    make_opening,
    make_room,
    make_survey,
    make_zone,
    wall_of,
)


@pytest.fixture
def survey(owner, shop):
    return make_survey()


def stored(page):
    """Store the form that is open, and wait for its list to come back."""
    with page.expect_response(lambda answer: answer.request.method == "POST"):
        page.get_by_role("button", name="Store").tap()


def test_an_opening_is_added_where_it_stands(open_browser, owner, survey):
    page = open_browser(owner)
    page.goto(survey.get_absolute_url())
    page.get_by_role("link", name="Add an opening").tap()
    expect(page.get_by_role("heading", name="A new opening")).to_be_focused()
    page.get_by_label("Width", exact=True).fill("5.2 m")
    stored(page)
    expect(page.locator("#form-errors")).to_be_focused()
    expect(page.get_by_label("Width", exact=True)).to_have_value("5.2 m")
    assert not Opening.objects.exists()
    page.get_by_label("Height", exact=True).fill("1200")
    page.get_by_label("From the left corner").fill("0")
    stored(page)
    expect(page.locator("#openings tbody tr")).to_have_count(1)
    expect(page.locator("#messages")).to_contain_text("stored")
    # What follows from the readings asks for itself again.
    expect(page.locator("#told")).to_contain_text("but wall A is 5000 mm long")
    assert page.url.endswith(survey.get_absolute_url())


def test_what_was_taken_out_comes_back_by_one_tap(open_browser, owner, survey):
    make_zone(survey=survey)
    page = open_browser(owner)
    page.goto(survey.get_absolute_url())
    page.get_by_role("button", name="Take out switch, ceiling").tap()
    expect(page.locator("#zones tbody tr")).to_have_count(0)
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator("#zones tbody tr")).to_have_count(1)


@pytest.mark.parametrize("size", SIZES)
def test_no_survey_scrolls_sideways(open_browser, owner, survey, size):
    wall = wall_of(survey)
    make_opening(
        wall=wall,
        name="the long name of the bay to the left",
        widths_mm=(900, 905),
        diagonals_mm=(1500, 1508),
        gets_panel=True,
    )
    make_zone(survey=survey, wall=wall, note="behind the door of the store room")
    page = open_browser(owner, viewport=SIZES[size])
    for address in (survey.get_absolute_url(), survey.room.get_absolute_url()):
        page.goto(address)
        assert not overflows(page)


def test_more_readings_unfold_on_a_phone(open_browser, owner, survey):
    page = open_browser(owner, viewport=PHONE)
    page.goto(survey.get_absolute_url())
    page.get_by_role("link", name="Add an opening").tap()
    diagonal = page.get_by_label("Diagonal from the upper left")
    expect(diagonal).to_be_hidden()
    page.get_by_text("More readings").tap()
    diagonal.fill("1500")
    expect(page.locator("#id_diagonal_1_echo")).not_to_be_empty()
    assert not overflows(page)


def test_a_form_is_left_without_storing(open_browser, owner, survey):
    page = open_browser(owner)
    page.goto(survey.get_absolute_url())
    page.get_by_role("link", name="Add what stays clear").tap()
    page.get_by_label("Width").fill("80")
    page.get_by_role("link", name="Leave it").tap()
    expect(page.locator("form.form")).to_have_count(0)
    assert not survey.zones.exists()


def test_two_quick_taps_store_one_opening(open_browser, owner, survey):
    page = open_browser(owner)
    page.goto(survey.get_absolute_url())
    page.get_by_role("link", name="Add an opening").tap()
    page.get_by_label("Width", exact=True).fill("900")
    page.get_by_label("Height", exact=True).fill("1200")
    page.get_by_role("button", name="Store").dblclick()
    expect(page.locator("#openings tbody tr")).to_have_count(1)
    expect(page.locator("#messages")).to_contain_text("stored")
    assert Opening.objects.count() == 1


def test_what_a_panel_asks_for_unfolds_with_its_box(open_browser, owner, survey):
    page = open_browser(owner, viewport=PHONE)
    page.goto(survey.get_absolute_url())
    page.get_by_role("link", name="Add an opening").tap()
    depth = page.get_by_label("How deep in it the panel will sit")
    expect(depth).to_be_hidden()
    page.get_by_label("It gets a panel").tap()
    expect(depth).to_be_visible()
    expect(page.get_by_label("Glass")).to_be_visible()
    assert not overflows(page)
    page.get_by_label("It gets a panel").tap()
    expect(depth).to_be_hidden()


def test_a_stud_is_added_and_taken_out_and_comes_back(open_browser, owner, survey):
    page = open_browser(owner, viewport=PHONE)
    page.goto(survey.get_absolute_url())
    page.locator("#members").get_by_role("link", name="Add one").tap()
    page.locator("#id_wall").select_option(label="wall B")
    page.get_by_label("Its centre").fill("410")
    stored(page)
    expect(page.locator("#members tbody tr")).to_have_count(1)
    page.get_by_role("button", name="Take out stud 1, wall B").tap()
    expect(page.locator("#members tbody tr")).to_have_count(0)
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator("#members tbody tr")).to_have_count(1)
    assert not overflows(page)


def test_another_shape_keeps_the_height_that_was_typed(open_browser, owner, shop):
    page = open_browser(owner)
    page.goto(reverse("shop:survey-new", args=[make_room().pk]))
    page.get_by_label("Height").fill("2.61 m")
    page.get_by_role("link", name="L shape", exact=True).tap()
    expect(page.get_by_label("Wall F")).to_be_visible()
    expect(page.get_by_label("Height")).to_have_value("2.61 m")
    assert "shape=l" in page.url
    page.get_by_role("link", name="Rectangle").tap()
    expect(page.get_by_label("Width")).to_be_visible()
    expect(page.get_by_label("Height")).to_have_value("2.61 m")
