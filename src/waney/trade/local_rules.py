"""Local rules: questions by place, wood, bark, use; never an answer. Table `local_rules` holds what a source states, and when."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from waney.figures.tables import Row, table

ANYWHERE = "any"
NOT_KNOWN = "We do not know for your place."
BARK_ON = "on"


class Topic(StrEnum):
    """What is asked about."""

    TAX = "tax"
    QUARANTINE = "quarantine"
    STRUCTURE = "structure"
    HEAT = "heat treatment"


class Use(StrEnum):
    """What happens to the wood."""

    SALE = "sale"
    SAWING = "sawing"
    """of somebody else's logs"""
    COMING = "coming"
    """a log comes in from where it stood"""
    AWAY = "away"
    """it leaves the county, the state or the country"""
    BUILDING = "building"
    """it carries a load in a building"""


OF_A_SALE = (Use.SALE, Use.AWAY, Use.BUILDING)
"""what may become of a piece that is sold, as long as nobody said"""

UNDATED = "not known"
"""in the table: the source that was read bears no date"""


@dataclass(frozen=True)
class Question:
    """What to ask, and whom. says: what a source states for this place, with source and date; else `NOT_KNOWN`."""

    topic: Topic
    question: str
    ask: str
    says: str
    source: str = ""
    dated: str = ""

    @property
    def dated_words(self) -> str:
        """The date of what the source states, as far as it is known."""
        return "date not known" if self.dated == UNDATED else f"dated {self.dated}"


@cache
def _states() -> frozenset[str]:
    """Postal codes of the United States, as the weather stations of table `climate_us` name them."""
    return frozenset(row["state"] for row in table("climate_us"))


def state_of(place: str) -> str:
    """The state of a place as people write it; empty where it names none of the United States.

    >>> state_of("Madison WI"), state_of("Guelph ON"), state_of("")
    ('US-WI', '', '')
    """
    last = place.replace(",", " ").upper().split()[-1:]
    return f"US-{last[0]}" if last and last[0] in _states() else ""


def known_of(place: str) -> bool:
    """Whether the table has a row of just this place ("US-WI")."""
    return bool(place) and any(row["place"] == place for row in table("local_rules"))


def questions(
    topic: Topic,
    place: str = "",
    genus: str = "",
    *,
    bark: bool | None = None,
    uses: Collection[Use] = tuple(Use),
    goes_to: str | None = None,
) -> tuple[Question, ...]:
    """The questions of a topic: first those of the place ("US-CA", its country too), then those that stand everywhere.

    genus: of the wood ("Fraxinus"), empty: not known; bark: whether it is on, None: not told; uses: what may become of the wood;
    goes_to: the place it goes to, empty: one of which nothing is known here, None: not told, so that it may stay.
    What is not known leaves no question out.
    """
    there = place if goes_to is None else goes_to
    rows = [row for row in table("local_rules") if row["topic"] == topic and _concerns(row, genus, bark, uses)]
    here = [row for row in rows if _is_of(row, place, there)]
    return tuple(map(_question, [*here, *(row for row in rows if row["place"] == ANYWHERE)]))


def at_a_sale(
    place: str, genus: str, *, bark: bool | None, uses: Collection[Use] = OF_A_SALE, goes_to: str | None = None
) -> tuple[Question, ...]:
    """Everything to ask before a piece is sold, topic by topic; goes_to as in `questions`."""
    return tuple(one for topic in Topic for one in questions(topic, place, genus, bark=bark, uses=uses, goes_to=goes_to))


def when_a_log_comes(place: str, genus: str, *, bark: bool | None, theirs: bool) -> tuple[Question, ...]:
    """Everything to ask as a log comes in; theirs: it is sawn for its owner, who pays for that."""
    uses = (Use.COMING, Use.SAWING) if theirs else (Use.COMING,)
    return at_a_sale(place, genus, bark=bark, uses=uses)


def _concerns(row: Row, genus: str, bark: bool | None, uses: Collection[Use]) -> bool:
    wood = not row["wood"] or not genus or row["wood"] == genus
    return wood and not (row["bark"] == BARK_ON and bark is False) and Use(row["use"]) in uses


def _is_of(row: Row, place: str, there: str) -> bool:
    """Whether a row of one place is asked: what leaves is asked about at both ends of its way, a building where it stands."""
    ends = {Use.AWAY: (place, there), Use.BUILDING: (there,)}.get(Use(row["use"]), (place,))
    return any(row["place"] in (end, end.partition("-")[0]) for end in ends if end)


def _question(row: Row) -> Question:
    says = f"A source says: {row['says']}." if row["says"] else NOT_KNOWN
    return Question(Topic(row["topic"]), row["question"], row["ask"], says, row["source"], row["dated"])
