"""What counts where nobody read it: the program's figures, or the shop's own."""

import pytest

from shop.surveys.adapter import margin_of, zone_size
from shop.surveys.engine import USUAL
from shop.surveys.models import Survey, Zone, ZoneKind, ZoneRule
from shop.surveys.reports import room_facts
from tests.factories.surveys import make_opening, make_survey, make_zone, mm, wall_of
from tests.pages import refused, soup

pytestmark = pytest.mark.django_db
URL = "/zones/usual/"


def typed(**changed):
    """The form as it comes, with some boxes changed."""
    return {"clearance": "3"} | changed


def usual_zone(survey, kind="outlet"):
    """A zone of which only the place was read, as surveys load it."""
    make_zone(survey=survey, kind=kind, width_ticks=None, height_ticks=None)
    (zone,) = Survey.objects.with_parts().get(pk=survey.pk).zones.all()
    return zone


def test_every_kind_has_a_figure():
    assert set(USUAL) == set(ZoneKind.values)


def test_without_a_rule_the_programs_figures_count(shop):
    zone = usual_zone(make_survey(), "sprinkler")
    assert (zone_size(zone), margin_of(zone)) == ((mm(60), mm(60)), mm(457))


def test_a_shops_own_figures_count_before_them(shop):
    ZoneRule.objects.create(kind="outlet", margin_ticks=mm(20), width_ticks=mm(90))
    zone = usual_zone(make_survey())
    assert (zone_size(zone), margin_of(zone)) == (None, mm(20))


def test_what_was_read_counts_before_all(shop):
    ZoneRule.objects.create(kind="outlet", margin_ticks=mm(20))
    survey = make_survey()
    make_zone(survey=survey, kind="outlet", margin_ticks=0)
    (zone,) = Survey.objects.with_parts().get(pk=survey.pk).zones.all()
    assert (zone_size(zone), margin_of(zone)) == ((mm(80), mm(80)), 0)


class TestPage:
    """Owner and office change them."""

    def test_a_change_is_kept_and_shown(self, shop, office, client_as):
        browser = client_as(office)
        answer = browser.post(URL, typed(outlet_margin="75", outlet_width="100"))
        assert answer.status_code == 302
        rule = ZoneRule.objects.get()
        sides = (rule.margin_ticks, rule.width_ticks, rule.height_ticks)
        assert sides == (mm(75), mm(100), mm(80))
        page = soup(browser.get(URL))
        assert page.select_one("[name=outlet_margin]")["value"] == "75 mm"
        assert "this shop’s own figure" in page.text

    def test_empty_is_as_it_comes(self, shop, owner, client_as):
        ZoneRule.objects.create(kind="outlet", margin_ticks=mm(75))
        client_as(owner).post(URL, typed())
        assert not ZoneRule.objects.exists()

    def test_the_clearance_decides_what_fits_an_opening(self, shop, owner, client_as):
        survey = make_survey()
        make_opening(wall=wall_of(survey), gets_panel=True)
        client_as(owner).post(URL, typed(clearance="5"))
        (opening,) = room_facts(survey.room).survey.openings
        assert opening.fit.width_ticks == mm(900 - 2 * 5)

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("clearance", ""),
            ("clearance", "-1"),
            ("outlet_margin", "some"),
            ("switch_width", "0"),
        ],
    )
    def test_bad_input_is_refused(self, shop, owner, client_as, field, value):
        refused(client_as(owner), URL, typed(**{field: value}), field)
        assert not ZoneRule.objects.exists()

    @pytest.mark.parametrize("role", ["maker", "fitter"])
    def test_it_is_for_owner_and_office(self, shop, request, client_as, role):
        person = request.getfixturevalue(role)
        assert client_as(person).get(URL).status_code == 403

    def test_sources_stand_beside_the_figures(self, shop, owner, client_as):
        page = soup(client_as(owner).get(URL))
        assert "NFPA 13" in page.text
        assert "common practice, no source" in page.text
        assert Zone.objects.count() == 0
