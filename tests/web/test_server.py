"""The page's server: who may ask, what is refused, and that nothing but the page's own files ever comes out."""

from __future__ import annotations

import contextlib
import hashlib
import http.client
import json
import secrets
import signal
import socket
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING, Any

import httpx
import jsonschema
import pytest

from applique.design import design_from_mapping
from applique.nesting import Effort, Nester, strips
from applique.pack import pack_files
from applique.pattern import draft
from applique.web.tabs import Tabs
from applique.web.tasks import MakeTask
from tests.web.patience import PATIENCE

if TYPE_CHECKING:
    from tests.web.conftest import Running, Served

DESIGN: dict[str, Any] = {
    "row": [{"text": "OAR"}, {"text": "LOCK"}],
    "lettering": {"font": "Fredoka"},
    "panel": {"width": "20in", "height": "16in"},
}


def events(client: httpx.Client, path: str, design: dict[str, Any]) -> list[tuple[str, Any]]:
    """The server-sent events of a request, as (name, data)."""
    answer = client.post(path, json=design)
    assert answer.status_code == 200, answer.text
    blocks = [block.split("\n") for block in answer.text.strip().split("\n\n")]
    return [(head.removeprefix("event: "), json.loads(data.removeprefix("data: "))) for head, data in blocks]


def raw(served: Served, method: str, path: str, headers: dict[str, str], body: bytes | None = None) -> Any:
    """A request exactly as written, which a well-behaved client would not send."""
    connection = http.client.HTTPConnection(served.origin.removeprefix("http://"), timeout=PATIENCE)
    connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
    for name, value in headers.items():
        connection.putheader(name, value)
    connection.endheaders(body)
    answer = connection.getresponse()
    content = answer.read()
    connection.close()
    return answer.status, content


def test_a_plan_draws_every_letter_where_the_rooms_put_it(served: Served) -> None:
    from applique.panel import place_rows

    drawing = served.client().post("/api/plan", json=DESIGN).json()["drawing"]
    panel = place_rows(design_from_mapping(DESIGN))
    letters = [item for item in drawing["picture"]["items"] if item["part"] == "letter"]
    cuts = [(row.number, cut) for row in panel.rows for cut in row.cuts]
    for letter, (row, cut) in zip(letters, cuts, strict=True):
        assert (letter["row"], letter["letter"]) == (row, cut.letters[0])
        assert letter["x"] == pytest.approx(cut.place.x)
        assert letter["y"] == pytest.approx(16 - cut.place.y)
        assert letter["shape"] in drawing["picture"]["shapes"]


def test_contrast_is_that_of_wcag(served: Served) -> None:
    """Black on white is 21 : 1 (WCAG 2.2, contrast ratio), and gray #767676 on white 4.54 : 1 (published widely)."""
    for color, ratio in (("#000000", 21.0), ("#767676", 4.54)):
        fabrics = [{"name": "A", "color": color}, {"name": "W", "color": "#ffffff"}]
        design = {**DESIGN, "fabric": fabrics, "panel": {**DESIGN["panel"], "fabric": "W"}}
        drawing = served.client().post("/api/plan", json=design).json()["drawing"]
        assert drawing["rows"][0]["contrast"] == pytest.approx(ratio, abs=0.01)


def test_what_does_not_fit_is_said_with_cures_that_work(served: Served) -> None:
    client = served.client()
    design = {**DESIGN, "lettering": {"font": "Fredoka", "cap_height": "12in"}}
    answer = client.post("/api/plan", json=design).json()
    assert answer["drawing"] is None
    cures = [cure for finding in answer["findings"] for cure in finding["cures"]]
    assert cures
    for cure in cures:
        assert client.post("/api/plan", json=cure["design"]).json()["drawing"] is not None


def test_an_unknown_letter_is_placed_and_cured_by_a_font_that_has_it(served: Served) -> None:
    client = served.client()
    design = {"row": [{"text": "OK"}, {"text": "Любовь"}], "lettering": {"font": "Lilita One"}}
    finding = client.post("/api/plan", json=design).json()["findings"][0]
    assert finding["where"] == {"path": ["row", 2], "letter": 1}
    cured = client.post("/api/plan", json=finding["cures"][0]["design"]).json()
    assert cured["drawing"] is not None


