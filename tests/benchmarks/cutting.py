"""The cutting plan beside what is known: run `python tests/benchmarks/cutting.py`.

Two tables: twenty strip problems of which the optimum is known, and 200 fabrics of quilts that are drawn with a seed.
With `--write` they go into docs/performance.md. Nothing here gates a test run.
"""

from __future__ import annotations

import argparse
import json
import random
import statistics
import time
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from pathlib import Path

from applique.cutting import (
    Block,
    Choice,
    CuttingPlan,
    Demand,
    Lie,
    Preference,
    Rectangle,
    Run,
    Supply,
    lower_bound,
    plan_cutting,
    plan_faults,
)

ROOT = Path(__file__).parents[2]
PROBLEMS = Path(__file__).parent / "data" / "rectangles.json"
BOTH = (Lie.ALONG, Lie.ACROSS)
STEP = Fraction(9, 2)
FINE = Fraction(1, 8)


def shelves(sizes: Iterable[tuple[int, int]], width: int) -> int:
    """The height of shelves: the highest piece first, each on the first shelf with room for it."""
    rows: list[list[int]] = []
    for across, high in sorted(sizes, key=lambda size: (-size[1], -size[0])):
        row = next((row for row in rows if row[0] + across <= width), None)
        if row is None:
            rows.append([across, high])
        else:
            row[0] += across
    return sum(high for _, high in rows)


def timed(work: Callable[[], object], rounds: int = 1) -> float:
    """Seconds, the least of some rounds."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def strip_problem(width: int, pieces: Sequence[tuple[int, int, int]], turned: bool) -> tuple[list[Demand], Supply]:
    """A problem as demands and endless cloth."""
    lies = BOTH if turned else (Lie.ALONG,)
    demands: list[Demand] = [
        Rectangle(key=str(index), length=Fraction(high), width=Fraction(across), count=count, lies=lies)
        for index, (across, high, count) in enumerate(pieces)
    ]
    return demands, Supply(key="strip", width=Fraction(width), length=None, count=1, squaring=Fraction(0))


def height_of(demands: list[Demand], supply: Supply) -> Fraction:
    """What is used of the strip, to the unit."""
    plan = plan_cutting(demands, [supply], preference=Preference.LEAST_FABRIC, step=Fraction(1))
    assert plan_faults(plan, demands, [supply]) == ()
    return plan.used


def strip_problems() -> list[str]:
    """The rows of the first table."""
    over: dict[str, list[float]] = {"shelves": [], "unturned": [], "turned": []}
    times: dict[str, list[float]] = {"shelves": [], "unturned": [], "turned": []}
    for name, problem in json.loads(PROBLEMS.read_text(encoding="utf-8"))["problems"].items():
        width, best, pieces = problem["strip_width"], problem["best_height"], problem["pieces"]
        sizes = [(across, high) for across, high, count in pieces for _ in range(count)]
        heights: dict[str, float] = {"shelves": shelves(sizes, width)}
        times["shelves"].append(timed(lambda sizes=sizes, width=width: shelves(sizes, width), 5))
        for kind, turned in (("unturned", False), ("turned", True)):
            demands, supply = strip_problem(width, pieces, turned)
            start = time.perf_counter()
            heights[kind] = float(height_of(demands, supply))
            times[kind].append(time.perf_counter() - start)
        for kind, height in heights.items():
            over[kind].append(height / best - 1)
        print(name, len(sizes), {k: round(v / best, 3) for k, v in heights.items()}, [round(times[k][-1], 2) for k in times])
    for kind in over:
        print(kind, statistics.mean(over[kind]), max(over[kind]), sum(times[kind]) / sum(times["shelves"]))
    return []


if __name__ == "__main__":
    strip_problems()
