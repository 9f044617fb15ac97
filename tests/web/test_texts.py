"""The page's files: every text from the catalogue, in the language that is asked for, and nothing from elsewhere."""

from __future__ import annotations

import gettext
import json
import re
from collections.abc import Iterator, Mapping
from html.parser import HTMLParser
from pathlib import Path
from typing import TYPE_CHECKING, Any

import httpx
import pytest
from babel import Locale

from applique.design import design_schema
from applique.language import Message, Speech, american
from applique.words.page import PAGE, page_texts

if TYPE_CHECKING:
    from tests.web.conftest import Served

STATIC = Path(__file__).parents[2] / "applique" / "web" / "static"
FILES = {path.name: path.read_text("utf-8") for path in STATIC.iterdir()}
SCRIPTS = "\n".join(text for name, text in FILES.items() if name.endswith(".js"))
MARKUP = re.findall(r'data-(?:text|label|placeholder)="([^"]+)"', FILES["index.html"])
SCHEMA = design_schema()
TABLES = {
    "design": SCHEMA,
    **{name: table for name, table in SCHEMA["$defs"].items() if "properties" in table},
}
CALLED = {"PrintCorrection": "print", "OutlineLayer": "outline"}
IN_ROWS = {"Row", "Nudge", "FussyCut"}


def leaves(texts: Mapping[str, Any], path: str = "") -> Iterator[str]:
    """The whole key of every text."""
    for key, text in texts.items():
        here = f"{path}{key}"
        yield from [here] if isinstance(text, Message) else leaves(text, f"{here}/")


def group(key: str) -> Mapping[str, Any]:
    """The texts that stand together under `key`."""
    found = PAGE[key]
    assert isinstance(found, Mapping)
    return found


KEYS = set(leaves(PAGE))


def test_every_text_that_is_named_exists() -> None:
    named = {*MARKUP, *re.findall(r'\bt\("([^"]+)"', SCRIPTS)}
    assert len(named) > 80
    assert named <= KEYS


def test_every_text_is_used() -> None:
    """By its own name, or by one that a script puts together from the name of what holds it."""
    quoted = set(re.findall(r'"([\w./]+)"', SCRIPTS))
    put_together = set(re.findall(r"`(\w+)/\$\{", SCRIPTS)) | set(re.findall(r"\bTEXTS\.(\w+)", SCRIPTS))
    assert put_together >= {"settings", "choices", "steps"}
    used = {key for key in KEYS if key in quoted or key.split("/")[0] in put_together}
    assert KEYS - used - set(MARKUP) == {"needsScripts"}


def test_every_key_table_and_choice_of_the_design_has_a_name_on_the_page() -> None:
    names: set[str] = set(group("keys"))
    for name, table in TABLES.items():
        called = "row" if name in IN_ROWS else CALLED.get(name, name.lower())
        for key, value in table["properties"].items():
            holds = str(value.get("$ref", value.get("items"))).rpartition("/")[2].rstrip("'}")
            named = {f"{called}.{key}"} | ({f"lettering.{key}"} if called == "row" else set())
            if called == "design" and holds in TABLES:
                assert key in group("tables"), key
            else:
                assert named & names, named
    enums = {name: set(choice["enum"]) for name, choice in SCHEMA["$defs"].items() if "enum" in choice}
    assert {name: set(choices) for name, choices in group("choices").items()} == enums


def test_no_words_stand_in_the_markup() -> None:
    """A translator finds every word in the catalogue, but for the name of the program."""
    body = re.sub(r"<head>.*?</head>", "", FILES["index.html"], flags=re.DOTALL)
    assert re.findall(r">\s*([A-Za-z][^<]{2,})<", body) == []


def test_a_plural_comes_in_every_form_that_the_language_has() -> None:
    """Of Polish, three for whole numbers: CLDR, plural rules; the catalogue numbers them by gettext's own rule."""

    class Texts(gettext.NullTranslations):
        def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
            few = n % 10 in (2, 3, 4) and n % 100 not in (12, 13, 14)
            return "strona" if n == 1 else "strony" if few else "stron"

    polish = Speech(tag="pl", locale=Locale.parse("pl"), texts=Texts())
    assert page_texts(polish)["pages"] == {"one": "strona", "few": "strony", "many": "stron"}
    assert page_texts(american())["pages"] == {"one": "{count} page", "other": "{count} pages"}


class _Page(HTMLParser):
    """The language that a page says it is in, and the texts within it."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.language, self.texts, self._within = "", "", False
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._within = ("id", "texts") in attrs
        if tag == "html":
            self.language = dict(attrs)["lang"] or ""

    def handle_data(self, data: str) -> None:
        self.texts += data if self._within else ""


@pytest.mark.parametrize(
    ("asked", "language", "dark"),
    [
        ("en-US,en;q=0.9", "en-US", "Change to dark colors"),
        ("en-GB,en-US;q=0.8", "en-GB", "Change to dark colours"),
        ("fr;q=0.9, en-GB;q=0.7, en;q=0.5", "en-GB", "Change to dark colours"),
        ("en-GB;q=0, fr", "en-US", "Change to dark colors"),
        ("", "en-US", "Change to dark colors"),
        ("a" * 4_000 + ";;q=9, *", "en-US", "Change to dark colors"),
    ],
)
def test_the_page_speaks_the_language_of_its_browser(
    served: Served, asked: str, language: str, dark: str
) -> None:
    answer = httpx.get(served.address, headers={"accept-language": asked})
    page = _Page(answer.text)
    assert (page.language, json.loads(page.texts)["switchToDark"]) == (language, dark)


def test_nothing_is_loaded_from_elsewhere() -> None:
    for name, text in FILES.items():
        addresses = set(re.findall(r"https?://[^\s\"')]+", text)) - {"http://www.w3.org/2000/svg"}
        assert not addresses, name
