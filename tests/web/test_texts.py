"""The page's files: every text in one place, and nothing from elsewhere."""

from __future__ import annotations

import re
from pathlib import Path

STATIC = Path(__file__).parents[2] / "applique" / "web" / "static"
FILES = {path.name: path.read_text("utf-8") for path in STATIC.iterdir()}
KEYS = set(re.findall(r"(?:^|[{,])\s*\"?([\w.-]+)\"?: [\"{]", FILES["texts.js"], re.MULTILINE))


def test_every_text_that_is_named_exists() -> None:
    named = set(re.findall(r'data-(?:text|label|placeholder)="(\w+)"', FILES["index.html"]))
    for name, text in FILES.items():
        if name.endswith(".js") and name != "texts.js":
            named |= set(re.findall(r'\bt\("(\w+)"', text))
    assert len(named) > 80
    assert named <= KEYS


def test_no_words_stand_in_the_markup() -> None:
    """A translator finds every word in texts.js, but for the title and the line for browsers without scripts."""
    body = re.sub(r"<noscript>.*?</noscript>|<head>.*?</head>", "", FILES["index.html"], flags=re.DOTALL)
    assert re.findall(r">\s*([A-Za-z][^<]{2,})<", body) == []


def test_nothing_is_loaded_from_elsewhere() -> None:
    for name, text in FILES.items():
        addresses = set(re.findall(r"https?://[^\s\"')]+", text)) - {"http://www.w3.org/2000/svg"}
        assert not addresses, name
