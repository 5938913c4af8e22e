"""Offcuts and remnants as pages and labels show them, each with a small drawing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from shared.conventions import current
from shared.drawing import Drawing, Scale, View
from shared.drawing.pens import CLOTH_TINT, HIDDEN, OUTLINE, WOOD_TINT, WOOL_TINT
from shared.length import show_size
from shop.catalogue.models import Material, MaterialKind, PieceState, StockPiece

DRAWN_MM = 42
MARGIN_MM = 1.5
TICKS_PER_MM = 320
_TINTS = {MaterialKind.FABRIC: CLOTH_TINT, MaterialKind.FILL: WOOL_TINT}


@dataclass(frozen=True, slots=True)
class PieceLine:
    """A piece as it is shown in a list."""

    piece: StockPiece
    size: str
    drawing: SafeString
    is_turned: bool = False
    """Only the other way round is it as large as was asked for."""

    @property
    def is_kept(self) -> bool:
        """Whether it can still be used."""
        return self.piece.state == PieceState.KEPT


def piece_size(piece: StockPiece) -> str:
    """Print length by width in the shop's units."""
    conventions = current()
    return show_size(
        piece.length_ticks,
        piece.width_ticks,
        units=conventions.unit_system,
        fraction=conventions.fraction,
    )


def draw_piece(piece: StockPiece) -> SafeString:
    """Draw a piece within the whole that it came from, both to one scale."""
    whole = _whole(piece.material, piece)
    longest = max(whole) / TICKS_PER_MM
    scale = Scale(max(1, round(longest / DRAWN_MM)))
    view = View(scale)
    view.rect((0, 0), whole, HIDDEN)
    tint = _TINTS.get(MaterialKind(piece.material.kind), WOOD_TINT)
    view.rect((0, 0), (piece.length_ticks, piece.width_ticks), OUTLINE.filled(tint))
    size = piece_size(piece)
    drawing = Drawing(
        view.extent.width + 2 * MARGIN_MM,
        view.extent.height + 2 * MARGIN_MM,
        key=f"piece-{piece.number}",
        title=f"{piece.code}, {size}",
        description=f"{piece.code} is {size}; the dashed line is a whole one.",
    )
    drawing.add(view, MARGIN_MM, MARGIN_MM)
    return mark_safe(drawing.svg())  # noqa: S308 made by our own kernel


def _whole(material: Material, piece: StockPiece) -> tuple[int, int]:
    """Return the size of a whole one; a roll is shown as far as the piece goes."""
    return (
        max(material.length_ticks or 0, piece.length_ticks),
        max(material.width_ticks or 0, piece.width_ticks),
    )


def piece_lines(
    pieces: Iterable[StockPiece], *, length_ticks: int = 0, width_ticks: int = 0
) -> tuple[PieceLine, ...]:
    """Lay out pieces; with the size asked for, say which have to be turned for it."""
    return tuple(
        PieceLine(
            piece=piece,
            size=piece_size(piece),
            drawing=draw_piece(piece),
            is_turned=piece.length_ticks < length_ticks
            or piece.width_ticks < width_ticks,
        )
        for piece in pieces
    )
