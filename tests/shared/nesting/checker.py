"""An independent check of cut plans: it knows saws and rectangles, and no solver.

Each ``check_`` returns the sentences about what is wrong, none for a good plan. Cuts
are made anew from the places in the plan; areas are added up cut by cut.
"""

from collections import Counter

from shared.nesting import Halving


def check_bars(job, plan):
    """Check a plan of bars: all parts there, each bar holds them with its kerfs."""
    wrong = []
    got = Counter()
    used = Counter()
    for pattern in plan.patterns:
        bar = {b.key: b for b in job.bars}[pattern.bar]
        used[bar.key] += pattern.count
        lengths = {p.key: p.length_ticks for p in job.parts}
        room = bar.length_ticks - 2 * job.trim_ticks
        pieces = [lengths[p.part] for p in pattern.pieces for _ in range(p.count)]
        ends = sum(pieces) + job.kerf_ticks * (len(pieces) - 1)
        if ends > room:
            wrong.append(f"{bar.key}: pieces end at {ends}, the bar at {room}")
        if pattern.left_ticks != max(0, room - ends - job.kerf_ticks):
            wrong.append(f"{bar.key}: what is left is wrong")
        for p in pattern.pieces:
            got[p.part] += p.count * pattern.count
    wrong += _counts(got, {p.key: p.count for p in job.parts})
    wrong += _stock(used, job.bars)
    price = sum(b.price * used[b.key] for b in job.bars)
    return wrong + _verdict(plan, price)


def check_sheets(job, plan):
    """Check a plan of sheets: parts, edges, strips, kerfs, trimming rips, areas."""
    wrong = []
    got, used = Counter(), Counter()
    sheets = {s.key: s for s in job.sheets}
    for layout in plan.layouts:
        used[layout.sheet] += layout.count
        wrong += _layout(job, sheets[layout.sheet], layout)
        for piece in _pieces(layout):
            got[piece.part] += layout.count
    wrong += _counts(got, {p.key: p.count for p in job.parts})
    wrong += _stock(used, job.sheets)
    price = sum(s.price * used[s.key] for s in job.sheets)
    return wrong + _verdict(plan, price)


def _pieces(layout):
    return [p for plate in layout.plates for s in plate.strips for p in s.pieces]


def _counts(got, wanted):
    return [f"{k}: {got[k]} of {n}" for k, n in wanted.items() if got[k] != n] + [
        f"{k} was not asked for" for k in got if k not in wanted
    ]


def _stock(used, stocks):
    return [
        f"{s.key}: {used[s.key]} of {s.available}"
        for s in stocks
        if s.available is not None and used[s.key] > s.available
    ]


def _verdict(plan, price):
    verdict, wrong = plan.verdict, []
    if verdict.price != price:
        wrong.append(f"said to cost {verdict.price}, costs {price}")
    if verdict.lower_bound > price:
        wrong.append("costs less than its bound")
    if verdict.first_fit is not None and price > verdict.first_fit:
        wrong.append("costs more than first-fit decreasing")
    if verdict.proven != (verdict.lower_bound == price):
        wrong.append("proven is wrong")
    if not 0 < plan.yield_share <= 1:
        wrong.append("yield is no share")
    return wrong


def _layout(job, sheet, layout):
    wrong, k = [], job.kerf_ticks
    trim = 0 if sheet.sawn else job.trim_ticks
    x0, y0 = trim, trim
    x1, y1 = sheet.length_ticks - trim, sheet.width_ticks - trim
    lost = sheet.length_ticks * sheet.width_ticks - (x1 - x0) * (y1 - y0)
    halves = [(x0, y0, x1, y1)]
    if job.halving is not Halving.WHOLE:
        halves, kerf = _halved(job.halving, halves[0], k)
        lost += kerf
    boxes = [
        (o.x_ticks, o.y_ticks, o.length_ticks, o.width_ticks) for o in layout.offcuts
    ]
    if len(layout.plates) not in range(1, len(halves) + 1):
        wrong.append("more plates than halves")
    for plate, (ax, ay, bx, by) in zip(layout.plates, halves, strict=False):
        corner = plate.x_ticks, plate.y_ticks
        far = plate.x_ticks + plate.length_ticks, plate.y_ticks + plate.width_ticks
        if corner != (ax, ay) or far[0] > bx or far[1] > by:
            wrong.append("a plate lies off its half")
        lost += (bx - ax) * (by - ay) - plate.length_ticks * plate.width_ticks
        inside, kerfs, places = _plate(job, plate)
        wrong += inside
        lost += kerfs
        boxes += places
    for ax, ay, bx, by in halves[len(layout.plates) :]:
        whole = [b for b in boxes if b[:2] == (ax, ay)]
        lost += (bx - ax) * (by - ay) - sum(b[2] * b[3] for b in whole)
    area = sum(length * width for _, _, length, width in boxes)
    if area + lost != sheet.length_ticks * sheet.width_ticks:
        wrong.append(
            f"{sheet.length_ticks * sheet.width_ticks - area - lost} is missing"
        )
    return wrong + _apart(boxes, k)


