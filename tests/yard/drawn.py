"""Commands drawn at random: what people do, in any order, with clashes, things not known yet, and stale decisions among them."""

from __future__ import annotations

import random
from collections.abc import Callable
from hashlib import sha256

from waney.trade.costing import What
from waney.trade.counted import By
from waney.trade.way_paid import How
from waney.yard.acts.base import Decision
from waney.yard.acts.counts import CountBegun, CountEnded, TagSeen
from waney.yard.acts.custom import (
    BilledLine,
    CustomAgreed,
    CustomAgreedAnew,
    CustomAsked,
    CustomBilled,
    CustomEnded,
    CustomLogsTold,
    CustomShared,
    LogSawnFor,
    LogScaled,
)
from waney.yard.acts.drying import (
    Bark,
    Ends,
    Prongs,
    ProngsSeen,
    SampleCut,
    SectionsDried,
    Shelter,
    SidesTold,
    StackStood,
    ToWeigh,
)
from waney.yard.acts.every import Act
from waney.yard.acts.kilns import BroughtBack, HandedPiece, LoadHandedOver, LoadTakenBack, OwnersTold, PieceOwner, Treated
from waney.yard.acts.logs import LogArrived, LogEnd, LogEnded, LogMeasured, PlanChosen, PlanMade
from waney.yard.acts.mending import TakenBack, TaskSettled
from waney.yard.acts.mill import AtTheMill, CameOff, DayClosed, DayOpened, Happened, Off, PiecesGoTo, Transform
from waney.yard.acts.people_places import (
    Moved,
    NoteWritten,
    PersonAdded,
    PersonForgotten,
    PhotoFiled,
    PhotoTaken,
    SpotNamed,
    Weighed,
)
from waney.yard.acts.pieces import (
    BoulePutInOrder,
    FigureSeen,
    NamesExchanged,
    NamesTaken,
    PieceCounted,
    PieceEnd,
    PieceEnded,
    PieceMeasured,
    PieceSized,
    RoomTold,
    SetMade,
    SetTakenApart,
    Tagged,
)
from waney.yard.acts.promises import (
    DepositSettled,
    Held,
    HoldAsked,
    HoldEnd,
    HoldEnded,
    LeaseClosed,
    LeaseTaken,
    Priced,
    PricedPiece,
    Quoted,
    QuoteEnded,
)
from waney.yard.acts.sales import BuysHere, KilnShared, Paid, Returned, Sold, SoldAway, Spent, TaxTaken
from waney.yard.acts.stacks import IntoKiln, MoistureRead, OutOfKiln, PutOnStack, ReadBy, StackBuilt, TakenOffStack
from waney.yard.acts.wishes import WishEnded, WishLeft
from waney.yard.commands import Command, Read
from waney.yard.names import Name

from .conftest import HAPPENED, Ids

KINDS = (
    "quote",
    "log",
    "day",
    "piece",
    "spot",
    "person",
    "plan",
    "photo",
    "stack",
    "load",
    "hold",
    "lease",
    "sale",
    "wish",
    "count",
    "custom",
    "set",
)


