"""Folders as one file."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import Final

__all__ = ["put_folder", "zipped"]

_EARLIEST: Final = (1980, 1, 1, 0, 0, 0)
"""The earliest date that a zip can hold, so that the same files give the same bytes."""


def zipped(folder: str, files: Mapping[str, bytes]) -> bytes:
    """`files` in a `folder` as one zip: the same bytes for the same files."""
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        put_folder(archive, folder, files)
    return content.getvalue()


def put_folder(archive: zipfile.ZipFile, folder: str, files: Mapping[str, bytes]) -> None:
    """Put `files` into an archive that is being written, in a `folder` of it: the same bytes for the same files."""
    for name, data in files.items():
        archive.writestr(zipfile.ZipInfo(f"{folder}/{name}", _EARLIEST), data, zipfile.ZIP_DEFLATED)
