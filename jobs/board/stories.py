"""What happened to a panel, told in lines."""

from __future__ import annotations

from collections.abc import Mapping

from jobs.board.actions import Moved
from jobs.board.models import Mark, MarkChange, Panel, Stage, StageMove
from shared.audit.reports import LogLine


def story(panel: Panel) -> tuple[LogLine, ...]:
    """Tell what happened to a panel, newest first. Two queries."""
    moves = (_move(move) for move in panel.moves.select_related("by"))
    marks = (_mark(change) for change in panel.marks.select_related("by"))
    told = sorted((*moves, *marks), key=lambda line: line.when, reverse=True)
    return tuple(told)


def _move(move: StageMove) -> LogLine:
    text = f"{move.get_from_stage_display()} → {move.get_to_stage_display()}"
    note = "taken back" if move.undoes_id else ""
    return LogLine(text=text, who=str(move.by), when=move.at, note=note)


def _mark(change: MarkChange) -> LogLine:
    name = change.get_mark_display()
    if not change.now:
        text = f"{name}: taken off"
    elif change.mark in (Mark.WAITING, Mark.REWORK):
        text = f"{name}: {change.now}"
    else:
        text = name
    return LogLine(text=text, who=str(change.by), when=change.at)


def filled_words(moved: Moved) -> str:
    """Say which stages a move ahead filled in, after a semicolon; nothing if none."""
    names = [stage.label for stage in moved.filled]
    if len(names) > 1:
        names[-2:] = [f"{names[-2]} and {names[-1]}"]
    return f"; {', '.join(names)} filled in" if names else ""


_TO_DO = {
    Stage.PLANNED: "to measure",
    Stage.MEASURED: "to build",
    Stage.BUILT: "to upholster",
    Stage.UPHOLSTERED: "to install",
}


def to_do_words(counts: Mapping[str, int]) -> str:
    """Say what is left to do of panels counted by stage; nothing once all hang."""
    left = ((counts.get(stage, 0), what) for stage, what in _TO_DO.items())
    return ", ".join(f"{count} {what}" for count, what in left if count)
