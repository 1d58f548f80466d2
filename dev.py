#!/usr/bin/env python3
"""Everything from one place, with nothing but Python 3.11 or newer:

python3 dev.py run      the main job on the demo yard; --no-serve stops after it
python3 dev.py test     the tests but the long ones, under ten minutes; or what follows: python3 dev.py test tests/web/walks -x
python3 dev.py check    style, types, layers, doctests, documents, the long tests, the yard book in PostgreSQL
python3 dev.py prove    benchmarks, which write what they measured into docs/
python3 dev.py pictures FOLDER   pictures of every page, unfolded and asking, at phone and desk width
python3 dev.py lock     pins every package anew (for whoever changes a dependency)

Each of them makes its own environment in .venv first, from the hashes in requirements.lock, if that has not been done.
"""

import sys

if sys.version_info < (3, 11):  # before anything that an older Python cannot read
    sys.exit("Waney needs Python 3.11 or newer; this is %d.%d. Start dev.py with a newer one." % sys.version_info[:2])

import hashlib
import os
import re
import subprocess
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
LOCK = ROOT / "requirements.lock"
PYPROJECT = ROOT / "pyproject.toml"
STAMP = VENV / "set-up-from"
CLIENT = ("tools/client.py",)
NODE_LOCK = "client/node.lock"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

FAST_ONLY = ("numba", "llvmlite")
"""packages without which the program runs too, slower; they are left out where they have no wheel"""
SOURCE_ONLY = "psychrolib"
"""the one package that its registry holds as source only (its hash is in the lock like the others)"""

NO_VENV = """\
This Python cannot make environments (its module venv or ensurepip is missing).
On Debian or Ubuntu: sudo apt install python3-venv. Elsewhere install Python from its own installer. Then start again."""
NO_NETWORK = """\
The packages could not be fetched; set-up needs the network once. Connect this machine and start again.
If it is connected, a proxy or firewall may stand between: pip's own settings (PIP_PROXY, PIP_INDEX_URL) are honoured."""
UNREACHED = (
    "NewConnectionError",
    "Max retries exceeded",
    "NameResolutionError",
    "ConnectionError",
    "ProxyError",
    "timed out",
    "SSLError",
)
"""what pip and its libraries say when they reach nobody"""
BAD_HASH = """\
A package that was fetched is not the one that requirements.lock names. Nothing was installed from it.
Try once more; if it says so again, somebody on the way changes what is fetched."""
NO_WHEEL = (
    "There is no ready-made package of %s for this machine and this Python. Python 3.11 to 3.13 on 64 bits is what is tried."
)


class Stumble(Exception):
    """Set-up cannot go on; the text is what the person reads."""


# set-up


def stamp() -> str:
    """What the environment was made from; while this stays the same, it is ready."""
    return hashlib.sha256(PYPROJECT.read_bytes() + LOCK.read_bytes() + bytes(ROOT)).hexdigest()


def ready() -> bool:
    return PYTHON.exists() and STAMP.is_file() and STAMP.read_text(encoding="utf-8") == stamp()


def set_up() -> None:
    """Make .venv as the lock says and build what runs in the browser, unless that has been done."""
    if not ready():
        set_up_python()
    if call(*CLIENT, "build"):
        print("Going on without it: pages work as plain HTML, the mill page does not.", file=sys.stderr)


def set_up_python() -> None:
    make_venv(VENV, PYTHON)
    print("Setting up (once; a few hundred MB are fetched) ...", flush=True)
    left_out = install_locked()
    pip("install", "--no-deps", "--no-build-isolation", "--editable", str(ROOT))
    STAMP.write_text(stamp(), encoding="utf-8")
    if left_out:
        print(f"No {' and '.join(left_out)} for this machine: plans are searched interpreted, on a coarser grid.")


