"""Photos of fabrics: what is kept of them, their color, what is refused, and that they are drawn at true scale."""

from __future__ import annotations

import base64
import json
import re
import shutil
import struct
import zlib
from io import BytesIO
from pathlib import Path
from typing import Any, Final

import numpy as np
import pypdfium2
import pytest
from click.testing import CliRunner
from PIL import Image, ImageCms

from applique.cli import main
from applique.design import Design, design_text, read_design
from applique.errors import Refusal
from applique.for_customers import customers_files, drafted_for_customers
from applique.pack import holds_pack_of, source_files, write_pack
from applique.pattern import Pattern, draft
from applique.photos import photo as photos
from applique.photos import photo_names, read_photo
from applique.preview import preview_png, preview_svg
from applique.sheets import coloring_pdf, pattern_pdf

RED: Final = (204, 16, 32)
BLUE: Final = (16, 32, 204)
GREEN: Final = (16, 144, 48)
CREAM: Final = (240, 232, 208)
PLACE: Final = b"54.0901 N 12.1405 E"
"""What the photo of a test says of where it was taken, in words, so that it is found wherever it is left."""


def _checked(size: int = 64) -> Image.Image:
    """Four squares, no two alike, so that it can be seen which way it lies."""
    picture = Image.new("RGB", (size, size), RED)
    half = size // 2
    picture.paste(BLUE, (half, 0, size, half))
    picture.paste(GREEN, (0, half, half, size))
    picture.paste(CREAM, (half, half, size, size))
    return picture


def _noise(width: int, height: int) -> Image.Image:
    shades = np.random.default_rng(7).integers(60, 200, (height, width, 3), dtype=np.uint8)
    return Image.fromarray(shades).resize((width, height))


def _huge_png() -> bytes:
    """A few bytes that say of themselves that they are 60,000 pixels wide and as many high."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


def _from_a_phone(folder: Path, *, orientation: int = 1, size: tuple[int, int] = (1600, 1200)) -> Path:
    """A photo with all that phones write beside the pixels: the place, a comment, XMP, a thumbnail."""
    picture = _noise(*size)
    picture.paste(RED, (0, 0, size[0] // 2, size[1] // 2))
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010E] = PLACE.decode()
    exif.get_ifd(0x8825).update(
        {1: "N", 2: (54.0, 5.0, 24.5), 3: "E", 4: (12.0, 8.0, 25.9), 29: "2026:05:01"}
    )
    file = folder / "birds.jpg"
    picture.save(file, quality=90, exif=exif, comment=PLACE, xmp=b"<x>" + PLACE + b"</x>")
    return file


def _quilt(folder: Path, photo: str, **more: str) -> Design:
    """A panel of 12 by 8 in with one letter, everything from the fabric of the photo but the letter."""
    color = f'color = "{more["color"]}"' if "color" in more else ""
    width = f'photo_width = "{more["photo_width"]}"' if "photo_width" in more else ""
    (folder / "quilt.toml").write_text(
        f"""
