"""The report of a defect: what happened, for whoever mends the program, kept where only its user can read it."""

from __future__ import annotations

import os
import platform
import sys
import tempfile
import traceback
from importlib.metadata import version
from pathlib import Path

import platformdirs

__all__ = ["kept_report", "report"]


def report(error: BaseException) -> str:
    """The versions, the words of the command and the traceback of `error`."""
    return "\n".join(
        [
            f"applique {version('applique')}, Python {platform.python_version()}, {platform.platform()}",
            f"command: {sys.argv[1:]}",
            "",
            *traceback.format_exception(error),
        ]
    )


def kept_report(text: str) -> Path | None:
    """The new file that holds `text`, in the state folder of the user or else a temporary one; None if in neither."""
    for folder in (_state_folder(), None):
        try:
            if folder is not None:
                folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            handle, name = tempfile.mkstemp(prefix="applique-defect-", suffix=".txt", dir=folder)
            with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
                file.write(text)
        except OSError:
            continue
        return Path(name)
    return None


def _state_folder() -> Path | None:
    try:
        folder = platformdirs.user_state_path("applique", appauthor=False)
    except RuntimeError:  # nobody's home is known
        return None
    return folder if folder.is_absolute() else None
