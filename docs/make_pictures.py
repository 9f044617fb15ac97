"""Draw the pictures of the documents with the tool itself. Run `python docs/make_pictures.py`.

With `pdftoppm` (Poppler) the pages of the first quilt are drawn too; without it they are left as they are.
"""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from applique import Pattern, draft, read_design
from applique.pack import pack_files
from applique.preview import preview_png, preview_svg
from applique.typeset.bundled import bundled_folder

HERE = Path(__file__).parent
SAMPLES = HERE.parent / "samples"
WIDTH_PX = 900
COLUMNS, CELL_PX, CAPTION_PX, GAP_PX = 3, (420, 300), 44, 24
INK, QUIET = "#3b3733", "#8c857c"
PAGES = {"templates-mirrored": 2, "placement-guide": 1, "pattern": 2}
"""Of which files of the first quilt which page is shown."""


def contact_sheet() -> bytes:
    """Every sample in small, with its name and size, as PNG."""
    samples = sorted(SAMPLES.glob("*.toml"))
    rows = -(-len(samples) // COLUMNS)
    wide, high = CELL_PX[0] + GAP_PX, CELL_PX[1] + CAPTION_PX + GAP_PX
    sheet = Image.new("RGB", (COLUMNS * wide + GAP_PX, rows * high + GAP_PX), "white")
    draw = ImageDraw.Draw(sheet)
    font = ImageFont.truetype(
        str(bundled_folder() / "barlow_condensed" / "BarlowCondensed-ExtraBold.ttf"), 20
    )
    for index, sample in enumerate(samples):
        x, y = GAP_PX + index % COLUMNS * wide, GAP_PX + index // COLUMNS * high
        pattern = draft(read_design(sample))
        quilt = quilt_alone(pattern)
        quilt.thumbnail(CELL_PX)
        sheet.paste(quilt, (x + (CELL_PX[0] - quilt.width) // 2, y + (CELL_PX[1] - quilt.height) // 2))
        draw.text((x + CELL_PX[0] / 2, y + CELL_PX[1] + 12), sample.name, INK, font, anchor="mt")
    buffer = BytesIO()
    sheet.quantize(256).save(buffer, "PNG", optimize=True)
    return buffer.getvalue()


def woven_check() -> bytes:
    """A check of wheat and cream as a loom makes it, thread over and under thread, as PNG: the fabric of a sample."""
    cream, wheat = (250, 244, 228), (226, 196, 140)
    picture = Image.new("RGB", (240, 240))
    for x in range(240):
        for y in range(240):
            across, down = x // 3, y // 3
            warp = wheat if across % 20 < 10 else cream
            weft = wheat if down % 20 < 10 else cream
            over = (across + down) % 2
            shade = 0.94 if (x if over else y) % 3 == 2 else 1.0
            picture.putpixel((x, y), tuple(round(part * shade) for part in (warp if over else weft)))
    buffer = BytesIO()
    picture.save(buffer, "PNG", optimize=True)
    return buffer.getvalue()


def quilt_alone(pattern: Pattern) -> Image.Image:
    """The quilt without the sizes and the scene beside it."""
    width, height = (float(side) for side in pattern.quilt.finished)
    picture = Image.open(BytesIO(preview_png(preview_svg(pattern), width_px=2 * WIDTH_PX))).convert("RGB")
    unit = max(width, height) / 40
    pixels_an_inch = picture.height / (height + 7.8 * unit)
    left, top = 2.5 * unit * pixels_an_inch, 4.2 * unit * pixels_an_inch
    return picture.crop(
        (round(left), round(top), round(left + width * pixels_an_inch), round(top + height * pixels_an_inch))
    )


def first_quilt_pages(pattern: Pattern) -> dict[str, bytes]:
    """The pages that `first-quilt.md` shows, as PNG by file name."""
    drawn: dict[str, bytes] = {}
    files = pack_files(pattern)
    with tempfile.TemporaryDirectory() as folder:
        for name, page in PAGES.items():
            pdf = Path(folder) / f"{name}.pdf"
            pdf.write_bytes(files[f"{name}.pdf"])
            out = Path(folder) / name
            options = ["-png", "-r", "60", "-singlefile", "-f", str(page)]
            subprocess.run(["pdftoppm", *options, str(pdf), str(out)], check=True)
            with Image.open(out.with_suffix(".png")) as picture:
                framed = Image.new("RGB", (picture.width + 2, picture.height + 2), "#d8d4cc")
                framed.paste(picture, (1, 1))
            buffer = BytesIO()
            framed.quantize(64).save(buffer, "PNG", optimize=True)
            drawn[f"first-quilt-{name}.png"] = buffer.getvalue()
    return drawn


if __name__ == "__main__":
    pattern = draft(read_design(SAMPLES / "boathouse.toml"))
    (HERE / "boathouse.png").write_bytes(preview_png(preview_svg(pattern), width_px=WIDTH_PX))
    (SAMPLES / "wheat-check.png").write_bytes(woven_check())
    (HERE / "samples.png").write_bytes(contact_sheet())
    first = draft(read_design(SAMPLES / "first-quilt.toml"))
    (HERE / "first-quilt.png").write_bytes(preview_png(preview_svg(first), width_px=WIDTH_PX))
    if shutil.which("pdftoppm"):
        for name, content in first_quilt_pages(first).items():
            (HERE / name).write_bytes(content)