title = "Oar"
[panel]
width = "12in"
height = "8in"
fabric = "{more.get("panel", "Birds")}"
[lettering]
font = "Fredoka"
cap_height = "4in"
fabric = "{more.get("letters", "Plain")}"
[[row]]
text = "{more.get("text", "I")}"
turn = {more.get("turn", "0")}
[[fabric]]
name = "Birds"
photo = '{photo}'
{color}
{width}
[[fabric]]
name = "Plain"
color = "#101010"
{more.get("border", "")}
""",
        encoding="utf-8",
    )
    return read_design(folder / "quilt.toml")


# What is kept


def test_its_color_is_the_mean_of_its_light(tmp_path: Path) -> None:
    """A quarter of one color and three quarters of another, by the curve of IEC 61966-2-1, worked out here."""
    first, second = (250, 40, 0), (20, 90, 255)
    picture = Image.new("RGB", (8, 8), second)
    picture.paste(first, (0, 0, 4, 4))
    picture.save(tmp_path / "two.png")

    def light(shade: int) -> float:
        part = shade / 255
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    def shade(amount: float) -> int:
        part = 12.92 * amount if amount <= 0.0031308 else 1.055 * amount ** (1 / 2.4) - 0.055
        return round(255 * part)

    mean = [shade(0.25 * light(a) + 0.75 * light(b)) for a, b in zip(first, second, strict=True)]
    wanted = "#{:02x}{:02x}{:02x}".format(*mean)
    assert read_photo(str(tmp_path / "two.png")).color == wanted
    drawn = draft(_quilt(tmp_path, "two.png"))
    assert drawn.panel.fabric.color == wanted
    assert draft(_quilt(tmp_path, "two.png", color="#abcdef")).panel.fabric.color == "#abcdef"


def test_a_photo_is_turned_upright_made_smaller_once_and_stripped(tmp_path: Path) -> None:
    """EXIF 2.3: orientation 6 is a camera held a quarter turn to the left; the right of its sensor was below."""
    file = _from_a_phone(tmp_path, orientation=6)
    assert file.read_bytes().count(PLACE) == 3
    photo = read_photo(str(file))
    assert (photo.width_px, photo.height_px) == (900, 1200)
    picture = Image.open(BytesIO(photo.data))
    assert picture.size == (900, 1200)
    assert (picture.format, dict(picture.getexif()), picture.info.keys() & {"exif", "xmp", "comment"}) == (
        "JPEG",
        {},
        set(),
    )
    red = np.asarray(picture.convert("RGB"), dtype=int)[:, :, 0] > 190
    assert red[50:550, 500:850].mean() > 0.95 > red[50:550, 50:400].mean()
    assert max(Image.open(BytesIO(photo.small)).size) == 300
    (tmp_path / "again.jpg").write_bytes(photo.data)
    again = read_photo(str(tmp_path / "again.jpg"))
    assert (again.data, again.small, again.color) == (photo.data, photo.small, photo.color)


@pytest.mark.parametrize(
    ("behind", "more"),
    [(b"", {}), (PLACE, {}), (b"", {"comment": PLACE}), (b"", {"xmp": PLACE})],
    ids=["bare", "something behind its end", "a comment", "XMP"],
)
def test_a_bare_jpeg_is_kept_to_the_byte_and_no_other(
    tmp_path: Path, behind: bytes, more: dict[str, Any]
) -> None:
    file = BytesIO()
    _noise(200, 150).save(file, "JPEG", quality=60, restart_marker_blocks=2, **more)
    written = file.getvalue() + behind
    (tmp_path / "bare.jpeg").write_bytes(written)
    photo = read_photo(str(tmp_path / "bare.jpeg"))
    assert (photo.data == written) is (PLACE not in written)
    assert PLACE not in photo.data
    assert photo.name == "bare.jpeg"


def test_whatever_is_a_picture_is_kept_as_png_or_jpeg(tmp_path: Path) -> None:
    clear = Image.new("RGBA", (40, 40), (0, 0, 0, 0))
    clear.paste((*RED, 255), (0, 0, 20, 40))
    clear.save(tmp_path / "clear.png")
    seen = Image.open(BytesIO(read_photo(str(tmp_path / "clear.png")).data))
    assert (seen.format, seen.getpixel((5, 5)), seen.getpixel((30, 5))) == ("PNG", RED, (255, 255, 255))
    _noise(60, 40).save(tmp_path / "birds.webp", lossless=True)
    assert read_photo(str(tmp_path / "birds.webp")).name == "birds.jpg"
    deep = Image.fromarray(np.full((8, 8), 128 * 257, dtype=np.uint16))
    deep.save(tmp_path / "deep.png")
    assert read_photo(str(tmp_path / "deep.png")).color == "#808080"


def test_a_photo_in_another_color_space_is_brought_into_srgb(tmp_path: Path) -> None:
    """The profile of sRGB with its primaries exchanged says that what is written red is meant blue (ICC.1, 9.2)."""
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    profile = srgb.replace(b"rXYZ", b"----", 1).replace(b"bXYZ", b"rXYZ", 1).replace(b"----", b"bXYZ", 1)
    Image.new("RGB", (8, 8), (200, 0, 0)).save(tmp_path / "wide.png", icc_profile=profile)
    photo = read_photo(str(tmp_path / "wide.png"))
    red, green, blue = Image.open(BytesIO(photo.data)).convert("RGB").getpixel((4, 4))  # type: ignore[misc]
    assert (red < 8, green < 8, abs(blue - 200) < 8) == (True, True, True)
    assert b"iCCP" not in photo.data


def test_two_photos_of_one_name_lie_in_one_folder(tmp_path: Path) -> None:
    for number, name in enumerate(["birds.webp", "Birds.png", "preview.png"]):
        _noise(30 + number, 20).save(tmp_path / name)
    found = [read_photo(str(tmp_path / name)) for name in ("birds.webp", "Birds.png", "preview.png")]
    _checked().save(tmp_path / "preview.png")
    found.append(read_photo(str(tmp_path / "preview.png")))
    names = photo_names(found, taken=("preview.png",))
    assert list(names.values()) == ["birds.jpg", "Birds 2.jpg", "preview.jpg", "preview 2.png"]


# What is refused


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (_huge_png(), "has more than 50 million pixels"),
        (b"These are words and no photo.", "is no JPEG, PNG or WebP picture"),
        (b"\x89PNG\r\n\x1a\nmore", "is a damaged picture"),
        (b'<svg xmlns="http://www.w3.org/2000/svg"/>', "is no JPEG, PNG or WebP picture"),
        (b"GIF89a", "is no JPEG, PNG or WebP picture"),
    ],
    ids=["bomb", "text", "damaged", "svg", "gif"],
)
def test_what_is_no_photo_is_refused_in_words(tmp_path: Path, content: bytes, said: str) -> None:
    (tmp_path / "birds.jpg").write_bytes(content)
    with pytest.raises(Refusal, match=rf"fabric 1, photo: birds.jpg {said}"):
        draft(_quilt(tmp_path, "birds.jpg"))


def test_moving_too_narrow_too_large_and_missing_ones_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    frames = [Image.new("RGB", (8, 8), color) for color in (RED, BLUE)]
    frames[0].save(tmp_path / "moves.png", save_all=True, append_images=frames[1:])
    Image.new("RGB", (400, 80), RED).save(tmp_path / "narrow.png")
    for name, said in [
        ("moves.png", "is a moving picture"),
        ("narrow.png", "is more than 4 times as long"),
        ("gone.png", "cannot be read"),
    ]:
        with pytest.raises(Refusal, match=said):
            draft(_quilt(tmp_path, name))
    monkeypatch.setattr(photos, "LARGEST_FILE", 100)
    with pytest.raises(Refusal, match="is larger than"):
        draft(_quilt(tmp_path, "narrow.png"))


@pytest.mark.parametrize(
    "name",
    ["../birds.jpg", "/etc/birds.jpg", "..\\birds.jpg", "C:birds.jpg", "sub/birds.jpg", "notes.txt", ".jpg"],
)
def test_a_photo_in_another_folder_is_never_looked_for(tmp_path: Path, name: str) -> None:
    with pytest.raises(Refusal, match=r"fabric 1, photo: “.*” is not the name of a photo beside"):
        _quilt(tmp_path, name)


def test_a_link_that_leads_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    _checked().save(tmp_path / "birds.png")
    (home / "birds.png").symlink_to(tmp_path / "birds.png")
    with pytest.raises(Refusal, match=r"birds\.png leads to a file in another folder"):
        draft(_quilt(home, "birds.png"))


def test_a_fabric_needs_a_color_or_a_photo_of_an_inch_at_least(tmp_path: Path) -> None:
    _checked().save(tmp_path / "birds.png")
    with pytest.raises(Refusal, match=r"fabric 1: color is missing"):
        _quilt(tmp_path, "")
    with pytest.raises(Refusal, match=r"fabric 1, photo_width"):
        _quilt(tmp_path, "birds.png", photo_width="1/2in")


def test_a_refused_photo_leaves_the_folder_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "birds.jpg").write_bytes(b"words")
    _quilt(tmp_path, "birds.jpg")
    result = CliRunner().invoke(main, ["make", "quilt.toml", "-o", "made", "--effort", "quick"])
    assert result.exit_code == 1
    assert "birds.jpg is no JPEG, PNG or WebP picture" in result.output
    assert not (tmp_path / "made").exists()


# What is handed on


@pytest.mark.long
def test_a_pattern_hands_its_photos_on_without_their_places_and_makes_the_same_again(tmp_path: Path) -> None:
    _from_a_phone(tmp_path)
    design = _quilt(tmp_path, "birds.jpg", photo_width="20cm")
    assert source_files(design) == (tmp_path / "birds.jpg",)
    made, again = tmp_path / "made", tmp_path / "again"
    write_pack(draft(design), made)
    assert holds_pack_of(design, made)
    files = {file.name: file.read_bytes() for file in made.rglob("*") if file.is_file()}
    assert [name for name, content in files.items() if PLACE in content or b"Exif" in content] == []
    assert json.loads(files["pattern.json"])["photos"].keys() == {"birds.jpg"}
    shutil.copytree(made, tmp_path / "elsewhere")
    write_pack(draft(read_design(tmp_path / "elsewhere" / "design.toml")), again)
    assert {file.name: file.read_bytes() for file in again.rglob("*") if file.is_file()} == files
    _checked().save(tmp_path / "birds.jpg")
    assert not holds_pack_of(design, made)


@pytest.mark.long
def test_a_customer_gets_a_photo_only_as_it_is_drawn(tmp_path: Path) -> None:
    _from_a_phone(tmp_path)
    files = customers_files(drafted_for_customers(_quilt(tmp_path, "birds.jpg")))
    assert not [name for name in files if name.endswith((".jpg", ".png", ".toml"))]
    photo = read_photo(str(tmp_path / "birds.jpg"))
    every = b"".join(files.values())
    assert PLACE not in every
    assert photo.data not in every


def test_a_design_is_not_written_where_its_photos_are_not(tmp_path: Path) -> None:
    _checked().save(tmp_path / "birds.png")
    design = _quilt(tmp_path, "birds.png")
    assert 'photo = "birds.png"' in design_text(design, base=tmp_path)
    with pytest.raises(Refusal, match=r"birds.png, the photo of a fabric, is not in the folder to write to"):
        design_text(design, base=tmp_path.parent)


# True scale


def _cover(pattern: Pattern) -> Image.Image:
    page: Image.Image = pypdfium2.PdfDocument(pattern_pdf(pattern))[0].render(scale=3).to_pil()
    return page.convert("RGB")


def _near(picture: Image.Image, color: tuple[int, int, int]) -> np.ndarray[Any, np.dtype[np.bool_]]:
    near: np.ndarray[Any, np.dtype[np.bool_]] = (
        np.abs(np.asarray(picture, dtype=int) - color).max(axis=2) < 24
    )
    return near


def _stretches(line: np.ndarray[Any, np.dtype[np.bool_]]) -> list[tuple[int, int]]:
    """Where each run of what is true starts and ends."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(int), [0]])))
    return [(int(start), int(end)) for start, end in zip(edges[::2], edges[1::2], strict=True)]


