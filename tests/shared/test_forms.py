"""Form fields: what they take, what they refuse, and that nothing typed is lost."""

from decimal import Decimal

import pytest
from bs4 import BeautifulSoup
from django import forms
from django.db import models
from django.test.utils import isolate_apps

from shared.conventions import Conventions, using
from shared.forms import (
    CountField,
    LengthFormField,
    MoneyFormField,
    PercentFormField,
    PlainCharField,
    PlainDecimalField,
    PlainForm,
    PlainModelForm,
    typed,
)
from shared.length import UnitSystem, from_mm, parse
from shared.models import LengthField, MoneyField

IMPERIAL = Conventions(unit_system=UnitSystem.IMPERIAL, currency="USD", locale="en_US")
GERMAN = Conventions(locale="de_DE")


class Sheet(PlainForm):
    width = LengthFormField(min_ticks=from_mm(50), max_ticks=from_mm(10_000))
    sill = LengthFormField(required=False, min_ticks=0)
    price = MoneyFormField()
    screw = MoneyFormField(required=False, unit_price=True)
    margin = PercentFormField(required=False, under=100)
    mass = PlainDecimalField(required=False, decimals=3, max_value=500)
    count = CountField(required=False, min_value=1)
    name = PlainCharField(max_length=20)
    notes = PlainCharField(max_length=60, multiline=True, required=False)


GOOD = {"width": "600", "price": "12.50", "name": "Oak"}


def sheet(**typed_in):
    return Sheet({**GOOD, **typed_in})


def input_of(form, name):
    return BeautifulSoup(str(form[name]), "html.parser").find(["input", "textarea"])


def test_cleans_to_domain_types():
    form = sheet(sill="0", screw="0,0325", margin="35 %", mass=" 0.125", count="3")
    assert form.is_valid(), form.errors
    assert form.cleaned_data == {
        "width": from_mm(600), "sill": 0, "price": Decimal("12.50"),
        "screw": Decimal("0.0325"), "margin": 35, "mass": Decimal("0.125"),
        "count": 3, "name": "Oak", "notes": "",
    }  # fmt: skip
    assert type(form.cleaned_data["count"]) is int
    assert form.status == 200


BAD = {
    "width": [
        ("", "required"), ("   ", "required"), ("abc", "unreadable"), ("-600", "negative"),
        ("0", "too_small"), ("49.9", "too_small"), ("10000.1", "too_large"),
        ("9" * 500, "too_long"), ("6\u202e00", "unreadable"), ("6\x0000", "unreadable"),
        ("3.750", "thousands"), ("147 5/8", "bare_fraction"), ("٦٠٠", "unreadable"),
    ],
    "price": [
        ("", "required"), ("abc", "unreadable"), ("-1", "negative"), ("1e9", "unreadable"),
        ("NaN", "unreadable"), ("Infinity", "unreadable"), ("1,250", "thousands"),
        ("1.2555", "decimals"), ("9" * 40, "too_large"), ("5\x00", "unreadable"), ("5\x1f", "unreadable"),
    ],
    "screw": [("0.03255", "decimals"), ("x", "unreadable")],
    "margin": [
        ("100", "too_large"), ("100%", "too_large"), ("101", "too_large"),
        ("-5", "negative"), ("%", "empty"), ("5%%", "unreadable"),
    ],
    "mass": [("500.5", "too_large"), ("-0.1", "negative"), ("1.2345", "decimals")],
    "count": [
        ("0", "too_small"), ("1.5", "decimals"), ("1_000", "unreadable"),
        ("١٢", "unreadable"), ("1000001", "too_large"), ("1e3", "unreadable"),
    ],
    "name": [
        ("", "required"), ("   ", "required"), ("x" * 21, "max_length"),
        ("a\x07b", "unprintable"), ("a\u202eb", "unprintable"), ("\u200b", "invisible"),
        ("a\x00b", "null_characters_not_allowed"), ("a\ue0ff\u0378", "unprintable"),
    ],
    "notes": [("a\x1bb", "unprintable"), ("x" * 61, "max_length")],
}  # fmt: skip


@pytest.mark.parametrize(
    ("name", "text", "code"),
    [(name, text, code) for name, cases in BAD.items() for text, code in cases],
)
def test_refuses_with_a_sentence_and_keeps_what_was_typed(name, text, code):
    form = sheet(**{name: text})
    assert not form.is_valid()
    assert form.status == 422
    assert code in [error.code for error in form.errors.as_data()[name]]
    assert all(
        sentence.endswith(".") or "(" in sentence for sentence in form.errors[name]
    )
    assert set(form.errors) == {name}
    assert form[name].value() == text


