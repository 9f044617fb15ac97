"""Every tool and supply of a step is on the list of what is needed, and nothing is on it that no step uses."""

from __future__ import annotations

import re
from typing import Any, Final

import pytest

from applique.design import Method
from applique.instructions import ChapterKind, Edition, instructions_of
from applique.instructions.values import Led
from applique.pattern import Pattern
from tests.chapters import drafted, said_in

DESIGN: Final[dict[str, Any]] = {
    "row": [{"text": "LO"}],
    "fabric": [{"name": "Ink", "color": "#203040"}],
    "lettering": {"font": "Rubik", "cap_height": "12in"},
    "panel": {"width": "30in", "height": "18in"},
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
    "hanging": {"sleeve": True},
    "quilting": [{"kind": "lines"}],
}
LISTED: Final = {
    r"^printer$": r"\bPrint the template pages\b",
    r"^pencil$": r"\btrace\b",
    r"^sharp scissors with fine points$": r"\bscissors\b",
    r"^rotary cutter\b": r"\brotary\b",
    r"\bits mat and a long ruler$": r"\blong ruler\b|\blay the ruler\b",
    r"^large square ruler$": r"\bsquare ruler\b",
    r"^iron and ironing board$": r"\bpress\b",
    r"^soft towel to press on$": r"\btowel\b",
    r"^sewing machine\b": r"\bset the machine to\b",
    r"^sewing machine with a blanket stitch$": r"\bblanket stitch\b",
    r"^open-toe foot$": r"\bopen-toe foot\b",
    r"^walking foot\b": r"\bwalking foot\b",
    r"^walking foot with a guide bar$": r"\bguide bar of the walking foot\b",
    r"^white scrap to test fabrics on$": r"\bwhite scrap\b",
    r"^pins$": r"\bpins\b",
    r"^slips of paper$": r"\bslip\b",
    r"^hand needle$": r"\bby hand\b",
    r"^tape measure$": r"\bmeasure\b",
    r"^tape for the backing\b": r"\btape the backing\b",
    r"\bfor the pages of large letters$": r"\band tape\b",
    r"^two hooks or nails for the rod$": r"\bhooks or nails\b",
    r"^rod about [\d/ ]+ in long for the hanging sleeve$": r"\brod in the sleeve\b|\brod\b(?=.*sleeve)",
    r"^flat rod about [\d/ ]+ in long if it is to hang by corner pockets$": r"\bhold a flat rod\b",
    r"^seam sealant\b": r"\bseam sealant\b",
    r"^wash-away glue$": r"\bwash-away glue\b",
    r"^flat tool to lift letters off it$": r"\bflat tool\b",
    r"^cutting machine with a fabric blade and a mat$": r"\bcutting machine\b",
    r"^chalk pencil\b": r"\bchalk pencil\b",
    r"^press cloth$": r"\bpress cloth\b",
    r"^safety pins or basting spray$": r"\bsafety pins\b.*\bbasting spray\b",
    r"^basting thread\b": r"\bbasting thread\b",
    r"^machine needles\b": r"\bneedle\b",
    r"^for the label\b": r"\blabel\b",
    r"^envelopes for the letters$": r"\benvelope\b",
}
"""What stands on the list, and the words of the steps that it is for."""


def _lists(pattern: Pattern) -> tuple[list[str], list[str]]:
    """The notions and the tools on the list."""
    book = instructions_of(pattern, edition=Edition.CUSTOMER)
    (needed,) = (chapter for chapter in book.chapters if chapter.kind is ChapterKind.NEEDED)
    (led,) = (block for block in needed.blocks if isinstance(block, Led))
    tell = pattern.speech.field
    found = {tell(lead): tell(words) for lead, words in led.items}
    return found["Notions"].split("; "), found["Tools"].split("; ")


def _things(pattern: Pattern) -> list[str]:
    notions, tools = _lists(pattern)
    return [*notions, *tools]


@pytest.mark.parametrize("method", list(Method))
def test_nothing_is_listed_twice_and_what_is_used_up_is_no_tool(method: Method) -> None:
    """Scissors stood among notions and among tools, pins and paper among tools, a press cloth among notions."""
    notions, tools = _lists(drafted(**DESIGN, sewing={"method": method.value}))
    both = [*notions, *tools]
    for word in (
        "scissors",
        "pins",
        "hand needle",
        "chalk",
        "press cloth",
        "rotary",
        "walking foot",
        "printer",
    ):
        assert sum(bool(re.search(rf"(?<!safety )\b{word}\b", thing)) for thing in both) == 1, word
    assert {"pins", "hand needle", "slips of paper", "white scrap to test fabrics on"} <= set(notions)
    assert {"sharp scissors with fine points", "press cloth", "soft towel to press on"} <= set(tools)
    assert ("wash-away glue" in notions) is (method is Method.TURNED_EDGE)


@pytest.mark.parametrize("method", list(Method))
def test_steps_use_what_is_listed_and_nothing_else(method: Method) -> None:
    _hold(drafted(**DESIGN, sewing={"method": method.value}))


@pytest.mark.parametrize(
    "changed",
    [
        {"stitching": {"stitch": "blanket"}, "quilting": [{"kind": "in the ditch"}]},
        {
            "stitching": {"stitch": "straight", "when": "with the quilting"},
            "quilting": [{"kind": "edge to edge"}],
        },
        {"stitching": {"stitch": "satin", "offers": ["satin", "blanket"]}, "quilting": [{"kind": "echo"}]},
    ],
)
def test_feet_and_stitches_are_those_of_the_work(changed: dict[str, Any]) -> None:
    """Neither a blanket stitch, nor an open foot, nor a guide bar was on the list, and a walking foot always."""
    _hold(drafted(**{**DESIGN, **changed}))


def _hold(pattern: Pattern) -> None:
    things = _things(pattern)
    others = (
        chapter
        for chapter in instructions_of(pattern, edition=Edition.CUSTOMER).chapters
        if chapter.kind not in (ChapterKind.COVER, ChapterKind.NEEDED)
    )
    steps = " ".join(" ".join(map(said_in, others)).split())
    for listed, used in LISTED.items():
        on_list = any(re.search(listed, thing) for thing in things)
        assert on_list is bool(re.search(used, steps, re.IGNORECASE)), listed
    unguarded = [thing for thing in things if not any(re.search(listed, thing) for listed in LISTED)]
    assert unguarded == []
