"""On a phone, what a thumb has to hit on the bench, at a job and on a site day is 44 px."""

import pytest
from django.urls import reverse

from tests.browser.conftest import PHONE
from tests.factories.jobs import make_full_job
from tests.factories.people import make_person, make_profile
from tests.factories.visits import make_day

pytestmark = pytest.mark.django_db(transaction=True)

TOO_SMALL = """() => {
  const all = document.querySelectorAll("main :is(a, button, summary, select, input)");
  const answers = (each) => {
    if (each.closest("label")) return each.closest("label");
    const spread = getComputedStyle(each, "::after").position === "absolute";
    return (spread && each.closest("tr, li")) || each;
  };
  const inText = (each) => each.tagName === "A" && each.closest("p, .log");
  return [...all].filter((each) => each.checkVisibility() && !inText(each))
    .map((each) => [each, answers(each).getBoundingClientRect()])
    .filter(([each, box]) => box.width > 1 && (box.height < 44 || box.width < 44))
    .map(([each, box]) => `${each.outerHTML.slice(0, 90)} ${box.width}x${box.height}`);
}"""


@pytest.fixture
def owner():
    make_profile()
    return make_person(username="ada", first_name="Ada", role="owner")


@pytest.fixture
def paths(owner):
    """Give the pages of a job with a day, and of its panels."""
    job = make_full_job(by=owner)
    details = job.client.details
    details.phone = "01632 960 144"
    details.index()
    details.save()
    day = make_day(by=owner, job=job)
    names = ("next-up", "bench", "job-list", "site-days", "site-day-new")
    of_day = ("site-day", "site-day-change", "van-list", "site-day-holds")
    return [
        *(reverse(f"jobs:{name}") for name in names),
        *(reverse(f"jobs:{name}", args=(day.pk,)) for name in of_day),
        job.get_absolute_url(),
        job.panels.first().get_absolute_url(),
    ]


def test_nothing_is_too_small_for_a_thumb(open_browser, owner, paths):
    page = open_browser(owner, viewport=PHONE)
    small = {}
    for path in paths:
        page.goto(path)
        if found := page.evaluate(TOO_SMALL):
            small[path] = found
    assert small == {}
