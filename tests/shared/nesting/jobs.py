"""Jobs to plan: what a shop of acoustic panels cuts, and random ones."""

import random
from collections import Counter

from shared.length import TICKS_PER_INCH, TICKS_PER_MM
from shared.nesting import Bar, BarJob, BarPart, Rect, Sheet, SheetJob

# Inches, or millimetres: usual sizes of panels, depths of frames, the sheet, the kerf.
INCHES = (
    [(24, 48), (24, 24), (48, 48), (24, 72), (12, 48), (36, 60)],
    [2, 3, 4, 6],
    (96, 48),
    0.125,
)
MILLIMETRES = (
    [(600, 1200), (600, 600), (1200, 1200), (300, 1200), (600, 1800), (900, 1500)],
    [50, 75, 100, 150],
    (2440, 1220),
    3.2,
)


def shop_job(panels, *, seed):
    """Return the plywood of so many panels: frames, braces, cleats, some blocks.

    Half the sizes are odd, as rooms are; every seventh panel has another depth, and now
    and then a size comes from the other system.
    """
    r = random.Random(seed * 1000 + panels)
    inches = r.random() < 0.5
    unit = TICKS_PER_INCH if inches else TICKS_PER_MM
    odd, most_odd = (127, 300) if inches else (TICKS_PER_MM, 120)
    sizes, depths, (length, width), kerf = INCHES if inches else MILLIMETRES
    thickness = round(0.625 * unit) if inches else 15 * unit
    depth = r.choice(depths) * unit
    pieces = {}
    while panels > 0:
        count = min(panels, r.choice([1, 1, 2, 2, 3, 4, 6, 8]))
        panels -= count
        w, h = (
            side * unit - (r.randint(1, most_odd) * odd if r.random() < 0.5 else 0)
            for side in r.choice(sizes)
        )
        if r.random() < 0.1:
            w += r.randint(-5, 5) * (32 if inches else 127)
        own = depth if r.random() < 0.85 else r.choice(depths) * unit
        _frame(pieces, (w, h, own, thickness), count)
        if r.random() < 0.15:
            block = r.randint(80, 160), r.randint(60, 79)
            _add(
                pieces, *(side * TICKS_PER_MM for side in block), 2 * count, turns=True
            )
    parts = [
        Rect(f"p{i}", *size, count, may_turn)
        for i, ((*size, may_turn), count) in enumerate(sorted(pieces.items()))
    ]
    sheet = Sheet("sheet", length * unit, width * unit)
    return SheetJob((sheet,), tuple(parts), round(kerf * unit))


def _frame(pieces, panel, count):
    w, h, depth, thickness = panel
    _add(pieces, w, depth, 2 * count)
    _add(pieces, h - 2 * thickness, depth, 2 * count)
    if h > 40 * TICKS_PER_INCH:
        _add(pieces, w - 2 * thickness, depth * 3 // 4, count)
    cleat = min(w // 2, 12 * TICKS_PER_INCH)
    _add(pieces, cleat, 4 * TICKS_PER_INCH, count)


def _add(pieces, length, width, count, *, turns=False):
    size = length, width, turns
    pieces[size] = pieces.get(size, 0) + count


def random_bars(sizes, low, high, room, most, *, seed, kerf=0):
    """Return bars of one length and pieces of so many random sizes."""
    r = random.Random(seed)
    lengths = {r.randint(low, high) for _ in range(sizes)}
    parts = [BarPart(f"p{n}", n, r.randint(1, most)) for n in sorted(lengths)]
    return BarJob((Bar("bar", room),), tuple(parts), kerf)


def random_sheets(sizes, low, high, side, most, *, seed, turns, trims):
    """Return square sheets and pieces of so many random sizes."""
    r = random.Random(seed)
    parts = [
        Rect(
            f"p{i}",
            r.randint(low, high),
            r.randint(low, high),
            r.randint(1, most),
            may_turn=turns,
        )
        for i in range(sizes)
    ]
    sheet = Sheet("sheet", side, side)
    return SheetJob((sheet,), tuple(parts), may_trim_strips=trims)


def bars_of(lengths, room):
    """Return bars of one length and pieces of these lengths."""
    counts = Counter(lengths)
    parts = [BarPart(f"p{n}", n, count) for n, count in sorted(counts.items())]
    return BarJob((Bar("bar", room),), tuple(parts))


def thirds(pieces, *, seed):
    """Return pieces of which three always fill a bar of 1000 to the tick.

    Each is longer than a quarter, so no bar holds four: the best is a third as many bars.
    """
    r, lengths = random.Random(seed), []
    while len(lengths) < pieces:
        long = r.randint(380, 490)
        middle = r.randint(250, (1000 - long) // 2)
        if middle > 250 < 1000 - long - middle:
            lengths += [long, middle, 1000 - long - middle]
    return bars_of(lengths, 1000)


def uniform(pieces, *, seed):
    """Return so many pieces of 20 to 100, from bars of 150."""
    r = random.Random(seed)
    return bars_of([r.randint(20, 100) for _ in range(pieces)], 150)
