"""Money: whole cents of one currency."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from waney.units.number import Comma, parse_number
from waney.units.written import NoUnit, Unreadable, shown, split_sign, tidy

MOST_CENTS = 10**14
"""A shop of two does not turn over more: a slip of the pen, and it still fits 64 bits."""
EXAMPLE = "12.50 or 12.50 EUR"

_SIGNS = {"$": ("USD", "CAD", "AUD", "NZD"), "£": ("GBP",), "€": ("EUR",)}
_PRINTED = {"USD": "$", "GBP": "£", "EUR": "€"}
_AMOUNT = r"(?P<amount>[0-9.,]*[0-9])"
_MARK = r"[$£€]|[a-z]{3}"
_WRITTEN = re.compile(rf"(?P<before>{_MARK})? ?(?P<sign>-?){_AMOUNT} ?(?P<after>{_MARK})?")


@dataclass(frozen=True)
class Money:
    """An amount in whole cents (hundredths) of a currency named by its ISO 4217 letters."""

    cents: int
    currency: str

    def __str__(self) -> str:
        return print_money(self.cents, self.currency)


def parse_money(text: str, currency: str | None, comma: Comma = Comma.ASK) -> Money:
    """An amount as written: `12.50`, `$12.50`, `12,50 €`, `-3 USD`. `currency` is the shop's, None: it must be written.

    Raises NoUnit, TwoReadings, and Unreadable for broken cents or another currency than the shop's.
    >>> parse_money("$1,234.50", "USD"), parse_money("12,50 €", None)
    (Money(cents=123450, currency='USD'), Money(cents=1250, currency='EUR'))
    """
    cents, named = _read(text, currency, comma)
    if cents.denominator != 1:
        raise Unreadable(f"{shown(text)} holds a part of a cent; write whole cents, for instance 12.50.")
    return Money(int(cents), named)


def parse_rate(text: str, currency: str | None, comma: Comma = Comma.ASK) -> tuple[float, str]:
    """A price for one of something: cents, whole or broken, and the currency. Written and refused as in `parse_money`.

    >>> parse_rate("0.455", "USD")
    (45.5, 'USD')
    """
    cents, named = _read(text, currency, comma)
    return float(cents), named


def _read(text: str, currency: str | None, comma: Comma) -> tuple[Fraction, str]:
    sign, size = split_sign(tidy(text, "an amount of money", EXAMPLE).lower())
    match = _WRITTEN.fullmatch(size)
    if match is None or (match["before"] and match["after"]) or (match["sign"] and sign < 0):
        raise Unreadable(f"{shown(text)} is not an amount of money; write for instance {EXAMPLE}.")
    named = _currency(text, match["before"] or match["after"], currency)
    cents = sign * (-1 if match["sign"] else 1) * 100 * parse_number(match["amount"], comma)
    if abs(cents) > MOST_CENTS:
        raise Unreadable(f"{shown(text)} is more than a shop can turn over; look at the number.")
    return cents, named


def _currency(text: str, mark: str | None, shop: str | None) -> str:
    if mark is None:
        if shop is None:
            raise NoUnit(f"{shown(text)} does not say which money; write for instance 12.50 EUR.")
        return shop
    possible = _SIGNS.get(mark, (mark.upper(),))
    if shop is None and len(possible) > 1:
        raise NoUnit(f"{shown(text)} does not say which dollar; write for instance 12.50 USD.")
    if shop is not None and shop not in possible:
        raise Unreadable(f"{shown(text)} is not in {shop}, this shop's currency; write the amount in {shop}.")
    return shop or possible[0]


def print_money(cents: int, currency: str) -> str:
    """The amount with two decimals: `$12.50`, `£3.00`, `-€0.05`, `12.50 CHF`."""
    amount = f"{abs(cents) // 100}.{abs(cents) % 100:02d}"
    minus = "-" if cents < 0 else ""
    sign = _PRINTED.get(currency)
    return f"{minus}{sign}{amount}" if sign else f"{minus}{amount} {currency}"