def test_moves_add_up_exactly_and_can_be_put_back(served: Served) -> None:
    client = served.client()
    design = DESIGN
    for _ in range(3):
        asked = {"design": design, "row": 2, "letter": 3, "right": "0.125in", "up": "-0.0625in"}
        design = client.post("/api/move", json=asked).json()["design"]
    assert design["row"][1]["nudge"] == [{"letter": 3, "right": "3/8in", "up": "-3/16in"}]
    back = client.post("/api/move", json={"design": design, "row": 2, "letter": 3, "back": True})
    assert "nudge" not in back.json()["design"]["row"][1]


def test_only_a_row_of_the_design_counts_as_one(served: Served, dejavu_bold: str) -> None:
    """A font file may be called “row 9.ttf”; that is no row."""
    client = served.client()
    far = {"design": DESIGN, "row": 2, "right": "99999in", "up": "0in"}
    (problem,) = client.post("/api/move", json=far).json()["problems"]
    assert problem["where"] == {"path": ["row", 2, "right"]}
    damaged = client.post(
        "/api/fonts", params={"name": "row 9.ttf"}, content=Path(dejavu_bold).read_bytes()[:5000]
    )
    (problem,) = damaged.json()["problems"]
    assert problem["where"] == {"file": "row 9.ttf"}


@pytest.mark.parametrize(
    ("units", "right", "up", "stored"),
    [
        ("in", "4.60818in", "-0.0312in", {"right": "4 19/32in", "up": "-1/32in"}),
        ("cm", "117.04mm", "-0.79mm", {"right": "11.7cm", "up": "-1mm"}),
    ],
)
def test_a_snapped_move_stored_fifty_thousandths_of_an_inch(
    served: Served, units: str, right: str, up: str, stored: dict[str, str]
) -> None:
    """What is stored is what was shown, in steps of 1/32 in or 0.5 mm; an axis that was not moved is left alone."""
    client = served.client()
    typed = {
        **DESIGN,
        "units": units,
        "row": [{"text": "HOME", "right": "1.003in", "up": "0.001in"}, {"text": "OAR"}],
    }
    asked = {"design": typed, "row": 2, "right": right, "up": up}
    row = client.post("/api/move", json=asked).json()["design"]["row"][1]
    assert (row["right"], row["up"]) == (stored["right"], stored["up"])
    letter = client.post("/api/move", json={**asked, "letter": 1}).json()["design"]["row"][1]["nudge"]
    assert letter == [{"letter": 1, **stored}]
    lifted = {"design": typed, "row": 1, "right": "0in", "up": "1in"}
    row = client.post("/api/move", json=lifted).json()["design"]["row"][0]
    assert row["right"] == "1 3/1000in"
    assert row["up"] == {"in": "1in", "cm": "2.55cm"}[units]


def test_a_design_goes_to_its_text_and_back(served: Served) -> None:
    client = served.client()
    text = client.post("/api/write", json=DESIGN).json()["text"]
    assert client.post("/api/read", json={"text": text}).json()["design"]["row"] == DESIGN["row"]
    braces = client.post("/api/read", json={"text": '[[row]]\ntext = "{{A}}"'}).json()["design"]
    assert braces["row"] == [{"text": "{A}"}]
    template = client.post("/api/read", json={"text": '[[row]]\ntext = "{name}"'}).json()
    assert "is a template" in template["problems"][0]["what"]
    wrong = client.post("/api/read", json={"text": "text = HOME"})
    assert wrong.status_code == 422
    assert "TOML" in wrong.json()["problems"][0]["what"]


def test_a_design_of_several_panels_is_refused_in_words(served: Served) -> None:
    """The page shows one panel; the file is opened and changed by nothing."""
    client = served.client()
    blocks = {"finish": "top only", "block": [{"name": "Oar", "row": [{"text": "OAR"}]}]}
    text = 'finish = "top only"\n[[block]]\nname = "Oar"\n[[block.row]]\ntext = "OAR"'
    (read,) = client.post("/api/read", json={"text": text}).json()["problems"]
    (planned,) = client.post("/api/plan", json=blocks).json()["findings"]
    for problem in (read, planned):
        assert "the page shows only one panel so far" in problem["what"]


@pytest.mark.long
def test_numbers_come_twice_and_the_second_is_settled(served: Served) -> None:
    said = events(served.client(), "/api/numbers", DESIGN)
    assert [name for name, _ in said] == ["numbers", "numbers", "done"]
    assert [data["settled"] for name, data in said if name == "numbers"] == [False, True]


