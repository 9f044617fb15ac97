"""How long a test in a browser waits for what comes sooner or later.

Long enough for a machine that is busy with another suite. Whoever mends a test sets `APPLIQUE_TEST_PATIENCE` to a
few seconds, so that what never comes fails at once.
"""

from __future__ import annotations

import os

PATIENCE = int(os.environ.get("APPLIQUE_TEST_PATIENCE", "600"))
"""Seconds."""
SLOW = PATIENCE * 1000
"""The same in milliseconds, as the browser counts."""
