"""Baselines on whole steps below the cut edge, by the printed guide's own numbers."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise, product
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.pattern import draft
from applique.sewing.placed import Placed, place

STEPS = {"1/8in": Fraction(1, 8), "1/4in": Fraction(1, 4), "0.5cm": Fraction(50, 254), "1in": Fraction(1)}


def _placed(texts: list[str], step: str | None, **tables: Any) -> Placed:
    lettering = {"font": "Fredoka", **tables.pop("lettering", {})}
    if step is not None:
        lettering["baseline_step"] = step
    rows = [{"text": text} for text in texts]
    return place(design_from_mapping({"row": rows, "lettering": lettering, **tables}))


def _gaps(placed: Placed) -> list[float]:
    """The space above, between and below the rows, by their ink."""
    rows = placed.panel.rows
    between = [above.ink[1] - below.ink[3] for above, below in pairwise(rows)]
    return [float(placed.panel.height) - rows[0].ink[3], *between, rows[-1].ink[1]]


@settings(max_examples=60, deadline=None)
@given(
    texts=st.lists(st.sampled_from(["ROW", "Joy", "jog", "aa"]), min_size=1, max_size=5),
    step=st.sampled_from(sorted(STEPS)),
    height=st.integers(160, 480).map(lambda eighths: f"{eighths}/8in"),
    cap_height=st.sampled_from(["2in", "3 1/8in", "fit", "tight"]),
    row_gap=st.sampled_from(["0in", "1/2in", "2in"]),
    rows=st.sampled_from(["equal white", "even baselines"]),
    trim=st.sampled_from(["0in", "3/4in", "1in"]),
)
def test_every_baseline_is_on_a_step_or_said_to_stay(
    texts: list[str], step: str, height: str, cap_height: str, row_gap: str, rows: str, trim: str
) -> None:
    asked = "fit" if cap_height == "tight" else cap_height
    tables: dict[str, Any] = {
        "panel": {"width": "40in", "height": height, "trim_after": trim},
        "lettering": {"cap_height": asked, "row_gap": row_gap, "rows": rows},
    }
    try:
        placed = _placed(texts, None if cap_height == "tight" else step, **tables)
    except Refusal:
        assume(False)
    sizes = [{"text": row.text, "cap_height": f"{row.cap_height}in"} for row in placed.panel.rows]
    before = _placed(texts, None, **{**tables, "row": sizes})
    if cap_height == "tight":
        placed = _placed(texts, step, **{**tables, "row": sizes})
    size = float(STEPS[step])
    stayed = {n.where.row for n in placed.panel.notices if n.kind == "baseline-off-the-step"}
    cut_top = float(placed.panel.height + placed.panel.beyond)
    for old, row in zip(before.panel.rows, placed.panel.rows, strict=True):
        steps = (cut_top - row.baseline) / size
        assert abs(row.baseline - old.baseline) <= size / 2 + 1e-9
        if row.number in stayed:
            assert row.baseline == pytest.approx(old.baseline)
            assert abs(steps - round(steps)) > 1e-9
        else:
            assert steps == pytest.approx(round(steps), abs=1e-6)
    assert not (cap_height == "fit" and stayed)
    gap = float(design_from_mapping({"row": [{"text": "A"}], **tables}).lettering.row_gap)
    for was, is_, wanted in zip(
        _gaps(before), _gaps(placed), [1.5, *[gap] * (len(texts) - 1), 1.5], strict=True
    ):
        assert is_ >= min(was, wanted) - 1e-6


def test_rows_without_room_to_move_stay_and_are_said() -> None:
    """Rows as high as fit touch their row gap and margins: on steps of 4 in some of them would come nearer."""
    texts, stayed = ["ROW", "jog", "HOME"], 0
    for rows, height in product(("equal white", "even baselines"), (24, 25, 26)):
        lettering, panel = {"row_gap": "2in", "rows": rows}, {"width": "90in", "height": f"{height}in"}
        fitted = _placed(texts, None, lettering=lettering, panel=panel)
        row = [{"text": one.text, "cap_height": f"{one.cap_height}in"} for one in fitted.panel.rows]
        placed = _placed(texts, "4in", lettering=lettering, panel=panel, row=row)
        notices = [notice for notice in placed.panel.notices if notice.kind == "baseline-off-the-step"]
        stayed += len(notices)
        assert all("whole number of 4 in" in str(notice.what) for notice in notices)
        close = {"rows-close", "rows-overlap", "row-in-the-margin"}
        assert not [notice for notice in placed.panel.notices if notice.kind in close]
    assert stayed > 2


def test_turned_and_stated_rows_do_not_move() -> None:
    stated = [{"text": "ROW", "baseline": "7 3/16in"}, {"text": "HOME", "baseline": "20 1/32in"}]
    turned = [{"text": "ROW", "turn": 10.0}, {"text": "HOME", "turn": 90.0}]
    for rows in (stated, turned):
        plain, stepped = (
            _placed([], step, row=rows, lettering={"cap_height": "2in"}) for step in (None, "1/4in")
        )
        assert [one.baseline for one in plain.panel.rows] == [one.baseline for one in stepped.panel.rows]
        assert not [one for one in stepped.panel.notices if one.kind == "baseline-off-the-step"]


def test_letters_marks_and_outlines_move_with_their_row() -> None:
    rows = [{"text": "AB", "cap_height": "5in", "nudge": [{"letter": 2, "up": "1/2in"}]}]
    lettering = {"outline": "1/4in"}
    plain, stepped = (_placed([], step, row=rows, lettering=lettering) for step in (None, "1in"))
    moved = stepped.panel.rows[0].baseline - plain.panel.rows[0].baseline
    assert 0 < abs(moved) <= 0.5
    for was, is_ in zip(plain.panel.cuts, stepped.panel.cuts, strict=True):
        assert (is_.place.x, is_.place.y - was.place.y) == pytest.approx((was.place.x, moved))
    assert [one.place for one in stepped.outlines] == [cut.place for cut in stepped.panel.cuts]
    (mark,) = draft(stepped.design).marks
    assert mark.baseline_from_top == pytest.approx(round(mark.baseline_from_top))
