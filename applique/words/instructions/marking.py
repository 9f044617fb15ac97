"""How letters and panel are marked, in words: with one pencil, tried first; and how the marks come off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from applique.design import Method
from applique.language import Message, listed, message, messages
from applique.pieces import Template

__all__ = [
    "bring_round_said",
    "carry_baseline_said",
    "carry_middle_said",
    "copy_baseline_said",
    "copy_middle_said",
    "mark_behind_said",
    "marks_off_said",
    "paper_letter_laid_said",
    "paper_letters_said",
    "pencil_tried_said",
]


def pencil_tried_said(method: Method, *, outlined: bool) -> Message:
    """How the pencil is tried before its first mark; where letters are `outlined` its lines are needed after the iron.

    Source:
        Heat can set what is marked on fabric: common practice, no source.
    """
    fused = method is not Method.TURNED_EDGE
    match fused, outlined:
        case True, True:
            return message(
                "Try the chalk pencil before its first mark: draw a line on a scrap of each fabric, press it as hot "
                "as for fusing, and see that it is still there and then brushes off. If it does not, take another "
                "color: heat can set a mark for good, and some marks are needed again after you fuse."
            )
        case True, False:
            return message(
                "Try the chalk pencil before its first mark: draw a line on a scrap of each fabric, press it as hot "
                "as for fusing, and see that it brushes off. If it does not, take another color: heat can set a mark "
                "for good."
            )
        case False, True:
            return message(
                "Try the chalk pencil before its first mark: draw a line on a scrap of each fabric, press it as hot "
                "as you will press the letters, and see that it is still there and then brushes off. If it does not, "
                "take another color: heat can set a mark for good, and some marks are needed again after you press."
            )
    return message(
        "Try the chalk pencil before its first mark: draw a line on a scrap of each fabric, press it as hot as you "
        "will press the letters, and see that it brushes off. If it does not, take another color: heat can set a mark "
        "for good."
    )


def copy_middle_said(high: Sequence[str]) -> Iterator[Message]:
    """That the middle of each letter is copied onto its tracing; of those named `high` it meets the letter only well
    above the baseline."""
    yield message(
        "Copy the mark of its middle too; where it stands off the letter, lay a ruler along it and draw the line "
        "inside the letter, at the edge nearest to the baseline."
    )
    if high:
        yield _high_said(high)


def _high_said(high: Sequence[str]) -> Message:
    """Where the line of a middle that passes beside the foot of its letter is drawn."""
    return message(
        "On {letters} that edge is well above the baseline: draw the line where the ruler runs into the letter, not on "
        "a foot or a stem beside it.",
        letters=listed(high),
    )


def carry_middle_said(*, outlined: bool) -> Message:
    """That the middle is carried over to the fabric while the paper still shows it, of outlines too if letters are
    `outlined`; those are laid by their baselines as well, for they hang below it."""
    if outlined:
        return message(
            "Carry the middle over to the right side of each letter and each outline with the chalk pencil: a short "
            "dash at the edge nearest to the baseline. Carry the baseline of each outline over too: a short dash at "
            "either edge. The outline is laid by them, and its letter on it. Stick a pin in at each end of a mark, "
            "turn the piece over, and draw from pin to pin."
        )
    return message(
        "Carry the middle over to the right side of each letter with the chalk pencil: a short dash at the edge "
        "nearest to the baseline. You lay the letter by it. Stick a pin in at each end of the mark, turn the "
        "letter over, and draw from pin to pin."
    )


def mark_behind_said(*, outlined: bool, off: bool, turned: Sequence[Template]) -> Iterator[Message]:
    """How the middle is marked while paper covers the right side, and the baseline of outlines, of letters `off` it and
    of those that are `turned` in their rows: on what is turned to the back."""
    if outlined:
        yield message(
            "Paper covers the right side, so mark the middle behind while it is on: a short dash with the chalk pencil "
            "across the turn-under of each letter and each outline, at the edge nearest to the baseline, where the "
            "middle on the paper meets it. Stick a pin straight through there from the front, turn the piece over, and "
            "draw the dash at the pin. Mark the baseline of each outline behind too, at both edges."
        )
    else:
        yield message(
            "Paper covers the right side, so mark the middle behind while it is on: a short dash with the chalk pencil "
            "across the turn-under of each letter, at the edge nearest to the baseline, where the middle on the paper "
            "meets it. Stick a pin straight through there from the front, turn the letter over, and draw the dash at "
            "the pin."
        )
    if off:
        yield message(
            "Mark the baseline of each letter that hangs below it behind too, at both edges. The letter is placed by "
            "it."
        )
    if turned:
        yield messages(
            "Mark the baseline of template {templates} too, at both edges: this letter is turned in its row and lies "
            "by its own baseline.",
            "Mark the baselines of templates {templates} too, at both edges: these letters are turned in their rows "
            "and lie by their own baselines.",
            len(turned),
            templates=listed(str(one.number) for one in turned),
        )


def bring_round_said(*, turned: bool) -> Message:
    """How marks behind come to the right side once the paper is off; the baseline of letters that are `turned` in their
    rows is drawn whole."""
    if turned:
        return message(
            "Carry each mark around the edge to the right side, a short dash: you lay the letter by it. Draw the "
            "baseline of the letters that are turned in their rows from edge to edge."
        )
    return message(
        "Carry each mark around the edge to the right side, a short dash: you lay the letter by it."
    )


def paper_letters_said(high: Sequence[str], *, off: bool) -> Iterator[Message]:
    """How the middle of a letter that a machine has cut is found: by its paper letter, which has the baseline too where
    letters stand `off` it; of those named `high` the middle meets the letter only well above the baseline."""
    yield message(
        "The cut letters have no marks: the cut files hold nothing but what is cut. You find the middle of each letter "
        "with a paper letter, one for each template."
    )
    yield message(
        "Where the mark of the middle stands off the letter on its page, lay a ruler along it and draw the line inside "
        "the letter, at the edge nearest to the baseline."
    )
    if high:
        yield _high_said(high)
    if off:
        yield message(
            "Draw the baseline inside the letter too: lay a ruler from one of its marks to the other, across the "
            "letter."
        )
    yield message("Then cut the paper letter out on its line.")


def paper_letter_laid_said() -> Message:
    """How the paper letter shows where the middle is."""
    return message(
        "Lay each paper letter, printed side up, on the wrong side of its fabric letter, edge to edge: both are in "
        "mirror image."
    )


def copy_baseline_said(*, off: bool, turned: Sequence[Template]) -> Iterator[Message]:
    """That the baseline is copied onto tracings of letters that stand `off` it, and of those that are `turned` in their
    rows, which are laid by it; nothing of any other."""
    if off:
        yield message(
            "Copy the baseline too: lay a ruler from one of its marks to the other, and where it crosses the letter "
            "draw it on the paper, inside the letter."
        )
    elif turned:
        yield messages(
            "Copy the baseline of template {templates} too, a letter that is turned in its row: lay a ruler from one "
            "of its marks to the other, and draw it inside the letter, or along its foot.",
            "Copy the baseline of templates {templates} too, letters that are turned in their rows: lay a ruler from "
            "one of its marks to the other, and draw it inside the letter, or along its foot.",
            len(turned),
            templates=listed(str(one.number) for one in turned),
        )


def carry_baseline_said(*, off: bool, turned: Sequence[Template]) -> Iterator[Message]:
    """That the baseline is carried over to the fabric while the paper still shows it, for the same letters."""
    if off:
        yield message(
            "Carry the baseline over to the right side of each letter that hangs below it: a short dash at both "
            "edges, with the chalk pencil. The letter is placed by it."
        )
    if turned:
        yield messages(
            "Carry the baseline over to template {templates} too, and draw it from edge to edge: this letter is turned "
            "in its row and lies by its own baseline.",
            "Carry the baseline over to templates {templates} too, and draw it from edge to edge: these letters are "
            "turned in their rows and lie by their own baselines.",
            len(turned),
            templates=listed(str(one.number) for one in turned),
        )


def marks_off_said(*, glued: bool, trimmed: bool) -> Iterator[Message]:
    """How the marks come off; letters may be held with wash-away glue, which water lets go, and the basted ends of the
    center line stay where the panel is `trimmed` by it."""
    if glued:
        yield message(
            "Brush the marks off, without water: it lets wash-away glue go. What stays comes out in the first wash."
        )
    else:
        yield message(
            "Brush the marks off, before you press again. If none of the fabrics bleeds, dab off what stays with a "
            "damp cloth and let it dry; the rest comes out in the first wash."
        )
    if trimmed:
        yield message("Leave the basting at the ends of the center line until the panel is trimmed by it.")
