"""What the commands say in the language of the terminal, and that JSON stays American English.

The language is made up: every letter of ours is a capital. What is not then escaped the catalogue.
"""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from babel import Locale
from click.testing import CliRunner, Result

from applique.cli import main
from applique.cli.saying import terminal_speech
from applique.language import Speech, american
from applique.language import speech as speaking
from tests.made_up import loud

LOUD = replace(loud(), tag="de", locale=Locale.parse("de"))


@pytest.fixture(autouse=True)
def made_up(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """German is the loud language, in a folder of its own."""

    def spoken(tag: str) -> Speech | None:
        return {"de": LOUD, "de-CH": LOUD, "en": american(), "en-US": american()}.get(tag)

    monkeypatch.setattr(speaking, "_spoken", spoken)
    for name in ("LC_ALL", "LC_MESSAGES", "LANG", "LANGUAGE"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LANG", "de_DE.UTF-8")
    monkeypatch.setenv("LANGUAGE", "de")
    monkeypatch.chdir(tmp_path)


def _run(*words: str) -> Result:
    return CliRunner().invoke(main, words, prog_name="applique", standalone_mode=True)


@pytest.mark.parametrize(
    ("environment", "tag"),
    [
        ({}, "en-US"),
        ({"LANG": "de_CH.UTF-8"}, "de"),
        ({"LANG": "de_CH@euro"}, "de"),
        ({"LANG": "en_US.UTF-8", "LC_MESSAGES": "de"}, "de"),
        ({"LANG": "de", "LC_MESSAGES": "en_US.UTF-8"}, "en-US"),
        ({"LANG": "de", "LC_MESSAGES": "de", "LC_ALL": "en_US"}, "en-US"),
        ({"LANG": "en_US.UTF-8", "LANGUAGE": "xx:de:en"}, "de"),
        ({"LANG": "C", "LANGUAGE": "de"}, "en-US"),
        ({"LC_ALL": "C.UTF-8", "LANG": "de", "LANGUAGE": "de"}, "en-US"),
        ({"LANG": "POSIX"}, "en-US"),
        ({"LANG": "sv_SE.UTF-8"}, "en-US"),
        ({"LANG": "nonsense!"}, "en-US"),
    ],
)
def test_the_environment_chooses(
    environment: dict[str, str], tag: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("LANG", "LANGUAGE"):
        monkeypatch.delenv(name)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert terminal_speech().tag == tag


@pytest.mark.long
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("new", "A.TOML"), "WROTE A.TOML. CHANGE THE WORDS"),
        (("new", "HERE.TOML"), "HERE.TOML: EXISTS\n  TRY: ANOTHER NAME"),
        (("make", "."), ".: IS NO FILE"),
        (("check", "HERE.TOML"), "NO PROBLEMS FOUND."),
        (("check", "BAD.TOML"), "ROW 1, TEXT: THERE ARE NO WORDS"),
        (("check", "BAD.TOML"), "FABRIC 1, COLOR: “#12” IS NO COLOR"),
        (("check", "HERE.TOML", "--each", "LIST.CSV"), "THE TEMPLATE HAS NO PLACEHOLDER"),
        (
            ("check", "EACH.TOML", "--each", "LIST.CSV"),
            "LIST ROW 2: NO PROBLEMS FOUND\n1 READY, 0 TO LOOK AT",
        ),
        (("make", "--text", "A", "--panel", "BIG"), "--PANEL: “BIG” IS NO PANEL SIZE"),
    ],
)
def test_what_a_command_says_is_in_the_language_of_the_terminal(words: tuple[str, ...], said: str) -> None:
    Path("HERE.TOML").write_text('[[row]]\ntext = "HO"\n', encoding="utf-8")
    Path("EACH.TOML").write_text('[[row]]\ntext = "{N}"\n', encoding="utf-8")
    Path("LIST.CSV").write_text("N\nHO\n", encoding="utf-8")
    Path("BAD.TOML").write_text(
        '[[row]]\ntext = " "\n[[fabric]]\nname = "N"\ncolor = "#12"\n', encoding="utf-8"
    )
    told = _run(*words).output.replace(f"{Path.cwd()}/", "")
    for key in (
        "text",
        "color",
        "--panel",
    ):  # these stay what they are called in the file, and on the command line
        told = told.replace(f"{key}:", f"{key.upper()}:")
    assert said in told
    assert not re.search("[a-z]{2}", told)


@pytest.mark.parametrize("command", [(), *((name,) for name in main.commands)])
def test_help_is_in_the_language_of_the_terminal(command: tuple[str, ...]) -> None:
    told = _run(*command, "--help").output
    left = re.sub(
        r"\[default: normal\]|\[quick\|normal\|long\]|\[names\|sheets\]"
        r"|--?[a-z-]+|\bapplique\b(?: [a-z]+)? \[OPTIONS\]"
        r"|(?m:^  (?:make|check|new|fonts|schema|serve) )|\b(?:0<=x<=65535|RANGE)\b",
        "",
        told,
    )
    assert not re.search(r"[a-z]{2}", left)


def test_a_wrong_word_is_answered_in_the_language_of_the_terminal() -> None:
    assert "Error: --OUTPUT AND --REPLACE GO WITH --FIX." in _run("check", "A", "--replace").output
    assert "GIVE A DESIGN FILE, OR WORDS WITH --TEXT." in _run("make").output


def test_json_stays_american() -> None:
    Path("BAD.TOML").write_text('[[row]]\ntext = " "\n', encoding="utf-8")
    (problem,) = json.loads(_run("check", "BAD.TOML", "--json").output)["problems"]
    assert (problem["kind"], problem["what"]) == ("no-words", "there are no words")
    assert (problem["where"], problem["fix"]) == (
        "row 1, text",
        "the words of the row in quotes, or take the row out",
    )
