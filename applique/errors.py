"""Refusals: what is wrong, where, and what to do, in the maker's words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["Notice", "Problem", "Refusal"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing that stops the work: `what` is wrong, `where` it stands, and the `fix` to try."""

    what: str
    where: str = ""
    fix: str = ""

    def __str__(self) -> str:
        head = f"{self.where}: {self.what}" if self.where else self.what
        return f"{head}\n  try: {self.fix}" if self.fix else head


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """One thing that is risky but does not stop the work, in the shape of a `Problem`.

    Warnings are values of the pattern: printed, put on the sheets, shown on the page.
    """

    what: str
    where: str = ""
    fix: str = ""

    def __str__(self) -> str:
        return str(Problem(what=self.what, where=self.where, fix=self.fix))


class Refusal(Exception):  # noqa: N818 (the house word; it is no fault of the program)
    """The work is refused, with every problem found and not just the first.

    `problems` holds one `Problem` or more, in the order of the design file.
    """

    def __init__(self, problems: Iterable[Problem] | Problem) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))
