"""Loads of kilns: five boards that were measured and one that was not, on a stack, and their names."""

from __future__ import annotations

import pytest

from waney.web.shop import Shop
from waney.yard.services.hand import Hand

from .kiln_wood import boards_of, names_of, stack_of


@pytest.fixture
def boards(hand: Hand, shop: Shop) -> list[str]:
    return boards_of(hand, shop)


@pytest.fixture
def stack(hand: Hand, shop: Shop, boards: list[str]) -> str:
    return stack_of(hand, shop, boards)


@pytest.fixture
def names(shop: Shop, boards: list[str]) -> dict[str, str]:
    return names_of(shop)
