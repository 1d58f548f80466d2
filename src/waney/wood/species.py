"""A wood by any of its names, with every figure that is known of it, where it comes from, and what is not known.

UnknownSpecies     nothing by that name; the nearest names are suggested
SeveralSpecies     a name that more than one wood bears ("walnut"): never chosen silently
NoFigure           no table gives the figure: measure it or type it in
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from enum import StrEnum
from functools import cache, lru_cache
from types import MappingProxyType

from waney.figures.estimate import Basis, Estimate
from waney.figures.problem import Problem
from waney.figures.tables import Row, table
from waney.wood.kin import completed
from waney.wood.limits import LEAST_SATURATION
from waney.wood.names import names_of, plain, slug
from waney.wood.published import of_fia, of_species
from waney.wood.traits import Figure, Trait


class UnknownSpecies(Problem):
    """No wood goes by that name."""


class SeveralSpecies(Problem):
    """More than one wood goes by that name."""


class NoFigure(Problem):
    """No table gives this figure for this wood."""


class Group(StrEnum):
    """Hardwood (broadleaved) or softwood (conifer); says nothing about hardness."""

    HARD = "hardwood"
    SOFT = "softwood"


@dataclass(frozen=True)
class Species:
    """One wood. Moistures and shrinkages are shares; a figure that no table supports is None."""

    id: str
    common: str
    botanical: str
    synonyms: tuple[str, ...]
    group: Group
    figures: Mapping[Trait, Figure] = field(repr=False, compare=False)
    notes: str = ""

    @property
    def genus(self) -> str:
        """First word of the botanical name."""
        return self.botanical.split()[0]

    def figure(self, trait: Trait) -> Figure | None:
        """The figure with its status, or None when nothing supports one."""
        return self.figures.get(trait)

    def value(self, trait: Trait) -> Estimate | None:
        """The figure's estimate alone, or None."""
        found = self.figures.get(trait)
        return found.value if found else None

    def needed(self, trait: Trait) -> Estimate:
        """The estimate; raises NoFigure, a sentence that asks for it, when there is none."""
        value = self.value(trait)
        if value is None:
            raise NoFigure(f"No table gives a {trait} for {self.common}: measure it, or type in a value of your own.")
        return value

    @property
    def missing(self) -> tuple[Trait, ...]:
        """Traits without any value."""
        return tuple(trait for trait in Trait if trait not in self.figures)

    @property
    def sg_green(self) -> Estimate | None:
        """Oven-dry mass over green volume, relative to water [-]."""
        return self.value(Trait.SG_GREEN)

    @property
    def shrink_radial(self) -> Estimate | None:
        """Green to oven dry, share of the green size [-]."""
        return self.value(Trait.SHRINK_RADIAL)

    @property
    def shrink_tangential(self) -> Estimate | None:
        """Green to oven dry, share of the green size [-]."""
        return self.value(Trait.SHRINK_TANGENTIAL)

    @property
    def shrink_volumetric(self) -> Estimate | None:
        """Green to oven dry, share of the green volume [-]."""
        return self.value(Trait.SHRINK_VOLUMETRIC)

    @property
    def bark_volume_share(self) -> Estimate | None:
        """Volume of bark over volume of wood [-]."""
        return self.value(Trait.BARK_SHARE)

    @property
    def green_mc(self) -> Estimate | None:
        """Moisture of a green log [-]: the whole tree's where known, with a range that holds pure heartwood and pure sapwood.

        Never below fibre saturation, which is what green means."""
        whole = self.value(Trait.GREEN_MC_WHOLE)
        parts = [e for e in (self.value(Trait.GREEN_MC_HEART), self.value(Trait.GREEN_MC_SAP)) if e is not None]
        if whole is None and not parts:
            return None
        likely = whole.likely if whole else sum(e.likely for e in parts) / len(parts)
        known = whole or parts[0]
        edges = [whole.low, whole.high] if whole else [edge for e in parts for edge in (e.low, e.high)]
        points = [likely, *edges, *(e.likely for e in parts)]
        note = "whole tree" if whole else "mean of heartwood and sapwood"
        basis = Basis(known.basis.ground, known.basis.key, f"{note}; range holds heartwood alone and sapwood alone")
        low, middle, high = (max(point, LEAST_SATURATION) for point in (min(points), likely, max(points)))
        return Estimate(middle, low, high, basis, hard_min=LEAST_SATURATION)


@dataclass(frozen=True)
class _Listing:
    """A wood's names and rows; its figures are made only when it is asked for."""

    id: str
    common: str
    botanical: str
    synonyms: tuple[str, ...]
    group: str
    row: Row | None
    fia: Row | None


def _listing_of(row: Row, fia: Row | None) -> _Listing:
    common, *others = names_of(row["common_name"])
    also = [*others, *row["also_called"].split(";"), fia["common"] if fia else ""]
    distinct = {plain(name): name for name in reversed(also) if plain(name) not in ("", plain(common))}
    synonyms = tuple(reversed(distinct.values()))
    return _Listing(row["species_id"], common, row["botanical_name"], synonyms, row["group"], row, fia)


