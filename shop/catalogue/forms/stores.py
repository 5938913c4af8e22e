"""Forms of the stores: a material shows only the fields that its kind has."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, cast

from django import forms

from shared.forms import (
    CountField,
    LengthFormField,
    MoneyFormField,
    PlainCharField,
    PlainDecimalField,
    PlainModelForm,
)
from shared.length import TICKS_PER_M
from shared.quantities import AREA_MASS, DENSITY, LOAD, MASS, QuantityFormField
from shop.catalogue.actions import free_key
from shop.catalogue.models import (
    Finish,
    Material,
    MaterialKind,
    Operation,
    Supplier,
)

FIRST = ("name", "code", "supplier", "supplier_code")
PACK = ("pack_quantity", "pack_price")
FIRE = ("fire_class", "fire_papers")
PIECE = ("thickness_ticks", "width_ticks", "length_ticks", "density_kg_m3", "mass_g_m2")
COUNTED = ("unit", *PACK, "mass_g_each")

FIELDS_OF: dict[str, tuple[str, ...]] = {
    MaterialKind.SHEET: (*FIRST, *PIECE, *PACK, *FIRE),
    MaterialKind.BOARD: (*FIRST, *PIECE, *PACK, *FIRE),
    MaterialKind.FILL: (*FIRST, *PIECE, "flow_resistivity", *PACK, *FIRE),
    MaterialKind.FABRIC: (
        *FIRST,
        "colour",
        "width_ticks",
        "selvedge_ticks",
        "mass_g_m2",
        "directional",
        "repeat_ticks",
        "backed",
        *PACK,
        *FIRE,
    ),
    MaterialKind.HARDWARE: (*FIRST, *COUNTED, "rated_load_n", "rating_source"),
    MaterialKind.CONSUMABLE: (*FIRST, *COUNTED),
}
"""What is asked of each kind, in order."""

NEEDED_OF: dict[str, tuple[str, ...]] = {
    MaterialKind.SHEET: ("thickness_ticks", "width_ticks", "length_ticks"),
    MaterialKind.BOARD: ("thickness_ticks", "width_ticks", "length_ticks"),
    MaterialKind.FILL: ("thickness_ticks", "width_ticks", "length_ticks"),
    MaterialKind.FABRIC: ("width_ticks", "mass_g_m2"),
}
"""What a kind can't do without, beside its name and code."""

LABELS_OF: dict[str, dict[str, str]] = {
    MaterialKind.SHEET: {"pack_quantity": "Sheets in a pack"},
    MaterialKind.BOARD: {"pack_quantity": "Boards in a pack"},
    MaterialKind.FILL: {"pack_quantity": "Pieces in a pack"},
    MaterialKind.FABRIC: {
        "pack_quantity": "Metres on the roll",
        "pack_price": "Price of the roll",
        "width_ticks": "Width of the roll, selvedges included",
    },
}
NO_WEIGHT = "Fill in the density, or the mass of a square metre: a panel’s weight comes from it."
NO_SOURCE = "A working load needs its source: where does the maker say so?"
LONGEST = 20 * TICKS_PER_M


