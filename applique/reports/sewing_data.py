"""What the data of a report tell of the sewing: stitches, time, stabilizer, thread, quilting."""

from __future__ import annotations

from typing import Any

from applique.pattern import Pattern
from applique.reports.numbers import exact, rounded, size_data, table_of
from applique.sewing.quilting import QuiltingPlan
from applique.sewing.stabilizer import StabilizerNeed
from applique.sewing.threads import ThreadNeed
from applique.units import Units
from applique.words.sewing import course_said

__all__ = ["quilting_data", "stitching_data"]


def stitching_data(pattern: Pattern) -> dict[str, Any]:
    """What is sewn along the letters, in which order, with what."""
    plan = pattern.stitching
    return {
        "rows": [
            {
                "row": table_of(row.where),
                "stitch": row.stitch.stitch.value,
                "stitch_reason": row.stitch.reason.value,
                "width": exact(row.stitch.width),
                "length": exact(row.stitch.length),
                "thread": row.stitch.thread,
                "contrast": rounded(row.stitch.contrast),
                "edge": rounded(row.edge),
                "stitches": row.stitches,
                "top": rounded(row.top),
                "bobbin": rounded(row.bobbin),
                "minutes": [rounded(minutes) for minutes in row.minutes],
                "pace": list(row.stitch.paces),
                "layers": [
                    {
                        "layer": layer.layer.value,
                        "thread": layer.thread,
                        "edge": rounded(layer.edge),
                        "curved": rounded(layer.curved),
                        "stitches": layer.stitches,
                        "top": rounded(layer.top),
                        "bobbin": rounded(layer.bobbin),
                        "minutes": [rounded(minutes) for minutes in layer.minutes],
                    }
                    for layer in row.layers
                ],
                "stabilizer": row.stabilizer.kind.value,
                "stabilizer_reason": row.stabilizer.reason.value,
                "stabilizer_size": [exact(row.stabilizer.width), exact(row.stabilizer.height)],
                "stabilizer_widths": row.stabilizer.widths,
                "stabilizer_each": exact(row.stabilizer.each),
            }
            for row in plan.rows
        ],
        "order": [table_of(where) for where in plan.order],
        "stabilizers": [_stabilizer(need) for need in plan.stabilizers],
        "threads": [_thread(need) for need in pattern.threads],
        "minutes": [rounded(minutes) for minutes in plan.minutes],
        "when": plan.when.value,
        "when_reason": plan.when_reason.value,
        "starts": {
            str(letter.template): [[rounded(x), rounded(y)] for x, y in letter.starts]
            for letter in plan.letters
        },
        "offers": [
            {
                "stitch": offer.stitch.value,
                "stitches": offer.stitches,
                "minutes": [rounded(minutes) for minutes in offer.minutes],
                "threads": [_thread(need) for need in offer.threads],
                "stabilizers": [_stabilizer(need) for need in offer.stabilizers],
            }
            for offer in pattern.offers
        ],
    }


def _stabilizer(need: StabilizerNeed) -> dict[str, Any]:
    return {
        "kind": need.kind.value,
        "roll_width": exact(need.roll_width),
        "bands": [
            {"length": exact(band.length), "under": [table_of(where) for where in band.tables]}
            for band in need.bands
        ],
        "pieces": [
            {
                "under": table_of(need.tables[int(piece.key)]),
                "at": size_data((region.x, region.y)),
                "size": size_data((region.length, region.width)),
            }
            for cloth in need.plan.cloths
            for region, piece in cloth.root.pieces()
        ],
        "used": exact(need.used),
        "buy": exact(need.buy),
    }


def _thread(need: ThreadNeed) -> dict[str, Any]:
    return {
        "name": need.name,
        "color": need.color,
        "places": [str(place) for place in need.places],
        "parts": [
            {"use": part.use.value, "top": rounded(part.top), "bobbin": rounded(part.bobbin)}
            for part in need.parts
        ],
        "length": rounded(need.length),
        "spools": need.spools,
        "bobbins": need.bobbins,
        "figured_spacing": None if need.spacing is None else exact(need.spacing),
        "at_most": need.at_most,
        "spools_with_piecing": need.with_piecing,
    }


def quilting_data(plan: QuiltingPlan, units: Units) -> dict[str, Any]:
    """One kind of quilting."""
    return {
        "kind": plan.kind.value,
        "words": str(course_said(plan.course, units)),
        "lines": len(plan.lines),
        "length": rounded(plan.length),
        "stitches": plan.stitches,
        "thread": rounded(plan.thread),
        "spools": plan.spools,
        "offered": plan.offered,
    }
