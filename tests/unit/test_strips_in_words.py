"""What is said of border strips: joined, cut up or whole, each direction of a one-way print for itself."""

from __future__ import annotations

from fractions import Fraction

import pytest

from applique.cloth import ClothUse, Joined, Strips, UseKind
from applique.cutting import Lie
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Join
from applique.units import Units
from applique.words.cloth import use_how

F = Fraction
SIDES = Strips(key="sides joined", length=F(42), width=F(3), count=3, lie=Lie.ALONG)
ENDS = Strips(key="ends", length=F(31), width=F(3), count=2, lie=Lie.ACROSS)
ONE = Strips(key="ends joined", length=F(62), width=F(3), count=1, lie=Lie.ACROSS)
REACH = Joined(key="sides joined", join=Join.DIAGONAL, strips=3, reach=F(120), needed=F(110))
JOINED = "3 × 3 in by 42 in; join end to end with diagonal seams into 120 in, then cut 2 × 55 in"


@pytest.mark.parametrize(
    ("strips", "joined", "said"),
    [
        ([SIDES, ENDS], [REACH], f"left and right: {JOINED}; top and bottom: 2 × 3 in by 31 in, no joins"),
        (
            [SIDES, ONE],
            [REACH],
            f"left and right: {JOINED}; top and bottom: 1 × 3 in by 62 in; cut 2 × 31 in from it, no joins",
        ),
    ],
    ids=["others whole", "others cut up"],
)
def test_strips_of_a_one_way_print_are_told_each_direction_for_itself(
    strips: list[Strips], joined: list[Joined], said: str
) -> None:
    pieces = (CutPieces(length=F(55), count=2, upright=True), CutPieces(length=F(31), count=2))
    cut = ClothCut(
        fabric="Print", kind=CutKind.BORDER_STRIPS, strip_width=F(3), pieces=pieces, join=Join.DIAGONAL
    )
    use = ClothUse(kind=UseKind.BORDER, cut=cut, strips=tuple(strips), joined=tuple(joined), border=1)
    assert str(use_how(use, Units.INCHES)) == said


def test_whole_strips_that_lie_both_ways_are_only_counted() -> None:
    """Their print runs any way: which of them are for the sides says nothing."""
    pieces = (CutPieces(length=F(55), count=2, upright=True), CutPieces(length=F(31), count=2))
    long = Strips(key="1", length=F(55), width=F(3), count=2, lie=Lie.ALONG)
    cut = ClothCut(
        fabric="Plain", kind=CutKind.BORDER_STRIPS, strip_width=F(3), pieces=pieces, join=Join.DIAGONAL
    )
    use = ClothUse(kind=UseKind.BORDER, cut=cut, strips=(long, ENDS), joined=(), border=1)
    assert str(use_how(use, Units.INCHES)) == "2 × 3 in by 55 in and 2 × 3 in by 31 in, no joins"
