"""What to look at in a pattern before cutting, each risk with the cures that have been tried for it."""

from __future__ import annotations

from dataclasses import dataclass

from applique.design import MUST_FIX, Accepted, risk_kind
from applique.errors import Notice, Problem, Refusal
from applique.language import Message
from applique.pattern import Pattern
from applique.sewing.cures import CureKind, cures
from applique.sewing.findings import Finding
from applique.words.accepted import acceptable
from applique.words.cures import cure_said, no_cure_said
from applique.words.held_numbers import short_notices

__all__ = ["Advice", "TriedCure", "advise", "refuse_for_customers", "standing"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedCure:
    """A cure that works: its kind, the row it is done to if it is done to one, and what it is."""

    kind: CureKind
    row: int | None
    what: Message


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """A notice, the finding that says so if it is one, and its cures.

    `fix` is the first cure, the notice's own way out, or what is said of a finding where no cure was found. `accept` is
    what the design would have to say to accept it, with the reason left open; None where it must be fixed.
    """

    notice: Notice
    finding: Finding | None = None
    fix: Message
    cures: tuple[TriedCure, ...] = ()
    accept: Accepted | None = None


def advise(pattern: Pattern) -> tuple[Advice, ...]:
    """Every notice of the pattern that is not accepted, in its order; those of findings with all cures that were tried
    and pass.

    Trying takes a while.
    """
    advice = []
    for risk in pattern.risks:
        accept = acceptable(risk, pattern.design)
        if risk.finding is None:
            advice.append(Advice(notice=risk.notice, fix=risk.notice.fix, accept=accept))
            continue
        tried = tuple(
            TriedCure(kind=cure.kind, row=cure.row, what=cure_said(cure))
            for cure in cures(pattern.checks, risk.finding)
        )
        advice.append(
            Advice(
                notice=risk.notice,
                finding=risk.finding,
                fix=tried[0].what if tried else no_cure_said(),
                cures=tried,
                accept=accept,
            )
        )
    return tuple(advice)


def standing(pattern: Pattern) -> tuple[Notice, ...]:
    """What must be fixed before the pattern goes to anybody else, and what each says; nothing where it may go.

    That is a back that cannot be made from what is left, and numbers of the maker's own that do not hold. None of it
    can be accepted. (What cannot be made at all is refused before there is a pattern.)
    """
    risks = tuple(risk.notice for risk in pattern.every_risk if risk_kind(risk.notice.kind) in MUST_FIX)
    return (*risks, *short_notices(pattern.stated, pattern.design.units))


def refuse_for_customers(pattern: Pattern) -> None:
    """Refuse to hand on a pattern in which something must be fixed first.

    Raises:
        Refusal: every finding of `standing`.
    """
    problems = [
        Problem(kind=notice.kind, what=notice.what, where=notice.where, fix=notice.fix)
        for notice in standing(pattern)
    ]
    if problems:
        raise Refusal(problems)
