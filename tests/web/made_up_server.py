"""`applique serve` as always, but there is one language more, in all its processes: the made-up one, asked for by its
tag."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from applique.language import choosing, speech_in
from applique.web import tasks
from tests.made_up import made_up

SPEECH = made_up()
for module in (choosing, tasks):
    vars(module)["speech_in"] = lambda tag: SPEECH if tag == SPEECH.tag else speech_in(tag)

if __name__ == "__main__":
    from applique.__main__ import run

    sys.exit(run())