def test_says_how_it_read_a_length_outside_its_limits():
    assert sheet(width="3.75").errors["width"] == [
        "This reads as 3.75 mm. Use at least 50 mm. For metres add the unit: 3.75 m."
    ]
    assert sheet(width="12 m").errors["width"] == [
        "This reads as 12000 mm. Use at most 10000 mm."
    ]
    with using(IMPERIAL):
        assert sheet(width="1").errors["width"] == [
            'This reads as 1". Use at least 2".'
        ]


def test_the_limits_that_a_sentence_names_are_themselves_taken():
    with using(IMPERIAL):
        for text in ('2"', "32' 9 11/16\""):
            assert sheet(width=text).is_valid()
        assert "Use at most 32' 9 11/16\"." in sheet(width="40'").errors["width"][0]


def test_the_shops_units_decide_what_a_bare_length_means():
    with using(IMPERIAL):
        form = sheet(width="24 1/2")
        assert form.is_valid()
    assert form.cleaned_data["width"] == parse("24 1/2 in", units=UnitSystem.METRIC)


def test_a_length_is_shown_so_that_it_reads_back():
    ticks = from_mm(1219.2) + 1
    for conventions in (Conventions(), IMPERIAL):
        with using(conventions):
            shown = input_of(Sheet(initial={"width": ticks}), "width")["value"]
            assert Sheet.base_fields["width"].clean(shown) == ticks


def test_a_length_box_tells_the_device_the_units_of_the_moment():
    box = input_of(Sheet(), "width")
    assert (box["data-length"], box["inputmode"]) == ("metric", "decimal")
    with using(IMPERIAL):
        box = input_of(Sheet(), "width")
    assert (box["data-length"], box["inputmode"]) == ("imperial", "text")
    assert box["data-length-fraction"] == "16"
    assert box["autocomplete"] == "off"
    assert box["aria-required"] == "true"
    assert box["class"] == ["input", "input--length"]


def test_a_refused_text_is_shown_again_unchanged():
    text = "12' 3 5/9\" <b>"
    assert input_of(sheet(width=text), "width")["value"] == text


def test_typed_gives_ticks_and_text():
    form = sheet(width=" 0.6 m ", sill="")
    assert form.is_valid()
    assert typed(form, "width") == (from_mm(600), "0.6 m")
    assert typed(form, "sill") is None


def test_numbers_are_shown_in_the_shops_locale_and_read_back():
    with using(GERMAN):
        form = Sheet(
            initial={"price": Decimal("1234.5000"), "screw": Decimal("12.125")}
        )
        assert input_of(form, "price")["value"] == "1234,50"
        assert input_of(form, "screw")["value"] == "12,1250"
        assert Sheet.base_fields["screw"].clean("12,1250") == Decimal("12.125")


@pytest.mark.parametrize("share", ["0.125", "12.125", "0.35", "2"])
def test_a_number_of_three_decimals_reads_back(share):
    field = PlainDecimalField(decimals=3)
    with using(GERMAN):
        assert field.clean(field.prepare_value(Decimal(share))) == Decimal(share)


@pytest.mark.parametrize("currency", ["KWD", "JPY", "EUR", "CLF"])
@pytest.mark.parametrize("price", ["12", "12.125", "12.1", "0.001", "1.2345"])
def test_a_unit_price_reads_back_in_every_currency(currency, price):
    field = MoneyFormField(unit_price=True)
    with using(Conventions(currency=currency)):
        assert field.clean(field.prepare_value(Decimal(price))) == Decimal(price)


def test_a_field_changed_only_when_its_text_did():
    initial = {"width": from_mm(600), "price": Decimal("12.5000"), "count": 3}
    shown = {"width": "600 mm", "price": "12,5", "count": "3", "name": ""}
    assert Sheet(shown, initial=initial).changed_data == []
    shown |= {"width": "60 cm", "price": "x", "count": "4"}
    assert Sheet(shown, initial=initial).changed_data == ["width", "price", "count"]


def test_text_is_composed_and_its_line_breaks_are_alike():
    form = sheet(name="Cafe\u0301", notes="one\r\ntwo\rthree\tfour")
    assert form.is_valid()
    assert form.cleaned_data["name"] == "Café"
    assert form.cleaned_data["notes"] == "one\ntwo\nthree\tfour"


def test_one_line_of_text_stays_one_line():
    form = sheet(name="one\r\ntwo")
    assert form.is_valid()
    assert form.cleaned_data["name"] == "one two"


