"""`applique serve` as always, but every run of it has the same key, as one that is started again would."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from applique.web import serving

KEY = "the-same-key-in-every-run"


class SameKey:
    """`secrets` for `serving`, which takes the key of the page from it."""

    @staticmethod
    def token_urlsafe(_: int) -> str:
        return KEY


if __name__ == "__main__":
    from applique.__main__ import run

    vars(serving)["secrets"] = SameKey
    sys.exit(run())
