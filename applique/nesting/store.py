"""Nests found before: keyed by everything that shapes them, so that making a design again moves no piece."""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from enum import IntEnum
from typing import Any, Final, Protocol

from applique.geometry.place import Place
from applique.geometry.polygons import parts_of
from applique.nesting.checking import is_sound
from applique.nesting.values import NestPiece, Placement, StripNest, nest_length

__all__ = [
    "NESTS_FILE",
    "Effort",
    "NestStore",
    "nest_key",
    "read_nest",
    "read_nests",
    "written_nest",
    "written_nests",
]

NESTS_FILE: Final = "nests.json"
"""The file of a pattern's folder that holds its nests."""
_FORMAT: Final = "applique-nests/1"
_KEY: Final = re.compile(r"[0-9a-f]{64}")
_FURTHEST: Final = 1e6
"""Inches from the start of a strip beyond which no piece was ever laid."""
_LONGER: Final = 1e-9


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


def nest_key(pieces: Sequence[NestPiece], *, width: float, spacing: float) -> str:
    """A key from shapes, counts, turns, width and spacing; names do not matter, nor what found the nest."""
    shaped = [(_rings(piece), piece.count, [round(turn, 6) for turn in piece.turns_deg]) for piece in pieces]
    text = json.dumps([_FORMAT, round(width, 6), round(spacing, 6), shaped])
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def _rings(piece: NestPiece) -> list[list[tuple[float, float]]]:
    return [[(round(x, 5), round(y, 5)) for x, y in part.exterior.coords] for part in parts_of(piece.shape)]


def written_nest(nest: StripNest, pieces: Sequence[NestPiece], effort: Effort) -> str:
    """A nest as text: which piece of the list lies where, and how hard it was searched for."""
    places = {piece.key: index for index, piece in enumerate(pieces)}
    spots = [[places[spot.key], spot.place.turn_deg, spot.place.x, spot.place.y] for spot in nest.placements]
    return json.dumps({"effort": int(effort), "placements": spots})


def read_nest(
    text: str | None, pieces: Sequence[NestPiece], *, width: float, spacing: float, longest: float
) -> tuple[StripNest, Effort] | None:
    """The nest that `text` holds with the effort it took; None if anything is wrong with it.

    Whoever wrote `text` is not trusted: it must be sound for these pieces and no longer than `longest` inches.
    """
    try:
        data: Any = json.loads(text) if text else None
        effort, spots = data["effort"], data["placements"]
        if type(effort) is not int or type(spots) is not list:
            return None
        if len(spots) != sum(piece.count for piece in pieces):
            return None
        placements = tuple(_placement(spot, pieces) for spot in spots)
        taken = Effort(effort)
    except (ValueError, TypeError, KeyError, IndexError, OverflowError, RecursionError):
        return None
    if Counter(spot.key for spot in placements) != {piece.key: piece.count for piece in pieces}:
        return None
    length = nest_length(placements, {piece.key: piece.shape for piece in pieces})
    nest = StripNest(width=width, length=length, spacing=spacing, placements=placements)
    return (nest, taken) if length <= longest + _LONGER and is_sound(nest, pieces) else None


def _placement(spot: Any, pieces: Sequence[NestPiece]) -> Placement:
    """One placement as it was written.

    Raises:
        ValueError, TypeError, IndexError, OverflowError: it is none, or none of these pieces.
    """
    index, turn, x, y = spot
    if type(index) is not int or index < 0:
        raise ValueError("no place in the list of pieces")
    piece = pieces[index]
    if turn not in piece.turns_deg:
        raise ValueError("a turn that the piece may not take")
    return Placement(key=piece.key, place=Place(x=_inches(x), y=_inches(y), turn_deg=float(turn)))


def _inches(value: Any) -> float:
    if type(value) not in (int, float) or not math.isfinite(value) or abs(value) > _FURTHEST:
        raise ValueError("no place on a strip")
    return float(value)


def written_nests(nests: Mapping[str, str]) -> str:
    """The file of nests, each as `written_nest` gave it, in the order of their keys."""
    lines = ",\n".join(f'  "{key}": {nests[key]}' for key in sorted(nests))
    return f'{{\n "format": "{_FORMAT}",\n "nests": {{\n{lines}\n }}\n}}\n'


def read_nests(text: str | None) -> dict[str, str]:
    """The nests of such a file by their keys, each still to be read with `read_nest`; none if it is something else."""
    try:
        data: Any = json.loads(text) if text else {}
        nests = data["nests"] if data["format"] == _FORMAT else {}
        return {key: json.dumps(nest) for key, nest in nests.items() if _KEY.fullmatch(key)}
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return {}
