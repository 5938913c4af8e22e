"""Other solvers on the same jobs, where they are installed (requirements-bench.lock).

rectpack's guillotine modes aren't held to two stages: a piece may lie above another that is
shorter, which takes a rip after the crosscut. OR-tools gets models of its own, from
textbooks, which share nothing with ours: flow along a bar (Valério de Carvalho 1999 [M]) and
strips that are named after their widest piece (Lodi and Monaci 2003 [M]).
"""

import itertools
import time
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from shared.nesting import BarJob


def _optional(name: str) -> Any:
    """Return a module, or nothing where it is not there: then it is measured without."""
    try:
        return import_module(name)
    except ImportError:
        return None


rectpack = _optional("rectpack")
guillotine = _optional("rectpack.guillotine")
pywraplp = _optional("ortools.linear_solver.pywraplp")
cp_model = _optional("ortools.sat.python.cp_model")

CHOICES = ("Bssf", "Baf", "Blsf")
SPLITS = ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
ARCS = 60_000  # the most for which a flow is tried
PIECES = 130  # the most for which strips are tried
SECONDS = 10.0


@dataclass
class Reference:
    """How many sheets or bars another solver needs, whether it proved it, its seconds."""

    price: int
    proven: bool
    seconds: float


def by_rectpack(job):
    """Return the fewest sheets over all its guillotine modes and orders, or None."""
    turning = {p.may_turn for p in job.parts if p.length_ticks != p.width_ticks}
    if rectpack is None or len(job.sheets) > 1 or len(turning) > 1:
        return None  # it turns either all pieces or none
    begun = time.process_time()
    (sheet,), k = job.sheets, job.kerf_ticks
    length, width = job.plate_of(sheet)
    sizes = [(p.length_ticks + k, p.width_ticks + k, p.count) for p in job.parts]
    fewest = None
    for choice, split, order in itertools.product(
        CHOICES,
        SPLITS,
        (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE),
    ):
        packer = rectpack.newPacker(
            bin_algo=rectpack.PackingBin.BFF,
            pack_algo=getattr(guillotine, f"Guillotine{choice}{split}"),
            sort_algo=order,
            rotation=True in turning,
        )
        for along, across, count in sizes:
            for _ in range(count):
                packer.add_rect(along, across)
        packer.add_bin(length + k, width + k, float("inf"))
        packer.pack()
        assert len(packer.rect_list()) == sum(count for *_, count in sizes)
        fewest = min(len(packer), fewest or len(packer))
    return Reference(fewest, proven=False, seconds=time.process_time() - begun)


def by_ortools(job, most):
    """Return OR-tools' plan, or None where its model is too large or finds none.

    ``most`` is a number of sheets or bars that is known to do.
    """
    if cp_model is None:
        return None
    return _flow(job) if isinstance(job, BarJob) else _strips(job, most)


def _flow(job):
    """Bars as paths from 0 to the end, one arc a piece, for SCIP."""
    (bar,), k = job.bars, job.kerf_ticks
    room = bar.length_ticks + k
    sizes = {p.length_ticks + k: p.count for p in job.parts}
    if len(sizes) * room > ARCS:
        return None
    begun = time.process_time()
    solver = pywraplp.Solver.CreateSolver("SCIP")
    solver.SetTimeLimit(int(SECONDS * 1000))
    bars = solver.IntVar(0, solver.infinity(), "bars")
    ends = _ends(sizes, room)
    balance = {end: [] for end in ends | {room}}
    balance[0], balance[room] = [bars], [-bars]

    def arc(start, end, most):
        """Add one and return it; what flows in flows out at every end."""
        flow = solver.IntVar(0, most, "")
        balance[start].append(-flow)
        balance[end].append(flow)
        return flow

    for size, count in sizes.items():
        arcs = [arc(start, start + size, count) for start in ends & shifted(ends, size)]
        solver.Add(sum(arcs) >= count)
    for start in ends - {room}:
        arc(start, room, solver.infinity())
    for terms in balance.values():
        solver.Add(sum(terms) == 0)
    solver.Minimize(bars)
    status = solver.Solve()
    if status not in (solver.OPTIMAL, solver.FEASIBLE):
        return None
    seconds = time.process_time() - begun
    price = round(solver.Objective().Value())
    return Reference(price, status == solver.OPTIMAL, seconds)


def _ends(sizes, room):
    """Return where pieces may end, longer ones first."""
    ends = {0}
    for size, count in sorted(sizes.items(), reverse=True):
        for _ in range(min(count, room // size)):
            ends |= {end + size for end in ends if end + size <= room}
    return ends


def shifted(ends, size):
    """Return where a piece of this size would have to begin to end there."""
    return {end - size for end in ends}


def _strips(job, most):
    """Strips named after their widest piece, sheets after their widest strip; CP-SAT."""
    (sheet,), k = job.sheets, job.kerf_ticks
    length, width = job.plate_of(sheet)
    pieces = [p for p in job.parts for _ in range(p.count)]
    if len(pieces) > PIECES or any(p.may_turn for p in pieces):
        return None
    pieces.sort(key=lambda p: (-p.width_ticks, -p.length_ticks, p.key))
    begun, model, span = time.process_time(), cp_model.CpModel(), range(len(pieces))
    strip = [model.NewBoolVar("") for _ in span]
    # A strip may hold pieces that come after its first, if they suit its width.
    in_strip = {
        (i, j): model.NewBoolVar("")
        for i, j in itertools.combinations(span, 2)
        if job.may_trim_strips or pieces[i].width_ticks == pieces[j].width_ticks
    }
    on_sheet = {(i, s): model.NewBoolVar("") for i in span for s in range(most)}
    used = [model.NewBoolVar("") for _ in range(most)]
    for j in span:
        model.Add(strip[j] + sum(v for (_, b), v in in_strip.items() if b == j) == 1)
        model.Add(sum(on_sheet[j, s] for s in range(most)) == strip[j])
        inside = [
            (pieces[b].length_ticks + k) * v for (a, b), v in in_strip.items() if a == j
        ]
        room = length - pieces[j].length_ticks
        model.Add(sum(inside) <= room * strip[j])
    for s in range(most):
        taken = [(pieces[i].width_ticks + k) * on_sheet[i, s] for i in span]
        model.Add(sum(taken) <= (width + k) * used[s])
    for before, after in itertools.pairwise(used):
        model.Add(before >= after)
    model.Minimize(sum(used))
    return _solved(model, begun)


def _solved(model, begun):
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = SECONDS
    solver.parameters.num_workers = 1
    status = solver.Solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    seconds = time.process_time() - begun
    return Reference(
        round(solver.ObjectiveValue()), status == cp_model.OPTIMAL, seconds
    )
