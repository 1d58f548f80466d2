"""Times a yard book of 500 logs, 20,000 pieces and 200,000 events: reading all events anew, and what pages ask for.

The yard is drawn (seed 1): no yard that exists. Writes its part of docs/performance.md.
"""

from __future__ import annotations

import os
import platform
import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID

from pages import write_book
from sqlalchemy import insert, update

from waney.yard.acts.every import Act
from waney.yard.acts.logs import LogArrived, PlanChosen, PlanMade
from waney.yard.acts.mill import CameOff, DayOpened
from waney.yard.acts.people_places import Moved, NoteWritten, PersonAdded, PhotoTaken, SpotNamed, Weighed
from waney.yard.acts.pieces import PieceEnd, PieceEnded
from waney.yard.book import truth
from waney.yard.book.around import spots
from waney.yard.book.book import Book, new_book, open_book
from waney.yard.book.days import latest_days
from waney.yard.book.engine import in_folder
from waney.yard.book.finding import Order, State, Wanted, find_pieces
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import open_tasks
from waney.yard.book.replaying import AT_A_TIME, read_anew
from waney.yard.book.stories import last_events, log_story, piece_story
from waney.yard.book.truth import event_from
from waney.yard.commands import Command, Read

NOTES = """What was tried for reading anew: rows written straight through the driver instead of one dictionary bound at a time, no search for loose objects
meanwhile, lookups changed only where what is looked for changed, bodies decoded without asking for fields that are not there: 6.3 s of processor time for 40,000
events became 5.2 s (both with five others at work on two cores). A profile before that had a quarter in decoding bodies and two fifths in applying acts.

After that streams are counted in place instead of by a new row for each event, rows are changed in place where nobody looks them up by what changes, events are tuples,
kinds of fields are looked up once, and indexes are made of what is there when all rows are written. By turns with the version before, on the same 200,000 events with two
or three others at work: 23.5 and 23.4 s by the clock before (18.8 to 21.3 s of processor time), 16.4 and 14.7 s after (13.7 to 16.3). Reading took
14.1 and 14.8 s of the processor, then 10.9 and 13.6; writing 4.7 and 6.5, then 2.6 and 2.8. With six others at work the new one took 20 to 23 s of processor time: what shares the cores costs more than any of this gains.
What gained too little to stay: all bodies of a heap decoded as one list (2 % of the reading, and a broken body could not be named); sorting rows by their key before
they are written (what the tables gain, the sorting takes); more memory for SQLite's pages (nothing).

On the 26th of November, evening, the whole took 21.8 and 23.0 s where the same machine had taken 13.0 s in the afternoon: it was slower by itself. By turns in that hour the reading alone took 17.9 s of the
processor with the program of the afternoon and 18.8 s with this one (tags that can be taken back, marks of photos).

On the 27th, in the night: by turns in the same minutes, with three to six others at work, 23.6 to 25.0 s of the processor before (19.4 to 20.8 reading, 4.0 to 4.2 writing) and 17.1 to 17.5 s after (14.0 to 14.3, 3.1 to 3.2). Readers of bodies
are put together once for each kind of act, and a place is only told of what does not fit (a piece that came off: 92 µs, now 40); all bodies of a heap are read before any is applied (a tenth of the reading: the processor has at hand what it does again);
SQLite takes 666 short rows in one statement in less than half the time of as many statements; rows of pieces are no longer copied to ask two columns of them. What gained too little to stay: facts built past their own constructor (0.6 µs each).
Where more than six shared the two cores the same took 18.6 s of the processor and 87.5 s by the clock; with nobody else at work the table above.
Left of the reading: a tenth fetching rows, a quarter reading bodies and checking them, the rest applying, where no function takes more than a twentieth."""
ANEW_S = 20.0
LOGS, PIECES, EVENTS, QUERIES = 500, 20_000, 200_000, 200
BEGAN = datetime(2020, 1, 6, 8, tzinfo=UTC)
SPECIES = ("white oak", "black walnut", "sugar maple", "white ash", "black cherry", "tuliptree", "elm", "honeylocust")
WORDS = (
    "curly near the butt",
    "nail hole, stained",
    "sound, straight",
    "spalted at the top end",
    "for the table",
    "check at the end",
    "wide one",
)
SHEET = (Path(__file__).parent / "sheets" / "log.toml").read_text(encoding="utf-8")


