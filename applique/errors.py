"""What stops the work or is risky: what is wrong, where, and what to do; as data that a language says."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from applique.language import Message

__all__ = ["NOWHERE", "Notice", "Problem", "Refusal", "Where"]

_LISTS: Final = frozenset({"border", "fabric", "quilting", "row"})
"""Tables of the design file that are there several times: `[[row]]`."""
_PLAIN: Final = frozenset({"title", "designer", "language", "units"})
"""Keys at the top of the design file that are no tables."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """A place that a maker can go to.

    `path` are keys of the design file from its top, with numbers from 1: `("row", 2, "cap_height")`. `letter` is a
    letter of that row, counted as typed. `file` is a file, a folder, a font or an option, as it is shown; `list_row` a
    row of a list of names.
    """

    path: tuple[str | int, ...] = ()
    letter: int | None = None
    file: str = ""
    list_row: int | None = None

    @classmethod
    def key(cls, *path: str | int) -> Where:
        """A key of the design file, or a table."""
        return cls(path=path)

    @classmethod
    def in_row(cls, row: int, *path: str | int, letter: int | None = None) -> Where:
        """A row of words, a key of it, or one of its letters."""
        return cls(path=("row", row, *path), letter=letter)

    @property
    def row(self) -> int | None:
        """The row of words, from 1, if it is in one."""
        match self.path:
            case ("row", int(number), *_):
                return number
        return None

    @property
    def border(self) -> int | None:
        """The border, from 1, if it is in one."""
        match self.path:
            case ("border", int(number), *_):
                return number
        return None

    def within(self, outer: Where) -> Where:
        """This place as part of `outer`: a key of a row, a design of a list."""
        return Where(
            path=(*outer.path, *self.path),
            letter=self.letter if self.letter is not None else outer.letter,
            file=self.file or outer.file,
            list_row=self.list_row if self.list_row is not None else outer.list_row,
        )

    def as_data(self) -> dict[str, object]:
        """The place as JSON holds it: only what there is of it."""
        said = {"path": list(self.path), "letter": self.letter, "file": self.file, "list_row": self.list_row}
        return {name: value for name, value in said.items() if value}

    def __bool__(self) -> bool:
        return self != NOWHERE

    def __str__(self) -> str:
        said = [f"list row {self.list_row}"] if self.list_row is not None else []
        said += [self.file] if self.file else []
        said += self._keys()
        said += [f"letter {self.letter}"] if self.letter is not None else []
        return ", ".join(said)

    def _keys(self) -> list[str]:
        words: list[str] = []
        for index, part in enumerate(self.path):
            if isinstance(part, int):
                words[-1] = f"{words[-1].strip('[]')} {part}"
            elif index == 0 and part in _LISTS:
                words.append(f"[[{part}]]")
            elif index == 0 and part not in _PLAIN:
                words.append(f"[{part}]")
            else:
                words.append(part)
        return words


NOWHERE: Final = Where()
"""No place in particular: the whole of what was asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing that stops the work: `what` is wrong, `where` it is, and the `fix` to try.

    `kind` is one for each template of `what`, such as `no-such-fabric`, for programs that read the JSON.
    """

    kind: str = ""
    what: str | Message
    where: Where = NOWHERE
    fix: str | Message = ""

    def __str__(self) -> str:
        head = f"{self.where}: {self.what}" if self.where else str(self.what)
        return f"{head}\n  try: {self.fix}" if self.fix else head

    def within(self, outer: Where) -> Problem:
        """The same, at its place in `outer`."""
        return replace(self, where=self.where.within(outer))


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """One thing that is risky but does not stop the work, in the shape of a `Problem`.

    Warnings are values of the pattern: printed, put on the sheets, shown on the page.
    """

    kind: str = ""
    what: str | Message
    where: Where = NOWHERE
    fix: str | Message = ""

    def within(self, outer: Where) -> Notice:
        """The same, at its place in `outer`."""
        return replace(self, where=self.where.within(outer))

    def __str__(self) -> str:
        return str(Problem(what=self.what, where=self.where, fix=self.fix))


class Refusal(Exception):  # noqa: N818 (the house word; it is no fault of the program)
    """The work is refused, with every problem found and not just the first.

    `problems` holds one `Problem` or more, in the order of the design file.
    """

    def __init__(self, problems: Iterable[Problem] | Problem) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))
