"""The speed of the main steps as ratios to floors measured in the same run. Run `python tests/benchmarks/run.py`.

With `--write` the table goes into docs/performance.md. Nothing here gates a test run: machines are shared and noisy, so
only ratios are worth keeping. Every size is measured in a process of its own, so that its peak memory is its own.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import pypdfium2

from applique.cutfiles import cut_files
from applique.cutting import forget_plans
from applique.design import Design, design_from_mapping
from applique.fabrics import resolve_fabrics
from applique.geometry.polygons import parts_of
from applique.nesting import Effort, Nester, forget_nests
from applique.pack import pack_files, write_pack
from applique.panel import place_rows
from applique.pattern import Pattern, draft
from applique.pieces import cut_templates
from applique.sewing.cures import check_design
from applique.sewing.letters import forget_features
from applique.sheets import label_pdf, nesting_pdf, pattern_pdf, placement_guide_pdf, templates_pdf
from applique.sheets.frame import Sheet
from applique.typeset.fonts import open_typeface
from applique.typeset.typeface import Typeface
from applique.yardage import letter_needs

ROOT = Path(__file__).parents[2]
WORDS = "THE RIVER HAS TIME AND SO HAVE WE PULL TOGETHER HOME BEFORE DARK"
EMPTY_CLICK = "import click\n@click.group()\ndef main(): pass\nmain(['--help'])"
SIZES = (6, 60, 600, 2_000)
OUTLINES = "the outlines of its letters afresh"
STEPS = {
    "plan": OUTLINES,
    "check": OUTLINES,
    "nests, quick": OUTLINES,
    "nests, normal": OUTLINES,
    "sheets": "the same pages from ready polygons",
    "cut files": "writing the same bytes",
    "whole pack": "both",
}


def median_seconds(work: Callable[[], object], rounds: int) -> float:
    """The median time of `work` over some rounds, after one that is not counted where there are several."""
    if rounds > 1:
        work()
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return sorted(times)[rounds // 2]


def poem(letters: int) -> Design:
    """A design of that many capitals, in rows of some fifteen, 2 in high."""
    text = (WORDS.replace(" ", "") * (letters // 50 + 1))[:letters]
    rows = [text[start : start + 15] for start in range(0, letters, 15)]
    data: dict[str, Any] = {
        "row": [{"text": row} for row in rows],
        "lettering": {"font": "Montserrat", "cap_height": "2in", "row_gap": "0in"},
        "panel": {"width": "60in", "height": f"{max(20, 4 * len(rows))}in"},
        "backing": {"kind": "wide", "wide_width": "20m"},
    }
    return design_from_mapping(data)


def bare_outlines(design: Design) -> Callable[[], object]:
    """Taking each distinct letter of the poem from the font afresh, its curves united and flattened, nothing kept."""
    opened = open_typeface("Montserrat", {"wght": 800})
    letters = dict.fromkeys("".join(line.text for line in design.row))

    def take() -> None:
        fresh = Typeface(
            name="floor",
            face=opened.hb_font.face,
            facts=opened.facts,
            axes=opened.axes,
            key="floor",
            signs="",
        )
        for letter in letters:
            glyph = fresh.hb_font.get_nominal_glyph(ord(letter))
            fresh.shape(((glyph, 0.0, 0.0),), chord_error_fu=0.5)

    return take


def ready_polygons(pattern: Pattern, files: Sequence[bytes]) -> Callable[[], object]:
    """As many pages as `files` have, with header and rules, every letter of the template pages from ready polygons.

    There are no curves, labels, tables, maps or marks.
    """
    template_pages = [page for page in pattern.sheets.pages for _ in range(2)]
    count = sum(len(pypdfium2.PdfDocument(file)) for file in files)

    def draw() -> bytes:
        sheet = Sheet(pattern, subject="", method="", page_count=count, texts=(), mirrored=False)
        for number in range(count):
            sheet.begin("page")
            for item in template_pages[number].items if number < len(template_pages) else ():
                path = sheet.canvas.beginPath()
                for part in parts_of(pattern.template(item.template).shape):
                    for ring in (part.exterior, *part.interiors):
                        (x, y), *rest = ring.coords
                        path.moveTo(x * 72, y * 72)
                        for x, y in rest:
                            path.lineTo(x * 72, y * 72)
                        path.close()
                sheet.canvas.drawPath(path)
        return sheet.finish()

    return draw


def same_bytes(files: Mapping[str, bytes], folder: Path) -> Callable[[], object]:
    """Writing files of the same bytes, each kept by the disk before the next."""

    def write() -> None:
        for number, content in enumerate(files.values()):
            with (folder / str(number)).open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())

    return write


def nests(design: Design, effort: Effort) -> Callable[[], object]:
    """Nesting the letters of `design` on web and cloth, with nothing kept from before."""
    fabrics = resolve_fabrics(design)
    panel = place_rows(design)
    templates = cut_templates(design, panel.rows, ())

    def nested() -> object:
        forget_nests()
        return letter_needs(
            templates,
            panel.rows,
            design.row,
            fabrics.letters,
            fusible=design.fusible,
            method=design.sewing.method,
            extra=design.yardage.loss(design.units),
            seam=2 * design.seam_allowance,
            units=design.units,
            nester=Nester(effort=effort),
            mats=(),
        )

    return nested


def fresh_check(design: Design) -> object:
    """The checks of a design whose letters are measured for the first time."""
    forget_features()
    return check_design(design)


def afresh(design: Design) -> Pattern:
    """The pattern of a design whose letters are nested, and whose cloth is planned, for the first time."""
    forget_nests()
    forget_plans()
    return draft(design)


def sheets(pattern: Pattern) -> tuple[bytes, ...]:
    """Every PDF of the pattern."""
    return (
        pattern_pdf(pattern),
        label_pdf(pattern),
        templates_pdf(pattern, mirrored=True),
        templates_pdf(pattern, mirrored=False),
        placement_guide_pdf(pattern),
        nesting_pdf(pattern),
    )


def measured(letters: int) -> dict[str, Any]:
    """For a poem of that many letters each step as (seconds, seconds of its floor), and the peak memory in MB after
    all but the search."""
    design = poem(letters)
    rounds = 3 if letters <= 60 else 1
    pattern = draft(design)
    pdfs, cuts, everything = sheets(pattern), cut_files(pattern), pack_files(pattern)
    with tempfile.TemporaryDirectory() as room:
        outlines = median_seconds(bare_outlines(design), 7)
        pages = median_seconds(ready_polygons(pattern, pdfs), rounds)
        cut_bytes = median_seconds(same_bytes(cuts, Path(room)), rounds)
        all_bytes = median_seconds(same_bytes(everything, Path(room)), rounds)
        fresh = Path(room) / "pack"
        seconds = {
            "plan": (median_seconds(lambda: plan(design), rounds), outlines),
            "check": (median_seconds(lambda: fresh_check(design), rounds), outlines),
            "nests, quick": (median_seconds(nests(design, Effort.QUICK), rounds), outlines),
            "sheets": (median_seconds(lambda: sheets(pattern), rounds), pages),
            "cut files": (median_seconds(lambda: cut_files(pattern), rounds), cut_bytes),
            "whole pack": (
                median_seconds(lambda: write_pack(afresh(design), fresh, replace=True), rounds),
                pages + all_bytes,
            ),
        }
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    seconds["nests, normal"] = (median_seconds(nests(design, Effort.NORMAL), 1), outlines)
    return {"seconds": seconds, "memory": memory}


def plan(design: Design) -> object:
    """The rows placed and the templates counted."""
    return cut_templates(design, place_rows(design).rows, ())


def starting() -> tuple[float, float]:
    """Seconds of `applique --help`, and of an empty click program."""

    def run(*words: str) -> Callable[[], object]:
        return lambda: subprocess.run([sys.executable, *words], check=True, capture_output=True)

    return median_seconds(run("-m", "applique", "--help"), 9), median_seconds(run("-c", EMPTY_CLICK), 9)


def table(results: dict[int, dict[str, Any]], start: tuple[float, float]) -> str:
    """The results as Markdown."""
    lines = [
        f"| step | floor | {' | '.join(f'{letters:,} letters' for letters in results)} |",
        "|---|---|" + "---:|" * len(results),
        f"| start-up | an empty click program | {start[0] / start[1]:.1f} |" + " |" * (len(results) - 1),
    ]
    for step, floor in STEPS.items():
        pairs = [result["seconds"][step] for result in results.values()]
        lines.append(f"| {step} | {floor} | {' | '.join(f'{ours / bare:,.1f}' for ours, bare in pairs)} |")
    memory = " | ".join(f"{result['memory']:.0f}" for result in results.values())
    lines.append(f"| peak memory, MB | | {memory} |")
    return "\n".join(lines)


def main() -> None:
    """Measure, print, and write the page if asked."""
    results: dict[int, dict[str, Any]] = {}
    for letters in SIZES:
        done = subprocess.run(
            [sys.executable, __file__, "--measure", str(letters)], check=True, capture_output=True, text=True
        )
        results[letters] = json.loads(done.stdout.splitlines()[-1])
    text = table(results, starting())
    print(text)
    if "--write" in sys.argv:
        page = ROOT / "docs" / "performance.md"
        before, _, rest = page.read_text("utf-8").partition("<!-- table -->\n")
        after = rest.partition("<!-- end of table -->")[2]
        page.write_text(f"{before}<!-- table -->\n{text}\n<!-- end of table -->{after}", encoding="utf-8")


if __name__ == "__main__":
    if "--measure" in sys.argv:
        print(json.dumps(measured(int(sys.argv[sys.argv.index("--measure") + 1]))))
    else:
        main()
