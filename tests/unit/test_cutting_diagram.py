"""A cutting plan as it is drawn and said: groups, courses, bands, and what a maker reads from the page."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

import pytest

from applique.cutting import CutCloth, Lie, Piece, Region, Split
from applique.cutting.diagram import Diagram, draw_cloth, letters_of
from applique.units import Units
from applique.words.cutting import cuts_said, numbers_said

Fill = Callable[[Region], Piece | Split | None]


def piece(key: str) -> Fill:
    return lambda _: Piece(key=key, lie=Lie.ALONG)


def cut(way: Lie, *sizes: tuple[float, int, Fill]) -> Fill:
    """Parts side by side, each (size, how many, what it becomes); what remains is left over."""

    def filled(region: Region) -> Split:
        parts: list[Region] = []
        whole = region.length if way is Lie.ACROSS else region.width
        at = Fraction(0)

        def add(size: Fraction, fill: Fill) -> None:
            nonlocal at
            part = (
                Region(x=region.x + at, y=region.y, length=size, width=region.width, fill=None)
                if way is Lie.ACROSS
                else Region(x=region.x, y=region.y + at, length=region.length, width=size, fill=None)
            )
            parts.append(Region(x=part.x, y=part.y, length=part.length, width=part.width, fill=fill(part)))
            at += size

        for size, count, fill in sizes:
            for _ in range(count):
                add(Fraction(size), fill)
        if at < whole:
            add(whole - at, lambda _: None)
        return Split(cut=way, parts=tuple(parts))

    return filled


def cloth(length: float, fill: Fill, *, width: int = 42) -> CutCloth:
    root = Region(x=Fraction(0), y=Fraction(0), length=Fraction(length), width=Fraction(width), fill=None)
    return CutCloth(
        supply="bought",
        number=1,
        root=Region(x=root.x, y=root.y, length=root.length, width=root.width, fill=fill(root)),
    )


def diagram(length: float, *sizes: tuple[float, int, Fill], longest: int = 120) -> Diagram:
    made = cloth(length, cut(Lie.ACROSS, *sizes))
    return draw_cloth(made, squaring=Fraction(1), longest=Fraction(longest))


PANEL = cut(Lie.ALONG, (30.5, 1, piece("panel")), (2.5, 4, piece("border")))
SQUARES = cut(Lie.ALONG, (3.5, 12, piece("squares")))
WHOLE = (48.5, 1, PANEL), (2.5, 5, piece("binding")), (3.5, 3, SQUARES)


def test_pieces_that_are_cut_together_are_one_group() -> None:
    groups = {group.key: group for group in diagram(71.5, *WHOLE).groups}
    assert {key: group.count for key, group in groups.items()} == {
        "panel": 1,
        "border": 4,
        "binding": 5,
        "squares": 36,
    }
    at = groups["squares"].region
    assert (at.x, at.length, at.y, at.width) == (Fraction(61), Fraction(21, 2), Fraction(0), Fraction(42))
    assert (groups["border"].length, groups["border"].width) == (Fraction(97, 2), Fraction(5, 2))


def test_bands_count_on_and_equal_ones_are_one() -> None:
    made = diagram(80, *WHOLE)
    assert [str(numbers_said(band)) for band in made.bands] == ["1", "2–6", "7–9"]
    assert [(band.x, band.course.count, band.course.size) for band in made.bands] == [
        (Fraction(0), 1, Fraction(97, 2)),
        (Fraction(97, 2), 5, Fraction(5, 2)),
        (Fraction(61), 3, Fraction(7, 2)),
    ]
    # What is left at the end is named as left over, and is no band.
    assert [(left.x, left.length, left.width) for left in made.leftovers] == [
        (Fraction(143, 2), Fraction(17, 2), Fraction(42))
    ]


def test_a_cut_is_the_deeper_the_later_it_is_made() -> None:
    made = diagram(71.5, *WHOLE)
    across = {line.x0 for line in made.cuts if line.depth == 1}
    assert across == {Fraction(97, 2), *(61 - n * Fraction(5, 2) for n in range(5)), Fraction(129, 2), 68}
    assert all(line.y0 == 0 and line.y1 == 42 for line in made.cuts if line.depth == 1)
    along = [line for line in made.cuts if line.depth == 2]
    # Four beside the panel, and what is left of them; eleven in each strip of squares.
    assert len(along) == 5 + 3 * 11
    assert all(line.y0 == line.y1 for line in along)


@pytest.mark.parametrize(
    ("longest", "ends"), [(120, [100]), (60, [50, 100]), (30, [20, 50, 80, 100]), (25, [20, 50, 80, 100])]
)
def test_a_long_cloth_is_drawn_in_stretches_that_end_where_a_band_ends(
    longest: int, ends: Sequence[int]
) -> None:
    made = diagram(100, (20, 1, piece("a")), (30, 2, piece("b")), (20, 1, piece("c")), longest=longest)
    assert [int(stretch.end) for stretch in made.stretches] == list(ends)
    # A band keeps its number, and nothing that is named reaches over the end of its stretch.
    assert [band.number for stretch in made.stretches for band in stretch.bands][-1] == 4
    assert [int(stretch.start) for stretch in made.stretches] == [0, *ends[:-1]]


def test_what_is_named_stays_within_its_stretch() -> None:
    made = diagram(90, (30, 3, piece("a")), longest=65)
    assert [[(group.count, int(group.region.x)) for group in one.groups] for one in made.stretches] == [
        [(2, 0)],
        [(1, 60)],
    ]
    assert [[str(numbers_said(band)) for band in one.bands] for one in made.stretches] == [["1–2"], ["3"]]
    assert [str(numbers_said(band)) for band in made.bands] == ["1–3"]


def test_each_cut_is_said_in_its_order() -> None:
    made = diagram(71.5, *WHOLE)
    letters = letters_of([made])
    assert letters == {"panel": "a", "border": "b", "binding": "c", "squares": "d"}
    said = [
        (depth, str(words)) for band in made.bands for depth, words in cuts_said(band, letters, Units.INCHES)
    ]
    assert said == [
        (0, "Cut across at 48 1/2 in."),
        (1, "From it, along the selvage: 1 at 30 1/2 in, piece a"),
        (1, "From it, along the selvage: 4 at 2 1/2 in, piece b"),
        (1, "These cuts are longer than a mat: fold the piece once end to end, so that 24 1/4 in lie on it."),
        (0, "Cut 5 strips across, each 2 1/2 in: piece c."),
        (0, "Cut 3 strips across, each 3 1/2 in."),
        (1, "From it, along the selvage: 12 at 3 1/2 in, piece d"),
    ]


def test_letters_go_on_after_z() -> None:
    made = diagram(40, *((1, 1, piece(str(n))) for n in range(30)))
    assert list(letters_of([made]).values())[24:29] == ["y", "z", "aa", "ab", "ac"]
