"""What is kept of a quilt beside its design file: the design as the page holds it, and the steps of undo and redo.

The file has a format number of its own. From here on keys are only added; a file of a newer format is refused.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

import tomli_w

from applique.design import design_from_mapping, design_text
from applique.design.placeholders import doubled
from applique.design.reading import words_of_design
from applique.errors import Problem, Refusal, Where
from applique.language import message

__all__ = [
    "DESIGN_FILE",
    "FORMAT",
    "HISTORY_FILE",
    "LARGEST_HISTORY",
    "ChangedElsewhere",
    "History",
    "Written",
    "damaged",
    "design_file",
    "design_in",
    "digest",
    "history_from",
    "read_written",
]

FORMAT: Final = 1
DESIGN_FILE: Final = "design.toml"
HISTORY_FILE: Final = "history.json"
LARGEST_HISTORY: Final = 4_000_000
"""Bytes; the page keeps 200 steps and 600,000 signs of them at the most."""
_MOST_STEPS: Final = 400
_LONGEST_BY: Final = 64


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """A design as the page holds it (plain data, rows without words too), and the designs before and after it.

    `done` are what undo leads back to, the last one next; `undone` what redo leads to. Each is JSON. `by` tells which
    page wrote it, so that a page whose answer was lost knows its own revision from that of another window.
    """

    design: Mapping[str, Any]
    done: tuple[str, ...] = ()
    undone: tuple[str, ...] = ()
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A history as it was written: its number, and the digests of its design file and of the one before.

    A kill between the two files leaves the design file of before beside the new history.
    """

    revision: int
    history: History
    design_file: str
    file_before: str

    def as_bytes(self) -> bytes:
        """The file."""
        data = {
            "format": FORMAT,
            "revision": self.revision,
            "design_file": self.design_file,
            "file_before": self.file_before,
            "by": self.history.by,
            "design": self.history.design,
            "done": self.history.done,
            "undone": self.history.undone,
        }
        return json.dumps(data, ensure_ascii=True, separators=(",", ":")).encode("ascii")


class ChangedElsewhere(Refusal):
    """What was to be kept rests on a revision that is not the newest one; `revision` is."""

    def __init__(self, revision: int) -> None:
        self.revision = revision
        super().__init__(
            Problem(
                kind="quilt-changed-elsewhere",
                what=message("this quilt was changed in another window"),
                fix=message("take what is there, or keep yours; undo brings the other one back"),
            )
        )


def damaged(name: str, folder: str) -> Refusal:
    """The refusal of a kept quilt whose file `name` cannot be read."""
    return Refusal(
        Problem(
            kind="kept-quilt-damaged",
            what=message("this quilt is damaged: {file} cannot be read", file=name),
            fix=message("look for it in {folder}; nothing in there was changed", folder=folder),
        )
    )


def history_from(data: Mapping[str, Any]) -> History:
    """The history that plain data describe.

    Raises:
        Refusal: they describe none.
    """
    design, done, undone = data.get("design"), data.get("done", []), data.get("undone", [])
    by = data.get("by", "")
    is_said = isinstance(by, str) and len(by) <= _LONGEST_BY
    if not (isinstance(design, dict) and _is_design(design) and _are_steps(done, undone) and is_said):
        raise Refusal(
            Problem(
                kind="no-history",
                what=message("this is no quilt that can be kept"),
                fix=message("see /api/openapi.json"),
            )
        )
    return History(design=design, done=tuple(done), undone=tuple(undone), by=by)


def _is_design(value: object) -> bool:
    """Whether the page can show `value`: a table with rows of words, however wrong the rest of it may be."""
    if not isinstance(value, dict):
        return False
    rows = value.get("row")
    return (
        isinstance(rows, list)
        and bool(rows)
        and all(isinstance(row, dict) and isinstance(row.get("text"), str) for row in rows)
    )


def _are_steps(*lists: object) -> bool:
    try:
        return all(
            isinstance(steps, list)
            and len(steps) <= _MOST_STEPS
            and all(isinstance(step, str) and _is_design(json.loads(step)) for step in steps)
            for steps in lists
        )
    except (ValueError, RecursionError):
        return False


def read_written(content: bytes | None, *, folder: str) -> Written:
    """What the file of a history holds; `folder` is where it is, to be said.

    Raises:
        Refusal: it is damaged, or of a newer format.
    """
    try:
        data = json.loads((content or b"").decode("ascii"))
        number = data["format"]
        if isinstance(number, int) and number > FORMAT:
            raise Refusal(
                Problem(
                    kind="kept-by-newer-program",
                    what=message("this quilt was kept by a newer version of this program"),
                    fix=message("update applique; nothing in {folder} was changed", folder=folder),
                )
            )
        revision, files = data["revision"], (data["design_file"], data["file_before"])
        if (
            number != FORMAT
            or not isinstance(revision, int)
            or not all(isinstance(one, str) for one in files)
        ):
            raise ValueError(number)
        history = history_from(data)
    except (ValueError, KeyError, TypeError, RecursionError):
        raise damaged(HISTORY_FILE, folder) from None
    except Refusal as refusal:
        if refusal.problems[0].kind == "no-history":
            raise damaged(HISTORY_FILE, folder) from None
        raise
    return Written(revision=revision, history=history, design_file=files[0], file_before=files[1])


def design_file(design: Mapping[str, Any]) -> bytes:
    """A design of the page as the design file that others read too: without the rows that have no words yet.

    Where the page holds what is no design yet, the file says the same, and whoever opens it is told what is wrong.

    Raises:
        Refusal: no file could say it.
    """
    try:
        data = _without_nothing({**design, "row": [row for row in design["row"] if row["text"].strip()]})
        try:
            text = design_text(design_from_mapping(data))
        except Refusal:
            text = tomli_w.dumps(doubled(data), multiline_strings=False)
    except (TypeError, ValueError, RecursionError):
        raise Refusal(
            Problem(
                kind="no-history",
                what=message("this is no quilt that can be kept"),
                where=Where(file=DESIGN_FILE),
                fix=message("see /api/openapi.json"),
            )
        ) from None
    return text.encode("utf-8")


def design_in(content: bytes) -> dict[str, Any] | None:
    """The design of a design file that somebody changed by hand; None where it cannot be read."""
    try:
        data = words_of_design(tomllib.loads(content.decode("utf-8").removeprefix("\ufeff")))
    except (ValueError, RecursionError, Refusal):
        return None
    return data if _is_design(data) else None


def _without_nothing(value: Any) -> Any:
    """`value` without the nulls in it, which TOML does not have."""
    if isinstance(value, dict):
        return {key: _without_nothing(part) for key, part in value.items() if part is not None}
    return (
        [_without_nothing(part) for part in value if part is not None] if isinstance(value, list) else value
    )


def digest(content: bytes) -> str:
    """The SHA-256 of a file's bytes, by which it is known again."""
    return hashlib.sha256(content).hexdigest()
