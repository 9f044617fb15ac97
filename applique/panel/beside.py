"""Several panels side by side in one frame, to be shown together: where each lies.

Inches, origin at the lower left corner of the whole, y up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate
from typing import Final

__all__ = ["side_by_side"]

_WIDER: Final = 1.4
"""How much wider than high the whole is, about."""
_APART: Final = Fraction(1, 8)
"""The white between panels, as a share of the largest side of any, and no less than `_LEAST`: their names go there."""
_LEAST: Final = Fraction(4)


def side_by_side(
    sizes: Sequence[tuple[Fraction, Fraction]],
) -> tuple[tuple[tuple[Fraction, Fraction], ...], tuple[Fraction, Fraction]]:
    """The lower left corner of each panel of those sizes (width, height), in reading order, and the size of the whole.

    They stand in lines from the top, each on the foot of its line; one alone fills the whole.
    """
    if len(sizes) == 1:
        return ((Fraction(0), Fraction(0)),), sizes[0]
    apart = max(_LEAST, max(max(size) for size in sizes) * _APART)
    area = sum(float((width + apart) * (height + apart)) for width, height in sizes)
    room = max(math.sqrt(area * _WIDER), *(float(width) for width, _ in sizes))
    lines: list[list[tuple[Fraction, Fraction]]] = [[]]
    for size in sizes:
        taken = sum((width + apart for width, _ in lines[-1]), Fraction(0)) + size[0]
        if lines[-1] and float(taken) > room:
            lines.append([])
        lines[-1].append(size)
    highs = [max(height for _, height in line) for line in lines]
    whole = sum(highs, Fraction(0)) + apart * len(lines)
    places: list[tuple[Fraction, Fraction]] = []
    for line, down in zip(lines, accumulate(high + apart for high in highs), strict=True):
        lefts = accumulate((width + apart for width, _ in line[:-1]), initial=Fraction(0))
        places += [(left, whole - down + apart) for left in lefts]
    across = max(sum((width for width, _ in line), apart * (len(line) - 1)) for line in lines)
    return tuple(places), (across, whole)
