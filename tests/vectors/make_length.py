"""Writes length.json, what shared/length.py and its twin on the device must both do.

Expected ticks come from how each text is composed, or from the hand-written tables here,
never from the reader under test. Run it from the project's root:

    python -m tests.vectors.make_length
"""

import json
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from pathlib import Path

FILE = Path(__file__).with_name("length.json")
BOTH = ("metric", "imperial")
INCH, MM = 8128, 320

# What people write, in either kind of shop, and how many inches or millimetres it is.
INCHES = {
    "12' 3 5/8\"": "147 5/8",
    "12'3 5/8\"": "147 5/8",
    "12' 3 5/8": "147 5/8",
    "12' 3-5/8\"": "147 5/8",
    "12'-3 5/8\"": "147 5/8",
    "12'-3-5/8\"": "147 5/8",
    "12' - 3 5/8\"": "147 5/8",
    "12-3-5/8": "147 5/8",
    '12-3-5/8"': "147 5/8",
    "12 - 3 - 5/8 in": "147 5/8",
    "12′ 3 5/8″": "147 5/8",
    "12’ 3 5/8”": "147 5/8",
    "12‘ 3 5/8“": "147 5/8",
    "12' 3 5/8''": "147 5/8",
    "12’ 3 5/8’’": "147 5/8",
    "12′ 3⅝″": "147 5/8",
    "12' 3 ⅝\"": "147 5/8",
    "12' 3 5⁄8\"": "147 5/8",
    "12' 3 5∕8\"": "147 5/8",
    "12' 3 5 / 8\"": "147 5/8",
    "12'\u00a03\u202f5/8\"": "147 5/8",
    "12'\u20093\u2009⅝\"": "147 5/8",
    "12\t' 3 5/8 \"\r\n": "147 5/8",
    "12'3\"5/8": "147 5/8",
    "12' 3\" 5/8": "147 5/8",
    "12'–3–5/8\"": "147 5/8",
    "12'‑3 5/8\"": "147 5/8",
    "12 ft 3 5/8 in": "147 5/8",
    "12ft 3-5/8in": "147 5/8",
    "12 ft. 3 5/8 in.": "147 5/8",
    "12 FT 3 5/8 IN": "147 5/8",
    "12 feet 3 5/8 inches": "147 5/8",
    "1 foot 1 inch": "13",
    "  +12' 3 5/8\"  ": "147 5/8",
    "12 ft 3 in": "147",
    "12ft3in": "147",
    "12ft3.5in": "147 1/2",
    "12' 3.5": "147 1/2",
    "12' 3,5\"": "147 1/2",
    "12'3": "147",
    "12'": "144",
    "12 ft": "144",
    "12.5 ft": "150",
    "12,5'": "150",
    "12.304 ft": "18456/125",
    "12 1/2'": "150",
    "12½ ft": "150",
    "0' 6\"": "6",
    "12' 0\"": "144",
    "12' 0 5/8\"": "144 5/8",
    "12' 5/8\"": "144 5/8",
    "12' ⅝": "144 5/8",
    "12' 11 63/64\"": "155 63/64",
    '147 5/8"': "147 5/8",
    '147-5/8"': "147 5/8",
    "147⅝ in": "147 5/8",
    '147.625"': "147 5/8",
    "147.625 in": "147 5/8",
    "147.625 inch": "147 5/8",
    '147,62"': "147 31/50",
    '0,625"': "5/8",
    '.625"': "5/8",
    ',5"': "1/2",
    '5/8"': "5/8",
    "⅛ in": "1/8",
    "⅜″": "3/8",
    "⅞”": "7/8",
    '¼"': "1/4",
    "½''": "1/2",
    "¾ʺ": "3/4",
    '0"': "0",
    '3 0/16"': "3",
    "½ ft": "6",
    "1/64 in": "1/64",
    "6' 0.125\"": "72 1/8",
    '2´ 6"': "30",
    '2` 6"': "30",
    "2＇ 6＂": "30",
}
MILLIMETRES = {
    "3750 mm": "3750",
    "3750mm": "3750",
    "3750 MM": "3750",
    "3750 mm.": "3750",
    "3750 millimetres": "3750",
    "3750.5 mm": "3750.5",
    "3750,5 mm": "3750.5",
    "12.125 mm": "12.125",
    "0,125 mm": "0.125",
    ".5 mm": "0.5",
    "12½ mm": "12.5",
    "375 cm": "3750",
    "375cm": "3750",
    "375.25 cm": "3752.5",
    "375,25 cm": "3752.5",
    "375 centimeters": "3750",
    "3.75 m": "3750",
    "3.75m": "3750",
    "3,75 m": "3750",
    "3.750 m": "3750",
    "3.750m": "3750",
    "3,750m": "3750",
    "+3.750 m": "3750",
    "3.7505 M": "3750.5",
    "3.75\u00a0m": "3750",
    "3.75\u202fmetres": "3750",
    "0.750 m": "750",
    "3 m": "3000",
    "3 m 75 cm": "3750",
    "3m 75cm": "3750",
    "3 m 750 mm": "3750",
    "3 m 75 cm 5 mm": "3755",
    "3 m 5.5 mm": "3005.5",
    "2 1/2 m": "2500",
    "6710.886 m": "6710886",
    "0 mm": "0",
    "0.003125 mm": "0.003125",
    "0.0015625 mm": "0.003125",  # half a tick goes up
    "0.0015624 mm": "0",
}
BARE = {
    "metric": {
        "3750": "3750", "0": "0", "12.5": "12.5", "12,5": "12.5", "3,75": "3.75",
        "1250.125": "1250.125", "1250,125": "1250.125", "0600": "600", "+600": "600",
        "600.0625": "600.0625",
    },
    "imperial": {
        "147 5/8": "147 5/8", "147-5/8": "147 5/8", "147⅝": "147 5/8", "147": "147",
        "147.625": "147 5/8", "147,5": "147 1/2", "5/8": "5/8", "½": "1/2", "3½": "3 1/2",
        "0.625": "5/8", "0,625": "5/8", ".75": "3/4", "0": "0", "46 3/4": "46 3/4",
        "23 15/16": "23 15/16", "3 63/64": "3 63/64",
    },
}  # fmt: skip
REFUSED = {
    "empty": ["", "   ", "\u00a0", "\t\n"],
    "unreadable": [
        "abc", "12x", "600 x 1200", "600×1200", "1e9", "1e3 mm", "nan", "inf", "Infinity",
        "+-5/8", "12' 3 5/8\" or so", "12..5", "1.5/8", "3.5 5/8", "12.", "5/",
        "/8", "12'-", "3-", "mm", "'", "~3750", "≈3750", "3750 km", "3750 yd", "٣٧٥٠",
        "１２", "12\u00003", "12\u200b5", "600\u001f", "+\ufeff5", "3 5/8.", "12'' 3'' x", "²",
        "0x1F", "1_000", "12 f 3", "$12", "12%", "3;5", "12'  3 5/8 \" \"", "=12",
    ],
    "too_long": ["12'" + " " * 50 + "3", "1" * 41, "12' " + "0" * 40, "9" * 400],
    "negative": ["-1", "-12' 3\"", "−600 mm", "- 5/8", "--3", "–3", "-0"],
    "too_large": [
        "6711 m", "6710887 mm", "7 000000 mm".replace(" ", ""), "9" * 40, "22018'",
        "264209 in",
    ],
    "ambiguous": [
        "12-3", "12 3", "12-3-10", "12 3 5/8", "12-3 5/8", "1 250", "1 250 mm",
        "3m75", "3 m 75", "12 3'", "1250 .5",
        "3\" 5", "5/8 3/4", "12 ft 3 5", "1\u202f250", "147 5/8 3",
    ],
    "thousands": [
        "1,250", "3,750", "12,304 ft", "1,250 mm", "1,250 cm", "999,999", "147,625",
        "147,625\"", "1,250 in", "1,250,000", "1,250.5", "1,250.5.2",
    ],
    "fraction": [
        "5/9\"", "3/5 in", "9/8 in", "8/8\"", "64/64 in", "1/128\"", "1/3 in", "1/0\"",
        "3 5/0 in", "12' 3 16/16\"", "1 2/10 in", "5/1 in",
    ],
    "mixed": ["2 m 3\"", "12' 30 cm", "3 ft 10 mm", "5 in 3 mm"],
    "order": [
        "3\" 2'", "75 cm 3 m", "2' 2'", "3\" 5/8\"", "5 mm 5 cm", "3 in 4 in", "12'3\"5/8\"",
    ],
    "remainder": [
        "12' 15\"", "12' 12\"", "12.5' 3\"", "12 1/2' 3\"", "3'750", "1'000", "1'010",
        "3'005", "3 m 150 cm", "3 m 1000 mm", "3.5 m 20 cm", "3.5\" 5/8", "12' 12.5",
    ],
}  # fmt: skip
REFUSED_BARE = {
    "metric": {
        "bare_fraction": ["147 5/8", "5/8", "½", "12½", "147-5/8"],
        "thousands": ["1.250.000", "3.750", "0.750", "1.250", "12.125", "0,125"],
        "fraction": ["5/9", "3 9/8"],
    },
    "imperial": {
        "ambiguous": ["1.250.000"],
        "fraction": ["5/9", "3 9/8", "1/3", "2/2"],
    },
}


