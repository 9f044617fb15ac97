"""The page's scripts as a graph: whoever imports stands above what it imports, so that data flows one way."""

from __future__ import annotations

import re
from graphlib import TopologicalSorter
from pathlib import Path

STATIC = Path(__file__).parents[2] / "applique" / "web" / "static"
IMPORTS = {
    path.name: set(re.findall(r'^import [^;]*? from "\./(.+?)";$', path.read_text("utf-8"), re.MULTILINE))
    for path in STATIC.glob("*.js")
}


def test_no_script_imports_itself_by_way_of_others() -> None:
    assert IMPORTS["app.js"] >= {"design.js", "table.js"}
    TopologicalSorter(IMPORTS).prepare()


def test_every_script_is_reached_from_the_page() -> None:
    reached = {"app.js"}
    for _ in IMPORTS:
        reached |= {name for one in reached for name in IMPORTS[one]}
    assert reached == set(IMPORTS)
