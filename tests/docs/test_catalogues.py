"""The catalogues of texts: current, whole, and fit to be filled in."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from types import ModuleType

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from applique.language import Message, Speech, catalogues, speech_in
from applique.units import Units, as_both
from applique.words.page import PAGE

ROOT = Path(__file__).parents[2]
FIELD = re.compile(r"\{\w*\}|[{}]")


def _maker() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_catalogues", ROOT / "docs" / "make_catalogues.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


MAKER = _maker()
LOCALES = MAKER.locales()


def _read(path: Path) -> Catalog:
    with path.open("rb") as file:
        return read_po(file)


def _texts(text: object) -> tuple[str, ...]:
    """A text of an entry, or each of its forms."""
    return (text,) if isinstance(text, str) else tuple(text) if isinstance(text, list | tuple) else ()


def _speech(locale: str) -> Speech:
    speech = speech_in(locale.replace("_", "-"))
    assert speech is not None
    return speech


@pytest.mark.long
def test_every_catalogue_is_current() -> None:
    """The templates are those of the program, each language has them, and what is compiled is what stands written."""
    for path, content in MAKER.files().items():
        assert path.read_bytes() == content, f"{path.relative_to(ROOT)}: run python docs/make_catalogues.py"


def test_what_is_said_stands_among_the_templates() -> None:
    """Texts as they come from running code, which the extraction never sees."""
    templates = {message.id for message in _read(MAKER.TEMPLATES)}
    assert {PAGE["skip"].template, as_both(3, Units.INCHES).template} <= templates  # type: ignore[union-attr]
    assert (PAGE["pages"].template, PAGE["pages"].plural) in templates  # type: ignore[union-attr]
    assert "finished width" in templates


def test_every_mark_of_a_text_is_found(tmp_path: Path) -> None:
    marked = (
        'message("a")',
        'messages("b", "bs", 2)',
        's.say("c" " d")',
        's.count("e", "es", 3)',
        'says("g")',
        'helps("h")',
    )
    others = ('text.count("x")', 'other("y")', "message(z)")
    (tmp_path / "room.py").write_text("\n".join((*marked, *others)), "utf-8")
    found = {message.id for message in MAKER.templates(tmp_path) if message.id}
    assert found == {"a", ("b", "bs"), "c d", ("e", "es"), "g", "h"}


def test_there_is_british_english() -> None:
    assert "en-GB" in catalogues()
    assert [locale.replace("_", "-") for locale in LOCALES] == list(catalogues())


@pytest.mark.parametrize("locale", LOCALES)
def test_each_translation_names_what_its_template_names(locale: str) -> None:
    for message in _read(MAKER.po_file(locale)):
        names = [sorted(FIELD.findall(template)) for template in _texts(message.id)]
        for text in _texts(message.string):
            assert not message.id or not text or sorted(FIELD.findall(text)) in names, message.id


@pytest.mark.parametrize("locale", LOCALES)
def test_no_entry_is_a_guess_or_left_over(locale: str) -> None:
    found = _read(MAKER.po_file(locale))
    assert not found.obsolete
    assert not [message.id for message in found if message.id and message.fuzzy]


def test_british_english_has_no_american_word() -> None:
    american = re.compile(rf"\b(?:{'|'.join(MAKER.BRITISH)})\b", re.IGNORECASE)
    british = _speech("en_GB")
    for found in _read(MAKER.TEMPLATES):
        one, *many = _texts(found.id)
        message = Message(template=one, plural=many[0] if many else "")
        said = " ".join(british.forms(message).values()) if many else british.template(message) if one else ""
        assert not american.search(re.sub(r"\{\w+\}|`[^`]*`", "", said)), said
