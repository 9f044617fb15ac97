"""The command line: reads arguments, calls the rooms, shows the result.

Exit 0 made, 1 refused, 2 wrong usage; what else can end a command is the business of `__main__`. Rooms are imported
inside the commands, so that `applique --help` is quick.
"""

from applique.cli.commands import main

__all__ = ["main"]
