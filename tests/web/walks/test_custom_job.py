"""A custom job walked on a phone: six odd logs of somebody, from the tape to the third invoice, as forms alone.

The logs are taken in by their form, quoted three ways, agreed on, tallied from a paper, and billed by the hour, by the board foot
and on shares: each time both agree anew, once the invoice before was taken back. Sums are done here anew, with fractions.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import UTC, datetime
from fractions import Fraction
from math import floor

import pytest
from playwright.sync_api import Page, expect
from tests.web.test_sale_paper import words
from tests.yard.six_logs import BESIDE, BOARDS, HOURS, METAL, SPOILED, TENTHS, TERMS, cents, kept_by_log, tax_of

from waney.logs.measured import Hidden, Inside
from waney.logs.sheet import log_sheet
from waney.web.asked.kinds import CUSTOM
from waney.web.works.quoting import quote_custom
from waney.yard.acts.settings import Setting
from waney.yard.book import jobs
from waney.yard.book.custom_seen import customs
from waney.yard.book.examining import examine
from waney.yard.book.logs_seen import logs
from waney.yard.services.settings import settle_for_shop

from .conftest import PHONE, Launch, Yard, reopened
from .test_sawing_day import PATIENCE_MS, signed_in

ODD: Mapping[str, Mapping[str, str]] = {
    "HA": {
        "species": "white oak", "length": "12 ft", "butt_diameter": "19", "top_diameter": "16", "sweep_depth": "3",
        "sweep_clock": "2",
    },
    "HB": {
        "species": "white oak", "length": "10 ft", "butt_diameter": "21", "butt_over": "over the bark", "top_diameter": "18 1/2",
        "top_over": "over the bark", "found_kind": "metal", "found_distance": "40", "found_clock": "6",
    },
    "HC": {"species": "white ash", "length": "3.7 m", "butt_diameter": "0.44 m", "top_diameter": "0.39 m"},
    "HD": {"species": "black cherry", "length": "8 ft", "butt_diameter": "17"},
    "HE": {"species": "red maple", "length": "7 ft", "butt_diameter": "13", "top_diameter": "12"},
    "HF": {
        "species": "unknown", "length": "9 ft", "top_diameter": "14", "found_kind": "hollow", "found_distance": "0",
        "found_to": "30", "found_across": "5",
    },
}  # fmt: skip
"""crooked; over bark, with a nail; in metres; one end missing; too short for a usual cut; hollow, of a wood that nobody knows"""
WAYS = ("by the hour", "by the board foot", "on shares")


@pytest.fixture
def page(yard: Yard, launch: Launch) -> Page:
    settle_for_shop(yard.hand, Setting.TERMS, TERMS)
    page = signed_in(launch().new_context(viewport=PHONE, java_script_enabled=False), yard.serve().address())  # type: ignore[arg-type]
    page.set_default_timeout(PATIENCE_MS)  # the first page of a custom job loads what saws in thought
    return page


def test_six_odd_logs_from_the_tape_to_three_invoices(yard: Yard, page: Page) -> None:
    job = asked_for(page)
    for told in ODD.values():
        taken_in(page, told)
        expect(page).to_have_url(job)
    as_they_were_told(yard)
    quoted(yard, page)
    agreed(page, job, WAYS[0], "An hour of sawing costs $95.00", "spoilt by metal in a log costs the customer $35.00")
    names = [name.split()[0] for name in page.locator("tbody th").all_inner_texts()]
    tallied(page, names)
    told_hours(page, job, names)
    paper = words(page.request.get(f"{job}/tally.pdf").body())
    for name, tenths in zip(names, TENTHS.values(), strict=True):
        assert f"{name}: {sum(tenths) / 10:.1f} board feet" in paper
    # by the hour: 3.35 hours
    sawing = cents(sum(map(Fraction, HOURS.values()), Fraction(0)) * 95_00)
    assert billed(page, job) == [("3.35 hours of sawing", sawing), *beside()]
    taken_back(page)
    # by the board foot: each log by Doyle, (small end - 4)^2 x length / 16, of what it says was read
    agreed(page, job, WAYS[1], "A board foot costs $0.45, counted by Doyle and by no other rule.")
    lines = billed(page, job)
    by_log = [line for what, line in lines if counts_right_by_doyle(what, line)]
    short = [("up to the least bill", 150_00 - sum(by_log))] if sum(by_log) < 150_00 else []
    assert len(by_log) == len(ODD) and lines[len(ODD) :] == [*short, *beside()]
    taken_back(page)
    # on shares: whole pieces are parted log by log, and what is whose sums to the tally
    agreed(page, job, WAYS[2], "45 %")
    page.goto(f"{job}/tally")
    page.click("text=Part them so")
    (yours, _), (ours, _), *rest = billed(page, job)
    tally, kept = (f"{sum(tenths) / 10:.1f}" for tenths in (map(sum, TENTHS.values()), kept_by_log().values()))
    assert yours == f"{float(tally) - float(kept):.1f} of {tally} board feet tallied are yours" and rest == beside()
    assert ours == f"{kept} board feet in whole pieces stay with the sawyer (45 % agreed)"
    page.click("button:has-text('Paid')")
    expect(page.locator("p.lead")).to_contain_text("; paid")
    [custom] = customs(reopened(yard))
    assert custom.owed_cents == 0 and custom.bill is not None and custom.bill.number == len(WAYS)
    assert examine(reopened(yard)).unsound == ()


def asked_for(page: Page) -> str:
    """Somebody asks; the address of the job."""
    page.goto(page.url)
    page.click("nav >> text=Logs")
    page.click("text=Other people's logs")
    for name, text in (("called", "Hal"), ("way", "25 mi"), ("hours", "1"), ("words", "boards for a floor")):
        page.fill(f"#{name}", text)
    page.click("text=Write it down")
    expect(page.locator("h1")).to_have_text("Logs of Hal")
    return page.url


def taken_in(page: Page, told: Mapping[str, str]) -> None:
    """One log, by the form of the job's page."""
    page.click("main a.button:has-text('Book one')")
    for name, text in told.items():
        field = page.locator(f"[name={name}]").first
        if field.evaluate("it => it.localName") == "select":
            field.select_option(label=text)
        else:
            field.fill(text)
    page.get_by_role("button", name="Book it in", exact=True).click()


