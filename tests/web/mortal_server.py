"""`applique serve` as always, once for every line that it is given, each time in a process that may be killed.

What the program is made of is read in once for all of them. Each process says its number before its address.
"""

from __future__ import annotations

import os
import sys

from applique.__main__ import run
from applique.cli import commands
from applique.web import serving

__all__ = ["commands", "serving"]

if __name__ == "__main__":
    for _ in sys.stdin:
        if process := os.fork():
            os.waitpid(process, 0)
        else:
            print(f"process {os.getpid()}", flush=True)
            sys.exit(run())
