"""Thread, stabilizer and time: more to sew never takes less, ranges are in order, and units change nothing."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from applique.cloth import plan_cloth
from applique.design import design_from_mapping
from applique.pattern import sketch
from applique.pieces import cut_templates
from applique.sewing.plan import StitchPlan, plan_stitching
from applique.sewing.quilting import plan_quilting
from applique.sewing.threads import ThreadNeed, ThreadUse, plan_threads

stitches = st.sampled_from(["straight", "zigzag", "blanket", "satin"])
words = st.text(alphabet="OSIWex", min_size=1, max_size=6)


def _sewn(text: str, **tables: Any) -> tuple[StitchPlan, tuple[ThreadNeed, ...]]:
    """The sewing of one row; without nests and sheets, which it does not hang on."""
    data: dict[str, Any] = {
        "row": [{"text": text}],
        "lettering": {"font": "Fredoka", "cap_height": "4in", "fabric": "Ink"},
        "panel": {"width": "60in", "height": "20in", "fabric": "Fog"},
        "fabric": [{"name": "Ink", "color": "#203040"}, {"name": "Fog", "color": "#e0e0d8"}],
    }
    drawn = sketch(design_from_mapping({**data, **tables}))
    design, panel, outlines = drawn.design, drawn.panel, drawn.outlines
    templates = cut_templates(design, panel.rows, outlines)
    stitching = plan_stitching(design, panel, templates, outlines, drawn.quilt, drawn.stitches)
    quilting = plan_quilting(design, panel, outlines, drawn.quilt)
    cloth = plan_cloth(design, drawn.quilt, ())
    return stitching, plan_threads(design, panel, drawn.quilt, cloth, stitching, quilting)


MM_PER_INCH = Fraction(254, 10)
"""Federal Register, 1 July 1959."""


@given(words, words, stitches)
@settings(max_examples=25)
def test_more_letters_never_take_less(text: str, more: str, stitch: str) -> None:
    fewer, few_threads = _sewn(text, stitching={"stitch": stitch})
    longer, threads = _sewn(text + more, stitching={"stitch": stitch})
    for need, larger in zip(few_threads, threads, strict=True):
        assert larger.length >= need.length - 1e-9
        assert larger.spools >= need.spools
        assert larger.bobbins >= need.bobbins
    assert longer.rows[0].edge > fewer.rows[0].edge
    assert all(after >= before for before, after in zip(fewer.minutes, longer.minutes, strict=True))
    (before,), (after,) = fewer.rows[0].layers, longer.rows[0].layers
    assert all(more > less for less, more in zip(before.minutes, after.minutes, strict=True))


@given(words, stitches, st.none() | st.integers(20, 1500), st.sampled_from(["0in", "1/4in"]))
@settings(max_examples=25)
def test_times_are_ranges_from_a_quick_hand_to_a_careful_one(
    text: str, stitch: str, pace: int | None, outline: str
) -> None:
    """All of it at the quick hand's pace in straight runs is the least there can be."""
    table: dict[str, Any] = {"stitch": stitch} if pace is None else {"stitch": stitch, "pace": pace}
    plan, _ = _sewn(text, stitching=table, row=[{"text": text, "outline": outline}])
    (row,) = plan.rows
    assert len(row.layers) == (2 if outline != "0in" else 1)
    for layer in row.layers:
        low, high = layer.minutes
        assert 0 <= layer.curved <= layer.edge
        assert layer.stitches * 0.8 / (row.stitch.pace * 1.25) < low < high
        assert high / low == pytest.approx(5 / 3)
    assert plan.minutes[0] <= plan.minutes[1]


@given(words, stitches, st.integers(4, 14))
@settings(max_examples=20)
def test_a_metric_design_takes_the_same_thread_time_and_stabilizer(text: str, stitch: str, cap: int) -> None:
    """1 in is 2.54 cm exactly (Federal Register, 1 July 1959). All that is pieced is cut a multiple of 5 in."""

    def tables(written: Any) -> dict[str, Any]:
        return {
            "lettering": {"font": "Fredoka", "cap_height": written(cap), "fabric": "Ink"},
            "panel": {
                "width": written(99.5),
                "height": written(29.5),
                "fabric": "Fog",
                "seam_allowance": written(0.25),
            },
            "stitching": {"stitch": stitch},
            "backing": {"overage": written(5.25)},
            "binding": {"width": written(5)},
            "quilting": [{"kind": "edge to edge", "row_height": written(7), "overlap": written(1)}],
        }

    inches, threads = _sewn(text, **tables(lambda size: f"{size}in"))
    metric, others = _sewn(text, units="cm", **tables(lambda size: f"{2.54 * size:.3f}cm"))
    layers, same = inches.rows[0].layers, metric.rows[0].layers
    assert [one.minutes for one in same] == [pytest.approx(one.minutes, rel=1e-6) for one in layers]
    assert [one.edge for one in same] == pytest.approx([one.edge for one in layers], rel=1e-6)
    for need, same_piece in zip(inches.stabilizers, metric.stabilizers, strict=True):
        # The same piece, cut up to what its ruler shows: an eighth of an inch, or a millimeter.
        assert (need.used * 8).denominator == (same_piece.used * MM_PER_INCH).denominator == 1
        assert -Fraction(1, 8) < same_piece.used - need.used < 1 / MM_PER_INCH
    for need in (*inches.stabilizers, *metric.stabilizers):
        assert need.used <= need.buy < need.used + Fraction(9, 2)
    for thread, other in zip(threads, others, strict=True):
        # Each half is counted up to whole yards, and metric to whole meters.
        yards, meters = float(thread.length) / 36, float(other.length) * 25.4 / 1000
        if ThreadUse.QUILTING in thread.uses:  # lines 2.5 cm apart for those of 1 in
            yards *= 2.54 / 2.5
        assert -2 - 1e-6 < meters / 0.9144 - yards < 2 / 0.9144 + 1e-6
    assert [need.spools for need in others] == [need.spools for need in threads]
