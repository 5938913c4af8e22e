"""Lengths as whole ticks of 3.125 µm: reading them and printing them (pure).

1 mm = 320 ticks, 1/64 in = 127 ticks, 1 in = 8128 ticks, so that every reading of
a metric rule and of an inch tape is a whole number, and sums never drift. The
device has a twin of ``parse`` and the printers in ``static/shared/js/kernel/length.js``;
both are held to ``tests/vectors/length.json``.
"""

import enum
import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TypeAlias

TICKS_PER_MM = 320
TICKS_PER_INCH = 8128
TICKS_PER_FOOT = 12 * TICKS_PER_INCH
TICKS_PER_M = 1000 * TICKS_PER_MM
MAX_TICKS = 2**31 - 1  # what a 32-bit column holds: 6.7 km
MAX_TEXT = 40  # characters, spaces too: what a text column beside ticks holds
SHOWN_FRACTIONS = (2, 4, 8, 16, 32, 64)

Number: TypeAlias = int | float | Decimal | Fraction


class UnitSystem(enum.StrEnum):
    """What a bare number means, and how lengths print."""

    METRIC = "metric"
    IMPERIAL = "imperial"


class LengthError(ValueError):
    """A text that is no length; says in a sentence what would work."""

    def __init__(self, kind: str, *, units: UnitSystem) -> None:
        """Choose the sentence by kind, with examples in the shop's system."""
        self.kind = kind
        self.message = _SENTENCES[kind].format(example=_EXAMPLES[units])
        super().__init__(self.message)


_EXAMPLES = {
    UnitSystem.METRIC: "3750, 375 cm or 3.75 m",
    UnitSystem.IMPERIAL: "12' 3 5/8\", 147 5/8 or 3750 mm",
}
_SENTENCES = {
    "empty": "Type a length, such as {example}.",
    "unreadable": "This does not read as a length. Write it like {example}.",
    "too_long": "This is too long for a length. Write it like {example}.",
    "negative": "A length can't be less than zero. Write it like {example}.",
    "too_large": "This is more than 6.7 km. Check the unit; write it like {example}.",
    "ambiguous": "This can be read in more than one way. Write it like {example}.",
    "thousands": (
        "This can be read in two ways: write no thousands separator, and add the"
        " unit to decimals, like {example}."
    ),
    "bare_fraction": 'A fraction needs its inch mark, like 147 5/8", or write {example}.',
    "fraction": (
        "Fractions go from halves to sixty-fourths and are less than one,"
        " like 5/8. Write it like {example}."
    ),
    "mixed": "Metric and inch units are mixed here. Write it like {example}.",
    "order": "The larger unit goes first, each unit once. Write it like {example}.",
    "remainder": (
        "The smaller part comes to a whole larger unit or more, or the larger part"
        " isn't a whole number. Write it like {example}."
    ),
}

_INCH, _FOOT = Fraction(TICKS_PER_INCH), Fraction(TICKS_PER_FOOT)
_MM, _CM, _M = (Fraction(TICKS_PER_MM * n) for n in (1, 10, 1000))
_UNITS: dict[str, Fraction] = (
    dict.fromkeys(("'", "ft", "ft.", "foot", "feet"), _FOOT)
    | dict.fromkeys(('"', "in", "in.", "inch", "inches"), _INCH)
    | dict.fromkeys(("mm", "mm.", "millimetre", "millimetres", "millimeter"), _MM)
    | dict.fromkeys(("cm", "cm.", "centimetre", "centimetres", "centimeter"), _CM)
    | dict.fromkeys(("m", "m.", "metre", "metres", "meter"), _M)
    | {"millimeters": _MM, "centimeters": _CM, "meters": _M}
)
_IMPERIAL = (_FOOT, _INCH)
_BARE = {UnitSystem.METRIC: _MM, UnitSystem.IMPERIAL: _INCH}

# One character each to what the reader knows; vulgar fractions get a space before,
# so that 3½ doesn't turn into 31/2.
_SAME = {
    "'": "’‘′´`ʹʼ＇",
    '"': "”“″ʺ＂",
    "/": "⁄∕／",
    "-": "‐‑‒–—−",
    " ": "\t\n\r\u00a0\u2002\u2003\u2007\u2008\u2009\u200a\u202f",
}
_PLAIN = str.maketrans(
    {odd: plain for plain, odds in _SAME.items() for odd in odds}
    | dict(
        zip(
            "½¼¾⅛⅜⅝⅞",
            [" 1/2", " 1/4", " 3/4", " 1/8", " 3/8", " 5/8", " 7/8"],
            strict=True,
        )
    )
)
_PART = re.compile(
    r"(?:(?P<number>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?![0-9/]))?"
    r"(?: ?-? ?(?P<fraction>[0-9]+/[0-9]+))? ?(?P<unit>[a-z]+\.?|['\"])? ?-? ?"
)
_HYPHENED = re.compile(r"([0-9]+) ?- ?([0-9]+) ?- ?([0-9]+/[0-9]+) ?(?:\"|in\.?)?")
_PADDED = re.compile(r"0[0-9]{2}")  # 1'010 is a Swiss thousand and ten, not 1' 10"
_THOUSANDS_LIKE = re.compile(r"[0-9]{1,3}[.,][0-9]{3}")


