"""A maker's own font files: others are told their names and digests, and never where they lie."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import shutil
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from click.testing import CliRunner

from applique.cli import main
from applique.design import Design, design_data, design_from_mapping, design_text, read_design
from applique.design.fonts import fonts_named
from applique.pack import holds_pack_of, pack_files, write_pack
from applique.pattern import draft
from applique.reports import design_toml
from applique.typeset.bundled import bundled_folder
from applique.typeset.own import own_fonts
from applique.web.serving import _start

LILITA = bundled_folder() / "lilita_one" / "LilitaOne-Regular.ttf"
TITAN = bundled_folder() / "titan_one" / "TitanOne-Regular.ttf"
TEXT = """
title = "Ünder"
[lettering]
font = "fonts/Mine.ttf"
cap_height = "1in"
[[row]]
text = "I"
[[row]]
text = "L"
font = "../other/MINE.ttf"
[[row]]
text = "J"
font = "fonts/again/Mine.ttf"
[[row]]
text = "l"
font = "fonts/Plain"
[outline]
fabric = "Main"
[[fabric]]
name = "Main"
color = "#102030"
[cutting]
dxf = true
"""
NAMES = {"Mine.ttf": LILITA, "MINE 2.ttf": TITAN, "./Plain": TITAN}


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A folder of the maker's with a design of four font files, two of them the same file."""
    home = tmp_path / "her-secret" / "quilts"
    files = {"fonts/Mine.ttf": LILITA, "../other/MINE.ttf": TITAN, "fonts/again/Mine.ttf": LILITA}
    for name, font in {**files, "fonts/Plain": TITAN}.items():
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(font, home / name)
    (home / "quilt.toml").write_text(TEXT, encoding="utf-8")
    return home


def _plain(content: bytes) -> Iterator[bytes]:
    """A file as it is, and what the packed streams of a PDF hold (ISO 32000, FlateDecode and ASCII85Decode)."""
    yield content
    if not content.startswith(b"%PDF"):
        return
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\n?endstream", content, re.DOTALL):
        packed = (
            base64.a85decode(stream.strip().removesuffix(b"~>")) if stream.strip().endswith(b"~>") else stream
        )
        try:
            yield zlib.decompress(packed)
        except zlib.error:
            yield packed
    document = pypdfium2.PdfDocument(content)
    yield json.dumps(document.get_metadata_dict()).encode()
    yield "".join(page.get_textpage().get_text_range() for page in document).encode()


@pytest.mark.long
def test_no_file_of_a_pack_shows_the_makers_folders(home: Path, tmp_path: Path) -> None:
    """Before, design.toml and pattern.json held the whole path of each font."""
    secret = tmp_path.name
    forms = [secret.encode(code) for code in ("utf-8", "utf-16-be", "utf-16-le")] + [b"-secret"]
    files = pack_files(draft(read_design(home / "quilt.toml")))
    assert any(name.endswith(".dxf") for name in files)
    read = {name: list(_plain(content)) for name, content in files.items()}
    assert sum(len(parts) for parts in read.values()) > 3 * sum(name.endswith(".pdf") for name in files)
    assert not [name for name, parts in read.items() for part in parts for form in forms if form in part]


@pytest.mark.long
def test_whoever_puts_the_fonts_beside_the_design_makes_the_same_pack(home: Path, tmp_path: Path) -> None:
    files = pack_files(draft(read_design(home / "quilt.toml")))
    told: dict[str, Any] = json.loads(files["pattern.json"])["fonts"]
    assert told == {name: hashlib.sha256(font.read_bytes()).hexdigest() for name, font in NAMES.items()}
    for name, digest in told.items():
        assert f"# Put the font file “{name}” beside this file.\n# Its SHA-256 is {digest}\n" in files[
            "design.toml"
        ].decode("utf-8")
        assert f"- {name}, SHA-256 `{digest}`" in files["summary.md"].decode("utf-8")
    guest = tmp_path / "guest"
    guest.mkdir()
    (guest / "design.toml").write_bytes(files["design.toml"])
    for name, font in NAMES.items():
        shutil.copyfile(font, guest / name)
    assert pack_files(draft(read_design(guest / "design.toml"))) == files


