"""How long a wood keeps in the log, and what stain then costs: the packaged table `log_storage`."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.tables import Row, table

NO_VALUE = "no value"
NO_SOURCE = "common practice, no source"
ANY = "any"


@dataclass(frozen=True)
class Keeping:
    """begins: how the ids of the woods begin that keep so; weeks: of warm weather until the stain is all there;
    loss: share of the log's value [-] that it then takes."""

    begins: str
    trouble: str
    weeks: Estimate
    loss: Estimate


def keeping_of(species: str) -> Keeping | None:
    """How a wood keeps, by its species id; None where no row fits: no value."""
    rows = [row for row in table("log_storage") if row["begins"] != ANY and species.startswith(row["begins"])]
    if not rows:
        return None
    row = max(rows, key=lambda each: len(each["begins"]))
    return Keeping(row["begins"], row["trouble"], _figure(row, "weeks", 520.0), _figure(row, "loss", 1.0))


def without_value() -> tuple[str, ...]:
    """Troubles that no table prices, each with its reason."""
    return tuple(f"{row['trouble']}: {NO_VALUE}, {row['note']}" for row in table("log_storage") if row["begins"] == ANY)


def _figure(row: Row, what: str, most: float) -> Estimate:
    low, likely, high = (float(row[f"{what}_{point}"]) for point in ("low", "likely", "high"))
    key = row[f"{what}_source"]
    ground = Ground.DEFAULT if key == NO_SOURCE else Ground.SOURCE
    return Estimate(likely, low, high, Basis(ground, "" if ground is Ground.DEFAULT else key, row["note"]), 0.0, most)
