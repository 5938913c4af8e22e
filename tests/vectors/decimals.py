"""Figures worked out a second time, in decimals of fifty digits, for the vectors."""

import json
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal, getcontext
from functools import cache

MM, INCH = 320, 8128
PI = Decimal("3.14159265358979323846264338327950288419716939937510")
getcontext().prec = 50


def in_ticks(mm):
    return None if mm is None else int(mm * MM)


def sine(degrees):
    """Taylor's series, which nobody else here uses."""
    x = degrees % 360 * PI / 180
    term, total, n = x, Decimal(0), 1
    while abs(term) > Decimal("1e-45"):
        total += term
        term *= -x * x / ((n + 1) * (n + 2))
        n += 2
    return total


def cosine(degrees):
    return sine(degrees + 90)


def whole(number):
    return int(number.quantize(Decimal(1), ROUND_HALF_EVEN))


def mm_text(ticks):
    text = f"{(Decimal(ticks) / MM).quantize(Decimal('0.1'), ROUND_HALF_UP):f}"
    return f"{text.removesuffix('.0')} mm"


def places_text(number, places):
    return f"{number.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP):f}"


@cache
def arc_cosine(cos):
    low, high = Decimal(0), Decimal(180)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if cosine(middle) > cos else (low, middle)
    return low


def as_text(cases):
    """Return a file's text: one case a line, so that a change shows as one line."""
    lines = (json.dumps(case, ensure_ascii=False) for case in cases)
    return "[\n" + ",\n".join(lines) + "\n]\n"
