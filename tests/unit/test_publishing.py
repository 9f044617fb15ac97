"""What a publisher puts on her pattern: a picture as her mark, her contact as a code, edition, year and license."""

from __future__ import annotations

import json
import shutil
import struct
import zlib
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from click.testing import CliRunner
from PIL import Image

from applique.cli import main
from applique.design import Design, design_data, design_from_mapping, design_text, read_design
from applique.errors import Refusal
from applique.pack import holds_pack_of, source_files, write_pack
from applique.pattern import Pattern, draft
from applique.publishing import mark as marks
from applique.publishing import read_mark
from applique.reports import summary_md
from applique.scan_code import QUIET, scan_code
from applique.sheets import label_pdf, pattern_pdf

SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 40 20">{}</svg>'
RED = '<rect width="20" height="20" fill="#cc0000"/>'
SMALL: dict[str, Any] = {
    "title": "Oar",
    "designer": "A. Maker",
    "panel": {"width": "16in", "height": "12in"},
    "row": [{"text": "O", "cap_height": "4in"}],
    "lettering": {"font": "Fredoka"},
}
LICENSE = "You may sell what you sew from this pattern; do not copy the pattern."


def _file(folder: Path, name: str, content: str | bytes) -> str:
    path = folder / name
    path.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)
    return str(path)


def _png(size: tuple[int, int], color: tuple[int, ...] = (200, 0, 0, 255)) -> bytes:
    written = BytesIO()
    Image.new("RGBA", size, color).save(written, "PNG")
    return written.getvalue()


