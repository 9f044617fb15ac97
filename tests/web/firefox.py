"""Firefox as it is installed, told what to do through WebDriver BiDi (W3C), which it speaks by itself over a websocket.

The browser of the other tests is Chromium, driven by playwright; that drives no Firefox but a build of its own.
"""

from __future__ import annotations

import itertools
import json
import subprocess
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from websockets.sync.client import ClientConnection, connect

from tests.web.patience import PATIENCE

PREFERENCES = {
    "app.normandy.enabled": False,
    "app.update.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "browser.startup.page": 0,
    "datareporting.policy.dataSubmissionEnabled": False,
    "dom.w3c_touch_events.enabled": 1,
    "extensions.update.enabled": False,
    "intl.accept_languages": "en-US",
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "http://127.0.0.1:9/",
    "toolkit.telemetry.enabled": False,
    "ui.systemUsesDarkTheme": 0,
}
KEYS = {
    "Alt": "\ue00a",
    "ArrowDown": "\ue015",
    "ArrowLeft": "\ue012",
    "ArrowRight": "\ue014",
    "ArrowUp": "\ue013",
    "Backspace": "\ue003",
    "Control": "\ue009",
    "End": "\ue010",
    "Enter": "\ue007",
    "Escape": "\ue00c",
    "PageDown": "\ue00f",
    "Shift": "\ue008",
    "Tab": "\ue004",
}
"""The signs that stand for keys without one (WebDriver, 17.4.2)."""
STEP_MS = 30
"""How long a pointer takes for each part of its way."""


class FirefoxError(Exception):
    """What Firefox answered to a command that it could not carry out."""


@contextmanager
def running(program: str, profile: Path) -> Iterator[Firefox]:
    """A Firefox without a window of its own, with a new profile in that folder, as long as the context lasts."""
    lines = [f"user_pref({json.dumps(name)}, {json.dumps(value)});" for name, value in PREFERENCES.items()]
    (profile / "user.js").write_text("\n".join(lines), encoding="utf-8")
    command = [program, "--headless", "--no-remote", "--profile", str(profile), "--remote-debugging-port=0"]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
        try:
            # No pings: their thread draws from Python's own chance beside property tests that must be alone with it.
            with connect(f"{_address(profile)}/session", max_size=None, ping_interval=None) as socket:
                firefox = Firefox(socket)
                prompts = {"unhandledPromptBehavior": {"default": "accept"}}
                firefox.ask("session.new", capabilities={"alwaysMatch": prompts})
                firefox.ask("session.subscribe", events=["log.entryAdded"])
                yield firefox
        finally:
            process.terminate()


def _address(profile: Path) -> str:
    """Where Firefox listens, as it leaves word in its profile."""
    word = profile / "WebDriverBiDiServer.json"
    for _ in range(PATIENCE * 20):
        with suppress(FileNotFoundError, json.JSONDecodeError):
            place = json.loads(word.read_text(encoding="utf-8"))
            return f"ws://{place['ws_host']}:{place['ws_port']}"
        time.sleep(0.05)
    raise FirefoxError("Firefox did not say where it listens")


