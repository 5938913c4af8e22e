"""Materials as they come from the supplier, each kind with its own facts."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from decimal import Decimal
from typing import Self

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower
from django.urls import reverse

from shared.length import TICKS_PER_M
from shared.models import (
    Archivable,
    ArchivableQuerySet,
    Identified,
    LengthField,
    MoneyField,
)
from shop.catalogue.models.suppliers import Supplier


class MaterialKind(models.TextChoices):
    """How a material is bought and used up."""

    SHEET = "sheet", "sheet"
    BOARD = "board", "board or batten"
    FABRIC = "fabric", "fabric on the roll"
    FILL = "fill", "fill"
    HARDWARE = "hardware", "hardware"
    CONSUMABLE = "consumable", "consumable"


SIZED = (MaterialKind.SHEET, MaterialKind.BOARD, MaterialKind.FILL)
"""Kinds that are pieces with three measures and a density."""

COUNTED = (MaterialKind.HARDWARE, MaterialKind.CONSUMABLE)
"""Kinds that are counted, whatever their measures."""


class MaterialUnit(models.TextChoices):
    """What hardware and consumables are counted in."""

    EACH = "each", "piece"
    METRE = "m", "metre"
    MILLILITRE = "ml", "millilitre"
    GRAM = "g", "gram"


class FireClass(models.TextChoices):
    """Surface class by flame spread and smoke, as on the maker's papers."""

    NONE = "", "no papers"
    A = "A", "class A (flame spread 0-25, smoke 0-450)"
    B = "B", "class B (flame spread 26-75, smoke 0-450)"
    C = "C", "class C (flame spread 76-200, smoke 0-450)"


