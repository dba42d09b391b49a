"""A real browser, Chromium, without a screen: pages opened, clicked and typed into as a person does.

It is driven over two pipes by the DevTools protocol, in which each message is JSON that ends with a NUL.
"""

import base64
import json
import os
import select
import subprocess
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Self

_OPTIONS = (
    "--headless",
    "--no-sandbox",  # tests may run as root
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--remote-debugging-pipe",
    "about:blank",
)
_SECONDS = 60


@dataclass(slots=True, kw_only=True)
class Page:
    """One page of the browser."""

    to_browser: int
    from_browser: int
    session: str = ""
    sent: int = 0
    left: bytes = b""
    events: list[dict[str, Any]] = field(default_factory=list)

    def call(self, method: str, **parameters: object) -> dict[str, Any]:
        """Have the browser do something; events that come meanwhile are noted."""
        self.sent += 1
        message = {"id": self.sent, "method": method, "params": parameters}
        if self.session:
            message["sessionId"] = self.session
        os.write(self.to_browser, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._next()
            if answer.get("id") == self.sent:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                result: dict[str, Any] = answer["result"]
                return result
            self.events.append(answer)

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self.left:
            ready, _, _ = select.select([self.from_browser], [], [], _SECONDS)
            more = os.read(self.from_browser, 1 << 16) if ready else b""
            if not more:
                raise RuntimeError("the browser has ended" if ready else "the browser does not answer")
            self.left += more
        message, _, self.left = self.left.partition(b"\0")
        found: dict[str, Any] = json.loads(message)
        return found

    def wait_for(self, method: str) -> None:
        """Wait for an event that has not been waited for."""
        while not any(event.get("method") == method for event in self.events):
            self.events.append(self._next())
        self.events = [event for event in self.events if event.get("method") != method]

    def attach(self) -> Self:
        """Begin to work with the page that is open."""
        targets = self.call("Target.getTargets")["targetInfos"]
        target = next(one["targetId"] for one in targets if one["type"] == "page")
        self.session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Network", "Log", "Runtime"):
            self.call(f"{domain}.enable")
        return self

    def size(self, width: int, height: int, *, dark: bool = False, paper: bool = False) -> None:
        """Set the screen in CSS pixels, a phone's below 500, and what its owner prefers."""
        phone = {"deviceScaleFactor": 1, "mobile": width < 500}
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height, **phone)
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.call("Emulation.setEmulatedMedia", media="print" if paper else "", features=[scheme])

    def open(self, address: str | Path) -> None:
        """Open a file, or an address, and wait until it is loaded."""
        url = address.resolve().as_uri() if isinstance(address, Path) else address
        self.call("Page.navigate", url=url)
        self.wait_for("Page.loadEventFired")

    def reload(self) -> None:
        """Load the page again."""
        self.call("Page.reload")
        self.wait_for("Page.loadEventFired")

    def run(self, script: str) -> Any:
        """Return what an expression in JavaScript comes to."""
        done = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in done:
            raise RuntimeError(str(done["exceptionDetails"]))
        return done["result"].get("value")

    def click(self, selector: str) -> None:
        """Click where an element stands, having scrolled to it."""
        where = f"document.querySelector({json.dumps(selector)})"
        self.run(f"{where}.scrollIntoView({{block: 'center'}})")
        box = self.run(f"(({{x, y, width, height}}) => [x + width / 2, y + height / 2])"
                       f"({where}.getBoundingClientRect())")  # fmt: skip
        for kind in ("mousePressed", "mouseReleased"):
            at = {"x": box[0], "y": box[1], "button": "left", "clickCount": 1}
            self.call("Input.dispatchMouseEvent", type=kind, **at)

    def type(self, selector: str, text: str) -> None:
        """Type into a field in place of what stands there."""
        self.click(selector)
        self.run(f"document.querySelector({json.dumps(selector)}).select()")
        self.call("Input.insertText", text=text)

    def press(self, key: str, code: int) -> None:
        """Press a key, such as Tab, 9."""
        text = {"text": " "} if key == " " else {}
        for kind in ("keyDown", "keyUp"):
            self.call("Input.dispatchKeyEvent", type=kind, key=key, windowsVirtualKeyCode=code, **text)

    def text(self, selector: str) -> str:
        """Return an element's text as it shows."""
        return str(self.run(f"document.querySelector({json.dumps(selector)}).innerText"))

    def picture(self, path: Path) -> None:
        """Save the whole page as a PNG."""
        shot = self.call("Page.captureScreenshot", captureBeyondViewport=True)
        path.write_bytes(base64.b64decode(shot["data"]))

    def print_to(self, path: Path, width: float = 8.27, height: float = 11.69) -> None:
        """Print the page into a PDF, on paper of a size in inches, A4 unless it is given."""
        printed = self.call("Page.printToPDF", paperWidth=width, paperHeight=height)
        path.write_bytes(base64.b64decode(printed["data"]))


@contextmanager
def chromium(folder: Path, environment: Mapping[str, str] | None = None) -> Iterator[Page]:
    """Start the browser with nothing remembered; its profile is kept in a folder."""
    to_browser, from_us = os.pipe()
    to_us, from_browser = os.pipe()
    ours, theirs = (to_us, from_us), (to_browser, from_browser)
    command = ["chromium", f"--user-data-dir={folder}/profile", *_OPTIONS]
    # The browser reads from its descriptor 3 and writes to its 4.
    shell = f'exec 3<&{theirs[0]} 4>&{theirs[1]} && exec "$@"'
    with (folder / "chromium.log").open("wb") as log:
        process = subprocess.Popen(
            ["bash", "-c", shell, "bash", *command],
            pass_fds=theirs,
            stdout=log,
            stderr=log,
            env={**os.environ, **(environment or {})},
        )
        for one in theirs:
            os.close(one)
        page = Page(to_browser=ours[1], from_browser=ours[0])
        try:
            yield page.attach()
            page.session = ""
            page.call("Browser.close")
            process.wait(_SECONDS)
        finally:
            for one in ours:
                os.close(one)
            process.kill()
            process.wait(_SECONDS)