def _huge_png() -> bytes:
    """A few bytes that say of themselves that they are 60,000 pixels wide and as many high."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 6, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )


def _moving_png() -> bytes:
    written = BytesIO()
    frames = [Image.new("RGBA", (8, 8), (shade, 0, 0, 255)) for shade in (10, 200)]
    frames[0].save(written, "PNG", save_all=True, append_images=frames[1:])
    return written.getvalue()


def _published(**publisher: Any) -> Design:
    return design_from_mapping({**SMALL, "publisher": publisher})


def _pages(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]


def _rendered(pdf: bytes, page: int = 0, *, dpi: int = 150) -> Image.Image:
    drawn: Image.Image = pypdfium2.PdfDocument(pdf)[page].render(scale=dpi / 72).to_pil()
    return drawn.convert("RGB")


def _contact_pages(pages: list[str]) -> list[int]:
    return [number for number, page in enumerate(pages) if "https://example.org/help" in page]


# The mark


def test_the_summary_names_the_publisher_that_the_booklet_names() -> None:
    """One said "Designed by" the maker, the other "by" the publisher."""
    design = _published(name="The Lantern Table")
    assert design.designer
    head = summary_md(draft(design)).decode("utf-8")[:300]
    assert f"Designed by {design.designer}, published by The Lantern Table." in head


def test_an_svg_is_drawn_and_a_png_kept_as_it_is(tmp_path: Path) -> None:
    drawn = read_mark(_file(tmp_path, "a.svg", SVG.format(RED)))
    assert (drawn.name, drawn.width_px, drawn.height_px) == ("a.svg", marks.LONGEST_SIDE, 600)
    picture = Image.open(BytesIO(drawn.png))
    assert picture.getpixel((300, 300)) == (204, 0, 0, 255)
    assert picture.getpixel((900, 300)) == (0, 0, 0, 0)
    kept = read_mark(_file(tmp_path, "a.png", _png((30, 50))))
    assert (kept.width_px, kept.height_px) == (30, 50)
    assert kept.fitted(100.0, 100.0) == (60.0, 100.0)


def test_a_large_picture_is_made_smaller(tmp_path: Path) -> None:
    mark = read_mark(_file(tmp_path, "large.png", _png((3000, 1500))))
    assert (mark.width_px, mark.height_px) == (1200, 600)


@pytest.mark.parametrize(
    ("name", "content", "kind"),
    [
        ("a.png", b"GIF89a" + bytes(40), "mark-no-picture"),
        ("a.svg", "<html><body>no</body></html>", "mark-no-picture"),
        ("a.svg", SVG.format(RED).encode("utf-16"), "mark-no-picture"),
        ("a.png", _png((30, 30))[:60], "mark-damaged"),
        ("a.svg", SVG.format("<g>"), "mark-damaged"),
        ("a.png", _huge_png(), "mark-of-too-many-pixels"),
        ("a.png", _moving_png(), "mark-moves"),
        ("a.svg", SVG.format('<rect width="9" height="9"><animate/></rect>'), "mark-moves"),
        ("a.svg", SVG.format('<image href="https://example.org/a.png"/>'), "mark-reaches-out"),
        ("a.svg", SVG.format('<use xlink:href="other.svg#a"/>'), "mark-reaches-out"),
        ("a.svg", SVG.format('<rect fill="url(http://example.org/a#b)"/>'), "mark-reaches-out"),
        ("a.svg", SVG.format("<style>@import 'a.css';</style>"), "mark-reaches-out"),
        ("a.svg", '<?xml-stylesheet href="a.css"?>' + SVG.format(RED), "mark-reaches-out"),
        ("a.svg", '<!DOCTYPE svg [<!ENTITY a SYSTEM "a">]>' + SVG.format("&a;"), "mark-reaches-out"),
        ("a.svg", SVG.format("<script>alert(1)</script>"), "mark-with-script"),
        ("a.svg", SVG.format('<rect onload="alert(1)"/>'), "mark-with-script"),
        ("a.svg", SVG.format("<text>SC</text>"), "mark-with-text"),
        ("a.svg", SVG.format(RED).replace(' viewBox="0 0 40 20"', ""), "mark-without-size"),
        ("a.svg", SVG.format(""), "mark-empty"),
        ("a.png", _png((9, 9), (0, 0, 0, 0)), "mark-empty"),
    ],
)
def test_what_is_no_mark_is_refused(tmp_path: Path, name: str, content: str | bytes, kind: str) -> None:
    path = _file(tmp_path, name, content)
    for _ in range(2):  # found out once, remembered after that
        with pytest.raises(Refusal) as refused:
            read_mark(path)
        (problem,) = refused.value.problems
        assert (problem.kind, problem.where.path) == (kind, ("publisher", "mark_file"))
        assert problem.fix and str(tmp_path) not in str(problem)


def test_shapes_of_its_own_may_be_used_in_it(tmp_path: Path) -> None:
    inside = '<defs><rect id="a" width="20" height="20"/><linearGradient id="b"/></defs>'
    read_mark(_file(tmp_path, "a.svg", SVG.format(inside + '<use href="#a" fill="url(#b) #cc0000"/>')))


def test_a_file_that_is_not_there_too_large_or_no_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "large.png").write_bytes(bytes(marks.LARGEST_FILE + 1))
    for name, kind in [("no.png", "mark-unreadable"), ("large.png", "mark-too-large"), ("", "mark-no-file")]:
        with pytest.raises(Refusal) as refused:
            read_mark(str(tmp_path / name))
        assert [problem.kind for problem in refused.value.problems] == [kind]


@pytest.mark.parametrize(
    "answer",
    [
        "import os; os._exit(9)",
        "print('{}')",
        "print('[')",
        "print('{}' + chr(10) + 16 * 'x' + 2 * (3 * chr(0) + chr(9)))",
    ],
)
def test_a_child_that_dies_or_says_nonsense_hurts_nobody(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, answer: str
) -> None:
    """Whatever brings the reader of pictures down ends in a refusal."""
    (tmp_path / "broken_probe.py").write_text(answer, encoding="utf-8")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    monkeypatch.setattr(marks, "_PROBE", "broken_probe")
    monkeypatch.setattr(marks, "_KNOWN", {})
    with pytest.raises(Refusal, match="damaged picture"):
        read_mark(_file(tmp_path, "a.svg", SVG.format(RED)))


def test_a_child_that_somebody_else_ends_says_nothing_of_the_picture(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And the next try is a new one."""
    (tmp_path / "ended_probe.py").write_text("import os; os.kill(os.getpid(), 9)", encoding="utf-8")
    path = _file(tmp_path, "a.svg", SVG.format(RED.replace("20", "18")))
    with monkeypatch.context() as patch:
        patch.setenv("PYTHONPATH", str(tmp_path))
        patch.setattr(marks, "_PROBE", "ended_probe")
        with pytest.raises(Refusal, match="this machine is busy"):
            read_mark(path)
    assert read_mark(path).name == "a.svg"