@pytest.mark.long
def test_a_finding_has_its_place_on_the_quilt_and_cures_that_were_tried(served: Served) -> None:
    client = served.client()
    design = {**DESIGN, "row": [{"text": "Row"}], "lettering": {"font": "Pacifico", "cap_height": "1 1/2in"}}
    said = dict(events(client, "/api/numbers", design))
    drawing = client.post("/api/plan", json=design).json()["drawing"]
    placed = [finding for finding in said["findings"]["findings"] if finding["at"]]
    assert placed
    x0, y0, x1, y1 = drawing["rows"][0]["ink"]
    for finding in placed:
        assert x0 <= finding["at"][0] <= x1
        assert y0 <= finding["at"][1] <= y1
    cures = [cure for finding in placed for cure in finding["cures"]]
    assert cures
    assert client.post("/api/plan", json=cures[0]["design"]).json()["drawing"] is not None


@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "example.org"},
        {"Host": "example.org:{port}"},
        {"Host": "127.0.0.1:{port}", "Origin": "http://example.org"},
        {"Host": "127.0.0.1:{port}", "Origin": "null"},
        {"Host": "127.0.0.1:{port}", "Sec-Fetch-Site": "cross-site"},
        {},
    ],
)
@pytest.mark.parametrize(("method", "path"), [("GET", "/{token}/"), ("POST", "/api/hello")])
def test_other_pages_are_refused(served: Served, headers: dict[str, str], method: str, path: str) -> None:
    port = served.origin.rsplit(":", 1)[1]
    given = {name: value.format(port=port) for name, value in headers.items()}
    given |= {"x-applique-token": served.token, "Content-Length": "0"}
    status, content = raw(served, method, path.format(token=served.token), given)
    assert status in (400, 403)
    assert b"Traceback" not in content


@pytest.mark.parametrize("token", [None, "", "guess", "é"])
def test_without_the_token_nothing_is_answered(served: Served, token: str | None) -> None:
    headers = {} if token is None else {b"x-applique-token": token.encode("utf-8")}
    asked = (
        ("POST", "/api/hello"),
        ("GET", "/api/openapi.json"),
        ("GET", "/api/fonts"),
        ("GET", "/"),
        ("GET", "/static/app.js"),
        ("GET", f"/{token or 'none'}/static/app.js"),
    )
    with httpx.Client(base_url=served.origin, headers=headers) as client:
        for method, path in asked:
            assert client.request(method, path).status_code == 403


def test_a_websocket_went_past_the_guard_where_a_library_for_it_was_installed(served: Served) -> None:
    """The page has none (RFC 6455, 4.1: how one is asked for): the question is answered like any other."""
    upgrade = {
        "connection": "Upgrade",
        "upgrade": "websocket",
        "sec-websocket-version": "13",
        "sec-websocket-key": "dGhlIHNhbXBsZSBub25jZQ==",
    }
    without_key = {**upgrade, "x-applique-token": ""}
    answer = served.client().get("/api/quilts", headers=without_key)
    assert (answer.status_code, answer.json()["problems"][0]["what"]) == (
        403,
        "the key of this page is missing",
    )
    assert "default-src 'none'" in answer.headers["content-security-policy"]


@pytest.mark.parametrize(
    "path",
    [
        "/{token}/static/../app.py",
        "/{token}/static/%2e%2e/app.py",
        "/{token}/static/..%2fapp.py",
        "/{token}/static//etc/passwd",
        "/{token}/lettering/..%2f..%2fpyproject.toml",
        "/api/made/x/file/..%2f..%2fetc/passwd",
        "/api/made/x/page/1//etc/passwd",
        "/api/made/../../etc/passwd",
    ],
)
def test_path_tricks_find_no_file(served: Served, path: str) -> None:
    client = served.client()
    headers = {
        "Host": served.origin.removeprefix("http://"),
        "x-applique-token": served.token,
        "x-applique-tab": client.headers["x-applique-tab"],
    }
    status, content = raw(served, "GET", path.format(token=served.token), headers)
    assert status in (400, 403, 404)
    assert b"root:" not in content
    assert b"import" not in content


