"""The book as a machine: any row of acts, held against a model of a few lines."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, rule

from waney.yard.acts.logs import LogArrived, PlanChosen, PlanMade
from waney.yard.acts.mending import TakenBack
from waney.yard.acts.mill import CameOff
from waney.yard.acts.people_places import Moved, SpotNamed
from waney.yard.acts.pieces import PieceEnd, PieceEnded
from waney.yard.book.book import Book, make_book
from waney.yard.book.engine import in_folder, reading
from waney.yard.book.looking import logs, open_tasks, pieces
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.commands import Command, Read
from waney.yard.names import Name, read_name
from waney.yard.problems import Refused

from .conftest import NOW, Device, Ids
from .test_survives import hasty


class Yard(RuleBasedStateMachine):
    """Two phones and a few things."""

    things = Bundle("things")
    spots = Bundle("spots")
    sent = Bundle("sent")

    @initialize()
    def begin(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.book: Book = hasty(make_book(in_folder(self.folder), NOW))
        self.ids = Ids("machine")
        self.phones = [Device(self.book, self.ids) for _ in range(2)]
        self.log, self.plans = self.ids(), [self.ids(), self.ids()]
        self.phones[0].send(LogArrived(self.log, "sheet", "ash", "A"))
        for plan in self.plans:
            self.phones[0].send(PlanMade(plan, self.log, 1, self.book.files.keep(plan.encode()), "through", 3))
        self.events, self.version, self.chosen = 3, 1, ""
        self.named: dict[str, int] = {}
        self.ended: dict[str, str] = {}
        self.at: dict[str, str] = {}
        self.known: set[str] = set()
        self.told: dict[str, int] = {}

    @rule(target=spots, known=st.booleans(), who=st.integers(0, 1))
    def spot(self, known: bool, who: int) -> str:
        spot = self.ids()
        if known:
            self.phones[who].send(SpotNamed(spot, "rack"))
            self.events += 1
            self.known.add(spot)
        return spot

    @rule(target=sent, number=st.integers(1, 6), who=st.integers(0, 1))
    def comes_off(self, number: int, who: int) -> Command:
        piece = self.ids()
        command = self.phones[who].command(CameOff(piece, log=self.log, name=str(Name("A", number))))
        answer = self.book.send(command, NOW)
        clash = number in self.named.values()
        assert bool(answer.tasks) == clash
        self.named[piece] = self.number_of(piece) if clash else number
        self.told[piece] = 1
        self.events, self.version = self.events + 1, self.version + 1
        return command

    def number_of(self, piece: str) -> int:
        number = next(read_name(each.name).number for each in pieces(self.book) if each.id == piece)
        assert number not in self.named.values() and number > max(self.named.values())
        return number

    @rule(command=sent, spot=spots, who=st.integers(0, 1))
    def moves(self, command: Command, spot: str, who: int) -> None:
        piece = command.act.streams()[0].partition(":")[2]
        self.phones[who].send(Moved(f"piece:{piece}", spot))
        self.events += 1
        self.told[piece] += 1
        if spot in self.known and piece not in self.ended:
            self.at[piece] = spot

    @rule(command=sent, how=st.sampled_from(PieceEnd), who=st.integers(0, 1))
    def ends(self, command: Command, how: PieceEnd, who: int) -> None:
        piece = command.act.streams()[0].partition(":")[2]
        answer = self.phones[who].send(PieceEnded(piece, how))
        assert bool(answer.tasks) == (self.ended.get(piece, how) != how)
        self.events += 1
        self.told[piece] += 1
        self.ended.setdefault(piece, how)

    @rule(command=sent, who=st.integers(0, 1))
    def takes_back(self, command: Command, who: int) -> None:
        stream = command.act.streams()[0]
        piece = stream.partition(":")[2]
        self.phones[who].send(TakenBack(command.id, stream))
        self.events += 1
        if self.told[piece] == 1:
            self.named.pop(piece, None)
        self.told[piece] += 1

    @rule(command=sent)
    def sends_again(self, command: Command) -> None:
        assert self.book.send(command, NOW).before

    @rule(plan=st.integers(0, 1), behind=st.integers(0, 2), who=st.integers(0, 1))
    def chooses(self, plan: int, behind: int, who: int) -> None:
        read = Read(f"log:{self.log}", max(self.version - behind, 0))
        try:
            self.phones[who].send(PlanChosen(self.log, self.plans[plan]), read)
        except Refused:
            assert read.version < self.version
        else:
            assert read.version == self.version
            self.events, self.version, self.chosen = self.events + 1, self.version + 1, self.plans[plan]

    @invariant()
    def stands_as_the_model(self) -> None:
        if not hasattr(self, "book"):
            return
        [log] = logs(self.book)
        assert (log.version, log.chosen) == (self.version, self.chosen)
        stands = pieces(self.book)
        assert {piece.id: read_name(piece.name) for piece in stands} == {p: Name("A", n) for p, n in self.named.items()}
        assert all(piece.ended == self.ended.get(piece.id, "") and piece.spot == self.at.get(piece.id, "") for piece in stands)

    def teardown(self) -> None:
        if hasattr(self, "book"):
            with reading(self.book.engine) as at:
                assert standing(at) == standing_anew(at)
            assert all(task.event.seq <= self.events for task in open_tasks(self.book))
            self.book.close()
            shutil.rmtree(self.folder)


Yard.TestCase.settings = settings(max_examples=12, stateful_step_count=25, deadline=None, phases=(Phase.generate,))
TestYard = Yard.TestCase