@pytest.mark.parametrize(
    "hungry",
    [
        pytest.param(
            '<filter id="f"><feTurbulence baseFrequency="0.5" numOctaves="200000000"/></filter>'
            '<rect width="40" height="20" filter="url(#f)"/>',
            marks=pytest.mark.long,
        ),
        '<defs><g id="g0"><path d="M0 0 L9 9"/></g>{}</defs><use href="#g10"/>',
    ],
    ids=["clouds", "shapes in shapes"],
)
def test_a_picture_that_would_take_forever_is_stopped(tmp_path: Path, hungry: str) -> None:
    """Clouds of more octaves than anybody sees, and shapes used ten times in shapes used ten times and so on."""
    uses = (f'<use href="#g{depth}"/>' * 10 for depth in range(10))
    nested = "".join(f'<g id="g{depth}">{use}</g>' for depth, use in enumerate(uses, 1))
    with pytest.raises(Refusal, match="damaged picture, or one that takes too long"):
        read_mark(_file(tmp_path, "bomb.svg", SVG.format(hungry.replace("{}", nested))))


def test_its_path_starts_from_the_folder_of_the_design(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    _file(home, "sc.svg", SVG.format(RED))
    text = design_text(_published(name="SC", mark_file="sc.svg"))
    (home / "quilt.toml").write_text(text, encoding="utf-8")
    design = read_design(home / "quilt.toml")
    assert Path(design.publisher.mark_file) == home / "sc.svg"
    assert source_files(design) == (home / "sc.svg",)
    assert design_data(design, base=tmp_path)["publisher"]["mark_file"] == "home/sc.svg"
    pattern = draft(design)
    assert pattern.shared_design.publisher.mark_file == "sc.svg"
    made = tmp_path / "made"
    write_pack(pattern, made)
    assert str(tmp_path) not in (made / "design.toml").read_text("utf-8")
    assert "# Put the picture “sc.svg” beside this file." in (made / "design.toml").read_text("utf-8")
    assert json.loads((made / "pattern.json").read_bytes())["mark"]["name"] == "sc.svg"
    assert holds_pack_of(design, made)
    _file(home, "sc.svg", SVG.format(RED.replace("20", "19")))
    assert not holds_pack_of(design, made)
    shutil.copy(home / "sc.svg", made / "sc.svg")
    (made / "quilt.toml").write_text(text, encoding="utf-8")
    with pytest.raises(Refusal, match=r"the folder holds sc.svg, which this pattern is made from"):
        write_pack(draft(read_design(made / "quilt.toml")), made, replace=True)


def test_a_refused_mark_leaves_the_folder_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "quilt.toml").write_text(design_text(_published(mark_file="no.svg")), encoding="utf-8")
    result = CliRunner().invoke(main, ["make", "quilt.toml", "-o", "made", "--effort", "quick"])
    assert result.exit_code == 1
    assert "[publisher], mark_file: no.svg cannot be read" in result.output
    assert not (tmp_path / "made").exists()


# On the cover


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Pattern:
    mark = _file(tmp_path_factory.mktemp("mark"), "sc.svg", SVG.format(RED))
    return draft(
        _published(
            name="The sewing circle",
            mark_file=mark,
            edition="2nd edition",
            year=2026,
            contact="https://example.org/help",
            contact_code=True,
        )
    )


@pytest.mark.long
def test_the_cover_says_who_which_edition_and_what_others_may_do(published: Pattern) -> None:
    cover = " ".join(_pages(pattern_pdf(published))[0].split())
    for words in ("The sewing circle", "2nd edition, 2026", LICENSE):
        assert words in cover
    own = _pages(pattern_pdf(draft(_published(name="SC", license="Sew on."))))
    assert all("Sew on." in page and "You may sew" not in page for page in own)
    assert "TT" not in _pages(pattern_pdf(published))[0]
    lettered = _pages(pattern_pdf(draft(_published(name="The Tuesday table", mark="TT"))))
    assert "TT" in lettered[0].split()
    nobody = _pages(pattern_pdf(draft(design_from_mapping(SMALL))))
    assert not any("You may sew" in page for page in nobody)


