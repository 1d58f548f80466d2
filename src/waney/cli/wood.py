"""waney wood: what is known of a wood, figure by figure, and where it comes from."""

from __future__ import annotations

from typing import Annotated

import typer

from waney.cli.app import answering


@answering
def wood(name: Annotated[str, typer.Argument(help="A wood by its common, botanical or other name.")]) -> None:
    """Every figure that is known of a wood: low, likely, high, and its source; what is not known is named.

    waney wood "black walnut"
    """
    from waney.wood.species import species

    found = species(name)
    print(f"{found.common} ({found.botanical}), {found.group}")
    for trait, figure in found.figures.items():
        value = figure.value
        print(f"  {trait}: {value.likely:.4g} ({value.low:.4g} to {value.high:.4g}), {figure.status}; {value.basis}")
    for trait in found.missing:
        print(f"  {trait}: no value")
    if found.notes:
        print(f"  {found.notes}")