class Firefox:
    """A Firefox that runs, and what its pages said, by their contexts."""

    def __init__(self, socket: ClientConnection) -> None:
        self._socket = socket
        self._numbers = itertools.count(1)
        self.said: dict[str, list[str]] = {}

    def ask(self, method: str, **params: Any) -> dict[str, Any]:
        """The answer to a command of the protocol; what pages say until then is noted."""
        number = next(self._numbers)
        self._socket.send(json.dumps({"id": number, "method": method, "params": params}))
        while True:
            message = json.loads(self._socket.recv(timeout=2 * PATIENCE))
            if message["type"] == "event":
                self._note(message["params"])
            elif message["id"] == number:
                if message["type"] == "error":
                    raise FirefoxError(f"{method}: {message['error']}: {message['message']}")
                return dict(message["result"])

    def _note(self, entry: dict[str, Any]) -> None:
        context = entry["source"].get("context", "")
        self.said.setdefault(context, []).append(f"{entry['level']}: {entry['text']}")

    @contextmanager
    def page(self, address: str, *, width: int = 1280, height: int = 800) -> Iterator[Page]:
        """A page at that address whose cookies and stores no other page shares; it is gone afterwards."""
        user = self.ask("browser.createUserContext")["userContext"]
        page = self.another(user, address, width=width, height=height)
        yield page
        self.ask("browser.removeUserContext", userContext=user)

    def another(self, user: str, address: str, *, width: int, height: int) -> Page:
        """A page that shares its stores with the others of `user`."""
        context = self.ask("browsingContext.create", type="window", userContext=user)["context"]
        viewport = {"width": width, "height": height}
        self.ask("browsingContext.setViewport", context=context, viewport=viewport)
        page = Page(firefox=self, context=context)
        page.go(address)
        return page


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """An element of a page."""

    page: Page
    locator: dict[str, Any]

    @property
    def reference(self) -> dict[str, str]:
        """The element that is there now; pages draw parts of themselves anew."""
        return {"sharedId": self.page.located(self.locator)}

    def ask(self, function: str) -> Any:
        """What a JavaScript function of the element says."""
        return self.page.call(function, [self.reference])

    def click(self) -> None:
        """Click it as soon as it is in sight; a page that draws it anew meanwhile is asked for it again."""
        for _ in range(PATIENCE * 10):
            try:
                self.page.point("mouse", [(self, 0, 0)])
            except FirefoxError as error:
                if "is not displayed" not in str(error):
                    raise
            else:
                return
            self.page.evaluate("() => new Promise(resolve => setTimeout(resolve, 100))")
        raise FirefoxError(f"{self.locator} is never in sight")

    def fill(self, text: str) -> None:
        """Type `text` in the place of what is there."""
        self.click()
        self.page.keys("Control", "a")
        self.page.type(text)

    def press(self, *keys: str) -> None:
        """Press keys, each held until the last has been pressed."""
        self.ask("node => node.focus()")
        self.page.keys(*keys)

    def choose(self, label: str) -> None:
        """Choose the option that is called so, as a browser tells it to a page."""
        text = json.dumps(label)
        self.ask(
            f"""node => {{
              node.value = [...node.options].find(option => option.text.trim() === {text}).value;
              node.dispatchEvent(new Event("input", {{ bubbles: true }}));
              node.dispatchEvent(new Event("change", {{ bubbles: true }}));
            }}"""
        )

    def drag(self, right: int, down: int, *, by: str = "mouse") -> None:
        """Take hold of its middle, and let it go so many pixels further; `by` is "mouse" or "touch"."""
        self.middle()
        way = [(self, round(right * part / 6), round(down * part / 6)) for part in range(7)]
        self.page.point(by, way)

    def middle(self) -> tuple[float, float]:
        """Where its middle is in the window, after it has been brought into sight."""
        x, y = self.ask(
            """node => {
              node.scrollIntoView({ block: "nearest", inline: "nearest", behavior: "instant" });
              const { left, top, width, height } = node.getBoundingClientRect();
              return [left + width / 2, top + height / 2];
            }"""
        )
        return x, y


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A page in Firefox. Functions are JavaScript; they are given, and say, what JSON can hold."""

    firefox: Firefox
    context: str

    def go(self, address: str) -> None:
        self.firefox.ask("browsingContext.navigate", context=self.context, url=address, wait="complete")

    def reload(self) -> None:
        self.firefox.ask("browsingContext.reload", context=self.context, wait="complete")

    def evaluate(self, function: str, *arguments: Any) -> Any:
        return self.call(function, [{"type": "string", "value": json.dumps(one)} for one in arguments])

    def call(self, function: str, arguments: Sequence[dict[str, str]]) -> Any:
        answer = self.firefox.ask(
            "script.callFunction",
            functionDeclaration=f"""async (...given) => JSON.stringify(await ({function})(
              ...given.map(one => typeof one === "string" ? JSON.parse(one) : one)) ?? null)""",
            target={"context": self.context},
            arguments=list(arguments),
            awaitPromise=True,
        )
        if answer["type"] == "exception":
            raise FirefoxError(answer["exceptionDetails"]["text"])
        return json.loads(answer["result"]["value"])

    def until(self, function: str, *arguments: Any) -> Any:
        """What the function says as soon as that is true."""
        found = self.evaluate(
            f"""async (...given) => {{
              const end = performance.now() + {PATIENCE * 1000};
              for (;;) {{
                const found = await ({function})(...given);
                if (found || performance.now() > end) return found;
                await new Promise(resolve => setTimeout(resolve, 40));
              }}
            }}""",
            *arguments,
        )
        assert found, function
        return found

    def css(self, selector: str) -> Node:
        """The first element of that selector, as soon as there is one in sight or not."""
        self.until("selector => document.querySelector(selector) !== null", selector)
        return Node(page=self, locator={"type": "css", "value": selector})

    def named(self, role: str, name: str) -> Node:
        """The element that a screen reader calls so, as soon as there is one."""
        node = Node(page=self, locator={"type": "accessibility", "value": {"role": role, "name": name}})
        self.located(node.locator)
        return node

    def located(self, locator: dict[str, Any]) -> str:
        """The first element that the locator finds, as soon as there is one."""
        for _ in range(PATIENCE * 10):
            if nodes := self.firefox.ask(
                "browsingContext.locateNodes", context=self.context, locator=locator, maxNodeCount=1
            )["nodes"]:
                return str(nodes[0]["sharedId"])
            self.evaluate("() => new Promise(resolve => setTimeout(resolve, 100))")
        raise FirefoxError(f"nothing is found by {locator}")

    def type(self, text: str) -> None:
        """Type into what has the keyboard."""
        strokes = [{"type": kind, "value": sign} for sign in text for kind in ("keyDown", "keyUp")]
        self._act({"type": "key", "id": "keyboard", "actions": strokes})

    def keys(self, *keys: str) -> None:
        """Press keys, each held until the last has been pressed."""
        values = [KEYS.get(key, key) for key in keys]
        strokes = [{"type": "keyDown", "value": value} for value in values]
        strokes += [{"type": "keyUp", "value": value} for value in reversed(values)]
        self._act({"type": "key", "id": "keyboard", "actions": strokes})

    def point(self, by: str, way: Sequence[tuple[Node, int, int]], *, step_ms: int = STEP_MS) -> None:
        """Press at the first place of the way, which are pixels from the middle of a node, and let go at the last."""
        (node, x, y), *further = way
        origin = {"type": "element", "element": node.reference}
        left, top = (round(place) for place in node.middle())
        steps: list[dict[str, Any]] = [{"type": "pointerMove", "x": x, "y": y, "origin": origin}]
        steps.append({"type": "pointerDown", "button": 0})
        steps += [
            {"type": "pointerMove", "x": left + x, "y": top + y, "duration": step_ms} for _, x, y in further
        ]
        steps.append({"type": "pointerUp", "button": 0})
        parameters = {"pointerType": by}
        self._act({"type": "pointer", "id": by, "parameters": parameters, "actions": steps})

    def _act(self, source: dict[str, Any]) -> None:
        self.firefox.ask("input.performActions", context=self.context, actions=[source])

    def axe(self) -> list[str]:
        """What axe-core finds serious by the rules of WCAG 2.x A and AA, with the markup it is about."""
        self.call(f"async () => {{ {AXE_SCRIPT} }}", [])
        found = self.evaluate(
            """async rules => (await axe.run({ runOnly: rules })).violations
              .filter(({ impact }) => ["serious", "critical"].includes(impact))
              .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(" ")}`)""",
            ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"],
        )
        return [str(one) for one in found]

    def errors(self) -> list[str]:
        """What its console said of errors, in the page or its scripts, until now."""
        self.evaluate("() => null")
        return [text for text in self.firefox.said.get(self.context, []) if text.startswith("error")]