def _halved(halving, box, kerf):
    """Cut a box in two equal ones and return them with the kerf's and odd tick's area."""
    ax, ay, bx, by = box
    if halving is Halving.ACROSS:
        half = (bx - ax - kerf) // 2
        second = (ax + half + kerf, ay, ax + 2 * half + kerf, by)
        return [(ax, ay, ax + half, by), second], (bx - ax - 2 * half) * (by - ay)
    half = (by - ay - kerf) // 2
    second = (ax, ay + half + kerf, bx, ay + 2 * half + kerf)
    return [(ax, ay, bx, ay + half), second], (by - ay - 2 * half) * (bx - ax)


def _plate(job, plate):
    """Rip and crosscut a plate: what is wrong, the kerfs' area, where pieces lie."""
    wrong, kerfs, places = [], 0, []
    y = 0
    for strip in plate.strips:
        if strip.at_ticks != y:
            wrong.append("a strip isn't one kerf from the one before")
        cut = min(job.kerf_ticks, max(0, plate.width_ticks - y - strip.width_ticks))
        kerfs += cut * plate.length_ticks
        strip_wrong, strip_kerfs, lying = _strip(job, plate, strip)
        wrong += strip_wrong
        kerfs += strip_kerfs
        places += lying
        y += strip.width_ticks + job.kerf_ticks
    if y - job.kerf_ticks > plate.width_ticks:
        wrong.append("strips are wider than the plate")
    return wrong, kerfs, places


def _strip(job, plate, strip):
    wrong, kerfs, places, x = [], 0, [], 0
    parts = {p.key: p for p in job.parts}
    for piece in strip.pieces:
        if piece.at_ticks != x:
            wrong.append("a piece isn't one kerf from the one before")
        wrong += _size(parts[piece.part], piece)
        over = strip.width_ticks - piece.width_ticks
        if over < 0 or (over and not job.may_trim_strips):
            wrong.append(f"{piece.part} doesn't suit its strip")
        kerfs += min(over, job.kerf_ticks) * piece.length_ticks
        end = x + piece.length_ticks
        kerfs += (
            min(job.kerf_ticks, max(0, plate.length_ticks - end)) * strip.width_ticks
        )
        at = plate.x_ticks + x, plate.y_ticks + strip.at_ticks
        places.append((*at, piece.length_ticks, piece.width_ticks))
        x = end + job.kerf_ticks
    if strip.width_ticks > max((p.width_ticks for p in strip.pieces), default=0):
        wrong.append("a strip is wider than its widest piece")
    if not strip.pieces or x - job.kerf_ticks > plate.length_ticks:
        wrong.append("a strip is empty or longer than its plate")
    if {p for p in strip.pieces if p.width_ticks < strip.width_ticks} != set(
        strip.trimmed()
    ):
        wrong.append("trimming rips aren't shown")
    return wrong, kerfs, places


def _size(part, piece):
    size = piece.length_ticks, piece.width_ticks
    given = part.length_ticks, part.width_ticks
    if piece.turned and not part.may_turn:
        return [f"{part.key} lies against its grain"]
    if piece.bevel_deg != (part.pair.bevel_deg if part.pair else 0):
        return [f"{part.key} has another bevel"]
    return [] if size == (given[::-1] if piece.turned else given) else ["a wrong size"]


def _apart(boxes, kerf):
    """Return what lies closer than one kerf to something else."""
    return [
        f"{a} and {b} are closer than a kerf"
        for i, a in enumerate(boxes)
        for b in boxes[:i]
        if a[0] < b[0] + b[2] + kerf
        and b[0] < a[0] + a[2] + kerf
        and a[1] < b[1] + b[3] + kerf
        and b[1] < a[1] + a[3] + kerf
    ]
