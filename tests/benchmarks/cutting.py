"""The cutting plan beside what is known: run `python tests/benchmarks/cutting.py`.

Two tables: twenty strip problems of which the optimum is known, and the fabrics of 200 quilts that are drawn with a
seed. Times are of the processor. With `--write` they go into docs/performance.md. Nothing here gates a test run.
"""

from __future__ import annotations

import argparse
import json
import random
import statistics
import time
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from functools import partial
from pathlib import Path

from applique.cutting import (
    Block,
    Choice,
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
START, END = "<!-- tables of cutting -->", "<!-- end of cutting -->"


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


def strip_problem(
    width: int, pieces: Sequence[tuple[int, int, int]], turned: bool
) -> tuple[list[Demand], Supply]:
    """A problem as demands and endless cloth."""
    lies = BOTH if turned else (Lie.ALONG,)
    demands: list[Demand] = [
        Rectangle(key=str(index), length=Fraction(high), width=Fraction(across), count=count, lies=lies)
        for index, (across, high, count) in enumerate(pieces)
    ]
    return demands, Supply(key="strip", width=Fraction(width), length=None, count=1, squaring=Fraction(0))


def height_of(demands: list[Demand], supply: Supply) -> float:
    """What is used of the strip, to the unit."""
    plan = plan_cutting(demands, [supply], preference=Preference.LEAST_FABRIC, step=Fraction(1))
    assert plan_faults(plan, demands, [supply]) == ()
    return float(plan.used)


def strip_problems() -> list[str]:
    """The rows of the first table: over the optimum, and time beside the shelves."""
    over: dict[str, list[float]] = {}
    times: dict[str, float] = {}
    for problem in json.loads(PROBLEMS.read_text(encoding="utf-8"))["problems"].values():
        width, best, pieces = problem["strip_width"], problem["best_height"], problem["pieces"]
        sizes = [(across, high) for across, high, count in pieces for _ in range(count)]
        lying = [(max(size), min(size)) for size in sizes]
        works: dict[str, Callable[[], float]] = {
            "shelves, not turned": partial(shelves, sizes, width),
            "shelves, lying": partial(shelves, lying, width),
            "ours, not turned": partial(height_of, *strip_problem(width, pieces, False)),
            "ours, turned": partial(height_of, *strip_problem(width, pieces, True)),
        }
        for name, work in works.items():
            start = time.process_time()
            height = work()
            times[name] = times.get(name, 0.0) + time.process_time() - start
            over.setdefault(name, []).append(height / best - 1)
    floor = times["shelves, not turned"]
    return [
        f"| {name} | {statistics.mean(ratios):.1%} | {max(ratios):.1%} | {times[name] / floor:,.0f} |"
        for name, ratios in over.items()
    ]


def eighths(draw: random.Random, least: float, most: float) -> Fraction:
    """A length in eighths of an inch."""
    return Fraction(draw.randint(round(8 * least), round(8 * most)), 8)


def fabrics_of(draw: random.Random) -> list[tuple[list[Demand], Supply]]:
    """The fabrics of one quilt, each with some of panel, borders, squares, binding, back, sleeve and letters."""
    usable = Fraction(draw.choice((40, 41, 42, 43)))
    wide, high = eighths(draw, 20, float(usable)), eighths(draw, 20, 80)
    fabrics: list[list[Demand]] = [[] for _ in range(draw.randint(2, 5))]
    fabrics[0].append(Rectangle(key="panel", length=high, width=wide, count=1, lies=BOTH))
    for index in range(draw.randint(1, 2)):
        length, width = eighths(draw, 8, 40), eighths(draw, 15, float(usable))
        fabrics[1].append(Block(key=f"letters {index + 1}", length=length, width=width))
    for index in range(draw.randint(1, 3)):
        width = eighths(draw, 1.5, 6.5)
        if draw.random() < 0.3:
            count = int(2 * (wide + high) // width)
            for parity in range(2):
                square = Rectangle(
                    key=f"square {index + 1}.{parity}",
                    length=width,
                    width=width,
                    count=count // 2,
                    lies=BOTH[:1],
                )
                draw.choice(fabrics).append(square)
        else:
            draw.choice(fabrics).append(
                run(f"border {index + 1}", width, 2 * (wide + high) + 4 * width, Fraction(1, 2))
            )
        wide, high = wide + 2 * width, high + 2 * width
    draw.choice(fabrics).append(run("binding", Fraction(5, 2), 2 * (wide + high) + 10, Fraction(5, 2)))
    backing = draw.choice((fabrics[0], []))
    backing.append(back(wide + 8, high + 8, usable))
    if draw.random() < 0.5:
        draw.choice((backing, fabrics[0])).append(sleeve(wide, usable))
    if backing is not fabrics[0]:
        fabrics.append(backing)
    bolt = Supply(key="bolt", width=usable, length=None, count=1, squaring=Fraction(1))
    return [(demands, bolt) for demands in fabrics if demands]


def run(key: str, width: Fraction, length: Fraction, loss: Fraction) -> Run:
    """Strips that lie as suits, none shorter than 12 in."""
    return Run(key=key, width=width, length=length, loss=loss, least=Fraction(12), lies=BOTH[::-1])


def back(wide: Fraction, high: Fraction, usable: Fraction) -> Choice:
    """A back in equal upright or lying parts, straight seams of 1/4 in."""

    def parts(key: str, length: Fraction, across: Fraction) -> Rectangle:
        count = -(-(across - Fraction(1, 2)) // (usable - Fraction(1, 2)))
        width = Fraction(-(-8 * (across + Fraction(count - 1, 2)) // count), 8)
        return Rectangle(key=key, length=length, width=width, count=count, lies=BOTH[:1])

    return Choice(key="back", ways=((parts("upright", high, wide),), (parts("lying", wide, high),)))


def sleeve(wide: Fraction, usable: Fraction) -> Demand:
    """A tube of 8 1/2 in for the whole width, whole along the selvage or joined from strips across."""
    length, width = wide - 1, Fraction(17, 2)
    whole = Rectangle(key="sleeve, whole", length=length, width=width, count=1, lies=BOTH)
    joined = Run(
        key="sleeve, joined",
        length=length,
        width=width,
        loss=Fraction(1, 2),
        least=Fraction(12),
        lies=(Lie.ACROSS,),
    )
    return Choice(key="sleeve", ways=((whole,), (joined,)) if length <= usable else ((joined,), (whole,)))


def bought(used: Fraction, supply: Supply) -> Fraction:
    """What a shop cuts, in eighths of a yard."""
    return -(-(used + 2 * supply.squaring) // STEP) * STEP


def quilts(count: int = 200) -> list[str]:
    """The rows of the second table: length over the bound, yards in all beside the plain plan, and time."""
    draw = random.Random(13)
    fabrics = [one for _ in range(count) for one in fabrics_of(draw)]
    bounds = [lower_bound(*one) for one in fabrics]
    rows = []
    for name, preference, step in (
        ("plain strips", None, STEP),
        ("simple unless it pays", Preference.SIMPLE_UNLESS_IT_PAYS, STEP),
        ("least fabric", Preference.LEAST_FABRIC, STEP),
        ("least fabric, sold by 1/8 in", Preference.LEAST_FABRIC, Fraction(1, 8)),
    ):
        over, over_shared, yards, plain_yards, dearer = [], [], Fraction(0), Fraction(0), 0
        start = time.process_time()
        for (demands, supply), bound in zip(fabrics, bounds, strict=True):
            plan = plan_cutting(
                demands, [supply], preference=preference or Preference.LEAST_FABRIC, step=step
            )
            assert plan_faults(plan, demands, [supply]) == ()
            used = plan.used if preference else plan.plain
            over.append(float(used / bound))
            over_shared += over[-1:] if len(demands) > 1 else []
            yards += bought(used, supply) / 36
            plain_yards += bought(plan.plain, supply) / 36
            dearer += bought(used, supply) > bought(plan.plain, supply)
        each = 1000 * (time.process_time() - start) / len(fabrics)
        shares = [
            f"{statistics.median(ratios):.3f} | {statistics.quantiles(ratios, n=20)[-1]:.3f}"
            for ratios in (over, over_shared)
        ]
        cost = f"{float(yards):,.0f} | {float(yards / plain_yards) - 1:+.1%} | {dearer}"
        rows.append(f"| {name} | {' | '.join(shares)} | {cost} | {f'{each:.0f}' if preference else ''} |")
    rows.append(f"| fabrics, and with two uses or more | {len(over)} | | {len(over_shared)} | | | | | |")
    return rows


def main() -> None:
    """Print both tables, or put them into docs/performance.md."""
    parser = argparse.ArgumentParser(description="The cutting plan beside what is known.")
    parser.add_argument("--write", action="store_true", help="put the tables into docs/performance.md")
    write = parser.parse_args().write
    text = "\n".join(
        [
            "| strip problems | over the optimum, mean | worst | time, shelves = 1 |",
            "|---|---:|---:|---:|",
            *strip_problems(),
            "",
            "| 200 quilts | over the bound, median | 95 of 100 | two uses or more, median | 95 of 100 | yards "
            "| to plain | dearer | ms each |",
            "|---|---:|---:|---:|---:|---:|---:|---:|---:|",
            *quilts(),
        ]
    )
    if not write:
        print(text)
        return
    page = ROOT / "docs" / "performance.md"
    before, rest = page.read_text(encoding="utf-8").split(START, 1)
    _, after = rest.split(END, 1)
    page.write_text(f"{before}{START}\n{text}\n{END}{after}", encoding="utf-8")


if __name__ == "__main__":
    main()
