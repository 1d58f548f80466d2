"""Papers for a customer whose logs are sawn: quote, agreement, tally, invoice. None has room for a figure of the sawyer's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from waney.papers.paper import Cell, Column, Heading, Paper, Part, Sentence, Table, cell, paper, warn
from waney.papers.words import Shop, said

SIGNED = (
    "Sawyer ______________________________",
    "Customer ____________________________",
    "Day _________________________________",
)


@dataclass(frozen=True)
class QuoteWay:
    """One way to pay, as it is written. keeps: what stays with the sawyer, empty but on shares; missing: why it has no figure."""

    how: str
    paid: str
    keeps: str = ""
    missing: str = ""


def quote_paper(
    yard: str,
    called: str,
    logs: Sequence[tuple[str, str, str, str]],
    rule: str,
    ways: Sequence[QuoteWay],
    remarks: Sequence[str],
    shop: Shop,
    printed: date,
) -> Paper:
    """Three ways side by side. logs: name, wood, what was read, board feet by `rule`; remarks: on what was read of them."""
    columns = (Column("way", 1.0), Column("the customer pays, before tax", 1.6), Column("stays with the sawyer", 1.6))
    rows = tuple((cell(way.how), cell(way.paid or f"not quoted: {way.missing}"), cell(way.keeps or "nothing")) for way in ways)
    parts: list[Part] = [
        Sentence(said("The likely figure, then from where to where nine in ten lie. The logs were not opened yet.")),
        Table(columns, rows, strong=1),
        Heading("The logs as they were measured"),
        _logs(logs, rule),
        *(Sentence(said(remark)) for remark in remarks),
        warn("sale"),
    ]
    return paper("Quote", "Sawing of your logs", f"{yard}, for {called}", parts, shop, printed)


def _logs(logs: Sequence[tuple[str, str, str, str]], rule: str) -> Table:
    """What each counts has a column only where something counts it."""
    columns = [Column("log", 0.7), Column("wood", 1.0), Column("read", 1.6), Column(f"board feet, {rule}", 1.3)]
    shown = len(columns) if any(row[-1] for row in logs) else len(columns) - 1
    return Table(tuple(columns[:shown]), tuple(tuple(map(cell, row[:shown])) for row in logs), strong=1)


def agreement_paper(
    yard: str,
    called: str,
    agreed_on: str,
    text: Sequence[str],
    logs: Sequence[tuple[str, str, str, str]],
    anew: Sequence[str],
    shop: Shop,
    printed: date,
) -> Paper:
    """The text, the logs, what was agreed anew, two signatures."""
    parts: list[Part] = [
        *(Sentence(said(part)) for part in text),
        Heading("The logs"),
        _logs(logs, "as agreed"),
        *(Sentence(said(line), large=True) for line in anew),
        *(Sentence(said(line), large=True) for line in SIGNED),
    ]
    return paper("Agreement", "Sawing of your logs", f"{yard}, for {called}, {agreed_on}", parts, shop, printed)


@dataclass(frozen=True)
class PieceRow:
    """One piece [m]; counts: board feet, or a word; kept: it stays with the sawyer."""

    name: str
    thickness_m: float | None
    width_m: float | None
    length_m: float | None
    counts: str
    kept: bool = False


@dataclass(frozen=True)
class LogCard:
    """One log: its pieces, what it tallies, time and blades as they are written, pieces that are not measured yet."""

    name: str
    rows: tuple[PieceRow, ...]
    total: str
    hours: str
    blades: str
    unmeasured: tuple[str, ...]


def tally_paper(yard: str, called: str, logs: Sequence[LogCard], total: str, rule: str, shop: Shop, printed: date) -> Paper:
    """The tally of every log, and the rule that it goes by."""
    unit = "mm" if shop.sizes.metric else "in"
    columns = (
        Column("piece", 1.2),
        Column(f"thick {unit}", 0.9, figures=True),
        Column(f"average width {unit}", 1.0, figures=True),
        Column("long", 1.1, figures=True),
        Column("board feet", 0.9, figures=True),
        Column("", 1.2),
    )
    parts: list[Part] = [Sentence(said(total), large=True), Sentence(said(rule))]
    for log in logs:
        beside = ", ".join(part for part in (f"{log.total} board feet", log.hours, log.blades) if part)
        parts += [Heading(f"{log.name}: {beside}"), Table(columns, tuple(_piece(row, shop) for row in log.rows), strong=1)]
        if log.unmeasured:
            parts.append(Sentence(said(f"Not measured yet, and not counted: {', '.join(log.unmeasured)}.")))
    parts.append(warn("sale"))
    return paper("Tally", "Your logs", f"{yard}, for {called}", parts, shop, printed)


def _piece(row: PieceRow, shop: Shop) -> tuple[Cell, ...]:
    thick = cell(None if row.thickness_m is None else shop.read(row.thickness_m))
    wide = cell(None if row.width_m is None else shop.have(row.width_m))
    long = cell(None if row.length_m is None else shop.long(row.length_m))
    return (cell(row.name), thick, wide, long, cell(row.counts), cell("stays with the sawyer" if row.kept else ""))


@dataclass(frozen=True)
class Invoice:
    """An invoice as it is written. lines, taxes: words and money; said: what both agreed anew; kept: pieces of the sawyer."""

    name: str
    yard: str
    called: str
    on: str
    agreed: str
    lines: tuple[tuple[str, str], ...]
    net: str
    taxes: tuple[tuple[str, str], ...]
    total: str
    paid: str
    owed: str
    said: tuple[str, ...]
    kept: tuple[str, ...]


def invoice_paper(invoice: Invoice, shop: Shop, printed: date) -> Paper:
    """Lines, sum, each tax with its rounding rule, total, what was paid and what is owed."""
    rows = [*invoice.lines, ("before tax", invoice.net), *invoice.taxes, ("to be paid", invoice.total)]
    rows += [("paid so far", invoice.paid), ("still owed", invoice.owed)] if invoice.paid else []
    columns = (Column("what", 3.2), Column("money", 1.0, figures=True))
    parts: list[Part] = [
        Sentence(said(f"To be paid: {invoice.total}"), large=True),
        Sentence(said(invoice.agreed)),
        Table(columns, tuple((cell(what), cell(money)) for what, money in rows)),
        *(Sentence(said(line)) for line in invoice.said),
        *([Sentence(said(f"Stay with the sawyer: {', '.join(invoice.kept)}."))] if invoice.kept else []),
    ]
    return paper("Invoice", invoice.name, f"{invoice.yard}, for {invoice.called}, {invoice.on}", parts, shop, printed)