def _fia_listing(fia: Row) -> _Listing:
    return _Listing(slug(fia["botanical"]), fia["common"], fia["botanical"], (), fia["group"], None, fia)


@cache
def _listings() -> tuple[tuple[_Listing, ...], tuple[_Listing, ...]]:
    """The woods of `species.csv`, and those that only the FIA table knows."""
    fia = {row["code"]: row for row in table("fia_species")}
    main = tuple(_listing_of(row, fia.get(row["fia_code"])) for row in table("species"))
    taken = {row["fia_code"] for row in table("species")}
    alone = [row for code, row in fia.items() if code not in taken or row["botanical"].endswith(" spp.")]
    return main, tuple(_fia_listing(row) for row in alone)


def _figures(listing: _Listing) -> Mapping[Trait, Figure]:
    figures = of_species(listing.row, listing.fia) if listing.row else of_fia(listing.fia) if listing.fia else {}
    return MappingProxyType(completed(figures, listing.botanical.split()[0], listing.group))


@cache
def _species(id: str) -> Species:
    at = next(listing for part in _listings() for listing in part if listing.id == id)
    notes = at.row["notes"] if at.row else ""
    return Species(at.id, at.common, at.botanical, at.synonyms, Group(at.group), _figures(at), notes)


@cache
def all_species() -> tuple[Species, ...]:
    """Every wood of both tables: those of `species.csv` first, then what only the FIA table knows, in its order."""
    return tuple(_species(listing.id) for part in _listings() for listing in part)


Index = Mapping[str, tuple[_Listing, ...]]


@cache
def _indexes() -> tuple[Index, Index, Index]:
    """Plain name -> woods, in order of precedence: ids, the names of `species.csv`, the names of the FIA table."""
    main, fia = _listings()
    return {plain(listing.id): (listing,) for listing in main + fia}, _by_name(main), _by_name(fia)


def _by_name(listings: tuple[_Listing, ...]) -> Index:
    index: dict[str, tuple[_Listing, ...]] = {}
    for listing in listings:
        for name in dict.fromkeys(plain(n) for n in (listing.common, *listing.synonyms, listing.botanical)):
            index[name] = (*index.get(name, ()), listing)
    return index


def _listed(found: tuple[_Listing, ...]) -> str:
    shown = [f"{listing.common} ({listing.id})" for listing in found[:8]]
    return ", ".join(shown) + (f" and {len(found) - 8} more" if len(found) > 8 else "")


@lru_cache(maxsize=1024)
def _sharing(wanted: str) -> tuple[_Listing, ...]:
    """Woods of `species.csv` with `wanted` as whole words within one of their names."""
    names = _indexes()[1].items()
    found = {one.id: one for name, several in names if f" {wanted} " in f" {name} " for one in several}
    return tuple(found.values())


def _unknown(name: str, wanted: str) -> UnknownSpecies:
    near = get_close_matches(wanted, [*_indexes()[1], *_indexes()[2]], n=3)
    quoted = ", ".join(f"'{one}'" for one in near)
    hint = f"Nearest: {quoted}." if near else "Give the botanical name, or the genus with 'spp.'."
    return UnknownSpecies(f"No wood is known by the name {name!r}. {hint}")


def woods_called(name: str) -> tuple[Species, ...]:
    """Every wood that goes by this name, or has it within one of its names: "red oak" alone can be two. Raises UnknownSpecies."""
    wanted = plain(name)
    found = next((index[wanted] for index in _indexes() if wanted in index), ()) or (_sharing(wanted) if wanted else ())
    if not found:
        raise _unknown(name, wanted)
    return tuple(_species(listing.id) for listing in found)


@lru_cache(maxsize=1024)
def words_for(name: str) -> frozenset[str]:
    """Plain words of all names of the wood that goes by this name, its botanical one too; where several do, the words that all of
    them have. Empty where none does.

    >>> sorted(words_for("sugar maple")), "quercus" in words_for("oak"), "alba" in words_for("oak")
    (['acer', 'hard', 'maple', 'rock', 'saccharum', 'sugar'], True, False)
    """
    try:
        found = woods_called(name)
    except UnknownSpecies:
        return frozenset()
    names = ((one.common, one.botanical, *one.synonyms) for one in found)
    return frozenset.intersection(*(frozenset(plain(" ".join(each)).split()) for each in names))


def species(name: str) -> Species:
    """The wood with this id, common name, synonym or botanical name; case, commas and hyphens do not matter.

    Raises UnknownSpecies, with the nearest names, or SeveralSpecies, with those to choose from.
    >>> species("Black Walnut").id, species("walnut, black").id, species("Juglans nigra").id
    ('walnut_black', 'walnut_black', 'walnut_black')
    """
    wanted = plain(name)
    found = next((index[wanted] for index in _indexes() if wanted in index), ())
    if len(found) == 1:
        return _species(found[0].id)
    if found:
        raise SeveralSpecies(f"{name!r} is the name of {_listed(found)}: say which, by the name in brackets.")
    if wanted and (several := _sharing(wanted)):
        raise SeveralSpecies(f"{name!r} alone does not say which wood: write one of {_listed(several)}.")
    raise _unknown(name, wanted)
