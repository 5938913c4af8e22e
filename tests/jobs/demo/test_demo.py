import io
from collections import Counter

import pytest
from django.urls import reverse
from pypdf import PdfReader

from jobs.board.models import Job, JobState, Panel, Stage
from quotes.offers.models import Quote, QuoteRevision, QuoteState
from quotes.specs.models import BuildSpec
from shop.clients.models import ClientDetails
from shop.people.models import Person, ShopProfile
from tests.pages import soup, text


@pytest.mark.django_db
@pytest.mark.usefixtures("demo")
class TestWhatIsInIt:
    def test_something_is_at_every_step(self):
        assert BuildSpec.objects.count() == 5
        states = set(Quote.objects.values_list("state", flat=True))
        assert states >= {QuoteState.DRAFT, QuoteState.SENT, QuoteState.ACCEPTED}
        stages = set(Panel.objects.live().values_list("stage", flat=True))
        assert stages == set(Stage.values)
        assert Job.objects.filter(state=JobState.OPEN).count() == 2

    def test_the_cafe_is_the_job_that_the_journey_does(self):
        cafe = Job.objects.get(client__details__company="Café Driftling")
        kinds = Counter(cafe.panels.values_list("kind", flat=True))
        assert kinds == {"wall": 14, "hung": 4, "reveal": 1, "corner": 2}
        (window,) = cafe.panels.filter(kind="reveal")
        assert (window.width_ticks, window.height_ticks) == (1043 * 320, 1387 * 320)

    def test_every_address_is_one_that_nobody_can_have(self):
        addresses = [
            *ClientDetails.objects.exclude(email="").values_list("email", flat=True),
            *Person.objects.values_list("email", flat=True),
            ShopProfile.objects.get().email,
        ]
        assert [a for a in addresses if not a.endswith(".example.org")] == []

    def test_pages_say_that_it_is_invented(self, client_as):
        ada = client_as(Person.objects.get(username="ada"))
        for name in ("jobs:bench", "shop:clients", "quotes:quotes"):
            page = soup(ada.get(reverse(name)))
            assert "invented" in text(page.body).lower()

    def test_papers_say_that_it_is_invented(self):
        for revision in QuoteRevision.objects.all():
            pages = PdfReader(io.BytesIO(revision.pdf.read())).pages
            assert pages
            for page in pages:
                assert "invented" in page.extract_text().lower()
