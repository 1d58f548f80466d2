"""What a person does with other people's logs: ask, quote, agree, saw, part, bill; the sums are `waney.trade`'s."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from waney.sawing.sheets.mill_sheet import read_mill_sheet
from waney.trade.agreement import metal_rule, price_words
from waney.trade.bill import BadBill, Bill, LogSawn, billed
from waney.trade.counted import By, Counted, agreed_anew
from waney.trade.custom import Job, log_scales
from waney.trade.log_tally import LogTally, mostly_thick
from waney.trade.overrun import Overrun, overrun
from waney.trade.parting import kept_board_feet, parted
from waney.trade.terms import Terms, read_terms
from waney.trade.way_paid import How
from waney.units.way import KILOMETRE
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
from waney.yard.acts.mending import TakenBack
from waney.yard.acts.pieces import PieceEnd
from waney.yard.acts.sales import Paid, PaidBy, TaxTaken
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Answer, Book
from waney.yard.book.custom_seen import Anew, CustomStands, custom_at, custom_of_log, customers_pieces
from waney.yard.book.logs_seen import LogStands, logs, logs_by_id
from waney.yard.book.looking import PieceStands, pieces_of_logs, settings, version_of
from waney.yard.commands import Read
from waney.yard.problems import NotPossible
from waney.yard.services.earning import shop_terms
from waney.yard.services.hand import Hand, Made
from waney.yard.services.record import tally_of
from waney.yard.services.selling import add_buyer, buyer_called
from waney.yard.streams import Stream, stream

TERMS = Stream(f"setting:{Setting.TERMS}")


@dataclass(frozen=True)
class CustomJob:
    """A custom job with its logs and what came off them (by log), read once. theirs: pieces that are a customer's; now: the terms
    as they are settled today."""

    stands: CustomStands
    logs: tuple[LogStands, ...]
    pieces: dict[str, tuple[PieceStands, ...]]
    theirs: frozenset[str]
    now: Terms
    mill: str

    @classmethod
    def of(cls, book: Book, ident: str) -> CustomJob:
        """As it stands. Raises NotInBook, SheetProblems for a terms sheet that cannot be read."""
        stands, settled = custom_at(book, ident), settings(book)
        held = {log.id: log for log in logs_by_id(book, [each.log for each in stands.logs])}
        of_it = tuple(held[each.log] for each in stands.logs if each.log in held)
        off = pieces_of_logs(book, [log.id for log in of_it])
        by_log = {log.id: tuple(piece for piece in off if piece.log == log.id) for log in of_it}
        return cls(stands, of_it, by_log, customers_pieces(book), shop_terms(settled), settled.get(Setting.MILL, ""))

    @property
    def job(self) -> Job:
        """The job as it is quoted."""
        sheets = {log.name: log.sheet for log in self.logs}
        return Job(sheets, KILOMETRE.of(self.stands.way_m), self.stands.way_hours)

    @cached_property
    def terms(self) -> Terms:
        """The terms that count: as they were agreed, with what was agreed anew; those of today while nothing is."""
        if self.stands.how is None:
            return self.now
        terms = read_terms(self.stands.terms)
        for one in self.stands.anew:
            terms = _anew(terms, one)
        return terms

    @cached_property
    def tallies(self) -> tuple[LogTally, ...]:
        """The tally of each log."""
        return tuple(tally_of(log.name, self.pieces[log.id], self.terms.allowance_m) for log in self.logs)

    @property
    def tally(self) -> Counted:
        """Of all logs."""
        return Counted(sum(tally.tenths for tally in self.tallies) / 10, By.TALLY)

    @property
    def kept(self) -> tuple[str, ...]:
        """Names of the pieces that stay with the sawyer; of one that was cut up, its parts."""
        off = (piece for log in self.logs for piece in self.pieces[log.id])
        return tuple(piece.name for piece in off if piece.id not in self.theirs and piece.ended != PieceEnd.SAWN)

    def scale(self, by: By) -> Counted | None:
        """All logs by a log rule, as they were counted when it was agreed; None where one was not."""
        found = [self.stands.scaled.get(log.id, {}).get(by) for log in self.logs]
        known = [one for one in found if one is not None]
        return Counted(sum(one.board_feet for one in known), by) if known and len(known) == len(found) else None


def _anew(terms: Terms, one: Anew) -> Terms:
    """Raises OtherRule, which cannot be: what was agreed anew was held against the rule before it was written."""
    assert terms.board_foot is not None, "what is agreed anew is a price for a board foot"
    before, after = Counted(one.before, terms.board_foot.by), Counted(one.after, one.by)
    return replace(terms, board_foot=agreed_anew(terms.board_foot, one.rate_cents, one.by, before, after))


def ask_custom(hand: Hand, called: str, some: Sequence[str], words: str = "", way_m: float = 0.0, way_hours: float = 0.0) -> Made:
    """Somebody would like these logs sawn; nothing is kept of them but what to call them. Raises NotPossible, BadAct."""
    if not called.strip():
        raise NotPossible("Whose logs are they? What to call them is enough.")
    custom, known = hand.new_id(), buyer_called(hand.book, called)
    act, held = CustomAsked(custom, known or custom, words, way_m, way_hours), CustomLogsTold(custom, tuple(some))
    _nobody_elses(hand.book, some, "")  # all of it can be: only now somebody new is written down
    answer = hand.write(replace(act, person=known or add_buyer(hand, called.strip()).id))
    if some:
        hand.write(held)
    return Made(custom, answer)


def tell_logs(hand: Hand, custom: str, some: Sequence[str]) -> Answer:
    """These are its logs, all of them. Raises NotPossible for a log of another custom job, and once it is billed."""
    _nobody_elses(hand.book, some, custom)
    if custom_at(hand.book, custom).bill is not None:
        raise NotPossible("This custom job is billed; take the invoice back first, then put it right.")
    return hand.write(CustomLogsTold(custom, tuple(some)))


def _nobody_elses(book: Book, some: Sequence[str], custom: str) -> None:
    for log in some:
        found = logs(book, log=log)
        if not found:
            raise NotPossible("One of these logs is not in the book.")
        if custom_of_log(book, log) not in ("", custom):
            raise NotPossible(f"{found[0].name} is in another custom job already; take it out there first.")


def seen_of(job: CustomJob, book: Book) -> tuple[int, ...]:
    """Versions of all that an agreement is made on: the custom job, its logs, the terms."""
    return tuple(version_of(book, each) for each in (*_agreed_on(job), TERMS))


def _agreed_on(job: CustomJob) -> tuple[Stream, ...]:
    return (stream("custom", job.stands.id), *(stream("log", log.id) for log in job.logs))


def agree(hand: Hand, custom: str, how: How, on: str, seen: Sequence[int]) -> Answer:
    """Both agree on one way: the terms as they stand, each log by every rule. seen: `seen_of` of the quote that was looked at.

    Raises Stale where something changed since, NotPossible, BadAgreement for terms that it would need.
    """
    job = CustomJob.of(hand.book, custom)
    price_words(job.now, how)
    metal_rule(job.now)
    scaled = tuple(
        LogScaled(log.id, by, counted.board_feet, counted.read)
        for log in job.logs
        for by, counted in log_scales(log.sheet).items()
    )
    terms = settings(hand.book).get(Setting.TERMS, "")
    streams = (*_agreed_on(job), TERMS)
    if len(seen) != len(streams):
        raise NotPossible("The logs of this custom job are others by now; look at its quote again.")
    reads = [Read(each, version) for each, version in zip(streams, seen, strict=True)]
    return hand.write(CustomAgreed(custom, how, on, terms, scaled), *reads)


def counted_both_ways(job: CustomJob, by: By) -> tuple[Counted, Counted]:
    """The same wood by the rule that is agreed and by another. Raises NotPossible where one of them is not known."""
    if job.terms.board_foot is None or job.stands.how is not How.BOARD_FOOT:
        raise NotPossible("Nothing is agreed by the board foot here, so there is no rule to change.")
    return _all_by(job, job.terms.board_foot.by), _all_by(job, by)


def _all_by(job: CustomJob, by: By) -> Counted:
    if by is By.TALLY:
        not_all = [tally.log for tally in job.tallies if not tally.tenths or tally.unmeasured]
        if not_all:
            raise NotPossible(f"Not all is tallied yet: {', '.join(not_all)}. Saw and measure it first, then compare.")
        return job.tally
    found = job.scale(by)
    if found is None:
        raise NotPossible(f"Not every log was counted by {by} when it was agreed, so the same wood cannot be shown by it.")
    return found


def agree_anew(hand: Hand, custom: str, by: By, rate_cents: float, seen: int) -> Answer:
    """Both go over to another rule; every paper says so, with both counts. Raises Stale, NotPossible, OtherRule."""
    job = CustomJob.of(hand.book, custom)
    before, after = counted_both_ways(job, by)
    assert job.terms.board_foot is not None, "it was looked for"
    if by is job.terms.board_foot.by:
        raise NotPossible(f"It is agreed by {by} already; choose another rule.")
    agreed_anew(job.terms.board_foot, rate_cents, by, before, after)
    act = CustomAgreedAnew(custom, by, rate_cents, before.board_feet, after.board_feet)
    return hand.write(act, Read(stream("custom", custom), seen))


def tell_sawn(hand: Hand, custom: str, log: str, hours: float, metal_blades: int = 0) -> Answer:
    """How long one log took, to the hundredth of an hour, and blades that metal spoilt."""
    return hand.write(LogSawnFor(custom, log, round(hours, 2), metal_blades))


def suggested_parting(job: CustomJob) -> tuple[str, ...]:
    """Names of the pieces that would stay with the sawyer."""
    return parted(job.tallies, job.terms.share or 0.0)


def part(hand: Hand, custom: str, kept: Sequence[str]) -> Answer:
    """On shares: these pieces (ids) stay with the sawyer. Raises NotPossible, Stale."""
    act = CustomShared(custom, tuple(kept))
    return hand.write(act, *hand.seen(act))


def bill_of(job: CustomJob) -> Bill:
    """The bill by what was agreed. Raises BadBill, OtherRule."""
    how = job.stands.how
    if how is None:
        raise BadBill("Nothing is agreed yet; choose one way of the quote first.")
    return billed(how, job.terms, job.job, [_log_sawn(job, n, how) for n in range(len(job.logs))])


def _log_sawn(job: CustomJob, n: int, how: How) -> LogSawn:
    held, tally = job.stands.logs[n], job.tallies[n]
    by = job.terms.board_foot.by if job.terms.board_foot else By.TALLY
    if how is How.HOUR and held.hours is None:
        raise BadBill(f"Nobody told how long {held.name} took; write its hours on the tally first.")
    if tally.unmeasured and (how is How.SHARES or by is By.TALLY):
        raise BadBill(f"{', '.join(tally.unmeasured)} of {held.name} not measured yet; write thickness, widths and length first.")
    names = {line.piece.name for line in tally.lines}
    keeps = kept_board_feet([tally], [name for name in job.kept if name in names]) if job.stands.kept else None
    scale = job.stands.scaled.get(held.log, {}).get(by)
    return LogSawn(held.name, tally.counted, scale, held.hours or 0.0, held.metal_blades, keeps)


def write_bill(hand: Hand, custom: str, on: str) -> Answer:
    """The invoice, as it stands now. Raises BadBill, OtherRule, NotPossible, Stale."""
    job = CustomJob.of(hand.book, custom)
    bill = bill_of(job)
    lines = tuple(BilledLine(line.what, line.cents) for line in bill.lines)
    taxes = tuple(TaxTaken(tax.words, tax.cents) for tax in bill.taxes)
    act = CustomBilled(custom, on, lines, taxes, bill.keeps, bill.said)
    return hand.write(act, *hand.seen(act))


def take_bill_back(hand: Hand, custom: str, words: str = "") -> Answer:
    """The invoice was wrong. Its number stays its own. Raises NotPossible where there is none."""
    bill = custom_at(hand.book, custom).bill
    if bill is None:
        raise NotPossible("There is no invoice to take back.")
    return hand.write(TakenBack(bill.command, stream("custom", custom), words))


def pay_custom(hand: Hand, custom: str, cents: int, by: PaidBy = PaidBy.CASH) -> Answer:
    """Money came."""
    return hand.write(Paid(stream("custom", custom), cents, by))


def end_custom(hand: Hand, custom: str, words: str = "") -> Answer:
    """Fetched and done with, or it did not come about."""
    return hand.write(CustomEnded(custom, words))


def overruns(job: CustomJob) -> tuple[tuple[str, Overrun], ...]:
    """The tally of each log, and of all, against the rule that was agreed, else against International. Raises NotPossible."""
    if not job.mill:
        raise NotPossible("The mill sheet is not settled, so its kerf is not known; settle it, then this can be told apart.")
    kerf = read_mill_sheet(job.mill).mill.kerf_m
    agreed = job.terms.board_foot.by if job.terms.board_foot else By.TALLY
    by = By.INTERNATIONAL if agreed is By.TALLY else agreed
    rows = []
    for held, tally in zip(job.stands.logs, job.tallies, strict=True):
        scaled = job.stands.scaled.get(held.log, {})
        found = _overrun(scaled.get(by), scaled.get(By.INTERNATIONAL), [tally], kerf)
        rows += [(held.name, found)] if found else []
    whole = _overrun(job.scale(by), job.scale(By.INTERNATIONAL), job.tallies, kerf) if len(rows) > 1 else None
    return (*rows, ("All logs", whole)) if whole else tuple(rows)


def _overrun(scale: Counted | None, international: Counted | None, tallies: Sequence[LogTally], kerf_m: float) -> Overrun | None:
    """None where there is nothing to hold against each other yet."""
    lines = [line for tally in tallies for line in tally.lines]
    thick = mostly_thick(lines)
    complete = all(tally.tenths and not tally.unmeasured for tally in tallies)
    if thick is None or not complete or scale is None or international is None:
        return None
    if not scale.board_feet or not international.board_feet:
        return None
    return overrun(scale, international, Counted(sum(line.tenths for line in lines) / 10, By.TALLY), kerf_m, *thick)
