"""Where the lines of the placement guide's small drawing run on its page: baselines, ticks, crosses, turned letters.

What is drawn and what numbers keep clear of are the same lines. Places are points, brought there by a matrix.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from applique.geometry.place import Place
from applique.geometry.points import Matrix, Point, point_under
from applique.marks import Lean, LetterMark, RowMark

__all__ = ["CROSS", "PAST", "TICK", "baseline_path", "cross_on", "crossed", "lean_lines", "tick_under"]

PAST: Final = 6.0
"""Points that the center line goes on past the cut edge."""
CROSS: Final = 2.5
"""Points from the middle of a cross to the ends of its strokes."""
_PAST_TOP: Final = 14.0
"""Points that the upright of a turned letter goes on past its top."""
_TICK_GAP: Final = 1.0
"""Points below a baseline at which a tick starts."""
TICK: Final = 6.0
"""Points below it at which it ends; shorter where the next row is near."""


def crossed(mark: RowMark) -> Iterator[Point]:
    """The points of a row that a line is drawn through: the ends of a baseline that slants, and of that of each letter
    that is turned."""
    if not mark.level:
        yield from (mark.baseline[0], mark.baseline[-1])
    for letter in mark.letters:
        if letter.own is not None:
            yield from letter.own.ends


def cross_on(point: Point, onto: Matrix) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The two strokes of the cross on a point of a slanting baseline."""
    x, y = point_under(onto, point)
    arm = CROSS
    return ((x - arm, y - arm), (x + arm, y + arm)), ((x - arm, y + arm), (x + arm, y - arm))


def lean_lines(lean: Lean, onto: Matrix) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The upright of a letter that is turned and the line square to its baseline, both a little longer than it is
    high."""
    foot, top, square = (point_under(onto, point) for point in (lean.foot, lean.top, lean.square))
    past = 1.0 + _PAST_TOP / math.dist(foot, top)

    def drawn(end: Point) -> tuple[Point, Point]:
        return foot, (foot[0] + past * (end[0] - foot[0]), foot[1] + past * (end[1] - foot[1]))

    return drawn(top), drawn(square)


def baseline_path(mark: RowMark, onto: Matrix) -> list[Point]:
    """The baseline of a row; a level one goes on a little beyond the panel."""
    path = [point_under(onto, point) for point in mark.baseline]
    beyond = PAST - 1 if mark.level else 0.0
    return [(path[0][0] - beyond, path[0][1]), *path[1:-1], (path[-1][0] + beyond, path[-1][1])]


def tick_under(letter: LetterMark, onto: Matrix, tick: float, *, across: bool) -> tuple[Point, Point]:
    """The tick under the middle of a letter, which reaches `tick` points below its baseline; in a row that runs down,
    so far `across` the line on either side."""
    x, y = point_under(onto, (letter.tick.x, letter.tick.y))
    at = Place(x=x, y=y, turn_deg=letter.tick.turn_deg)
    return at.point((0.0, tick if across else -_TICK_GAP)), at.point((0.0, -tick))
