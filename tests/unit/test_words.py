"""Every fact has its sentence, with its numbers in it; and every word of it comes from the catalogue."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

import pytest

from applique.advice import advise
from applique.design import Around, Design, OverLetters, Stitch, design_from_mapping
from applique.errors import Where
from applique.language import Message
from applique.pattern import draft
from applique.sewing.cures import Cure, CureKind
from applique.sewing.findings import (
    Detail,
    Faded,
    Finding,
    FindingKind,
    Meeting,
    Nearness,
    OutOfRange,
    Shortfall,
    Spot,
    TooFar,
)
from applique.sewing.holes import FilledHoles
from applique.sewing.limits import Limit, LimitReason
from applique.sewing.plan import WhenReason
from applique.sewing.quilting import Course, Echoes, EvenlySpread, InTheDitch, Repeats, Ruled, Waves
from applique.sewing.stabilizer import StabilizerReason
from applique.sewing.stitches import StitchReason
from applique.units import Units
from applique.words.cures import cure_said, no_cure_said
from applique.words.findings import filled_notice, finding_said, notice_of
from applique.words.limits import limit_reason_said
from applique.words.sewing import (
    course_said,
    stabilizer_reason_said,
    stitch_reason_said,
    when_reason_said,
)
from tests.made_up import loud

SCISSORS = Limit(least=Fraction(1, 4), reason=LimitReason.SCISSORS)
NEED = "scissors cut no finer (common practice)"


SHOUTING = loud()


def _small_words(said: Message) -> set[str]:
    """What is left in small letters when the catalogue has only capitals; "and" is CLDR's, between the last two."""
    return set(re.findall(r"[a-z]+", SHOUTING.tell(said))) - {"and"}


def _finding(
    kind: FindingKind,
    measure: float,
    detail: Detail,
    texts: Iterable[str] = (),
    limit: float = 0.25,
) -> Finding:
    spots = tuple(Spot(text=text, measure=measure, at=(0.0, 0.0)) for text in texts)
    return Finding(kind=kind, where=Where.in_row(2), measure=measure, limit=limit, spots=spots, detail=detail)


def _short(kind: FindingKind, measure: float, texts: Iterable[str], limit: Limit = SCISSORS) -> Finding:
    return _finding(kind, measure, Shortfall(limit=limit), texts, limit=float(limit.least))


