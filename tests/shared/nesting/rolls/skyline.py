"""A reference without straight cuts: each piece as low, then as far left as it goes."""


def skyline(rects, width, *, turns):
    """Return the least length of a few sorted orders; no shears could cut some of them."""
    keys = (
        lambda r: (-r[1], -r[0]),
        lambda r: (-r[0], -r[1]),
        lambda r: -r[0] * r[1],
        lambda r: -max(r),
    )
    return min(_length(sorted(rects, key=key), width, turns=turns) for key in keys)


def _length(rects, width, *, turns):
    line = [(0, 0, width)]  # x, y, across: the upper edge of what lies there
    for across, along in rects:
        ways = [(across, along), (along, across)] if turns else [(across, along)]
        best = min(
            (y + h, y, x, w) for w, h in ways for x, y in _places(line, w, width)
        )
        top, _, x, w = best
        line = _raised(line, x, w, top)
    return max(y for _, y, _ in line)


def _places(line, across, width):
    for i, (x, _, _) in enumerate(line):
        if x + across <= width:
            end, y = x + across, 0
            for left, high, wide in line[i:]:
                if left >= end:
                    break
                y = max(y, high) if left + wide > x else y
            yield x, y


def _raised(line, x, across, top):
    end, new = x + across, []
    for left, high, wide in line:
        right = left + wide
        if left < x:
            new.append((left, high, min(right, x) - left))
        if left <= x < right:
            new.append((x, top, across))
        if right > end:
            start = max(left, end)
            new.append((start, high, right - start))
    return new
