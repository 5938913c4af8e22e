"""An independent check of roll plans: it knows cloth, shears and rectangles, no solver.

``check_rolls`` returns the sentences about what is wrong, none for a good plan. Each
row is cut up anew by its own cutting list; what comes out must be its pieces and scraps.
"""

from collections import Counter, defaultdict
from fractions import Fraction

from shared.nesting.rolls import Laying, Way

DEEPEST = {Laying.ROWS: 3, Laying.STACKS: 4, Laying.FREE: 10**6}


def check_rolls(job, plan):
    """Check pieces, places, cuts, directions, pattern, lots, lengths and the price."""
    rolls = {roll.key: roll for roll in job.rolls}
    wrong = _pieces(job, plan)
    for use in plan.rolls:
        wrong += _use(job, rolls[use.roll], use)
    wrong += _stock(job, plan)
    wrong += _groups(job, plan)
    return wrong + _verdict(job, plan)


def _pieces(job, plan):
    """Check that each piece is there once, with all its drops, in a size it may have."""
    wrong = []
    there = Counter()
    lying = defaultdict(set)
    for use in plan.rolls:
        for piece in use.pieces:
            there[piece.part, piece.copy, piece.drop] += 1
            size = piece.across_ticks, piece.along_ticks, piece.turned
            lying[piece.part, piece.copy].add(size)
    for part in job.parts:
        for copy in range(part.count):
            sizes = lying.pop((part.key, copy), set())
            drops = sum(k[:2] == (part.key, copy) for k in there)
            if len(sizes) != 1:
                wrong.append(f"{part.key} {copy} is missing or of several sizes")
                continue
            if not _may_be(job, part, *sizes, drops):
                wrong.append(f"{part.key} {copy} has no such lay: {sizes}, {drops}")
    wrong += [f"{key} was not asked for" for key in lying]
    return wrong + [f"{key} is there twice" for key, n in there.items() if n > 1]


def _may_be(job, part, size, drops):
    for lay in part.lays:
        if (lay.across_ticks, lay.along_ticks, lay.turned, lay.drops) == (*size, drops):
            return True
        if part.may_seam and drops > 1 and (lay.along_ticks, lay.turned) == size[1:]:
            sewn = drops * size[0] - 2 * part.seam_ticks * (drops - 1)
            if lay.across_ticks <= sewn < lay.across_ticks + drops:
                return True
    return False


def _use(job, roll, use):
    wrong = []
    width = roll.width_ticks - 2 * roll.selvedge_ticks
    pattern = job.repeat_ticks or 1
    offsets = {part.key: part.offset_ticks for part in job.parts}
    for piece in use.pieces:
        if piece.x_ticks < 0 or piece.x_ticks + piece.across_ticks > width:
            wrong.append(f"{piece.part} lies on a selvedge of {use.roll}")
        if (piece.y_ticks - job.trim_ticks - offsets[piece.part]) % pattern:
            wrong.append(f"{piece.part} begins off the pattern")
    wrong += _apart(use.pieces, job.gap_ticks)
    at = job.trim_ticks
    for row in use.rows:
        if row.at_ticks != at:
            wrong.append(f"a row begins at {row.at_ticks}, the one before ends at {at}")
        at = row.at_ticks + row.along_ticks
        wrong += _row(job, width, row)
    if at != use.cut_ticks:
        wrong.append("the last row doesn't end where the roll is cut")
    return wrong + _lengths(job, roll, use)


def _lengths(job, roll, use):
    wrong = []
    least = Fraction(use.cut_ticks) * Fraction(job.spare_percent) / 100
    if not least <= use.spare_ticks < least + 1:
        wrong.append(f"{use.spare_ticks} to spare, not {float(least)}")
    if roll.length_ticks is None:
        if (
            use.buy_ticks != use.cut_ticks + use.spare_ticks
            or use.left_ticks is not None
        ):
            wrong.append("what is bought is not what is cut and spare")
    elif use.cut_ticks + use.spare_ticks > roll.length_ticks or use.buy_ticks:
        wrong.append(f"{use.roll} is not as long")
    elif use.left_ticks != roll.length_ticks - use.cut_ticks:
        wrong.append("what is left on the roll is wrong")
    return wrong