FINDINGS = [
    (
        _short(FindingKind.STROKE, 0.125, ["q"]),
        f"the thinnest stroke of “q” is 1/8 in, less than the 1/4 in it needs; {NEED}",
    ),
    (
        _short(FindingKind.COUNTER, 0.125, ["q", "z", "q"]),
        f"the smallest hole in “q” is 1/8 in, less than the 1/4 in it needs; {NEED}; too small also in z",
    ),
    (
        _short(FindingKind.SLOT, 0.125, ["q", *"zqzplumoat"]),
        f"the narrowest slot of “q” is 1/8 in, less than the 1/4 in it needs; {NEED}; "
        "too small also in z, p, l, u, m, o, a, and t",
    ),
    (
        _short(FindingKind.HOLE, 0.125, ["qz", "z"]),
        f"the smallest hole in the outline behind “qz” is 1/8 in, less than the 1/4 in it needs; {NEED}; "
        "too small also behind z",
    ),
    (
        _short(FindingKind.NECK, 0.125, ["q"]),
        f"the narrowest neck of a hole in the outline behind “q” is 1/8 in, less than the 1/4 in it needs; {NEED}",
    ),
    (
        _short(FindingKind.SLIVER, 0.125, ["q", "z"]),
        f"what the panel's edge leaves of “q” is 1/8 in across, less than the 1/4 in it needs; {NEED}; "
        "too little also of z",
    ),
    (
        _short(FindingKind.POINT, 12.4, ["q", "z"], Limit(least=Fraction(20), reason=LimitReason.FRAYING)),
        "the sharpest point of “q” is 12°, less than the 20° it needs; a sharper tip frays away (common practice); "
        "too sharp also in z",
    ),
    (
        _short(FindingKind.CLEAR, 0.125, ["qz", "z"]),
        f"“qz” are 1/8 in apart, less than the 1/4 in they need; {NEED}; too close also: z",
    ),
    (
        _short(FindingKind.SEAM, -0.125, ["q"], Limit(least=Fraction(1, 2), reason=LimitReason.STATED)),
        "“q” is −1/8 in from the panel's seam, less than the 1/2 in it needs; your design asks for that much",
    ),
    (
        _finding(
            FindingKind.ROWS,
            0.125,
            Nearness(limit=SCISSORS, above=Where.in_row(1), names=("q", "z")),
            ["q / z"],
        ),
        f"rows 1 and 2 are 1/8 in apart, less than the 1/4 in they need; {NEED}",
    ),
    (
        _finding(
            FindingKind.ROWS,
            0.125,
            Nearness(limit=SCISSORS, above=Where.key("shape", 1), names=("q", "z")),
            ["q / z"],
        ),
        f"“q” and “z” are 1/8 in apart, less than the 1/4 in they need; {NEED}",
    ),
    (
        _finding(
            FindingKind.OUTLINES, 0.0, Meeting(around=Around.LETTERS, reach=0.375), ["qz", "z"], limit=0.75
        ),
        "the outlines behind “qz” lie over each other; letters are nearer than twice the outline of 3/8 in; so do z",
    ),
    (
        _finding(FindingKind.OUTLINES, 0.0, Meeting(around=Around.WORDS, reach=0.375), ["q z"], limit=0.75),
        "the outlines behind “q z” lie over each other; words are nearer than twice the outline of 3/8 in",
    ),
    (
        _finding(
            FindingKind.STITCH,
            12 / 25.4,
            OutOfRange(stitch=Stitch.SATIN, width=Fraction(120, 254), bound=Fraction(70, 254)),
            limit=7 / 25.4,
        ),
        "the stitch is 12 mm wide; wider than 7 mm it snags",
    ),
    (
        _finding(
            FindingKind.STITCH,
            0.96 / 25.4,
            OutOfRange(stitch=Stitch.SATIN, width=Fraction(96, 2540), bound=Fraction(10, 254)),
            limit=1 / 25.4,
        ),
        "the stitch is 0.96 mm wide; it takes at least 1 mm to hold the edge",
    ),
    (
        _finding(
            FindingKind.CONTRAST,
            2.96,
            Faded(fabric="plum", background="oat", difference=13.4),
            limit=3.0,
        ),
        "“plum” on “oat” has a contrast of 2.96 to 1, less than 3 to 1 (color difference 13); from across a room the "
        "words will fade",
    ),
    (
        _finding(
            FindingKind.READING,
            2.0,
            TooFar(
                cap_height=Fraction(2),
                distance=Fraction(960),
                farthest=Fraction(600),
                least=Fraction(16, 5),
                comfortable=Fraction(8),
            ),
            limit=3.2,
        ),
        "letters 2 in high are readable to 50 ft, not to 80 ft; that takes 3 3/16 in, and 8 in to read comfortably",
    ),
]


@pytest.mark.parametrize(("finding", "words"), FINDINGS)
def test_a_finding_is_said_with_its_measure_and_its_limit(finding: Finding, words: str) -> None:
    assert str(finding_said(finding, Units.INCHES)) == words


@pytest.mark.parametrize(("finding", "words"), FINDINGS)
def test_no_word_of_a_finding_escapes_the_catalogue(finding: Finding, words: str) -> None:
    """What the maker wrote is left as it is."""
    texts = " ".join(spot.text for spot in finding.spots)
    own = set(re.findall("[a-z]+", f"{texts} plum oat"))
    for units in Units:
        assert _small_words(finding_said(finding, units)) <= own


def test_every_kind_of_finding_is_said_and_carried_by_its_notice() -> None:
    assert {finding.kind for finding, _ in FINDINGS} == set(FindingKind)
    for finding, words in FINDINGS:
        notice = notice_of(finding, Units.INCHES)
        assert (notice.kind, notice.where.row) == (finding.kind.value, 2)
        assert str(notice.what) == words


def test_only_eight_letters_are_named() -> None:
    finding = _short(FindingKind.STROKE, 0.125, "qabcdefghi")
    assert str(finding_said(finding, Units.INCHES)).endswith(
        "too small also in a, b, c, d, e, f, g, h, and others"
    )


def test_distances_in_a_metric_design_are_meters() -> None:
    far = next(finding for finding, _ in FINDINGS if finding.kind is FindingKind.READING)
    said = str(finding_said(far, Units.CENTIMETERS))
    assert said.startswith(
        "letters 5.1 cm high are readable to 15.2 m, not to 24.4 m; that takes 8.1 cm, and 20.3 cm"
    )


@pytest.mark.parametrize(
    ("count", "said"), [(1, "1 small hole in the outline is closed: "), (3, "3 small holes ")]
)
def test_closed_holes_are_counted(count: int, said: str) -> None:
    notice = filled_notice(FilledHoles(where=Where.in_row(2), count=count, limit=SCISSORS), Units.INCHES)
    assert str(notice.what).startswith(said)
    assert str(notice.what).endswith(f"a hole has to be 1/4 in across; {NEED}")
    assert isinstance(notice.what, Message) and isinstance(notice.fix, Message)
    assert not _small_words(notice.what) | _small_words(notice.fix)


