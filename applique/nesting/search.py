"""Better strips by searching: the one place that knows the nesting library.

Learned about the library: its own separation must not be used (it panics on small shapes and keeps the gap from the
strip's edges too), so outlines are grown by half the spacing and a little, and simplified by no more than that
little. Its panics are no `Exception`. It gives the same layout again on an idle machine only, so what it finds is
checked, kept in a store and never searched for twice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import timedelta
from typing import Any, Final

from shapely.geometry import Polygon

from applique.nesting.checking import nest_faults
from applique.nesting.values import NestPiece, Placement, StripNest, nest_length, solid

__all__ = ["LEFT_BEHIND", "library_version", "search_strip"]

_PAD: Final = 0.01
"""Inches that an outline is grown beyond half the spacing, and may be simplified by."""
_SEED: Final = 7
LEFT_BEHIND: Final = "search for a shorter nest"
"""The name of a thread that goes on searching after its search was stopped."""
_SHARE_EXPLORING: Final = 0.8
_QUADRANT_SEGMENTS: Final = 6


def library_version() -> str | None:
    """The version of the nesting library, or None where it cannot be imported."""
    try:
        import spyrrow  # noqa: F401
    except ImportError:
        return None
    from importlib.metadata import version

    return version("spyrrow")


def search_strip(
    pieces: Sequence[NestPiece],
    *,
    width: float,
    spacing: float,
    seconds: float,
    workers: int,
    stop: Callable[[], bool] | None = None,
) -> StripNest | None:
    """The best sound nest found in about `seconds`; None if there is none, or the pieces do not suit the library.

    The search may overrun by a second or so. `stop` is asked again and again; once it says yes, the best nest so
    far is taken and the library is left to end by itself.
    """
    grown = {piece.key: _grown(piece, spacing) for piece in pieces}
    if not all(_has_room(grown[piece.key], piece, width + spacing) for piece in pieces):
        return None
    solution = _solved(pieces, grown, width + spacing, seconds, workers, stop)
    if solution is None:
        return None
    placements = tuple(
        Placement(
            key=item.id,
            turn_deg=float(item.rotation) % 360,
            x=item.translation[0],
            y=item.translation[1] - spacing / 2,
        )
        for item in solution.placed_items
    )
    nest = _pushed_left(placements, pieces, width, spacing)
    return None if nest_faults(nest, pieces) else nest


def _grown(piece: NestPiece, spacing: float) -> Polygon:
    """One outline around the piece: of several parts their hull, as the library takes one polygon only."""
    grown = solid(piece.shape).buffer(spacing / 2 + _PAD, quad_segs=_QUADRANT_SEGMENTS, join_style="round")
    whole = grown if isinstance(grown, Polygon) else grown.convex_hull
    outer = Polygon(whole.exterior)
    simple = outer.simplify(_PAD * 0.9)
    return simple if isinstance(simple, Polygon) and simple.is_valid else outer


def _corners(shape: Polygon) -> list[tuple[float, float]]:
    return [(x, y) for x, y in shape.exterior.coords[:-1]]


def _has_room(grown: Polygon, piece: NestPiece, height: float) -> bool:
    """Whether the grown outline fits in one of its turns with a little slack; one that just fits panics."""
    x0, y0, x1, y1 = grown.bounds
    sides = [x1 - x0 if round(turn) % 180 == 90 else y1 - y0 for turn in piece.turns_deg]
    return min(sides) + _PAD < height and all(round(turn) % 90 == 0 for turn in piece.turns_deg)


def _solved(
    pieces: Sequence[NestPiece],
    grown: dict[str, Polygon],
    height: float,
    seconds: float,
    workers: int,
    stop: Callable[[], bool] | None,
) -> Any:
    import spyrrow

    items = [
        spyrrow.Item(piece.key, _corners(grown[piece.key]), piece.count, list(piece.turns_deg))
        for piece in pieces
    ]
    config = spyrrow.StripPackingConfig(
        total_computation_time=1, num_workers=workers, seed=_SEED, early_termination=False
    )
    config.exploration_time = timedelta(seconds=seconds * _SHARE_EXPLORING)
    config.compression_time = timedelta(seconds=seconds * (1 - _SHARE_EXPLORING))
    try:
        instance = spyrrow.StripPackingInstance("letters", height, items)
        return instance.solve(config) if stop is None else _stoppable(instance, config, stop)
    except (KeyboardInterrupt, SystemExit):
        raise
    except (
        BaseException
    ):  # the library's panics derive from BaseException; whatever it was, our own nest stands
        return None


def _stoppable(instance: Any, config: Any, stop: Callable[[], bool]) -> Any:
    """Solve in a thread that can be left behind: the library has no way to cancel."""
    import queue
    import threading

    import spyrrow

    progress = spyrrow.ProgressQueue()
    done: queue.Queue[Any] = queue.Queue()

    def work() -> None:
        try:
            done.put(instance.solve(config, progress))
        except BaseException:
            done.put(None)

    threading.Thread(target=work, name=LEFT_BEHIND, daemon=True).start()
    best: Any = None
    sound = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas, spyrrow.ReportType.Final)
    while True:
        try:
            return done.get(timeout=0.1) or best
        except queue.Empty:
            for kind, solution in progress.drain():
                if kind in sound and (best is None or solution.width < best.width):
                    best = solution
            if stop():
                return best


def _pushed_left(
    placements: Sequence[Placement], pieces: Sequence[NestPiece], width: float, spacing: float
) -> StripNest:
    """The nest moved to the start of its strip, and its true length."""
    shapes = {piece.key: piece.shape for piece in pieces}
    start = -nest_length([_turned_round(spot) for spot in placements], shapes)
    moved = tuple(
        Placement(key=spot.key, turn_deg=spot.turn_deg, x=spot.x - start, y=spot.y) for spot in placements
    )
    return StripNest(width=width, length=nest_length(moved, shapes), spacing=spacing, placements=moved)


def _turned_round(spot: Placement) -> Placement:
    """The placement seen from behind, so that its reach is minus its start."""
    return Placement(key=spot.key, turn_deg=(spot.turn_deg + 180) % 360, x=-spot.x, y=-spot.y)
