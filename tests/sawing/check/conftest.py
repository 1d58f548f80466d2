"""Valid plans and makers of logs for the tests of the checker."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import pytest

from waney.logs.shape import LogShape
from waney.prices.product import Product
from waney.sawing.mill import Mill
from waney.sawing.wants import Wants

from .builder import Builder
from .known_logs import MILL, board, cone, cylinder, live_slab, log, wants
from .valid_plans import Cases


@pytest.fixture(scope="session")
def cases() -> Cases:
    return Cases()


@dataclass(frozen=True)
class Logs:
    """Makers of logs of known form."""

    log: Callable[..., LogShape] = log
    cylinder: Callable[..., LogShape] = cylinder
    cone: Callable[..., LogShape] = cone
    live_slab: Callable[..., Product] = live_slab
    board: Callable[..., Product] = board
    wants: Callable[..., Wants] = wants
    mill: Mill = MILL
    builder: type[Builder] = Builder


@pytest.fixture(scope="session")
def make() -> Logs:
    return Logs()
