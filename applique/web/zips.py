"""Many patterns as one file on the disk, for a page to fetch when they are made."""

from __future__ import annotations

import threading
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from applique.archives import put_folder
from applique.errors import Problem, Refusal
from applique.language import message

__all__ = ["NamesZip"]

_LARGEST: Final = 1_000_000_000


@dataclass(slots=True, kw_only=True)
class NamesZip:
    """The patterns of a list of names, each in a folder of its own below `stem`; whole after each of them."""

    path: Path
    stem: str
    _writing: threading.Lock = field(default_factory=threading.Lock)

    def add(self, folder: str, files: Mapping[str, bytes]) -> None:
        """Put one pattern into it.

        Raises:
            Refusal: the file would become larger than anybody could fetch.
        """
        with self._writing:
            size = self.path.stat().st_size if self.path.exists() else 0
            if size + sum(map(len, files.values())) > _LARGEST:
                raise Refusal(
                    Problem(
                        kind="names-zip-full",
                        what=message("the zip is as large as it can be"),
                        fix=message("download it, and make the other names after that"),
                    )
                )
            with zipfile.ZipFile(self.path, "a", zipfile.ZIP_DEFLATED) as archive:
                put_folder(archive, f"{self.stem}/{folder}", files)

    def is_there(self) -> bool:
        """Whether anything has been put into it; waits for what is just being put."""
        with self._writing:
            return self.path.exists()