class Drawn:
    """An endless row of commands from two devices; the same for the same seed."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.ids = Ids(("drawn", seed))
        self.devices = {self.ids(): 0, self.ids(): 0}
        self.known: dict[str, list[str]] = {kind: [self.ids()] for kind in KINDS}
        self.sent: list[Command] = []
        self.contents: dict[str, bytes] = {}

    def some(self, kind: str) -> str:
        return self.random.choice(self.known[kind][-6:])

    def new(self, kind: str) -> str:
        """A new thing; now and then one that somebody spoke of before it was there."""
        if self.random.random() < 0.3:
            return self.some(kind)
        self.known[kind].append(self.ids())
        return self.known[kind][-1]

    def maybe(self, kind: str) -> str:
        return self.some(kind) if self.random.random() < 0.7 else ""

    def file(self) -> str:
        content = self.ids().encode()
        name = sha256(content).hexdigest()
        self.contents[name] = content
        return name

    def several(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(self.some("piece") for _ in range(4)))

    def name(self) -> str:
        return str(Name(self.random.choice(["A", "B", "MK"]), self.random.randint(1, 40)))

    def name_if_any(self) -> str:
        return self.name() if self.random.random() < 0.5 else ""

    def command(self) -> Command:
        """The next command."""
        act = self.random.choice(self.makers())()
        device = self.random.choice(list(self.devices))
        self.devices[device] += 1
        read = tuple(Read(each, self.random.randint(0, 3)) for each in act.streams()[: None if isinstance(act, Decision) else 1])
        command = Command(self.ids(), device, self.devices[device], "", HAPPENED, act, read)
        self.sent.append(command)
        return command

    def makers(self) -> list[Callable[[], Act]]:
        often = [self.came_off] * 8 + [self.moved] * 3
        return [
            *often,
            self.log,
            self.measured,
            self.ended,
            self.plan,
            self.chosen,
            self.day,
            self.closed,
            self.mill,
            *self.rest(),
        ]

    def rest(self) -> list[Callable[[], Act]]:
        draw = self.random
        return [
            lambda: SpotNamed(self.new("spot"), "rack"),
            lambda: PersonAdded(self.new("person"), "Jo"),
            lambda: PersonForgotten(self.some("person")),
            lambda: Weighed(f"piece:{self.some('piece')}", draw.uniform(1, 90)),
            lambda: NoteWritten(f"log:{self.some('log')}", "words"),
            lambda: PhotoTaken(self.new("photo"), self.file(), wet=draw.choice([None, True, False])),
            lambda: PhotoFiled(self.some("photo"), f"piece:{self.some('piece')}"),
            lambda: PieceCounted(self.new("piece"), "elm", self.name_if_any(), spot=self.maybe("spot")),
            lambda: Tagged(self.some("piece"), self.name()),
            self.apart,
            lambda: PieceMeasured(self.some("piece"), 'format = "waney-piece/1"' + draw.choice(["", "\n[edges]"])),
            lambda: PieceSized(0.05, 2.0, 0.4, 0.41, 0.42, 0.5, 0.35, 0.82, self.some("piece"), draw.randint(1, 400)),
            lambda: FigureSeen(self.some("piece"), draw.choice(["curl", ""])),
            lambda: RoomTold(self.some("piece"), "Madison WI", "70 F"),
            lambda: PieceEnded(self.some("piece"), draw.choice(list(PieceEnd))),
            lambda: NamesTaken("MK", first := draw.randint(1, 60), first + 9, next(iter(self.devices))),
            lambda: TaskSettled(f"both-{draw.randint(1, 1 + len(self.sent))}", draw.random() < 0.5),
            self.taken_back,
            lambda: PiecesGoTo(self.some("day"), self.maybe("spot")),
            self.exchanged,
            self.together,
            self.boule,
            lambda: StackBuilt(self.new("stack"), "stack", self.maybe("spot"), (self.several(),)),
            lambda: PutOnStack(self.some("stack"), self.several(), draw.choice([None, 1, 2])),
            lambda: TakenOffStack(self.some("stack"), self.several(), self.maybe("spot")),
            lambda: IntoKiln(self.new("load"), "kiln", (self.some("stack"),), self.several()),
            lambda: OutOfKiln(self.some("load")),
            lambda: LoadHandedOver(self.new("load"), "kiln", "Bo", tuple(HandedPiece(each, "Ann") for each in self.several())),
            lambda: OwnersTold(self.some("load"), tuple(PieceOwner(each, "Bo") for each in self.several())),
            lambda: LoadTakenBack(
                self.some("load"), tuple(map(BroughtBack, self.several())), treated=draw.choice(list(Treated)[:3])
            ),
            *self.selling(),
            *self.customs(),
            lambda: MoistureRead(f"piece:{self.some('piece')}", draw.uniform(0.05, 0.9), draw.choice(list(ReadBy))),
            lambda: StackStood(self.some("stack"), shelter=draw.choice([None, *Shelter])),
            lambda: ToWeigh(self.some("stack"), self.several()),
            lambda: SidesTold(self.several(), draw.choice(list(Bark)), draw.choice([None, *Ends])),
            lambda: SampleCut(self.some("piece"), draw.uniform(1, 9), (0.2, 0.3)),
            lambda: SectionsDried(self.some("piece"), draw.choice([(0.1, 0.1), (0.1, 0.1, 0.1)])),
            lambda: ProngsSeen(f"piece:{self.some('piece')}", draw.choice(list(Prongs))),
        ]

    def selling(self) -> list[Callable[[], Act]]:
        draw, day = self.random, "2026-05-07"

        def parts() -> tuple[PricedPiece, ...]:
            return tuple(PricedPiece(piece, draw.randint(0, 900)) for piece in self.several())

        return [
            lambda: Priced(self.some("piece"), draw.choice([None, 5, 700])),
            lambda: Quoted(self.new("quote"), self.some("person"), parts(), day, hold=self.maybe("hold")),
            lambda: QuoteEnded(self.some("quote")),
            lambda: Held(self.new("hold"), self.some("person"), self.several(), day, draw.randint(0, 9)),
            lambda: HoldAsked(self.new("hold"), self.some("person"), self.several()[:2], draw.choice([day, "2026-05-01"])),
            lambda: HoldEnded(self.some("hold"), draw.choice(list(HoldEnd)), draw.randint(0, 3)),
            lambda: DepositSettled(self.some("hold"), draw.randint(0, 3), draw.randint(0, 3)),
            lambda: LeaseTaken(self.new("lease"), next(iter(self.devices)), self.several(), day),
            lambda: LeaseClosed(self.some("lease"), self.several()),
            lambda: Sold(
                self.new("sale"), parts(), day, self.maybe("person"), 5, taxes=(TaxTaken("tax", 1),), quote=self.maybe("quote")
            ),
            lambda: SoldAway(self.new("sale"), parts(), day, paid_cents=7, lease=self.maybe("lease")),
            lambda: Returned(self.some("sale"), self.several()[:1], 3, self.maybe("spot")),
            lambda: Paid(f"{(kind := draw.choice(['sale', 'hold', 'custom']))}:{self.some(kind)}", 4),
            lambda: Spent(f"piece:{self.some('piece')}", draw.choice(list(What)), draw.randint(-9, 9)),
            lambda: KilnShared(self.some("load"), parts()),
            lambda: BuysHere(self.some("person")),
            lambda: WishLeft(self.new("wish"), self.some("person"), day, "ash", width_m=0.3),
            lambda: WishEnded(self.some("wish")),
            lambda: CountBegun(self.new("count"), self.maybe("spot")),
            lambda: TagSeen(self.some("count"), self.name(), self.maybe("piece")),
            lambda: CountEnded(self.some("count")),
        ]

    def customs(self) -> list[Callable[[], Act]]:
        draw, day = self.random, "2026-05-07"
        return [
            lambda: CustomAsked(self.new("custom"), self.some("person"), "by the road"),
            lambda: CustomLogsTold(self.some("custom"), (self.some("log"),)),
            lambda: CustomAgreed(
                self.some("custom"), draw.choice(list(How)), day, "", (LogScaled(self.some("log"), By.DOYLE, 108.0),)
            ),
            lambda: CustomAgreedAnew(self.some("custom"), By.TALLY, 40.0, 108.0, 130.5),
            lambda: LogSawnFor(self.some("custom"), self.some("log"), 0.75, 1),
            lambda: CustomShared(self.some("custom"), self.several()[:1]),
            lambda: CustomBilled(self.some("custom"), day, (BilledLine("sawing", 95_00),), (TaxTaken("tax", 1),)),
            lambda: CustomEnded(self.some("custom")),
        ]

    def came_off(self) -> Act:
        links = {"day": self.maybe("day"), "log": self.maybe("log"), "plan": self.maybe("plan")}
        parent = self.maybe("piece") if self.random.random() < 0.2 else ""
        piece = self.new("piece")
        sizes = (self.random.uniform(0.1, 0.6), self.random.uniform(0.1, 0.6))
        how = self.random.choice(list(Off))
        parent = "" if parent == piece else parent
        return CameOff(
            piece,
            **links,
            parent=parent,
            name=self.name_if_any(),
            cut=self.random.randint(1, 9),
            how=how,
            widths_m=sizes,
            transform=self.random.choice([None, *Transform]) if parent else None,
        )

    def moved(self) -> Act:
        return Moved(self.random.choice([f"{kind}:{self.some(kind)}" for kind in ("piece", "log", "stack")]), self.some("spot"))

    def log(self) -> Act:
        return LogArrived(self.new("log"), "sheet", "ash", self.random.choice(["", "A", "B"]), spot=self.maybe("spot"))

    def measured(self) -> Act:
        return LogMeasured(self.some("log"), "sheet again", "oak")

    def ended(self) -> Act:
        return LogEnded(self.some("log"), self.random.choice(list(LogEnd)))

    def plan(self) -> Act:
        return PlanMade(self.new("plan"), self.some("log"), 1, self.file(), "through", 9)

    def chosen(self) -> Act:
        return PlanChosen(self.some("log"), self.some("plan"))

    def day(self) -> Act:
        return DayOpened(self.new("day"), "2026-05-04")

    def closed(self) -> Act:
        return DayClosed(self.some("day"))

    def mill(self) -> Act:
        return AtTheMill(self.random.choice(list(Happened)), self.some("day"), self.maybe("log"), self.maybe("piece"))

    def taken_back(self) -> Act:
        slip = self.random.choice(self.sent[-5:]) if self.sent else None
        about = slip.act.streams()[0] if slip is not None else ""
        if slip is None or about.partition(":")[0] not in KINDS:
            return DayOpened(self.new("day"), "2026-05-05")
        return TakenBack(slip.id, about)

    def together(self) -> Act:
        pieces = self.several()
        return SetMade(self.new("set"), pieces) if len(pieces) > 1 else self.moved()

    def apart(self) -> Act:
        pieces = self.several()
        return SetTakenApart(self.some("set"), pieces) if len(pieces) > 1 else self.moved()

    def exchanged(self) -> Act:
        pieces = self.several()
        return NamesExchanged(pieces[:2]) if len(pieces) > 1 else self.moved()

    def boule(self) -> Act:
        pieces = self.several()
        return BoulePutInOrder(self.some("log"), pieces) if len(pieces) > 1 else self.moved()
