"""Names: every wrong and every swapped neighbouring character is caught, proved by trying them all."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.yard.names import CHARACTERS, LETTERS, PRIME, Name, check_character, holds, nth_code, read_name
from waney.yard.problems import BadName

PIECES = [Name(code, number) for code in ("A", "Y", "AB", "MK", "YXYA") for number in (0, 1, 9, 10, 37, 99, 100, 512, 999999)]


def bare(name: Name) -> str:
    return str(name).replace("-", "")


def wrong(characters: str) -> set[str]:
    """Every way to get one character wrong."""
    places = range(len(characters))
    return {characters[:i] + c + characters[i + 1 :] for i in places for c in CHARACTERS if c != characters[i]}


def swapped(characters: str) -> set[str]:
    """Every way to swap two neighbours that differ."""
    places = range(len(characters) - 1)
    made = {characters[:i] + characters[i + 1] + characters[i] + characters[i + 2 :] for i in places}
    return made - {characters}


def test_the_characters_are_a_prime_and_none_looks_like_another() -> None:
    assert PRIME == len(set(CHARACTERS)) == 31
    assert all(PRIME % divisor for divisor in range(2, PRIME))
    assert not set("IOSZQ") & set(CHARACTERS)


def test_a_name_worked_by_hand() -> None:
    """A = 10, B = 11: 5·10 + 4·11 + 3·1 + 2·2 = 101 = 3·31 + 8; 23 are wanting to 4·31, and P is 23."""
    assert str(Name("AB", 12)) == "AB-12-P"


@pytest.mark.parametrize("length", [1, 2])
def test_over_all_bodies_of_a_length_no_wrong_and_no_swapped_character_passes(length: int) -> None:
    for body in map("".join, itertools.product(CHARACTERS, repeat=length)):
        characters = body + check_character(body)
        assert holds(characters)
        assert not any(map(holds, wrong(characters) | swapped(characters)))


def test_over_all_pieces_of_all_logs_of_one_letter_no_slip_passes() -> None:
    """All 21 x 99 names that a yard's first logs can have."""
    for code, number in itertools.product(LETTERS, range(1, 100)):
        characters = bare(Name(code, number))
        assert not any(map(holds, wrong(characters) | swapped(characters)))


@pytest.mark.parametrize("name", PIECES, ids=str)
def test_short_and_long_names_let_no_slip_pass_as_another_name(name: Name) -> None:
    for slip in wrong(bare(name)) | swapped(bare(name)):
        with pytest.raises(BadName):
            read_name(slip)


def test_weights_of_neighbours_differ_by_one_and_never_reach_the_prime() -> None:
    """Why it holds at any length: the longest name has 11 characters, so every weight is one of 1 to 11."""
    longest = bare(Name("YYYY", 999999))
    assert len(longest) == 11 < PRIME
    zero = CHARACTERS[0]
    for place in range(len(longest)):
        one = zero * place + CHARACTERS[1] + zero * (len(longest) - place - 1)
        weight = len(longest) - place
        assert holds(one[:-1] + CHARACTERS[-weight % PRIME]) or place == len(longest) - 1


@given(st.text(LETTERS, min_size=1, max_size=4), st.integers(0, 999999))
def test_what_is_written_is_read_again_however_it_is_written(code: str, number: int) -> None:
    name = Name(code, number)
    assert read_name(str(name)) == name
    assert read_name(bare(name).lower()) == name
    assert read_name(f" {code} {number} {str(name)[-1]} ") == name


def test_letters_that_look_like_digits_are_read_as_digits() -> None:
    name = next(Name("A", n) for n in range(10, 999) if "1" in str(n) and "0" in str(n))
    assert read_name(str(name).replace("1", "I").replace("0", "O")) == name


@pytest.mark.parametrize("written", ["", "A", "12", "A-12", "A-012-A", "ABCDE-1-A", "A-1-?", "A--1", "Q-1-A", "A-1234567-A"])
def test_what_is_no_name_is_answered_with_a_sentence(written: str) -> None:
    with pytest.raises(BadName, match=r"name|check character"):
        read_name(written)


def test_codes_come_in_order_and_never_twice() -> None:
    codes = [nth_code(n) for n in range(21 + 21**2 + 5)]
    assert len(set(codes)) == len(codes)
    assert codes[:3] == ["A", "B", "C"] and codes[21] == "AA" and codes[21 + 21**2] == "AAA"
    assert codes == sorted(codes, key=lambda code: (len(code), code))