def as_they_were_told(yard: Yard) -> None:
    """What is odd about each stands in its sheet."""
    read = dict(zip(ODD, (log_sheet(one.sheet).log for one in logs(reopened(yard))), strict=True))
    assert [one.depth_m for one in read["HA"].bends] == [pytest.approx(0.0762)]
    assert {one.over for one in read["HB"].rounds} == {Inside.BARK} and [one.kind for one in read["HB"].hidden] == [Hidden.METAL]
    assert (read["HC"].length_m, read["HC"].rounds[0].diameters_m) == (3.7, (0.44,))
    assert [one.at_m for one in read["HD"].rounds] == [0.0] and read["HE"].length_m < 2.2
    assert read["HF"].species == "" and [one.kind for one in read["HF"].hidden] == [Hidden.HOLLOW]


def quoted(yard: Yard, page: Page) -> None:
    """Three ways side by side, from where to where; one press hides our own figures."""
    page.click("text=To the quote")
    answer_beside_the_worker(yard)
    while page.locator(".working").count():
        page.wait_for_timeout(300)
        page.reload()
    rows = page.locator("table tbody tr").all_inner_texts()
    assert [row.splitlines()[0] for row in rows] == list(WAYS)
    assert all(re.search(r"bad \$\d+, likely \$\d+, good \$\d+", row) for row in rows), rows
    assert page.locator("#answer li").count() == len(ODD) and "true hour" in page.inner_text("main")
    page.click("text=Hide our own figures")
    assert "true hour" not in page.inner_text("main") and "by the board foot" in page.inner_text("main")


def answer_beside_the_worker(yard: Yard) -> None:
    """Take the question here, so that nobody waits until the server's own worker has loaded all that plans need."""
    job = jobs.take(yard.book, (CUSTOM,), "walk", datetime.now(UTC))
    if job is not None:
        answer = quote_custom(yard.book.files.read(job.input), lambda _share, _words: None)
        jobs.finish(yard.book, job.id, "walk", answer, datetime.now(UTC))


