"""Keep offcuts and remnants as single pieces, each by its number."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from typing import TypedDict, Unpack

from django.core.exceptions import ValidationError
from django.db import transaction

from shared.audit.actions import record
from shared.forms import TypedLength
from shared.numbering import next_number
from shop.catalogue.actions.errors import StockError
from shop.catalogue.models import (
    COUNTED,
    Material,
    PieceChange,
    PieceState,
    StockPiece,
)
from shop.people.models import Person

SERIES = "piece"
NO_PIECES = "Only sheets, boards, fabric and fill are kept in pieces."


class More(TypedDict, total=False):
    """What else may be known of a piece."""

    lot: str
    note: str


@transaction.atomic
def keep_piece(
    material: Material,
    *,
    length: TypedLength,
    width: TypedLength,
    by: Person,
    at: dt.datetime,
    **more: Unpack[More],
) -> StockPiece:
    """Keep a piece and give it the number to write on it; no number is given twice."""
    if material.kind in COUNTED:
        raise StockError(NO_PIECES)
    piece = StockPiece(
        material=material,
        number=next_number(SERIES, year=0),
        length_ticks=length.ticks,
        length_text=length.text,
        width_ticks=width.ticks,
        width_text=width.text,
        lot=" ".join(more.get("lot", "").split()),
        note=more.get("note", ""),
    )
    try:
        piece.full_clean(exclude=("material",))
    except ValidationError as refused:
        raise StockError(" ".join(refused.messages)) from refused
    piece.save()
    _note(piece, "", note="", by=by, at=at)
    return piece


@transaction.atomic
def use_piece(
    piece: StockPiece, *, note: str = "", by: Person, at: dt.datetime
) -> PieceChange:
    """Write down that a kept piece was used."""
    return _turn(piece, (PieceState.KEPT,), PieceState.USED, note, by, at)


@transaction.atomic
def throw_piece(
    piece: StockPiece, *, note: str = "", by: Person, at: dt.datetime
) -> PieceChange:
    """Write down that a kept piece was thrown away."""
    return _turn(piece, (PieceState.KEPT,), PieceState.GONE, note, by, at)


@transaction.atomic
def find_piece(
    piece: StockPiece, *, note: str = "", by: Person, at: dt.datetime
) -> PieceChange:
    """Take a piece back among those kept: it is there after all."""
    lost = (PieceState.USED, PieceState.GONE)
    return _turn(piece, lost, PieceState.KEPT, note, by, at)


def _turn(
    piece: StockPiece,
    expected: Collection[str],
    now: PieceState,
    note: str,
    by: Person,
    at: dt.datetime,
) -> PieceChange:
    """Turn a piece that is as expected into what it is now."""
    held = StockPiece.objects.select_for_update().get(pk=piece.pk)
    if held.state not in expected:
        raise StockError(_otherwise(held))
    was, piece.state = held.state, now
    piece.save(update_fields=("state",))
    return _note(piece, was, note=note, by=by, at=at)


def _otherwise(piece: StockPiece) -> str:
    """Say what became of a piece meanwhile, and by whom."""
    last = piece.changes.select_related("by").first()
    who = f", by {last.by}" if last else ""
    return f"{piece} is {piece.get_state_display()} already{who}."


def _note(
    piece: StockPiece, was: str, *, note: str, by: Person, at: dt.datetime
) -> PieceChange:
    change: PieceChange = PieceChange.objects.create(
        piece=piece, was=was, now=piece.state, note=note, at=at, by=by
    )
    record(
        piece,
        verb=piece.state,
        text=f"{piece} of {piece.material} {piece.get_state_display()}",
        by=by,
        at=at,
    )
    return change
