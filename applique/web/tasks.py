"""The slow tasks of the page, as values that a process of the bench runs.

A task works in the folder of its page, where the design's own font names are names of files: what it writes into the
pattern names the font and no folder of this machine. It starts from a design that was checked or, where the page has
drawn that already, from its sketch: to take a sketch over costs a fraction of making it. Of the language of the page it
is told the tag, for a `Speech` does not go from one process to another.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from applique.design import Design, design_from_mapping
from applique.language import nearest_speech
from applique.nesting import Effort, Nester
from applique.pattern import Sketch, draft, renest
from applique.store import FolderStore, cache_folder, nests_beside
from applique.typeset.describe import describe_font
from applique.web.bench import Message
from applique.web.findings import finding_views
from applique.web.views import numbers_view

__all__ = ["FontTask", "MakeTask", "NumbersTask", "warm"]


def warm() -> None:
    """Have a process load what every task needs, by drafting one letter."""
    import applique.pack  # noqa: F401 (the page itself never needs it, and starts sooner without)

    draft(design_from_mapping({"row": [{"text": "A"}]}))


def _searching(effort: Effort) -> Nester:
    return Nester(effort=effort, store=FolderStore(cache_folder()), given=nests_beside(Path()))


@dataclass(frozen=True, slots=True, kw_only=True)
class NumbersTask:
    """What to buy: at once from our own layout, and again after the search for a shorter one.

    `folder` is that of the page, `language` the tag of what it speaks. Tells `numbers` twice, and `findings` between
    them when their cures have been tried. Where a search of long `effort` is asked for, it is left to the making.
    """

    start: Design | Sketch
    folder: Path
    language: str
    effort: Effort

    def run(self, tell: Callable[[Message], None]) -> None:
        """Draft it, and nest it again."""
        os.chdir(self.folder)
        speech = nearest_speech(self.language)
        quick = draft(self.start)
        findings = finding_views(quick, speech, cured=False)
        tell(("numbers", {**numbers_view(quick, speech, settled=False), "findings": findings}))
        if quick.risks:
            findings = finding_views(quick, speech, cured=True)
            tell(("findings", {"findings": findings}))
        settled = renest(quick, nester=_searching(min(self.effort, Effort.NORMAL)))
        tell(("numbers", {**numbers_view(settled, speech, settled=True), "findings": findings}))


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeTask:
    """The whole pattern, as its title and files. Tells a `step` before each file is made."""

    start: Design | Sketch
    folder: Path
    effort: Effort

    def run(self, tell: Callable[[Message], None]) -> tuple[str, dict[str, bytes]]:
        """Draft it and draw every file."""
        from applique.pack import pack_files

        os.chdir(self.folder)
        tell(("step", "layout"))
        pattern = draft(self.start, nester=_searching(self.effort))
        return pattern.title, pack_files(pattern, progress=lambda name: tell(("step", name)))


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomersTask:
    """The customer's edition, as its title and files. Tells a `step` before each file is made."""

    design: Design
    folder: Path
    effort: Effort

    def run(self, tell: Callable[[Message], None]) -> tuple[str, dict[str, bytes]]:
        """Draft it for each paper and draw every file."""
        from applique.advice import refuse_for_customers
        from applique.for_customers import customers_files, drafted_for_customers

        os.chdir(self.folder)
        tell(("step", "layout"))
        patterns = drafted_for_customers(self.design, nester=_searching(self.effort))
        refuse_for_customers(next(iter(patterns.values())))
        files = customers_files(patterns, progress=lambda name: tell(("step", name)))
        return next(iter(patterns.values())).title, files


@dataclass(frozen=True, slots=True, kw_only=True)
class FontTask:
    """What a font file is; a damaged one that brings its reader down harms this process alone."""

    path: Path
    language: str

    def run(self, tell: Callable[[Message], None]) -> dict[str, Any]:
        """Open it as any font is opened."""
        return describe_font(str(self.path)).as_data(nearest_speech(self.language))
