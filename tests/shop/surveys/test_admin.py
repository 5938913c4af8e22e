"""The admin shows openings and zones that were taken out, and changes none."""

import pytest
from django.urls import reverse

from shop.surveys import actions
from tests.factories.surveys import (
    AT,
    make_opening,
    make_survey,
    make_zone,
    wall_of,
)


@pytest.mark.parametrize("kind", ["opening", "zone"])
def test_what_was_taken_out_is_seen_and_stays(client_as, owner, kind):
    owner.is_staff = owner.is_superuser = True
    owner.save()
    survey = make_survey()
    made = {
        "opening": lambda: make_opening(wall=wall_of(survey), name="bay"),
        "zone": lambda: make_zone(survey=survey),
    }
    part = made[kind]()
    actions.take_out(part, by=owner, at=AT)
    browser = client_as(owner)
    listed = browser.get(reverse(f"admin:shop_{kind}_changelist"))
    assert str(part) in listed.content.decode()
    url = reverse(f"admin:shop_{kind}_change", args=[part.pk])
    assert browser.get(url).status_code == 200
    assert browser.post(url, {}).status_code == 403