def test_the_booklet_ends_with_the_license_and_whom_to_ask(published: Pattern) -> None:
    """The license stands there once in the text and once at the foot, as on every sheet."""
    pages = [" ".join(page.split()) for page in _pages(pattern_pdf(published))]
    assert [pages[number].count(LICENSE) for number in _contact_pages(pages)] == [2]
    assert all(page.count(LICENSE) == 1 for page in pages if "https://example.org/help" not in page)


@pytest.mark.long
def test_the_mark_stands_on_the_cover_in_its_colors(published: Pattern) -> None:
    def red(pattern: Pattern) -> int:
        pixels = np.asarray(_rendered(pattern_pdf(pattern)))
        return int((np.abs(pixels.astype(int) - (204, 0, 0)).max(axis=2) < 4).sum())

    square_px = 44 / 72 * 150  # half the mark, which is twice as wide as high and 44 points high
    assert red(published) == pytest.approx(square_px**2, rel=0.1)
    assert red(draft(_published(name="SC"))) == 0


# The code


@pytest.mark.parametrize("text", ["the shop by the ferry", "https://example.org/help", "Zoë, Größe 5, 안녕"])
def test_a_code_reads_back(text: str) -> None:
    """By a reader of others' making (zxing-cpp), at level M, with light all round as wide as ISO/IEC 18004 asks."""
    code = scan_code(text)
    assert len(code.modules) == code.count == len(code.modules[0])
    rim = [row for index, row in enumerate(code.modules) if not QUIET <= index < code.count - QUIET]
    rim += [row[:QUIET] + row[-QUIET:] for row in code.modules]
    assert not any(module for row in rim for module in row)
    shades = np.array([[0 if dark else 255 for dark in row] for row in code.modules], np.uint8)
    (read,) = zxingcpp.read_barcodes(shades.repeat(3, 0).repeat(3, 1))
    assert (read.text, str(read.ec_level)) == (text, "M")


def test_the_printed_code_reads_back(published: Pattern) -> None:
    booklet = pattern_pdf(published)
    (page,) = _contact_pages(_pages(booklet))
    (read,) = zxingcpp.read_barcodes(np.asarray(_rendered(booklet, page).convert("L")))
    assert read.text == "https://example.org/help"
    assert published.contact_code is not None
    across = (read.position.top_right.x - read.position.top_left.x) / 150
    assert across == pytest.approx(published.contact_code.side * 25 / 33, rel=0.1)


def test_a_code_of_no_contact_is_refused() -> None:
    with pytest.raises(Refusal, match="there is no contact to put into a code to scan"):
        _published(contact_code=True)


# The label


def test_the_label_of_a_sold_pattern_is_filled_in_by_whoever_sews() -> None:
    """It never names the designer as the maker; what the design says stands, and only the rest is left open."""
    sold = _pages(label_pdf(draft(_published(name="SC"))))[0]
    assert [word for word in ("Made by", "Date", "Place") if word in sold] == ["Made by", "Date", "Place"]
    assert "A. Maker" not in sold
    place = design_from_mapping({**SMALL, "publisher": {"name": "SC"}, "label": {"place": "By the ferry"}})
    partly = _pages(label_pdf(draft(place)))[0]
    assert [word for word in ("Made by", "Date", "Place", "By the ferry") if word in partly] == [
        "Made by",
        "Date",
        "By the ferry",
    ]
    own = _pages(label_pdf(draft(design_from_mapping(SMALL))))[0]
    assert ("A. Maker" in own, "Made by" in own) == (True, False)


def test_there_is_a_line_to_write_on_behind_each_blank_of_the_label_and_of_the_spare_one() -> None:
    lines = []
    stated = {**SMALL, "label": {"place": "By the ferry", "date": "Spring"}}
    for data in (stated, SMALL, {**SMALL, "publisher": {"name": "SC"}}):
        pixels = np.asarray(_rendered(label_pdf(draft(design_from_mapping(data))), dpi=72).convert("L"))
        for top in (149, 445):
            long = (pixels[top : top + 200, 200:420] < 160).sum(axis=1) > 110
            lines.append(sum(now and not before for before, now in pairwise([False, *long])))
    assert lines == [1, 1, 3, 3, 4, 4]  # whom it is for is always left open
