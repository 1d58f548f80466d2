"""What opens on a page: all that is folded away, and each question in its dialog. Pictures and axe look at both."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Page

QUESTIONS: dict[str, tuple[str, ...]] = {
    "came-off": ("#came-off",),
    "stop": ("#stop",),
    "found-where": ("#stop", "#ask >> text=Found metal"),
    "found-clock": ("#stop", "#ask >> text=Found rot", "#ask .choices button"),
    "tag": ("#tag-on",),
    "clamped": ("body:has(#sawn[value=sawn]) #elses >> text=Moved or clamped again",),  # by eye it is told without a question
    "another": ("#elses >> text=Another piece",),
    "bed-height": ("#elses >> text=Set the bed height",),
    "nothing-weighed": ("#weighed",),
    "day-over": ("#close",),
}
"""The name of a question, and what is pressed until it stands there."""
SHORT_MS = 2_000


def unfolded(page: Page) -> bool:
    """Open all that is folded away; whether anything was."""
    return bool(
        page.evaluate("[...document.querySelectorAll('main details:not([open])')].map((one) => (one.open = true)).length > 0")
    )


def opened(page: Page) -> Iterator[str]:
    """Each question that the page can ask as it stands, by name, while its dialog is open; nothing is told."""
    if page.locator("dialog#ask").count() == 0:
        return
    unfolded(page)
    for name, presses in QUESTIONS.items():
        if page.locator(presses[0]).first.is_visible() and page.locator(presses[0]).first.is_enabled():
            for press in presses:
                page.locator(press).first.click(timeout=SHORT_MS)
            page.wait_for_selector("dialog#ask[open]", timeout=SHORT_MS)
            yield name
            page.click("#ask-back", timeout=SHORT_MS)
