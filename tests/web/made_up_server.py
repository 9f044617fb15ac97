"""`applique serve` as always, but to every browser it speaks the made-up language."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from applique.web import speaking
from tests.made_up import made_up

SPEECH = made_up()
vars(speaking)["browser_speech"] = lambda header: SPEECH

if __name__ == "__main__":
    from applique.__main__ import run

    sys.exit(run())
