"""The maker of the tests finds every way in which a plan or a printed number can be wrong."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Any

import pytest

from applique.cutting import (
    Block,
    Choice,
    CutCloth,
    CuttingPlan,
    Demand,
    Lie,
    Piece,
    Rectangle,
    Region,
    Run,
    Split,
    Supply,
)
from tests.cutter import (
    MM,
    SIXTEENTH,
    Cloth,
    Patch,
    Side,
    SpoiledError,
    Strip,
    add_border,
    add_mitered_border,
    cut_lengths,
    cut_plan,
    fold_and_trim,
    join,
    measure,
    read,
    sew_lengths,
    square,
    trim,
    wash,
)

F = Fraction
THREAD = F(1, 1000)
QUARTER = F(1, 4)
ALONG, ACROSS = Lie.ALONG, Lie.ACROSS


def _region(x: Any, y: Any, length: Any, width: Any, fill: Piece | Split | None = None) -> Region:
    return Region(x=F(x), y=F(y), length=F(length), width=F(width), fill=fill)


def _split(cut: Lie, *parts: Region) -> Split:
    return Split(cut=cut, parts=parts)


PANEL = Rectangle(key="panel", length=F(30), width=F(24), count=1, lies=(ALONG,))
SQUARES = Rectangle(key="squares", length=F(7, 2), width=F(7, 2), count=4, lies=(ACROSS,))
BORDER = Run(key="border", width=F(5, 2), length=F(89), loss=F(1, 2), least=F(10), lies=(ACROSS, ALONG))
LETTERS = Block(key="letters", length=F(6), width=F(40))
UPRIGHT = Rectangle(key="upright", length=F(9), width=F(21), count=2, lies=(ALONG,))
LYING = Rectangle(key="lying", length=F(18), width=F(21), count=1, lies=(ALONG,))
SLEEVE = Choice(key="sleeve", ways=((UPRIGHT,), (LYING,)))
DEMANDS: tuple[Demand, ...] = (PANEL, SQUARES, BORDER, LETTERS, SLEEVE)

BOLT = Supply(key="Mist", width=F(40), length=None, count=1, squaring=F(1))
FAT_QUARTER = Supply(key="fat quarter", width=F(21), length=F(20), count=2, squaring=F(1))
SUPPLIES = (FAT_QUARTER, BOLT)

# Drawn by hand: the panel, beside it three lengths of the border, and the squares; then the letters; 36 in of 40.
BESIDE = _region(
    0, 24, 30, 16,
    _split(
        ALONG,
        _region(0, "24", 30, "5/2", Piece(key="border", lie=ALONG)),
        _region(0, "53/2", 30, "5/2", Piece(key="border", lie=ALONG)),
        _region(0, "29", 30, "5/2", Piece(key="border", lie=ALONG)),
        _region(0, "63/2", 30, "7/2", _split(
            ACROSS,
            *(_region(F(7, 2) * i, "63/2", "7/2", "7/2", Piece(key="squares", lie=ACROSS)) for i in range(4)),
            _region(14, "63/2", 16, "7/2"),
        )),
        _region(0, 35, 30, 5),
    ),
)  # fmt: skip
ROOT = _region(
    0, 0, 36, 40,
    _split(
        ACROSS,
        _region(0, 0, 30, 40, _split(ALONG, _region(0, 0, 30, 24, Piece(key="panel", lie=ALONG)), BESIDE)),
        _region(30, 0, 6, 40, Piece(key="letters", lie=ALONG)),
    ),
)  # fmt: skip
QUARTER_CUT = _region(
    0, 0, 18, 21,
    _split(
        ACROSS,
        _region(0, 0, 9, 21, Piece(key="upright", lie=ALONG)),
        _region(9, 0, 9, 21, Piece(key="upright", lie=ALONG)),
    ),
)  # fmt: skip
PLAN = CuttingPlan(
    cloths=(
        CutCloth(supply="fat quarter", number=2, root=QUARTER_CUT),
        CutCloth(supply="Mist", number=1, root=ROOT),
    ),
    used=F(36),
    plain=F(46),
    ways=MappingProxyType({"sleeve": 0}),
    missing=(),
)
BOUGHT = F(38)
# Where parts lie in the tree of the bolt.
THE_PANEL, THE_LETTERS = (0, 0), (1,)
A_STRIP, LAST_STRIP, ROW_OF_SQUARES, WASTE = (0, 1, 0), (0, 1, 2), (0, 1, 3), (0, 1, 4)
A_SQUARE, LAST_SQUARE, END_OF_ROW = (*ROW_OF_SQUARES, 1), (*ROW_OF_SQUARES, 3), (*ROW_OF_SQUARES, 4)


def _bought(length: Fraction = BOUGHT) -> Cloth:
    return Cloth(name="Mist", length=length, width=F(40))


def _changed(region: Region, path: Sequence[int], **changes: Any) -> Region:
    """`region` with what lies at `path` changed."""
    if not path:
        return replace(region, **changes)
    assert isinstance(region.fill, Split)
    parts = list(region.fill.parts)
    parts[path[0]] = _changed(parts[path[0]], path[1:], **changes)
    return replace(region, fill=replace(region.fill, parts=tuple(parts)))


def _with_root(root: Region) -> CuttingPlan:
    return replace(PLAN, cloths=(PLAN.cloths[0], replace(PLAN.cloths[1], root=root)))


def _at(path: Sequence[int], **changes: Any) -> CuttingPlan:
    return _with_root(_changed(ROOT, path, **changes))


def test_a_sound_plan_is_cut_as_it_was_drawn() -> None:
    made = cut_plan(PLAN, DEMANDS, SUPPLIES, bought=_bought())
    assert [piece.key for piece in made.pieces] == ["upright"] * 2 + ["panel"] + ["border"] * 3 + [
        "squares"
    ] * 4 + ["letters"]
    assert [(left.length, left.width) for left in made.leftovers] == [(F(16), F(7, 2)), (F(30), F(5))]
    assert made.used == 36
    areas = [
        cloth.length * cloth.width for cloth in (*(piece.cloth for piece in made.pieces), *made.leftovers)
    ]
    assert sum(areas) == 18 * 21 + 36 * 40


def test_what_was_bought_beyond_the_plan_is_left_over() -> None:
    made = cut_plan(PLAN, DEMANDS, SUPPLIES, bought=_bought(F(40)))
    assert (made.leftovers[0].x, made.leftovers[0].length) == (F(36), F(2))


def _without(key: str) -> Callable[[], CuttingPlan]:
    """The plan with one piece of `key` left as waste."""
    paths = {"squares": A_SQUARE, "border": A_STRIP, "letters": THE_LETTERS, "panel": THE_PANEL}
    return lambda: _at(paths[key], fill=None)


def _parts(region: Region) -> tuple[Region, ...]:
    assert isinstance(region.fill, Split)
    return region.fill.parts


def _narrowed() -> tuple[Region, Region]:
    """The last strip of the border a thread too narrow, and the thread."""
    strip = _parts(BESIDE)[2]
    narrow = strip.width - THREAD
    return replace(strip, width=narrow), _region(0, strip.y + narrow, 30, THREAD)


BROKEN: dict[str, tuple[Callable[[], CuttingPlan], str]] = {
    "a root longer than the fabric": (
        lambda: _with_root(replace(ROOT, length=ROOT.length + THREAD)),
        "are wanted, short by 1/1000 in",
    ),
    "a root wider than the fabric": (
        lambda: _with_root(replace(ROOT, width=ROOT.width + THREAD)),
        "is not the cloth in hand",
    ),
    "a root that starts before the squared end": (
        lambda: _with_root(replace(ROOT, x=-THREAD)),
        "is not the cloth in hand",
    ),
    "a last part longer than what is left": (
        lambda: _at(THE_LETTERS, length=F(6) + THREAD),
        "Mist at 30, 0: short by 1/1000 in",
    ),
    "a last strip wider than what is left": (
        lambda: _at(WASTE, width=F(5) + THREAD),
        "at 0, 35: short by 1/1000 in",
    ),
    "a part that does not fill what is left": (
        lambda: _at(THE_LETTERS, length=F(6) - THREAD),
        "1/1000 by 40 in left that nobody spoke of",
    ),
    "a piece over another, along": (
        lambda: _at(THE_LETTERS, x=F(30) - THREAD),
        "at 30, 0: lies over the part before it by 1/1000 in",
    ),
    "a piece over another, across": (
        lambda: _at(LAST_STRIP, y=F(29) - THREAD),
        "at 0, 29: lies over the part before it by 1/1000 in",
    ),
    "two parts in each other's place": (
        lambda: _at((), fill=_split(ACROSS, *reversed(_parts(ROOT)))),
        "30 in before the part that nobody spoke of",
    ),
    "a gap between two parts": (
        lambda: _at(A_SQUARE, x=F(7, 2) + THREAD),
        "1/1000 in before the part that nobody spoke of",
    ),
    "a piece over the edge, across": (
        lambda: _at(THE_LETTERS, width=F(40) + THREAD),
        "goes over the edge by 1/1000 in",
    ),
    "a piece over the edge at its start": (
        lambda: _at(THE_LETTERS, y=-THREAD),
        "goes over the edge by 1/1000 in",
    ),
    "a piece over the edge, along": (
        lambda: _at(A_STRIP, length=F(30) + THREAD),
        "goes over the edge by 1/1000 in",
    ),
    "a cut that stops before the far edge": (
        lambda: _at(THE_LETTERS, width=F(40) - THREAD),
        "does not go from edge to edge, 40 in",
    ),
    "a cut that starts inside": (
        lambda: _at(A_STRIP, x=THREAD, length=F(30) - THREAD),
        "does not go from edge to edge, 30 in",
    ),
    "a part of no size": (lambda: _at(A_SQUARE, length=F(0)), "a part of 0 in cannot be cut"),
    "a part too many": (
        lambda: _at((), fill=_split(ACROSS, *_parts(ROOT), _region(36, 0, 1, 40))),
        "no cloth is left for the part at 36, 0",
    ),
    "a cut nowhere": (
        lambda: _at(THE_LETTERS, fill=_split(ALONG, _region(30, 0, 6, 40, Piece(key="letters", lie=ALONG)))),
        "told to cut, but not where",
    ),
    "a piece turned": (
        lambda: _at(THE_PANEL, fill=Piece(key="panel", lie=ACROSS)),
        "panel: its length must not run across",
    ),
    "a square turned, which nobody sees until it is sewn": (
        lambda: _at(A_SQUARE, fill=Piece(key="squares", lie=ALONG)),
        "squares: its length must not run along",
    ),
    "letters turned": (
        lambda: _at(THE_LETTERS, fill=Piece(key="letters", lie=ACROSS)),
        "letters: its length must not run across",
    ),
    "a square too few": (_without("squares"), "squares: 4 are wanted, 3 are cut, 0 missing"),
    "a square too many": (
        lambda: _at(END_OF_ROW, fill=Piece(key="squares", lie=ACROSS)),
        "squares: 4 are wanted, 5 are cut",
    ),
    "a square too short": (
        lambda: _with_root(
            _changed(
                _changed(ROOT, LAST_SQUARE, length=F(7, 2) - THREAD),
                END_OF_ROW,
                x=F(14) - THREAD,
                length=F(16) + THREAD,
            )
        ),
        "squares: 7/2 by 3499/1000 in is cut, 7/2 by 7/2 in is wanted",
    ),
    "no letters": (_without("letters"), "letters: 1 is wanted, 0 are cut"),
    "no panel": (_without("panel"), "panel: 1 are wanted, 0 are cut"),
    "a strip of the border too few": (_without("border"), "border: reaches 119/2 in, short by 59/2 in"),
    "a strip of the border too narrow": (
        lambda: _at((0, 1), fill=_split(ALONG, *_parts(BESIDE)[:2], *_narrowed(), *_parts(BESIDE)[3:])),
        "border: a strip is 2499/1000 in wide, 5/2 in is wanted",
    ),
    "strips of both directions in one run": (
        lambda: _at(WASTE, fill=Piece(key="border", lie=ACROSS)),
        "border: strips of both directions in one run",
    ),
    "a piece that nobody asked for": (
        lambda: _at(WASTE, fill=Piece(key="apron", lie=ALONG)),
        "apron: nobody asked for it",
    ),
    "both ways of a choice": (
        lambda: _at(WASTE, fill=Piece(key="lying", lie=ALONG)),
        "lying: nobody asked for it",
    ),
    "the other way of a choice": (
        lambda: replace(PLAN, ways=MappingProxyType({"sleeve": 1})),
        "lying: 1 are wanted, 0 are cut",
    ),
    "no way of a choice": (
        lambda: replace(PLAN, ways=MappingProxyType({})),
        "sleeve: nobody said which way",
    ),
    "a way that there is not": (
        lambda: replace(PLAN, ways=MappingProxyType({"sleeve": 2})),
        "sleeve: nobody said which way",
    ),
    "a way of what is no choice": (
        lambda: replace(PLAN, ways=MappingProxyType({"sleeve": 0, "panel": 0})),
        "panel: a way was chosen where there is no choice",
    ),
    "less used than is cut": (
        lambda: replace(PLAN, used=F(36) - THREAD),
        "36 in of what was bought are cut, and the plan says 35999/1000 in",
    ),
    "something missing that was cut": (
        lambda: replace(PLAN, missing=("panel",)),
        "panel: is missing although more can be bought",
    ),
    "a fat quarter that she does not have": (
        lambda: replace(PLAN, cloths=(replace(PLAN.cloths[0], number=3), PLAN.cloths[1])),
        "fat quarter 3: there is no such cloth",
    ),
    "a fabric that nobody has": (
        lambda: replace(PLAN, cloths=(replace(PLAN.cloths[0], supply="Oar"), PLAN.cloths[1])),
        "Oar 2: there is no such cloth",
    ),
    "one fat quarter cut twice": (
        lambda: replace(PLAN, cloths=(PLAN.cloths[0], *PLAN.cloths)),
        "fat quarter 2: cut already",
    ),
    "a fat quarter cut before it was squared": (
        lambda: replace(
            PLAN,
            cloths=(replace(PLAN.cloths[0], root=_changed(QUARTER_CUT, (), length=F(20))), PLAN.cloths[1]),
        ),
        "20 by 21 in at 0, 0 is not the cloth in hand, 18 by 21 in",
    ),
    "a fat quarter cut up for nothing": (
        lambda: replace(
            PLAN, cloths=(CutCloth(supply="fat quarter", number=1, root=_region(0, 0, 18, 21)), *PLAN.cloths)
        ),
        "fat quarter 1: cut up for nothing",
    ),
}


@pytest.mark.parametrize("fault", BROKEN)
def test_every_fault_of_a_plan_is_found(fault: str) -> None:
    broken, words = BROKEN[fault]
    with pytest.raises(SpoiledError, match=words):
        cut_plan(broken(), DEMANDS, SUPPLIES, bought=_bought())


@pytest.mark.parametrize(
    ("demands", "words"),
    {
        "a run a thread longer": ((replace(BORDER, length=F(89) + THREAD),), "short by 1/1000 in"),
        "a join that takes a thread more": ((replace(BORDER, loss=F(1, 2) + THREAD),), "short by 1/500 in"),
        "a run that two strips reach": ((replace(BORDER, length=F(119, 2)),), "is cut for nothing"),
        "strips shorter than the least": ((replace(BORDER, least=F(30) + THREAD),), "is shorter than"),
        "strips that may run across alone": ((replace(BORDER, lies=(ACROSS,)),), "must not run along"),
        "strips wider by a thread": ((replace(BORDER, width=F(5, 2) + THREAD),), "a strip is 5/2 in wide"),
        "a block wider by a thread": ((replace(LETTERS, width=F(40) + THREAD),), "letters: 6 by 40 in is cut"),
        "a panel shorter by a thread": ((replace(PANEL, length=F(30) - THREAD),), "panel: 30 by 24 in is cut"),
    }.values(),
)  # fmt: skip
def test_a_plan_for_other_demands_is_found(demands: tuple[Demand], words: str) -> None:
    rest = tuple(demand for demand in DEMANDS if demand.key != demands[0].key)
    with pytest.raises(SpoiledError, match=words):
        cut_plan(PLAN, (*demands, *rest), SUPPLIES, bought=_bought())


def test_what_just_holds_is_no_fault() -> None:
    ends = replace(BORDER, least=F(30), lies=(ALONG,))
    tie = Run(key="tie", width=F(5), length=F(30), loss=F(1, 2), least=F(30), lies=(ALONG,))
    demands = (*(ends if demand is BORDER else demand for demand in DEMANDS), tie)
    made = cut_plan(_at(WASTE, fill=Piece(key="tie", lie=ALONG)), demands, SUPPLIES, bought=_bought())
    assert [left.width for left in made.leftovers] == [F(7, 2)]


@pytest.mark.parametrize(
    ("bought", "words"),
    [
        (_bought(F(38) - THREAD), "36 in are wanted, short by 1/1000 in"),
        (replace(_bought(), width=F(40) - THREAD), "and the plan is for 40 in"),
        (None, "nothing was bought of it"),
    ],
)
def test_a_purchase_that_does_not_do_is_found(bought: Cloth | None, words: str) -> None:
    with pytest.raises(SpoiledError, match=words):
        cut_plan(PLAN, DEMANDS, SUPPLIES, bought=bought)


def test_what_is_missing_is_counted_where_nothing_may_be_bought() -> None:
    demands = (replace(UPRIGHT, count=3), BORDER, LETTERS)
    short = replace(
        PLAN,
        cloths=PLAN.cloths[:1],
        used=F(0),
        ways=MappingProxyType({}),
        missing=("upright", "border", "letters"),
    )
    assert len(cut_plan(short, demands, (FAT_QUARTER,)).pieces) == 2
    for missing, words in (
        (("border", "letters"), "upright: 3 are wanted, 2 are cut, 0 missing"),
        (("upright", "upright", "border", "letters"), "upright: 3 are wanted, 2 are cut, 2 missing"),
        (("upright", "letters"), "border: 0 strips are cut, 0 missing"),
        (("upright", "border", "border", "letters"), "border: 0 strips are cut, 2 missing"),
        (("upright", "border", "letters", "apron"), "apron: nobody asked for it"),
    ):
        with pytest.raises(SpoiledError, match=words):
            cut_plan(replace(short, missing=missing), demands, (FAT_QUARTER,))


def test_strips_of_a_run_that_is_missing_do_not_reach() -> None:
    wide = replace(BORDER, width=F(7, 2))
    row = _split(
        ACROSS,
        *(_region(F(7, 2) * i, 0, F(7, 2), 21, Piece(key="border", lie=ACROSS)) for i in range(2)),
        _region(7, 0, 11, 21),
    )
    cloth = CutCloth(supply="fat quarter", number=1, root=_region(0, 0, 18, 21, row))
    plan = replace(PLAN, cloths=(cloth,), used=F(0), ways={}, missing=("border",))
    assert len(cut_plan(plan, (replace(wide, length=F(42)),), (FAT_QUARTER,)).pieces) == 2
    with pytest.raises(SpoiledError, match="border: is missing, and its strips reach 83/2 in"):
        cut_plan(plan, (replace(wide, length=F(83, 2)),), (FAT_QUARTER,))


@pytest.mark.parametrize(
    "demand",
    [
        replace(PANEL, width=F(40) + THREAD),
        replace(SQUARES, length=F(40) + THREAD, count=1),
        replace(LETTERS, width=F(40) + THREAD),
        replace(BORDER, least=F(40) + THREAD, lies=(ACROSS,)),
        replace(BORDER, loss=F(40), lies=(ACROSS,)),
        replace(BORDER, width=F(40) + THREAD, lies=(ALONG,)),
    ],
)
def test_what_the_bolt_is_too_narrow_for_may_be_missing(demand: Rectangle | Block | Run) -> None:
    nothing = replace(PLAN, cloths=(), used=F(0), ways={}, missing=(demand.key,))
    assert cut_plan(nothing, (demand,), (BOLT,)).pieces == ()
    with pytest.raises(SpoiledError, match="is missing although more can be bought"):
        cut_plan(nothing, (demand,), (replace(BOLT, width=F(40) + THREAD),))


def test_printed_lengths_are_read() -> None:
    assert read("5 1/4 yd") == 189
    assert read("3/8 in") == F(3, 8)
    assert read("11/2 in") == read("5 1/2 in") == read("5,5 in") == F(11, 2)
    assert read("18.5 cm") == 185 * MM == F(925, 127)
    assert read("6 mm") == F(30, 127)
    assert read("1.2 m") == 1200 * MM
    for nothing in ("", "in", "5", "5 inches", "about 5 in", "1/4", "1/2.5 in", "-1 in"):
        with pytest.raises(SpoiledError, match="nobody can read"):
            read(nothing)


def test_cloth_that_shrinks_is_divided_for_not_multiplied() -> None:
    """100 in are needed and the cloth shrinks by 8 %: 108.70 in do, 108 in do not (algebra: 100 / 0.92)."""
    assert square(wash("", F(2500, 23), usable=F(40), sold=None, shrinkage=F(8, 100)), F(0)).length == 100
    short = wash("", F(108), usable=F(40), sold=None, shrinkage=F(8, 100))
    assert short.length == F(9936, 100)


def test_the_usable_width_is_never_shrunk_again_and_a_sold_one_is() -> None:
    assert wash("", F(36), usable=F(40), sold=None, shrinkage=F(3, 100)).width == 40
    assert wash("", F(36), usable=None, sold=F(44), shrinkage=F(3, 100)).width == F(4268, 100)
    for usable, sold in ((None, None), (F(40), F(44))):
        with pytest.raises(SpoiledError, match="one width says how wide it is"):
            wash("Mist", F(36), usable=usable, sold=sold, shrinkage=F(0))


def test_each_cut_end_is_squared() -> None:
    assert square(_bought(F(36)), F(1)).length == 34
    with pytest.raises(SpoiledError, match="nothing is left, 0 by 40 in"):
        square(_bought(F(2)), F(1))


def test_folding_the_whole_cloth_splits_what_is_left_between_both_ends() -> None:
    """A panel of 41 in out of 54 in, folded as it is: two ends of 6 1/2 in. Cut off first, one piece of 13 in."""
    panel, ends = fold_and_trim(_bought(F(54)), F(41))
    assert (panel.x, panel.length) == (F(13, 2), F(41))
    assert [(end.x, end.length) for end in ends] == [(F(0), F(13, 2)), (F(95, 2), F(13, 2))]
    assert fold_and_trim(_bought(F(41)), F(41)) == (_bought(F(41)), ())
    with pytest.raises(SpoiledError, match="short by 1/1000 in"):
        fold_and_trim(_bought(F(41) - THREAD), F(41))


def _strip(length: Any, *, width: Any = "5/2") -> Strip:
    return Strip(length=F(length), width=F(width))


def _strips(*lengths: Any, width: Any = "5/2") -> list[Strip]:
    return [_strip(length, width=width) for length in lengths]


def test_joined_strips_lose_each_join() -> None:
    """Seven strips of 40 in joined on the diagonal reach 265 in of 268: computed (`docs/sources.md`, binding)."""
    assert join(_strips(*[40] * 7), F(5, 2)).length == 265
    assert join(_strips(40, 30, 20), F(1, 2)).length == 89
    with pytest.raises(SpoiledError, match="different widths"):
        join([*_strips(40), *_strips(40, width=2)], F(1, 2))
    with pytest.raises(SpoiledError, match="a strip of 1/2 in is lost in a join of 1/2 in"):
        join(_strips(40, "1/2"), F(1, 2))
    with pytest.raises(SpoiledError, match="no strip"):
        join([], F(1, 2))


def test_lengths_are_cut_from_a_joined_strip_until_it_is_short() -> None:
    made, left = cut_lengths(join(_strips(40, 40), F(1, 2)), [F(30), F(30), F(19)])
    assert ([strip.length for strip in made], left) == ([F(30), F(30), F(19)], F(1, 2))
    assert cut_lengths(_strip(40), [F(30), F(10)])[1] == 0
    with pytest.raises(SpoiledError, match=r"39/2 in are to be cut from 3/2 in, short by 18 in"):
        cut_lengths(join(_strips(40, 40), F(1, 2)), [F(39), F(39), F(39, 2)])


def test_a_top_grows_round_by_round() -> None:
    """32 1/2 by 44 in, a border of 1 in and one of 2 in: 34 1/2 by 46, then 38 1/2 by 50 (published,
    `docs/sources.md`, butted borders)."""
    top = Patch(width=F(65, 2), height=F(44))
    for width, sides, ends in (("3/2", "44", "69/2"), ("5/2", "46", "77/2")):
        for side, length in ((Side.LEFT, sides), (Side.RIGHT, sides), (Side.TOP, ends), (Side.BOTTOM, ends)):
            top = add_border(top, _strip(length, width=width), side, seam=QUARTER, slack=F(0))
    assert top == Patch(width=F(77, 2), height=F(50))
    assert top.finished(QUARTER) == (F(38), F(99, 2))


@pytest.mark.parametrize("slack", [SIXTEENTH, MM])
@pytest.mark.parametrize("side", Side)
def test_a_border_fits_the_edge_that_it_meets(side: Side, slack: Fraction) -> None:
    top = Patch(width=F(30), height=F(40))
    edge = top.height if side in (Side.LEFT, Side.RIGHT) else top.width
    for off in (-slack, slack):
        assert add_border(top, _strip(edge + off), side, seam=QUARTER, slack=slack)
        with pytest.raises(SpoiledError, match=f"the strip for the {side} measures"):
            add_border(top, _strip(edge + off * F(1001, 1000)), side, seam=QUARTER, slack=slack)
    with pytest.raises(SpoiledError, match="lost in its seams"):
        add_border(top, _strip(edge, width=F(1, 2)), side, seam=QUARTER, slack=slack)


def test_mitered_strips_reach_past_their_corners() -> None:
    """30 by 40 in finished, a border of 3 in: 36 1/2 by 46 1/2 in cut. At the raw edge each end has √2 · 1/4 in beside
    the seam, and 1/2 in to hold: together 1.7072 in (geometry)."""
    top = Patch(width=F(61, 2), height=F(81, 2))

    def ends(more: Fraction) -> dict[Side, Strip]:
        edges = {Side.LEFT: "93/2", Side.RIGHT: "93/2", Side.TOP: "73/2", Side.BOTTOM: "73/2"}
        return {side: Strip(length=F(edge) + more, width=F(7, 2)) for side, edge in edges.items()}

    sewn = add_mitered_border(top, ends(F("1.7072")), seam=QUARTER)
    assert sewn == Patch(width=F(73, 2), height=F(93, 2))
    for more in ("1.7071", "0", "-1"):
        with pytest.raises(SpoiledError, match="does not reach its corners"):
            add_mitered_border(top, ends(F(more)), seam=QUARTER)
    three = ends(F(2))
    del three[Side.TOP]
    with pytest.raises(SpoiledError, match="four strips of one width"):
        add_mitered_border(top, three, seam=QUARTER)


def test_a_back_of_lengths_loses_two_allowances_in_each_seam() -> None:
    """Two lengths of 40 in give 79 1/2 in, so a back of 80 in needs a third (computed, `docs/sources.md`, seam
    boundary)."""
    lengths = [Patch(width=F(40), height=F(68))] * 2
    back = sew_lengths(lengths, seam=QUARTER, slack=F(0))
    assert back == Patch(width=F(159, 2), height=F(68))
    with pytest.raises(SpoiledError, match="its width cannot be trimmed to 80 in, short by 1/2 in"):
        trim(back, F(80), F(68))
    with pytest.raises(SpoiledError, match="its height cannot be trimmed to 69 in, short by 1 in"):
        trim(back, F(79), F(69))
    assert trim(back, F(79), F(68)) == Patch(width=F(79), height=F(68))
    with pytest.raises(SpoiledError, match="a length measures 67 in and should be 68 in"):
        sew_lengths([lengths[0], Patch(width=F(40), height=F(67))], seam=QUARTER, slack=SIXTEENTH)
    with pytest.raises(SpoiledError, match="nothing to sew"):
        sew_lengths([], seam=QUARTER, slack=SIXTEENTH)


def test_squares_that_are_printed_too_coarsely_do_not_fit_their_border() -> None:
    """27 squares printed 5.3 cm with a seam of 0.6 cm finish 110.7 cm where the border must be 108 cm; cut at
    5.5 cm with 0.75 cm they finish 108 cm: computed."""

    def finished(cut: str, seam: str) -> Fraction:
        side = read(cut)
        row = join(_strips(*[side] * 27, width=side), 2 * read(seam))
        return row.length - 2 * read(seam)

    with pytest.raises(SpoiledError, match="the border measures"):
        measure("the border", told=read("108 cm"), found=finished("5.3 cm", "0.6 cm"), slack=MM)
    assert finished("5.3 cm", "0.6 cm") == read("110.7 cm")
    measure("the border", told=read("108 cm"), found=finished("5.5 cm", "0.75 cm"), slack=F(0))