def test_plain_text_fields_of_djangos_are_held_to_the_same_rules():
    class Contact(PlainForm):
        city = forms.CharField(max_length=20)
        notes = forms.CharField(widget=forms.Textarea)

    form = Contact({"city": "a\x07", "notes": "one\r\ntwo"})
    assert set(form.errors) == {"city"}
    assert Contact({"city": "a", "notes": "b"}).is_valid()
    assert len(form.fields["city"].validators) == len(
        Contact().fields["city"].validators
    )


@pytest.fixture
def stock_form():
    """Return a form of a row with plain columns of each kind."""
    with isolate_apps("shared"):

        class Stock(models.Model):
            name = models.CharField(max_length=10)
            notes = models.TextField(max_length=20, blank=True)
            pack = models.DecimalField(max_digits=6, decimal_places=2)
            days = models.PositiveSmallIntegerField()
            turn = models.IntegerField(default=0)
            kind = models.CharField(max_length=4, choices=[("wood", "Wood")])
            email = models.EmailField(blank=True)

            class Meta:
                app_label = "shared"

            def __str__(self):
                return self.name

        class StockForm(PlainModelForm):
            class Meta:
                model = Stock
                fields = ("name", "notes", "pack", "days", "turn", "kind", "email")
                labels = {"pack": "In a pack"}

        return StockForm


STOCK = {"name": "Oak", "notes": "a\r\nb", "pack": "2,5", "days": "3", "turn": "-90",
         "kind": "wood", "email": ""}  # fmt: skip


def test_a_rows_form_reads_its_plain_columns_as_strictly(stock_form):
    form = stock_form(STOCK)
    assert form.is_valid(), form.errors
    row = form.instance
    assert (row.pack, row.days, row.turn) == (Decimal("2.5"), 3, -90)
    assert row.notes == "a\nb"
    assert form.fields["pack"].label == "In a pack"


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("name", "a\x07"), ("name", "x" * 11), ("notes", "x" * 21), ("pack", "1e2"),
        ("pack", "2.555"), ("pack", "99999"), ("pack", "-1"), ("days", "1_0"),
        ("days", "١٢"), ("days", "40000"), ("days", "-1"), ("turn", "1.5"),
        ("turn", "9" * 20), ("kind", "x"), ("email", "a\x07@example.org"),
    ],
)  # fmt: skip
def test_a_rows_form_refuses_what_its_columns_cannot_hold(stock_form, name, text):
    form = stock_form(STOCK | {name: text})
    assert set(form.errors) == {name}
    assert form[name].value() == text


@pytest.fixture
def panel_form():
    """Return a form of a row that keeps a length's text, and the row's class."""
    with isolate_apps("shared"):

        class Panel(models.Model):
            width_ticks = LengthField()
            width_text = models.CharField(max_length=40)
            depth_ticks = LengthField(null=True, blank=True)
            cost = MoneyField(default=0)

            class Meta:
                app_label = "shared"

            def __str__(self):
                return self.width_text

        class PanelForm(PlainModelForm):
            class Meta:
                model = Panel
                fields = ("width_ticks", "depth_ticks", "cost")

        yield PanelForm, Panel


def test_a_rows_form_stores_the_text_beside_the_ticks(panel_form):
    form_class, _ = panel_form
    form = form_class({"width_ticks": "0.6 m", "depth_ticks": "", "cost": "5"})
    assert form.is_valid(), form.errors
    assert form.instance.width_ticks == from_mm(600)
    assert form.instance.width_text == "0.6 m"
    assert form.instance.depth_ticks is None
    assert form.instance.cost == 5


def test_an_untouched_length_keeps_the_text_first_typed(panel_form):
    form_class, row = panel_form
    panel = row(width_ticks=from_mm(600), width_text="60 cm", cost=Decimal("1.2000"))
    shown = {name: str(input_of(form_class(instance=panel), name)["value"])
             for name in ("width_ticks", "cost")}  # fmt: skip
    assert shown == {"width_ticks": "600 mm", "cost": "1.20"}
    form = form_class(shown, instance=panel)
    assert form.is_valid(), form.errors
    assert panel.width_text == "60 cm"
    assert form.changed_data == []


def test_a_refused_length_leaves_the_rows_text_alone(panel_form):
    form_class, row = panel_form
    panel = row(width_ticks=from_mm(600), width_text="60 cm")
    form = form_class({"width_ticks": "x", "cost": "1"}, instance=panel)
    assert not form.is_valid()
    assert (panel.width_ticks, panel.width_text) == (from_mm(600), "60 cm")