@pytest.mark.parametrize(
    "font",
    [
        "/etc/passwd",
        "../../fonts/rubik/Rubik[wght].ttf",
        "Other.ttf",
        "C:\\Windows\\Fonts\\arial.ttf",
        "/dev/zero",
        "~/font.otf",
    ],
)
def test_a_design_opens_no_font_of_the_machine(served: Served, font: str) -> None:
    client = served.client()
    for design in (
        {**DESIGN, "lettering": {"font": font}},
        {**DESIGN, "row": [{"text": "A", "font": font}]},
    ):
        findings = client.post("/api/plan", json=design).json()["findings"]
        assert findings[0]["stops"]
        assert "is not on this page" in findings[0]["what"]
        for path in ("/api/numbers", "/api/make", "/api/write"):
            if path != "/api/write":
                assert client.post(path, json=design).status_code == 422
        assert client.post("/api/sample", json={"font": font, "words": "A"}).status_code == 422


def test_a_font_of_ones_own_serves_its_page_and_no_other(served: Served, dejavu_bold: str) -> None:
    client, other = served.client(), served.client()
    content = Path(dejavu_bold).read_bytes()
    name = client.post("/api/fonts", params={"name": "../../my font.ttf"}, content=content).json()["font"]
    assert name == "my font.ttf"
    design = {**DESIGN, "lettering": {"font": name}}
    answer = client.post("/api/plan", json=design).json()
    assert answer["drawing"]["design"]["lettering"]["font"] == name
    assert other.post("/api/plan", json=design).json()["drawing"] is None
    made = dict(events(client, "/api/make", design))["done"]
    text = client.get(f"/api/made/{made['made']}/file/design.toml").text
    assert 'font = "my font.ttf"' in text
    assert f"# Its SHA-256 is {hashlib.sha256(content).hexdigest()}" in text
    assert client.post("/api/write", json=design).json()["text"] == text
    summary = client.get(f"/api/made/{made['made']}/file/summary.md").text
    assert "- my font.ttf, SHA-256" in summary
    assert other.get(f"/api/made/{made['made']}/file/design.toml").status_code == 404


def test_a_damaged_font_is_refused(served: Served, dejavu_bold: str) -> None:
    client = served.client()
    content = Path(dejavu_bold).read_bytes()
    for name, damaged in (
        ("cut.ttf", content[:4000]),
        ("noise.ttf", bytes(range(256)) * 40),
        ("empty.otf", b""),
        ("page.ttf", b"<html>"),
        ("words.txt", content),
        ("", content),
    ):
        answer = client.post("/api/fonts", params={"name": name}, content=damaged)
        assert answer.status_code == 422, name
        assert answer.json()["problems"][0]["what"]
    assert not [font for font in client.get("/api/fonts").json()["fonts"] if font["own"]]


def test_a_too_large_upload_is_refused_before_it_is_read(served: Served) -> None:
    """By its header alone, and while it streams: the server answers although most was never sent."""
    headers = {
        "Host": served.origin.removeprefix("http://"),
        "x-applique-token": served.token,
        "x-applique-tab": served.client().headers["x-applique-tab"],
        "Content-Length": str(10**12),
    }
    status, _ = raw(served, "POST", "/api/fonts?name=a.ttf", headers)
    assert status == 413
    sent = 0

    def endless() -> Any:
        nonlocal sent
        for _ in range(2_000):
            sent += 1_000_000
            yield b"\0" * 1_000_000

    client = served.client()
    with contextlib.suppress(httpx.TransportError):
        assert client.post("/api/fonts", params={"name": "a.ttf"}, content=endless()).status_code == 413
    assert sent < 200_000_000
    assert client.post("/api/plan", json=DESIGN).json()["drawing"] is not None