def test_a_pack_is_known_again_by_its_fonts_wherever_they_lie(home: Path, tmp_path: Path) -> None:
    design = read_design(home / "quilt.toml")
    write_pack(draft(design), tmp_path / "out")
    assert holds_pack_of(design, tmp_path / "out")
    moved = Path(shutil.move(home.parent, tmp_path / "moved")) / home.name / "quilt.toml"
    assert holds_pack_of(read_design(moved), tmp_path / "out")
    shutil.copyfile(LILITA, moved.parent / "fonts" / "Plain")
    assert not holds_pack_of(read_design(moved), tmp_path / "out")
    (moved.parent / "fonts" / "Plain").unlink()
    assert not holds_pack_of(read_design(moved), tmp_path / "out")


@pytest.mark.parametrize("place", [".", "fonts", "new/deep", "../other", "linked"])
def test_a_design_written_elsewhere_finds_its_fonts_by_a_path_from_there(
    place: str, home: Path, tmp_path: Path
) -> None:
    (tmp_path / "far" / "away").mkdir(parents=True)
    (home / "linked").symlink_to(tmp_path / "far" / "away")
    (home / place).mkdir(parents=True, exist_ok=True)
    shutil.copyfile(LILITA, tmp_path / "far" / "Far.ttf")
    (home / "quilt.toml").write_text(TEXT.replace("fonts/Plain", "linked/../Far.ttf"), encoding="utf-8")
    design = read_design(home / "quilt.toml")
    again = home / place / "again.toml"
    again.write_text(design_text(design, base=again.parent), encoding="utf-8")
    written = again.read_text("utf-8")
    assert str(tmp_path) not in written
    assert "\\" not in written
    assert _same_files(read_design(again), design)
    assert _same_files(design_from_mapping(design_data(design, base=again.parent), base=again.parent), design)


def _same_files(one: Design, other: Design) -> bool:
    pairs = zip(fonts_named(one), fonts_named(other), strict=True)
    return all(Path(mine).samefile(theirs) for mine, theirs in pairs)


def test_a_mended_design_is_written_for_its_own_folder(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "mended").mkdir()
    small = '[lettering]\ncap_height = "1in"\n[[row]]\ntext = "ri"\nfont = "fonts/Mine.ttf"\n'
    (home / "small.toml").write_text(small, encoding="utf-8")
    for more, font in (
        ((), "fonts/Mine.ttf"),
        (("-o", "mended/m.toml"), f"../{home.relative_to(tmp_path)}/fonts/Mine.ttf"),
    ):
        result = CliRunner().invoke(main, ["check", str(home / "small.toml"), "--fix", *more])
        assert result.exit_code == 0, result.output
        mended = tmp_path / more[1] if more else home / "small-mended.toml"
        assert f'font = "{font}"' in mended.read_text("utf-8")
        assert f'+    {{ text = "ri", font = "{font}", cap_height = ' in result.output
        assert str(home / "fonts") not in result.output
        assert Path(read_design(mended).row[0].font or "").samefile(home / "fonts" / "Mine.ttf")


def test_the_page_keeps_fonts_of_one_name_apart(home: Path) -> None:
    """Before, the second file of a name took the place of the first, and its letters were drawn instead."""
    start, fonts, _, _ = _start(home / "quilt.toml")
    assert {name: path.read_bytes() for name, path in fonts.items()} == {
        name: font.read_bytes() for name, font in NAMES.items()
    }
    assert [line.get("font") for line in start.design["row"]] == [None, "MINE 2.ttf", "Mine.ttf", "./Plain"]


def test_a_line_break_in_a_file_name_does_not_become_a_setting(tmp_path: Path) -> None:
    name = 'a\ntitle = "hers".ttf'
    shutil.copyfile(LILITA, tmp_path / name)
    data = {"lettering": {"font": name, "cap_height": "1in"}, "row": [{"text": "I"}]}
    design = design_from_mapping(data, base=tmp_path)
    (tmp_path / "again.toml").write_bytes(design_toml(design, own_fonts(fonts_named(design)), {}))
    assert read_design(tmp_path / "again.toml") == design


def test_bundled_fonts_are_nobodys_own() -> None:
    assert own_fonts(["Fredoka", "lilita one", "Barlow Condensed"]) == ()
