"""waney serve as a person starts it: an address, a page, an end; and a sentence where the port is taken."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.request import urlopen

import pytest

from .calling import HERE, WANEY, WRITTEN, run

LOOPBACK, HTTP = "127.0.0.1", "http:" + "//"


@pytest.fixture
def port() -> int:
    with socket.socket() as probe:
        probe.bind((LOOPBACK, 0))
        return int(probe.getsockname()[1])


@contextmanager
def served(folder: Path, port: int) -> Iterator[subprocess.Popen[str]]:
    command = [*WANEY, "serve", str(folder / "yard"), "--port", str(port)]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with subprocess.Popen(command, env=HERE, cwd=folder, text=True, **pipes) as process:  # type: ignore[call-overload]
        try:
            yield process
        finally:
            process.kill()


def first_page(port: int) -> str:
    with urlopen(f"{HTTP}{LOOPBACK}:{port}/", timeout=20) as answer:
        return str(answer.read().decode("utf-8"))


@pytest.mark.skipif(os.name == "nt", reason="Ctrl-C is no signal there")
def test_it_says_where_it_is_answers_and_ends_when_it_is_stopped(tmp_path: Path, port: int) -> None:
    with served(tmp_path, port) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == f"The yard is at {HTTP}localhost:{port}/\n"
        wait_until_open(port)
        assert 'name="password"' in first_page(port), "the first start asks for the owner's password"
        process.send_signal(signal.SIGINT)
        _, said = process.communicate(timeout=30)
        assert process.returncode in (0, 130) and "Traceback" not in said
    assert (tmp_path / "yard" / "book.sqlite").is_file()


def wait_until_open(port: int) -> None:
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            socket.create_connection((LOOPBACK, port), 1).close()
        except OSError:
            time.sleep(0.05)
        else:
            return
    pytest.fail("nobody listens")


def test_a_port_that_is_taken_is_a_sentence(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind((LOOPBACK, 0))
        taken.listen()
        port = taken.getsockname()[1]
        command = [*WANEY, "serve", "yard", "--port", str(port)]
        done = subprocess.run(command, env=HERE, cwd=tmp_path, capture_output=True, text=True, timeout=60)
    assert done.returncode == 1 and f"port {port}" in done.stderr and f"--port {port + 1}" in done.stderr
    assert "Traceback" not in done.stderr and not (tmp_path / "yard").exists()


def test_a_book_on_a_server_needs_its_files(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "execv", lambda *words: pytest.fail("it must not start"))
    code, said, told = run("serve", "postgresql://somewhere/yard")
    assert (code, said) == (WRITTEN, "") and "--files" in told


def test_it_starts_the_app_with_what_was_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[list[str]] = []
    monkeypatch.setattr(os, "name", "posix")

    def replaced(program: str, words: list[str]) -> None:
        started.append([program, *words])
        raise SystemExit(0)  # the real one never comes back

    monkeypatch.setattr(os, "execv", replaced)
    run("serve", "here", "--port", "9001", "--lan", "--tls", "--host", "yard.test")
    [[program, python, *words]] = started
    assert program == python == sys.executable
    assert words == ["-m", "waney.web", "here", "--port", "9001", "--host", "yard.test", "--lan", "--tls"]