BORDER: Final = '[[border]]\nkind = "strip"\nwidth = "4in"\nfabrics = ["Birds"]\n'


def test_the_cover_shows_it_at_the_scale_of_the_quilt(tmp_path: Path) -> None:
    """The plain panel is 12 in wide; the photo of 2 in comes again in the border above it, six times over that."""
    _checked().save(tmp_path / "birds.png")
    design = _quilt(tmp_path, "birds.png", photo_width="2in", panel="Plain", letters="Birds", border=BORDER)
    cover = _cover(draft(design))
    panel = _near(cover, (16, 16, 16))
    middle = int(np.flatnonzero(panel.sum(axis=1) > panel.sum(axis=1).max() * 0.9).mean())
    left, right = np.flatnonzero(panel[middle])[[0, -1]]
    inch = (right - left) / 12
    top = np.flatnonzero(panel[:, (left + 12)])[0]
    line = _near(cover, RED)[round(top - 1.5 * inch)] | _near(cover, GREEN)[round(top - 1.5 * inch)]
    starts = [start for start, _ in _stretches(line)][1:-1]
    assert len(starts) >= 7
    assert np.diff(starts) / inch == pytest.approx(2, rel=0.02)


def _quarters(picture: Image.Image, box: tuple[float, float, float, float]) -> list[Any]:
    left, top, right, bottom = box
    return [
        picture.getpixel((round(left + x * (right - left)), round(top + y * (bottom - top))))
        for y in (0.25, 0.75)
        for x in (0.1, 0.9)
    ]


