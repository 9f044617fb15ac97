"""What a maker has accepted, held against what is found now: what she means so, and what of it is no longer true.

An entry accepts what it says was measured, word for word as it is printed, and nothing else: another letter, size, font
or stitch measures something else, and the finding is back.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from applique.design import MUST_FIX, Accepted, Design, RiskKind, risk_kind
from applique.errors import Notice
from applique.language import Field, Listing, Message, message
from applique.sewing.findings import Finding
from applique.units import Units
from applique.words.findings import measured_in

__all__ = [
    "ACCEPTED",
    "RISKS",
    "Acceptance",
    "Risk",
    "Standing",
    "acceptable",
    "acceptance_said",
    "acceptances",
    "is_accepted",
    "together",
]

ACCEPTED: Final = message("Meant so")
RISKS: Final[Mapping[RiskKind, Message]] = {
    RiskKind.STROKE: message("thin stroke"),
    RiskKind.COUNTER: message("small hole in a letter"),
    RiskKind.SLOT: message("narrow slot"),
    RiskKind.HOLE: message("small hole in the outline"),
    RiskKind.NECK: message("narrow neck in the outline"),
    RiskKind.POINT: message("sharp point"),
    RiskKind.CLEAR: message("letters close together"),
    RiskKind.OUTLINES: message("outlines that meet"),
    RiskKind.ROWS: message("rows close together"),
    RiskKind.SEAM: message("letters close to the seam"),
    RiskKind.SLIVER: message("slivers at the panel's edge"),
    RiskKind.STITCH: message("stitch width"),
    RiskKind.READING: message("hard to read"),
    RiskKind.CONTRAST: message("low contrast"),
    RiskKind.LETTER_GAP: message("letters nearer than the least gap"),
    RiskKind.LETTERS_OVERLAP: message("letters that overlap"),
    RiskKind.ROW_GAP: message("rows nearer than the row gap"),
    RiskKind.ROWS_OVERLAP: message("rows that overlap"),
    RiskKind.IN_THE_MARGIN: message("a row in the margin"),
    RiskKind.FONT_RESTRICTED: message("a font with a restricted license"),
    RiskKind.HEIGHT_ON_LETTER: message("letter height measured on another letter"),
    RiskKind.HEIGHT_ON_FIGURE: message("letter height measured on a figure"),
    RiskKind.HEIGHT_ON_SIGN: message("letter height measured on a sign"),
    RiskKind.HOLES_CLOSED: message("small holes closed"),
    RiskKind.HOLDS_ALL_DOWN: message("a row that holds all others down"),
    RiskKind.OFF_THE_STEP: message("a baseline off the step"),
    RiskKind.SEAM_UPRIGHT: message("an upright seam in the panel"),
    RiskKind.SEAM_UPRIGHT_THROUGH_LETTERS: message("an upright seam through letters"),
    RiskKind.SEAM_ACROSS: message("a seam across the panel"),
    RiskKind.SEAM_ACROSS_THROUGH_LETTERS: message("a seam across, through letters"),
    RiskKind.RECTANGLES_OF_ONE_FABRIC: message("rectangles of one fabric"),
    RiskKind.RECTANGLES_ALIKE: message("rectangles alike side by side"),
    RiskKind.RECTANGLES_UNEVEN: message("rectangles that do not come out even"),
    RiskKind.RECTANGLES_UNEVEN_LONGER: message("rectangles of another length"),
    RiskKind.STASH_NOT_ENOUGH: message("not enough in the stash"),
    RiskKind.TOO_LARGE_FOR_MAT: message("too large for the mat"),
    RiskKind.NO_CATALOGUE: message("no translation"),
    RiskKind.LEFTOVERS_TOO_SMALL: message("leftovers too small for the backing"),
    RiskKind.STATED_SHORT: message("a number of your own that falls short"),
    RiskKind.STATED_OF_NOTHING: message("a number of your own of nothing"),
}
"""What each kind of finding is called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk:
    """One thing to look at before cutting: what is said of it, and the finding that says so, if it is one."""

    notice: Notice
    finding: Finding | None = None


class Standing(StrEnum):
    """Whether an entry still accepts anything."""

    HOLDS = "holds"
    CHANGED = "changed"
    GONE = "gone"


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance:
    """An entry of the design, by its number from 1, and the risks that it accepts.

    It has changed where such a finding is there but measures something else, and is gone where there is none.
    """

    number: int
    entry: Accepted
    standing: Standing
    risks: tuple[Risk, ...]


