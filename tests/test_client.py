"""What runs in the browser: its lock holds no address, it is built from what stands in client/, and a wheel carries it."""

from __future__ import annotations

import importlib.util
import json
import re
import subprocess
import sys
import zipfile
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[1]
CLIENT = ROOT / "client"
LOCK = json.loads((CLIENT / "package-lock.json").read_text(encoding="utf-8"))
PACKAGE = json.loads((CLIENT / "package.json").read_text(encoding="utf-8"))
PACKAGES = {name: entry for name, entry in LOCK["packages"].items() if name}


@pytest.fixture(scope="module")
def tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location("waney_client_tool", ROOT / "tools" / "client.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def built(tool: ModuleType) -> Path:
    """The built files, made now where node is at hand."""
    if not tool.built():
        if tool.on_path() is None and tool.in_package() is None:
            pytest.skip("NOT TESTED: no node on this machine, so nothing of the client was built")
        assert tool.build() == 0
    assert isinstance(tool.BUILT, Path)
    return tool.BUILT


@pytest.mark.parametrize("file", ["package-lock.json", "package.json", "node.lock", ".npmrc"])
def test_no_address_stands_in_what_pins_the_packages(file: str) -> None:
    assert not re.search(r"https?:|git\+|file:", (CLIENT / file).read_text(encoding="utf-8"))


def test_every_package_of_the_client_is_pinned_with_its_hash() -> None:
    assert {name.rpartition("node_modules/")[2] for name in PACKAGES} >= {*PACKAGE["dependencies"], *PACKAGE["devDependencies"]}
    assert all(re.fullmatch(r"sha512-\S+", entry["integrity"]) for entry in PACKAGES.values())


def test_the_licence_of_every_package_is_an_open_one() -> None:
    open_ones = {
        "MIT",
        "ISC",
        "0BSD",
        "BSD-0-Clause",
        "Apache-2.0",
        "BSD-3-Clause",
        "BSD-2-Clause",
        "OFL-1.1",
        "CC0-1.0",
        "(MIT OR CC0-1.0)",
    }
    assert {entry["license"] for entry in PACKAGES.values()} <= open_ones


def test_node_itself_is_pinned_by_its_hashes() -> None:
    pins = (CLIENT / "node.lock").read_text(encoding="utf-8")
    assert pins.count("==") == 1
    assert pins.count("--hash=sha256:") >= 5


def test_the_oldest_node_that_is_taken_is_new_enough_for_every_package(tool: ModuleType) -> None:
    asked = [entry["engines"]["node"] for entry in PACKAGES.values() if "node" in entry.get("engines", {})]
    least = [int(found.group(1)) for found in (re.match(r">=\s*(\d+)", one) for one in asked) if found]
    assert asked
    assert max(least) <= tool.LEAST_NODE


def test_every_module_style_and_script_of_its_own_is_built(built: Path) -> None:
    manifest = json.loads((built / "manifest.json").read_text(encoding="utf-8"))
    sources = [*(CLIENT / "src" / "entries").glob("*.ts"), *(CLIENT / "src" / "alone").glob("*.ts")]
    wanted = {f"{source.stem}.js" for source in sources} | {f"{s.stem}.css" for s in (CLIENT / "src" / "styles").glob("*.css")}
    assert wanted - {"worker.js"} <= set(manifest)
    assert (built / "worker.js").is_file()
    assert all((built / file).is_file() for file in manifest.values())


def test_a_built_name_changes_with_its_content(built: Path) -> None:
    manifest = json.loads((built / "manifest.json").read_text(encoding="utf-8"))
    assert all(re.fullmatch(r".+-[A-Z0-9]{8}\.\w+", file) for file in manifest.values())


def test_nothing_built_loads_from_elsewhere(built: Path) -> None:
    for file in [*built.glob("*.js"), *built.glob("*.css")]:
        text = file.read_text(encoding="utf-8")
        assert not re.search(r"""(?:import|from|fetch\()\s*["'`]https?:|url\(["']?https?:""", text), file.name


def test_a_wheel_carries_what_was_built(built: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    (wheel,) = tmp_path.glob("*.whl")
    held = set(zipfile.ZipFile(wheel).namelist())
    assert {f"waney/web/built/{file.name}" for file in built.iterdir()} <= held
    assert not [name for name in held if "node_modules" in name or name.endswith(".ts")]


@pytest.mark.long
def test_the_modules_of_the_client_do_what_their_own_tests_say(tool: ModuleType, built: Path) -> None:
    if not tool.MODULES_STAMP.is_file():
        pytest.skip("NOT TESTED: the packages of the client are not installed here (python tools/client.py build)")
    done = subprocess.run([sys.executable, str(ROOT / "tools" / "client.py"), "test"], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