class Drawn:
    """The yard's years, act by act."""

    def __init__(self) -> None:
        self.random = random.Random(1)
        self.spots, self.people, self.pieces, self.logs = ([self.id() for _ in range(n)] for n in (120, 2, PIECES, LOGS))

    def id(self) -> str:
        """A drawn id."""
        return str(UUID(int=self.random.getrandbits(128), version=4))

    def acts(self) -> Iterator[Act]:
        """Names and spots, then log by log with its day, its pieces, and what happens to pieces all the time."""
        yield from (PersonAdded(each, f"Person {n}") for n, each in enumerate(self.people, 1))
        yield from (SpotNamed(each, f"Rack {n}", self.spots[n % 10] if n > 10 else "") for n, each in enumerate(self.spots, 0))
        a_log, told = PIECES // LOGS, len(self.people) + len(self.spots)
        rest = (EVENTS - told - PIECES - LOGS * 4) // LOGS
        for n, log in enumerate(self.logs):
            yield from self.sawn(log, self.pieces[n * a_log : (n + 1) * a_log], n)
            yield from (self.later(self.pieces[: (n + 1) * a_log]) for _ in range(rest))
        yield from (self.later(self.pieces) for _ in range(EVENTS - told - PIECES - LOGS * (4 + rest)))

    def sawn(self, log: str, pieces: list[str], n: int) -> Iterator[Act]:
        """A log arrives and is sawn in a day."""
        draw, plan, day = self.random, self.id(), self.id()
        yield LogArrived(log, SHEET, draw.choice(SPECIES), spot=draw.choice(self.spots))
        yield PlanMade(plan, log, 1, f"{n:064x}", "through and through", len(pieces))
        yield PlanChosen(log, plan)
        yield DayOpened(day, (BEGAN + timedelta(days=4 * n)).date().isoformat())
        for order, piece in enumerate(pieces, 1):
            widths = (draw.uniform(0.1, 0.7), draw.uniform(0.1, 0.7))
            thick, long = draw.choice([0.029, 0.042, 0.054, 0.067]), draw.uniform(1.2, 4.2)
            told = CameOff(piece, day, log, plan, cut=order, order=order, widths_m=widths, thickness_m=thick, length_m=long)
            yield replace(told, spot=draw.choice(self.spots))

    def later(self, pieces: list[str]) -> Act:
        """What happens to one of some pieces."""
        draw = self.random
        piece = f"piece:{draw.choice(pieces)}"
        luck = draw.random()
        if luck < 0.55:
            return Moved(piece, draw.choice(self.spots))
        if luck < 0.85:
            return Weighed(piece, draw.uniform(4, 90))
        if luck < 0.95:
            return NoteWritten(piece, draw.choice(WORDS))
        return (
            PieceEnded(piece[6:], draw.choice(list(PieceEnd)))
            if luck < 0.96
            else PhotoTaken(self.id(), f"{draw.randrange(900):064x}", piece)
        )

    def command(self, act: Act, count: int) -> Command:
        """An act on its way, a quarter of an hour after the one before."""
        read = (Read(act.streams()[0], 1),) if isinstance(act, PlanChosen) else ()
        when = (BEGAN + timedelta(minutes=15 * count)).isoformat()
        return Command(self.id(), self.spots[0], count, self.random.choice(self.people), when, act, read)


