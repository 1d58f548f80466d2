"""What the book survives: being killed, two writers at once, a full disk, a photo cut off in the middle."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Any

import psycopg
import pytest
from sqlalchemy import event as engine_event
from sqlalchemy import func, select
from tests.rings import short_first
from tools import postgresql

from waney.yard.acts.logs import LogArrived, LogMeasured, PlanChosen, PlanMade
from waney.yard.acts.mill import CameOff
from waney.yard.acts.people_places import NoteWritten, PhotoTaken
from waney.yard.acts.pieces import NamesTaken
from waney.yard.book import models, truth
from waney.yard.book.book import Book, make_book, open_book
from waney.yard.book.engine import Lies, by_address, in_folder, reading
from waney.yard.book.examining import examine
from waney.yard.book.looking import next_free, pieces
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.commands import Command, Read
from waney.yard.problems import BookFull, FileLost, Refused

from .conftest import NOW, SERVER, Device, Ids, fresh_copy
from .writer import commands, send

ROOT = Path(__file__).parents[2]
HERE = os.environ | {"PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT}"}


def hasty(book: Book) -> Book:
    """A book that does not wait for the disk: for tests that write much and are not about power cuts. The server is hasty."""
    if book.engine.dialect.name == "postgresql":
        return book
    engine_event.listen(book.engine, "connect", lambda connection, _: connection.execute("PRAGMA synchronous=OFF").close())
    book.engine.dispose()
    return book


def seqs(book: Book) -> list[int]:
    with reading(book.engine) as at:
        return list(at.execute(select(truth.event.c.seq).order_by(truth.event.c.seq)).scalars())


# killed


Writing = subprocess.Popen[str]


def written_until(kill: Callable[[Writing], None], folder: Path, start: int, after: int, address: str = "") -> dict[int, str]:
    """What a writer of the drawn row said until something was killed, in the middle of whatever the writer did then."""
    words = [sys.executable, "-m", "tests.yard.writer", str(folder), "5", "1000", str(start), *([address] if address else [])]
    said: dict[int, str] = {}
    silent = subprocess.DEVNULL if address else None  # a writer whose server is gone says so at length
    with subprocess.Popen(words, env=HERE, cwd=ROOT, stdout=subprocess.PIPE, stderr=silent, text=True) as writer:
        for line in writer.stdout or ():
            place, became = line.split()
            said[int(place)] = became
            if len(said) == after:
                kill(writer)
    return said


class Death:
    """Kills something, and tells whether it came to that."""

    def __init__(self, way: Callable[[Writing], None]) -> None:
        self.way, self.came = way, False

    def __call__(self, writer: Writing) -> None:
        self.way(writer)
        self.came = True


def acknowledged_is_there(lies: Lies, said: dict[int, str]) -> None:
    """Before anything is sent again, which would hide a loss."""
    book = open_book(lies)
    with reading(book.engine) as at:
        held = set(at.execute(select(truth.event.c.command)).scalars())
    book.close()
    _, row = commands(5, 1000)
    assert held >= {command.id for place, command in enumerate(row) if said.get(place) == "written"}


def nothing_acknowledged_is_lost(book: Book, said: dict[int, str], undisturbed: Book) -> None:
    """The book holds what was said to be written, and came to what it comes to where nobody is killed."""
    drawn, row = commands(5, 1000)
    assert sorted(said) == list(range(1000)) and {"written", "refused"} == set(said.values())
    acknowledged_is_there(book.lies, said)
    with reading(book.engine) as at:
        survived = standing(at)
        assert survived == standing_anew(at)
    assert examine(book).unsound == ()
    for command in row:
        send(undisturbed, drawn, command)
    with reading(undisturbed.engine) as at:
        assert standing(at) == survived


@pytest.mark.long
def test_killed_in_the_middle_of_a_thousand_commands_nothing_acknowledged_is_lost(empty_book: Path, tmp_path: Path) -> None:
    folder, draw = tmp_path / "yard", random.Random(9)
    fresh_copy(empty_book, folder)
    said: dict[int, str] = {}
    for after in (draw.randint(20, 300), draw.randint(20, 300), 2000):
        start = max(len(said) - 3, 0)  # a phone that heard no answer sends again
        said |= written_until(Writing.kill, folder, start, after)
        acknowledged_is_there(in_folder(folder), said)
    book, undisturbed = open_book(in_folder(folder)), hasty(open_book(fresh_copy(empty_book, tmp_path / "undisturbed")))
    nothing_acknowledged_is_lost(book, said, undisturbed)
    book.close()
    undisturbed.close()


def backend_of(address: str) -> int:
    """The process of the server that serves the writer."""
    with psycopg.connect(address) as at:
        others = "SELECT pid FROM pg_stat_activity WHERE client_port IS NOT NULL AND pid <> pg_backend_pid()"
        [(pid,)] = at.execute(others).fetchall()
    return int(pid)


def back_again(address: str) -> None:
    """Wait until a server whose process was killed has read its log and answers."""
    for _ in range(200):
        with suppress(psycopg.OperationalError), psycopg.connect(address):
            return
        time.sleep(0.1)
    raise AssertionError("the server does not come back")


@pytest.mark.skipif(not os.environ.get(SERVER), reason=f"needs PostgreSQL ({SERVER}); python3 dev.py check has it")
def test_on_postgresql_writer_backend_and_server_are_killed_in_a_thousand_commands_and_nothing_acknowledged_is_lost(
    empty_book: Path, tmp_path: Path
) -> None:
    """A server of its own: kill -9 of a backend throws everybody out of all its books."""
    programs = postgresql.programs()
    assert programs is not None
    with postgresql.server(programs, postgresql.NO_POWER_CUT) as server:
        lies = by_address(server.address, tmp_path / "files")
        make_book(lies, NOW).close()
        ways: tuple[Callable[[Writing], None], ...] = (
            Writing.kill,
            lambda _: os.kill(backend_of(server.address), signal.SIGKILL),
            lambda _: server.stop_at_once(),
        )
        draw, said = random.Random(11), dict[int, str]()
        for way in (0, 1, 2, 1, 2):
            after, death = draw.randint(40, 200), Death(ways[way])
            while not death.came:  # a writer may come while the server throws everybody out, and be thrown out too
                said |= written_until(death, lies.files, max(len(said) - 3, 0), after, server.address)
                if way == 2 and death.came:
                    server.start()
                back_again(server.address)
                acknowledged_is_there(lies, said)
        assert len(said) < 1000, "each of them was killed while it wrote"
        said |= written_until(Writing.kill, lies.files, max(len(said) - 3, 0), 2000, server.address)
        book, undisturbed = open_book(lies), hasty(open_book(fresh_copy(empty_book, tmp_path / "undisturbed")))
        nothing_acknowledged_is_lost(book, said, undisturbed)
        book.close()
        undisturbed.close()


@pytest.mark.skipif(os.name == "nt", reason="needs signals")
def test_a_photo_that_was_killed_half_written_is_not_there(empty_book: Path, tmp_path: Path, ids: Ids) -> None:
    lies = fresh_copy(empty_book, tmp_path / "yard")
    code = (
        "import os, signal, sys; from pathlib import Path; from waney.yard.book.files import Files\n"
        "os.fsync = lambda handle: os.kill(os.getpid(), signal.SIGKILL)\n"
        "Files(Path(sys.argv[1])).keep(b'half a picture' * 1000)"
    )
    done = subprocess.run([sys.executable, "-c", code, str(lies.files)], env=HERE)
    assert done.returncode == -signal.SIGKILL
    book = open_book(lies)
    assert list(book.files.names()) == []
    assert any("half-written" in remark for remark in examine(book).remarks)
    picture = b"half a picture" * 1000
    with pytest.raises(FileLost):
        Device(book, ids).send(PhotoTaken(ids(), sha256(picture).hexdigest()))
    Device(book, ids).send(PhotoTaken(ids(), book.files.keep(picture)))
    assert book.files.sweep() == 1 and examine(book).remarks == ()
    book.close()


# two writers


class Writer:
    """Somebody who looks, and then writes what follows from what was seen."""

    def __init__(self, lies: Lies, ids: Ids, log: str, plans: tuple[str, ...]) -> None:
        self.book, self.log, self.plans = hasty(open_book(lies)), log, plans
        self.device = Device(self.book, ids)
        self.seen: Any = None

    def look(self, what: str) -> None:
        if what == "names":
            self.seen = next_free(self.book, "A")
        elif what == "choose":
            with reading(self.book.engine) as at:
                chosen = at.execute(select(models.chosen.c.plan)).scalar()
                version = at.execute(select(models.head.c.version).where(models.head.c.stream == f"log:{self.log}")).scalar_one()
            self.seen = (chosen, version)

    def act(self, what: str) -> str:
        """Write; what it became."""
        try:
            return getattr(self, what)()
        except Refused:
            return "refused"

    def names(self) -> str:
        first, version = self.seen
        self.device.send(NamesTaken("A", first, first + 4, self.device.id), Read("code:A", version))
        return "names"

    def choose(self) -> str:
        chosen, version = self.seen
        after = self.plans[(self.plans.index(chosen) + 1) % len(self.plans)] if chosen else self.plans[0]
        self.device.send(PlanChosen(self.log, after), Read(f"log:{self.log}", version))
        return "choose"

    def saw(self) -> str:
        self.device.send(CameOff(self.device.ids(), log=self.log))
        return "saw"

    def measure(self) -> str:
        self.device.send(LogMeasured(self.log, "again", "ash"))
        return "measure"


class Serial:
    """One after the other, in plain Python: what the book must come to."""

    def __init__(self) -> None:
        self.chosen, self.next_number, self.sheets, self.pieces = -1, 1, 1, 0
        self.numbers: list[int] = []

    def written(self, plans: tuple[str, ...]) -> Written:
        return plans[self.chosen] if self.chosen >= 0 else None, self.sheets, self.next_number, self.numbers

    def do(self, what: str) -> None:
        if what == "names":
            self.next_number += 5
        elif what == "choose":
            self.chosen = (self.chosen + 1) % 3
        elif what == "measure":
            self.sheets += 1
        elif what == "saw":
            self.numbers.append(self.next_number)
            self.next_number += 1


Written = tuple[str | None, int, int, list[int]]
"""Which plan is chosen, how many sheets the log has, the next number of its code, the numbers of its pieces in order."""


def written_of(book: Book) -> Written:
    """All that the two write, as the read models have it."""
    with reading(book.engine) as at:
        chosen = at.execute(select(models.chosen.c.plan)).scalar()
        sheets = at.execute(select(func.count()).select_from(models.sheet)).scalar_one()
        following = at.execute(select(models.code.c.next_number).where(models.code.c.code == "A")).scalar_one()
        return chosen, sheets, following, list(at.execute(select(models.piece.c.number).order_by(models.piece.c.seq)).scalars())


TOUCHES = {"names": {"names", "saw"}, "choose": {"choose", "saw", "measure"}}
"""what, in between, makes a decision stale"""


INTERLEAVINGS, BOOKS = 1000, 5
"""shared out among books: in one that is written so fast PostgreSQL asks longer and longer"""


@pytest.mark.parametrize("part", short_first(range(BOOKS)))
def test_drawn_interleavings_of_two_writers_are_each_some_serial_order(lies: Lies, ids: Ids, part: int) -> None:
    book, draw, serial = open_book(lies), random.Random(f"two writers {part}"), Serial()
    phone, log = Device(book, ids), ids()
    phone.send(LogArrived(log, "sheet", "ash", code="A"))
    plans = tuple(ids() for _ in range(3))
    for plan in plans:
        phone.send(PlanMade(plan, log, 1, book.files.keep(plan.encode()), "through", 3))
    two = [Writer(lies, ids, log, plans) for _ in range(2)]
    refusals = 0
    for _ in range(INTERLEAVINGS // BOOKS):
        jobs = [[draw.choice(["names", "choose", "choose", "saw", "measure"]) for _ in range(2)] for _ in two]
        steps = [0] * 4 + [1] * 4
        draw.shuffle(steps)
        done, since, looked = [0, 0], [set[str](), set[str]()], [False, False]
        for who in steps:
            what = jobs[who][done[who]]
            if not looked[who]:
                two[who].look(what)
                looked[who], since[who] = True, set()
                continue
            became = two[who].act(what)
            assert (became == "refused") == bool(TOUCHES.get(what, set()) & since[who])
            if became == "refused":
                refusals += 1
            else:
                serial.do(what)
                since[1 - who].add(what)
            looked[who], done[who] = False, done[who] + 1
        assert written_of(book) == serial.written(plans)
    assert refusals > 100 // BOOKS
    with reading(book.engine) as at:
        assert standing(at) == standing_anew(at)
    for each in (book, *(writer.book for writer in two)):
        each.close()


def test_writers_at_the_very_same_time_stand_in_line(book: Book, lies: Lies, ids: Ids) -> None:
    phones = [Device(open_book(lies), Ids(("at once", n))) for n in range(3)]

    def write(phone: Device) -> None:
        for _ in range(15):
            phone.send(CameOff(phone.ids()))

    threads = [threading.Thread(target=write, args=(phone,)) for phone in phones]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert seqs(book) == list(range(1, 46))
    assert len({piece.name for piece in pieces(book)}) == 45
    with reading(book.engine) as at:
        assert standing(at) == standing_anew(at)
    for phone in phones:
        phone.book.close()


# no room


def written(book: Book, command: Command) -> bool:
    try:
        book.send(command, NOW)
    except BookFull:
        return False
    return True


def test_a_full_disk_writes_nothing_and_loses_nothing(empty_book: Path, tmp_path: Path, ids: Ids) -> None:
    """SQLite is given a few pages more than it has; it fails as on a full disk (SQLITE_FULL)."""
    book = open_book(fresh_copy(empty_book, tmp_path / "yard"))
    with book.engine.connect() as at:
        pages = at.exec_driver_sql("PRAGMA page_count").scalar_one()
    limit = [pages + 12]
    engine_event.listen(book.engine, "checkout", lambda c, *_: c.execute(f"PRAGMA max_page_count={limit[0]}").close())
    phone, acknowledged, command = Device(book, ids), 0, None
    while command is None or (acknowledged < 500 and written(book, command)):
        acknowledged += command is not None
        command = phone.command(NoteWritten(f"person:{ids()}", "words " * 200))
    with pytest.raises(BookFull, match="nothing was written"):
        book.send(command, NOW)
    assert seqs(book) == list(range(1, acknowledged + 1)) and acknowledged > 0
    assert examine(book).unsound == ()
    limit[0] = pages + 1000
    assert book.send(command, NOW).seq == acknowledged + 1
    book.close()


ON_A_SMALL_DISK = """
import sys; from pathlib import Path
from tests.yard.conftest import NOW, Device, Ids
from waney.yard.acts.people_places import NoteWritten
from waney.yard.book.book import make_book
from waney.yard.book.engine import in_folder
from waney.yard.book.examining import examine
from waney.yard.problems import BookFull
disk = Path(sys.argv[1]); ids = Ids("disk"); filler = disk / "filler"; filler.write_bytes(bytes(200_000))
book = make_book(in_folder(disk / "yard"), NOW); kept = 0
try:
    for n in range(99): book.files.keep(bytes([n]) * 100_000); kept += 1