def test_cover_and_preview_show_it_as_it_was_taken(tmp_path: Path) -> None:
    """A photo as wide as the panel and as high lies on it once, neither mirrored nor upside down."""
    _checked(66).resize((90, 60)).save(tmp_path / "birds.png")
    pattern = draft(_quilt(tmp_path, "birds.png", photo_width="12in"))
    wanted = [RED, BLUE, GREEN, CREAM]
    cover = _cover(pattern)
    seen = _near(cover, RED) | _near(cover, BLUE) | _near(cover, GREEN) | _near(cover, CREAM)
    rows, columns = (
        np.flatnonzero(seen.sum(axis=axis) > 400) for axis in (1, 0)
    )  # no words are so much of a line
    assert _quarters(cover, (columns[0], rows[0], columns[-1], rows[-1])) == wanted
    svg = preview_svg(pattern)
    x, y, wide, _ = (float(part) for part in re.search(rb'viewBox="([^"]+)"', svg)[1].split())  # type: ignore[index]
    picture = Image.open(BytesIO(preview_png(svg))).convert("RGB")
    inch = picture.width / wide
    box = [float(part) for part in re.search(rb"translate\(([\d.]+),([\d.]+)\)", svg).groups()]  # type: ignore[union-attr]
    low = ((box[0] - x) * inch, (box[1] - y - 8) * inch, (box[0] - x + 12) * inch, (box[1] - y) * inch)
    assert _quarters(picture, low) == wanted