class MaterialForm(PlainModelForm):
    """One material of a kind that is known already."""

    thickness_ticks = LengthFormField(
        label="Real thickness",
        required=False,
        max_ticks=TICKS_PER_M,
        help_text="What the calliper says; the label is only a name.",
    )
    width_ticks = LengthFormField(label="Width", required=False, max_ticks=LONGEST)
    length_ticks = LengthFormField(
        label="Length",
        required=False,
        max_ticks=LONGEST,
        help_text="Along the grain, or along the board.",
    )
    density_kg_m3 = QuantityFormField(
        DENSITY, label="Density", min_value=1, max_value=20000, required=False
    )
    mass_g_m2 = QuantityFormField(
        AREA_MASS, label="Mass", min_value=1, max_value=100000, required=False
    )
    mass_g_each = QuantityFormField(
        MASS,
        label="Mass of one",
        min_value=0,
        max_value=1_000_000,
        required=False,
        help_text="Of one piece, metre or millilitre, as it is counted.",
    )
    pack_quantity = PlainDecimalField(
        label="How many in a pack",
        min_value=Decimal("0.001"),
        max_value=1_000_000,
        decimals=3,
        example="100",
        help_text="In the unit that it is counted in.",
    )
    pack_price = MoneyFormField(
        label="Price of a pack",
        required=False,
        unit_price=True,
        help_text="Without tax.",
    )
    selvedge_ticks = LengthFormField(
        label="Selvedge, each side", required=False, min_ticks=0, max_ticks=TICKS_PER_M
    )
    repeat_ticks = LengthFormField(
        label="Pattern repeat", required=False, max_ticks=LONGEST
    )
    flow_resistivity = PlainDecimalField(
        label="Airflow resistivity, Pa·s/m²",
        min_value=1,
        max_value=1_000_000,
        decimals=1,
        required=False,
        example="12000",
        help_text="From the maker’s sheet.",
    )
    rated_load_n = QuantityFormField(
        LOAD,
        label="Maker’s working load",
        unit_needed=True,
        max_value=1_000_000,
        required=False,
        example="50",
        help_text="As marked or published by the maker, with its unit: 50 kg, 490 N or"
        " 110 lb. Empty means unrated, and nothing it carries is ever cleared.",
    )
    rating_source = PlainCharField(
        label="Where the maker says so",
        max_length=200,
        required=False,
        help_text="As in: stamped on the eye; the maker’s data sheet of 2024.",
    )

    class Meta:
        model = Material
        fields = (
            "name",
            "code",
            "supplier",
            "supplier_code",
            "unit",
            "colour",
            "thickness_ticks",
            "width_ticks",
            "length_ticks",
            "density_kg_m3",
            "mass_g_m2",
            "mass_g_each",
            "flow_resistivity",
            "selvedge_ticks",
            "directional",
            "repeat_ticks",
            "backed",
            "pack_quantity",
            "pack_price",
            "fire_class",
            "fire_papers",
            "rated_load_n",
            "rating_source",
        )
        labels = {
            "supplier_code": "Supplier’s code",
            "unit": "Counted in",
            "fire_class": "Fire class",
            "fire_papers": "Fire papers",
            "directional": "Has an up: nap, grain or pattern",
            "backed": "Is backed",
        }
        help_texts = {
            "code": "The shop’s own short code, as in ply-15.",
            "unit": "Chain and tape by the metre, glue by the millilitre.",
        }

    def __init__(self, *args: Any, sees_money: bool, **kwargs: Any) -> None:
        """Keep the fields of the instance's kind, and the price for whoever may see it."""
        super().__init__(*args, **kwargs)
        kind = self.instance.kind
        names = [n for n in FIELDS_OF[kind] if sees_money or n != "pack_price"]
        self.fields = {name: self.fields[name] for name in names}
        for name in NEEDED_OF.get(kind, ()):
            self.fields[name].required = True
        for name, label in LABELS_OF.get(kind, {}).items():
            if name in self.fields:
                self.fields[name].label = label
        supplier = cast("forms.ModelChoiceField[Supplier]", self.fields["supplier"])
        supplier.queryset = Supplier.objects.offered(self.instance.supplier_id)
        supplier.empty_label = "nobody in particular"

    def clean(self) -> dict[str, Any]:
        """Say beside the field what the kind needs together."""
        cleaned: dict[str, Any] = super().clean() or {}
        self._need_weight(cleaned)
        self._need_source(cleaned)
        width, selvedge = cleaned.get("width_ticks"), cleaned.get("selvedge_ticks")
        if width and selvedge and 2 * selvedge >= width:
            self.add_error(
                "selvedge_ticks", "The two selvedges leave nothing of the roll."
            )
        return cleaned

    def _need_weight(self, cleaned: dict[str, Any]) -> None:
        asked = ("density_kg_m3", "mass_g_m2")
        if any(name not in self.fields or self.has_error(name) for name in asked):
            return
        if not any(cleaned.get(name) for name in asked):
            self.add_error("density_kg_m3", NO_WEIGHT)

    def _need_source(self, cleaned: dict[str, Any]) -> None:
        if self.has_error("rating_source") or cleaned.get("rating_source"):
            return
        if cleaned.get("rated_load_n"):
            self.add_error("rating_source", NO_SOURCE)


class SupplierForm(PlainModelForm):
    """Somebody the shop buys from."""

    lead_days = CountField(
        label="Days from order to door", min_value=0, max_value=365, example="3"
    )

    class Meta:
        model = Supplier
        fields = ("name", "phone", "email", "lead_days")
        labels = {"email": "E-mail"}


class OperationForm(PlainModelForm):
    """One kind of work: its minutes and its hour."""

    minutes = PlainDecimalField(
        label="Minutes each", max_value=10_000, decimals=2, example="4.5"
    )
    hourly_rate = MoneyFormField(
        label="An hour costs",
        max_value=100_000,
        help_text="Wages and what goes with them.",
    )

    class Meta:
        model = Operation
        fields = ("name", "code", "stage", "driver", "minutes", "hourly_rate", "notes")
        labels = {"driver": "Minutes for each", "stage": "Part of the job"}
        help_texts = {
            "code": "The shop’s own short code, as in glue-joint.",
            "driver": "What the minutes grow with: a job’s set-up counts once a job.",
        }


def _share(band: str) -> PlainDecimalField:
    return PlainDecimalField(
        label=f"At {band}", min_value=0, max_value=1, decimals=3, example="0.35"
    )


class FinishForm(PlainModelForm):
    """What a surface is covered with, and how much sound it swallows."""

    at_125 = _share("125 Hz")
    at_250 = _share("250 Hz")
    at_500 = _share("500 Hz")
    at_1000 = _share("1 kHz")
    at_2000 = _share("2 kHz")
    at_4000 = _share("4 kHz")
    source = PlainCharField(
        label="Where the figures are from",
        max_length=300,
        help_text="The table, report or maker’s sheet that says so.",
    )

    class Meta:
        model = Finish
        fields = (
            "name",
            "at_125",
            "at_250",
            "at_500",
            "at_1000",
            "at_2000",
            "at_4000",
            "source",
        )

    def _post_clean(self) -> None:
        """Give a new finish a key of its own before the row is checked."""
        if self.instance._state.adding:
            self.instance.key = free_key(str(self.cleaned_data.get("name", "")))
        super()._post_clean()
