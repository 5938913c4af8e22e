"""Limits of the cautions at enquiry against the rules they come from.

Sources: 40 CFR 745.83 (target housing built before 1978) [S]; EPA homeowner guidance on
asbestos (ceilings before about the mid-1980s) [S via reprints]; IBC 803 (finishes outside
dwellings and in rented rooms need their papers) [S]. An unknown year counts as old [CP].
"""

import pytest

from shop.clients.engine import Told, cautions
from shop.clients.engine.cautions import ASBESTOS_BEFORE, LEAD_PAINT_BEFORE


def _text(**known):
    return " ".join(c.text for c in cautions(Told(**known)))


def test_lead_paint_is_named_with_the_year_of_the_rule():
    assert LEAD_PAINT_BEFORE == 1978
    assert "1978" in _text(year_built=1977)


def test_the_asbestos_year_lies_in_the_mid_eighties():
    assert 1984 <= ASBESTOS_BEFORE <= 1986


@pytest.mark.parametrize("year", [None, 1900, 1977, 1984])
def test_old_or_unknown_buildings_are_tested_before_drilling(year):
    words = _text(year_built=year)
    assert "laboratory has tested" in words
    assert "local code decides" in words


@pytest.mark.parametrize("known", [{"tenant": True}, {"shared_use": True}])
def test_rented_working_and_public_rooms_ask_for_fire_papers(known):
    assert "papers" in _text(year_built=2010, **known)
