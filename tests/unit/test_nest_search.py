"""Searching for shorter strips: sound whatever the library does, kept, and never searched for twice."""

from __future__ import annotations

import json
import math
import os
import signal
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

from applique.geometry.place import Place
from applique.nesting import (
    Effort,
    Nester,
    NestPiece,
    Placement,
    StripJob,
    StripNest,
    lay_strip,
    nest_faults,
    nest_strips,
)
from applique.nesting import strips as strips_module
from applique.nesting.search import Found, Search, search_strips
from applique.nesting.store import nest_key, read_nest, read_nests, written_nest, written_nests
from applique.store import FolderStore, nests_beside
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text

WAIT = 60
"""Seconds after which a test gives up on what should have come at once."""


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


def _search(pieces: tuple[NestPiece, ...], seconds: float = 0.5, width: float = 17) -> Search:
    return Search(pieces=pieces, width=width, spacing=0.25, seconds=seconds, workers=1)


def _never(*_: object, **__: object) -> Any:
    raise AssertionError("searched again")


def _library(folder: Path, monkeypatch: pytest.MonkeyPatch, solve: str) -> None:
    """A nesting library of our own making for the child to find, which does `solve` and reports one good layout."""
    (folder / "spyrrow.py").write_text(
        f"""
import os, sys, time
from types import SimpleNamespace as Item_
from pathlib import Path
HERE = Path({str(folder)!r})
class Panic(BaseException): pass
def Item(name, outline, count, turns): return Item_(id=name, count=count)
def StripPackingConfig(**_): return Item_()
ReportType = Item_(ExplFeas=1, CmprFeas=2, Final=3)
def laid(items):
    spots, x = [], 1.0
    for item in items:
        for _ in range(item.count):
            spots.append(Item_(id=item.id, rotation=0.0, translation=(x, 0.125)))
            x += 2.5
    return Item_(width=x, placed_items=spots)
class StripPackingInstance:
    def __init__(self, name, height, items): self.items = items
    def solve(self, config, *progress):
        for queue in progress: queue.solutions.append((1, laid(self.items)))
        (HERE / "pid").write_text(str(os.getpid()))
        {solve}
class ProgressQueue:
    def __init__(self): self.solutions = []
    def drain(self):
        if not self.solutions: (HERE / "told").touch()
        given, self.solutions = self.solutions, []
        return given
""",
        encoding="utf-8",
    )
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join([str(folder), os.environ.get("PYTHONPATH", "")]))


def _wait_for(happened: Callable[[], bool]) -> None:
    latest = time.monotonic() + WAIT
    while not happened():
        assert time.monotonic() < latest, "it never happened"
        time.sleep(0.02)


def _is_alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{pid}/stat")
    return not state.exists() or state.read_text("ascii").rsplit(")", 1)[1].split()[0] != "Z"


SQUARES = (NestPiece(key="square", shape=box(0, 0, 2, 2), count=3),)
TWO = tuple(NestPiece(key=key, shape=box(0, 0, 4, 5), count=1) for key in "AB")


def test_a_searched_nest_is_sound_and_holds_every_piece() -> None:
    pieces = _letters("STEADYROWij", turns=(0.0, 90.0, 180.0, 270.0))
    (found,) = search_strips([_search(pieces, 0.6)], at_once=1)
    assert found.ended
    assert found.nest is not None
    assert nest_faults(found.nest, pieces) == ()
    assert min(_shape(pieces, spot).bounds[0] for spot in found.nest.placements) == pytest.approx(0, abs=1e-6)


def _shape(pieces: tuple[NestPiece, ...], spot: Any) -> Any:
    shape = next(piece.shape for piece in pieces if piece.key == spot.key)
    return affinity.translate(
        affinity.rotate(shape, spot.place.turn_deg, origin=(0, 0)), spot.place.x, spot.place.y
    )