@dataclass(frozen=True, slots=True)
class _Part:
    """One number of a text, with its unit as written."""

    number: str
    fraction: str
    unit: str

    @property
    def is_whole(self) -> bool:
        return self.number.isdigit() and not self.fraction

    @property
    def value(self) -> Fraction:
        number = Fraction(self.number.replace(",", ".") or 0)
        return number + Fraction(self.fraction or 0)


def parse(text: str, *, units: UnitSystem, allow_negative: bool = False) -> int:
    """Read a length as a tape, a laser or a person writes it, in ticks.

    A bare number is millimetres in a metric shop, inches in an imperial one. What
    lies between two ticks goes to the nearest, halves away from zero. Raises
    ``LengthError`` for what can't be read, or could be read in two ways.
    """

    def refuse(kind: str) -> LengthError:
        return LengthError(kind, units=units)

    plain = _plain(text)
    if not plain:
        raise refuse("empty")
    if len(text) > MAX_TEXT:
        raise refuse("too_long")
    sign = -1 if plain.startswith("-") else 1
    if sign < 0 and not allow_negative:
        raise refuse("negative")
    plain = plain[1:].lstrip(" ") if plain[0] in "+-" else plain
    try:
        exact = _read(plain, units)
    except _RefusedError as refused:
        raise refuse(refused.kind) from None
    ticks = _nearest(exact)
    if ticks > MAX_TICKS:
        raise refuse("too_large")
    return sign * ticks


class _RefusedError(Exception):
    def __init__(self, kind: str) -> None:
        self.kind = kind
        super().__init__(kind)


def _plain(text: str) -> str:
    plain = text.translate(_PLAIN).replace("''", '"').lower()
    return re.sub(r" ?/ ?", "/", re.sub(r" +", " ", plain)).strip(" ")


def _read(plain: str, units: UnitSystem) -> Fraction:
    if hyphened := _HYPHENED.fullmatch(plain):
        plain = "{}' {} {}\"".format(*hyphened.groups())
    parts = _parts(plain)
    for part in parts:
        _check_number(part, units)
    sizes = _sizes(parts, units)
    _check_order(parts, sizes)
    return sum(
        (part.value * size for part, size in zip(parts, sizes, strict=True)),
        Fraction(0),
    )


def _parts(plain: str) -> list[_Part]:
    """Cut the text into numbers with their units, leaving nothing over."""
    parts, at = [], 0
    while at < len(plain):
        found = _PART.match(plain, at)
        groups = found.groupdict(default="") if found else {}
        if not found or not (groups["number"] or groups["fraction"]):
            raise _RefusedError("unreadable")
        if groups["unit"] and groups["unit"] not in _UNITS:
            raise _RefusedError("unreadable")
        parts.append(_Part(**groups))
        at = found.end()
    if not parts or plain.startswith("-") or plain.endswith("-"):
        raise _RefusedError("unreadable")
    return parts


def _check_number(part: _Part, units: UnitSystem) -> None:
    """Refuse odd fractions, and decimals that could be thousands."""
    if part.fraction:
        top, bottom = (int(n) for n in part.fraction.split("/"))
        if bottom not in SHOWN_FRACTIONS or top >= bottom:
            raise _RefusedError("fraction")
        if part.number and not part.number.isdigit():
            raise _RefusedError("unreadable")
    if _THOUSANDS_LIKE.fullmatch(part.number):
        # 3.750 with no unit is metres off a laser, or a German 3750: ask. A point
        # with a unit, or bare inches, is a decimal; 3,750 is one only for metres.
        comma = "," in part.number and not part.number.startswith("0")
        comma = comma and _UNITS.get(part.unit) != _M
        bare_metric = not part.unit and units is UnitSystem.METRIC
        if comma or bare_metric:
            raise _RefusedError("thousands")


def _sizes(parts: list[_Part], units: UnitSystem) -> list[Fraction]:
    """Give the size in ticks of each part's unit, the unwritten ones inferred."""
    if len(parts) == 1 and not parts[0].unit:
        if parts[0].fraction and units is UnitSystem.METRIC:
            raise _RefusedError("bare_fraction")
        return [_BARE[units]]
    sizes: list[Fraction] = []
    for part in parts:
        if part.unit:
            sizes.append(_UNITS[part.unit])
        elif sizes and part is parts[-1] and sizes[-1] == _FOOT:
            sizes.append(_INCH)  # 12' 3
        elif sizes and part is parts[-1] and sizes[-1] == _INCH and not part.number:
            sizes.append(_INCH)  # 3" 5/8
        else:
            raise _RefusedError("ambiguous")
    return sizes


