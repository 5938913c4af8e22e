"""The cut list and the labels, read back from their PDFs."""

import io

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse
from pypdf import PdfReader

from jobs.cutting.actions import Real, check_stock
from jobs.cutting.adapter import request_of
from jobs.cutting.documents import cut_list_context
from jobs.cutting.reports.parts import part_labels
from jobs.cutting.reports.words import notation
from shared.forms import TypedLength
from shared.pdf import render_html
from tests.factories.catalogue import mm
from tests.factories.cutting import make_plan
from tests.factories.jobs import AT
from tests.pages import text

pytestmark = pytest.mark.django_db
TEMPLATE = "jobs/cutting/pdf/cut_list.html"


@pytest.fixture
def plan(shop, maker):
    return make_plan(by=maker)


def read(client, name, plan):
    response = client.get(reverse(f"jobs:{name}", args=(plan.pk,)))
    assert response["Content-Type"] == "application/pdf"
    reader = PdfReader(io.BytesIO(response.content))
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_a_draft_says_that_it_is_one_on_each_page(plan, shop):
    context = cut_list_context(plan, profile=shop)
    page = BeautifulSoup(render_html(TEMPLATE, context), "html.parser")
    assert "Draft: do not cut by this" in text(page.main)
    assert "DRAFT: nothing was measured yet" in text(page.select_one(".foot"))


def test_the_list_has_settings_cautions_sheets_and_parts(client_as, maker, plan):
    sides = {"thickness": "15", "length": "2440", "width": "1220"}
    real = Real(**{n: TypedLength(mm(int(t)), t) for n, t in sides.items()})
    check_stock(plan, real, by=maker, at=AT)
    words = read(client_as(maker), "cut-list", plan)
    assert "DRAFT" not in words
    for wanted in (
        "fence at 100 mm",
        "stop at 1170 mm",
        "riving knife",
        "guard clears at the tilt",
        "Sheet 1: ",
        "570 × 75 mm",
        "No plan of this kind needs fewer than 1 sheet.",
    ):
        assert wanted in words
    assert "48.00" not in words
    labels = read(client_as(maker), "cut-labels", plan)
    assert labels.count(f"{plan.code}, part") == 2 * 7


def test_every_part_has_a_label_and_a_pair_has_two(plan):
    labels = part_labels(request_of(plan), notation())
    codes = {label.panel for label in labels}
    assert len(labels) == 2 * (2 + 2 + 1 + 1 + 1), "two of each but the braces"
    for code in codes:
        own = [label for label in labels if label.panel == code]
        assert sorted(label.name for label in own) == [
            "centre brace",
            "cleat brace",
            "rail",
            "rail",
            "stile",
            "stile",
            "wall cleat",
        ]
        (wall,) = (label for label in own if label.name == "wall cleat")
        assert wall.size == "300 mm, 45°"
