"""From a log sheet to a log: what was measured, the wood it is, its likely shape and everything in it that is in doubt."""

from __future__ import annotations

from base64 import b64decode
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from io import BytesIO

import numpy as np

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.logs.best import Helped, ranked
from waney.logs.cloud import read_cloud
from waney.logs.doubts import doubts, likely_shape
from waney.logs.measured import MeasuredLog, Trimmed
from waney.logs.mesh import scan_of_mesh
from waney.logs.opened import Flat, flats_of, trimmed_off
from waney.logs.scan import Scan
from waney.logs.scanned import scan_doubts, scanned_shape, with_scan
from waney.logs.shape import LogShape
from waney.logs.sheet import LogSheet, log_sheet
from waney.logs.swell import swell_warning
from waney.logs.tape import build_shape
from waney.logs.volume import volume_of
from waney.logs.weight import GreenWeight, part_weight, weight_of_shapes
from waney.units.number import Comma
from waney.wood.species import NoFigure, Species, species

LOG, SCAN = "log", "scan"
"""Roles of the sheets in a plan file; a scan is kept as base64."""


class ScanMissing(Problem):
    """The log sheet names a scan that was not handed over."""


@dataclass(frozen=True, eq=False)
class Measured:
    """A log as it was measured, the wood it is, its likely shape, what looks odd, what was assumed for what nobody typed, and
    its scan when it has one."""

    log: MeasuredLog
    wood: Species
    shape: LogShape
    remarks: tuple[str, ...]
    assumed: tuple[str, ...]
    scan: Scan | None = None

    @property
    def doubts(self) -> Mapping[str, Estimate]:
        """Everything the shape depends on that is not exactly known."""
        return doubts(self.log, self.wood) if self.scan is None else scan_doubts(self.log, self.scan, self.wood)

    def shape_at(self, values: Mapping[str, float]) -> LogShape:
        """The shape under values of the doubts."""
        return build_shape(self.log, values) if self.scan is None else scanned_shape(self.log, self.scan, values)

    @property
    def whole(self) -> LogShape:
        """The likely shape before anything was trimmed or sawn off it."""
        uncut = replace(self.log, flats=(), trimmed=Trimmed())
        return replace(self, log=uncut).shape_at(likely(self.doubts))

    @property
    def flats(self) -> tuple[Flat, ...]:
        """The faces it has already, as planes of the likely shape."""
        return flats_of(self.log, trimmed_off(self.whole, self.log.trimmed)) if self.log.flats else ()

    def shapes(self, scenarios: Scenarios) -> tuple[LogShape, ...]:
        """The shape in every scenario."""
        return tuple(self.shape_at(values) for values in scenarios.draws(self.doubts))

    def weight(self, scenarios: Scenarios, shapes: Sequence[LogShape] | None = None, *, bark: bool = True) -> Estimate:
        """Green, with its bark or debarked [kg]; shapes: those of the same scenarios, where they are at hand. Raises NoFigure."""
        return weight_of_shapes(shapes or self.shapes(scenarios), self.shape, self.wood, scenarios, bark=bark)

    def weight_of_parts(self, scenarios: Scenarios, shapes: Sequence[LogShape] | None = None) -> GreenWeight | None:
        """What the parts of the log are weighed with; shapes: as above. None when no table gives what a weight needs."""
        try:
            return part_weight(self.weight(scenarios, shapes), self.wood)
        except NoFigure:
            return None

    def volume(self, scenarios: Scenarios, shapes: Sequence[LogShape] | None = None) -> Estimate:
        """Of the wood inside bark [m3]; shapes: as above."""
        found = np.array([volume_of(shape, bark=False) for shape in shapes or self.shapes(scenarios)])
        return summed_up(found, volume_of(self.shape, bark=False), Basis(Ground.READING, "the log sheet"))

    def helps_most(self, volume_m3: Estimate, scenarios: Scenarios) -> Helped | None:
        """The one measurement that would narrow the volume most; None when nothing is open, or for a scan."""
        if self.scan is not None:
            return None
        found = ranked(self.log, self.wood, lambda shape: volume_of(shape, bark=False), scenarios, volume_m3)
        return found[0] if found else None


def measured_of(sheets: Mapping[str, str], comma: Comma = Comma.ASK) -> Measured:
    """The log of a sheet, with its scan where it names one. Raises SheetProblems, UnknownSpecies, BadScan, ScanMissing."""
    sheet = log_sheet(sheets[LOG], comma)
    wood = species(sheet.log.species)
    if sheet.scan is None:
        swell = swell_warning(sheet.log, wood)
        odd = (*sheet.remarks, str(swell)) if swell else sheet.remarks
        return Measured(sheet.log, wood, likely_shape(sheet.log, wood), odd, sheet.assumed)
    scan = _scan(sheet, sheets)
    log = with_scan(sheet.log, scan)
    shape = scanned_shape(log, scan, likely(scan_doubts(log, scan, wood)))
    return Measured(log, wood, shape, sheet.remarks, sheet.assumed, scan)


def _scan(sheet: LogSheet, sheets: Mapping[str, str]) -> Scan:
    part = sheet.scan
    assert part is not None
    if SCAN not in sheets:
        raise ScanMissing(f'The log sheet names the scan "{part.file}", but it was not found beside the sheet.')
    cloud = read_cloud(BytesIO(b64decode(sheets[SCAN])), part.file, part.unit_m)
    return scan_of_mesh(cloud, part.pose, part.over)
