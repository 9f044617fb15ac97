"""Removed quilts: they are seen, in the order of their last change, and brought back; the page deletes none."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.web.patience import SLOW

if TYPE_CHECKING:
    from tests.web.conftest import Running

AXE = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
TITLES = ("First", "Second", "Third")


def quilt(title: str) -> dict[str, Any]:
    return {"title": title, "panel": {"width": "9in", "height": "9in"}, "row": [{"text": "I"}]}


@pytest.mark.long
def test_removed_quilts_are_listed_by_their_last_change_and_come_back(
    start_page: type[Running], tmp_path: Path
) -> None:
    running = start_page(tmp_path)
    with running as served:
        client = served.client()
        keys = [served.keep(quilt(title)).rpartition("=")[2] for title in TITLES]
        for key, changed in zip(keys, (200, 300, 100), strict=True):
            os.utime(running.quilts / key / "history.json", (changed, changed))
            assert client.delete(f"/api/quilts/{key}").status_code == 200
        assert client.get("/api/quilts").json()["quilts"] == []
        removed = client.get("/api/removed").json()["quilts"]
        assert [one["title"] for one in removed] == ["Second", "First", "Third"]
        assert [one["quilt"] for one in removed] == [keys[1], keys[0], keys[2]]
        assert client.get(f"/api/removed/{keys[0]}/picture").text.startswith("<?xml")
        served.keep(quilt("Fourth"))
        again = client.put(f"/api/quilts/{keys[2]}", json={"rests_on": 0, "design": quilt("Other")})
        assert again.status_code == 200
        back = [client.post(f"/api/removed/{key}/back").json()["quilt"] for key in keys]
        assert back[:2] == keys[:2]
        assert back[2] not in keys, "a key that is taken is nobody else's"
        titles = {one["quilt"]: one["title"] for one in client.get("/api/quilts").json()["quilts"]}
        assert [titles[key] for key in back] == list(TITLES)
        assert titles[keys[2]] == "Other"
        assert client.get("/api/removed").json()["quilts"] == []
        client.delete(f"/api/quilts/{keys[0]}")
        client.put(f"/api/quilts/{keys[0]}", json={"rests_on": 0, "design": quilt("New")})
        client.delete(f"/api/quilts/{keys[0]}")
        names = {one["quilt"] for one in client.get("/api/removed").json()["quilts"]}
        assert names == {keys[0], f"{keys[0]}-2"}


@pytest.mark.long
def test_nothing_but_the_trash_is_brought_back(start_page: type[Running], tmp_path: Path) -> None:
    running = start_page(tmp_path)
    with running as served:
        client = served.client()
        key = served.keep(quilt("Kept")).rpartition("=")[2]
        for method, path in (("POST", "back"), ("GET", "picture")):
            for place in ("..", "%2e%2e", "x", "..%2fquilts", "a" * 16, "a" * 16 + "-x", key):
                assert client.request(method, f"/api/removed/{place}/{path}").status_code in (404, 405, 422)
            strange = client.request(method, f"/api/removed/{key}/{path}", headers={"x-applique-token": "x"})
            assert strange.status_code == 403
        outside = running.quilts / "trash" / ("b" * 16)
        outside.parent.mkdir()
        outside.symlink_to(running.quilts / key)
        assert client.get("/api/removed").json()["quilts"] == []
        assert client.post(f"/api/removed/{'b' * 16}/back").status_code == 422
        assert [one["title"] for one in client.get("/api/quilts").json()["quilts"]] == ["Kept"]


@pytest.mark.long
@pytest.mark.browser
def test_a_quilt_is_removed_and_brought_back_on_the_start_screen(
    start_page: type[Running], tmp_path: Path, browser: Any
) -> None:
    """WCAG 2.2 A and AA hold with the removed ones in sight."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    with start_page(tmp_path) as served:
        for title in TITLES[:2]:
            served.keep(quilt(title))
        page = context.new_page()
        page.set_default_timeout(SLOW)
        page.goto(f"{served.start}?quilt=all")
        page.get_by_role("button", name="Remove First").click()
        page.locator("#removed summary").filter(has_text="1 removed quilt").click()
        page.locator("#removed img").wait_for()
        assert Axe().run(page, options=AXE).response["violations"] == []
        page.get_by_role("button", name="Bring back First").click()
        page.locator("#quilts li").nth(1).wait_for()
        page.locator("#said").filter(has_text="“First” is back").wait_for(state="attached")
        assert page.locator("#removed").inner_text() == ""
        assert page.evaluate("() => document.activeElement.textContent").startswith("First")
    context.close()