def test_who_still_sends_too_much_hears_why_it_is_refused(served: Served) -> None:
    """A connection that is closed while somebody sends is reset, and its answer can be lost (RFC 9112, 9.6)."""
    head = {
        "host": served.origin.removeprefix("http://"),
        "x-applique-token": served.token,
        "x-applique-tab": served.client().headers["x-applique-tab"],
        "content-length": "20000000",
    }
    lines = ["POST /api/plan HTTP/1.1", *(f"{name}: {value}" for name, value in head.items()), "", ""]
    port = int(served.origin.rsplit(":", 1)[1])
    with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE) as asking:
        asking.sendall("\r\n".join(lines).encode())
        said = b""
        while b"it is larger than 1 MB" not in said:
            part = asking.recv(10_000)
            assert part, said
            said += part
        for _ in range(20):
            asking.sendall(b" " * 1_000_000)
    assert said.startswith(b"HTTP/1.1 413 ")


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"[]",
        b"{",
        b"\xff\xfe",
        b'"x"',
        b'{"row": NaN}',
        b"[" * 100_000,
        b'{"row": [{"text": "A"}], "panel": 3}',
        b'{"row": {"text": "A"}}',
        b'{"row": [{"text": "A", "axes": {"wght": 1e999}}]}',
        b'{"row": [{"text": "\\ud800"}]}',
        b'{"row": [{"text": "A", "font": 3}]}',
        json.dumps({"row": [{"text": "A" * 1_900} for _ in range(5)]}).encode(),
    ],
)
def test_what_is_no_design_is_said_in_words(served: Served, body: bytes) -> None:
    client = served.client()
    for path in ("/api/plan", "/api/numbers", "/api/move", "/api/write", "/api/sample", "/api/read"):
        answer = client.post(path, content=body)
        assert answer.status_code in (200, 422), (path, answer.text)
        if answer.headers["content-type"].startswith("text/event-stream"):
            assert "event: refused" in answer.text
            continue
        said = answer.json()
        problems = said.get("problems") or said.get("findings") or ()
        assert all(problem["what"] for problem in problems)
        if answer.status_code == 422:
            assert problems
    assert client.post("/api/plan", json=DESIGN).json()["drawing"] is not None


def test_fifty_at_once_are_all_answered(served: Served) -> None:
    def ask(number: int) -> int:
        client = served.client()
        design = {**DESIGN, "row": [{"text": f"ROW {number}"}]}
        answer = client.post("/api/plan", json=design).json()
        assert answer["drawing"]["rows"][0]["text"] == f"ROW {number}"
        return number

    with ThreadPoolExecutor(50) as pool:
        assert sorted(pool.map(ask, range(50))) == list(range(50))


def test_hanging_up_stops_the_making(served: Served) -> None:
    """The bench holds two tasks; were the four abandoned ones still running, the last would wait for them."""
    client = served.client()
    words = [{"text": "THE RIVER HAS TIME " * 5}] * 30
    long = {"row": words, "panel": {"width": "90in", "height": "90in"}, "lettering": {"font": "Pacifico"}}
    for number in range(4):
        with client.stream("POST", "/api/make", json={**long, "title": str(number)}) as answer:
            next(answer.iter_text())
    done = threading.Event()

    def last() -> None:
        events(served.client(), "/api/make", {"row": [{"text": "I"}]})
        done.set()

    threading.Thread(target=last, daemon=True).start()
    assert done.wait(PATIENCE)


@pytest.mark.long
def test_the_server_stops_with_its_last_page(start_page: type[Running], tmp_path: Path) -> None:
    server = start_page(tmp_path, "--until-closed")
    with server as page:
        page.client().post("/api/goodbye")
        assert server.process.wait(PATIENCE) == 0


@pytest.mark.long
def test_a_design_file_with_a_font_of_its_own_is_served_without_its_path(
    start_page: type[Running], tmp_path: Path, dejavu_bold: str
) -> None:
    (tmp_path / "mine.ttf").write_bytes(Path(dejavu_bold).read_bytes())
    file = tmp_path / "boats.toml"
    file.write_text('lettering = { font = "mine.ttf" }\nrow = [{ text = "OAR" }]\n', encoding="utf-8")
    with start_page(tmp_path, str(file)) as page:
        client = page.client()
        start = client.post("/api/hello").json()
        assert start["name"] == "boats.toml"
        assert start["design"]["lettering"]["font"] == "mine.ttf"
        assert client.post("/api/plan", json=start["design"]).json()["drawing"] is not None


@pytest.mark.long
@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM])
def test_it_stops_quietly_and_leaves_nothing_behind(
    start_page: type[Running], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stop: signal.Signals
) -> None:
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setenv("TMPDIR", str(temporary))
    server = start_page(tmp_path)
    with server as page:
        page.client().post("/api/plan", json=DESIGN)
        assert list(temporary.glob("applique-page-*"))
        server.process.send_signal(stop)
        assert server.process.wait(PATIENCE) == 0
    assert not list(temporary.glob("applique-page-*"))