def make_venv(folder: Path, python: Path) -> None:
    try:
        import ensurepip  # noqa: F401 - Debian parts it from Python
        import venv
    except ImportError:
        raise Stumble(NO_VENV) from None
    if python.exists() and subprocess.run([python, "-m", "pip", "--version"], capture_output=True).returncode == 0:
        return
    try:
        venv.create(folder, with_pip=True, clear=folder.exists())
    except (OSError, subprocess.CalledProcessError) as fault:
        raise Stumble(f"The environment {folder} could not be made: {fault}.\n{NO_VENV}") from None


def install_locked() -> tuple[str, ...]:
    """Install what the lock names; returns what had to be left out."""
    try:
        install(LOCK)
    except NoWheel as missing:
        if missing.package not in FAST_ONLY:
            raise
        with tempfile.TemporaryDirectory() as folder:
            shorter = Path(folder) / "requirements.lock"
            shorter.write_text(without(LOCK.read_text(encoding="utf-8"), FAST_ONLY), encoding="utf-8")
            install(shorter)
        return FAST_ONLY
    return ()


def install(lock: Path) -> None:
    # --no-compile: Python compiles what it imports, which is a small part
    options = ("--require-hashes", "--no-compile", "--only-binary", ":all:", "--no-binary", SOURCE_ONLY)
    pip("install", *options, "--requirement", str(lock), packages=lock.read_text("utf-8").count("=="))


def without(lock: str, names: Sequence[str]) -> str:
    """The lock without the entries of some packages."""
    entries = re.split(r"^(?=[a-z0-9])", lock, flags=re.MULTILINE)
    return "".join(entry for entry in entries if entry.partition("==")[0] not in names)


class NoWheel(Stumble):
    """A package has no wheel for this machine."""

    def __init__(self, package: str) -> None:
        self.package = package
        super().__init__(NO_WHEEL % package)


def pip(*arguments: str, packages: int = 0, python: Path = PYTHON) -> None:
    """Run pip in the environment; counts packages while it works, explains what stopped it."""
    command = [str(python), "-m", "pip", *arguments, "--disable-pip-version-check", "--no-input", "--progress-bar", "off"]
    said: list[str] = []
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace") as process:
        for line in process.stdout or ():
            said.append(line.rstrip())
            if packages and line.startswith("Collecting "):
                show(f"  package {sum(s.startswith('Collecting ') for s in said)} of at most {packages}")
            if packages and line.startswith("Installing collected"):
                show("  installing                    ")
    if packages and sys.stdout.isatty():
        print()
    if process.returncode:
        raise explained(said)


def show(words: str) -> None:
    """Progress on one line of a terminal; nothing in a log."""
    if sys.stdout.isatty():
        print(f"\r{words}", end="", flush=True)


def explained(said: Sequence[str]) -> Stumble:
    """Why pip gave up, as a sentence."""
    text = "\n".join(said)
    if "DO NOT MATCH THE HASHES" in text:
        return Stumble(BAD_HASH)
    if any(sign in text for sign in UNREACHED):
        return Stumble(NO_NETWORK)
    missing = re.search(r"No matching distribution found for ([A-Za-z0-9._-]+)", text)
    if missing:
        return NoWheel(missing.group(1).lower())
    return Stumble("Set-up stopped. pip said:\n  " + "\n  ".join(said[-12:]))


# commands


def call(*command: str) -> int:
    """Run it in the environment. Ctrl-C reaches it too: it ends by itself, and is waited for.

    What Python compiles is kept, even where this shell says not to: servers, commands and workers start by the hundred in a run.
    """
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    with subprocess.Popen([str(PYTHON), *command], cwd=ROOT, env=kept) as process:
        try:
            return process.wait()
        except KeyboardInterrupt:
            process.wait()
            raise


def run(arguments: Sequence[str]) -> int:
    return call("-m", "waney.cli.main", "demo", *arguments)


# whole files in the order that tests/conftest.py gives: what a file makes once is made by one worker
TESTS = ("-m", "pytest", "-n", "auto", "--maxprocesses", "4", "--dist", "loadfile", "--no-loadscope-reorder")


def test(arguments: Sequence[str]) -> int:
    return call(*TESTS, *(arguments or ("-m", "not long")))