def fraction(text):
    """Read "147 5/8" or "3750.5", this module's own notation."""
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def nearest(exact):
    return int((2 * exact + 1) // 2)


def readings():
    for size, table in ((INCH, INCHES), (MM, MILLIMETRES)):
        for text, value in table.items():
            for units in BOTH:
                yield [text, units, nearest(fraction(value) * size)]
    for units, table in BARE.items():
        size = MM if units == "metric" else INCH
        for text, value in table.items():
            yield [text, units, nearest(fraction(value) * size)]
    yield from composed_readings()


def composed_readings():
    """Every sixty-fourth of one inch, and every foot of a long wall, spelled in turn."""
    spellings = (
        "{f}' {i} {n}/{d}\"", "{f} ft {i}-{n}/{d} in", "{f}-{i}-{n}/{d}",
        "{f}′{i} {n}⁄{d}″", "{f}'{i}\"{n}/{d}",
    )  # fmt: skip
    for k in range(1, 64):
        part, feet, inches = Fraction(k, 64), 1 + k * 5 % 328, k * 7 % 12
        text = spellings[k % len(spellings)].format(
            f=feet, i=inches, n=part.numerator, d=part.denominator
        )
        yield [text, BOTH[k % 2], (12 * feet + inches) * INCH + 127 * k]
    for k in range(1, 60):
        mm = Decimal(k * 1663 % 100000) + Decimal(k) / 8
        ticks = int(mm * MM)
        yield [f"{mm} mm", BOTH[k % 2], ticks]
        yield [f"{mm / 1000} m".replace(".", ","), BOTH[k % 2], ticks]


def refusals():
    for kind, texts in REFUSED.items():
        for text in texts:
            for units in BOTH:
                yield [text, units, kind]
    for units, kinds in REFUSED_BARE.items():
        for kind, texts in kinds.items():
            for text in texts:
                yield [text, units, kind]


def feet_and_inches(steps, bottom, *, feet, mark):
    """Compose what a tape shows of so many 1/bottom inches."""
    whole, over = divmod(steps, bottom)
    foot, inch = divmod(whole, 12) if feet else (0, whole)
    part = f"{Fraction(over, bottom)}" if over else ""
    words = [f"{foot}'"] * bool(foot)
    words += [str(inch)] * bool(inch or not part) + [part] * bool(part)
    return " ".join(words) + mark


def shown():
    for k in range(40):
        for bottom in (2, 4, 8, 16, 32, 64):
            steps = k * k * 37 + k
            for off in (-1, 0, 1):  # a quarter of a step to either side rounds back
                ticks = steps * INCH // bottom + off * (INCH // bottom // 4)
                if ticks >= 0:
                    feet, mark = k % 3 != 0, '"' if k % 2 else ""
                    text = feet_and_inches(steps, bottom, feet=feet, mark=mark)
                    yield [ticks, "imperial", bottom, bool(mark), feet, text]
    for ticks in (
        0,
        1,
        15,
        16,
        17,
        31,
        32,
        48,
        319,
        320,
        1_200_000,
        1_199_896,
        2**31 - 1,
    ):
        mm = (Decimal(ticks) / MM).quantize(Decimal("0.1"), ROUND_HALF_UP)
        text = f"{mm:f}".removesuffix(".0")
        yield [ticks, "metric", 16, True, True, f"{text} mm"]
        yield [ticks, "metric", 16, False, True, text]
    # Halves of a step go up, away from zero below it.
    yield [254, "imperial", 16, True, True, '1/16"']
    yield [253, "imperial", 16, True, True, '0"']
    yield [-254, "imperial", 16, True, True, '-1/16"']
    yield [-253, "imperial", 16, True, True, '0"']
    yield [97536 - 254, "imperial", 16, True, True, "1' 0\""]
    yield [-1_199_896, "imperial", 16, True, True, "-12' 3 5/8\""]
    yield [-40, "metric", 16, True, True, "-0.1 mm"]
    yield [-1, "metric", 16, True, True, "0 mm"]


def exact():
    for k in range(60):
        steps = k**3 * 7 + k
        text = feet_and_inches(steps, 64, feet=True, mark='"')
        yield [steps * 127, "imperial", text]
        yield [k**3 * 40, "metric", f"{(Decimal(k**3) / 8).normalize():f} mm"]
    yield [1_200_000, "imperial", '147.6378"']
    yield [1, "imperial", '0.0001"']
    yield [1, "metric", "0.003125 mm"]
    yield [-1_199_896, "imperial", "-12' 3 5/8\""]
    yield [2**31 - 1, "metric", "6710886.396875 mm"]


def exactness():
    for ticks in (0, 32, 40, 127, 254, 508, 8128, 1_199_896, 1_200_000, 1_199_897):
        yield [ticks, "metric", 16, ticks % 32 == 0]
        for bottom in (16, 64):
            yield [ticks, "imperial", bottom, ticks * bottom % INCH == 0]


def vectors():
    return {
        "readings": list(readings()),
        "refusals": list(refusals()),
        "shown": list(shown()),
        "exact": list(exact()),
        "exactness": list(exactness()),
    }


def as_text():
    """Return the file's text: one case a line, so that a change shows as one line."""
    blocks = [
        f'"{name}": [\n'
        + ",\n".join(json.dumps(case, ensure_ascii=True) for case in cases)
        + "\n]"
        for name, cases in vectors().items()
    ]
    return "{\n" + ",\n".join(blocks) + "\n}\n"


if __name__ == "__main__":
    FILE.write_text(as_text())
