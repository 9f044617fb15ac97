"""Searching for shorter strips: sound whatever the library does, kept, and never searched for twice."""

from __future__ import annotations

import builtins
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

from applique.nesting import (
    Effort,
    Nester,
    NestPiece,
    StripJob,
    lay_strip,
    nest_faults,
    nest_strips,
)
from applique.nesting import strips as strips_module
from applique.nesting.search import library_version, search_strip
from applique.nesting.store import nest_key, read_nest, written_nest
from applique.store import FolderStore
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text


class Memory(dict[str, str]):
    def put(self, key: str, text: str) -> None:
        self[key] = text


def _letters(
    text: str, cap_height: float = 4.0, turns: tuple[float, ...] = (0.0, 180.0)
) -> tuple[NestPiece, ...]:
    typeface = open_typeface("Montserrat")
    scale = cap_height / typeface.cap_height_fu
    pieces = []
    for character in dict.fromkeys(text):
        (letter,) = shape_text(character, typeface)
        shape = typeface.shape(letter.glyphs, chord_error_fu=0.002 / scale)
        shape = affinity.scale(shape, scale, scale, origin=(0, 0))
        pieces.append(NestPiece(key=character, shape=shape, count=text.count(character), turns_deg=turns))
    return tuple(pieces)


def test_a_searched_nest_is_sound_and_holds_every_piece() -> None:
    pieces = _letters("STEADYROWij", turns=(0.0, 90.0, 180.0, 270.0))
    nest = search_strip(pieces, width=17, spacing=0.25, seconds=0.6, workers=2)
    assert nest is not None
    assert nest_faults(nest, pieces) == ()
    assert min(_shape(pieces, spot).bounds[0] for spot in nest.placements) == pytest.approx(0, abs=1e-6)


def _shape(pieces: tuple[NestPiece, ...], spot: Any) -> Any:
    shape = next(piece.shape for piece in pieces if piece.key == spot.key)
    return affinity.translate(affinity.rotate(shape, spot.turn_deg, origin=(0, 0)), spot.x, spot.y)


@pytest.mark.parametrize("height", [16.999, 17.0])
def test_a_piece_as_tall_as_the_strip_is_left_to_our_own_placement(height: float) -> None:
    """The library panics on it."""
    pieces = (NestPiece(key="tall", shape=box(0, 0, 2, height), count=2),)
    assert search_strip(pieces, width=17, spacing=0.25, seconds=0.3, workers=1) is None
    (nest,) = nest_strips([StripJob(pieces=pieces, width=17, spacing=0.25)], Nester(effort=Effort.NORMAL))
    assert nest_faults(nest, pieces) == ()


def test_a_panic_of_the_library_leaves_our_own_nest(monkeypatch: pytest.MonkeyPatch) -> None:
    class Panic(BaseException):
        pass

    import spyrrow

    def panic(*_: object, **__: object) -> None:
        raise Panic

    monkeypatch.setattr(spyrrow, "StripPackingInstance", panic)
    assert search_strip(_letters("AB"), width=17, spacing=0.25, seconds=0.3, workers=1) is None


def test_a_stopped_search_gives_what_it_has() -> None:
    pieces = _letters("STEADYROWING")
    nest = search_strip(pieces, width=17, spacing=0.25, seconds=3, workers=1, stop=lambda: True)
    assert nest is None or nest_faults(nest, pieces) == ()


def test_a_nest_is_found_again_and_never_searched_for_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    store = Memory()
    monkeypatch.setitem(strips_module._SECONDS, Effort.NORMAL, 0.5)
    job = StripJob(pieces=_letters("ROWINGHOME"), width=17, spacing=0.25)
    (first,) = nest_strips([job], Nester(effort=Effort.NORMAL, store=store))

    def never(*_: object, **__: object) -> None:
        raise AssertionError("searched again")

    monkeypatch.setattr(strips_module, "search_strip", never)
    (second,) = nest_strips([job], Nester(effort=Effort.NORMAL, store=store))
    assert first == second
    renamed = replace(job, pieces=tuple(replace(piece, key=piece.key + "!") for piece in job.pieces))
    (third,) = nest_strips([renamed], Nester(effort=Effort.NORMAL, store=store))
    assert third.length == first.length


