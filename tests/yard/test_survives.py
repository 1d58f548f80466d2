"""What the book survives: being killed, two writers at once, a full disk, a photo cut off in the middle."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import threading
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event as engine_event
from sqlalchemy import select

from waney.yard.acts.logs import LogArrived, LogMeasured, PlanChosen, PlanMade
from waney.yard.acts.mill import CameOff
from waney.yard.acts.people_places import NoteWritten, PhotoTaken
from waney.yard.acts.pieces import NamesTaken
from waney.yard.book import models, truth
from waney.yard.book.book import Book, open_book
from waney.yard.book.engine import Lies, in_folder, reading
from waney.yard.book.examining import examine
from waney.yard.book.looking import logs, next_free, pieces
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.commands import Command, Read
from waney.yard.names import read_name
from waney.yard.problems import BookFull, FileLost, Refused

from .conftest import NOW, Device, Ids, fresh_copy
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


def written_until_killed(folder: Path, seed: int, start: int, after: int) -> dict[int, str]:
    """What a writer said until it was killed, which happens in the middle of whatever it does then."""
    words = [sys.executable, "-m", "tests.yard.writer", str(folder), str(seed), "1000", str(start)]
    said: dict[int, str] = {}
    with subprocess.Popen(words, env=HERE, cwd=ROOT, stdout=subprocess.PIPE, text=True) as writer:
        for line in writer.stdout or ():
            place, became = line.split()
            said[int(place)] = became
            if len(said) == after:
                writer.kill()
    return said


def test_killed_in_the_middle_of_a_thousand_commands_nothing_acknowledged_is_lost(empty_book: Path, tmp_path: Path) -> None:
    folder, draw = tmp_path / "yard", random.Random(9)
    fresh_copy(empty_book, folder)
    said: dict[int, str] = {}
    for after in (draw.randint(20, 300), draw.randint(20, 300), 2000):
        start = max(len(said) - 3, 0)  # a phone that heard no answer sends again
        said |= written_until_killed(folder, 5, start, after)
    drawn, row = commands(5, 1000)
    assert sorted(said) == list(range(1000)) and {"written", "refused"} == set(said.values())
    book = open_book(in_folder(folder))
    with reading(book.engine) as at:
        held = set(at.execute(select(truth.event.c.command)).scalars())
        assert held >= {command.id for place, command in enumerate(row) if said[place] == "written"}
        survived = standing(at)
        assert survived == standing_anew(at)
    assert examine(book).unsound == ()
    book.close()
    undisturbed = hasty(open_book(fresh_copy(empty_book, tmp_path / "undisturbed")))
    for command in row:
        send(undisturbed, drawn, command)
    with reading(undisturbed.engine) as at:
        assert standing(at) == survived
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


TOUCHES = {"names": {"names", "saw"}, "choose": {"choose", "saw", "measure"}}
"""what, in between, makes a decision stale"""


INTERLEAVINGS = {"sqlite": 1000, "postgresql": 500}
"""1,000 hold on the server too (seen once), but take it three and a half times as long: each command is a dozen questions"""


def test_drawn_interleavings_of_two_writers_are_each_some_serial_order(lies: Lies, ids: Ids) -> None:
    book, draw, serial = open_book(lies), random.Random(3), Serial()
    phone, log = Device(book, ids), ids()
    phone.send(LogArrived(log, "sheet", "ash", code="A"))
    plans = tuple(ids() for _ in range(3))
    for plan in plans:
        phone.send(PlanMade(plan, log, 1, book.files.keep(plan.encode()), "through", 3))
    two = [Writer(lies, ids, log, plans) for _ in range(2)]
    refusals = 0
    for _ in range(INTERLEAVINGS[book.engine.dialect.name]):
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
    [stands] = logs(book)
    assert refusals > 100
    assert (stands.chosen, stands.sheets) == (plans[serial.chosen], serial.sheets)
    assert next_free(book, "A")[0] == serial.next_number
    assert [read_name(piece.name).number for piece in pieces(book)] == serial.numbers
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
