"""The speed of the main steps as ratios to a floor measured in the same run. Run `python tests/benchmarks/run.py`.

Nothing here gates a test run: machines are shared and noisy, so only ratios are worth keeping.
"""

from __future__ import annotations

import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from typing import Any

from applique.cutfiles import cut_files
from applique.design import Design, design_from_mapping, read_design
from applique.pack import pack_files
from applique.panel import place_rows
from applique.pattern import Pattern, draft
from applique.pieces import cut_templates
from applique.sheets import placement_guide_pdf, templates_pdf
from applique.sheets.frame import Sheet
from applique.typeset.outline import parts_of

WORDS = "THE RIVER HAS TIME AND SO HAVE WE PULL TOGETHER HOME BEFORE DARK"
EMPTY_CLICK = "import click\n@click.group()\ndef main(): pass\nmain(['--help'])"
ROUNDS = 5


def median_seconds(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """The median time of `work` over some rounds, after one that is not counted."""
    work()
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return sorted(times)[rounds // 2]


def peak_bytes(work: Callable[[], object]) -> int:
    """The most memory that Python objects took during `work`."""
    tracemalloc.start()
    try:
        work()
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


def poem(letters: int) -> Design:
    """A design of about that many capitals, in rows of some fifteen."""
    text = (WORDS.replace(" ", "") * (letters // 50 + 1))[:letters]
    rows = [text[start : start + 15] for start in range(0, letters, 15)]
    data: dict[str, Any] = {
        "line": [{"text": row} for row in rows],
        "lettering": {"font": "Montserrat", "cap_height": "2in", "row_gap": "0in"},
        "backing": {"kind": "wide", "wide_width": "20m"},
        "panel": {"width": "60in", "height": f"{max(20, 4 * len(rows))}in"},
    }
    return design_from_mapping(data)


def ready_polygons(pattern: Pattern) -> bytes:
    """The pages of a template file with the letters drawn from ready polygons: the floor of the sheets.

    Header, rules and page count are the same; there are no curves, labels, maps or marks.
    """
    pages = pattern.sheets.pages
    sheet = Sheet(pattern, subject="", method="", page_count=len(pages), texts=(), mirrored=False)
    for page in pages:
        sheet.begin("page")
        for item in page.items:
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


def starting() -> tuple[float, float]:
    """Seconds of `applique --help`, and of an empty click program."""

    def run(*words: str) -> Callable[[], object]:
        return lambda: subprocess.run([sys.executable, *words], check=True, capture_output=True)

    return median_seconds(run("-m", "applique", "--help"), 9), median_seconds(run("-c", EMPTY_CLICK), 9)


def without_nests(design: Design) -> Callable[[], object]:
    """Making the files of a design whose nests and pages are known already."""
    pattern = draft(design)

    def make() -> object:
        cut_templates(place_rows(design).rows)
        return pack_files(pattern)

    return make


def main() -> None:
    """Print the table."""
    ours, empty = starting()
    print(f"{'step':44}{'ratio':>8}   floor")
    print(f"{'applique --help':44}{ours / empty:8.2f}   an empty click program")
    demo = read_design(Path("samples/boathouse.toml"))
    pattern = draft(demo)
    floor = 3 * median_seconds(lambda: ready_polygons(pattern))
    pdfs = median_seconds(
        lambda: (
            templates_pdf(pattern, mirrored=True),
            templates_pdf(pattern, mirrored=False),
            placement_guide_pdf(pattern),
        )
    )
    print(
        f"{'demo: the three PDFs':44}{pdfs / floor:8.2f}   three files of the same pages from ready polygons"
    )
    print(
        f"{'demo: everything but the nests':44}{median_seconds(without_nests(demo)) / floor:8.2f}   the same"
    )
    sixty = poem(60)
    plan = median_seconds(lambda: cut_templates(place_rows(sixty).rows))
    print(f"{'plan of 60 letters':44}{plan / 0.1:8.2f}   100 ms")
    for step, work in (
        ("plan", lambda d: cut_templates(place_rows(d).rows)),
        ("draft with nests and pages", draft),
        ("cut files", lambda d: cut_files(draft(d))),
        ("whole pack", lambda d: pack_files(draft(d))),
    ):
        for few, many in ((6, 60), (60, 600), (200, 2000)):
            small, large = poem(few), poem(many)
            rounds = 1 if many == 2000 else 3
            ratio = median_seconds(lambda: work(large), rounds) / median_seconds(lambda: work(small), rounds)  # noqa: B023
            memory = peak_bytes(lambda: work(large)) / peak_bytes(lambda: work(small))  # noqa: B023
            print(f"{f'{step}: {many} letters':44}{ratio:8.2f}   {few} letters (memory {memory:.2f})")


if __name__ == "__main__":
    main()
