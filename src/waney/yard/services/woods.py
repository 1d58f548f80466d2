"""Woods as people write them and as the tables know them."""

from __future__ import annotations

from waney.wood.species import SeveralSpecies, Species, UnknownSpecies, species


def known_wood(written: str) -> str:
    """The wood's id where a table knows it, else as it was written."""
    wood = wood_of(written)
    return written if wood is None else wood.id


def called_wood(written: str) -> str:
    """Its common name where a table knows it, else as it was written."""
    wood = wood_of(written)
    return written if wood is None else wood.common


def wood_of(written: str) -> Species | None:
    """The wood that is meant; None where no table knows it, or where it can be several."""
    try:
        return species(written) if written else None
    except (UnknownSpecies, SeveralSpecies):
        return None


def genus_of(written: str) -> str:
    """Its genus where a table knows the wood, else empty."""
    wood = wood_of(written)
    return "" if wood is None else wood.genus
