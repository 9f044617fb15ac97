"""Design files that mean harm, or that a program wrote by mistake: a refusal in words, soon, and never a traceback."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from applique.design import design_from_mapping, read_design
from applique.errors import Refusal
from applique.panel import place_rows

WORDS = b'[[row]]\ntext = "A"\n'
REFUSED = {
    "lists within lists": (b"a = " + b"[" * 100_000, "not valid TOML"),
    "tables within tables": (b"a = " + b"{a=" * 5_000, "not valid TOML"),
    "lists that do end": (b"a = " + b"[" * 400 + b"]" * 400, "stands in too many tables and lists"),
    "a key of 400,000 parts": (b".".join([b"a"] * 400_000) + b" = 1", "key of hundreds of parts"),
    "a table of quoted parts": (b"[" + b".".join([b'"a.b"'] * 20_000) + b"]", "key of hundreds of parts"),
    "a number of 5,000 digits": (WORDS + b"[fusible]\nextra_percent = " + b"9" * 5_000, "not valid TOML"),
    "a length of 4,000 digits": (b"[panel]\nwidth = " + b"9" * 4_000 + b"\n" + WORDS, "has no unit"),
    "a length of 900,000 digits": (b'[panel]\nwidth = "' + b"9" * 900_000 + b'in"\n' + WORDS, "has no unit"),
    "a letter of 4,000 digits": (
        WORDS + b"nudge = [{ letter = " + b"9" * 4_000 + b" }]",
        "there is no letter 9",
    ),
    "infinity": (WORDS + b"[lettering]\naxes = { wght = inf }", "“inf” is no number"),
    "no number": (WORDS + b"[lettering]\naxes = { wght = nan }", "“nan” is no number"),
    "NUL": (b'title = "a\x00b"', "not valid TOML"),
    "NUL, escaped": (b'title = "a\\u0000b"\n' + WORDS, "cannot be printed (U+0000)"),
    "a terminal's escape": (WORDS + b'[label]\ncare = ["\\u001b[2J"]', "cannot be printed (U+001B)"),
    "a bell in a row": (
        b'[[row]]\ntext = "A\\u0007"',
        "row 1, text: the text holds a sign that cannot be printed",
    ),
    "no UTF-8": (b'title = "\xff\xfe"', "not plain text"),
    "UTF-16": ('title = "x"'.encode("utf-16"), "not plain text"),
    "half a letter": (b'title = "\\ud800"', "not valid TOML"),
    "an impossible date": (b"title = 2024-02-30\n" + WORDS, "not valid TOML"),
    "60,000 unknown keys": (b"\n".join(b"k%d = 1" % n for n in range(60_000)), "more problems"),
    "a key of 900,000 letters": (b"k" * 900_000 + b" = 1", "there is no setting called “kkk"),
    "a color of 900,000 letters": (
        WORDS + b'[[fabric]]\nname = "x"\ncolor = "' + b"z" * 900_000 + b'"',
        "color",
    ),
    "50,000 rows": (WORDS * 50_000, "at most 500"),
    "a row of 900,000 letters": (b'[[row]]\ntext = "' + b"A" * 900_000 + b'"', "at most 2,000 letters"),
    "a megabyte and more": (b"#" * 1_000_001, "too large"),
    "somebody's home": (WORDS + b'[lettering]\nfont = "~nobody-here/x.ttf"', "there is no font"),
    "a device as a font": (WORDS + b'[lettering]\nfont = "/dev/zero"', "there is no font"),
    "a font in 5,000 folders": (
        WORDS + b'[lettering]\nfont = "' + b"x/" * 5_000 + b'.ttf"',
        "there is no font",
    ),
    "a number for the rows": (b"row = 3", "row"),
    "numbers among the rows": (b'row = [1, "a", { text = "A" }]', "row 2"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_it_is_refused_in_few_words(case: str, tmp_path: Path) -> None:
    content, said = REFUSED[case]
    file = tmp_path / "design.toml"
    file.write_bytes(content)
    with pytest.raises(Refusal) as refused:
        place_rows_of(file)
    assert said in str(refused.value)
    assert len(str(refused.value)) < 30_000
    assert max(map(len, str(refused.value).splitlines())) < 1_500


def place_rows_of(file: Path) -> None:
    from applique.fabrics import resolve_fabrics

    design = read_design(file)
    resolve_fabrics(design)
    place_rows(design)


@pytest.mark.parametrize("place", ["/dev/zero", "pipe", ".", "none/x.toml"])
def test_what_is_no_file_is_not_read(place: str, tmp_path: Path) -> None:
    """A pipe without a writer would be waited for, and a device read, for ever."""
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(Refusal):
        read_design(tmp_path / place)


def test_dots_in_words_and_notes_are_no_key(tmp_path: Path) -> None:
    file = tmp_path / "design.toml"
    dots = "." * 500
    file.write_text(f'# {dots}\n[[row]]\ntext = "{dots}"\n', encoding="utf-8")
    assert read_design(file).row[0].text == dots


def test_line_breaks_in_longer_texts_are_no_control_signs() -> None:
    design = design_from_mapping(
        {"row": [{"text": "A"}], "publisher": {"license": "For you.\nNot for sale."}}
    )
    assert design.publisher.license.count("\n") == 1


def _in_itself() -> list[Any]:
    ring: list[Any] = []
    ring.append(ring)
    return ring


def _deep() -> list[Any]:
    nest: list[Any] = []
    for _ in range(100_000):
        nest = [nest]
    return nest


def _shared() -> list[Any]:
    """Few lists, each holding the next one twice: far more paths than anybody could walk."""
    tree: list[Any] = []
    for _ in range(60):
        tree = [tree, tree]
    return tree


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({"row": _in_itself()}, "row 1: holds itself"),
        ({"row": [{"text": "A", "nudge": _in_itself()}]}, "row 1, nudge 1: holds itself"),
        ({"row": _deep()}, "stands in too many tables and lists"),
        ({"row": _shared()}, "stands in too many tables and lists"),
        ({"row": [{"text": "A"}], 7: "x"}, "the key 7 is no text"),
        ({"row": [{"text": "A", 7: "x"}]}, "row 1: the key 7 is no text"),
        ({"row": [{"text": "A"}], "\ud800": "x"}, "is no text"),
        ({"row": [{"text": "A\udcff"}]}, "row 1, text: “A\\udcff” is no text: it holds a byte FF"),
        ({"row": [{"text": "A\ud83d"}]}, "it holds U+D83D alone"),
        ({"row": [{"text": "A"}]} | dict.fromkeys(range(1000), 0), "the key 49 is no text"),
        ([1], "a design is a table of settings, and this is [1]"),
        (
            {"row": [{"text": "A", "nudge": [{"letter": 10**5000}]}]},
            "row 1, nudge 1, letter: is a number of more figures than anybody reads",
        ),
        ({"row": [{"text": "A", "axes": {"wght": -(10**5000)}}]}, "axes, wght: is a number of more figures"),
        ({"row": [{"text": "A"}], 10**5000: "x"}, "a key of many figures is no text"),
    ],
)
def test_data_that_no_file_could_hold_is_refused(data: Any, said: str) -> None:
    """It came out as an error of the program, or never: each list was followed wherever it led."""
    with pytest.raises(Refusal) as refused:
        design_from_mapping(data)
    assert said in str(refused.value)
    assert len(refused.value.problems) <= 50