except BookFull: print("files full", kept)
assert len(list(book.files.names())) == kept and not list(book.files.folder.glob("half*"))
phone = Device(book, ids); written = 0
try:
    for n in range(9999): phone.send(NoteWritten("person:" + ids(), "words " * 200)); written += 1
except BookFull: print("book full", written)
filler.unlink()
assert phone.send(NoteWritten("person:" + ids(), "words")).seq == written + 1
assert examine(book).unsound == (), examine(book).unsound
print("sound")
"""


def test_on_a_disk_of_two_megabytes_files_and_events_stay_whole(tmp_path: Path) -> None:
    """A real small disk (tmpfs in a namespace of its own), where this machine lets us have one."""
    mount = f"mount -t tmpfs -o size=2m none {tmp_path} && exec {sys.executable} - {tmp_path}"
    try:
        done = subprocess.run(
            ["unshare", "-m", "sh", "-c", mount], input=ON_A_SMALL_DISK, env=HERE, cwd=ROOT, text=True, capture_output=True
        )
    except FileNotFoundError:
        pytest.skip("needs unshare, to mount a small disk")
    if "unshare" in done.stderr or "mount:" in done.stderr:
        pytest.skip("needs the right to mount a small disk")
    assert done.returncode == 0, done.stderr
    assert "files full" in done.stdout and "book full" in done.stdout and done.stdout.endswith("sound\n"), done.stdout
