"""What a person does with logs: books them in, measures them again, keeps plans, chooses one."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from io import BytesIO

from waney.logs.cloud import read_cloud
from waney.logs.from_sheet import LOG, SCAN
from waney.logs.measured import MeasuredLog
from waney.logs.sheet import log_sheet
from waney.prices.rules import Ranking
from waney.sawing.plan import Plan
from waney.sawing.plan_file import read_plan, written_by
from waney.sawing.sheets.wants_sheet import read_wants_sheet
from waney.yard.acts.logs import EndsSealed, LogArrived, LogEnd, LogEnded, LogMeasured, PlanChosen, PlanMade
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Answer, Book
from waney.yard.book.files import name_of
from waney.yard.book.stories import log_story
from waney.yard.commands import Read
from waney.yard.problems import BadAct
from waney.yard.services.hand import Hand, Made
from waney.yard.streams import stream


@dataclass(frozen=True)
class NewLog:
    """A log that lies in the yard. scan: the content of the file that its sheet names; no code: the book gives one.

    stem, from_butt_m: what it was cut from, and where in it.
    """

    sheet: str
    code: str = ""
    felled_on: str = ""
    spot: str = ""
    scan: bytes | None = None
    stem: str = ""
    from_butt_m: float | None = None


def add_log(hand: Hand, log: NewLog) -> Made:
    """Book a log in by its sheet, kept word for word. Raises Problem for a sheet that cannot be read."""
    read, scan = _read_sheet(log.sheet, log.scan), log.scan
    felled = log.felled_on or ("" if read.felled_on is None else read.felled_on.isoformat())
    ident = hand.new_id()
    place = (log.stem, log.from_butt_m)
    act = LogArrived(ident, log.sheet, read.species, log.code, felled, log.spot, _named(scan), *place)
    return Made(ident, hand.write(act, files=[scan] if scan else ()))


def measure_log(hand: Hand, log: str, sheet: str, scan: bytes | None = None) -> Answer:
    """Write a log's sheet anew; the former ones stay. Raises Problem for a sheet that cannot be read."""
    before = log_story(hand.book, log).sheets[-1]
    if scan is None and before.scan and _names_as(sheet, before.text):
        return hand.write(LogMeasured(log, sheet, log_sheet(sheet).log.species, before.scan))
    act = LogMeasured(log, sheet, _read_sheet(sheet, scan).species, _named(scan))
    return hand.write(act, files=[scan] if scan else ())


def scan_log(hand: Hand, log: str, scan: bytes, change: Callable[[str], str]) -> Answer:
    """Write a log's sheet anew so that it names a scan. Raises NotInBook, Problem for a scan that the sheet does not fit."""
    return measure_log(hand, log, change(log_story(hand.book, log).sheets[-1].text), scan)


def _names_as(sheet: str, before: str) -> bool:
    """Whether two sheets name the same scan."""
    one, other = log_sheet(sheet).scan, log_sheet(before).scan
    return one is not None and other is not None and one.file == other.file


def sheets_of(book: Book, log: str) -> dict[str, str]:
    """A log's sheet as it was measured last, and its scan in base64 where it names one, as plans keep them. Raises NotInBook."""
    last = log_story(book, log).sheets[-1]
    return {LOG: last.text} | ({SCAN: b64encode(book.files.read(last.scan)).decode("ascii")} if last.scan else {})


def add_to_sheet(hand: Hand, log: str, change: Callable[[str], str]) -> Answer:
    """Write a log's sheet anew with something more in it; its scan stays. Raises NotInBook, Problem."""
    last = log_story(hand.book, log).sheets[-1]
    text = change(last.text)
    return hand.write(LogMeasured(log, text, log_sheet(text).log.species, last.scan))


def _named(scan: bytes | None) -> str:
    return name_of(scan) if scan else ""


def _read_sheet(sheet: str, scan: bytes | None) -> MeasuredLog:
    """What a sheet says, which may name a scan; that is one, then, and has points. Raises BadAct, BadCloud."""
    read = log_sheet(sheet)
    if read.scan is not None and scan is None:
        raise BadAct(f"The sheet names a scan, {read.scan.file}; hand its file over too.")
    if read.scan is None and scan is not None:
        raise BadAct(
            "A scan was handed over, and the sheet does not name it: write [scan] into the sheet, or leave the file out."
        )
    if read.scan is not None and scan is not None:
        read_cloud(BytesIO(scan), read.scan.file, read.scan.unit_m)
    return read.log


def keep_plan(hand: Hand, log: str, sheet_number: int, plan_text: str) -> Made:
    """Keep a saw plan of a log. Raises Problem for what is no plan."""
    plan, sheets = read_plan(plan_text)
    ident, content = hand.new_id(), plan_text.encode("utf-8")
    told = (str(plan.pattern), len(plan.pieces), written_by(plan_text), money_of(plan, sheets))
    act = PlanMade(ident, log, sheet_number, name_of(content), *told)
    return Made(ident, hand.write(act, files=(content,)))


def money_of(plan: Plan, sheets: Mapping[str, str]) -> tuple[int, ...]:
    """What a plan leaves, bad, likely and good, in whole cents; nothing where its wants carry no prices."""
    if plan.outcome is None:
        return ()
    rules = read_wants_sheet(sheets[Setting.WANTS], log_sheet(sheets[LOG]).log.length_m).wants.rules
    cents = plan.outcome.cents
    return tuple(sorted(map(round, (cents.bad, cents.likely, cents.good)))) if rules.ranking is Ranking.MONEY else ()


def seal_ends(hand: Hand, log: str, on: str = "", *, sealed: bool = True) -> Answer:
    """Say that both ends of a log are coated, or that they are not after all."""
    return hand.write(EndsSealed(log, on, sealed))


def choose_plan(hand: Hand, log: str, plan: str, seen: int) -> Answer:
    """Choose the plan to saw by; seen: the version of the log that was looked at. Raises Stale, NotPossible, NotInBook."""
    return hand.write(PlanChosen(log, plan), Read(stream("log", log), seen))


def end_log(hand: Hand, log: str, how: LogEnd, words: str = "") -> Answer:
    """Say that a log is no more."""
    return hand.write(LogEnded(log, how, words))
