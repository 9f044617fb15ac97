"""Words that are nobody's to use here: removed ones stay out of every file, publishers' names out of the program.

What was removed is kept as digests, so that this file does not say it either.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from hashlib import sha256
from itertools import pairwise
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEXTS = {
    ".css",
    ".csv",
    ".html",
    ".js",
    ".json",
    ".lock",
    ".md",
    ".po",
    ".pot",
    ".py",
    ".svg",
    ".toml",
    ".txt",
}
SOURCES = ROOT / "docs" / "sources.md"
REMOVED = frozenset(
    {
        "11f7169755ae40eb",
        "267463e5e36cd787",
        "2844bed18a8e4a0d",
        "2f065573a601dbd2",
        "3ea19fba1be805dd",
        "8327f8f7a17de82d",
        "9032a76ef0382f7e",
        "94985c8c5139094f",
        "b1a704873bce26f9",
        "dcb85fcf872ebfc6",
        "decd8ee8483102c9",
        "e84dde508a606a3e",
    }
)
"""The first 16 digits of the SHA-256 of each word or pair of words, in small letters, one blank between."""
SIZES = frozenset({"25051b9190299dfd", "a5e3018e0667d65f", "c68db88d31713f1f"})
"""The same of two lengths that stand side by side, as `12 x 34`."""
BETWEEN = {"in", "by", "x", "wide", "high", "and", "width", "height", "f", "fraction"}


def _digest(text: str) -> str:
    return sha256(text.encode("utf-8")).hexdigest()[:16]


def _files() -> Iterator[Path]:
    """Every text of the project, its fonts' licenses aside."""
    tops = [ROOT / name for name in (".ci", "applique", "docs", "samples", "tests")]
    for path in [*ROOT.iterdir(), *(below for top in tops for below in top.rglob("*"))]:
        if path.is_file() and (path.suffix in TEXTS or path.name in ("run", "LICENSE", ".gitignore")):
            yield path


def _phrases(text: str) -> set[str]:
    """Its words in small letters, each alone and with the next."""
    words = re.findall(r"[^\W\d_]+(?:['’][^\W\d_]+)*", text.lower())
    return {*words, *(f"{first} {second}" for first, second in pairwise(words))}


def _sizes(text: str) -> set[str]:
    """Two whole numbers with nothing between them but signs and what stands between a width and a height."""
    found: set[str] = set()
    first = ""
    for token in re.findall(r"\d[\d./]*|[^\W\d_]+|½|¼|¾", text.lower()):
        if token.isdecimal():
            if first:
                found.add(f"{first} x {token}")
            first = token
        elif token not in BETWEEN:
            first = ""
    return found


def _removed(text: str) -> list[str]:
    return [
        *(phrase for phrase in _phrases(text) if _digest(phrase) in REMOVED),
        *(size for size in _sizes(text) if _digest(size) in SIZES),
    ]


def test_no_file_holds_a_word_name_or_size_that_was_removed() -> None:
    found = {}
    for path in _files():
        where = path.relative_to(ROOT).as_posix()
        words = _removed(where) + (_removed(path.read_text("utf-8")) if path.suffix != ".svg" else [])
        if words:
            found[where] = words
    assert not found


@pytest.mark.parametrize(
    "text",
    ["12 by 34 in", '"12in", "height": "34in"', "(12, 34)", "F(12), F(34)", "12 × 34", "12in x 34in", "12x34in",
     "(F(12), F(34))", "12 in by 34 in", "12 in wide and 34 in high"],
)  # fmt: skip
def test_a_size_is_seen_however_it_is_written(text: str) -> None:
    assert "12 x 34" in _sizes(text)


def test_a_word_is_seen_whatever_its_letters_and_its_neighbors() -> None:
    assert {"quiet", "quiet harbor"} <= _phrases('name = "QUIET\n Harbor-Side"')


def _publishers() -> list[str]:
    """The names in italics in the tables of docs/sources.md."""
    rows = [line for line in SOURCES.read_text("utf-8").splitlines() if line.startswith("| ")]
    return re.findall(r"\*([^*]+)\*", "\n".join(rows))


def test_publishers_are_named_beside_checks_and_in_the_sources_alone() -> None:
    publishers = _publishers()
    assert len(publishers) > 20
    named = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, publishers))})(?!\w)")
    for path in _files():
        if path != SOURCES and "tests" not in path.relative_to(ROOT).parts:
            assert not named.search(path.read_text("utf-8")), path


def test_no_file_names_a_font_by_its_place_on_one_machine() -> None:
    for path in _files():
        found = re.search(r"/usr/[^\"'`\n]*\.(?:ttf|otf)\b", path.read_text("utf-8"))
        assert not found, path
