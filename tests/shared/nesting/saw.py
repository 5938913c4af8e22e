"""A saw that follows a list of settings and tells what comes off it.

It knows kerfs and what lies on the bench, and nothing of how a list is made.
"""

import math
from collections import Counter

from shared.nesting import Halving, Step


def sawn(job, plan, rows):
    """Saw a plan of sheets; return blanks and tilted rips by part, and complaints."""
    bench = Bench(job, plan)
    for row in rows:
        bench.follow(row)
    return bench.results()


def sawn_bars(job, rows):
    """Return how many pieces of each part crosscuts free, and how many cuts they take."""
    crosscuts = [row for row in rows if row.step is Step.CROSSCUT]
    freed = Counter()
    for row in crosscuts:
        for pieces in row.pieces:
            freed[pieces.part] += pieces.count
    return freed, sum(row.cuts for row in crosscuts)


class Bench:
    """Plates, strips and pieces as they lie while a list is followed."""

    def __init__(self, job, plan):
        self.job, self.wrong = job, []
        self.plates, self.strips, self.waiting = {}, {}, {}
        self.done, self.tilted = Counter(), Counter()
        self.parts = {p.key: p for p in job.parts}
        self.sheet_of = {}
        for layout, sheets in zip(plan.layouts, plan.sheet_numbers(), strict=True):
            for sheet in sheets:
                self.sheet_of[sheet] = layout.sheet
                for half, plate in enumerate(layout.plates):
                    self.plates[sheet, half] = [0, plate]

    def follow(self, row):
        """Do what one row says, on each of its sheets."""
        cuts, freed = 0, Counter()
        for place in row.places:
            for sheet in range(place.first_sheet, place.last_sheet + 1):
                cuts += place.cuts
                if row.step in (Step.EDGE, Step.HALVE):
                    self.edge(row, sheet)
                    continue
                at = sheet, place.plate, place.strip
                getattr(self, row.step.name.lower())(row, place, at, freed)
        if cuts != row.cuts:
            self.wrong.append(f"{row.key} says {row.cuts} cuts, its places {cuts}")
        if freed != Counter({p.part: p.count for p in row.pieces}):
            self.wrong.append(f"{row.key} says that it frees {row.pieces}")

    def edge(self, row, sheet):
        """Check that the setting is one that this sheet needs."""
        given = {s.key: s for s in self.job.sheets}[self.sheet_of[sheet]]
        sides = given.length_ticks, given.width_ticks
        trim = 0 if given.sawn else self.job.trim_ticks
        needed = {side - trim * times for side in sides for times in (1, 2)}
        if row.step is Step.HALVE:
            side = sides[self.job.halving is Halving.LENGTHWISE] - 2 * trim
            needed = {(side - self.job.kerf_ticks) // 2}
        if row.setting_ticks not in needed:
            self.wrong.append(f"{row.key} is no setting for sheet {sheet}")

    def rip(self, row, place, at, freed):
        """Take the next strip off a plate."""
        used, plate = self.plates[at[:2]]
        strip = plate.strips[place.strip]
        room = plate.width_ticks - used
        if strip.at_ticks != used or not row.setting_ticks == strip.width_ticks <= room:
            self.wrong.append(f"{row.key} comes at the wrong time for {at}")
        if place.cuts != (strip.width_ticks < room) or place.count != 1:
            self.wrong.append(f"{row.key} takes other cuts at {at}")
        self.plates[at[:2]][0] = used + strip.width_ticks + self.job.kerf_ticks
        self.strips[at] = [0, plate.length_ticks, strip, 1]

    def bevel(self, row, place, at, freed):
        """Rip a whole strip in two."""
        strip = self.strips[at][2]
        self.strips[at][3] = 2
        for piece in strip.pieces:
            self.tilt(row, piece)
            if piece.width_ticks != strip.width_ticks or piece.turned:
                self.wrong.append(f"{piece.part} is no part of a bevelled strip")

    def crosscut(self, row, place, at, freed):
        """Take the next pieces off a strip."""
        used, room, strip, halves = self.strips[at]
        pieces = [p for p in strip.pieces if p.length_ticks == row.setting_ticks]
        cuts = 0
        for piece in pieces:
            if piece.at_ticks != used or used + piece.length_ticks > room:
                self.wrong.append(f"{row.key} comes at the wrong time for {at}")
            used += piece.length_ticks
            cuts += halves * (used < room)
            used += self.job.kerf_ticks
            freed[piece.part] += 1
            self.done[piece.part] += 1
            self.waiting.setdefault(at, []).append([piece, strip.width_ticks])
        if (place.cuts, place.count) != (cuts, halves * len(pieces)):
            self.wrong.append(f"{row.key} takes other cuts at {at}")
        self.strips[at][0] = used

    def trim(self, row, place, at, freed):
        """Rip pieces to their width."""
        for entry in self.waiting[at]:
            if entry[0].width_ticks == row.setting_ticks < entry[1]:
                entry[1] = row.setting_ticks
                freed[entry[0].part] += 1

    def bevel_piece(self, row, place, at, freed):
        """Rip single blanks in two."""
        for piece, width in self.waiting[at]:
            pair = self.parts[piece.part].pair
            if pair and self.face(piece.part) == (row.setting_ticks, row.bevel_deg):
                if width != piece.width_ticks:
                    self.wrong.append(f"{piece.part} is tilted before it is trimmed")
                self.tilt(row, piece)
                freed[piece.part] += 1

    def tilt(self, row, piece):
        """Check one blank's faces: with the kerf they make up its width [D]."""
        part = self.parts[piece.part]
        self.tilted[part.key] += 1
        faces = part.pair.faces(part.width_ticks, self.job.kerf_ticks)
        kerf = self.job.kerf_ticks / math.cos(math.radians(part.pair.bevel_deg))
        if abs(faces.long_ticks + faces.short_ticks + kerf - part.width_ticks) > 1:
            self.wrong.append(f"the faces of {part.key} don't make up its width")
        if self.face(part.key) != (row.setting_ticks, row.bevel_deg):
            self.wrong.append(f"{row.key} is no setting for {part.key}")

    def face(self, key):
        part = self.parts[key]
        faces = part.pair.faces(part.width_ticks, self.job.kerf_ticks)
        return faces.long_ticks, part.pair.bevel_deg

    def results(self):
        """Add what was left undone."""
        for entries in self.waiting.values():
            self.wrong += [
                f"{piece.part} is not trimmed"
                for piece, width in entries
                if width != piece.width_ticks
            ]
        return self.done, self.tilted, self.wrong
