"""Engines: browsers of other makers than the walks' own, led by what they themselves listen to (the WebDriver standard; Firefox:
its Marionette). Nothing is installed for them; where one is missing its walks are skipped."""

from __future__ import annotations

import json
import os
import shutil
import socket
import subprocess
import time
import urllib.request
from abc import ABC, abstractmethod
from pathlib import Path
from typing import Any, ClassVar

PLAIN, HOST = "http", "127.0.0.1"
STARTS_S, WAITS_S, PRESS_MS = 60.0, 30.0, 700
MINI = "usr/lib/*/webkit2gtk-4.1/MiniBrowser"
"""where the distribution keeps it"""
MIDDLE = """const one = document.querySelector(arguments[0]);
one.scrollIntoView({block: "center"});
const box = one.getBoundingClientRect();
return [Math.round(box.x + box.width / 2), Math.round(box.y + box.height / 2)];"""


class Engine(ABC):
    """One browser with one window of the size of a phone."""

    @abstractmethod
    def told(self, command: str, content: dict[str, Any]) -> Any:
        """What the browser answers to a command of WebDriver: navigate, execute, actions, rect."""

    @abstractmethod
    def close(self) -> None:
        """End it."""

    def go(self, address: str) -> None:
        """Open an address."""
        self.told("navigate", {"url": address})

    def ask(self, code: str, *arguments: str) -> Any:
        """What a line of script gives."""
        return self.told("execute", {"script": f"return {code}", "args": list(arguments)})

    def text(self, what: str) -> str:
        """The text of an element, without what stands around it."""
        return str(self.ask("(document.querySelector(arguments[0]) || {}).textContent || ''", what)).strip()

    def wait(self, code: str, for_s: float = WAITS_S) -> None:
        """Until a line of script gives true."""
        until = time.monotonic() + for_s
        while not self.ask(code):
            assert time.monotonic() < until, code
            time.sleep(0.1)

    def press(self, what: str, for_ms: int = PRESS_MS) -> None:
        """Hold a pointer down on an element."""
        x, y = self.told("execute", {"script": MIDDLE, "args": [what]})
        steps = [
            {"type": "pointerMove", "duration": 0, "x": x, "y": y},
            {"type": "pointerDown", "button": 0},
            {"type": "pause", "duration": for_ms},
            {"type": "pointerUp", "button": 0},
        ]
        self.told(
            "actions", {"actions": [{"type": "pointer", "id": "hand", "parameters": {"pointerType": "mouse"}, "actions": steps}]}
        )

    def key(self, value: str) -> None:
        """Press a key of the keyboard and let go of it."""
        steps = [{"type": kind, "value": value} for kind in ("keyDown", "keyUp")]
        self.told("actions", {"actions": [{"type": "key", "id": "keyboard", "actions": steps}]})


class Gecko(Engine):
    """Firefox."""

    COMMANDS: ClassVar = {
        "navigate": "Navigate",
        "execute": "ExecuteScript",
        "actions": "PerformActions",
        "rect": "SetWindowRect",
    }

    @staticmethod
    def lacks() -> str:
        """What is missing here to start it; empty for nothing."""
        return "" if shutil.which("firefox") else "Firefox is not installed"

    def __init__(self, folder: Path) -> None:
        port, self.number, self.kept = free_port(), 0, b""
        (folder / "user.js").write_text(f'user_pref("marionette.port", {port});\n', encoding="ascii")
        command = ["firefox", "--headless", "--no-remote", "--profile", str(folder), "--marionette"]
        self.program = started(command, {"HOME": str(folder)})
        self.line = reached(port)
        self._read()
        self.version = self._said("WebDriver:NewSession", {"capabilities": {"alwaysMatch": {}}})["capabilities"]["browserVersion"]
        self.told("rect", {"width": 420, "height": 860})

    def told(self, command: str, content: dict[str, Any]) -> Any:
        return (self._said(f"WebDriver:{self.COMMANDS[command]}", content) or {}).get("value")

    def _said(self, command: str, content: dict[str, Any]) -> Any:
        self.number += 1
        packed = json.dumps([0, self.number, command, content]).encode()
        self.line.sendall(b"%d:%b" % (len(packed), packed))
        _, _, wrong, found = self._read()
        assert not wrong, wrong
        return found

    def _read(self) -> Any:
        """A message: its length, a colon, JSON."""
        while b":" not in self.kept:
            self.kept += self.line.recv(65_536)
        length, _, rest = self.kept.partition(b":")
        while len(rest) < int(length):
            rest += self.line.recv(65_536)
        self.kept = rest[int(length) :]
        return json.loads(rest[: int(length)])

    def close(self) -> None:
        self.line.close()
        self.program.terminate()
        self.program.wait(STARTS_S)


class WebKit(Engine):
    """The engine of Safari, in the small browser that comes with WebKitGTK; on a screen that nobody sees."""

    COMMANDS: ClassVar = {"navigate": "url", "execute": "execute/sync", "actions": "actions", "rect": "window/rect"}

    @staticmethod
    def lacks() -> str:
        """What is missing here to start it; empty for nothing."""
        here = shutil.which("WebKitWebDriver") and shutil.which("Xvfb") and mini()
        return "" if here else "WebKitGTK's driver and small browser, or a screen that nobody sees (Xvfb), are not installed"

    def __init__(self, folder: Path) -> None:
        port, screen = free_port(), f":{60 + os.getpid() % 900}"
        self.screen = started(["Xvfb", screen, "-screen", "0", "1200x1000x24"], {})
        self.driver = started(
            ["WebKitWebDriver", f"--port={port}"],
            {"DISPLAY": screen, "HOME": str(folder), "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1"},
        )
        reached(port).close()
        self.address = f"{PLAIN}://{HOST}:{port}/session"
        wants = {"browserName": "MiniBrowser", "webkitgtk:browserOptions": {"binary": mini(), "args": ["--automation"]}}
        session = self._sent("", {"capabilities": {"alwaysMatch": wants}})
        self.address += f"/{session['sessionId']}"
        self.version = session["capabilities"]["browserVersion"]
        self.told("rect", {"width": 420, "height": 860})

    def told(self, command: str, content: dict[str, Any]) -> Any:
        return self._sent(f"/{self.COMMANDS[command]}", content)

    def _sent(self, path: str, content: dict[str, Any]) -> Any:
        request = urllib.request.Request(self.address + path, json.dumps(content).encode(), {"content-type": "application/json"})
        with urllib.request.urlopen(request, timeout=STARTS_S) as answer:
            return json.load(answer)["value"]

    def close(self) -> None:
        urllib.request.urlopen(urllib.request.Request(self.address, method="DELETE"), timeout=STARTS_S).close()
        for one in (self.driver, self.screen):
            one.terminate()
            one.wait(STARTS_S)


def mini() -> str:
    """Where the small browser lies; empty for nowhere."""
    return next((str(one) for one in Path("/").glob(MINI)), "")


def free_port() -> int:
    """A port of the loopback that nobody has."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])


def started(command: list[str], more: dict[str, str]) -> subprocess.Popen[bytes]:
    """A program that says nothing here."""
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env={**os.environ, **more})


def reached(port: int) -> socket.socket:
    """A line to a port, as soon as somebody listens."""
    until = time.monotonic() + STARTS_S
    while True:
        try:
            return socket.create_connection((HOST, port), timeout=STARTS_S)
        except OSError:
            assert time.monotonic() < until, "the browser does not listen"
            time.sleep(0.2)
