"""The customer's edition: what is in it, what is not, and where it is written."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from click.testing import CliRunner

from applique.cli import main
from applique.design import PaperSize, design_from_mapping
from applique.errors import Refusal
from applique.for_customers import customers_design, customers_files, drafted_for_customers
from applique.pack import write_for_customers
from applique.pattern import Pattern
from applique.record import RECORD
from applique.sheets import label_pdf
from applique.units import Units

DESIGN: dict[str, Any] = {
    "title": "High water",
    "row": [{"text": "HI"}],
    "panel": {"width": "20in", "height": "9in", "fabric": "Oat"},
    "lettering": {"fabric": "Ink", "cap_height": "5in"},
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
    "fabric": [
        {"name": "Oat", "color": "#e8dfc8"},
        {"name": "Ink", "color": "#dfd6bf", "have": ["1/4yd"]},  # so pale on oat that a finding says so
    ],
    "print": {"scale_x": "5 7/8in", "scale_y": "98%"},
    "label": {"maker": "A. Maker", "date": "spring"},
    "publisher": {
        "name": "The rowing club's sewing circle",
        "license": "Sew it, sell it.",
        "contact": "a@b.example",
    },
}


@pytest.fixture(scope="module")
def patterns() -> dict[PaperSize, Pattern]:
    return drafted_for_customers(design_from_mapping(DESIGN))


@pytest.fixture(scope="module")
def files(patterns: dict[PaperSize, Pattern]) -> dict[str, bytes]:
    return customers_files(patterns)


def words(pdf: bytes) -> list[str]:
    """The text of each page."""
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]


@pytest.mark.long
def test_it_has_a_file_for_each_paper_and_for_each_hand(files: dict[str, bytes]) -> None:
    assert sorted(files) == sorted(
        (
            "high-water-A4.pdf",
            "high-water-cut-files.zip",
            "high-water-letter.pdf",
            "high-water-sew-along.html",
            "high-water-templates-A4.pdf",
            "high-water-templates-letter.pdf",
            "high-water-to-color.pdf",
            RECORD,
        )
    )
    sizes = {
        name: pypdfium2.PdfDocument(files[name])[0].get_size() for name in files if name.endswith(".pdf")
    }
    assert sizes["high-water-letter.pdf"] == pytest.approx((612, 792), abs=0.1)
    assert sizes["high-water-A4.pdf"] == pytest.approx((595.28, 841.89), abs=0.1)  # ISO 216


@pytest.mark.long
def test_the_page_to_sew_by_says_both_papers_where_they_differ() -> None:
    """It counted pages of letter paper, and named the letters too large for one, to customers who have A4."""
    wide = {"text": "OI", "cap_height": "7 3/8in"}  # an O too wide for A4 alone; the L is too high for both
    design = {
        **DESIGN,
        "row": [wide, {"text": "L", "cap_height": "13in"}],
        "panel": {"width": "30in", "height": "40in"},
        "lettering": {"font": "Rubik"},
    }
    patterns = drafted_for_customers(design_from_mapping(design))
    files = customers_files(patterns)
    page = re.sub(r"<[^>]+>", "", files["high-water-sew-along.html"].decode("utf-8")).replace("\u00a0", " ")
    counts = [
        len(pypdfium2.PdfDocument(files[f"high-water-templates-{paper}.pdf"])) for paper in ("letter", "A4")
    ]
    assert f"{counts[0]} pages of letter paper or {counts[1]} pages of A4 paper" in page
    joined = {
        paper: [pattern.template(one.template).text for one in pattern.sheets.joined]
        for paper, pattern in patterns.items()
    }
    assert joined == {PaperSize.LETTER: ["L"], PaperSize.A4: ["O", "L"]}
    assert "L: too large for one page of letter paper." in page
    assert "O and L: too large for one page of A4 paper." in page
    assert "A large letter over several pages of letter paper" in page
    printed = {
        name: " ".join(" ".join(words(files[f"high-water-{name}.pdf"])).split()) for name in ("letter", "A4")
    }
    for name, other, count in (("letter", "A4", counts[0]), ("A4", "letter", counts[1])):
        assert f"{count} pages of {name} paper: they are mirrored" in printed[name]
        assert f"pages of {other} paper" not in printed[name]


def test_the_zip_of_cut_files_says_what_is_in_it(files: dict[str, bytes]) -> None:
    """Nobody was told what “mirrored” is for, nor that a row is no template."""
    with zipfile.ZipFile(io.BytesIO(files["high-water-cut-files.zip"])) as archive:
        names = [name.split("/", 1)[1] for name in archive.namelist()]
        text = archive.read("high-water-cut-files/read-me.txt").decode()
    assert "“mirrored” is for fabric that lies wrong side up" in text
    for name in names:
        side, *rest = name.split("/")
        assert not rest or f"“{side}”" in text
        if rest and not rest[-1].startswith("row-"):
            assert side == "quilting" or f"“{rest[0]}”" in text
    assert "“quilting”" not in text


def test_the_properties_of_a_file_name_title_and_publisher_alone(files: dict[str, bytes]) -> None:
    """They said which program and which library had written it."""
    for content in (content for name, content in files.items() if name.endswith(".pdf")):
        found = pypdfium2.PdfDocument(content).get_metadata_dict()
        assert found["Title"].startswith("High water: ")
        assert found["Author"] == "The rowing club's sewing circle"
        assert found["Creator"] == found["Producer"] == ""


def test_it_is_for_a_printer_that_is_true_and_a_stash_that_is_empty() -> None:
    design = customers_design(design_from_mapping(DESIGN), PaperSize.A4)
    assert design.print.scale_x == design.print.scale_y == 1
    assert all(fabric.have == () for fabric in design.fabric)
    assert (design.label.maker, design.label.date) == ("", "")
    assert design.units is Units.INCHES


def test_no_mat_of_her_machine_is_in_it() -> None:
    """Mats of the maker's machine did not fit the blocks of fabric of anybody else."""
    mine = {
        **DESIGN,
        "sewing": {"method": "machine cut"},
        "cutting": {"mat_width": "12in", "mat_height": "24in"},
    }
    design = design_from_mapping(mine)
    assert design.cutting.mat_width == 12 and design.cutting.mat_height == 24
    cutting = customers_design(design, PaperSize.A4).cutting
    assert cutting.mat_width is None and cutting.mat_height is None
    assert cutting.mat_spacing == design.cutting.mat_spacing


