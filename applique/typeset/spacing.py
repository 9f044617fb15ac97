"""The spacing of a row: what joins, how far apart the rest stands, and how even the white is.

Lengths are font units from the row's origin, baseline at 0. Letters are placed by their advance; only the
least clear gap and the evening of the white look at their true shapes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from applique.geometry.place import Place
from applique.geometry.points import Bounds
from applique.geometry.polygons import Shape, parts_of
from applique.typeset.shaping import Letter
from applique.typeset.typeface import GlyphSpot, Typeface

__all__ = [
    "Cut",
    "RowSetting",
    "SetRow",
    "deepest_white",
    "ink_of",
    "joined_cuts",
    "set_row",
    "white_between",
]

_GAP_REACHED: Final = 1e-7
"""A gap that falls short by less than this part of the em is reached."""
_LOOK_BACK: Final = 2
"""A letter keeps its gap from this many cuts before it, for a narrow one between two wide ones."""
_SPOT_PLACES: Final = 6
"""Decimals of a font unit to which glyphs that stand alike are alike."""
_SLICES: Final = 48
_DEEPEST_WHITE: Final = 0.15
"""Share of the cap height to which the eye counts the white inside an open side (L, T, C) to the gap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What is cut as one: a letter, or the letters of a connected script that join.

    `glyphs` stand from the cut's own origin, which stands at `x_fu` in the row, and in a row that runs down at `y_fu`,
    turned by `turn_deg`. `word` counts the words of the row from its start, `letters` are the numbers
    of the letters in it, counted as typed.
    """

    text: str
    letters: tuple[int, ...]
    glyphs: tuple[GlyphSpot, ...]
    x_fu: float
    word: int
    y_fu: float = 0.0
    turn_deg: float = 0.0

    def moved_to(self, x_fu: float) -> Cut:
        """The same cut at another place in a row across."""
        return Cut(text=self.text, letters=self.letters, glyphs=self.glyphs, x_fu=x_fu, word=self.word)

    def place(self, scale: float) -> Place:
        """Where its origin stands in the row, at `scale` inches per font unit."""
        return Place(x=self.x_fu * scale, y=self.y_fu * scale, turn_deg=self.turn_deg)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowSetting:
    """How a row is spaced: tracking, least clear gap and evening, with the fineness of the measuring."""

    tracking_fu: float
    least_gap_fu: float
    even: bool
    chord_error_fu: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetRow:
    """A row as spaced: its cuts from left to right and the extent of their ink."""

    cuts: tuple[Cut, ...]
    ink_fu: Bounds


def set_row(letters: Sequence[Letter], typeface: Typeface, setting: RowSetting) -> SetRow:
    """The letters as spaced cuts: joined where they join, tracked, evened if asked, kept clear."""
    cuts = joined_cuts(letters, typeface, setting)
    if setting.even:
        cuts = _evened(cuts, typeface, setting)
    cuts = _cleared(cuts, typeface, setting)
    return SetRow(cuts=tuple(cuts), ink_fu=ink_of(cuts, typeface))


def joined_cuts(letters: Sequence[Letter], typeface: Typeface, setting: RowSetting) -> list[Cut]:
    """The letters of a row across as cuts: joined where they join, tracked."""
    return _joined(_tracked(letters, setting.tracking_fu), typeface, setting)


def ink_of(cuts: Sequence[Cut], typeface: Typeface) -> Bounds:
    """The exact extent of the ink of `cuts`, in font units from the row's origin."""
    boxes = [(cut.x_fu, typeface.bounds(cut.glyphs)) for cut in cuts]
    return (
        min(x + box[0] for x, box in boxes),
        min(box[1] for _, box in boxes),
        max(x + box[2] for x, box in boxes),
        max(box[3] for _, box in boxes),
    )


def _tracked(letters: Sequence[Letter], tracking_fu: float) -> list[Letter]:
    """Tracking after every letter but the last; letters that join their neighbor are left together."""
    if not tracking_fu:
        return list(letters)
    tracked: list[Letter] = []
    shift = 0.0
    for index, letter in enumerate(letters):
        tracked.append(replace(letter, x_fu=letter.x_fu + shift))
        after = letters[index + 1] if index + 1 < len(letters) else None
        if after is not None and not (letter.joins and after.joins and letter.numbers and after.numbers):
            shift += tracking_fu
    return tracked


def _joined(letters: Sequence[Letter], typeface: Typeface, setting: RowSetting) -> list[Cut]:
    """One cut for each letter, or for each run of joining letters that touch."""
    cuts: list[Cut] = []
    word, after_space, last_joins = 0, False, False
    for letter in letters:
        if not letter.numbers:
            after_space = True
            continue
        if after_space and cuts:
            word += 1
        joinable = cuts and letter.joins and last_joins and not after_space
        if joinable and _touch(cuts[-1], letter, typeface, setting):
            cuts[-1] = _welded(cuts[-1], letter)
        else:
            cuts.append(
                Cut(
                    text=letter.text,
                    letters=letter.numbers,
                    glyphs=letter.glyphs,
                    x_fu=letter.x_fu,
                    word=word,
                )
            )
        after_space, last_joins = False, letter.joins
    return [_from_its_first_glyph(cut) for cut in cuts]


def _from_its_first_glyph(cut: Cut) -> Cut:
    """The same cut with its origin at its first glyph.

    Fonts that are written from right to left put their kerning into the place of a glyph as well as into its advance.
    Left there, the same letter before two different neighbors would be two shapes.
    """
    start = cut.glyphs[0][1]
    if not start:
        return cut
    glyphs = tuple((glyph, round(x - start, _SPOT_PLACES), y) for glyph, x, y in cut.glyphs)
    return replace(cut, glyphs=glyphs, x_fu=cut.x_fu + start)


