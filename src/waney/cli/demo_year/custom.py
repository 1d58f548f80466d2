"""Other people's logs: one job by the board foot, counted anew by the tally; one on shares; one that somebody only asked for."""

from __future__ import annotations

from functools import partial

from waney.cli.demo_year.story import FOOT_M, INCH_M
from waney.cli.demo_year.yard import Yard
from waney.trade.counted import By
from waney.trade.way_paid import How
from waney.units.way import MILE
from waney.yard.acts.logs import LogEnd
from waney.yard.acts.mill import CameOff
from waney.yard.acts.sales import PaidBy
from waney.yard.book.custom_seen import custom_at
from waney.yard.book.looking import version_of
from waney.yard.services.custom import (
    CustomJob,
    agree,
    agree_anew,
    ask_custom,
    end_custom,
    part,
    pay_custom,
    seen_of,
    suggested_parting,
    tell_sawn,
    write_bill,
)
from waney.yard.services.logs import NewLog, add_log, end_log
from waney.yard.services.mill import take_names, take_off
from waney.yard.streams import stream

HEAD = 'format = "waney-log/1"\nunits = "in"\n'
BY_FOOT = (
    (
        "HA",
        HEAD + 'species = "white oak"\nlength = "10 ft"\n[butt]\ngirth = 60\nover = "bark"\n[top]\ngirth = 53\nover = "bark"\n',
    ),
    ("HB", HEAD + 'species = "black cherry"\nlength = "8 ft"\n[butt]\ndiameter = 15\n'),
)
ON_SHARES = (("MA", HEAD + 'species = "white ash"\nlength = "8 ft 6 in"\n[butt]\ndiameter = 18\n[top]\ndiameter = 16\n'),)
ONLY_ASKED = (("NA", HEAD + 'species = "red maple"\nlength = "9 ft"\n[top]\ndiameter = 13\n'),)
WIDE_IN = ((7.0, 7.0), (7.0, 7.5), (7.5, 10.0), (10.0, 10.5), (10.5, 12.0), (12.0, 12.5), (12.5, 13.0))
"""made up: narrowest and widest place of each board, the first off first"""
SAWN_IN, TALLY_RATE = 1.125, 38.0
"""thickness of every board [in]; cents of a board foot by the tally"""


def enter(yard: Yard) -> None:
    """Put it on the agenda."""
    jobs: dict[str, str] = {}
    for ago, hour, do in (
        (40, 10, partial(_asked, yard, jobs, "Hal", BY_FOOT, 12.0)),
        (39, 9, partial(_agreed, yard, jobs, "Hal", How.BOARD_FOOT, 39)),
        (38, 13, partial(_sawn, yard, jobs, "Hal", 0.6)),
        (37, 9, partial(_by_tally, yard, jobs, 37)),
        (36, 11, partial(_paid, yard, jobs)),
        (35, 10, partial(_asked, yard, jobs, "Mina", ON_SHARES, 0.0)),
        (35, 11, partial(_agreed, yard, jobs, "Mina", How.SHARES, 35)),
        (33, 14, partial(_sawn, yard, jobs, "Mina", 0.8)),
        (32, 10, partial(_parted, yard, jobs, 32)),
        (4, 16, partial(_asked, yard, jobs, "Nils", ONLY_ASKED, 0.0)),
    ):
        yard.diary.on(ago, hour, do)


def _asked(yard: Yard, jobs: dict[str, str], called: str, logs: tuple[tuple[str, str], ...], miles: float) -> None:
    ids = [add_log(yard.tom, NewLog(sheet, code)).id for code, sheet in logs]
    jobs[called] = ask_custom(yard.ida, called, ids, way_m=MILE.in_si(miles), way_hours=miles / 24.0).id


def _agreed(yard: Yard, jobs: dict[str, str], called: str, how: How, ago: int) -> None:
    book = yard.diary.book
    agree(yard.ida, jobs[called], how, yard.diary.day(ago), seen_of(CustomJob.of(book, jobs[called]), book))


def _sawn(yard: Yard, jobs: dict[str, str], called: str, hours: float) -> None:
    for log in CustomJob.of(yard.diary.book, jobs[called]).logs:
        code = log.name.split("-")[0]
        names = take_names(yard.tom, code, len(WIDE_IN), yard.tom.device)
        for order, (name, (narrow, wide)) in enumerate(zip(names, WIDE_IN, strict=True), 1):
            sizes = (round(SAWN_IN * INCH_M, 6), round(8 * FOOT_M, 4), (round(narrow * INCH_M, 4), round(wide * INCH_M, 4)))
            piece = yard.diary.new_id()
            take_off(yard.tom, CameOff(piece, log=log.id, name=str(name), order=order, thickness_m=sizes[0], length_m=sizes[1],
                                       widths_m=sizes[2]))  # fmt: skip
        tell_sawn(yard.tom, jobs[called], log.id, hours)
        end_log(yard.tom, log.id, LogEnd.SAWN)


def _by_tally(yard: Yard, jobs: dict[str, str], ago: int) -> None:
    """Hal would rather pay for what came off."""
    book, custom = yard.diary.book, jobs["Hal"]
    agree_anew(yard.ida, custom, By.TALLY, TALLY_RATE, version_of(book, stream("custom", custom)))
    write_bill(yard.ida, custom, yard.diary.day(ago))


def _paid(yard: Yard, jobs: dict[str, str]) -> None:
    pay_custom(yard.ida, jobs["Hal"], custom_at(yard.diary.book, jobs["Hal"]).owed_cents, PaidBy.CHECK)
    end_custom(yard.ida, jobs["Hal"], "fetched")


def _parted(yard: Yard, jobs: dict[str, str], ago: int) -> None:
    custom = jobs["Mina"]
    job = CustomJob.of(yard.diary.book, custom)
    kept = set(suggested_parting(job))
    part(yard.ida, custom, [piece.id for some in job.pieces.values() for piece in some if piece.name in kept])
    write_bill(yard.ida, custom, yard.diary.day(ago))
