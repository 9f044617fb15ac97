"""What will go wrong, as the page shows it: in words, each with its place and its cures.

The one place where a finding of another room is made ready for the page.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any, Final

from applique.design import Align, Design, Row, design_data
from applique.design.entries import FIT
from applique.errors import Notice, Problem, Refusal
from applique.pattern import Pattern, sketch
from applique.sewing.cures import cures
from applique.typeset.bundled import BUNDLED
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import missing_letters

__all__ = ["finding_views", "notice_views", "problem_views", "refusal_views"]

_MOST_FONT_CURES: Final = 3
_MOST_CURES: Final = 3


def notice_views(notices: Iterable[Notice], design: Design) -> list[dict[str, Any]]:
    """Risks that do not stop the work."""
    return [{**_view(notice), "stops": False, "cures": _notice_cures(notice, design)} for notice in notices]


def finding_views(pattern: Pattern, *, cured: bool) -> list[dict[str, Any]]:
    """What will go wrong in cutting, sewing and reading, at its place from the upper left corner of the quilt, and
    after it every other notice; with the cures, which take a while to try, if `cured`."""
    design, quilt = pattern.design, pattern.quilt
    left, low = (
        float(side - inner) / 2
        for side, inner in zip(quilt.finished, (pattern.panel.width, pattern.panel.height), strict=True)
    )
    views = []
    for finding in pattern.findings:
        at = finding.at and [left + finding.at[0], low + float(pattern.panel.height) - finding.at[1]]
        tried = cures(pattern.checks, finding, most=_MOST_CURES) if cured else ()
        fix = "" if tried or not cured else "other words, another size or another font"
        views.append(
            {
                **_view(finding.notice()),
                "fix": fix,
                "at": at,
                "stops": False,
                "cures": [_cure(cure.words, cure.design) for cure in tried],
            }
        )
    told = {finding.notice() for finding in pattern.findings}
    return views + notice_views([notice for notice in pattern.notices if notice not in told], design)


def problem_views(problems: Iterable[Problem], design: Design | None) -> list[dict[str, Any]]:
    """What stops the work, with the cures that were tried and do work."""
    return [
        {**_view(problem), "stops": True, "cures": list(_problem_cures(problem, design)) if design else []}
        for problem in problems
    ]


def refusal_views(problems: Iterable[Problem]) -> list[dict[str, Any]]:
    """The problems of anything that is refused, each with the row (from 1) that it is about, if it is about one."""
    return [_view(problem) for problem in problems]


def _view(said: Problem | Notice) -> dict[str, Any]:
    return {
        "kind": said.kind,
        "what": str(said.what),
        "where": said.where.as_data(),
        "fix": str(said.fix),
        "at": None,
    }


def _cure(words: str, design: Design) -> dict[str, Any]:
    return {"words": words, "design": design_data(design)}


def _notice_cures(notice: Notice, design: Design) -> list[dict[str, Any]]:
    """For what a move by hand has brought about: the moves of that row taken back."""
    number = notice.where.row
    if number is None or not 0 < number <= len(design.row):
        return []
    line = design.row[number - 1]
    if line.nudge or line.right or line.up or line.turn:
        return [_cure(f"Put row {number} back where it was", _with_line(design, number, _unmoved(line)))]
    return []


def _unmoved(row: Row) -> Row:
    return replace(row, nudge=(), right=Fraction(0), up=Fraction(0), turn=0.0)


def _with_line(design: Design, number: int, row: Row) -> Design:
    return replace(design, row=(*design.row[: number - 1], row, *design.row[number:]))


def _problem_cures(problem: Problem, design: Design) -> Iterator[dict[str, Any]]:
    """Cures of a refusal: each is tried, and offered only where the sketch can then be made or comes further."""
    number, letter = problem.where.row, problem.where.letter
    if number is not None and not 0 < number <= len(design.row):
        number = None
    if number is not None and letter is not None:
        yield from _other_fonts(design, number)
        return
    for words, cured in _changes(design, number):
        if cured != design and _works(cured):
            yield _cure(words, cured)


def _changes(design: Design, number: int | None) -> Iterator[tuple[str, Design]]:
    if number is not None:
        line = design.row[number - 1]
        yield (
            f"Let row {number} be as large as fits",
            _with_line(design, number, replace(line, cap_height=FIT)),
        )
        yield f"Put row {number} back where it was", _with_line(design, number, _unmoved(line))
        if line.align is not None:
            yield f"Center row {number}", _with_line(design, number, replace(line, align=Align.CENTER))
    every = replace(design, lettering=replace(design.lettering, cap_height=FIT))
    rows = tuple(replace(line, cap_height=None) for line in design.row)
    yield "Let all letters be as large as fits", replace(every, row=rows)
    yield (
        "Let all letters be as large as fits, with no moves by hand",
        replace(every, row=tuple(_unmoved(line) for line in rows)),
    )


def _works(design: Design) -> bool:
    try:
        sketch(design)
    except Refusal:
        return False
    return True


def _other_fonts(design: Design, number: int) -> Iterator[dict[str, Any]]:
    line = design.row[number - 1]
    spelling = [
        font.name for font in BUNDLED if not any(missing_letters(line.text, open_typeface(font.name)))
    ]
    for name in spelling[:_MOST_FONT_CURES]:
        yield _cure(
            f"Set row {number} in {name}", _with_line(design, number, replace(line, font=name, axes=None))
        )
