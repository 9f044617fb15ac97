"""A design with its photos and fonts as one zip: what "Save" gives, "Open" takes, and nothing else packed so."""

from __future__ import annotations

import io
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image

from tests.web.patience import SLOW

if TYPE_CHECKING:
    import httpx

    from tests.web.conftest import Served

DESIGN = b'[[row]]\ntext = "OAR"\n'


def packed(files: dict[str, bytes]) -> bytes:
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return content.getvalue()


def photo(color: str) -> bytes:
    content = io.BytesIO()
    Image.new("RGB", (40, 30), color).save(content, "PNG")
    return content.getvalue()


@pytest.fixture(scope="module")
def client(served: Served) -> httpx.Client:
    return served.client()


@pytest.mark.long
def test_what_was_saved_is_opened_by_another_page_with_its_font_and_photo(
    client: httpx.Client, served: Served, dejavu_bold: str
) -> None:
    font = client.post("/api/fonts", params={"name": "Mine.ttf"}, content=Path(dejavu_bold).read_bytes())
    kept = client.post("/api/photos", params={"name": "sea.png"}, content=photo("#203040"))
    design = {
        "row": [{"text": "OAR"}],
        "lettering": {"font": font.json()["font"]},
        "fabric": [{"name": "Sea", "photo": kept.json()["photo"]}],
    }
    saved = client.post("/api/save", json=design)
    assert saved.status_code == 200, saved.text
    names = {name.rsplit("/", 1)[1] for name in zipfile.ZipFile(io.BytesIO(saved.content)).namelist()}
    assert names == {"oar.toml", "Mine.ttf", kept.json()["photo"]}
    other = served.client()
    opened = other.post("/api/open", content=saved.content)
    assert opened.status_code == 200, opened.text
    assert opened.json()["design"] == design
    drawn = other.post("/api/plan", json=opened.json()["design"]).json()["drawing"]
    assert drawn["photos"][0]["fabric"] == "Sea"
    again = other.post("/api/open", content=saved.content).json()["design"]
    assert other.post("/api/plan", json=again).json()["drawing"]["rows"][0]["text"] == "OAR"


def link() -> bytes:
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w") as archive:
        archive.writestr("a/oar.toml", DESIGN)
        entry = zipfile.ZipInfo("a/sea.png")
        entry.external_attr = (stat.S_IFLNK | 0o777) << 16
        archive.writestr(entry, "/etc/passwd")
    return content.getvalue()


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (lambda: b"no zip", "zip-damaged"),
        (lambda: packed({"a/oar.toml": DESIGN})[:-30], "zip-damaged"),
        (lambda: packed({"../oar.toml": DESIGN}), "zip-leads-out"),
        (lambda: packed({"/oar.toml": DESIGN}), "zip-leads-out"),
        (lambda: packed({"a/oar.toml": DESIGN, "C:\\x.png": b""}), "zip-leads-out"),
        (link, "zip-leads-out"),
        (lambda: packed({"a/oar.toml": DESIGN, "a/b/c/d/e.png": b""}), "zip-leads-out"),
        (lambda: packed({"a/oar.toml": DESIGN, "a/big.png": bytes(401_000_000)}), "zip-too-large"),
        (lambda: packed({f"a/{number}.toml": DESIGN for number in range(300)}), "zip-too-large"),
        (lambda: packed({"a/x.png": b""}), "zip-without-design"),
        (lambda: packed({"a/x.toml": DESIGN, "a/y.toml": DESIGN}), "zip-without-design"),
    ],
)
def test_a_zip_of_something_else_is_refused_in_words(
    client: httpx.Client, content: Callable[[], bytes], kind: str
) -> None:
    answer = client.post("/api/open", content=content())
    assert answer.status_code == 422
    [problem] = answer.json()["problems"]
    assert problem["kind"] == kind
    assert problem["what"]
    assert problem["fix"]


def test_what_is_wrong_in_a_packed_design_has_its_line(client: httpx.Client) -> None:
    answer = client.post(
        "/api/open", content=packed({"a/x.toml": b'[[row]]\ntext = "OAR"\ncap_height = "x"\n'})
    )
    assert answer.status_code == 422
    assert answer.json()["problems"][0]["line"] == 3
    strange = client.post(
        "/api/open", content=packed({"x.toml": DESIGN}), headers={"origin": "http://e.example"}
    )
    assert strange.status_code == 403


@pytest.mark.long
@pytest.mark.browser
def test_a_zip_is_opened_from_the_start_screen(served: Served, browser: Any) -> None:
    """With a photo, which the drawing then shows."""
    design = b'[[row]]\ntext = "OAR"\n[[fabric]]\nname = "Sea"\nphoto = "sea.png"\n'
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    page.set_default_timeout(SLOW)
    page.goto(f"{served.start}?quilt=all")
    page.get_by_role("button", name="Open a file").wait_for()
    content = packed({"oar/oar.toml": design, "oar/sea.png": photo("#203040")})
    page.locator("#open-file").set_input_files(
        {"name": "oar.zip", "mimeType": "application/zip", "buffer": content}
    )
    page.locator("#art .letter").first.wait_for(state="attached")
    said = page.evaluate("() => JSON.parse(sessionStorage.getItem('design'))")
    assert (said["row"][0]["text"], said["fabric"][0]["photo"]) == ("OAR", "sea.png")
    context.close()
