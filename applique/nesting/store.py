"""Nests found before: keyed by everything that shapes them, so that making a design again moves no piece."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from enum import IntEnum
from typing import Any, Final, Protocol

from applique.nesting.checking import nest_faults
from applique.nesting.values import NestPiece, Placement, StripNest, nest_length, parts_of

__all__ = ["Effort", "NestStore", "nest_key", "read_nest", "written_nest"]

_FORMAT: Final = 1


class Effort(IntEnum):
    """How long to look for a shorter nest."""

    QUICK = 0
    NORMAL = 1
    LONG = 2


class NestStore(Protocol):
    """Where nests are kept: text under a key. A store that cannot keep one forgets it quietly."""

    def get(self, key: str) -> str | None:
        """The text kept under `key`, or None."""

    def put(self, key: str, text: str) -> None:
        """Keep `text` under `key`."""


def nest_key(pieces: Sequence[NestPiece], *, width: float, spacing: float, version: str) -> str:
    """A key from shapes, counts, turns, width, spacing and the version of the library; names do not matter."""
    shaped = [(_rings(piece), piece.count, [round(turn, 6) for turn in piece.turns_deg]) for piece in pieces]
    text = json.dumps([_FORMAT, version, round(width, 6), round(spacing, 6), shaped])
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def _rings(piece: NestPiece) -> list[list[tuple[float, float]]]:
    return [[(round(x, 5), round(y, 5)) for x, y in part.exterior.coords] for part in parts_of(piece.shape)]


def written_nest(nest: StripNest, pieces: Sequence[NestPiece], effort: Effort) -> str:
    """A nest as text: which piece of the list lies where, and how hard it was searched for."""
    places = {piece.key: index for index, piece in enumerate(pieces)}
    spots = [[places[spot.key], spot.turn_deg, spot.x, spot.y] for spot in nest.placements]
    return json.dumps({"effort": int(effort), "placements": spots})


def read_nest(
    text: str | None, pieces: Sequence[NestPiece], *, width: float, spacing: float
) -> tuple[StripNest, Effort] | None:
    """The nest that `text` holds with the effort it took; None if it is damaged or not sound for these pieces."""
    try:
        data: Any = json.loads(text) if text else None
        placements = tuple(
            Placement(key=pieces[int(index)].key, turn_deg=float(turn), x=float(x), y=float(y))
            for index, turn, x, y in data["placements"]
        )
        effort = Effort(data["effort"])
    except (ValueError, TypeError, KeyError, IndexError):
        return None
    length = nest_length(placements, {piece.key: piece.shape for piece in pieces})
    nest = StripNest(width=width, length=length, spacing=spacing, placements=placements)
    return None if nest_faults(nest, pieces) else (nest, effort)
