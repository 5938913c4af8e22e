"""Yields learnt from finished plans: proposed, taken over or left, and put back."""

from decimal import Decimal as D

import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from jobs.cutting.actions import (
    CannotLearnError,
    decide_yield,
    finish_plan,
    undo_decision,
)
from jobs.cutting.engine.learning import Found, proposed
from jobs.cutting.models import YieldFinding
from jobs.cutting.reports import learnt
from quotes.pricing.models import PriceRules
from quotes.specs.models import BuildSpec
from tests.factories.cutting import make_plan
from tests.factories.jobs import AT
from tests.factories.offers import make_rules
from tests.factories.specs import make_spec
from tests.pages import soup

pytestmark = pytest.mark.django_db
areas = st.decimals(D("0.1"), D(500), places=4)


@pytest.fixture
def spec(shop, owner):
    make_rules()
    return make_spec(name="Wall panel")


def found_for(spec, maker, parts="7.2", stock="9.0"):
    plan = make_plan(by=maker)
    return YieldFinding.objects.create(
        plan=plan,
        build=spec.pk if spec else None,
        build_name=spec.name if spec else "",
        parts_m2=D(parts),
        stock_m2=D(stock),
        at=AT,
    )


class TestProposal:
    def test_a_large_plan_counts_for_more_than_a_small_one(self):
        """12 of 16 m² and 1 of 2 m² are 13 of 18 m², 72.2 %; not the mean of 75 and 50."""
        found = [Found(D(12), D(16)), Found(D(1), D(2))]
        assert proposed(found) == D("72.2")

    @given(parts=st.lists(areas, min_size=1, max_size=8), waste=areas)
    def test_it_lies_between_the_least_and_the_most_found(self, parts, waste):
        found = [Found(p, p + waste) for p in parts]
        least, most = (f(each.percent for each in found) for f in (min, max))
        assert max(D(10), least) <= proposed(found) <= max(D(10), most)

    def test_nothing_proposes_nothing(self):
        with pytest.raises(ValueError, match="nothing"):
            proposed([])


class TestDeciding:
    def test_taken_over_it_is_what_prices_reckon_with(self, spec, owner, maker):
        found = found_for(spec, maker)
        decide_yield(spec.pk, accept=True, by=owner, at=AT)
        assert BuildSpec.objects.get(pk=spec.pk).wood_yield_percent == D("80.0")
        found.refresh_from_db()
        assert (found.accepted, found.decided_by) == (True, owner)

    def test_left_it_changes_nothing_and_is_not_asked_again(self, spec, owner, maker):
        found_for(spec, maker)
        decide_yield(spec.pk, accept=False, by=owner, at=AT)
        assert BuildSpec.objects.get(pk=spec.pk).wood_yield_percent is None
        with pytest.raises(CannotLearnError, match="meanwhile"):
            decide_yield(spec.pk, accept=True, by=owner, at=AT)

    def test_cloth_goes_into_the_price_rules(self, spec, owner, maker):
        found_for(None, maker, "9", "10")
        entry = decide_yield(None, accept=True, by=owner, at=AT)
        assert PriceRules.objects.get().fabric_yield_percent == D(90)
        undo_decision(entry, by=owner, at=AT)
        assert PriceRules.objects.get().fabric_yield_percent == D(85)

    def test_an_undo_puts_back_what_stood_there(self, spec, owner, maker):
        found_for(spec, maker)
        entry = decide_yield(spec.pk, accept=True, by=owner, at=AT)
        undo_decision(entry, by=owner, at=AT)
        assert BuildSpec.objects.get(pk=spec.pk).wood_yield_percent is None
        assert YieldFinding.objects.undecided().exists()

    def test_an_undo_gives_way_to_a_later_change(self, spec, owner, maker):
        found_for(spec, maker)
        entry = decide_yield(spec.pk, accept=True, by=owner, at=AT)
        BuildSpec.objects.filter(pk=spec.pk).update(wood_yield_percent=D(77))
        with pytest.raises(CannotLearnError, match="meanwhile"):
            undo_decision(entry, by=owner, at=AT)
        assert BuildSpec.objects.get(pk=spec.pk).wood_yield_percent == D(77)


class TestPage:
    def url(self):
        return reverse("jobs:yields")

    def test_it_shows_both_and_how_it_came_about(self, client_as, owner, maker, spec):
        found_for(spec, maker)
        words = soup(client_as(owner).get(self.url())).get_text(" ", strip=True)
        assert "Wall panel" in words
        assert "80 %" in words
        assert "7.2 m²" in words

    def test_nothing_yet_says_what_to_do(self, client_as, owner, shop):
        assert "Nothing learnt yet" in client_as(owner).get(self.url()).content.decode()

    def test_a_button_takes_it_over_with_an_undo(self, client_as, owner, maker, spec):
        found_for(spec, maker, "6", "10")
        browser = client_as(owner)
        typed = {"build": str(spec.pk), "what": "take"}
        page = soup(browser.post(self.url(), typed, follow=True))
        assert BuildSpec.objects.get(pk=spec.pk).wood_yield_percent == D(60)
        undo = page.select_one("form[action*=undo]")["action"]
        browser.post(undo)
        assert BuildSpec.objects.get(pk=spec.pk).wood_yield_percent is None

    @pytest.mark.parametrize("typed", [{}, {"build": "cloth"}, {"what": "take"}])
    def test_nonsense_is_refused(self, client_as, owner, maker, spec, typed):
        found_for(spec, maker)
        assert client_as(owner).post(self.url(), typed).status_code == 422

    def test_makers_are_kept_out(self, client_as, maker, shop):
        assert client_as(maker).get(self.url()).status_code == 403

    def test_queries_do_not_grow(self, client_as, owner, maker, spec, count_queries):
        browser = client_as(owner)
        found_for(spec, maker)
        few = count_queries(lambda: browser.get(self.url()))
        for number in range(6):
            found_for(make_spec(name=f"Build {number}"), maker)
        assert count_queries(lambda: browser.get(self.url())) == few


def test_a_finished_plan_of_the_shop_s_own_build_is_found(shop, maker):
    plan = make_plan(by=maker)
    finish_plan(plan, keep=(), by=maker, at=AT)
    assert [each.is_open for each in learnt()] == [False]  # the build is not kept here
