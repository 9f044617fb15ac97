"""What the data of a report tell of findings, of those that are meant so, and of numbers that the maker states."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from applique.design import Accepted
from applique.held_numbers import (
    Held,
    HeldBuy,
    HeldHours,
    HeldLength,
    HeldNumber,
    HeldPieces,
    HeldStrips,
    NothingCut,
)
from applique.reports.numbers import exact, rounded, table_of
from applique.sewing.findings import (
    Detail,
    Faded,
    Finding,
    Meeting,
    Nearness,
    OutOfRange,
    Shortfall,
    TooFar,
)
from applique.sewing.limits import Limit
from applique.units import Units
from applique.words.accepted import Acceptance, acceptance_said
from applique.words.findings import finding_said

__all__ = ["accepted_data", "entry_data", "finding_data", "finding_said_data", "held_data"]


def finding_said_data(finding: Finding, units: Units) -> dict[str, Any]:
    """A finding with all that is known of it, and in words."""
    return {
        "kind": finding.kind.value,
        "row": table_of(finding.where),
        "what": str(finding_said(finding, units)),
        **finding_data(finding),
    }


def entry_data(entry: Accepted) -> dict[str, Any]:
    """An entry `[[accepted]]` in the shape of the design file, whole."""
    return {
        "finding": entry.finding.value,
        "words": entry.words,
        "measured": list(entry.measured),
        "why": entry.why,
    }


def accepted_data(acceptance: Acceptance) -> dict[str, Any]:
    """What a maker has accepted, whether that still holds, and the findings that it is of."""
    return {
        **entry_data(acceptance.entry),
        "number": acceptance.number,
        "standing": acceptance.standing.value,
        "said": [str(said) for said in acceptance_said(acceptance)],
        "findings": [
            {
                "kind": risk.notice.kind,
                "what": str(risk.notice.what),
                "where": str(risk.notice.where),
                "place": risk.notice.where.as_data(),
            }
            for risk in acceptance.risks
        ],
    }


def finding_data(finding: Finding) -> dict[str, Any]:
    """What was measured, what it was judged by, and where, as JSON holds it; lengths in inches."""
    return {
        "measure": rounded(finding.measure),
        "limit": rounded(finding.limit),
        "spots": [
            {"text": s.text, "measure": rounded(s.measure), "at": [rounded(s.at[0]), rounded(s.at[1])]}
            for s in finding.spots
        ],
        "detail": _detail(finding.detail),
    }


def _detail(detail: Detail) -> dict[str, Any]:
    """What a finding was judged by, by its kind."""
    match detail:
        case Shortfall(limit=limit):
            return _limit(limit)
        case Nearness(limit=limit, above=above):
            return {**_limit(limit), "above": table_of(above)}
        case Meeting(around=around, reach=reach):
            return {"around": around.value, "reach": rounded(reach)}
        case OutOfRange(stitch=stitch, width=width, bound=bound):
            return {"stitch": stitch.value, "width": exact(width), "bound": exact(bound)}
        case Faded(fabric=fabric, background=background, difference=difference):
            return {"fabric": fabric, "background": background, "difference": rounded(difference)}
        case TooFar() as far:
            return {
                "cap_height": exact(far.cap_height),
                "distance": exact(far.distance),
                "farthest": exact(far.farthest),
                "least": exact(far.least),
                "comfortable": exact(far.comfortable),
            }


def held_data(number: HeldNumber) -> dict[str, Any]:
    """A number of the maker's own, and what it was held against, as JSON holds it; lengths in inches."""
    return {
        "table": number.table,
        "part": number.part.value,
        "border": number.border,
        "fabric": number.fabric,
        "kind": number.kind.value,
        "verdict": number.verdict.value,
        **_held(number.held),
    }


def _held(held: Held) -> dict[str, Any]:
    """What a number was held against, by its kind; `over` is what is to spare, less than nothing where it is short."""
    match held:
        case HeldStrips() as strips:
            return {
                "stated": strips.stated,
                "needed": strips.needed,
                "usable_widths": [exact(width) for width in strips.usable_widths],
                "holds_from": None if strips.holds_from is None else exact(strips.holds_from),
                "over": None if strips.over is None else exact(strips.over),
            }
        case HeldPieces(stated=stated, needed=needed, over=over):
            return {"stated": stated, "needed": needed, "over": over}
        case HeldLength(stated=length, needed=least, over=spare):
            return {"stated": exact(length), "needed": exact(least), "over": exact(spare)}
        case HeldBuy() as buy:
            return {"stated": exact(buy.stated), "needed": exact(buy.needed), "over": exact(buy.over)}
        case HeldHours() as hours:
            least_most = [rounded(hours.least), rounded(hours.most)]
            return {"stated": rounded(hours.stated), "needed": least_most}
        case NothingCut(stated=number):
            return {"stated": exact(number) if isinstance(number, Fraction) else number}


def _limit(limit: Limit) -> dict[str, Any]:
    return {"reason": limit.reason.value, "stitch": limit.stitch and limit.stitch.value}
