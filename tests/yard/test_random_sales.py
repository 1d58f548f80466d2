"""Random sales keep stock, money and book together; `dev.py prove random_sales.py` does ten thousand."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

from waney.yard.acts.sales import Paid
from waney.yard.book.book import Book
from waney.yard.book.looking import open_tasks

from .test_survives import hasty

BENCHMARK = Path(__file__).parents[2] / "benchmarks" / "random_sales.py"


@pytest.fixture(scope="module")
def drawn() -> ModuleType:
    spec = importlib.util.spec_from_file_location("random_sales", BENCHMARK)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["random_sales"] = module
    spec.loader.exec_module(module)
    return module


def test_random_sales_keep_stock_money_and_promises_together(book: Book, drawn: ModuleType) -> None:
    seller = drawn.RandomSales(hasty(book), 7, count=12)
    steps = 220 if book.engine.dialect.name == "sqlite" else 90  # a server answers each line for itself
    for step in range(1, steps + 1):
        seller.step()
        if step % 50 == 0:
            seller.look()
    seller.arrive()
    seller.look()
    seller.replays()
    happened = seller.counted
    assert steps < 200 or all(
        happened[f"{kind} {end}"] > 0 for kind in ("Held", "Sold", "LeaseTaken") for end in ("written", "refused")
    )
    assert happened["SoldAway of a piece that is gone"] == sum("Money was taken" in task.words for task in open_tasks(book))


def test_a_cent_that_the_model_does_not_know_is_found(book: Book, drawn: ModuleType) -> None:
    seller = drawn.RandomSales(hasty(book), 8, count=4)
    while not seller.model.sold:
        seller.step()
    seller.look()
    seller.send(Paid(f"sale:{next(iter(seller.model.sold))}", 1))
    with pytest.raises(drawn.Disagrees, match="money"):
        seller.look()
