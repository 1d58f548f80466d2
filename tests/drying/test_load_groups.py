"""Lots parted into loads: the fewest loads, then the fewest days, against every way written out."""

from __future__ import annotations

from collections.abc import Iterator

from hypothesis import given, settings
from hypothesis import strategies as st

from waney.drying.load_groups import cheapest, groups_that_fit


def every_way(lots: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """All partitions, as masks."""
    if not lots:
        yield ()
        return
    first, *rest = lots
    for pick in range(1 << len(rest)):
        group = 1 << first | sum(1 << one for i, one in enumerate(rest) if pick >> i & 1)
        for others in every_way(tuple(one for i, one in enumerate(rest) if not pick >> i & 1)):
            yield (group, *others)


@settings(max_examples=60, deadline=None)
@given(count=st.integers(1, 5), data=st.data())
def test_no_way_has_fewer_loads_or_days(count: int, data: st.DataObject) -> None:
    allowed = data.draw(st.sets(st.integers(1, (1 << count) - 1)))
    days = {group: float(data.draw(st.integers(1, 50))) for group in sorted(allowed)}
    found = cheapest(count, days)
    ways = [way for way in every_way(tuple(range(count))) if all(group in days for group in way)]
    if found is None:
        assert not ways
        return
    assert sum(found) == (1 << count) - 1 and all(a & b == 0 for i, a in enumerate(found) for b in found[i + 1 :])
    assert (len(found), sum(days[g] for g in found)) == min((len(way), sum(days[g] for g in way)) for way in ways)


@given(sizes=st.lists(st.integers(1, 9), min_size=1, max_size=6), room=st.integers(1, 30))
def test_groups_that_fit_are_all_of_them(sizes: list[int], room: int) -> None:
    def heavy(group: int) -> int:
        return sum(size for i, size in enumerate(sizes) if group >> i & 1)

    found = groups_that_fit(len(sizes), lambda group: heavy(group) <= room)
    assert set(found) == {group for group in range(1, 1 << len(sizes)) if heavy(group) <= room}
