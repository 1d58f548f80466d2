"""The book as a machine: any row of acts, held against a model of a few lines."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, rule

from waney.yard.acts.every import Act
from waney.yard.acts.logs import LogArrived, PlanChosen, PlanMade
from waney.yard.acts.mending import TakenBack
from waney.yard.acts.mill import CameOff
from waney.yard.acts.people_places import Moved, SpotNamed
from waney.yard.acts.pieces import PieceEnd, PieceEnded
from waney.yard.acts.stacks import IntoKiln, OutOfKiln, PutOnStack, StackBuilt, TakenOffStack
from waney.yard.book.book import Answer, Book, make_book
from waney.yard.book.drying_seen import loads, on_stack, stacks
from waney.yard.book.engine import by_address, in_folder, reading
from waney.yard.book.kiln_seen import pieces_in
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import open_tasks, pieces
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.commands import Command, Read
from waney.yard.names import Name, read_name
from waney.yard.problems import Refused

from .conftest import NOW, SERVER, Device, Ids, new_schema
from .test_survives import hasty


class Yard(RuleBasedStateMachine):
    """Two phones and a few things.

    Spots that nobody named make what speaks of them wait; a piece that is no more makes what is done to it a task.
    """

    things = Bundle("things")
    spots = Bundle("spots")
    sent = Bundle("sent")
    built = Bundle("built")
    filled = Bundle("filled")

    @initialize()
    def begin(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.book: Book = self.new_book()
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
        self.stacks: dict[str, str] = {}
        self.on: dict[str, str] = {}
        self.loads: dict[str, set[str]] = {}
        self.out: set[str] = set()

    def new_book(self) -> Book:
        return hasty(make_book(in_folder(self.folder), NOW))

    @rule(target=spots, known=st.sampled_from([True, True, True, False]), who=st.integers(0, 1))
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
            self.on.pop(piece, None)

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

    def tells(self, who: int, act: Act, *some: str) -> Answer:
        """Send what also counts in some pieces."""
        self.events += 1
        for piece in some:
            self.told[piece] += 1
        return self.phones[who].send(act)

    def stops(self, some: tuple[str, ...]) -> bool:
        """Whether one of them is no more, so that nothing of the act is applied."""
        return any(piece in self.ended for piece in some)

    def lies_on(self, stack: str, some: tuple[str, ...]) -> None:
        for piece in some:
            self.on[piece] = stack
            if self.stacks[stack]:
                self.at[piece] = self.stacks[stack]

    @rule(target=built, one=sent, other=sent, spot=st.one_of(st.just(""), spots), layers=st.integers(0, 2), who=st.integers(0, 1))
    def builds(self, one: Command, other: Command, spot: str, layers: int, who: int) -> str:
        stack, some = self.ids(), pieces_of(one, other)[:layers]
        answer = self.tells(who, StackBuilt(stack, "stack", spot, tuple((piece,) for piece in some)), *some)
        there = not spot or spot in self.known
        assert bool(answer.tasks) == (not there or self.stops(some))
        if there and not self.stops(some):
            self.stacks[stack] = spot
            self.lies_on(stack, some)
        return stack

    @rule(stack=built, one=sent, other=sent, layer=st.sampled_from([None, 1, 4]), who=st.integers(0, 1))
    def puts_on(self, stack: str, one: Command, other: Command, layer: int | None, who: int) -> None:
        some = pieces_of(one, other)
        answer = self.tells(who, PutOnStack(stack, some, layer), *some)
        assert bool(answer.tasks) == (stack not in self.stacks or self.stops(some))
        if not answer.tasks:
            self.lies_on(stack, some)

    @rule(stack=built, one=sent, other=sent, spot=st.one_of(st.just(""), spots), who=st.integers(0, 1))
    def takes_off(self, stack: str, one: Command, other: Command, spot: str, who: int) -> None:
        some = pieces_of(one, other)
        answer = self.tells(who, TakenOffStack(stack, some, spot), *some)
        there = stack in self.stacks and (not spot or spot in self.known)
        assert bool(answer.tasks) == (not there or self.stops(some))
        if not answer.tasks:
            self.on = {piece: lies for piece, lies in self.on.items() if piece not in some or lies != stack}
            self.at |= dict.fromkeys(some, spot) if spot else {}

    @rule(stack=built, spot=spots, who=st.integers(0, 1))
    def moves_stack(self, stack: str, spot: str, who: int) -> None:
        answer = self.tells(who, Moved(f"stack:{stack}", spot))
        assert bool(answer.tasks) == (stack not in self.stacks or spot not in self.known)
        if not answer.tasks:
            self.stacks[stack] = spot
            self.lies_on(stack, tuple(piece for piece, lies in self.on.items() if lies == stack))

    @rule(target=filled, stack=built, one=sent, alone=st.booleans(), who=st.integers(0, 1))
    def goes_into_kiln(self, stack: str, one: Command, alone: bool, who: int) -> str:
        load, some = self.ids(), pieces_of(one) if alone else ()
        answer = self.tells(who, IntoKiln(load, "kiln", (stack,), some), *some)
        assert bool(answer.tasks) == (stack not in self.stacks or self.stops(some))
        if not answer.tasks:
            self.loads[load] = {*some, *(piece for piece, lies in self.on.items() if lies == stack)}
        return load

    @rule(load=filled, who=st.integers(0, 1))
    def comes_out(self, load: str, who: int) -> None:
        assert bool(self.tells(who, OutOfKiln(load)).tasks) == (load not in self.loads)
        if load in self.loads:
            self.out.add(load)

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

    @invariant()
    def what_dries_stands_as_the_model(self) -> None:
        if not hasattr(self, "book"):
            return
        stood = {each.id: (each.spot, each.pieces) for each in stacks(self.book)}
        lie = {stack: {piece for piece in self.named if self.on.get(piece) == stack} for stack in self.stacks}
        assert stood == {stack: (spot, len(lie[stack])) for stack, spot in self.stacks.items()}
        assert {stack: {piece.id for _, piece in on_stack(self.book, stack)} for stack in stood} == lie
        inside = {load: held & self.named.keys() for load, held in self.loads.items()}
        assert {load: {held.piece.id for held in pieces_in(self.book, load)} for load in inside} == inside
        told = {each.id: (each.pieces, each.out) for each in loads(self.book)}
        assert told == {load: (len(held), load in self.out) for load, held in inside.items()}

    def teardown(self) -> None:
        if hasattr(self, "book"):
            with reading(self.book.engine) as at:
                assert standing(at) == standing_anew(at)
            assert all(task.event.seq <= self.events for task in open_tasks(self.book))
            self.book.close()
            self.take_away()

    def take_away(self) -> None:
        shutil.rmtree(self.folder)


def pieces_of(*commands: Command) -> tuple[str, ...]:
    """The pieces that came off with some commands, each once."""
    return tuple(dict.fromkeys(command.act.streams()[0].partition(":")[2] for command in commands))


class YardPostgresql(Yard):
    """The same in a schema of its own on the server for tests."""

    drop: Callable[[], None]

    def new_book(self) -> Book:
        address, self.drop = new_schema()
        return make_book(by_address(address, self.folder), NOW)

    def take_away(self) -> None:
        self.drop()
        super().take_away()


for machine in (Yard, YardPostgresql):
    machine.TestCase.settings = settings(max_examples=20, stateful_step_count=60, deadline=None, phases=(Phase.generate,))
TestYard = pytest.mark.long(Yard.TestCase)
needs_server = pytest.mark.skipif(not os.environ.get(SERVER), reason=f"needs a PostgreSQL server ({SERVER})")
TestYardPostgresql = needs_server(YardPostgresql.TestCase)