TOLD_TO_END = """
import os, signal, sys
from applique.__main__ import run

stop = getattr(signal, sys.argv.pop())

class Dropped:
    def __del__(self):  # what is raised here is lost, as in what Python calls back while it loads a module
        os.kill(os.getpid(), stop)

import applique.web.serving as serving
served = serving.uvicorn.Server.run
def first_told(self, sockets):
    Dropped()
    return served(self, sockets)
serving.uvicorn.Server.run = first_told
sys.exit(run())
"""


@pytest.mark.parametrize("stop", ["SIGINT", "SIGTERM"])
def test_it_ran_on_when_it_was_told_to_end_before_it_had_begun(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stop: str
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    command = [sys.executable, "-c", TOLD_TO_END, "serve", "--no-browser", stop]
    assert subprocess.run(command, timeout=PATIENCE, capture_output=True, check=False).returncode == 0


def test_openapi_describes_every_answer_with_the_model_of_the_file(served: Served) -> None:
    from applique.design import design_schema

    document = served.client().get("/api/openapi.json").json()
    assert document["openapi"].startswith("3.1")
    schemas = document["components"]["schemas"]
    assert set(design_schema()["$defs"]) | {"Design"} == set(schemas)
    text = json.dumps(document).replace("#/components/schemas/", "#/$defs/")
    schema = {"$ref": "#/$defs/Design", "$defs": json.loads(text)["components"]["schemas"]}
    jsonschema.Draft202012Validator(schema).validate(DESIGN)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(schema).validate({**DESIGN, "color": "red"})


def test_the_page_makes_a_design_with_the_nests_that_lie_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever opens the design of a pattern's folder makes the same again."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "empty"))
    monkeypatch.setitem(strips._SECONDS, Effort.NORMAL, 0.1)
    design = {"row": [{"text": "OH"}], "lettering": {"cap_height": "2in"}}
    found = draft(design_from_mapping(design), nester=Nester(effort=Effort.NORMAL))
    tab = Tabs(tmp_path, fonts={}, nests=found.searched, marks={}, photos={}).new()
    monkeypatch.setattr(strips, "search_strips", lambda *_, **__: pytest.fail("searched again"))
    _, files = MakeTask(start=design_from_mapping(design), folder=tab.folder, effort=Effort.NORMAL).run(
        lambda _: None
    )
    assert files == pack_files(found)


KEY = "quilt22kept33abc"


def kept(*words: str, rests_on: int = 0, **more: Any) -> dict[str, Any]:
    return {"rests_on": rests_on, "design": {"row": [{"text": text} for text in words]}, **more}


def new_key() -> str:
    return secrets.token_hex(8)


def test_a_quilt_is_kept_listed_read_and_put_into_the_trash(served: Served) -> None:
    client, key = served.client(), new_key()
    steps: dict[str, Any] = {"done": ['{"row":[{"text":"O"}]}'], "undone": [], "by": "one page"}
    assert client.put(f"/api/quilts/{key}", json=kept("OAR", **steps)).json() == {"revision": 1}
    assert client.put(f"/api/quilts/{key}", json=kept("OARS", rests_on=1)).json() == {"revision": 2}
    other = served.client()
    assert other.get(f"/api/quilts/{key}").json() == {
        "revision": 2,
        "design": {"row": [{"text": "OARS"}]},
        "done": [],
        "undone": [],
        "by": "",
    }
    late = other.put(f"/api/quilts/{key}", json=kept("OAK", rests_on=1))
    assert late.status_code == 412
    assert "another window" in late.json()["problems"][0]["what"]
    listed = {one["quilt"]: one for one in client.get("/api/quilts").json()["quilts"]}
    assert (listed[key]["title"], listed[key]["problems"]) == ("OARS", [])
    folder = Path(client.get("/api/quilts").json()["folder"])
    trash = Path(client.request("DELETE", f"/api/quilts/{key}").json()["folder"])
    assert trash.is_relative_to(folder)
    assert 'text = "OARS"' in (trash / "design.toml").read_text("utf-8")
    assert client.get(f"/api/quilts/{key}").status_code == 422
    assert key not in {one["quilt"] for one in client.get("/api/quilts").json()["quilts"]}


def test_a_kept_quilt_brings_its_fonts_to_another_page(served: Served, dejavu_bold: str) -> None:
    client, other, key = served.client(), served.client(), new_key()
    content = Path(dejavu_bold).read_bytes()
    name = client.post("/api/fonts", params={"name": "mine.ttf"}, content=content).json()["font"]
    design = {**DESIGN, "lettering": {"font": name}}
    assert client.put(f"/api/quilts/{key}", json={"rests_on": 0, "design": design}).status_code == 200
    assert other.post("/api/plan", json=design).json()["drawing"] is None
    other.post("/api/hello", params={"quilt": key})
    assert other.post("/api/plan", json=design).json()["drawing"] is not None
    third = served.client()
    assert third.get(f"/api/quilts/{key}/files/{name}").content == content
    picture = third.get(f"/api/quilts/{key}/picture")
    assert picture.headers["content-type"].startswith("image/svg+xml")
    # Six letters and the panel; in a font that is not this one their outlines would differ.
    plain = new_key()
    third.put(f"/api/quilts/{plain}", json={"rests_on": 0, "design": DESIGN})
    assert third.get(f"/api/quilts/{plain}/picture").content != picture.content
    folder = Path(client.get("/api/quilts").json()["folder"]) / key
    from applique.design import read_design

    assert read_design(folder / "design.toml").lettering.font == str(folder / name)


def test_fonts_of_one_name_are_those_of_the_quilt_in_sight(
    served: Served, dejavu_bold: str, dejavu: str
) -> None:
    """The window that showed one quilt goes on to another, whose font of the same name is another file."""
    design = {**DESIGN, "lettering": {"font": "mine.ttf"}}
    drawn = []
    keys = (new_key(), new_key())
    for key, path in zip(keys, (dejavu_bold, dejavu), strict=True):
        client = served.client()
        client.post("/api/fonts", params={"name": "mine.ttf"}, content=Path(path).read_bytes())
        client.post("/api/fonts", params={"name": "not used.ttf"}, content=Path(path).read_bytes())
        client.put(f"/api/quilts/{key}", json={"rests_on": 0, "design": design})
        drawn.append(client.post("/api/plan", json=design).json()["drawing"]["picture"]["shapes"])
        assert client.get(f"/api/quilts/{key}/files/not used.ttf").status_code == 404
    assert drawn[0] != drawn[1]
    window = served.client()
    for key, shapes in zip((*keys, keys[0]), (*drawn, drawn[0]), strict=True):
        window.headers["x-applique-tab"] = window.post("/api/hello", params={"quilt": key}).json()["tab"]
        assert window.post("/api/plan", json=design).json()["drawing"]["picture"]["shapes"] == shapes
    window.headers["x-applique-tab"] = window.post("/api/hello").json()["tab"]
    assert window.post("/api/plan", json=design).json()["drawing"] is None


def test_photos_have_a_place_beside_their_quilt_and_nothing_else_has(served: Served) -> None:
    client, key = served.client(), new_key()
    assert client.put(f"/api/quilts/{key}/files/cloth.jpg", content=b"x").status_code == 422
    client.put(f"/api/quilts/{key}", json=kept("OAR"))
    assert client.put(f"/api/quilts/{key}/files/cloth.jpg", content=b"photo").json() == {"name": "cloth.jpg"}
    answer = client.get(f"/api/quilts/{key}/files/cloth.jpg")
    assert answer.content == b"photo"
    assert answer.headers["content-type"] == "application/octet-stream"
    for name in (
        "history.json",
        "design.toml",
        "none.jpg",
        ".lock",
        "%2e%2e%2fpage.json",
        "..%2f..%2fpage.json",
    ):
        assert client.get(f"/api/quilts/{key}/files/{name}").status_code in (404, 405, 422), name
    for name in ("history.json", "design.toml", "page.html", ".x.png", "a%2fb.png"):
        assert client.put(f"/api/quilts/{key}/files/{name}", content=b"x").status_code in (404, 422), name
    headers = {
        "Host": served.origin.removeprefix("http://"),
        "x-applique-token": served.token,
        "Content-Length": "41000000",
    }
    assert raw(served, "PUT", f"/api/quilts/{key}/files/large.jpg", headers)[0] == 413


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"[]",
        b'{"rests_on": 0}',
        b'{"rests_on": 0, "design": {"row": []}}',
        b'{"rests_on": 0, "design": {"row": [{"text": 3}]}}',
        b'{"rests_on": 0, "design": {"row": [{"text": "A"}]}, "done": ["{"]}',
        b'{"rests_on": 0, "design": {"row": [{"text": "A"}]}, "done": [3]}',
        b'{"rests_on": 0, "design": {"row": [{"text": "A"}]}, "by": 3}',
        b'{"rests_on": 0, "design": {"row": [{"text": "A"}]}, "undone": "{}"}',
        b'{"rests_on": 0, "design": {"row": [{"text": "A", "deep": ' + b"[" * 900 + b"]" * 900 + b"}]}}",
    ],
)
def test_what_is_no_quilt_is_not_kept(served: Served, body: bytes) -> None:
    client, key = served.client(), new_key()
    answer = client.put(f"/api/quilts/{key}", content=body)
    assert answer.status_code == 422
    assert answer.json()["problems"][0]["what"]
    assert key not in {one["quilt"] for one in client.get("/api/quilts").json()["quilts"]}


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/api/quilts"),
        ("GET", f"/api/quilts/{KEY}"),
        ("PUT", f"/api/quilts/{KEY}"),
        ("DELETE", f"/api/quilts/{KEY}"),
        ("GET", f"/api/quilts/{KEY}/picture"),
        ("GET", f"/api/quilts/{KEY}/files/a.png"),
        ("PUT", f"/api/quilts/{KEY}/files/a.png"),
        ("GET", "/api/samples/boathouse"),
    ],
)
def test_kept_quilts_are_shown_to_the_page_alone(served: Served, method: str, path: str) -> None:
    """Without its token, under another name of the host, and from the page of another site."""
    body = json.dumps(kept("STRANGER")).encode()
    host = served.origin.removeprefix("http://")
    own = {"Host": host, "x-applique-token": served.token}
    for headers in (
        {**own, "x-applique-token": "guess"},
        {**own, "Host": "example.org"},
        {**own, "Origin": "http://example.org"},
        {**own, "Sec-Fetch-Site": "cross-site"},
    ):
        status, _ = raw(served, method, path, {**headers, "Content-Length": str(len(body))}, body)
        assert status == 403
    assert KEY not in served.client().get("/api/quilts").text


