"""A tally as codes: what was cut apart goes together again, in any order; what does not fit is told."""

from __future__ import annotations

import random
from base64 import urlsafe_b64encode

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.yard.frames import fnv1a, joined
from waney.yard.problems import BadCommands


def cut(text: str, size: int = 40) -> list[str]:
    """As the page cuts it: told by the form alone."""
    content = text.encode("utf-8")
    written = urlsafe_b64encode(content).decode("ascii").rstrip("=")
    parts = [written[i : i + size] for i in range(0, len(written), size)] or [""]
    return [f"WANEYLIST1:{n}/{len(parts)}:{fnv1a(content)}:{part}" for n, part in enumerate(parts, 1)]


# Test vectors of the FNV draft (draft-eastlake-fnv): empty, "a", "foobar".
@pytest.mark.parametrize(("content", "hash_"), [(b"", "cbf29ce48422"), (b"a", "af63dc4c8601"), (b"foobar", "85944171f739")])
def test_the_hash_is_fnv_1a(content: bytes, hash_: str) -> None:
    assert fnv1a(content) == hash_


@given(st.text(max_size=400), st.integers(0, 2**32))
def test_codes_go_together_in_any_order_and_twice(text: str, seed: int) -> None:
    codes = cut(text) * 2
    random.Random(seed).shuffle(codes)
    assert joined([*codes, "something else"]) == text


def test_missing_codes_are_named() -> None:
    codes = cut("x" * 200)
    with pytest.raises(BadCommands, match=r"missing: 2, 4\."):
        joined([code for n, code in enumerate(codes, 1) if n not in (2, 4)])


def test_codes_of_two_lists_are_not_mixed() -> None:
    with pytest.raises(BadCommands, match="two lists"):
        joined([*cut("one list"), *cut("another list")])


def test_a_code_that_was_read_wrongly_is_told() -> None:
    (code,) = cut("short", 4000)
    with pytest.raises(BadCommands, match="do not fit"):
        joined([code[:-1] + ("A" if code[-1] != "A" else "B")])


@pytest.mark.parametrize("codes", [[], ["WANEY:AB-12-P"], ["nonsense"]])
def test_other_codes_are_no_tally(codes: list[str]) -> None:
    with pytest.raises(BadCommands, match="None of these"):
        joined(codes)
