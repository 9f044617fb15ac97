"""What stops the work or is risky: what is wrong, where, and what to do; as data that a language says."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import reduce
from typing import Final

from applique.language import NOTHING, Message, message

__all__ = ["NOWHERE", "Notice", "Problem", "Refusal", "Where"]

_LISTS: Final = frozenset({"accepted", "block", "border", "fabric", "quilting", "row", "stated"})
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

    def as_field(self) -> str | Message:
        """The place in words, for a message: `list row 4, row 2, letter 1`. Keys stand as the design file has them."""
        parts: list[str | Message] = [*self._before(), *self._keys(), *self._letter()]
        return reduce(_joined, parts) if parts else ""

    def __str__(self) -> str:
        return str(self.as_field())

    def _before(self) -> Iterator[str | Message]:
        if self.list_row is not None:
            yield message("list row {number}", number=str(self.list_row))
        if self.file:
            yield self.file

    def _keys(self) -> Iterator[str | Message]:
        for index, (part, after) in enumerate(zip(self.path, (*self.path[1:], ""), strict=False)):
            if isinstance(part, int):
                continue
            if isinstance(after, int):
                yield _numbered(part, str(after))
            elif index == 0 and part in _LISTS:
                yield f"[[{part}]]"
            elif index == 0 and part not in _PLAIN:
                yield f"[{part}]"
            else:
                yield part

    def _letter(self) -> Iterator[Message]:
        if self.letter is not None:
            yield message("letter {number}", number=str(self.letter))


def _joined(outer: str | Message, inner: str | Message) -> Message:
    return message("{outer}, {inner}", outer=outer, inner=inner)


def _numbered(key: str, number: str) -> Message:
    match key:
        case "row":
            return message("row {number}", number=number)
        case "fabric":
            return message("fabric {number}", number=number)
        case "border":
            return message("border {number}", number=number)
        case "block":
            return message("block {number}", number=number)
        case _:
            return message("{key} {number}", key=key, number=number)


NOWHERE: Final = Where()
"""No place in particular: the whole of what was asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing that stops the work: `what` is wrong, `where` it is, and the `fix` to try.

    `kind` is one for each template of `what`, such as `no-such-fabric`, for programs that read the JSON.
    """

    kind: str
    what: Message
    where: Where = NOWHERE
    fix: Message = NOTHING

    def as_message(self) -> Message:
        """The whole of it: where, what, and what to try on a line of its own."""
        return _whole(self.what, self.where, self.fix)

    def __str__(self) -> str:
        return str(self.as_message())

    def within(self, outer: Where) -> Problem:
        """The same, at its place in `outer`."""
        return replace(self, where=self.where.within(outer))


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """One thing that is risky but does not stop the work, in the shape of a `Problem`.

    Warnings are values of the pattern: printed, put on the sheets, shown on the page.
    """

    kind: str
    what: Message
    where: Where = NOWHERE
    fix: Message = NOTHING

    def within(self, outer: Where) -> Notice:
        """The same, at its place in `outer`."""
        return replace(self, where=self.where.within(outer))

    def as_message(self) -> Message:
        """The whole of it: where, what, and what to try on a line of its own."""
        return _whole(self.what, self.where, self.fix)

    def __str__(self) -> str:
        return str(self.as_message())


def _whole(what: Message, where: Where, fix: Message) -> Message:
    if where and fix:
        return message("{where}: {what}\n  try: {fix}", where=where.as_field(), what=what, fix=fix)
    if where:
        return message("{where}: {what}", where=where.as_field(), what=what)
    if fix:
        return message("{what}\n  try: {fix}", what=what, fix=fix)
    return what


class Refusal(Exception):  # noqa: N818 (the house word; it is no fault of the program)
    """The work is refused, with every problem found and not just the first.

    `problems` holds one `Problem` or more, in the order of the design file.
    """

    def __init__(self, problems: Iterable[Problem] | Problem) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))