@pytest.mark.parametrize("key", ["..", "%2e%2e", "..%2f..%2fetc", "A" * 16, "trash", "%00" * 16])
def test_no_key_leads_out_of_the_chest(served: Served, key: str) -> None:
    headers = {
        "Host": served.origin.removeprefix("http://"),
        "x-applique-token": served.token,
        "x-applique-tab": served.client().headers["x-applique-tab"],
        "Content-Length": "0",
    }
    asked = (
        ("GET", ""),
        ("DELETE", ""),
        ("GET", "/picture"),
        ("GET", "/files/passwd"),
        ("GET", "/files/page.json"),
    )
    for method, rest in asked:
        status, content = raw(served, method, f"/api/quilts/{key}{rest}", headers)
        assert status in (400, 403, 404, 405, 422), (method, rest)
        assert b"root:" not in content


def test_a_new_quilt_can_begin_with_a_sample(served: Served) -> None:
    client = served.client()
    samples = client.get("/api/samples").json()["samples"]
    assert len(samples) >= 3
    for one in samples:
        design = client.get(f"/api/samples/{one['sample']}").json()["design"]
        assert design["title"] == one["title"]
        assert client.post("/api/plan", json=design).json()["drawing"] is not None
        assert client.get(f"/api/samples/{one['sample']}/picture").text.startswith("<?xml")
    assert client.get("/api/samples/none").status_code == 404
    assert client.get("/api/samples/none/picture").status_code == 404


@pytest.mark.long
def test_the_address_stays_from_run_to_run_and_is_another_beside_a_running_one(
    start_page: type[Running], tmp_path: Path
) -> None:
    with start_page(tmp_path) as first:
        with start_page(tmp_path) as beside:
            assert beside.origin != first.origin
            assert beside.token != first.token
        client = first.client()
        client.put(f"/api/quilts/{KEY}", json=kept("OAR"))
    with start_page(tmp_path) as again:
        assert again.start == first.start
        assert again.client().get(f"/api/quilts/{KEY}").json()["design"] == kept("OAR")["design"]
    port = int(first.origin.rsplit(":", 1)[1])
    with contextlib.closing(socket.create_server(("127.0.0.1", port))), start_page(tmp_path) as moved:
        assert moved.token != first.token
    with start_page(tmp_path) as stays:
        assert stays.start == moved.start
