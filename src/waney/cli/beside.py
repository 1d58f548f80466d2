"""Options beside a sheet: what the sheet says itself is refused there, so that nothing a person typed is dropped unheard."""

from __future__ import annotations

from collections.abc import Mapping

from waney.cli.app import WrittenWrong


def typed(value: str | None, usual: str) -> str:
    """What counts: as it was typed, be it nothing, else as usual."""
    return usual if value is None else value


def those_typed(options: Mapping[str, object]) -> tuple[str, ...]:
    """Names of those that somebody typed."""
    return tuple(name for name, value in options.items() if value is not None and value != [])


def refuse_beside(sheet: str, options: Mapping[str, object]) -> None:
    """options: those that count without a sheet alone, as they were typed. Raises WrittenWrong, which names each that was."""
    found = those_typed(options)
    if found:
        named = " and ".join(filter(None, (", ".join(found[:-1]), found[-1])))
        raise WrittenWrong(f"Leave out {named} beside a {sheet}, or leave the sheet out: there the sheet says it.")