def make(folder: Path) -> tuple[float, float]:
    """A book with the drawn events; how long reading them anew and writing what they give takes, by the clock and of the processor [s]."""
    drawn, numbers = Drawn(), dict[str, int]()
    with new_book(in_folder(folder), BEGAN) as (at, _):
        rows = []
        for seq, act in enumerate(drawn.acts(), 1):
            for stream in dict.fromkeys(act.streams()):
                numbers[stream] = numbers.get(stream, 0) + 1
            command = drawn.command(act, seq)
            rows.append(event_from(command, seq, numbers[act.streams()[0]], command.happened_at)._asdict())
        assert len(rows) == EVENTS
        for start in range(0, EVENTS, AT_A_TIME):
            at.execute(insert(truth.event), rows[start : start + AT_A_TIME])
        begun, worked = time.perf_counter(), time.process_time()
        read_anew(at).write(at)
        took = time.perf_counter() - begun, time.process_time() - worked
        at.execute(update(truth.book).values(last_seq=EVENTS))
    return took


def drawn_query(draw: random.Random) -> Wanted:
    """What somebody might look for."""
    thin = draw.choice([None, None, 0.03, 0.05])
    words = draw.choice(["", "", "curly", "oak", "rack 7", "AB-1", "17", "table walnut", "spalted", "nothing like it"])
    return Wanted(
        words, draw.choice(["", "", *SPECIES]), thin, None if thin is None else thin + 0.015, draw.choice([None, 2.4]),
        draw.choice([None, None, 0.3]), draw.choice(list(State)), order=draw.choice(list(Order)),
    )  # fmt: skip


def timed(ask: Callable[[], object], times: int = QUERIES) -> list[float]:
    """How long each of some calls takes [ms]; one before is not counted."""
    ask()
    taken = []
    for _ in range(times):
        begun = time.perf_counter()
        ask()
        taken.append((time.perf_counter() - begun) * 1e3)
    return sorted(taken)


def asked(book: Book, drawn: Drawn) -> Iterator[tuple[str, list[float]]]:
    """What pages ask for, and how long each of some calls took [ms]."""
    draw = random.Random(2)
    yield f"pieces, a page of 50 and the count, {QUERIES} drawn queries", timed(lambda: find_pieces(book, drawn_query(draw)))

    def deep() -> object:
        wanted, after = drawn_query(draw), ""
        for _ in range(3):
            after = find_pieces(book, wanted, 50, after).after or after
        return after

    yield "the first three pages, one after the other", timed(deep, 50)
    yield "all logs with sheets, plans and counts", timed(lambda: logs(book), 20)
    yield "one log's whole story", timed(lambda: log_story(book, draw.choice(drawn.logs)))
    yield "one piece's whole story", timed(lambda: piece_story(book, draw.choice(drawn.pieces)))
    yield "spots with what stands there", timed(lambda: spots(book), 20)
    yield "sawing days, the last 50", timed(lambda: latest_days(book, 50), 20)
    yield "the first 50 of 20,000 open tasks", timed(lambda: open_tasks(book, 50), 20)
    yield "the last 50 events", timed(lambda: last_events(book))


def main() -> int:
    """Measure and write the page; 1 where reading anew takes longer than was asked."""
    with tempfile.TemporaryDirectory() as folder:
        took, worked = make(Path(folder))
        book = open_book(in_folder(Path(folder)))
        rows = [
            f"| {what} | {statistics.median(ms):.1f} ms | {ms[int(len(ms) * 0.95)]:.1f} ms | {ms[-1]:.1f} ms |"
            for what, ms in asked(book, Drawn())
        ]
        size = (Path(folder) / "book.sqlite").stat().st_size / 1e6
        book.close()
    machine = f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}, {platform.system()}"
    page = (
        f"""Written by `python3 dev.py prove book.py` on {time.strftime("%Y-%m-%d")} ({machine}; other work shared the machine). A drawn yard in SQLite:
{LOGS} logs, {PIECES} pieces, {EVENTS} events, {size:.0f} MB.

Reading all events anew and writing every read model: {took:.1f} s by the clock, {worked:.1f} s of one processor (asked: under {ANEW_S:.0f} s).

| what a page asks for | median | 95 % of all under | longest |
|---|---|---|---|
"""
        + "\n".join(rows)
        + "\n\n"
        + NOTES
    )
    write_book(page)
    print(page)
    return 1 if took > ANEW_S else 0


if __name__ == "__main__":
    sys.exit(main())
