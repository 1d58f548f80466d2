"""Someone else's kiln, walked on a phone: a stack is built and handed over, its sheet goes along, it comes back, one is ready."""

from __future__ import annotations

from playwright.sync_api import expect

from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.book.examining import examine
from waney.yard.book.kiln_seen import at_kilns
from waney.yard.book.looking import pieces
from waney.yard.book.stack_seen import drying_stacks
from waney.yard.services.pieces import name_spot
from waney.yard.services.settings import settle_for_shop

from .conftest import PHONE, Launch, Yard, demo, reopened
from .test_sawing_day import signed_in


def test_from_the_stack_to_the_ready_note(yard: Yard, launch: Launch) -> None:
    boards = [yard.hand.new_id() for _ in range(3)]
    spot = name_spot(yard.hand, "by the mill").id
    for board in boards:
        yard.hand.write(PieceCounted(board, "northern red oak", "", 0.054, 2.4, (0.3, 0.34), spot=spot))
    settle_for_shop(yard.hand, Setting.KILNS, demo("kilns"))
    names = {one.id: one.name for one in pieces(yard.book)}
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE, accept_downloads=True), served.address())
    # a stack is built out of what stands there
    page.goto(f"{served.address()}/stacks")
    page.click("text=Build a stack")
    page.select_option("#at", spot)
    page.click("text=Show its pieces")
    page.fill("#called", "oak for the table")
    page.fill("#sticker", "3/4")
    page.select_option("#shelter", "under a roof")
    for layer, board in enumerate(boards, 1):
        page.check(f"input[name=piece][value='{board}']")
        page.fill(f"input[name='layer-{board}']", str(layer))
    page.click("text=The stack stands")
    expect(page.locator("h1")).to_have_text("Stack oak for the table")
    (built,) = drying_stacks(reopened(yard))
    assert [(one.layer, one.piece.id) for one in built.lying] == list(enumerate(boards, 1)) and built.spot == spot
    # the stack goes
    page.click("text=Hand it over to someone else's kiln")
    page.fill("#shell", "7")
    page.fill("#core", "8")
    page.fill("#hottest", "140")
    page.fill("#owner", "Ida")
    page.fill(f"#cracks-{boards[0]}", "butt end, a hand long")
    page.click("text=They are handed over")
    expect(page.locator("p.lead")).to_contain_text("Handed over to Brookside Drying")
    assert set(at_kilns(reopened(yard))) == set(boards)
    # its sheet goes along as a file that opens without Waney
    with page.expect_download() as loading:
        page.click("text=the same as a file that needs no Waney")
    sheet = page.context.new_page()
    sheet.goto(loading.value.path().rename(yard.folder / "hand-over.html").as_uri())
    expect(sheet.locator("h1")).to_contain_text("plate kiln")
    assert all(name in sheet.inner_text("body") for name in names.values()) and "a hand long" in sheet.inner_text("body")
    sheet.close()
    # two come back, one of them read dry in shell and core, the other not read
    page.uncheck(f"input[name=piece][value='{boards[2]}']")
    page.fill(f"#shell-{boards[0]}", "6.5")
    page.fill(f"#core-{boards[0]}", "7")
    page.select_option("#by", "pin meter")
    page.click("summary:has-text('The core record')")
    page.fill(
        "#record",
        "\n".join(f"{minute}, {core}" for minute, core in ((0, 120), (10, 130), (20, 134), (30, 135), (40, 136), (50, 136))),
    )
    page.click("text=They are back")
    expect(page.locator("p.lead")).to_contain_text("2 are back, 1 at the kiln")
    expect(page.locator("main")).to_contain_text("core at 133 °F or over for 30 minutes without a break")
    page.click(f"table a:has-text('{names[boards[0]]}')")
    expect(page.locator("#ready strong")).to_have_text("ready")
    expect(page.locator("#ready")).to_contain_text("against 8 % wanted")
    page.goto(served.address())
    expect(page.locator("main")).to_contain_text(f"not known whether it is ready: {names[boards[1]]}")
    assert set(at_kilns(reopened(yard))) == {boards[2]} and examine(reopened(yard)).unsound == ()
