"""What is not known yet before panels hang: told on the quote and where it is sent."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from quotes.offers.draft import work_out_draft
from quotes.offers.unknown import STALE_AFTER, unknown_of
from quotes.safety.actions import state_load
from shop.surveys.models import Reading, Survey, Wall
from tests.factories.catalogue import make_fabric, make_fill, make_hardware, mm
from tests.factories.clients import make_client, make_site
from tests.factories.offers import AT, make_quote, make_room, make_survey
from tests.factories.specs import make_planned, make_spec, make_spec_item
from tests.factories.surveys import make_opening
from tests.pages import queries, soup, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop", "quick_print")]
TODAY = AT.date()


@pytest.fixture
def site():
    client = make_client(email="mara@example.org")
    return make_site(
        client=client, tenure="owner", setting="private", address="1 Elm Row"
    )


@pytest.fixture
def room(site):
    return make_room(site=site, name="Den")


def quote_of(room, by, spec=None, **planned):
    make_planned(room=room, spec=spec or make_spec(), **planned)
    return make_quote(by=by, client=room.site.client, rooms=[room])


def told(quote, *, on=TODAY):
    draft = work_out_draft(quote)
    return unknown_of(draft.rows, draft.groups, on=on)


class TestSurvey:
    def test_all_known_tells_nothing(self, owner, room):
        make_survey(room=room, by=owner)
        assert told(quote_of(room, owner)) == ()

    def test_a_room_nobody_measured(self, owner, room):
        (one,) = told(quote_of(room, owner))
        assert one.text.startswith("Nobody has measured Den")
        assert one.url == reverse("shop:survey-new", args=(room.pk,))

    def test_a_room_without_panels_is_not_asked_about(self, owner, room):
        assert told(make_quote(by=owner, client=room.site.client, rooms=[room])) == ()

    @pytest.mark.parametrize("days", [0, STALE_AFTER.days])
    def test_a_fresh_survey_is_believed(self, owner, room, days):
        make_survey(room=room, by=owner)
        quote = quote_of(room, owner)
        assert told(quote, on=TODAY + dt.timedelta(days=days)) == ()

    def test_an_old_one_is_to_be_looked_at_again(self, owner, room):
        make_survey(room=room, by=owner)
        later = TODAY + STALE_AFTER + dt.timedelta(days=1)
        (one,) = told(quote_of(room, owner), on=later)
        assert "measured on 2 March 2026, more than half a year ago" in one.text


class TestSurfaces:
    @pytest.fixture
    def survey(self, owner, room):
        return make_survey(room=room, by=owner)

    def test_one_wall_leads_to_that_wall(self, owner, room, survey):
        wall = survey.walls.get(name="Wall C")
        Wall.objects.filter(pk=wall.pk).update(construction="")
        (one,) = told(quote_of(room, owner))
        assert "wall Wall C of Den is made of has not been looked at" in one.text
        assert one.url == reverse("shop:wall-change", args=(wall.pk,))

    def test_several_lead_to_the_survey(self, owner, room, survey):
        Wall.objects.update(construction="")
        (one,) = told(quote_of(room, owner))
        assert "Wall A, Wall B, Wall C, Wall D" in one.text
        assert one.url == f"{survey.get_absolute_url()}#walls"

    def test_the_ceiling_counts_where_something_hangs_from_it(
        self, owner, room, survey
    ):
        Wall.objects.update(construction="")
        hung = make_spec(kind="hung", hanging="chain")
        (one,) = told(quote_of(room, owner, hung))
        assert "the ceiling of Den" in one.text
        Survey.objects.update(construction="concrete")
        assert told(make_quote(by=owner, client=room.site.client, rooms=[room])) == ()

    def test_an_opening_read_again_is_to_be_chosen_again(self, owner, room, survey):
        opening = make_opening(wall=survey.walls.first(), name="Left window")
        reveal = make_spec(kind="reveal", hanging="edge")
        size = {"width_mm": 900, "height_mm": 1200}
        quote = quote_of(room, owner, reveal, opening=opening, **size)
        assert told(quote) == ()
        Reading.objects.filter(axis="width").update(ticks=mm(880))
        (one,) = told(quote)
        assert "an opening of 900 × 1200 mm, which reads 880 × 1200 mm now" in one.text
        assert one.url.startswith("/planned/")


class TestPlace:
    def test_whose_it_is(self, owner, room, site):
        make_survey(room=room, by=owner)
        site.setting = ""
        site.save()
        (one,) = told(quote_of(room, owner))
        assert "Whether 1 Elm Row is owned or rented" in one.text
        assert one.url == reverse("shop:site-change", args=(site.pk,))

    @pytest.mark.parametrize(
        "of_site", [{"tenure": "tenant"}, {"setting": "work"}, {"setting": "public"}]
    )
    def test_fire_papers_asked_for_and_missing(self, owner, room, site, of_site):
        make_survey(room=room, by=owner)
        type(site).objects.update(**of_site)
        room.site.refresh_from_db()
        spec = make_spec(
            front_fabric=make_fabric(name="Moss"),
            fill=make_fill(name="Wool", fire_class="A"),
        )
        (one,) = told(quote_of(room, owner, spec))
        assert "none is on file for Moss" in one.text
        fabric = spec.front_fabric
        assert one.url == reverse("shop:material-change", args=(fabric.pk,))
        fabric.fire_papers = "Green folder"
        fabric.save()
        assert told(make_quote(by=owner, client=site.client, rooms=[room])) == ()

    def test_a_rating_is_missing_until_it_is_stated(self, owner, room):
        make_survey(room=room, by=owner)
        spec = make_spec()
        eye = make_hardware(name="Eye bolt")
        make_spec_item(spec=spec, material=eye, in_load_path=True)
        quote = quote_of(room, owner, spec)
        (one,) = told(quote)
        assert "No working load is on file for Eye bolt" in one.text
        state_load(
            f"item:{eye.pk}", name="Eye", load_n=900.0, source="M", by=owner, at=AT
        )
        assert told(quote) == ()


class TestPages:
    @pytest.mark.parametrize("name", ["quote", "quote-send"])
    def test_each_is_told_with_its_way_and_nothing_is_blocked(
        self, owner, client_as, room, name
    ):
        quote = quote_of(room, owner)
        browser = client_as(owner)
        page = soup(browser.get(reverse(f"quotes:{name}", args=(quote.pk,))))
        section = page.find(id="not-known")
        link = section.find("a", href=reverse("shop:survey-new", args=(room.pk,)))
        assert text(link) == "Measure Den"
        mail = {"to": "mara@example.org", "subject": "Quote", "body": "Here."}
        url = reverse("quotes:quote-send", args=(quote.pk,))
        assert browser.post(url, mail).status_code == 302

    def test_nothing_unknown_shows_nothing(self, owner, client_as, room):
        make_survey(room=room, by=owner)
        Survey.objects.update(measured_on=timezone.now().date())
        quote = quote_of(room, owner)
        page = soup(client_as(owner).get(reverse("quotes:quote", args=(quote.pk,))))
        assert page.find(id="not-known") is None

    def test_queries_do_not_grow_with_what_is_unknown(self, owner, client_as):
        counts = []
        for count in (2, 20):
            client = make_client()
            rooms = [make_room(client=client, name=f"R{n}") for n in range(count)]
            for room in rooms:
                make_planned(room=room, spec=make_spec())
            quote = make_quote(by=owner, client=client, rooms=rooms)
            url = reverse("quotes:quote", args=(quote.pk,))
            counts.append(queries(client_as(owner), url))
        assert counts[0] == counts[1]