def test_quick_is_our_own_placement_and_touches_no_store() -> None:
    store = Memory()
    job = StripJob(pieces=_letters("ROW"), width=17, spacing=0.25)
    (nest,) = nest_strips([job], Nester(effort=Effort.QUICK, store=store))
    assert nest == lay_strip(job.pieces, width=17, spacing=0.25)
    assert not store


def test_without_the_library_our_own_placement_serves(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def without(name: str, *rest: Any, **more: Any) -> Any:
        if name == "spyrrow":
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", without)
    assert library_version() is None
    job = StripJob(pieces=_letters("ROW"), width=17, spacing=0.25)
    (nest,) = nest_strips([job], Nester(effort=Effort.NORMAL))
    assert nest == lay_strip(job.pieces, width=17, spacing=0.25)


def test_the_key_knows_everything_that_shapes_a_nest() -> None:
    pieces = _letters("AB")
    moved = (replace(pieces[0], shape=affinity.scale(pieces[0].shape, 1.001, 1)), pieces[1])
    keys = {
        nest_key(pieces, width=17, spacing=0.25, version="1"),
        nest_key(pieces, width=18, spacing=0.25, version="1"),
        nest_key(pieces, width=17, spacing=0.3, version="1"),
        nest_key(pieces, width=17, spacing=0.25, version="2"),
        nest_key(moved, width=17, spacing=0.25, version="1"),
        nest_key((replace(pieces[0], count=2), pieces[1]), width=17, spacing=0.25, version="1"),
        nest_key((replace(pieces[0], turns_deg=(0.0,)), pieces[1]), width=17, spacing=0.25, version="1"),
    }
    assert len(keys) == 7


@pytest.mark.parametrize(
    "damage", ["", "{", "[]", "null", '{"effort": 9, "placements": []}', '{"placements": [[0]]}']
)
def test_a_damaged_record_is_forgotten(damage: str) -> None:
    assert read_nest(damage, _letters("AB"), width=17, spacing=0.25) is None


def test_a_record_that_is_not_sound_is_forgotten() -> None:
    pieces = _letters("AB")
    nest = lay_strip(pieces, width=17, spacing=0.25)
    good = written_nest(nest, pieces, Effort.LONG)
    assert read_nest(good, pieces, width=17, spacing=0.25) == (nest, Effort.LONG)
    piled = replace(nest, placements=tuple(replace(spot, x=0.0, y=0.0) for spot in nest.placements))
    assert read_nest(written_nest(piled, pieces, Effort.LONG), pieces, width=17, spacing=0.25) is None


def test_the_folder_store_keeps_and_forgets(tmp_path: Path) -> None:
    store = FolderStore(tmp_path / "a" / "b")
    assert store.get("k") is None
    store.put("k", "text")
    assert store.get("k") == "text"
    (tmp_path / "file").write_text("", encoding="utf-8")
    blocked = FolderStore(tmp_path / "file")
    blocked.put("k", "text")
    assert blocked.get("k") is None


def test_round_letters_are_searched_without_losing_their_spacing() -> None:
    """A simplified outline must never eat into the spacing."""
    disc = shapely.Point(0, 0).buffer(2, quad_segs=64)
    ring = Polygon([(3 * math.cos(a), 1.5 * math.sin(a)) for a in (i * math.pi / 60 for i in range(120))])
    pieces = (
        NestPiece(key="disc", shape=disc, count=5),
        NestPiece(key="oval", shape=ring, count=4, turns_deg=(0.0, 90.0)),
    )
    nest = search_strip(pieces, width=9, spacing=0.25, seconds=0.5, workers=2)
    assert nest is not None
    assert nest_faults(nest, pieces) == ()
