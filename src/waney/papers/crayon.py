"""Crayon: what to write on the butt end before the log goes on the bed, and on the end of each piece as it comes off."""

from __future__ import annotations

from datetime import date

from waney.papers.butt import butt_drawing, up_clock
from waney.papers.ink import PAPER
from waney.papers.paper import Column, Heading, Paper, Picture, Sentence, Table, cell, paper, warn
from waney.papers.subject import Subject
from waney.papers.words import clock, said

BUTT_MM = 105.0


def crayon_sheet(subject: Subject, plan_name: str, printed: date) -> Paper:
    """The line and the log's name on the butt end; then the names in the order the pieces come off."""
    up = clock(up_clock(subject.plan))
    log = subject.plan.log
    kept = [planned.piece.name for planned in subject.plan.pieces if subject.kept(planned.piece.name)]
    thick = [subject.thickness(name) for name in kept]
    rows = tuple(
        (cell(str(i)), cell(name), cell(measure), ()) for i, (name, measure) in enumerate(zip(kept, thick, strict=True), 1)
    )
    columns = (Column("piece", 0.7, figures=True), Column("write", 1.8), Column("thick", figures=True), Column("written", 0.9))
    parts = (
        Sentence(said(f"Write {log}. Draw a line from the pith to {up}."), large=True),
        Sentence(said("On the butt end, as on a clock. The line goes up when the log lies on the bed.")),
        warn("fetching"),
        Picture(
            butt_drawing(subject, PAPER, BUTT_MM, names=False).text(), f"Butt end of {log} with a line from the pith to {up}"
        ),
        Heading("On the butt end of each piece, as it comes off"),
        warn("at the blade"),
        Table(columns, rows, 9.0, strong=2),
    )
    return paper("What to crayon on the butt end", log, plan_name, parts, subject.shop, printed)
