"""`applique serve` as always, but there is one language more, in all its processes: the made-up one, asked for by its
tag."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from applique.language import american
from tests.made_up import made_up, speak

SPEECH = made_up()
speak(lambda tag: SPEECH if tag == SPEECH.tag else american())

if __name__ == "__main__":
    from applique.__main__ import run

    sys.exit(run())
