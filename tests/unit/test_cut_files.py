"""Files for cutting machines: names that people can read, sizes that the summary says, DXF beside each SVG."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import unicodedata
import zipfile
from io import BytesIO, StringIO
from typing import Any
from xml.etree import ElementTree

import ezdxf
import pytest
import shapely
from ezdxf import bbox
from ezdxf.entities.lwpolyline import LWPolyline

from applique.cutfiles import cut_drawings, cut_files
from applique.design import design_from_mapping
from applique.naming import readable_name, sign_name
from applique.pack import folder_name
from applique.pattern import Pattern, draft
from applique.reports import summary_md


def _pattern(*texts: str, **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": text} for text in texts],
        "lettering": {"font": "Rubik", "cap_height": "2in"},
        "panel": {"width": "60in", "height": "40in"},
    }
    return draft(design_from_mapping({**data, **tables}))


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Brioché", "Brioche"),
        ("Brioche\N{COMBINING ACUTE ACCENT}", "Brioche"),
        ("Fish & Chips!", "Fish-and-Chips"),
        ("Straße, Łódź", "Strasse-Lodz"),
        ("I’m O.K.", "Im-O-K"),
        ("a/b\\c:d", "a-b-c-d"),
        ("שלום בית", "שלום-בית"),
        ("\N{RIGHT-TO-LEFT ISOLATE}שלום\N{POP DIRECTIONAL ISOLATE}", "שלום"),
        ("Ελλάς", "Ελλάς"),
        ("ガール", "ガール"),
        ("प्रेम", "प्रेम"),
        ("…", ""),
        ("x" * 90, "x" * 24),
    ],
)
def test_words_in_a_file_name_can_be_read(text: str, name: str) -> None:
    """An accent was `u00e9`, an ampersand `u0026`, and words of another script nothing but numbers."""
    assert readable_name(text, longest=24) == unicodedata.normalize("NFC", name)


@pytest.mark.parametrize(
    ("sign", "name"),
    [
        ("&", "and"),
        ("?", "question-mark"),
        ("’", "apostrophe"),
        (".", "period"),
        ("\ue000", "sign-e000"),
        ("\N{HEAVY BLACK HEART}\ufe0f", "heavy-black-heart"),
        ("?!", "question-mark-exclamation-mark"),
        ("\u200d", ""),
    ],
)
def test_signs_alone_are_called_by_their_names(sign: str, name: str) -> None:
    assert sign_name(sign, longest=40) == name


def test_a_folder_keeps_the_letters_of_its_words() -> None:
    """Vowel signs of Devanagari are no word characters to a regular expression; they broke the word apart."""
    assert folder_name("प्रेम & Brioché") == "प्रेम-and-brioche"


AWKWARD = ("&?!", "Ee éÉ", "CON.", "’ –", "שָׁלוֹם", "LPT1 aux")


def test_names_of_cut_files_are_one_of_a_kind_and_good_on_every_system() -> None:
    """Windows: reserved names, <>:"/\\|?*, no dot or space at the end. macOS and Windows: no case, NFC as good as NFD.

    Sources: Microsoft, Naming Files, Paths, and Namespaces (from memory); Unicode Standard Annex 15.
    """
    names = list(cut_files(_pattern(*AWKWARD, cutting={"mat_width": "12in"})))
    for alike in (unicodedata.normalize("NFD", name).casefold() for name in names):
        assert [unicodedata.normalize("NFD", name).casefold() for name in names].count(alike) == 1
    for name in names:
        assert unicodedata.normalize("NFC", name) == name
        for part in name.split("/"):
            assert len(part.encode("utf-8")) < 200
            assert not re.search(r'[<>:"\\|?*\x00-\x1f]|[. ]$', part)
            assert not re.fullmatch(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\..*)?", part)
    assert "right-reading/letters/01-and.svg" in names
    assert "right-reading/letters/02-question-mark.svg" in names
    assert "mirrored/rows/row-03-CON.svg" in names
    assert "mirrored/rows/row-04-apostrophe-en-dash.svg" in names
    assert any(name.startswith("mirrored/rows/row-05-ש") for name in names)
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name in names:
            archive.writestr(name, b"")
    assert zipfile.ZipFile(packed).namelist() == names


def _svg_size(content: bytes) -> tuple[float, float, str]:
    root = ElementTree.fromstring(content)
    (width, unit), (height, _) = (
        re.fullmatch(r"([\d.]+)(in|mm)", root.get(side, "")).groups()  # type: ignore[union-attr]
        for side in ("width", "height")
    )
    return float(width), float(height), unit


@pytest.mark.parametrize("units", ["in", "cm"])
def test_the_summary_gives_the_width_of_every_letter_and_row_file(units: str) -> None:
    """The guide says to set the width that the summary gives. It gave none, and a file was wider than its letter."""
    pattern = _pattern(
        "Roy",
        "Q",
        units=units,
        outline={"around": "words"},
        lettering={"font": "Rubik", "cap_height": "2in", "outline": "1/4in"},
    )
    summary, files = summary_md(pattern).decode("utf-8"), cut_files(pattern)
    said = {}
    for line in summary.splitlines():
        if found := re.fullmatch(
            r"\| (\d+) \| (behind )?(\w+?)( outline)? \|.*\| ([\d.]+) by ([\d.]+) (in|mm) \|", line
        ):
            is_outline = bool(found[2] or found[4])
            said[found[1], is_outline, found[3]] = (float(found[5]), float(found[6]), found[7])
    wanted = {}
    for t in pattern.templates:
        wanted[str(t.number), t.layer == "outline", t.text] = f"{t.layer}s/{t.number:02d}-{t.text}"
    for row in pattern.panel.rows:
        wanted[str(row.number), False, row.text] = f"rows/row-{row.number:02d}-{row.text}"
        wanted[str(row.number), True, row.text] = f"outlines/row-{row.number:02d}-{row.text}"
    for key, name in wanted.items():
        for side in ("right-reading", "mirrored"):
            width, height, unit = _svg_size(files[f"{side}/{name}.svg"])
            assert said[key][2] == unit
            assert said[key][:2] == pytest.approx((width, height), abs=0.0006 if unit == "in" else 0.006)


@pytest.mark.parametrize("method", ["raw edge", "turned edge"])
def test_a_file_is_as_large_as_its_ink(method: str) -> None:
    for drawing in cut_drawings(_pattern("Roy", sewing={"method": method})):
        assert drawing.window == pytest.approx(drawing.outline.bounds(), abs=1e-9)


@pytest.mark.parametrize(("units", "insunits", "measurement"), [("in", 1, 0), ("cm", 4, 1)])
def test_every_svg_has_a_dxf_of_its_size_and_units(units: str, insunits: int, measurement: int) -> None:
    """No row had one, and an inch file called itself metric.

    Source: DXF reference, $INSUNITS 1 inches, 4 millimeters; $MEASUREMENT 0 English, 1 metric (from memory).
    """
    pattern = _pattern(
        "Ro", units=units, cutting={"dxf": True, "mat_width": "12in"}, panel={"width": "12in", "height": "8in"},
        lettering={"font": "Rubik", "cap_height": "2in", "outline": "1/4in"}, quilting=[{"kind": "echo", "lines": 1}],
    )  # fmt: skip
    files = cut_files(pattern)
    drawn = {name.removesuffix(".svg") for name in files if name.endswith(".svg")}
    assert drawn == {name.removesuffix(".dxf") for name in files if name.endswith(".dxf")}
    assert {name.rsplit("/", 1)[0] for name in drawn} == {
        f"{side}/{kind}"
        for side in ("right-reading", "mirrored")
        for kind in ("letters", "outlines", "rows", "mats")
    } | {"quilting"}
    for name in drawn:
        document = ezdxf.read(StringIO(files[f"{name}.dxf"].decode("utf-8")))  # type: ignore[attr-defined]
        assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (insunits, measurement)
        lines = document.modelspace().query("LWPOLYLINE")
        assert all(
            isinstance(line, LWPolyline) and line.closed is not name.startswith("quilting/") for line in lines
        )
        if "/mats/" not in name and not name.startswith("quilting/"):
            box = bbox.extents(lines)
            width, height, _ = _svg_size(files[f"{name}.svg"])
            assert (box.extmin.x, box.extmin.y) == pytest.approx((0, 0), abs=0.02)
            assert (box.extmax.x, box.extmax.y) == pytest.approx((width, height), abs=0.02)


_MAKE_ONE = """
import sys
from applique.cutfiles import cut_files
from applique.design import design_from_mapping
from applique.pattern import draft
files = cut_files(draft(design_from_mapping({"row": [{"text": "I"}], "cutting": {"dxf": True}})))
sys.stdout.buffer.write(b"".join(files[name] for name in sorted(files)))
"""


@pytest.mark.long
def test_files_are_the_same_whatever_order_python_gives_its_sets() -> None:
    """The writer of DXF lists its classes in the order of a set, which PYTHONHASHSEED changes."""
    made = [
        subprocess.run(
            [sys.executable, "-c", _MAKE_ONE],
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            stdout=subprocess.PIPE,
            check=True,
        ).stdout
        for seed in (1, 4, 7)
    ]
    assert b"$INSUNITS" in made[0]
    assert made[0] == made[1] == made[2]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("by what was flat and what was round", "by-what-was-flat-and"),
        ("and carry what it wants away", "and-carry-what-it-wants"),
        ("नमस्ते दुनिया शक्ति प्रेम", "नमस्ते-दुनिया-शक्ति"),
        ("one two three four fiver six", "one-two-three-four-fiver"),
        ("Donaudampfschifffahrtsgesellschaft", "Donaudampfschifffahrtsge"),
    ],
)
def test_a_name_that_is_too_long_ends_with_a_whole_word(text: str, name: str) -> None:
    assert readable_name(text, longest=24) == name


def _lines(content: bytes) -> list[shapely.LineString]:
    """The lines of a file of quilting, in inches."""
    paths = ElementTree.fromstring(content).iter("{http://www.w3.org/2000/svg}path")
    found = (re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.get("d", "")) for path in paths)
    return [shapely.LineString([(float(x), float(y)) for x, y in points]) for points in found]


@pytest.mark.parametrize("offered", [False, True])
def test_lines_of_quilting_stop_at_the_outermost_echo_and_leave_no_crumbs(offered: bool) -> None:
    """A crosshatch ran through all echoes that are sewn with it, in pieces of 1/5 in between the letters."""
    pattern = _pattern(
        "So", panel={"width": "20in", "height": "14in"}, lettering={"font": "Rubik", "cap_height": "5in"},
        quilting=[{"kind": "echo", "lines": 3, "spacing": "1/2in", "offered": offered},
                  {"kind": "crosshatch", "spacing": "1in", "offered": True}],
    )  # fmt: skip
    files = cut_files(pattern)
    echoes, hatch = (
        _lines(files[f"quilting/{name}.svg"]) for name in ("quilting-1-echo", "quilting-2-crosshatch")
    )
    assert len(hatch) > 20
    assert min(line.length for line in (*echoes, *hatch)) >= 1
    around = shapely.union_all([shapely.Polygon(line) for line in echoes if line.is_ring])
    inside = max(line.intersection(around).length for line in hatch)
    assert inside > 1 if offered else inside < 0.01