def agreed(page: Page, job: str, way: str, *says: str) -> None:
    page.goto(f"{job}/quote")
    page.click(f"text=Agreed: {way}")
    for words_of_it in says:
        expect(page.locator("main")).to_contain_text(words_of_it)


def tallied(page: Page, names: list[str]) -> None:
    """The paper of the sawing day is typed in, a sheet a log."""
    page.click("nav >> text=Saw")
    page.click("text=Begin the day without a log")
    page.click("text=Type in a paper tally")
    for name, (code, boards) in zip(names, BOARDS.items(), strict=True):
        log = page.locator("#log option", has_text=name).get_attribute("value")
        page.select_option("#log", log)
        for n, (thick, narrow, wide, long) in enumerate(boards, 1):
            for column, text in (("thick", thick), ("butt", narrow), ("top", wide), ("long", f"{long} ft")):
                page.fill(f"#{column}-{n}", text)
            if (code, n - 1) == SPOILED:
                page.click(f"li:nth-child({n}) summary")
                page.select_option(f"#how-{n}", "spoiled")
        page.click("button:has-text('Write it down')")
        expect(page.locator("[role=status] li")).to_have_count(len(boards))


def told_hours(page: Page, job: str, names: list[str]) -> None:
    """Hours and the blade that a nail spoilt; the customer reads each log with what it counts."""
    page.goto(f"{job}/tally")
    for name, code in zip(names, BOARDS, strict=True):
        page.get_by_label(f"{name}: hours of sawing").fill(HOURS[code])
        if code in METAL:
            page.get_by_label(f"{name}: blades lost to metal").fill(str(METAL[code]))
    page.click("text=Write it down")
    heads = page.locator("main h2").all_inner_texts()
    for head, (code, tenths) in zip(heads, TENTHS.items(), strict=False):
        assert f"{sum(tenths) / 10:.1f} board feet, {HOURS[code]} hours" in head, head
    assert sum("1 blade lost to metal" in head for head in heads) == 1


def billed(page: Page, job: str) -> list[tuple[str, int]]:
    """The invoice is written; its lines, which sum to the cent to what is to be paid."""
    page.goto(f"{job}/invoice")
    page.click("text=Write the invoice")
    expect(page.locator("h1")).to_contain_text("Invoice ")
    rows = [(row.locator("th").inner_text(), in_cents(row.locator("td").inner_text())) for row in page.locator("tbody tr").all()]
    net = [what for what, _ in rows].index("Before tax")
    lines, (_, before_tax), (_, tax), (_, total) = rows[:net], rows[net], rows[net + 1], rows[net + 2]
    money = [line for _, line in lines]
    assert before_tax == sum(money) and tax == tax_of(money) and total == before_tax + tax
    assert f"${total / 100:,.2f}" in words(page.request.get(f"{job}/invoice.pdf").body())
    return lines


def in_cents(text: str) -> int:
    return 0 if text == "nothing to pay" else int(Fraction(text.strip().lstrip("$").replace(",", "")) * 100)


def beside() -> list[tuple[str, int]]:
    """Setting up, the way, the blade."""
    return list(zip(("setting up", "the way there and back", "1 blade lost to metal"), BESIDE, strict=True))


def counts_right_by_doyle(what: str, line: int) -> bool:
    """Whether this is the line of a log; then its count and its money follow from what it says was read."""
    read = re.search(r"(\d+) board feet by Doyle \((\d+) in at the small end inside bark, (\d+) ft\)", what)
    if read is None:
        return False
    feet, small, long = map(int, read.groups())
    assert feet == floor(Fraction((small - 4) ** 2 * long, 16) + Fraction(1, 2)) and line == cents(Fraction(45) * feet), what
    return True


def taken_back(page: Page) -> None:
    """Both go over to another way."""
    page.click("summary:has-text('The invoice was wrong')")
    page.fill("#words", "paid another way after all")
    page.click("text=Take it back")
    expect(page.locator("p.lead")).to_contain_text("As it would be written now")