def _check_order(parts: list[_Part], sizes: list[Fraction]) -> None:
    """Refuse 3" 12', 12' 15", 12' 30 cm, 1'000 and 12.5' 3"."""
    if len({size in _IMPERIAL for size in sizes}) > 1:
        raise _RefusedError("mixed")
    for i in range(1, len(parts)):
        if sizes[i] > sizes[i - 1] or (sizes[i] == sizes[i - 1] and parts[i].unit):
            raise _RefusedError("order")
        if (
            not parts[i - 1].is_whole
            or parts[i].value * sizes[i] >= sizes[i - 1]
            or _PADDED.match(parts[i].number)
        ):
            raise _RefusedError("remainder")


def _nearest(exact: Fraction) -> int:
    """Round to a whole number, halves away from zero."""
    size = (2 * abs(exact) + 1) // 2
    return int(size) if exact >= 0 else -int(size)


def show(
    ticks: int,
    *,
    units: UnitSystem,
    fraction: int = 16,
    unit_mark: bool = True,
    feet: bool = True,
) -> str:
    """Print for reading, rounded: to 1/fraction in, or to a tenth of a millimetre.

    Never feed the printed figure back into a sum. ``feet=False`` prints inches alone,
    as a tape reads at the saw.
    """
    if units is UnitSystem.METRIC:
        shown = _decimal(Fraction(_nearest(Fraction(ticks, 32)), 10))
        return f"{shown} mm" if unit_mark else shown
    steps = _nearest(Fraction(ticks * fraction, TICKS_PER_INCH))
    return _inches(Fraction(steps, fraction), unit_mark=unit_mark, feet=feet)


def show_exact(ticks: int, *, units: UnitSystem, feet: bool = True) -> str:
    """Print so that ``parse`` gives the very same ticks, in either system.

    Millimetres are exact decimals. Inches print as sixty-fourths where they are that,
    else as decimals fine enough to come back to the same tick.
    """
    if units is UnitSystem.METRIC:
        return f"{_decimal(Fraction(ticks, TICKS_PER_MM))} mm"
    if ticks % (TICKS_PER_INCH // 64) == 0:
        exact = Fraction(ticks, TICKS_PER_INCH)
        return _inches(exact, unit_mark=True, feet=feet)
    # Half a tick is 6.15e-5 in, and four decimals are never off by more than 5e-5.
    shown = _decimal(Fraction(_nearest(Fraction(ticks * 10**4, TICKS_PER_INCH)), 10**4))
    return f'{shown}"'


def is_exact(ticks: int, *, units: UnitSystem, fraction: int = 16) -> bool:
    """Tell whether ``show`` prints this length without rounding it."""
    step = (
        TICKS_PER_MM // 10 if units is UnitSystem.METRIC else TICKS_PER_INCH // fraction
    )
    return ticks % step == 0


def show_size(*sides: int, units: UnitSystem, fraction: int = 16) -> str:
    """Print two or three sides as one size: 600 × 1200 mm, 24 × 48 1/2 in."""
    shown = [
        show(side, units=units, fraction=fraction, unit_mark=False, feet=False)
        for side in sides
    ]
    return " × ".join(shown) + (" mm" if units is UnitSystem.METRIC else " in")


def _decimal(value: Fraction) -> str:
    """Print a fraction whose decimals end, without trailing zeros."""
    text = f"{Decimal(value.numerator) / Decimal(value.denominator):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _inches(inches: Fraction, *, unit_mark: bool, feet: bool) -> str:
    sign = "-" if inches < 0 else ""
    whole, rest = divmod(abs(inches), 1)
    foot, inch = divmod(int(whole), 12) if feet else (0, int(whole))
    mark = '"' if unit_mark else ""
    part = f"{rest.numerator}/{rest.denominator}" if rest else ""
    lead = f"{foot}' " if foot else ""
    body = f"{inch} {part}" if inch and part else part or str(inch)
    return f"{sign}{lead}{body}{mark}"


def from_mm(mm: Number) -> int:
    """Convert millimetres to the nearest tick."""
    return _from(mm, TICKS_PER_MM)


def from_inches(inches: Number) -> int:
    """Convert inches to the nearest tick."""
    return _from(inches, TICKS_PER_INCH)


def _from(value: Number, ticks_per_unit: int) -> int:
    try:
        return _nearest(Fraction(value) * ticks_per_unit)
    except (OverflowError, ValueError) as error:
        msg = f"{value} is not a length"
        raise ValueError(msg) from error


def to_mm(ticks: int) -> float:
    """Convert to millimetres."""
    return ticks / TICKS_PER_MM


def to_m(ticks: int) -> float:
    """Convert to metres."""
    return ticks / TICKS_PER_M


def to_inches(ticks: int) -> float:
    """Convert to inches."""
    return ticks / TICKS_PER_INCH
