"""Nests beside the marks: run `python tests/benchmarks/nesting.py [font.ttf]`.

The marks were measured beforehand with Lato Black (Debian package fonts-lato), capitals of plain words at 7 in on 17 in
of web, 1/4 in apart, upright or turned by 180°; other words of the same length nest a little differently, so the share
of the area bound (letters grown by half the spacing) is what compares.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path

from shapely import affinity

from applique.nesting import Effort, Nester, NestPiece, StripJob, lay_strip, nest_bins, nest_strips
from applique.nesting.values import solid
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text

WORDS = "THEQUICKROWERSBENDTHEIROARSANDPULLFORHOMEBEFOREDARKONTHEWIDERIVER"
MARKS = {24: (71.9, 55.5, 38.7), 60: (183.4, 149.3, 103.3), 200: (602.0, 490.5, 335.8)}
"""Boxes on shelves, the best found by any engine in 30 s, and what no layout can be shorter than; inches."""
LATO = Path("/usr/share/fonts/truetype/lato/Lato-Black.ttf")


def letters(count: int, cap_height: float, font: str) -> list[NestPiece]:
    """The first `count` letters of the words, again and again."""
    typeface = open_typeface(font)
    scale = cap_height / typeface.cap_height_fu
    text = (WORDS * (count // len(WORDS) + 1))[:count]
    pieces = []
    for character, number in Counter(text).items():
        (letter,) = shape_text(character, typeface)
        shape = typeface.shape(letter.glyphs, chord_error_fu=0.001 / scale)
        sized = affinity.scale(shape, scale, scale, origin=(0, 0))
        pieces.append(NestPiece(key=character, shape=sized, count=number, turns_deg=(0.0, 180.0)))
    return pieces


def shelves(pieces: list[NestPiece], width: float, spacing: float) -> float:
    """The length that boxes on shelves take, the highest first, upright: what a maker does by hand."""
    bounds = [piece.shape.bounds for piece in pieces for _ in range(piece.count)]
    rows: list[list[float]] = []
    for across, high in sorted(((x1 - x0, y1 - y0) for x0, y0, x1, y1 in bounds), key=lambda size: -size[1]):
        row = next((row for row in rows if row[0] + spacing + across <= width), None)
        if row is None:
            rows.append([across, high])
        else:
            row[0] += spacing + across
    return sum(row[1] for row in rows) + spacing * (len(rows) - 1)


def area_bound(pieces: list[NestPiece], width: float, spacing: float) -> float:
    """No layout is shorter: the letters, counters filled, grown by half the spacing, over the width grown by it."""
    grown = sum(solid(piece.shape).buffer(spacing / 2, quad_segs=16).area * piece.count for piece in pieces)
    return grown / (width + spacing) - spacing


def main() -> None:
    """Print both tables."""
    font = sys.argv[1] if len(sys.argv) > 1 else str(LATO) if LATO.exists() else "Montserrat"
    print(f"strips, {font}")
    print(
        f"{'letters':>8}{'shelves':>9}{'quick':>8}{'normal':>8}{'long':>8}{'bound':>8}   seconds   mark/bound"
    )
    for count, (_, mark, bound) in MARKS.items():
        pieces = tuple(letters(count, 7.0, font))
        job = StripJob(pieces=pieces, width=17, spacing=0.25)
        row, seconds = [shelves(list(pieces), 17, 0.25)], []
        for effort in Effort:
            start = time.perf_counter()
            (nest,) = nest_strips([job], Nester(effort=effort)).nests
            seconds.append(time.perf_counter() - start)
            row.append(nest.length)
        limit = area_bound(list(pieces), 17, 0.25)
        shares = "/".join(f"{length / limit:.2f}" for length in row[1:])
        times = "/".join(f"{second:.0f}" for second in seconds)
        print(
            f"{count:8}"
            + "".join(f"{length:8.1f} " for length in [*row, limit])
            + f" {times:>8}   {shares} of {mark / bound:.2f}"
        )
    print("\npages of 7.5 by 10 in, 4 in letters, 1/4 in apart; boxes 6/15/48, best known 5/13/42")
    for count in MARKS:
        pieces = tuple(letters(count, 4.0, font))
        start = time.perf_counter()
        pages = nest_bins(pieces, width=7.5, height=10, spacing=0.25)
        print(f"{count:8}{len(pages.bins):6} pages in {time.perf_counter() - start:.1f} s")
    pieces = tuple(letters(1000, 7.0, font))
    start = time.perf_counter()
    length = lay_strip(pieces, width=17, spacing=0.25).length
    print(f"\n1,000 letters, quick: {length:.0f} in, in {time.perf_counter() - start:.1f} s")


if __name__ == "__main__":
    main()