NOT_RUN = 77
"""the exit code of a check that lacks what it needs on this machine (tools/postgresql.py)"""
ON_POSTGRESQL = ("tests/yard", "tests/web/test_on_postgresql.py", "tests/cli/test_on_postgresql.py")
CHECKS: dict[str, tuple[str, ...]] = {
    "style": ("-m", "ruff", "check", "."),
    "layout": ("-m", "ruff", "format", "--check", "."),
    "types": ("-m", "mypy"),
    "types of tools and benchmarks": ("-m", "mypy", "dev.py", "tools", "benchmarks"),
    "types of the client": (*CLIENT, "check"),
    "tests of the client": (*CLIENT, "test"),
    "layers": ("-m", "pytest", "tests/test_architecture.py"),
    "doctests": ("-m", "pytest", "--doctest-modules", "src/waney"),
    "documents": ("-m", "pytest", "tests/test_docs.py"),
    "long tests": (*TESTS, "-m", "long"),
    "the yard book in PostgreSQL": ("tools/postgresql.py", "-m", "pytest", *ON_POSTGRESQL, "-k", "postgresql"),
}


def check(arguments: Sequence[str]) -> int:
    """Every check, or those named; all of them run, whatever fails."""
    failed, left_out = [], []
    for name in arguments or CHECKS:
        if name not in CHECKS:
            raise Stumble(f'There is no check "{name}"; there are: {", ".join(CHECKS)}.')
        print(f"== {name}", flush=True)
        code = call(*CHECKS[name])
        if code == NOT_RUN:
            left_out.append(name)
        elif code:
            failed.append(name)
    print(f"Failed: {', '.join(failed)}." if failed else "All checks that were run passed." if left_out else "All checks passed.")
    if left_out:
        print(f"NOT run here: {', '.join(left_out)}; what it lacks stands above.")
    return 1 if failed else 0


def prove(arguments: Sequence[str]) -> int:
    """Every script in benchmarks/, or those named; each writes what it measured into docs/."""
    scripts = [ROOT / "benchmarks" / name for name in arguments] or sorted((ROOT / "benchmarks").glob("*.py"))
    if not scripts:
        print("There is nothing in benchmarks/ to prove yet.")
    failed = False
    for script in scripts:
        print(f"== {script.name}", flush=True)
        failed |= call(str(script)) != 0
    return 1 if failed else 0


def pictures(arguments: Sequence[str]) -> int:
    return call("tools/screenshots.py", *arguments)


def lock(_arguments: Sequence[str]) -> int:
    """Resolve for every platform and write requirements.lock; the resolver lives in an environment that is thrown away."""
    with tempfile.TemporaryDirectory() as folder:
        python = Path(folder) / PYTHON.relative_to(VENV)
        make_venv(Path(folder), python)
        pip("install", "uv", python=python)
        resolve = [str(python), "-m", "uv", "--quiet", "pip", "compile", "pyproject.toml", "--group", "dev", "--universal"]
        wheels = ["--only-binary", ":all:", "--no-binary", SOURCE_ONLY, "--python-version", "3.11"]
        output = ["--generate-hashes", "--custom-compile-command", "python3 dev.py lock", "--upgrade", "--output-file"]
        code = subprocess.run([*resolve, *wheels, *output, LOCK.name], cwd=ROOT).returncode
        node = [*resolve[:5], "--group", "node", "--universal"]
        return code or subprocess.run([*node, *wheels, *output, NODE_LOCK], cwd=ROOT).returncode


COMMANDS: dict[str, Callable[[Sequence[str]], int]] = {
    "run": run,
    "test": test,
    "check": check,
    "prove": prove,
    "pictures": pictures,
    "lock": lock,
}


def main(arguments: Sequence[str]) -> int:
    if not arguments or arguments[0] not in COMMANDS:
        print(__doc__)
        return 0 if arguments in (["-h"], ["--help"]) else 2
    try:
        if arguments[0] != "lock":
            set_up()
        return COMMANDS[arguments[0]](arguments[1:])
    except Stumble as stumble:
        print(stumble, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
