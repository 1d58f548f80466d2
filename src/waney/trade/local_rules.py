"""Local rules: questions by place, never an answer. The table `local_rules` holds what a source states, with its date."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.figures.tables import Row, table

ANYWHERE = "any"
NOT_KNOWN = "We do not know for your place."


class Topic(StrEnum):
    """What is asked about."""

    TAX = "tax"
    QUARANTINE = "quarantine"
    STRUCTURE = "structure"
    HEAT = "heat treatment"


@dataclass(frozen=True)
class Question:
    """What to ask, and whom. says: what a source states for this place, with source and date; else `NOT_KNOWN`."""

    topic: Topic
    question: str
    ask: str
    says: str
    source: str = ""
    dated: str = ""


def questions(topic: Topic, place: str = "") -> tuple[Question, ...]:
    """The questions of a topic: first those of the place ("US-CA", its country too), then those that stand everywhere."""
    country = place.partition("-")[0]
    here = [row for row in _rows(topic) if place and row["place"] in (place, country)]
    return tuple(map(_question, [*here, *(row for row in _rows(topic) if row["place"] == ANYWHERE)]))


def _rows(topic: Topic) -> list[Row]:
    return [row for row in table("local_rules") if row["topic"] == topic]


def _question(row: Row) -> Question:
    says = f"A source says: {row['says']}." if row["says"] else NOT_KNOWN
    return Question(Topic(row["topic"]), row["question"], row["ask"], says, row["source"], row["dated"])