def test_the_label_is_for_whoever_sews_it(patterns: dict[PaperSize, Pattern]) -> None:
    mine = design_from_mapping({**DESIGN, "designer": "A. Maker", "publisher": {}})
    assert customers_design(mine, PaperSize.LETTER).publisher.name == "A. Maker"
    (page,) = words(label_pdf(patterns[PaperSize.LETTER]))
    assert "Made by" in page and "A. Maker" not in page


def test_pages_run_from_the_cover_to_the_care_through_templates(files: dict[str, bytes]) -> None:
    pages = words(files["high-water-letter.pdf"])
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert "High water" in page
        assert "The rowing club's sewing circle" in page and "Sew it, sell it." in page
    after = [0, 1, *[2] * (len(_IN_ORDER) - 2)]  # the second page has the contents
    first = [
        next(i for i, page in enumerate(pages) if i >= least and said in page)
        for said, least in zip(_IN_ORDER, after, strict=True)
    ]
    assert first == sorted(first)


_IN_ORDER = (
    "Finished size",
    "What you need",
    "Seam allowance",
    "Cut across at",
    "Measure this rule",
    "To color in",
)


def test_nothing_in_it_is_only_for_its_maker(files: dict[str, bytes]) -> None:
    """No file syntax, no finding, no path, no file that a customer does not get."""
    html = files["high-water-sew-along.html"].decode()
    seen = re.sub(r"<(script|style)\b.*?</\1>", " ", html, flags=re.S)
    texts = {name: "\n".join(words(content)) for name, content in files.items() if name.endswith(".pdf")}
    texts["high-water-sew-along.html"] = re.sub(r"<[^>]+>", " ", seen)
    for name, text in texts.items():
        for planted in _NOT_THERE:
            assert not re.search(planted, text), (name, planted)


_NOT_THERE = (
    r"\[\[?[a-z_]+\]\]?",
    r"\b[a-z]+_[a-z_]+\b",
    r"\.(toml|json|md|svg|dxf)\b",
    r"templates-|placement-guide|nesting\.pdf|quilt-label\.pdf|cut-files/",
    r"Check before you cut|Try: |Check before you publish",
    r"/tmp|/home|\\Users",
    r"design file|your stash|what you have",
)


