"""`applique` as always, but every design whose rows are laid is noted in the file `LAID_ROWS`, a line of JSON each.

A process that `multiprocessing` spawns runs its parent's main module, this one, before anything else; so whatever such
a process lays is noted as well.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from typing import Any

from applique.design import Design, design_data
from applique.design.fonts import with_fonts
from applique.panel import PanelPlan, placing

real = placing.place_rows


def noted(design: Design, **options: Any) -> PanelPlan:
    data = design_data(with_fonts(design, lambda font: Path(font).name))
    with Path(os.environ["LAID_ROWS"]).open("a", encoding="utf-8") as file:
        file.write(json.dumps({"process": os.getpid(), "design": data}) + "\n")
    return real(design, **options)


for module in list(sys.modules.values()):
    if getattr(module, "place_rows", None) is real:
        module.place_rows = noted  # type: ignore[attr-defined]

if __name__ == "__main__":
    from applique.__main__ import run

    sys.exit(run())
