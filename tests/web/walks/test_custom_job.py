"""A custom job walked on a phone: two odd logs of somebody, from whose they are to the invoice, as forms alone."""

from __future__ import annotations

from datetime import UTC, datetime

from playwright.sync_api import expect

from waney.web.asked.kinds import CUSTOM
from waney.web.works.quoting import quote_custom
from waney.yard.acts.mill import CameOff
from waney.yard.acts.settings import Setting
from waney.yard.book import jobs
from waney.yard.book.custom_seen import customs
from waney.yard.book.examining import examine
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.settings import settle_for_shop

from .conftest import EXAMPLES, PHONE, Launch, Yard, reopened
from .test_sawing_day import PATIENCE_MS, signed_in

OVER_BARK = 'format = "waney-log/1"\nunits = "in"\nspecies = "white oak"\nlength = "8 ft"\n[top]\ngirth = 50\nover = "bark"\n'
ONE_END = 'format = "waney-log/1"\nunits = "m"\nspecies = "white ash"\nlength = 2.5\n[butt]\ndiameter = 0.4\n'


def answer_beside_the_worker(yard: Yard) -> None:
    """Take the question here, so that nobody waits until the server's own worker has loaded all that plans need."""
    job = jobs.take(yard.book, (CUSTOM,), "walk", datetime.now(UTC))
    if job is not None:
        answer = quote_custom(yard.book.files.read(job.input), lambda _share, _words: None)
        jobs.finish(yard.book, job.id, "walk", answer, datetime.now(UTC))


def test_from_the_logs_to_the_invoice(yard: Yard, launch: Launch) -> None:
    settle_for_shop(yard.hand, Setting.TERMS, (EXAMPLES / "terms-custom.toml").read_text(encoding="utf-8"))
    logs = [add_log(yard.hand, NewLog(sheet, code)).id for code, sheet in (("HA", OVER_BARK), ("HB", ONE_END))]
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE, java_script_enabled=False), served.address())
    page.set_default_timeout(PATIENCE_MS)  # the first page of a custom job loads what saws in thought
    page.goto(f"{served.address()}/logs")
    page.click("text=Other people's logs")
    page.fill("#called", "Hal")
    for log in logs:
        page.check(f"input[name=log][value='{log}']")
    page.click("text=Write it down")
    expect(page.locator("h1")).to_have_text("Logs of Hal")
    # quoted three ways; one press hides our own figures
    page.click("text=To the quote")
    answer_beside_the_worker(yard)
    while page.locator(".working").count():
        page.wait_for_timeout(300)
        page.reload()
    expect(page.locator("table")).to_contain_text("on shares", timeout=PATIENCE_MS)
    assert "true hour" in page.inner_text("main")
    page.click("text=Hide our own figures")
    assert "true hour" not in page.inner_text("main") and "by the board foot" in page.inner_text("main")
    page.go_back()
    page.click("text=Agreed: by the hour")
    expect(page.locator("main")).to_contain_text("An hour of sawing costs $95.00")
    expect(page.locator("main")).to_contain_text("spoilt by metal in a log costs the customer $35.00")
    # sawn
    for log in logs:
        for order in range(2):
            act = CameOff(yard.hand.new_id(), "", log, order=order, thickness_m=0.0286, length_m=2.44, widths_m=(0.25, 0.3))
            yard.hand.write(act)
    page.click("text=Tally >> nth=0")
    for log, hours in zip(logs, ("1.5", "1.25"), strict=True):
        page.fill(f"#hours-{log}", hours)
    page.click("text=Write it down")
    expect(page.locator("main")).to_contain_text("1.25 hours")
    # billed: 2.75 h x 95 = 261.25, 40 to set up; 6 % on the sum of 301.25 is 18.075, half up
    page.click("text=Invoice >> nth=0")
    page.click("text=Write the invoice")
    expect(page.locator("main")).to_contain_text("$319.33")
    page.click("button:has-text('Paid')")
    expect(page.locator("p.lead")).to_contain_text("; paid")
    [custom] = customs(reopened(yard))
    assert custom.owed_cents == 0 and custom.bill is not None and examine(reopened(yard)).unsound == ()
