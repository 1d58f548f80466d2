"""Plans of a log and steps of a kept plan: what is asked of a worker, and what it answers."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass

from waney.figures.problem import Problem
from waney.web.asked.packing import read_back


@dataclass(frozen=True)
class PlanAsked:
    """What is asked: the sheets of log, mill and wants, a scan in base64; patterns: none for those of the wants sheet."""

    log: str
    mill: str
    wants: str
    scan: str = ""
    patterns: tuple[str, ...] = ()
    metric: bool = False
    printed: str = ""
    """the day that stands on the papers"""

    @property
    def sheets(self) -> Mapping[str, str]:
        """As a plan file holds them."""
        scan = {"scan": self.scan} if self.scan else {}
        return {"log": self.log, "mill": self.mill, "wants": self.wants, **scan}


@dataclass(frozen=True)
class PlanShown:
    """One plan, by what a page says of it first."""

    name: str
    pattern: str
    pieces: int
    cents: int


@dataclass(frozen=True)
class PlanAnswer:
    """What came of it. sentence: why there is no plan; rows: plans side by side; text: the whole summary.

    open_rows: the same without what each leaves, for who may not see the shop's own figures.
    """

    plans: tuple[PlanShown, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    open_rows: tuple[tuple[str, ...], ...] = ()
    sentence: str = ""
    text: str = ""
    filled_in: tuple[str, ...] = ()


@dataclass(frozen=True)
class Planned:
    """A finished job, opened."""

    content: bytes

    @property
    def answer(self) -> PlanAnswer:
        """What the page says."""
        found: PlanAnswer = read_back(self.file("answer.json"), PlanAnswer)
        return found

    def text(self, name: str) -> str:
        """One file of it."""
        return self.file(name).decode("utf-8")

    def file(self, name: str) -> bytes:
        """One file of it. Raises NoSuchPart."""
        with zipfile.ZipFile(io.BytesIO(self.content)) as files:
            try:
                return files.read(name)
            except KeyError:
                raise NoSuchPart("There is no such plan in this answer.") from None


class NoSuchPart(Problem):
    """A plan was asked for that the answer does not hold."""


@dataclass(frozen=True)
class StepsAsked:
    """A plan file whose steps at the mill are wanted."""

    plan: str
    metric: bool = False