def _touch(cut: Cut, letter: Letter, typeface: Typeface, setting: RowSetting) -> bool:
    offset = letter.x_fu - cut.x_fu
    return typeface.gap(cut.glyphs, letter.glyphs, offset, chord_error_fu=setting.chord_error_fu) == 0.0


def _welded(cut: Cut, letter: Letter) -> Cut:
    shift = letter.x_fu - cut.x_fu
    before, after = (cut, letter) if cut.letters < letter.numbers else (letter, cut)
    return replace(
        cut,
        text=before.text + after.text,
        letters=tuple(sorted((*cut.letters, *letter.numbers))),
        glyphs=(*cut.glyphs, *((glyph, x + shift, y) for glyph, x, y in letter.glyphs)),
    )


def _cleared(cuts: Sequence[Cut], typeface: Typeface, setting: RowSetting) -> list[Cut]:
    """Cuts moved right, as little as needed, until each keeps the least gap from those before it."""
    placed: list[Cut] = []
    shift = 0.0
    for cut in cuts:
        x = cut.x_fu + shift
        for earlier in placed[-_LOOK_BACK:]:
            x = earlier.x_fu + _clearing(earlier, cut, x - earlier.x_fu, typeface, setting)
        shift = x - cut.x_fu
        placed.append(cut.moved_to(x))
    return placed


def _clearing(left: Cut, right: Cut, start: float, typeface: Typeface, setting: RowSetting) -> float:
    """The least offset from `start` on at which `right` is the least gap clear of `left`.

    The distance grows no faster than the offset, so moving by what is lacking never overshoots.
    """
    offset, gap = start, setting.least_gap_fu
    if typeface.bounds(left.glyphs)[2] + gap <= typeface.bounds(right.glyphs)[0] + offset:
        return offset
    enough = _GAP_REACHED * typeface.units_per_em

    def clear() -> float:
        return typeface.gap(left.glyphs, right.glyphs, offset, chord_error_fu=setting.chord_error_fu)

    while (lacking := gap - clear()) > enough:
        offset += lacking
    return offset


def _evened(cuts: Sequence[Cut], typeface: Typeface, setting: RowSetting) -> list[Cut]:
    """Cuts moved so that the white between neighbors in a word has the same area for its height.

    The white of a pair is measured in horizontal slices from the baseline to its taller top, and no
    deeper into an open side than the eye counts it. The mean white of the row stays what the font gave it.
    """
    pairs = [index for index in range(1, len(cuts)) if cuts[index].word == cuts[index - 1].word]
    if len(pairs) < 2:
        return list(cuts)
    whites = {index: _mean_white(cuts[index - 1], cuts[index], typeface, setting) for index in pairs}
    target = math.fsum(whites.values()) / len(pairs)
    shift, evened = 0.0, [cuts[0]]
    for index in range(1, len(cuts)):
        shift += target - whites[index] if index in whites else 0.0
        evened.append(cuts[index].moved_to(cuts[index].x_fu + shift))
    return evened


def _mean_white(left: Cut, right: Cut, typeface: Typeface, setting: RowSetting) -> float:
    """The area of the white between two cuts divided by the height over which the eye compares it."""
    left_shape = typeface.shape(left.glyphs, chord_error_fu=setting.chord_error_fu)
    right_shape = typeface.shape(right.glyphs, chord_error_fu=setting.chord_error_fu)
    cap = typeface.cap_height_fu
    top = min(max(left_shape.bounds[3], right_shape.bounds[3]), cap)
    heights = (np.arange(_SLICES) + 0.5) / _SLICES * max(top, cap / 10)
    between = right.x_fu + right_shape.bounds[0] - left.x_fu - left_shape.bounds[2]
    return between + white_between(left_shape, right_shape, heights, deepest=deepest_white(typeface))


def deepest_white(typeface: Typeface) -> float:
    """How deep the eye counts the white inside an open side to the gap, in font units."""
    return _DEEPEST_WHITE * typeface.cap_height_fu


def white_between(left: Shape, right: Shape, heights: NDArray[np.float64], *, deepest: float) -> float:
    """The mean white inside the right side of `left` and the left side of `right`, in slices at `heights`, no deeper
    than `deepest`; that between their extents comes to it."""
    right_side = left.bounds[2] - _extreme(left, heights, rightmost=True)
    left_side = _extreme(right, heights, rightmost=False) - right.bounds[0]
    return float(np.mean(np.minimum(right_side, deepest)) + np.mean(np.minimum(left_side, deepest)))


def _extreme(shape: Shape, heights: NDArray[np.float64], *, rightmost: bool) -> NDArray[np.float64]:
    """For each height the outermost x of the shape's edge there; the far side where it has none."""
    side = 1.0 if rightmost else -1.0
    far = shape.bounds[0] if rightmost else -shape.bounds[2]
    outermost = np.full(heights.shape, far)
    for part in parts_of(shape):
        ring = np.asarray(part.exterior.coords)
        (x0, y0), (x1, y1) = ring[:-1].T, ring[1:].T
        low, high = np.minimum(y0, y1), np.maximum(y0, y1)
        crossed = (low[:, None] <= heights) & (heights < high[:, None])
        rise = np.where(y1 == y0, 1.0, y1 - y0)
        x = x0[:, None] + (heights - y0[:, None]) * ((x1 - x0) / rise)[:, None]
        outermost = np.maximum(outermost, np.where(crossed, side * x, -np.inf).max(axis=0))
    return side * outermost
