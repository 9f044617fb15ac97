"""Write licenses.md: what the program is made with, and on whose terms. Run `python docs/make_licenses.py`.

Read from the installed packages; the tests check that no dependency is missing from the page.
"""

from __future__ import annotations

import re
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

HERE = Path(__file__).parent
OPTIONAL = re.compile(r";.*\bextra\s*==")
MIT_WORDS = "Permission is hereby granted, free of charge, to any person"


def needed(name: str = "applique", seen: frozenset[str] = frozenset()) -> frozenset[str]:
    """The names of all packages that `name` needs to run, and those that they need, where installed here."""
    for requirement in distribution(name).requires or ():
        wanted = plain(re.split(r"[ ;<>=!~\[(]", requirement, maxsplit=1)[0])
        if OPTIONAL.search(requirement) or wanted in seen:
            continue
        try:
            distribution(wanted)
        except PackageNotFoundError:  # for another system or another Python
            continue
        seen = needed(wanted, seen | {wanted})
    return seen


def plain(name: str) -> str:
    """A package name as indexes compare it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def license(package: Distribution) -> str:
    """The license as the package says it: the expression, else its classifiers, else the first line of its text."""
    said = package.metadata
    if said["License-Expression"]:
        return str(said["License-Expression"])
    listed = [c.rpartition(" :: ")[2] for c in said.get_all("Classifier") or () if c.startswith("License ::")]
    if listed:
        return ", ".join(listed)
    texts = [
        file.read_binary().decode("utf-8", "replace")
        for file in package.files or ()
        if "licenses" in file.parts
    ]
    if any(MIT_WORDS in " ".join(text.split()) for text in texts):
        return "MIT"
    return str(said["License"] or "see the package").strip().splitlines()[0]


def page() -> str:
    """The whole page."""
    rows = [
        f"| {name} | {license(distribution(name))} | {distribution(name).metadata['Summary'] or ''} |"
        for name in sorted(needed())
    ]
    fonts = [
        f"| {folder.parent.name} | SIL Open Font License 1.1 | `fonts/{folder.parent.name}/OFL.txt` |"
        for folder in sorted((HERE.parent / "fonts").glob("*/OFL.txt"))
    ]
    return "\n".join(
        [
            "# Licenses",
            "",
            "applique is under the MIT license, see [LICENSE](../LICENSE). Made by `python docs/make_licenses.py`.",
            "",
            "## Packages that are installed with it",
            "",
            "As each says of itself.",
            "",
            "| package | license | what it is |",
            "|---|---|---|",
            *rows,
            "",
            "## Fonts that come with it",
            "",
            "A font under this license may be used to make and sell quilts and patterns; it may not be sold alone.",
            "",
            "| font | license | text |",
            "|---|---|---|",
            *fonts,
            "",
        ]
    )


if __name__ == "__main__":
    (HERE / "licenses.md").write_text(page(), encoding="utf-8")
