"""The app as a program: python -m waney.web FOLDER. `waney serve` starts it."""

from __future__ import annotations

import argparse
import sys
from datetime import UTC, datetime
from pathlib import Path

from waney.figures.problem import Problem
from waney.web.app import make_app
from waney.web.built import Built
from waney.web.serving import AUTHORITY, LAN, LOOPBACK, PORT, TAKEN, TRUST, Listening, as_code, free, here_in_network, serve
from waney.web.shop import Shop, members_of
from waney.yard.book.book import make_book, open_book
from waney.yard.book.engine import Lies, by_address, in_folder
from waney.yard.problems import NoBook


def arguments(words: list[str]) -> argparse.Namespace:
    """What was asked for."""
    parser = argparse.ArgumentParser(prog="waney serve", description="Serve the yard's pages from this machine.")
    parser.add_argument("book", nargs="?", default="yard", help="the yard: a folder, or postgresql://...")
    parser.add_argument("--files", type=Path, help="the files of a book on a server")
    parser.add_argument("--port", type=int, default=PORT)
    parser.add_argument("--lan", action="store_true", help="open it to this network too")
    parser.add_argument("--tls", action="store_true", help="https, by an authority of the yard's own")
    parser.add_argument("--host", default="", help="with --tls: one more name that this machine goes by")
    return parser.parse_args(words)


def lies_at(book: str, files: Path | None) -> Lies:
    """Where the book lies."""
    return by_address(book, files or Path("files")) if "://" in book else in_folder(Path(book))


def _listening(asked: argparse.Namespace, folder: Path) -> Listening:
    """Where to listen; with --tls the certificate is made where it is missing, and it is said how phones come to trust it.

    Raises NoAuthority.
    """
    plain = Listening(asked.port, asked.lan)
    if not asked.tls:
        return plain
    from waney.web.authority import certified, fingerprint  # most starts need none of it, and the first page comes sooner

    hosts = ["localhost", LOOPBACK, *([here_in_network()] if asked.lan else []), *([asked.host] if asked.host else [])]
    made = certified(folder / "authority", hosts, datetime.now(UTC))
    listening = Listening(asked.port, asked.lan, str(made.certificate), str(made.key), str(made.authority))
    print(TRUST.format(address=listening.addresses()[-1] + AUTHORITY, fingerprint=fingerprint(made.authority)), flush=True)
    return listening


def main(words: list[str]) -> int:
    """Open the book, or make one, and serve it."""
    asked = arguments(words)
    lies = lies_at(asked.book, asked.files)
    try:
        listening = _listening(asked, lies.files.parent)
        if not free(listening):
            print(TAKEN.format(port=listening.port, other=listening.port + 1), file=sys.stderr)
            return 1
        try:
            book = open_book(lies)
        except NoBook:
            book = make_book(lies, datetime.now(UTC))
        lies.files.parent.mkdir(parents=True, exist_ok=True)
        shop = Shop(book, members_of(lies.files.parent), Built(), listening.secure, authority=listening.authority)
        app = make_app(shop, at_once=False)
    except Problem as why:
        print(why, file=sys.stderr)
        return 1
    print(f"The yard is at {' and '.join(listening.addresses())}", flush=True)
    if listening.lan:
        print(as_code(listening.addresses()[-1], sys.stdout.encoding or "ascii"), flush=True)
        print(LAN, flush=True)
    serve(app, listening)
    book.close()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
