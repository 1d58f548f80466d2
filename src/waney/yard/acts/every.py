"""Every act there is, the word each is written with, and the version of its form."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, get_args

from waney.figures.json_out import Encoder
from waney.figures.typed_json import BadJson, Decoder, Json, kind_name
from waney.yard.acts.counts import CountBegun, CountEnded, TagSeen
from waney.yard.acts.custom import (
    CustomAgreed,
    CustomAgreedAnew,
    CustomAsked,
    CustomBilled,
    CustomEnded,
    CustomLogsTold,
    CustomShared,
    LogSawnFor,
)
from waney.yard.acts.drying import ProngsSeen, SampleCut, SectionsDried, SidesTold, StackStood, ToWeigh
from waney.yard.acts.kilns import LoadHandedOver, LoadTakenBack, OwnersTold
from waney.yard.acts.logs import EndsSealed, LogArrived, LogEnded, LogMeasured, PlanChosen, PlanMade
from waney.yard.acts.mending import TakenBack, TaskSettled
from waney.yard.acts.mill import AtTheMill, CameOff, DayClosed, DayOpened, PiecesGoTo
from waney.yard.acts.offers import StemFelled, TreeAnswered, TreeOffered, TreeToldAgain
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
    HoldEnded,
    LeaseClosed,
    LeaseTaken,
    Priced,
    Quoted,
    QuoteEnded,
)
from waney.yard.acts.sales import BuysHere, KilnShared, Paid, Returned, Sold, SoldAway, Spent
from waney.yard.acts.settings import Settled
from waney.yard.acts.stacks import IntoKiln, MoistureRead, OutOfKiln, PutOnStack, StackBuilt, TakenOffStack
from waney.yard.acts.wishes import WishEnded, WishLeft
from waney.yard.problems import BadAct

Act = (
    PersonAdded | PersonForgotten | SpotNamed | Moved | Weighed | NoteWritten | PhotoTaken | PhotoFiled
    | LogArrived | LogMeasured | EndsSealed | LogEnded | PlanMade | PlanChosen
    | DayOpened | DayClosed | PiecesGoTo | CameOff | AtTheMill
    | PieceCounted | PieceMeasured | PieceSized | FigureSeen | RoomTold | Tagged | NamesExchanged | BoulePutInOrder
    | SetMade | SetTakenApart | PieceEnded | NamesTaken
    | TakenBack | TaskSettled
    | TreeOffered | TreeToldAgain | TreeAnswered | StemFelled
    | Settled
    | StackBuilt | PutOnStack | TakenOffStack | IntoKiln | OutOfKiln | MoistureRead
    | LoadHandedOver | LoadTakenBack | OwnersTold
    | StackStood | SidesTold | ToWeigh | SampleCut | SectionsDried | ProngsSeen
    | Priced | Quoted | QuoteEnded | Held | HoldAsked | HoldEnded | DepositSettled | LeaseTaken | LeaseClosed
    | Sold | SoldAway | Paid | Returned | Spent | KilnShared | BuysHere
    | WishLeft | WishEnded
    | CountBegun | TagSeen | CountEnded
    | CustomAsked | CustomLogsTold | CustomAgreed | CustomAgreedAnew | LogSawnFor | CustomShared | CustomBilled | CustomEnded
)  # fmt: skip

_ALL: tuple[Any, ...] = get_args(Act)
ACTS: Mapping[str, type[Act]] = MappingProxyType({kind_name(cls): cls for cls in _ALL})
FORM = 1
"""Version of the bodies. A field that comes later has a default, so that an older body still reads; no default ever changes."""


def act_kind(act: Act) -> str:
    """The word for an act: "came-off"."""
    cls: Any = type(act)
    return kind_name(cls)


def act_json(act: Act) -> Json:
    """The fields of an act; those at their default are left out, so that a body says what was told."""
    bare = Encoder().encode(act, type(act))
    plain = {name: field.default for name, field in type(act).__dataclass_fields__.items()}
    return {name: value for name, value in bare.items() if not _same(value, plain[name])}


def _same(value: Json, default: object) -> bool:
    told = list(default) if isinstance(default, tuple) else default
    return bool(value == told) and isinstance(value, bool) == isinstance(default, bool)


_DECODER = Decoder()


def act_of(kind: str, body: Json) -> Act:
    """The act that a kind and a body mean. Raises BadAct."""
    if kind not in ACTS:
        raise BadAct(f'"{kind[:60]}" is no act that this program knows; a newer program may have sent it.')
    try:
        act: Act = _DECODER.fields(body, ACTS[kind], kind)
    except BadJson as slip:
        raise BadAct(str(slip)) from None
    return act
