"""The speed of the main steps as ratios to floors measured in the same run. Run `python tests/benchmarks/run.py`.

With `--write` the table goes into docs/performance.md. Nothing here gates a test run: machines are shared and noisy, so
only ratios are worth keeping. Every size is measured in a process of its own, so that its peak memory is its own.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from applique.cutfiles import cut_files
from applique.design import Design, design_from_mapping, read_design
from applique.fabrics import resolve_fabrics
from applique.nesting import Effort, Nester
from applique.pack import pack_files
from applique.panel import place_rows
from applique.pattern import Pattern, draft
from applique.pieces import cut_templates
from applique.sewing.checks import forget_features
from applique.sewing.cures import check_design
from applique.sheets import label_pdf, nesting_pdf, pattern_pdf, placement_guide_pdf, templates_pdf
from applique.typeset.fonts import Typeface, open_typeface
from applique.yardage import letter_needs

ROOT = Path(__file__).parents[2]
WORDS = "THE RIVER HAS TIME AND SO HAVE WE PULL TOGETHER HOME BEFORE DARK"
EMPTY_CLICK = "import click\n@click.group()\ndef main(): pass\nmain(['--help'])"
SIZES = (6, 60, 600, 2_000)
STEPS = ("plan", "check", "nests, quick", "nests, normal", "sheets", "cut files", "draft", "whole pack")
FLOOR_LETTERS = 60


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
        "line": [{"text": row} for row in rows],
        "lettering": {"font": "Montserrat", "cap_height": "2in", "row_gap": "0in"},
        "panel": {"width": "60in", "height": f"{max(20, 4 * len(rows))}in"},
        "backing": {"kind": "wide", "wide_width": "20m"},
    }
    return design_from_mapping(data)


def bare_outlines() -> float:
    """Seconds to take the outlines of 60 capitals from the font afresh, curves united: the floor of all steps."""
    opened = open_typeface("Montserrat", {"wght": 800})
    letters = WORDS.replace(" ", "")

    def take() -> None:
        fresh = Typeface(
            name="floor", face=opened.hb_font.face, facts=opened.facts, axes=opened.axes, key="floor"
        )
        for letter in (letters * 2)[:FLOOR_LETTERS]:
            fresh._outlines.clear()
            glyph = fresh.hb_font.get_nominal_glyph(ord(letter))
            fresh.shape(((glyph, 0.0, 0.0),), chord_error_fu=0.5)
            fresh._shapes.clear()

    return median_seconds(take, 7)


def nests(design: Design, effort: Effort) -> Callable[[], object]:
    """Nesting the letters of `design` on web and cloth, with nothing kept from before."""
    fabrics = resolve_fabrics(design)
    panel = place_rows(design)
    templates = cut_templates(design, panel.rows, ())
    return lambda: letter_needs(
        templates,
        panel.rows,
        design.line,
        fabrics.letters,
        fusible=design.fusible,
        method=design.sewing.method,
        units=design.units,
        nester=Nester(effort=effort),
    )


def fresh_check(design: Design) -> object:
    """The checks of a design whose letters are measured for the first time."""
    forget_features()
    return check_design(design)


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


def measured(letters: int) -> dict[str, float]:
    """Seconds of every step for a poem of that many letters, and the peak memory in MB after all but the search."""
    design = poem(letters)
    rounds = 3 if letters <= 60 else 1
    floor = bare_outlines()
    pattern = draft(design)
    seconds = {
        "plan": median_seconds(lambda: cut_templates(design, place_rows(design).rows, ()), rounds),
        "check": median_seconds(lambda: fresh_check(design), rounds),
        "nests, quick": median_seconds(nests(design, Effort.QUICK), rounds),
        "sheets": median_seconds(lambda: sheets(pattern), rounds),
        "cut files": median_seconds(lambda: cut_files(pattern), rounds),
        "draft": median_seconds(lambda: draft(design), rounds),
        "whole pack": median_seconds(lambda: pack_files(draft(design)), rounds),
    }
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    seconds["nests, normal"] = median_seconds(nests(design, Effort.NORMAL), 1)
    return {"floor": floor, "memory": memory, **seconds}


def starting() -> tuple[float, float]:
    """Seconds of `applique --help`, and of an empty click program."""

    def run(*words: str) -> Callable[[], object]:
        return lambda: subprocess.run([sys.executable, *words], check=True, capture_output=True)

    return median_seconds(run("-m", "applique", "--help"), 9), median_seconds(run("-c", EMPTY_CLICK), 9)


def table(results: dict[int, dict[str, float]], start: tuple[float, float], demo: float) -> str:
    """The results as Markdown."""
    lines = [
        f"| step | {' | '.join(f'{letters:,} letters' for letters in results)} |",
        "|---|" + "---:|" * len(results),
    ]
    for step in STEPS:
        ratios = " | ".join(f"{result[step] / result['floor']:,.1f}" for result in results.values())
        lines.append(f"| {step} | {ratios} |")
    memory = " | ".join(f"{result['memory']:.0f}" for result in results.values())
    lines.append(f"| peak memory, MB | {memory} |")
    floors = sorted(result["floor"] for result in results.values())
    lines += [
        "",
        f"The floor took {floors[0] * 1000:.0f} to {floors[-1] * 1000:.0f} ms on the machine that made this table.",
        f"`applique --help` took {start[0] / start[1]:.2f} times an empty click program ({start[1] * 1000:.0f} ms).",
        f"The whole demo, `samples/boathouse.toml`, took {demo / floors[0]:,.0f} floors with quick nests.",
    ]
    return "\n".join(lines)


def main() -> None:
    """Measure, print, and write the page if asked."""
    results: dict[int, dict[str, float]] = {}
    for letters in SIZES:
        done = subprocess.run(
            [sys.executable, __file__, "--measure", str(letters)], check=True, capture_output=True, text=True
        )
        results[letters] = json.loads(done.stdout.splitlines()[-1])
    design = read_design(ROOT / "samples" / "boathouse.toml")
    demo = median_seconds(lambda: pack_files(draft(design)), 3)
    text = table(results, starting(), demo)
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
