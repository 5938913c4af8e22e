"""What the shop buys and what its work takes: materials, operations, suppliers."""

from __future__ import annotations

from decimal import Decimal
from typing import Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower
from django.urls import reverse

from shared.models import (
    Archivable,
    ArchivableQuerySet,
    Identified,
    LengthField,
    MoneyField,
)


class Supplier(Identified, Archivable):
    """Somebody the shop buys from."""

    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    lead_days = models.PositiveSmallIntegerField(default=3)

    objects = ArchivableQuerySet.as_manager()

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                Lower("name"),
                name="%(app_label)s_%(class)s_name_once",
                violation_error_message="There is already a supplier of this name.",
            ),
        )

    def __str__(self) -> str:
        return self.name


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

    def with_supplier(self) -> Self:
        """With the supplier, which lists show."""
        return self.select_related("supplier")


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
            models.CheckConstraint(
                condition=~Q(kind__in=SIZED)
                | Q(
                    thickness_ticks__gt=0,
                    width_ticks__gt=0,
                    length_ticks__gt=0,
                )
                & (Q(density_kg_m3__gt=0) | Q(mass_g_m2__gt=0)),
                name="%(app_label)s_%(class)s_sized",
                violation_error_message="Sheets, boards and fill need thickness, width,"
                " length, and density or mass.",
            ),
            models.CheckConstraint(
                condition=~Q(kind=MaterialKind.FABRIC)
                | Q(width_ticks__gt=0, mass_g_m2__gt=0),
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

    @property
    def unit_price(self) -> Decimal | None:
        """Price without tax of one piece, metre or millilitre, unrounded."""
        if self.pack_price is None:
            return None
        return self.pack_price / self.pack_quantity

    @property
    def counted_in(self) -> str:
        """What one of it is called."""
        if self.kind == MaterialKind.FABRIC:
            return "metre"
        if self.kind in COUNTED:
            return MaterialUnit(self.unit).label
        return str(self.get_kind_display()).split()[0]


class Driver(models.TextChoices):
    """What an operation's minutes, or an item's count, grow with."""

    PANEL = "panel", "panel"
    JOINT = "joint", "joint"
    PART = "part", "wood part"
    FRAME_METRE = "frame_metre", "metre of wood"
    CUT = "cut", "crosscut"
    RIP_METRE = "rip_metre", "metre of rip"
    BEVEL_METRE = "bevel_metre", "metre of bevelled rip"
    BRACE = "brace", "brace"
    BLOCK = "block", "block under a hanging point"
    FABRIC_M2 = "fabric_m2", "m² of fabric"
    FABRIC_EDGE_METRE = "fabric_edge_metre", "metre of wrapped edge"
    SEAM_METRE = "seam_metre", "metre of seam"
    FILL_M2 = "fill_m2", "m² of fill"
    FILL_PIECE = "fill_piece", "piece of fill"
    EDGE_STRIP_METRE = "edge_strip_metre", "metre of edge strip"
    HANGING_POINT = "hanging_point", "hanging point"
    SCREW_HOLE = "screw_hole", "screw hole"
    FACE_M2 = "face_m2", "m² of face"
    JOB = "job", "job"


class WorkStage(models.TextChoices):
    """Which part of the job an operation belongs to."""

    MEASURE = "measure", "measure"
    BUILD = "build", "build"
    UPHOLSTER = "upholster", "upholster"
    PACK = "pack", "check and wrap"
    INSTALL = "install", "install"


class Operation(Identified, Archivable):
    """One kind of work: how long it takes and what an hour of it costs."""

    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=120)
    stage = models.CharField(max_length=12, choices=WorkStage.choices)
    driver = models.CharField(max_length=20, choices=Driver.choices)
    minutes = models.DecimalField(
        "minutes each",
        max_digits=7,
        decimal_places=2,
        validators=(MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(10000))),
    )
    hourly_rate = MoneyField(validators=(MinValueValidator(Decimal(0)),))
    notes = models.CharField(max_length=200, blank=True)

    objects = ArchivableQuerySet.as_manager()

    class Meta:
        ordering = ("stage", "name")
        constraints = (
            models.UniqueConstraint(
                Lower("code"),
                name="%(app_label)s_%(class)s_code_once",
                violation_error_message="Another operation already has this code.",
            ),
            models.CheckConstraint(
                condition=Q(minutes__gte=0, hourly_rate__gte=0),
                name="%(app_label)s_%(class)s_not_negative",
                violation_error_message="Minutes and rates can't be negative.",
            ),
            models.CheckConstraint(
                condition=Q(driver__in=Driver.values, stage__in=WorkStage.values),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose a stage and what the minutes grow with.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the operation's page."""
        return reverse("shop:operation-change", args=(self.pk,))
