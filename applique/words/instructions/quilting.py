"""The lines of quilting in words."""

from __future__ import annotations

from typing import Final

from applique.design import QuiltingKind
from applique.language import Message, message
from applique.sewing.quilting import QuiltingPlan
from applique.units import Units, as_run
from applique.words.sewing import course_sentence

__all__ = ["QUILTING", "quilting_said", "quilting_title"]

QUILTING: Final = message("Quilting")
_QUILTINGS: Final = {
    QuiltingKind.ECHO: message("{number}. Echo"),
    QuiltingKind.LINES: message("{number}. Lines"),
    QuiltingKind.CROSSHATCH: message("{number}. Crosshatch"),
    QuiltingKind.EDGE_TO_EDGE: message("{number}. Edge to edge"),
    QuiltingKind.DITCH: message("{number}. In the ditch"),
}


def quilting_title(plan: QuiltingPlan) -> Message:
    """The number and the name of one kind of quilting."""
    return _QUILTINGS[plan.kind].filled(number=plan.number)


def quilting_said(plan: QuiltingPlan, units: Units) -> Message:
    """How the lines of one kind of quilting run, and what they take."""
    return message(
        "{course} {length} to sew, {stitches} stitches, {thread} of thread, top and bobbin together.",
        course=course_sentence(plan.course, units),
        length=as_run(plan.length, units),
        stitches=plan.stitches,
        thread=as_run(plan.thread, units),
    )