def is_accepted(risk: Risk, design: Design) -> bool:
    """Whether an entry of the design accepts `risk`, with what is measured now."""
    return any(_accepts(entry, risk, design) for entry in design.accepted)


def acceptances(risks: Sequence[Risk], design: Design) -> tuple[Acceptance, ...]:
    """Every entry of the design, in its order, held against all `risks` of its pattern."""
    return tuple(
        _held(number, entry, [risk for risk in risks if _is_about(entry, risk, design)], design)
        for number, entry in enumerate(design.accepted, 1)
    )


def acceptable(risk: Risk, design: Design) -> Accepted | None:
    """The entry that accepts `risk` as it is measured now, its reason left open; None for what must be fixed."""
    kind = risk_kind(risk.notice.kind)
    if kind is None or kind in MUST_FIX:
        return None
    return Accepted(finding=kind, words=_words(risk, design), measured=_measured(risk, design.units), why="")


def together(entries: Iterable[Accepted]) -> tuple[Accepted, ...]:
    """One entry for each kind: of its row if it is of one alone, else of the whole design."""
    kinds: dict[RiskKind, Accepted] = {}
    for entry in entries:
        other = kinds.setdefault(entry.finding, entry)
        kinds[entry.finding] = replace(
            other,
            words=entry.words if entry.words == other.words else "",
            measured=tuple(dict.fromkeys((*other.measured, *entry.measured))),
        )
    return tuple(kinds.values())


def acceptance_said(acceptance: Acceptance) -> tuple[Message, ...]:
    """What an entry accepts, a sentence for each with her reason behind it; or that nothing needs it any more."""
    entry = acceptance.entry
    finding = RISKS[entry.finding]
    about = message("{finding} in “{words}”", finding=finding, words=entry.words) if entry.words else finding
    match acceptance.standing:
        case Standing.GONE:
            return (
                message("number {number}, {about}: no longer needed", number=acceptance.number, about=about),
            )
        case Standing.CHANGED:
            return (
                message(
                    "number {number}, {about}: it is back, for it measures something else now",
                    about=about,
                    number=acceptance.number,
                ),
            )
        case Standing.HOLDS:
            return tuple(_accepted_said(risk.notice, entry.why) for risk in acceptance.risks)


def _accepted_said(notice: Notice, why: str) -> Message:
    if notice.where:
        return message(
            "{where}: {what}; meant so: {why}", where=notice.where.as_field(), what=notice.what, why=why
        )
    return message("{what}; meant so: {why}", what=notice.what, why=why)


def _held(number: int, entry: Accepted, about: Sequence[Risk], design: Design) -> Acceptance:
    holds = tuple(risk for risk in about if _accepts(entry, risk, design))
    changed = Standing.CHANGED if any(not is_accepted(risk, design) for risk in about) else Standing.GONE
    return Acceptance(number=number, entry=entry, standing=Standing.HOLDS if holds else changed, risks=holds)


def _accepts(entry: Accepted, risk: Risk, design: Design) -> bool:
    return _is_about(entry, risk, design) and set(_measured(risk, design.units)) <= set(entry.measured)


def _is_about(entry: Accepted, risk: Risk, design: Design) -> bool:
    if risk_kind(risk.notice.kind) is not entry.finding:
        return False
    return not entry.words or entry.words == _words(risk, design)


def _words(risk: Risk, design: Design) -> str:
    """The words of the row that it is about; empty for anything else."""
    row = risk.notice.where.row
    return design.rows[row - 1].text if row is not None and row <= len(design.rows) else ""


def _measured(risk: Risk, units: Units) -> tuple[str, ...]:
    """What is measured, as it is printed; nothing where it is a matter of yes or no."""
    if risk.finding is not None:
        return measured_in(risk.finding, units)
    said = " · ".join(part for _, value in risk.notice.what.fields for part in _leaves(value))
    return (said,) if said else ()


def _leaves(said: Field) -> Iterator[str]:
    """The words and numbers that a field holds, and a message in it that has none of its own."""
    match said:
        case Message(fields=()):
            yield said.template
        case Message():
            for _, value in said.fields:
                yield from _leaves(value)
        case Listing():
            for item in said.items:
                yield from _leaves(item)
        case _:
            yield str(said)
