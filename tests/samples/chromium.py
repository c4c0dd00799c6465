"""A small client for Debian's chromedriver: plain WebDriver requests, standard library only."""

import base64
import json
import re
import shutil
import subprocess
import time
import urllib.request
from contextlib import contextmanager

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
DRIVER = shutil.which("chromedriver")
MISSING = " and ".join(
    name for name, found in (("chromium", CHROMIUM), ("chromedriver", DRIVER)) if found is None
)
QUIET = (
    "--headless=new", "--no-sandbox", "--disable-dev-shm-usage", "--no-first-run",
    "--no-default-browser-check", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-extensions",
    "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
    # edges unsmoothed: a fifth less to draw without a graphics card, and as much to be seen
    "--webgl-antialiasing-mode=none",
    # the page put together by the processor itself, not by a graphics card that it plays: only
    # what WebGL draws goes through that. Half of what a page takes, a third of a picture
    "--disable-gpu-compositing",
)  # fmt: skip
KEYS = {"left": "\ue012", "right": "\ue014", "space": " ", "page down": "\ue00f", "end": "\ue010"}
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"


class Browser:
    """One window of a headless Chromium."""

    def __init__(self, base, session):
        self.base = f"{base}/session/{session}"

    def ask(self, method, path, body=None):
        return _ask(method, f"{self.base}{path}", body)

    def open(self, path):
        self.ask("POST", "/url", {"url": path.resolve().as_uri()})

    def run(self, script, *values):
        return self.ask("POST", "/execute/sync", {"script": script, "args": list(values)})

    def wait_for(self, script, seconds=20.0):
        """Return what a script gives once that is true; None if it never is."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if value := self.run(script):
                return value
            time.sleep(0.05)
        return None

    def find(self, selector):
        body = {"using": "css selector", "value": selector}
        return self.ask("POST", "/element", body)[ELEMENT]

    def click(self, selector):
        self.ask("POST", f"/element/{self.find(selector)}/click", {})

    def press(self, selector, *keys):
        text = "".join(KEYS.get(key, key) for key in keys)
        self.ask("POST", f"/element/{self.find(selector)}/value", {"text": text})

    def picture(self, selector=None):
        """Return a PNG of an element, or of the window."""
        path = f"/element/{self.find(selector)}/screenshot" if selector else "/screenshot"
        return base64.b64decode(self.ask("GET", path))

    def act(self, *pointers):
        """Move fingers: each pointer is a list of (x, y) from the window's top left corner."""
        sources = []
        for i, places in enumerate(pointers):
            (x, y), *rest = places
            moves = [
                {"type": "pointerMove", "duration": 0, "x": int(x), "y": int(y)},
                {"type": "pointerDown", "button": 0},
            ]
            moves += [
                {"type": "pointerMove", "duration": 60, "x": int(a), "y": int(b)} for a, b in rest
            ]
            moves.append({"type": "pointerUp", "button": 0})
            kind = {"pointerType": "touch"}
            sources.append(
                {"type": "pointer", "id": f"finger{i}", "parameters": kind, "actions": moves}
            )
        self.ask("POST", "/actions", {"actions": sources})

    def devtools(self, command, **values):
        body = {"cmd": command, "params": values}
        return self.ask("POST", "/goog/cdp/execute", body)

    def size(self, wide, high, dark=False, touch=False):
        """Lay the page out as on a screen of that size, light or dark."""
        self.devtools(
            "Emulation.setDeviceMetricsOverride",
            width=wide, height=high, deviceScaleFactor=1, mobile=touch,
        )  # fmt: skip
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.devtools("Emulation.setEmulatedMedia", features=[scheme])

    def complaints(self):
        """Return what the console has said since the last call."""
        return [x["message"] for x in self.ask("POST", "/se/log", {"type": "browser"})]

    def addresses(self):
        """Return every address asked for since the last call."""
        entries = self.ask("POST", "/se/log", {"type": "performance"})
        told = [json.loads(x["message"])["message"] for x in entries]
        sent = [x["params"] for x in told if x["method"] == "Network.requestWillBeSent"]
        return [x["request"]["url"] for x in sent]


def _ask(method, address, body=None):
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(
        address, data=data, method=method, headers={"Content-Type": "application/json"}
    )
    with urllib.request.urlopen(request, timeout=120) as answer:
        return json.load(answer)["value"]


@contextmanager
def browser(folder, *more):
    """Start driver and browser with a fresh profile in a folder; end both afterwards."""
    driver = subprocess.Popen(
        [DRIVER, "--port=0"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    window = None
    try:
        lines = (re.search(r"started successfully on port (\d+)", x) for x in driver.stdout)
        found = next(filter(None, lines), None)
        if found is None:
            raise RuntimeError(f"{DRIVER} ended before it named its port")
        base = f"http://127.0.0.1:{found[1]}"
        options = {
            "binary": CHROMIUM, "args": [*QUIET, *more, f"--user-data-dir={folder / 'profile'}"]
        }  # fmt: skip
        wanted = {
            "goog:chromeOptions": options,
            "goog:loggingPrefs": {"browser": "ALL", "performance": "ALL"},
        }
        body = {"capabilities": {"alwaysMatch": wanted}}
        window = Browser(base, _ask("POST", f"{base}/session", body)["sessionId"])
        yield window
    finally:
        if window is not None:
            window.ask("DELETE", "")
        driver.terminate()
        driver.wait(timeout=20)
        driver.stdout.close()
