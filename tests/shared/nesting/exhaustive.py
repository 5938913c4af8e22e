"""The best plan of a few pieces on one kind of sheet, by trying everything."""

from itertools import product


def fewest_sheets(job):
    """Return the fewest whole sheets that hold the job's pieces in two stages."""
    (sheet,) = job.sheets
    length, width = job.plate_of(sheet)
    pieces = [part.ways() for part in job.parts for _ in range(part.count)]
    best = len(pieces)
    for lying in product(*pieces):
        sides = [(along, across) for along, across, _ in lying]
        for strips in _shares(sides, lambda s: _is_strip(s, length, job)):
            widths = [max(across for _, across in strip) for strip in strips]
            for plates in _shares(widths, lambda w: _fits(w, width, job.kerf_ticks)):
                best = min(best, len(plates))
    return best


def _is_strip(sides, length, job):
    same = len({across for _, across in sides}) == 1
    lengths = [along for along, _ in sides]
    return _fits(lengths, length, job.kerf_ticks) and (same or job.may_trim_strips)


def _fits(sizes, room, kerf):
    return sum(sizes) + kerf * (len(sizes) - 1) <= room


def _shares(things, may):
    """Yield every way to share things out into groups that may be."""
    if not things:
        yield []
        return
    for groups in _shares(things[1:], may):
        for i, group in enumerate(groups):
            if may([things[0], *group]):
                yield [*groups[:i], [things[0], *group], *groups[i + 1 :]]
        if may([things[0]]):
            yield [[things[0]], *groups]