@pytest.mark.parametrize("height", [16.999, 17.0])
def test_a_piece_as_tall_as_the_strip_is_left_to_our_own_placement(height: float) -> None:
    """The library panics on it."""
    pieces = (NestPiece(key="tall", shape=box(0, 0, 2, height), count=2),)
    assert search_strips([_search(pieces)], at_once=1) == (Found(nest=None, ended=True),)
    (nest,) = nest_strips(
        [StripJob(pieces=pieces, width=17, spacing=0.25)], Nester(effort=Effort.NORMAL)
    ).nests
    assert nest_faults(nest, pieces) == ()


@pytest.mark.parametrize(
    ("solve", "ended"),
    [
        ("raise Panic", True),
        ("return None", True),
        ("return Item_(placed_items=[])", True),
        ("os.abort()", False),
        ("sys.stdout.write('{'); sys.stdout.flush(); os._exit(0)", False),
    ],
)
def test_whatever_the_library_does_our_own_nest_stands(
    solve: str, ended: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What broke down before its end is searched again next time; a library that fails has said so for good."""
    _library(tmp_path, monkeypatch, solve)
    assert search_strips([_search(SQUARES)], at_once=1) == (Found(nest=None, ended=ended),)
    store = Memory()
    job = StripJob(pieces=SQUARES, width=17, spacing=0.25)
    nested = nest_strips([job], Nester(effort=Effort.NORMAL, store=store))
    assert nested.nests == (lay_strip(SQUARES, width=17, spacing=0.25),)
    assert bool(store) is bool(nested.searched) is ended


def test_a_stopped_search_ends_its_process_and_gives_what_it_has(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The search used to go on in a thread, and to panic when the interpreter was taken down around it."""
    _library(tmp_path, monkeypatch, "time.sleep(600)")
    calls = []

    def told_a_while_ago() -> bool:
        calls.append((tmp_path / "told").exists())
        return sum(calls) > 5

    searches = [_search(SQUARES, 600)]
    (found,) = search_strips(searches, at_once=1, stop=told_a_while_ago)
    assert found.nest is not None
    assert not found.ended
    assert nest_faults(found.nest, SQUARES) == ()
    assert not _is_alive(int((tmp_path / "pid").read_text("ascii")))


def test_a_search_does_not_outlive_whoever_asked_for_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _library(tmp_path, monkeypatch, "time.sleep(600)")
    asker = subprocess.Popen([sys.executable, "-"], stdin=subprocess.PIPE, text=True)
    assert asker.stdin is not None
    asker.stdin.write(ASKER.format(seconds=600, stop="None"))
    asker.stdin.close()
    _wait_for(lambda: (tmp_path / "pid").exists() and (tmp_path / "pid").read_text("ascii") != "")
    asker.send_signal(signal.SIGTERM)
    assert asker.wait(WAIT) == -signal.SIGTERM
    _wait_for(lambda: not _is_alive(int((tmp_path / "pid").read_text("ascii"))))


ASKER = """
from shapely.geometry import box
from applique.nesting import NestPiece
from applique.nesting.search import Search, search_strips

def search():
    pieces = tuple(NestPiece(key=str(n), shape=box(0, 0, 2 + n / 9, 3 - n / 9), count=2) for n in range(9))
    search = Search(pieces=pieces, width=17, spacing=0.25, seconds={seconds}, workers=2)
    print(search_strips([search], at_once=1, stop={stop})[0].nest is not None, flush=True)

search()
"""
FROM_ANYWHERE = """
import multiprocessing
import threading

thread = threading.Thread(target=search)
process = multiprocessing.get_context("fork").Process(target=search, daemon=True)
for runner in (thread, process):
    runner.start()
    runner.join()
"""


@pytest.mark.parametrize(
    ("seconds", "stop"), [(0.3, "None"), (600, "iter([False] * 20 + [True] * 9).__next__")]
)
def test_a_script_without_a_guard_can_search_from_anywhere_and_ends_quietly(
    seconds: float, stop: str
) -> None:
    """Python callers who stopped a search saw the library panic, or abort at exit."""
    script = ASKER.format(seconds=seconds, stop=stop) + FROM_ANYWHERE
    done = subprocess.run([sys.executable, "-"], input=script, capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.split() == ["True"] * 3


def test_a_nest_is_found_again_and_never_searched_for_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    store = Memory()
    monkeypatch.setitem(strips_module._SECONDS, Effort.NORMAL, 0.5)
    job = StripJob(pieces=_letters("ROWINGHOME"), width=17, spacing=0.25)
    first = nest_strips([job], Nester(effort=Effort.NORMAL, store=store))
    assert dict(first.searched) == store
    monkeypatch.setattr(strips_module, "search_strips", _never)
    assert nest_strips([job], Nester(effort=Effort.NORMAL, store=store)) == first
    renamed = replace(job, pieces=tuple(replace(piece, key=piece.key + "!") for piece in job.pieces))
    (third,) = nest_strips([renamed], Nester(effort=Effort.NORMAL, store=store)).nests
    assert third.length == first.nests[0].length


def test_two_jobs_of_the_same_shapes_are_searched_once_and_laid_alike(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Letters of one fabric with an outline behind them were searched twice under one key; the last one kept won."""
    store = Memory()
    pieces = BOXES
    renamed = tuple(replace(piece, key=piece.key + " too") for piece in pieces)
    jobs = [StripJob(pieces=named, width=17, spacing=0.25) for named in (pieces, renamed)]
    asked: list[Search] = []

    def another_each_time(searches: Sequence[Search], **_: object) -> tuple[Found, ...]:
        asked.extend(searches)
        orders = [list(search.pieces)[:: -1 if turn else 1] for turn, search in enumerate(searches)]
        return tuple(Found(nest=_column(order), ended=True) for order in orders)

    monkeypatch.setattr(strips_module, "search_strips", another_each_time)
    first = nest_strips(jobs, Nester(effort=Effort.NORMAL, store=store))
    assert len(asked) == 1
    one, other = first.nests
    assert one == _column(pieces)
    assert nest_faults(other, renamed) == ()
    assert [(spot.key + " too", spot.place.x, spot.place.y) for spot in one.placements] == [
        (spot.key, spot.place.x, spot.place.y) for spot in other.placements
    ]
    assert nest_strips(jobs, Nester(effort=Effort.NORMAL, store=store)) == first


BOXES = tuple(
    NestPiece(key=f"{high} high", shape=box(1, 0, 2 + high / 10, high), count=1) for high in (5.49, 5.5, 5.51)
)
"""They just fill 17 in one above the other, which the cells of our own placement cannot do."""


def _column(pieces: Sequence[NestPiece]) -> StripNest:
    """The pieces above each other at the start of a strip."""
    spots, height = [], 0.0
    for piece in pieces:
        x0, y0, _, y1 = piece.shape.bounds
        spots.append(Placement(key=piece.key, place=Place(x=-x0, y=height - y0)))
        height += y1 - y0 + 0.25
    length = max(piece.shape.bounds[2] - piece.shape.bounds[0] for piece in pieces)
    return StripNest(width=17, length=length, spacing=0.25, placements=tuple(spots))


def test_nests_that_came_with_the_design_come_before_those_that_are_kept(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(strips_module, "search_strips", _never)
    pieces = BOXES
    job = StripJob(pieces=pieces, width=17, spacing=0.25)
    key = nest_key(pieces, width=17, spacing=0.25)
    given = {key: written_nest(_column(pieces), pieces, Effort.NORMAL)}
    kept = Memory({key: written_nest(_column(pieces[::-1]), pieces, Effort.LONG)})
    nested = nest_strips([job], Nester(effort=Effort.NORMAL, store=kept, given=given))
    assert nested.nests == (_column(pieces),)
    assert nested.searched == given
    longer = nest_strips([job], Nester(effort=Effort.LONG, store=kept, given=given))
    assert longer.searched == {key: written_nest(_column(pieces), pieces, Effort.LONG)}
    quick = nest_strips([job], Nester(store=kept, given=given))
    assert quick.nests == (lay_strip(pieces, width=17, spacing=0.25),)


def test_quick_is_our_own_placement_and_touches_no_store() -> None:
    store = Memory()
    job = StripJob(pieces=_letters("ROW"), width=17, spacing=0.25)
    nested = nest_strips([job], Nester(effort=Effort.QUICK, store=store))
    assert nested.nests == (lay_strip(job.pieces, width=17, spacing=0.25),)
    assert not store
    assert not nested.searched


def test_without_the_library_kept_nests_and_our_own_placement_serve(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(strips_module, "can_search", lambda: False)
    monkeypatch.setattr(strips_module, "search_strips", _never)
    store = Memory()
    pieces = BOXES
    job = StripJob(pieces=pieces, width=17, spacing=0.25)
    (nest,) = nest_strips([job], Nester(effort=Effort.NORMAL, store=store)).nests
    assert nest == lay_strip(pieces, width=17, spacing=0.25)
    assert not store
    store.put(nest_key(pieces, width=17, spacing=0.25), written_nest(_column(pieces), pieces, Effort.NORMAL))
    assert nest_strips([job], Nester(effort=Effort.NORMAL, store=store)).nests == (_column(pieces),)


def test_the_key_knows_everything_that_shapes_a_nest() -> None:
    pieces = _letters("AB")
    moved = (replace(pieces[0], shape=affinity.scale(pieces[0].shape, 1.001, 1)), pieces[1])
    keys = {
        nest_key(pieces, width=17, spacing=0.25),
        nest_key(pieces, width=18, spacing=0.25),
        nest_key(pieces, width=17, spacing=0.3),
        nest_key(moved, width=17, spacing=0.25),
        nest_key((replace(pieces[0], count=2), pieces[1]), width=17, spacing=0.25),
        nest_key((replace(pieces[0], turns_deg=(0.0,)), pieces[1]), width=17, spacing=0.25),
    }
    assert len(keys) == 6


def _record(effort: object = 1, *spots: object) -> str:
    return json.dumps({"effort": effort, "placements": spots})


A, B = [0, 0.0, 0.0, 0.0], [1, 0.0, 6.0, 0.0]
DAMAGED = {
    "empty": "",
    "cut off": "{",
    "a list": "[]",
    "null": "null",
    "a word": '"placements"',
    "deep": "[" * 200_000,
    "deep and closed": '{"effort": 1, "placements": ' + "[" * 900 + "]" * 900 + "}",
    "no effort": json.dumps({"placements": [A, B]}),
    "an effort there is not": _record(9, A, B),
    "an effort in words": _record("1", A, B),
    "an effort that is true": _record(True, A, B),
    "no list": json.dumps({"effort": 1, "placements": {"0": A, "1": B}}),
    "one lost": _record(1, A),
    "one twice": _record(1, A, A),
    "200,000": _record(1, *[A] * 200_000),
    "few numbers": _record(1, A, [1]),
    "a piece there is not": _record(1, A, [2, 0.0, 6.0, 0.0]),
    "a piece from behind": _record(1, A, [-1, 0.0, 6.0, 0.0]),
    "a piece that is true": _record(1, A, [True, 0.0, 6.0, 0.0]),
    "half a piece": _record(1, A, [1.5, 0.0, 6.0, 0.0]),
    "a turn it may not take": _record(1, A, [1, 45.0, 6.0, 0.0]),
    "a turn in words": _record(1, A, [1, "0", 6.0, 0.0]),
    "a place in words": _record(1, A, [1, 0.0, "6", 0.0]),
    "a list for a place": _record(1, A, [1, 0.0, [6], 0.0]),
    "infinity": _record(1, A, [1, 0.0, math.inf, 0.0]),
    "no number": _record(1, A, [1, 0.0, math.nan, 0.0]),
    "no number for a turn": _record(1, A, [1, math.nan, 6.0, 0.0]),
    "ten to the 400": _record(1, A, [1, 0.0, 10**400, 0.0]),
    "a number of 5,000 digits": _record(1, A, B).replace("6.0", "9" * 5_000),
    "out of sight": _record(1, A, [1, 0.0, 1e300, 0.0]),
    "longer than our own": _record(1, A, [1, 0.0, 60.0, 0.0]),
    "off the strip": _record(1, A, [1, 0.0, 6.0, 14.0]),
    "piled": _record(1, A, [1, 0.0, 0.5, 0.0]),
}


@pytest.mark.parametrize("case", DAMAGED)
def test_anything_wrong_with_a_kept_nest_is_a_miss(case: str) -> None:
    """Several of these stopped `make` with a traceback."""
    sizes: dict[str, float] = {"width": 17, "spacing": 0.25, "longest": 20}
    assert read_nest(_record(1, A, B), TWO, **sizes) is not None
    assert read_nest(DAMAGED[case], TWO, **sizes) is None


def test_thousands_piled_on_one_spot_are_found_out_by_the_first_few() -> None:
    """A file from somebody else must not make the proof of it compare every piece with every other."""
    pieces = (
        NestPiece(key="dot", shape=box(0, 0, 0.01, 0.01), count=4_000),
        NestPiece(key="long", shape=box(0, 0, 90, 1), count=1),
    )
    piled = _record(1, *[[0, 0.0, 0.0, 5.0]] * 4_000, [1, 0.0, 0.0, 0.0])
    tracemalloc.start()
    try:
        assert read_nest(piled, pieces, width=17, spacing=0.25, longest=100) is None
        assert tracemalloc.get_traced_memory()[1] < 60_000_000
    finally:
        tracemalloc.stop()


def test_a_record_reads_back_to_the_nest() -> None:
    nest = _column(BOXES)
    good = written_nest(nest, BOXES, Effort.LONG)
    assert read_nest(good, BOXES, width=17, spacing=0.25, longest=nest.length) == (nest, Effort.LONG)


def test_a_file_of_nests_reads_back_and_anything_else_is_empty(tmp_path: Path) -> None:
    nests = {"a" * 64: _record(1, A, B), "b" * 64: _record(2, B)}
    (tmp_path / "nests.json").write_text(written_nests(nests), encoding="utf-8")
    assert nests_beside(tmp_path) == nests
    assert nests_beside(tmp_path / "none") == {}
    assert read_nests('{"format": "applique-nests/1", "nests": {"../up": {}, "' + "c" * 64 + '": 3}}') == {
        "c" * 64: "3"
    }
    for other in (
        "",
        "[]",
        "3",
        '{"format": 1}',
        '{"format": "applique-nests/1", "nests": []}',
        "[" * 200_000,
    ):
        assert read_nests(other) == {}


def test_the_folder_store_keeps_and_forgets(tmp_path: Path) -> None:
    store = FolderStore(tmp_path / "a" / "b")
    assert store.get("k") is None
    store.put("k", "text")
    assert store.get("k") == "text"
    (tmp_path / "file").write_text("", encoding="utf-8")
    blocked = FolderStore(tmp_path / "file")
    blocked.put("k", "text")
    assert blocked.get("k") is None


@pytest.mark.parametrize("kind", ["pipe", "device", "folder", "huge", "no text", "link in a ring"])
def test_only_small_regular_files_are_read(kind: str, tmp_path: Path) -> None:
    """A pipe without a writer was waited for, and a device read, for ever."""
    place = tmp_path / "k.json"
    match kind:
        case "pipe":
            os.mkfifo(place)
        case "device":
            place.symlink_to("/dev/zero")
        case "folder":
            place.mkdir()
        case "huge":
            with place.open("wb") as file:
                file.truncate(10**12)
        case "no text":
            place.write_bytes(b"\xff")
        case _:
            place.symlink_to(place)
    assert FolderStore(tmp_path).get("k") is None


def test_a_full_disk_leaves_no_temporary_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = FolderStore(tmp_path)
    store.put("k", "old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    store.put("k", "new")
    assert [path.name for path in tmp_path.iterdir()] == ["k.json"]
    assert store.get("k") == "old"


def test_round_letters_are_searched_without_losing_their_spacing() -> None:
    """A simplified outline must never eat into the spacing."""
    disc = shapely.Point(0, 0).buffer(2, quad_segs=64)
    ring = Polygon([(3 * math.cos(a), 1.5 * math.sin(a)) for a in (i * math.pi / 60 for i in range(120))])
    pieces = (
        NestPiece(key="disc", shape=disc, count=5),
        NestPiece(key="oval", shape=ring, count=4, turns_deg=(0.0, 90.0)),
    )
    (found,) = search_strips([_search(pieces, width=9)], at_once=1)
    assert found.nest is not None
    assert nest_faults(found.nest, pieces) == ()
