"""waney serve: the yard's pages, from this machine. The app is a program of its own, which takes this one's place."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from typing import Annotated

import typer

from waney.cli.app import answering
from waney.cli.books import YARD, FilesIn, lies_at

PORT = 8731


@answering
def serve(
    book: Annotated[
        str, typer.Argument(envvar="WANEY_BOOK", help="The yard: a folder, or postgresql://...", metavar="{book}")
    ] = YARD,
    files: FilesIn = None,
    port: Annotated[int, typer.Option(min=1, max=65535, help="Where it listens.")] = PORT,
    lan: Annotated[bool, typer.Option("--lan", help="Open it to the shop's own network too.")] = False,
    tls: Annotated[bool, typer.Option("--tls", help="By https, with an authority of the yard's own.")] = False,
    host: Annotated[str | None, typer.Option(help="With --tls: one more name that this machine goes by.")] = None,
) -> None:
    """Serve the yard's pages until Ctrl-C; makes the book if there is none. The address is printed.

    With --tls phones may keep pages for when there is no signal, once they were told to trust the authority that is printed. The
    first page asks for the owner's name and password, and only on this machine itself.
    """
    lies_at(book, files)
    given = {"--files": files, "--port": port, "--host": host}
    words = [word for option, value in given.items() if value is not None for word in (option, str(value))]
    flags = [flag for flag, wanted in (("--lan", lan), ("--tls", tls)) if wanted]
    serve_yard((book, *words, *flags))


def serve_yard(words: Sequence[str]) -> None:
    """Start the app with these words of its own command line; when it ends, this ends as it did."""
    command = (sys.executable, "-m", "waney.web", *words)
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name != "nt":
        os.execv(sys.executable, command)
    raise typer.Exit(subprocess.call(command))  # Windows has no such call: it would end this program first