def _row(job, width, row):
    """Cut the row up by its list and compare what comes out."""
    wrong = []
    free, *others = row.cuts
    end = row.at_ticks + row.along_ticks
    if (free.way, free.at_ticks, free.depth) != (Way.ACROSS, end, 1):
        wrong.append("the first cut doesn't free the row")
    hand = [(0, row.at_ticks, width, end)]
    for cut in others:
        hand = _cut(hand, cut)
        if hand is None:
            return [*wrong, f"{cut} is no cut from edge to edge"]
    pieces = [
        (p.x_ticks, p.y_ticks, p.x_ticks + p.across_ticks, p.y_ticks + p.along_ticks)
        for p in row.pieces
    ]
    scraps = [
        (s.x_ticks, s.y_ticks, s.x_ticks + s.across_ticks, s.y_ticks + s.along_ticks)
        for s in row.scraps
    ]
    if Counter(hand) != Counter(pieces + scraps):
        wrong.append("the cuts give other pieces and scraps than the row has")
    area = sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in pieces + scraps)
    if area != width * row.along_ticks:
        wrong.append(f"{width * row.along_ticks - area} of the row is missing")
    longest = max(p.y_ticks + p.along_ticks - row.at_ticks for p in row.pieces)
    alone = max(_alone(job, p) for p in row.pieces)
    if job.row_ticks and longest > max(job.row_ticks, alone):
        wrong.append("the row is longer than the table")
    if row.depth > DEEPEST[job.laying]:
        wrong.append(f"the row takes {row.depth} stages")
    return wrong


def _alone(job, piece):
    """Return how long a row is for a piece, up to the next line of the pattern."""
    (offset,) = {p.offset_ticks for p in job.parts if p.key == piece.part}
    pattern = job.repeat_ticks or 1
    return -(-(offset + piece.along_ticks) // pattern) * pattern


def _cut(hand, cut):
    """Cut the one cloth in hand that the cut goes right through."""
    for i, (x0, y0, x1, y1) in enumerate(hand):
        at, span = cut.at_ticks, (cut.from_ticks, cut.to_ticks)
        if cut.way is Way.ALONG and (y0, y1) == span and x0 < at < x1:
            return [*hand[:i], (x0, y0, at, y1), (at, y0, x1, y1), *hand[i + 1 :]]
        if cut.way is Way.ACROSS and (x0, x1) == span and y0 < at < y1:
            return [*hand[:i], (x0, y0, x1, at), (x0, at, x1, y1), *hand[i + 1 :]]
    return None


def _apart(pieces, gap):
    return [
        f"{a.part} and {b.part} are closer than the gap"
        for i, a in enumerate(pieces)
        for b in pieces[:i]
        if a.x_ticks < b.x_ticks + b.across_ticks + gap
        and b.x_ticks < a.x_ticks + a.across_ticks + gap
        and a.y_ticks < b.y_ticks + b.along_ticks + gap
        and b.y_ticks < a.y_ticks + a.along_ticks + gap
    ]


def _stock(job, plan):
    wrong = []
    used = Counter(use.roll for use in plan.rolls)
    for roll in job.rolls:
        if roll.length_ticks is None:
            most = 0 if roll.available == 0 else 1
        else:
            most = roll.available
        if most is not None and used[roll.key] > most:
            wrong.append(f"{used[roll.key]} of {roll.key}, there are {most}")
    numbers = Counter((use.roll, use.number) for use in plan.rolls)
    wrong += [f"{key} is there twice" for key, n in numbers.items() if n > 1]
    lots = {use.lot for use in plan.rolls}
    if job.one_lot and (len(lots) > 1 or ("" in lots and len(plan.rolls) > 1)):
        wrong.append(f"lots are mixed: {lots}")
    return wrong


def _groups(job, plan):
    group_of = {part.key: part.group for part in job.parts}
    ways = defaultdict(set)
    for use in plan.rolls:
        for piece in use.pieces:
            ways[group_of[piece.part]].add(piece.turned)
    return [f"{name} lies both ways" for name, w in ways.items() if name and len(w) > 1]


def _verdict(job, plan):
    wrong, verdict = [], plan.verdict
    rolls = {roll.key: roll for roll in job.rolls}
    price = sum(
        rolls[use.roll].price
        * (job.price_ticks if rolls[use.roll].priced_whole else use.cut_ticks)
        for use in plan.rolls
    )
    if verdict.price != price or plan.cost * job.price_ticks != price:
        wrong.append(f"said to cost {verdict.price}, costs {price}")
    if verdict.lower_bound > price:
        wrong.append("costs less than its bound")
    if verdict.first_fit is not None and price > verdict.first_fit:
        wrong.append("costs more than first-fit decreasing")
    repairs = {part.key for part in job.parts if part.for_repairs}
    cut = sum(use.cut_ticks * use.usable_ticks for use in plan.rolls)
    parts = sum(
        p.across_ticks * p.along_ticks
        for use in plan.rolls
        for p in use.pieces
        if p.part not in repairs
    )
    if abs(plan.yield_share - parts / cut) > 1e-12:
        wrong.append("the yield is wrong")
    return wrong
