"""How panels' codes are named together (pure)."""

from __future__ import annotations

import re
from collections.abc import Iterable

_TAIL = re.compile(r"(.*?)(\d+)$")


def runs_of(codes: Iterable[str]) -> str:
    """Print codes with runs drawn together: J1-01 to J1-14, J1-19."""
    runs: list[list[str]] = []
    for code in codes:
        if runs and _follows(runs[-1][-1], code):
            runs[-1].append(code)
        else:
            runs.append([code])
    return ", ".join(_run(run) for run in runs)


def _run(run: list[str]) -> str:
    return f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run)


def _follows(before: str, code: str) -> bool:
    """Whether a code is the next number under the same stem."""
    first, second = _TAIL.fullmatch(before), _TAIL.fullmatch(code)
    if not first or not second or first[1] != second[1]:
        return False
    return int(second[2]) == int(first[2]) + 1
