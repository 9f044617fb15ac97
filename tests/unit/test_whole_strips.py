"""Strips of a joined run: whole where only scraps lie beside them, as short as they need be everywhere else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

import pytest

from applique.cutting import (
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
    plan_cutting,
    plan_faults,
)
from applique.cutting.whole_strips import keep_strips_whole

F = Fraction
BOLT: Final = Supply(key="bolt", width=F(40), length=None, count=1, squaring=F(0))


def _run(width: str, length: str, *lies: Lie) -> Run:
    return Run(
        key="run", width=F(width), length=F(length), loss=F(1, 2), least=F(12), lies=lies or (Lie.ACROSS,)
    )


def _strips(plan: CuttingPlan) -> list[Fraction]:
    regions = [region for cloth in plan.cloths for region, piece in cloth.root.pieces() if piece.key == "run"]
    return [max(region.length, region.width) for region in regions]


@pytest.mark.parametrize(
    ("width", "length", "last"),
    [
        ("5/2", "60", 40),  # 20 1/2 would do, and 19 1/2 by 2 1/2 in would be thrown away
        ("63/16", "60", 40),
        ("4", "60", F(45, 2)),  # 2 in to spare, and 17 1/2 by 4 in is worth keeping
        ("17/2", "131/2", 28),  # 12 by 8 1/2 in as well
        ("17/2", "66", 40),  # 11 1/2 in long is not
        ("5/2", "159/2", 40),  # it took all of its strip anyway
        ("5/2", "30", 30),  # one strip alone is cut to its length at once
    ],
)
def test_the_last_strip_is_kept_whole_beside_scraps_alone(
    width: str, length: str, last: int | Fraction
) -> None:
    run = _run(width, length)
    plan = plan_cutting([run], [BOLT])
    assert plan_faults(plan, [run], [BOLT]) == ()
    *whole, end = _strips(plan)
    assert set(whole) <= {F(40)}
    assert end == last
    assert plan.used == (len(whole) + 1) * run.width


def test_strips_along_the_selvage_are_kept_whole_as_well() -> None:
    """A panel 60 in long leaves 4 3/4 in beside it: one strip of 60 and 27 1/2 in of a second, 2 3/8 in wide each."""
    run = _run("19/8", "87", Lie.ALONG)
    panel = Rectangle(key="panel", length=F(60), width=F(141, 4), count=1, lies=(Lie.ALONG,))
    plan = plan_cutting([panel, run], [BOLT])
    assert plan_faults(plan, [panel, run], [BOLT]) == ()
    assert plan.used == 60
    assert _strips(plan) == [60, 60]


def _plan(*bands: Sequence[tuple[int, str | None]], missing: Sequence[str] = ()) -> CuttingPlan:
    """Bands of 3 in from selvage to selvage, and what lies across each, so wide."""
    made = []
    for x in range(0, 3 * len(bands), 3):
        parts, y = [], 0
        for width, key in bands[x // 3]:
            fill = None if key is None else Piece(key=key, lie=Lie.ACROSS)
            parts.append(Region(x=F(x), y=F(y), length=F(3), width=F(width), fill=fill))
            y += width
        fill_of_band = Split(cut=Lie.ALONG, parts=tuple(parts)) if len(parts) > 1 else parts[0].fill
        made.append(Region(x=F(x), y=F(0), length=F(3), width=F(40), fill=fill_of_band))
    root = Region(
        x=F(0),
        y=F(0),
        length=F(3 * len(bands)),
        width=F(40),
        fill=Split(cut=Lie.ACROSS, parts=tuple(made)),
    )
    cloth = CutCloth(supply="bolt", number=1, root=root)
    return CuttingPlan(cloths=(cloth,), used=root.length, plain=root.length, ways={}, missing=tuple(missing))


WHOLE, SHORT = [(40, "run")], [(12, "run"), (28, None)]


def test_no_strip_grows_where_another_would_then_be_too_many() -> None:
    """40 and 12 and 12 in reach 63 in; were one of the short ones 40 in long, the other would not be needed."""
    plan = _plan(WHOLE, SHORT, SHORT)
    assert keep_strips_whole(plan, [_run("3", "62")]) == plan
    assert _strips(keep_strips_whole(_plan(WHOLE, WHOLE, SHORT), [_run("3", "90")])) == [40, 40, 40]


@pytest.mark.parametrize(
    ("plan", "demand"),
    [
        (_plan(WHOLE, [(12, "run"), (10, "square"), (18, None)]), _run("3", "51")),
        (_plan(WHOLE, SHORT, missing=["run"]), _run("3", "60")),
        (_plan([(12, "run"), (28, None)]), _run("3", "12")),
        (_plan(WHOLE, SHORT), Rectangle(key="run", length=F(12), width=F(3), count=2, lies=(Lie.ACROSS,))),
    ],
    ids=["a piece beside it", "missing", "one strip", "no run"],
)
def test_nothing_else_grows(plan: CuttingPlan, demand: Demand) -> None:
    assert keep_strips_whole(plan, [demand]) == plan


def test_a_strip_never_grows_thicker() -> None:
    """From two pieces of 3 1/2 in: 1/2 in is left below a strip of 3 in, and 19 1/2 in beside the second."""
    run, held = _run("3", "60"), replace(BOLT, key="held", length=F(7, 2), count=2)
    plan = plan_cutting([run], [held])
    assert plan_faults(plan, [run], [held]) == ()
    regions = [region for cloth in plan.cloths for region, _ in cloth.root.pieces()]
    assert [(region.length, region.width) for region in regions] == [(F(3), F(40)), (F(3), F(40))]