class MaterialQuerySet(ArchivableQuerySet):
    """Materials by kind and by words."""

    def of_kind(self, *kinds: str) -> Self:
        """Materials of one kind, or of several."""
        return self.filter(kind__in=kinds)

    def matching(self, words: str) -> Self:
        """Materials in whose name, code or supplier every word is found."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(name__icontains=word)
                | Q(code__icontains=word)
                | Q(supplier__name__icontains=word)
            )
        return found

    def shown(self, words: str, *, kind: str, aside: bool) -> Self:
        """Return what a list shows: of one kind or all, found by words, in use or aside."""
        kinds = self.of_kind(kind) if kind else self
        if words:
            return kinds.matching(words)
        return kinds.archived() if aside else kinds.live()

    def below_nothing(self) -> Self:
        """Materials of which a dye lot stands below nothing."""
        below = self.model.objects.filter(stock_levels__quantity__lt=0)
        return self.filter(pk__in=below.values("pk"))

    def by_ids(self, ids: Iterable[uuid.UUID]) -> Self:
        """Materials by id."""
        return self.filter(pk__in=tuple(ids))

    def with_supplier(self) -> Self:
        """With the supplier, which lists show."""
        return self.select_related("supplier")

    def like(self, material: Material) -> Self:
        """Others of the same kind and thickness; boards of the same width, too."""
        same = {"kind": material.kind, "thickness_ticks": material.thickness_ticks}
        if material.kind == MaterialKind.BOARD:
            same["width_ticks"] = material.width_ticks
        return self.filter(**same).exclude(pk=material.pk)


class Material(Identified, Archivable):
    """One thing that the shop buys, as it comes from the supplier."""

    kind = models.CharField(max_length=12, choices=MaterialKind.choices)
    code = models.SlugField(
        max_length=40, help_text="The shop's own short code, as in ply-15."
    )
    name = models.CharField(max_length=120)
    supplier = models.ForeignKey(
        Supplier, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    supplier_code = models.CharField(max_length=60, blank=True)
    unit = models.CharField(
        "counted in",
        max_length=4,
        choices=MaterialUnit.choices,
        default=MaterialUnit.EACH,
        help_text="For hardware and consumables: chain by the metre, glue by the ml.",
    )
    pack_quantity = models.DecimalField(
        max_digits=10,
        decimal_places=3,
        default=Decimal(1),
        help_text="How many in a pack, in that unit; for fabric, metres on the roll.",
    )
    pack_price = MoneyField(null=True, blank=True, help_text="Without tax.")
    thickness_ticks = LengthField(
        "real thickness",
        null=True,
        blank=True,
        help_text="What the calliper says; the label is only a name.",
    )
    width_ticks = LengthField("width", null=True, blank=True)
    length_ticks = LengthField("length", null=True, blank=True)
    density_kg_m3 = models.FloatField("density in kg/m³", null=True, blank=True)
    mass_g_m2 = models.FloatField("mass in g/m²", null=True, blank=True)
    mass_g_each = models.FloatField(
        "mass of one in g", null=True, blank=True, help_text="Of one unit."
    )
    selvedge_ticks = LengthField("selvedge, each side", null=True, blank=True)
    directional = models.BooleanField(
        "has a direction (nap, grain or pattern)", default=False
    )
    repeat_ticks = LengthField("pattern repeat", null=True, blank=True)
    backed = models.BooleanField(
        "backed", default=False, help_text="A backed cloth shuts the fill off from air."
    )
    flow_resistivity = models.FloatField(
        "airflow resistivity in Pa·s/m²", null=True, blank=True
    )
    colour = models.CharField(max_length=40, blank=True)
    fire_class = models.CharField(
        max_length=2, choices=FireClass.choices, blank=True, default=""
    )
    fire_papers = models.CharField(
        max_length=200, blank=True, help_text="Which paper, and where it is kept."
    )
    rated_load_n = models.FloatField(
        "maker's working load in N",
        null=True,
        blank=True,
        help_text="As marked by the maker. Empty means unrated.",
    )
    rating_source = models.CharField(max_length=200, blank=True)

    objects = MaterialQuerySet.as_manager()

    class Meta:
        ordering = ("kind", "name")
        constraints = (
            models.UniqueConstraint(
                Lower("code"),
                name="%(app_label)s_%(class)s_code_once",
                violation_error_message="Another material already has this code.",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=MaterialKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="Choose what kind of material it is.",
            ),
            # A comparison with nothing is unknown, which a check lets pass: hence isnull.
            models.CheckConstraint(
                condition=~Q(kind__in=SIZED)
                | Q(
                    thickness_ticks__isnull=False,
                    thickness_ticks__gt=0,
                    width_ticks__isnull=False,
                    width_ticks__gt=0,
                    length_ticks__isnull=False,
                    length_ticks__gt=0,
                )
                & (
                    Q(density_kg_m3__isnull=False, density_kg_m3__gt=0)
                    | Q(mass_g_m2__isnull=False, mass_g_m2__gt=0)
                ),
                name="%(app_label)s_%(class)s_sized",
                violation_error_message="Sheets, boards and fill need thickness, width,"
                " length, and density or mass.",
            ),
            models.CheckConstraint(
                condition=~Q(kind=MaterialKind.FABRIC)
                | Q(
                    width_ticks__isnull=False,
                    width_ticks__gt=0,
                    mass_g_m2__isnull=False,
                    mass_g_m2__gt=0,
                ),
                name="%(app_label)s_%(class)s_fabric_sized",
                violation_error_message="Fabric needs the width of the roll and its mass"
                " in g/m².",
            ),
            models.CheckConstraint(
                condition=Q(pack_quantity__gt=0),
                name="%(app_label)s_%(class)s_pack_positive",
                violation_error_message="A pack holds more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(pack_price__isnull=True) | Q(pack_price__gte=0),
                name="%(app_label)s_%(class)s_price_not_negative",
                violation_error_message="A price can't be negative.",
            ),
            models.CheckConstraint(
                condition=Q(rated_load_n__isnull=True)
                | (Q(rated_load_n__gt=0) & ~Q(rating_source="")),
                name="%(app_label)s_%(class)s_rating_has_source",
                violation_error_message="A working load needs its source: where does the"
                " maker say so?",
            ),
            models.CheckConstraint(
                condition=(Q(mass_g_each__isnull=True) | Q(mass_g_each__gte=0))
                & (Q(flow_resistivity__isnull=True) | Q(flow_resistivity__gt=0))
                & (Q(selvedge_ticks__isnull=True) | Q(selvedge_ticks__gte=0))
                & (Q(repeat_ticks__isnull=True) | Q(repeat_ticks__gt=0)),
                name="%(app_label)s_%(class)s_facts_not_negative",
                violation_error_message="Mass, resistivity, selvedge and repeat can't be"
                " negative.",
            ),
            models.CheckConstraint(
                condition=Q(selvedge_ticks__isnull=True)
                | Q(width_ticks__isnull=True)
                | Q(width_ticks__gt=2 * F("selvedge_ticks")),
                name="%(app_label)s_%(class)s_selvedges_fit",
                violation_error_message="The two selvedges leave nothing of the roll.",
            ),
            models.CheckConstraint(
                condition=Q(unit__in=MaterialUnit.values),
                name="%(app_label)s_%(class)s_unit_known",
                violation_error_message="Choose what it is counted in.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the material's page."""
        return reverse("shop:material", args=(self.pk,))

    def another(self) -> Material:
        """Return an unsaved material like this one, which needs a code of its own."""
        own = {"id", "created_at", "archived_at", "code"}
        names = [f.attname for f in self._meta.concrete_fields if f.name not in own]
        return Material(**{name: getattr(self, name) for name in names})

    @property
    def unit_price(self) -> Decimal | None:
        """Price without tax of one piece, metre or millilitre, unrounded."""
        if self.pack_price is None:
            return None
        each: Decimal = self.pack_price / self.pack_quantity
        return each

    @property
    def face_m2(self) -> Decimal | None:
        """Area of one sheet, board or slab in m²; nothing for what has no length."""
        if not self.width_ticks or not self.length_ticks:
            return None
        return Decimal(self.width_ticks * self.length_ticks) / TICKS_PER_M**2

    @property
    def counted_in(self) -> str:
        """What one of it is called."""
        if self.kind == MaterialKind.FABRIC:
            return "metre"
        if self.kind in COUNTED:
            return MaterialUnit(self.unit).label
        if self.kind == MaterialKind.FILL:
            return "piece"
        return str(self.get_kind_display()).split()[0]
