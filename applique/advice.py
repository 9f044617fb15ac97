"""What to look at in a pattern before cutting, each risk with the cures that have been tried for it."""

from __future__ import annotations

from dataclasses import dataclass

from applique.errors import Notice
from applique.language import Message
from applique.pattern import Pattern
from applique.sewing.cures import CureKind, tried_cures
from applique.sewing.findings import Finding
from applique.words.cures import cure_said, no_cure_said

__all__ = ["Advice", "TriedCure", "advise"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedCure:
    """A cure that works: its kind, the row it is done to if it is done to one, and what it is."""

    kind: CureKind
    row: int | None
    what: Message


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """A notice, the finding that says so if it is one, and its cures.

    `fix` is the first cure, the notice's own way out, or what is said of a finding where no cure was found.
    """

    notice: Notice
    finding: Finding | None = None
    fix: Message
    cures: tuple[TriedCure, ...] = ()


def advise(pattern: Pattern) -> tuple[Advice, ...]:
    """Every notice of the pattern in its order; those of findings with all cures that were tried and pass.

    Trying takes a while.
    """
    tried = tried_cures(pattern.checks)
    advice = []
    for risk in pattern.risks:
        if risk.finding is None:
            advice.append(Advice(notice=risk.notice, fix=risk.notice.fix))
            continue
        cures = tuple(
            TriedCure(kind=cure.kind, row=cure.row, what=cure_said(cure)) for cure in tried[risk.finding]
        )
        advice.append(
            Advice(
                notice=risk.notice,
                finding=risk.finding,
                fix=cures[0].what if cures else no_cure_said(),
                cures=cures,
            )
        )
    return tuple(advice)
