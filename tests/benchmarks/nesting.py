"""Nests beside the marks: run `python tests/benchmarks/nesting.py [FONT]`.

FONT is a font file. Without it the letters are those of the marks, Lato Black, from the package that
`pip install -e ".[bench]"` installs. The marks are for capitals of plain words at 7 in on 17 in of web, 1/4 in apart,
upright or turned by 180°; other words of the same length nest a little differently, so the share of the area bound
(letters grown by half the spacing) is what compares.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from importlib import resources
from pathlib import Path

from shapely import affinity

from applique.geometry.polygons import solid
from applique.nesting import Effort, Nester, NestPiece, StripJob, lay_strip, nest_bins, nest_strips
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text

WORDS = "THEQUICKROWERSBENDTHEIROARSANDPULLFORHOMEBEFOREDARKONTHEWIDERIVER"
MARKS = {24: (71.9, 55.5, 38.7), 60: (183.4, 149.3, 103.3), 200: (602.0, 490.5, 335.8)}
"""Inches of boxes on shelves, of the best nest found in 30 s, and what no layout can be shorter than.

From memory: measured once for other words than WORDS, by a script that is not kept and with nesting engines that nobody
wrote down. `shelves` and `area_bound` come within 12 % and 3 % of the first and the third for WORDS.
"""
PAGE_MARKS = "boxes 6/15/48, best known 5/13/42"
"""From memory, like MARKS."""


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


def lato_black() -> str:
    """The font file of the marks, from the package fontpkg-lato."""
    try:
        return str(resources.files("fontpkg_lato") / "files" / "Lato-Black.ttf")
    except ModuleNotFoundError:
        raise SystemExit(
            'Lato Black is not installed: pip install -e ".[bench]", or name a font file'
        ) from None


def main() -> None:
    """Print both tables."""
    parser = argparse.ArgumentParser(description="Nests beside the marks.")
    parser.add_argument("font", nargs="?", type=Path, help="a font file; Lato Black if left out")
    named = parser.parse_args().font
    font = str(named) if named else lato_black()
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
    print(f"\npages of 7.5 by 10 in, 4 in letters, 1/4 in apart; {PAGE_MARKS}")
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