def test_the_pattern_of_the_svg_is_as_wide_as_the_photo_shows_and_turns_with_the_letter(
    tmp_path: Path,
) -> None:
    """The document has a unit of the viewBox for each inch, and so has its pattern."""
    _checked().resize((40, 20)).save(tmp_path / "birds.png")
    design = _quilt(tmp_path, "birds.png", photo_width="3 1/2in", panel="Plain", letters="Birds", turn="90")
    pattern = draft(design)
    svg = preview_svg(pattern).decode()
    size = re.search(r'<svg [^>]*height="([\d.]+)in"[^>]*viewBox="0 0 [\d.]+ ([\d.]+)"', svg)
    assert size is not None
    assert size[1] == size[2]
    tile = re.search(r"<pattern ([^>]*)>(.*?)</pattern>", svg, re.DOTALL)
    assert tile is not None
    for wanted in ('width="3.5"', 'height="1.75"', 'patternUnits="userSpaceOnUse"'):
        assert wanted in tile[1]
    data = re.search(r'href="data:image/png;base64,([^"]+)"', tile[2])
    assert data is not None
    assert base64.b64decode(data[1]) == read_photo(str(tmp_path / "birds.png")).data
    assert re.search(r'<path [^>]*fill="url\(#fabric-1\)"[^>]*transform="translate\([^)]*\) rotate\(-90', svg)


def test_a_page_to_color_in_stays_lines(tmp_path: Path) -> None:
    _checked().save(tmp_path / "birds.png")
    pattern = draft(_quilt(tmp_path, "birds.png"))
    for page in pypdfium2.PdfDocument(coloring_pdf(pattern)):
        assert not _near(page.render(scale=1).to_pil().convert("RGB"), RED).any()