def test_the_search_finds_what_is_planted() -> None:
    for planted, text in zip(
        _NOT_THERE,
        (
            "see [[fabric]]",
            "set usable_width",
            "design.toml",
            "templates-mirrored.pdf",
            "Try: x",
            "/tmp/x",
            "your stash",
        ),
        strict=True,
    ):
        assert re.search(planted, text)


def test_a_wide_quilt_lies_on_its_side_on_the_page_to_color(
    files: dict[str, bytes], patterns: dict[PaperSize, Pattern]
) -> None:
    """A wide quilt took three fifths of the page, across it."""
    wide, high = patterns[PaperSize.LETTER].quilt.finished
    (page,) = pypdfium2.PdfDocument(files["high-water-to-color.pdf"])
    drawn = [one.get_bounds() for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=1)]
    boxes = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in drawn if x1 - x0 > 72 and y1 - y0 > 72]
    across, up = max(boxes, key=lambda sides: sides[0] * sides[1])
    assert wide > high and up / across == pytest.approx(float(wide / high), abs=0.05)
    assert max(across / (page.get_width() - 72), up / (page.get_height() - 72 - 120)) > 0.95


@pytest.mark.long
def test_the_same_patterns_give_the_same_bytes(
    patterns: dict[PaperSize, Pattern], files: dict[str, bytes]
) -> None:
    assert customers_files(patterns) == files


@pytest.mark.long
def test_folder_and_zip_hold_the_same(tmp_path: Path, patterns: dict[PaperSize, Pattern]) -> None:
    folder = tmp_path / "high-water"
    written = write_for_customers(patterns, folder)
    with zipfile.ZipFile(io.BytesIO((tmp_path / "high-water.zip").read_bytes())) as archive:
        zipped = {name.removeprefix("high-water/"): archive.read(name) for name in archive.namelist()}
    beside = {path.name: path.read_bytes() for path in folder.iterdir() if path.name != RECORD}
    assert zipped == beside
    assert written.files[-1] == tmp_path / "high-water.zip"
    write_for_customers(patterns, folder)  # once more: both are ours


@pytest.mark.long
def test_a_folder_to_sell_shows_only_what_is_sold(tmp_path: Path, patterns: dict[PaperSize, Pattern]) -> None:
    """A list of digests lay among the files; hidden, it still keeps what is hers from being replaced."""
    folder = tmp_path / "to-sell"
    write_for_customers(patterns, folder)
    seen = {path.name for path in folder.iterdir() if not path.name.startswith(".")}
    assert {name.rsplit(".", 1)[1] for name in seen} == {"pdf", "zip", "html"}
    (folder / "price-list.pdf").write_bytes(b"mine")
    with pytest.raises(Refusal):
        write_for_customers(patterns, folder)
    assert write_for_customers(patterns, folder, replace=True).left == ("price-list.pdf",)
    assert (folder / "price-list.pdf").read_bytes() == b"mine"


@pytest.mark.long
def test_a_zip_of_somebody_elses_is_left_alone(tmp_path: Path, patterns: dict[PaperSize, Pattern]) -> None:
    folder = tmp_path / "high-water"
    (tmp_path / "high-water.zip").write_bytes(b"hers")
    with pytest.raises(Refusal) as refused:
        write_for_customers(patterns, folder)
    assert refused.value.problems[0].kind == "zip-in-the-way"
    assert (tmp_path / "high-water.zip").read_bytes() == b"hers" and not folder.exists()
    write_for_customers(patterns, folder, replace=True)
    assert zipfile.is_zipfile(tmp_path / "high-water.zip")


@pytest.mark.long
def test_the_command_makes_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    made = CliRunner().invoke(
        main,
        [
            "make",
            "--text",
            "HI",
            "--panel",
            "20x9in",
            "--title",
            "Tide",
            "--effort",
            "quick",
            "--for-customers",
        ],
    )
    assert made.exit_code == 0, made.output
    assert (tmp_path / "tide-for-customers" / "tide-A4.pdf").is_file()
    assert (tmp_path / "tide-for-customers.zip").is_file()
    assert not (tmp_path / "tide-for-customers" / "design.toml").exists()