def test_every_reason_is_said() -> None:
    said = [limit_reason_said(Limit(least=Fraction(1), reason=reason)) for reason in LimitReason]
    said += [
        limit_reason_said(Limit(least=Fraction(1), reason=LimitReason.STITCH, stitch=stitch))
        for stitch in Stitch
    ]
    assert len(set(said)) == len(LimitReason) + len(Stitch)
    for stitch, one in zip(Stitch, said[len(LimitReason) :], strict=True):
        assert f"{stitch.value} stitch" in str(one)
    why = [stitch_reason_said(reason) for reason in StitchReason]
    why += [stabilizer_reason_said(reason) for reason in StabilizerReason]
    assert len(set(why)) == len(StitchReason) + len(StabilizerReason)
    for bordered, together in ((True, False), (False, False), (True, True)):
        when = [when_reason_said(reason, bordered=bordered, set_together=together) for reason in WhenReason]
        assert len(set(when)) == len(WhenReason)
        assert any("border" in str(one) for one in when) == (bordered and not together)
        assert not any(_small_words(one) for one in when)
    assert not any(_small_words(one) for one in (*said, *why))


SPREAD = EvenlySpread(spacing=Fraction(1))
REPEATS = Repeats(across=4, width=Fraction(12), thread=Fraction(108))


@pytest.mark.parametrize(
    ("course", "words"),
    [
        (Echoes(count=1, spacing=Fraction(3, 4)), "1 line around the words, 3/4 in away"),
        (Echoes(count=3, spacing=Fraction(3, 4)), "3 lines around the words, 3/4 in apart"),
        (
            Ruled(spacing=Fraction(2), angles_deg=(30.0, 120.0), letters=OverLetters.CROSS),
            "lines 2 in apart at 30° and 120°, straight over the letters",
        ),
        (
            Ruled(spacing=Fraction(2), angles_deg=(-22.5,), letters=OverLetters.MISS),
            "lines 2 in apart at −22.5°, stopping short of the letters",
        ),
        (
            Waves(
                rows=5, row_height=Fraction(9), overlap=Fraction(3, 4), basis=SPREAD, letters=OverLetters.MISS
            ),
            "5 rows 9 in high that overlap by 3/4 in, drawn as plain waves and figured as lines about 1 in apart; for "
            "your own design give the width of a repeat and its thread",
        ),
        (
            Waves(
                rows=1,
                row_height=Fraction(9),
                overlap=Fraction(3, 4),
                basis=REPEATS,
                letters=OverLetters.MISS,
            ),
            "1 row 9 in high of 4 repeats 12 in wide, 3 yd of needle thread in each; drawn as a plain wave",
        ),
        (
            InTheDitch(seams=3, widest=(Fraction(9), Fraction(9))),
            "in the seams around the panel and between the borders",
        ),
        (InTheDitch(seams=0, widest=(Fraction(9), Fraction(9))), "no borders, no seams"),
    ],
)
def test_lines_of_quilting_are_said(course: Course, words: str) -> None:
    said = course_said(course, Units.INCHES)
    assert str(said) == words
    assert not _small_words(said)


def _design(units: Units = Units.INCHES) -> Design:
    return design_from_mapping(
        {
            "units": units.value,
            "panel": {"width": "40in", "height": "30in"},
            "row": [{"text": "A"}, {"text": "B", "cap_height": "5in", "axes": {"wght": 1000}}],
            "fabric": [{"name": "Oat", "color": "#e9e4d6"}, {"name": "Sea", "color": "#203040"}],
            "border": [{"kind": "rectangles", "fabrics": ["Oat", "Sea"], "width": "3in"}],
        }
    )


def _cure(kind: CureKind) -> Cure:
    return Cure(kind=kind, row=2, border=1, length=Fraction(7, 16), name="plum", design=_design())


