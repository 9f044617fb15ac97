"""What a row that runs down cannot be beside."""

from __future__ import annotations

from collections.abc import Iterator

from applique.design.model import Design, Finish, Row
from applique.design.sewn import Around
from applique.errors import Problem, Where
from applique.language import message

__all__ = ["down_problems"]


def down_problems(design: Design, row: Row, where: Where) -> Iterator[Problem]:
    """A problem for each thing that `row` asks for and that is not there for the direction it runs in."""
    if not row.runs_down:
        if row.letters_down is not None:
            yield Problem(
                kind="letters-down-across",
                what=message("letters_down is for rows that run down, and this one runs across"),
                where=Where.key("letters_down").within(where),
                fix=message('direction = "down", or no letters_down'),
            )
        return
    if row.width is not None:
        yield Problem(
            kind="width-of-a-row-down",
            what=message("a row that runs down takes its size from its letter height, not from a width"),
            where=Where.key("width").within(where),
            fix=message("a letter height instead of the width"),
        )
    if row.baseline is not None:
        yield Problem(
            kind="baseline-of-a-row-down",
            what=message("a row that runs down has no baseline: its letters stand across an upright line"),
            where=Where.key("baseline").within(where),
            fix=message("no baseline; right and up move the whole row"),
        )
    if row.runs_off:
        yield Problem(
            kind="row-down-runs-off",
            what=message("a row that runs down cannot run off the panel yet"),
            where=Where.key("runs_off").within(where),
            fix=message("no runs_off, or a row that runs across"),
        )
    outline = design.lettering.outline if row.outline is None else row.outline
    if outline and design.outline.around is Around.WORDS:
        yield Problem(
            kind="words-down-outlined",
            what=message("the words of a row that runs down cannot have one outline around them yet"),
            where=where,
            fix=message('around = "letters" in [outline], or outline = "0in" in the row'),
        )
    if design.finish is Finish.LETTERS and design.lettering.baseline_step is not None:
        yield Problem(
            kind="step-beside-a-row-down",
            what=message(
                "letters alone are measured from their highest line, and beside a row that runs down that is no "
                "baseline to count steps from"
            ),
            where=Where.key("lettering", "baseline_step"),
            fix=message("no baseline_step, or rows that all run across"),
        )
