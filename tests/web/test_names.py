"""A quilt for each name of a list: how lists are read, what each name gives, stopping, and all of it from the page."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    import httpx

    from tests.web.conftest import Served

QUILT: dict[str, Any] = {
    "panel": {"width": "20in", "height": "10in"},
    "lettering": {"font": "Rubik", "cap_height": "1in"},
    "row": [{"text": "ADA"}],
}
HEBREW = "דינה"
AXE = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}


@pytest.fixture(scope="module")
def client(served: Served) -> httpx.Client:
    return served.client()


def read(client: httpx.Client, text: str, **more: object) -> dict[str, Any]:
    answer = client.post("/api/names", json={"design": QUILT, "text": text, **more})
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def told(client: httpx.Client, text: str, **more: object) -> list[tuple[str, dict[str, Any]]]:
    asked = {"design": QUILT, "text": text, "fills": {"rows": {"0": 0}}, **more}
    answer = client.post("/api/names/make", params={"effort": "quick"}, json=asked)
    assert answer.status_code == 200, answer.text
    blocks = [block.split("\n") for block in answer.text.strip().split("\n\n")]
    return [(head.removeprefix("event: "), json.loads(data.removeprefix("data: "))) for head, data in blocks]


def test_a_list_is_read_as_spreadsheets_and_people_write_it(client: httpx.Client) -> None:
    """A byte order mark, empty lines, quoted commas, accents, emoji, letters from right to left, the same twice."""
    plain = read(client, f"\ufeffZoë\n\n{HEBREW}\r\n😀\nZoë\n")
    assert (plain["headed"], plain["count"], plain["problems"]) == (False, 4, [])
    assert [(row["line"], *row["cells"]) for row in plain["rows"]] == [
        (1, "Zoë"),
        (3, HEBREW),
        (4, "😀"),
        (5, "Zoë"),
    ]
    assert plain["fills"] == {"rows": {"0": 0}, "title": None}
    table = read(client, '\ufeffname;place\n"Ada; the first";Bath\nMax\n')
    assert (table["headed"], table["columns"], table["count"]) == (True, ["name", "place"], 2)
    assert table["rows"][0] == {"line": 2, "cells": ["Ada; the first", "Bath"]}
    [problem] = table["problems"]
    assert problem["line"] == 3
    assert problem["what"] == "the number of its cells is 1, that of the columns 2"
    assert read(client, "Name\nAda\n")["headed"]
    assert read(client, "Name\nAda\n", header=False)["count"] == 2


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("x\n" * 10_000, "10000 rows"),
        ("x\n" * 300, "300 names"),
        ('"Ada\n', "no CSV file"),
        ("\n\n", "no"),
        ("a\0b\n", "is no text"),
        ("a" * 6_000, "5,000 letters"),
    ],
)
def test_what_is_no_list_is_refused_in_words(client: httpx.Client, text: str, says: str) -> None:
    for path in ("names", "names/make"):
        asked = {"design": QUILT, "text": text, "header": False, "fills": {"rows": {"0": 0}}}
        answer = client.post(f"/api/{path}", json=asked)
        assert answer.status_code == 422
        assert says.replace(",", "") in answer.json()["problems"][0]["what"].replace(",", "")


def test_the_guard_stands_before_lists_too(client: httpx.Client, served: Served) -> None:
    asked = {"design": QUILT, "text": "Ada"}
    for method, path in (("POST", "names"), ("POST", "names/make"), ("GET", "names/x/folder")):
        for headers in (
            {"origin": "http://elsewhere.example"},
            {"host": "elsewhere.example"},
            {"x-applique-token": "x"},
        ):
            strange = client.request(method, f"/api/{path}", json=asked, headers=headers)
            assert strange.status_code == 403
    assert client.get("/api/names/x/folder").status_code == 404
    assert client.post("/api/names", content=b"x" * 2_000_000).status_code == 413
    nothing = client.post(
        "/api/names/make", json={**asked, "fills": {"rows": {"9": 0, "0": 7}, "title": "x"}}
    )
    assert nothing.status_code == 422
    assert "nothing of the quilt" in nothing.json()["problems"][0]["what"]


@pytest.mark.long
def test_a_pattern_for_each_name_and_what_is_wrong_at_its_line(client: httpx.Client) -> None:
    """Rubik has Hebrew and no emoji. Names that would lead out of a folder stay in theirs; equal ones have two."""
    heard = told(client, f"../Ada\n😀\n{HEBREW}\nZoë\nZoë\n")
    assert [value["name"] for kind, value in heard if kind == "name"] == [
        "../Ada",
        "😀",
        HEBREW,
        "Zoë",
        "Zoë",
    ]
    [refused] = [value for kind, value in heard if kind == "refusedName"]
    assert (refused["line"], refused["name"]) == (2, "😀")
    assert "😀" in refused["problems"][0]["what"]
    [done] = [value for kind, value in heard if kind == "done"]
    assert done["count"] == 4
    content = client.get(f"/api/names/{done['made']}/folder")
    assert content.headers["content-disposition"].startswith("attachment")
    archive = zipfile.ZipFile(io.BytesIO(content.content))
    names = [name.split("/") for name in archive.namelist()]
    assert all(len(parts) >= 3 and ".." not in parts and parts[0] == "names-each" for parts in names)
    folders = list(dict.fromkeys(parts[1] for parts in names))
    assert len(folders) == 4
    assert folders[3] == f"{folders[2]}-2"
    designs = [archive.read(f"names-each/{folder}/design.toml").decode("utf-8") for folder in folders]
    for design, word in zip(designs, ("../Ada", HEBREW, "Zoë", "Zoë"), strict=True):
        assert f'text = "{word}"' in design
    other = client.get(f"/api/names/{done['made']}/folder", headers={"x-applique-tab": "x"})
    assert other.status_code == 409


@pytest.mark.long
def test_words_in_braces_are_filled_and_customers_get_their_edition(client: httpx.Client) -> None:
    design = {**QUILT, "row": [{"text": "{Name}"}, {"text": "{}"}], "title": "For {name}"}
    files: dict[str, dict[str, bytes]] = {}
    for edition in ("maker", "customers"):
        heard = told(client, "name,place\nAda,Bath\n", design=design, fills={}, edition=edition)
        [done] = [value for kind, value in heard if kind == "done"]
        archive = zipfile.ZipFile(io.BytesIO(client.get(f"/api/names/{done['made']}/folder").content))
        files[edition] = {name.split("/", 2)[2]: archive.read(name) for name in archive.namelist()}
    text = files["maker"]["design.toml"].decode("utf-8")
    assert 'title = "For Ada"' in text
    assert 'text = "Ada"' in text
    assert 'text = "{{}}"' in text
    assert ".made-files.sha256" in files["maker"].keys() - files["customers"].keys()
    assert any(name.endswith(".pdf") for name in files["customers"])


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, accept_downloads=True)
    opened = Sheet(context.new_page(), served.keep(QUILT))
    opened.page.evaluate("() => localStorage.setItem('effort', 'quick')")
    yield opened
    opened.quiet()
    context.close()


@pytest.mark.browser
@pytest.mark.long
def test_a_list_is_pasted_read_made_and_stopped(sheet: Sheet) -> None:
    """WCAG 2.2 A and AA hold in each state; what was made before it was stopped is in the zip."""
    page = sheet.page
    sheet.unfold("pattern")
    page.get_by_role("button", name="Make one for each name of a list").click()
    names = page.get_by_label("The names", exact=True)
    make = page.locator("#names-make")
    assert make.is_disabled()
    names.fill("place,name\nBath,Ada\nYork\nDover,Zoë")
    page.get_by_text("3 names were read.").wait_for()
    page.locator("#names-read .finding").filter(has_text="Line 3: the number of its cells is 1").wait_for()
    assert page.locator("#names-read select").first.input_value() == "1", "a cell says what the row says"
    assert Axe().run(page, options=AXE).response["violations"] == []
    make.filter(has_text="Make 3 patterns").click()
    page.get_by_role("heading", name="2 of 3 made").wait_for()
    page.locator("#names-dialog .finding").filter(has_text="Line 3").wait_for()
    assert Axe().run(page, options=AXE).response["violations"] == []
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Download them all as a zip").click()
    assert len({name.split("/")[1] for name in zipfile.ZipFile(Path(waiting.value.path())).namelist()}) == 2
    page.get_by_role("button", name="Back to the list").click()
    assert "Dover,Zoë" in names.input_value()
    names.fill("\n".join(f"N{number}" for number in range(30)))
    page.get_by_text("30 names were read.").wait_for()
    page.locator("#names-read select").first.select_option("0")
    make.filter(has_text="Make 30 patterns").click()
    page.locator("#names-now").filter(has_text="3 of 30: N2").wait_for()
    page.get_by_role("button", name="Stop", exact=True).click()
    page.get_by_role("heading", name="Stopped: ").wait_for()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Download them all as a zip").click()
    archive = zipfile.ZipFile(Path(waiting.value.path()))
    assert archive.testzip() is None
    assert len({name.split("/")[1] for name in archive.namelist()}) >= 2
