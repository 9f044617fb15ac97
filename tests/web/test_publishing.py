"""The picture of a mark on the page: looked at before it is kept, and no other file of the machine is ever read."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    import httpx

    from tests.web.conftest import Served

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9" fill="#cc0000"/></svg>'
SMALL: dict[str, Any] = {
    "panel": {"width": "12in", "height": "12in"},
    "lettering": {"font": "Fredoka", "cap_height": "4in"},
    "row": [{"text": "O"}],
}


def _add(client: httpx.Client, name: str, content: str) -> httpx.Response:
    return client.post("/api/marks", params={"name": name}, content=content.encode("utf-8"))


def _made(client: httpx.Client, design: dict[str, Any]) -> str:
    blocks = client.post("/api/make", json=design).text.strip().split("\n\n")
    head, data = blocks[-1].split("\n")
    assert head == "event: done", data
    return str(json.loads(data.removeprefix("data: "))["made"])


@pytest.mark.long
def test_a_mark_is_kept_for_its_page_and_named_in_the_folder(served: Served) -> None:
    client = served.client()
    name = _add(client, "../../my mark.svg", SVG).json()["mark_file"]
    assert name == "my mark.svg"
    design = {**SMALL, "publisher": {"name": "SC", "mark_file": name}}
    drawing = client.post("/api/plan", json=design).json()["drawing"]
    assert drawing["design"]["publisher"]["mark_file"] == name
    made = _made(client, design)
    assert 'mark_file = "my mark.svg"' in client.get(f"/api/made/{made}/file/design.toml").text
    assert client.get(f"/api/made/{made}/file/pattern.json").json()["mark"]["name"] == name
    other = served.client().post("/api/plan", json=design).json()
    assert [one["kind"] for one in other["findings"]] == ["mark-not-on-page"]


@pytest.mark.parametrize("name", ["/etc/hostname", "../../secret.png", "mine.svg"])
def test_a_file_that_the_page_was_not_given_is_never_read(served: Served, name: str) -> None:
    client = served.client()
    design = {**SMALL, "publisher": {"mark_file": name}}
    (finding,) = client.post("/api/plan", json=design).json()["findings"]
    assert (finding["kind"], finding["stops"]) == ("mark-not-on-page", True)
    assert client.post("/api/make", json=design).status_code == 422


def test_a_picture_that_is_refused_is_not_kept(served: Served) -> None:
    client = served.client()
    for name, content, kind in [
        ("a.svg", SVG.replace("<rect", "<script/><rect"), "mark-with-script"),
        ("a.gif", "GIF89a", "mark-no-picture"),
    ]:
        answer = _add(client, name, content)
        assert answer.status_code == 422
        assert [one["kind"] for one in answer.json()["problems"]] == [kind]
    assert _add(client, "a.svg", SVG).json() == {"mark_file": "a.svg"}


@pytest.mark.browser
def test_a_mark_is_chosen_and_removed_on_the_page(served: Served, browser: Any) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    sheet = Sheet(context.new_page(), served.address)
    page = sheet.page
    sheet.words("O")
    sheet.unfold("pattern")
    chooser = page.locator("#mark-file")
    chooser.set_input_files({"name": "bad.svg", "mimeType": "image/svg+xml", "buffer": b"<svg"})
    page.get_by_role("alert").get_by_text("bad.svg is a damaged picture").wait_for()
    chooser.set_input_files({"name": "sc.svg", "mimeType": "image/svg+xml", "buffer": SVG.encode()})
    page.get_by_text("sc.svg", exact=True).wait_for()
    assert sheet.design()["publisher"] == {"mark_file": "sc.svg"}
    page.get_by_role("button", name="Remove the picture").click()
    assert "publisher" not in sheet.design()
    sheet.quiet()
    context.close()
