"""What is to be priced: quantities by kind of line, all in SI units and Decimal."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from quotes.pricing.engine.errors import (
    MAX_COUNT,
    MAX_METRES,
    MAX_MINUTES,
    MAX_MONEY,
    MAX_PANELS,
    PricingError,
    check_number,
    check_text,
    check_whole,
)
from quotes.pricing.engine.rules import Deposit, PriceRules, Reduction

ALL = Decimal(100)
MAX_SPARE = Decimal(500)
"""Largest waste or spare share, in percent of what the panel holds."""
MAX_COUNTED_SPARE = Decimal(10_000)
"""The same of what is counted, where a packet of spares may go with a single part."""


class MaterialKind(StrEnum):
    """How a material is measured: m², m, m of roll, m², or by count."""

    SHEET = "sheet"
    BOARD = "board"
    CLOTH = "cloth"
    FILL = "fill"
    HARDWARE = "hardware"
    CONSUMABLE = "consumable"


RESERVED_KEYS = frozenset({"set-up", "minimum"})
"""Keys of the lines that the engine adds itself."""

COUNTED_KINDS = frozenset({MaterialKind.HARDWARE, MaterialKind.CONSUMABLE})
"""Materials that are counted, not measured."""

NUMBER_WORDS = {
    "pack_price": "price of a pack",
    "pack_amount": "what a pack holds",
    "yield_percent": "average yield in percent",
    "spare_percent": "waste and spare in percent",
    "count": "count",
}
"""What a refusal calls the numbers of a material."""


class Stage(StrEnum):
    """The part of the job an operation belongs to."""

    MEASURE = "measure"
    BUILD = "build"
    UPHOLSTER = "upholster"
    PACK = "pack"
    INSTALL = "install"
    TRAVEL = "travel"


class DistanceUnit(StrEnum):
    """The unit a shop reckons its travel in."""

    KILOMETRES = "km"
    MILES = "mile"


@dataclass(frozen=True, slots=True)
class Piece:
    """Equal pieces in one panel: `count` of `length_m` (by `width_m`)."""

    label: str
    count: Decimal
    length_m: Decimal
    width_m: Decimal | None = None

    def __post_init__(self) -> None:
        check_number("count", self.count, high=MAX_COUNT, above=True)
        check_number("length_m", self.length_m, high=MAX_METRES, above=True)
        if self.width_m is not None:
            check_number("width_m", self.width_m, high=MAX_METRES, above=True)


@dataclass(frozen=True, slots=True)
class MaterialUse:
    """One material in one panel, with the pack it is bought in.

    A pack costs `pack_price` and holds `pack_amount`: m² of sheet or fill, m of
    board or of fabric off the roll, or a count. `yield_percent` is the part of a
    sheet, board or roll that ends up in panels, kerf included, on the shop's
    average for this spec; `spare_percent` is added on top. Measured kinds have
    `pieces`, counted kinds have `count` (whole or not: 0.05 of a tube of glue).
    """

    kind: MaterialKind
    code: str
    label: str
    pack_price: Decimal
    pack_amount: Decimal
    pieces: tuple[Piece, ...] = ()
    count: Decimal = Decimal(0)
    noun: str = ""
    usable_width_m: Decimal | None = None
    yield_percent: Decimal = ALL
    spare_percent: Decimal = Decimal(0)
    supplied_by_client: bool = False

    def __post_init__(self) -> None:
        check_text("label", self.label)
        try:
            self._check_numbers()
        except PricingError as error:
            what = f"{self.label}, {NUMBER_WORDS[error.field]}"
            raise PricingError(error.field, f"{what}: {error.message}") from error
        if not self.pack_price and not self.supplied_by_client:
            raise PricingError("pack_price", f"{self.label} has no price yet.")
        self._check_amounts()

    def _check_numbers(self) -> None:
        counted = self.kind in COUNTED_KINDS
        most = MAX_COUNTED_SPARE if counted else MAX_SPARE
        check_number("pack_price", self.pack_price, high=MAX_MONEY)
        check_number("pack_amount", self.pack_amount, high=MAX_COUNT, above=True)
        check_number("yield_percent", self.yield_percent, high=ALL, above=True)
        check_number("spare_percent", self.spare_percent, high=most)
        if counted:
            check_number("count", self.count, high=MAX_COUNT, above=True)

    def _check_amounts(self) -> None:
        if self.kind in COUNTED_KINDS:
            return
        if not self.pieces:
            raise PricingError("pieces", f"{self.label} has no pieces.")
        flat = self.kind is not MaterialKind.BOARD
        if flat and any(piece.width_m is None for piece in self.pieces):
            raise PricingError("width_m", f"A piece of {self.label} has no width.")
        if self.kind is MaterialKind.CLOTH:
            self._check_roll()

    def _check_roll(self) -> None:
        if self.usable_width_m is None:
            raise PricingError("usable_width_m", f"{self.label} has no roll width.")
        check_number("usable_width_m", self.usable_width_m, high=MAX_METRES, above=True)


@dataclass(frozen=True, slots=True)
class Work:
    """One operation: `count` drivers (joints, m, panels) of `minutes_each`.

    `minutes_each` is observed time; `rating_percent` corrects it for the pace it
    was observed at (100 is normal), and the shop's allowance comes on top.
    """

    code: str
    label: str
    stage: Stage
    count: Decimal
    noun: str
    minutes_each: Decimal
    hourly_rate: Decimal
    rating_percent: Decimal = ALL

    def __post_init__(self) -> None:
        check_text("label", self.label)
        check_number("count", self.count, high=MAX_COUNT, above=True)
        check_number("minutes_each", self.minutes_each, high=MAX_MINUTES, above=True)
        check_number("rating_percent", self.rating_percent, high=MAX_SPARE, above=True)
        check_number("hourly_rate", self.hourly_rate, high=MAX_MONEY)
        if not self.hourly_rate:
            raise PricingError("hourly_rate", f"{self.label} has no hourly rate yet.")


@dataclass(frozen=True, slots=True)
class PanelDemand:
    """`quantity` equal panels on one line; materials and work are for one panel."""

    key: str
    label: str
    quantity: Decimal
    materials: tuple[MaterialUse, ...]
    work: tuple[Work, ...]
    tax_kind: str = ""
    override_unit_price: Decimal | None = None

    def __post_init__(self) -> None:
        check_text("key", self.key)
        check_text("label", self.label)
        check_number("quantity", self.quantity, high=MAX_PANELS, above=True)
        check_whole("quantity", self.quantity)
        if not self.materials and not self.work:
            raise PricingError("materials", f"{self.label} has nothing to price.")
        if self.override_unit_price is not None:
            check_number(
                "override_unit_price", self.override_unit_price, high=MAX_MONEY
            )


@dataclass(frozen=True, slots=True)
class JobDemand:
    """What a job takes once, however many panels it has."""

    work: tuple[Work, ...]
    materials: tuple[MaterialUse, ...] = ()
    label: str = "Setting up"
    tax_kind: str = ""

    def __post_init__(self) -> None:
        if not self.work and not self.materials:
            raise PricingError("work", "Setting up needs work or materials.")


@dataclass(frozen=True, slots=True)
class Travel:
    """Trips to the site: `distance` and `minutes_each_way` are one way.

    `cost_per_distance` is what a kilometre or mile costs the shop. Travel is a
    charge beside the work: a discount does not touch it.
    """

    distance: Decimal
    unit: DistanceUnit
    cost_per_distance: Decimal
    trips: Decimal
    minutes_each_way: Decimal = Decimal(0)
    people: Decimal = Decimal(1)
    hourly_rate: Decimal = Decimal(0)
    label: str = "Travel"
    tax_kind: str = ""
    key: str = "travel"

    def __post_init__(self) -> None:
        check_text("key", self.key)
        check_number("distance", self.distance, high=MAX_COUNT)
        check_number("cost_per_distance", self.cost_per_distance, high=MAX_MONEY)
        check_number("trips", self.trips, high=MAX_PANELS, above=True)
        check_whole("trips", self.trips)
        check_number("minutes_each_way", self.minutes_each_way, high=MAX_MINUTES)
        check_number("people", self.people, high=MAX_PANELS, above=True)
        check_whole("people", self.people)
        check_number("hourly_rate", self.hourly_rate, high=MAX_MONEY)
        if not self.distance and not self.minutes_each_way:
            raise PricingError("distance", "Enter how far or how long the trip is.")
        if self.minutes_each_way and not self.hourly_rate:
            raise PricingError("hourly_rate", "Time on the road needs an hourly rate.")


@dataclass(frozen=True, slots=True)
class Extra:
    """A line of its own: priced outright, or by its cost and the shop's profit."""

    key: str
    label: str
    quantity: Decimal
    unit_price: Decimal | None = None
    unit_cost: Decimal | None = None
    tax_kind: str = ""
    discountable: bool = True

    def __post_init__(self) -> None:
        check_text("key", self.key)
        check_text("label", self.label)
        check_number("quantity", self.quantity, high=MAX_COUNT, above=True)
        if self.unit_price is not None:
            check_number("unit_price", self.unit_price, high=MAX_MONEY)
        if self.unit_cost is not None:
            check_number("unit_cost", self.unit_cost, high=MAX_MONEY)
        if self.unit_price is None and self.unit_cost is None:
            raise PricingError("unit_price", f"Enter a price for {self.label}.")


@dataclass(frozen=True, slots=True)
class PriceRequest:
    """One quote to price. Keys are unique and outlive a change of order."""

    rules: PriceRules
    panels: tuple[PanelDemand, ...] = ()
    extras: tuple[Extra, ...] = ()
    job: JobDemand | None = None
    travels: tuple[Travel, ...] = ()
    discount: Reduction | None = None
    deposit: Deposit | None = None

    def __post_init__(self) -> None:
        if not self.panels and not self.extras:
            raise PricingError("panels", "Add a panel or a line to price first.")
        keys = [panel.key for panel in self.panels]
        keys += [extra.key for extra in self.extras]
        keys += [travel.key for travel in self.travels]
        if len(keys) != len(set(keys)):
            raise PricingError("key", "Two lines have the same key.")
        if RESERVED_KEYS.intersection(keys):
            raise PricingError("key", "That key is kept for lines of the engine's own.")
