"""The worker, beside a page that waits for it."""

from __future__ import annotations

from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.yard.book import jobs


def worked(shop: Shop, kind: str) -> bytes:
    """The next job is of this kind; it is done, and answers."""
    job = jobs.take(shop.book, KINDS, "here", shop.now())
    assert job is not None
    assert job.kind == kind
    answer = KINDS[kind](shop.book.files.read(job.input), lambda *_: None)
    jobs.finish(shop.book, job.id, "here", answer, shop.now())
    return answer
