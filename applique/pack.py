"""The folder of a pattern: which files it has, and writing them all or none."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

from applique.cutfiles import cut_files
from applique.design import Design, design_data, design_text
from applique.errors import Problem, Refusal
from applique.nesting import NESTS_FILE, written_nests
from applique.pattern import Pattern
from applique.preview import preview_png, preview_svg
from applique.reports import FORMAT, made_by, pattern_json, summary_md
from applique.sheets import label_pdf, nesting_pdf, pattern_pdf, placement_guide_pdf, templates_pdf
from applique.swapping import recover, replace_folder, write_file

__all__ = ["check_folder", "folder_name", "holds_pack_of", "pack_files", "write_pack", "write_text"]

_LIST: Final = "pattern.json"
_LARGEST_LIST: Final = 200_000_000
_LONGEST_SHOWN: Final = 120
_LONGEST_NAME: Final = 40
_RESERVED: Final = frozenset(
    ["CON", "PRN", "AUX", "NUL", *(f"{port}{number}" for port in ("COM", "LPT") for number in range(1, 10))]
)
"""Names of devices on Windows, with any ending."""


def pack_files(pattern: Pattern, *, progress: Callable[[str], None] | None = None) -> dict[str, bytes]:
    """Every file of the pattern by its name in the folder; the same bytes for the same pattern on every run.

    `progress` is told the name of each file before it is made.
    """
    files: dict[str, bytes] = {}
    for name, make in _writers(pattern):
        if progress is not None:
            progress(name)
        files[name] = make()
    if progress is not None:
        progress("cut-files")
    files |= {f"cut-files/{name}": content for name, content in cut_files(pattern).items()}
    files["preview.png"] = preview_png(files["preview.svg"])
    files[_LIST] = pattern_json(pattern, files=files)
    return files


def _writers(pattern: Pattern) -> Iterator[tuple[str, Callable[[], bytes]]]:
    yield "pattern.pdf", lambda: pattern_pdf(pattern)
    yield "quilt-label.pdf", lambda: label_pdf(pattern)
    yield "templates-mirrored.pdf", lambda: templates_pdf(pattern, mirrored=True)
    yield "templates-right-reading.pdf", lambda: templates_pdf(pattern, mirrored=False)
    yield "placement-guide.pdf", lambda: placement_guide_pdf(pattern)
    yield "nesting.pdf", lambda: nesting_pdf(pattern)
    yield "preview.svg", lambda: preview_svg(pattern)
    yield "summary.md", lambda: summary_md(pattern)
    yield "design.toml", lambda: design_text(pattern.design).encode("utf-8")
    if pattern.searched:
        yield NESTS_FILE, lambda: written_nests(pattern.searched).encode("ascii")


def write_pack(
    pattern: Pattern, folder: Path, *, replace: bool = False, progress: Callable[[str], None] | None = None
) -> tuple[Path, ...]:
    """Write the pattern to `folder`, whole or not at all; returns the files written.

    A folder that this tool made and nobody touched is replaced. Anything else that is there is kept, unless
    `replace` asks for it to go.

    Raises:
        Refusal: the folder holds files that are not the tool's, or cannot be written.
    """
    check_folder(folder, replace=replace)
    files = pack_files(pattern, progress=progress)
    # Once more, since what was put there while the files were made must not be lost either.
    folder = check_folder(folder, replace=replace)
    try:
        replace_folder(folder, files)
    except OSError as error:
        raise _cannot_write(folder, error) from None
    return tuple(folder / name for name in files)


def write_text(path: Path, text: str, *, replace: bool) -> None:
    """Write one text file, whole or not at all.

    Raises:
        Refusal: it exists and `replace` is not set, or it cannot be written.
    """
    path = _settled(path)
    if path.is_dir():
        raise Refusal(Problem(what="is a folder", where=str(path), fix="another name"))
    if path.exists() and not replace:
        raise Refusal(
            Problem(what="exists", where=str(path), fix="another name, or --replace to overwrite it")
        )
    if not path.parent.is_dir():
        raise Refusal(
            Problem(what="the folder it would go into does not exist", where=str(path), fix="make it first")
        )
    fresh = path.with_name(f".{path.name}.new")
    try:
        fresh.unlink(missing_ok=True)
        write_file(fresh, text.encode("utf-8"))
        fresh.replace(path)
    except OSError as error:
        fresh.unlink(missing_ok=True)
        raise _cannot_write(path, error) from None


def check_folder(folder: Path, *, replace: bool) -> Path:
    """Refuse a place where a pack must not be written, before any work is done; returns the place in full.

    A folder that a killed run had set aside is brought back first.

    Raises:
        Refusal: with the reason and what to do.
    """
    place = _settled(folder)
    if not place.parent.is_dir():
        raise Refusal(
            Problem(what="the folder it would go into does not exist", where=str(folder), fix="make it first")
        )
    if place.is_symlink() or (place.exists() and not place.is_dir()):
        raise Refusal(
            Problem(what="is no folder", where=str(folder), fix="another name for the output folder")
        )
    try:
        recover(place)
    except OSError as error:
        raise _cannot_write(place, error) from None
    if not place.exists() or replace:
        return place
    foreign = _foreign_files(place)
    if foreign:
        shown = ", ".join(foreign[:3]) + (f" and {len(foreign) - 3} more" if len(foreign) > 3 else "")
        raise Refusal(
            Problem(
                what=f"the folder exists and holds what this tool did not write ({shown})",
                where=str(folder),
                fix="another folder with --output, or --replace to give up what is there",
            )
        )
    return place


def holds_pack_of(design: Design, folder: Path) -> bool:
    """Whether `folder` holds what this version makes of `design`, with the same fonts, whole and untouched."""
    data = _pack_data(folder / _LIST)
    if data.get("made_by") != made_by() or data.get("design") != json.loads(json.dumps(design_data(design))):
        return False
    fonts = data.get("fonts")
    if not isinstance(fonts, dict) or any(_digest(Path(font)) != said for font, said in fonts.items()):
        return False
    listed = _listed(folder / _LIST)
    return bool(listed) and all((folder / name).is_file() for name in listed) and not _foreign_files(folder)


def folder_name(words: str) -> str:
    """A name for a folder from any words, good on every system: letters and digits, joined by hyphens."""
    name = re.sub(r"[^\w]+", "-", words.lower()).strip("-")[:_LONGEST_NAME].strip("-") or "pattern"
    return f"{name}-quilt" if _fault_of_name(name) else name


def _settled(path: Path) -> Path:
    """`path` in full, its last part as given, links before it followed.

    Raises:
        Refusal: a name that some system cannot hold, so that a shared pattern could not be unpacked there.
    """
    try:
        place = path.parent.resolve() / path.name if path.name not in ("", "..") else path.resolve()
        place.exists()
    except (OSError, ValueError, RuntimeError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise Refusal(
            Problem(what=f"cannot be a file or a folder ({reason})", where=_shown(path), fix="another name")
        ) from None
    fault = _fault_of_name(place.name)
    if fault:
        raise Refusal(Problem(what=fault, where=_shown(path), fix="another name"))
    return place


def _shown(path: Path) -> str:
    text = str(path)
    printable = "".join(sign if sign.isprintable() else "�" for sign in text)
    return printable if len(printable) <= _LONGEST_SHOWN else printable[:_LONGEST_SHOWN] + "…"


def _fault_of_name(name: str) -> str:
    """What is wrong with `name` on some system; nothing for a good one.

    Source:
        Microsoft, Naming Files, Paths, and Namespaces (from memory).
    """
    if not name:
        return "is the top of the disk, no folder to write"
    if name.split(".")[0].rstrip().upper() in _RESERVED:
        return f"“{name}” is reserved on Windows, so the pattern could not be shared"
    if name != name.rstrip(". "):
        return f"“{name}” ends in a dot or a space, which Windows drops"
    if not name.isprintable():
        return "the name holds signs that cannot be printed"
    return ""


def _foreign_files(folder: Path) -> list[str]:
    """The files below `folder` that are not as the tool wrote them, by its own list of their digests."""
    listed = _listed(folder / _LIST)
    found: list[str] = []
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_dir() and not path.is_symlink():
            continue
        if name == _LIST and listed:
            continue
        if path.is_symlink() or name not in listed or _digest(path) != listed[name]:
            found.append(name)
    return found


def _listed(path: Path) -> dict[str, str]:
    """The files that a pattern.json of this tool lists, with their digests; none if it is something else."""
    files = _pack_data(path).get("files")
    return {str(name): str(digest) for name, digest in files.items()} if isinstance(files, dict) else {}


def _pack_data(path: Path) -> dict[str, Any]:
    """What a pattern.json of this tool says; nothing if it is something else."""
    try:
        if path.is_symlink() or path.stat().st_size > _LARGEST_LIST:
            return {}
        data = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError):
        return {}
    return data if isinstance(data, dict) and data.get("format") == FORMAT else {}


def _digest(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""


def _cannot_write(folder: Path, error: OSError) -> Refusal:
    reason = error.strerror or type(error).__name__
    return Refusal(
        Problem(
            what=f"cannot be written ({reason})",
            where=str(folder),
            fix="another place, or room there",
        )
    )