VALUES = {
    CureKind.HEIGHT: ("7/16 in", "row 2"),
    CureKind.EVERY_HEIGHT: ("7/16 in",),
    CureKind.HEIGHT_AND_PANEL: ("7/16 in", "row 2", "40 in by 30 in"),
    CureKind.WEIGHT: ("1000", "plum", "row 2"),
    CureKind.FONT: ("plum", "row 2"),
    CureKind.GAP: ("7/16 in", "row 2"),
    CureKind.GAP_AND_NUDGES: ("7/16 in", "row 2"),
    CureKind.GAP_AND_HEIGHT: ("7/16 in", "“5 in”", "row 2"),
    CureKind.WORDS_AS_ONE: ("each whole word",),
    CureKind.HOLES_CLOSED: ("every hole",),
    CureKind.ROW_GAP: ("row gap “7/16 in”",),
    CureKind.ROW_GAP_AND_PANEL: ("row gap “7/16 in”", "30 in high"),
    CureKind.NUDGES: ("row 2 without",),
    CureKind.MOVED_SIDEWAYS: ("row 2 moved in by “7/16 in”, to right = “0 in”",),
    CureKind.MOVED_UPRIGHT: ("row 2 moved in by “7/16 in”, to up = “0 in”",),
    CureKind.RUNS_OFF: ("Let row 2 run off",),
    CureKind.MARGIN: ("margin “7/16 in”",),
    CureKind.MARGIN_AND_PANEL: ("margin “7/16 in”", "40 in by 30 in"),
    CureKind.MARGIN_AND_BASELINES: ("margin “7/16 in”", "where they fall"),
    CureKind.STITCH_WIDTH: ("11.1125 mm", "row 2"),
    CureKind.DARKER_THREAD: ("darker thread", "plum", "row 2"),
    CureKind.LIGHTER_THREAD: ("lighter thread", "plum", "row 2"),
    CureKind.OUTLINE: ("7/16 in", "plum", "row 2"),
    CureKind.FABRIC: ("letters of “plum”", "row 2"),
    CureKind.LARGEST: ("Let row 2 be",),
    CureKind.STAYS: ("Keep row 2 at 7/16 in",),
    CureKind.PUT_BACK: ("Put row 2 back",),
    CureKind.CENTERED: ("Center row 2",),
    CureKind.OTHER_FONT: ("Set row 2 in “plum”",),
    CureKind.EVEN_SQUARES: ("squares of border 1 7/16 in",),
    CureKind.EVEN_PANEL: ("the panel 40 in by 30 in",),
    CureKind.EVEN_PANEL_AND_SQUARES: ("the panel 40 in by 30 in", "squares of border 1 7/16 in"),
    CureKind.EVEN_RECTANGLES: ("rectangles of border 1 3 in by 7/16 in",),
    CureKind.EVERY_LARGEST: ("all letters",),
    CureKind.EVERY_LARGEST_PUT_BACK: ("all letters", "no moves by hand"),
}


@pytest.mark.parametrize("kind", list(CureKind))
def test_a_cure_is_said_with_what_it_sets(kind: CureKind) -> None:
    said = cure_said(_cure(kind))
    assert all(value in str(said) for value in VALUES[kind])
    assert _small_words(said) <= {"plum"}


def test_a_cure_of_a_metric_design_is_said_in_centimeters() -> None:
    metric = replace(_cure(CureKind.HEIGHT_AND_PANEL), length=Fraction(5), design=_design(Units.CENTIMETERS))
    assert str(cure_said(metric)) == "cap height “12.7 cm” in row 2 on a panel of 101.6 cm by 76.2 cm"


def test_cures_of_two_rows_with_the_same_sentence_are_not_mixed_up() -> None:
    row = {"text": "I", "stitch": "satin", "stitch_width": "12mm"}
    pattern = draft(
        design_from_mapping(
            {
                "panel": {"width": "30in", "height": "30in"},
                "lettering": {"font": "Fredoka", "cap_height": "9in"},
                "row": [row, row],
            }
        )
    )
    first, second = [one for one in advise(pattern) if one.notice.kind == FindingKind.STITCH.value]
    assert first.notice.what == second.notice.what
    assert [one.notice.where.row for one in (first, second)] == [1, 2]
    for number, one in enumerate((first, second), 1):
        assert [(cure.kind, cure.row) for cure in one.cures] == [(CureKind.STITCH_WIDTH, number)]
        assert str(one.fix) == f"stitch width “7 mm” in row {number}"


def test_a_finding_without_a_cure_says_so_and_another_notice_keeps_its_own_way_out() -> None:
    pattern = draft(
        design_from_mapping(
            {
                "panel": {"width": "16in", "height": "12in"},
                "lettering": {"font": "Fredoka", "cap_height": "5in"},
                "sewing": {"least_point": 180},
                "row": [{"text": "HI", "nudge": [{"letter": 2, "right": "-1in"}]}],
            }
        )
    )
    advice = advise(pattern)
    assert [one.notice for one in advice] == list(pattern.notices)
    (point,) = (one for one in advice if one.notice.kind == FindingKind.POINT.value)
    assert (point.cures, point.fix) == ((), no_cure_said())
    (nudged,) = (one for one, risk in zip(advice, pattern.risks, strict=True) if risk.finding is None)
    assert (nudged.cures, nudged.fix) == ((), nudged.notice.fix)
    assert nudged.fix
