"""The address of the page, kept so that it is the same from run to run: bookmarks and open pages go on."""

from __future__ import annotations

import json
import os
import re
import stat
import sys
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from applique.kept.reading import plain_file
from applique.swapping import replace_file

__all__ = ["Address", "KeptAddress"]

fcntl: Any
if sys.platform == "win32":
    fcntl = None
else:
    import fcntl

_FORMAT: Final = 1
_LARGEST: Final = 10_000
_TOKEN: Final = re.compile(r"[\w\-]{20,64}", re.ASCII)
_FILE: Final = "page.json"
_LOCK: Final = ".page-lock"


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """A port of this machine, and the key that a page shows there."""

    port: int
    token: str


class KeptAddress:
    """The address of the last run in `folder`, held by the one program that runs under it."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder
        self._lock: int | None = None

    def take(self) -> bool:
        """Whether this program may use and keep the address; False while another one does, or without a folder."""
        if self._folder is None:
            return False
        try:
            self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            if fcntl is None:
                return True
            handle = os.open(
                self._folder / _LOCK, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW | os.O_CLOEXEC, 0o600
            )
        except OSError:
            return False
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            os.close(handle)
            return False
        self._lock = handle
        return True

    def let_go(self) -> None:
        """Another program may have it now."""
        if self._lock is not None:
            os.close(self._lock)
            self._lock = None

    def read(self) -> Address | None:
        """The address of the last run; None where none is kept, or where others could have read its key."""
        if self._folder is None:
            return None
        path = self._folder / _FILE
        try:
            content = plain_file(path, most=_LARGEST)
            if content is None or (fcntl is not None and stat.S_IMODE(path.lstat().st_mode) & 0o077):
                return None
            data = json.loads(content)
            port, token = data["port"], data["token"]
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            return None
        if data.get("format") != _FORMAT or not isinstance(port, int) or not 0 < port < 65536:
            return None
        return Address(port=port, token=token) if isinstance(token, str) and _TOKEN.fullmatch(token) else None

    def write(self, address: Address) -> None:
        """Keep `address` for the next run; forgotten quietly where the folder cannot be written."""
        if self._folder is None:
            return
        path = self._folder / _FILE
        data = {"format": _FORMAT, "port": address.port, "token": address.token}
        with suppress(OSError):
            path.unlink(missing_ok=True)
            os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
            replace_file(path, json.dumps(data).encode("ascii"))
