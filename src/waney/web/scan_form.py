"""Scan form: a scan of a log that somebody sent, and how the log lies in it, as its sheet says it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from math import isfinite
from pathlib import PurePosixPath

from waney.logs.cloud import named_by_content, read_cloud
from waney.logs.scan_pose import Up, found_pose, place_of_mark
from waney.units.length import parse_length, parse_length_unit
from waney.web.forms import BadField, Sent
from waney.web.toml import as_number, quoted

UNITS = ("m", "mm", "cm", "in", "ft")
OVER = ("bark", "wood")
NAMES = ("scan_unit", "scan_over", "scan_up", "scan_butt", "scan_top", "scan_mark", "scan_mark_clock", "scan_reach")
LONGEST_NAME = 80
UNASKED = dict.fromkeys((*NAMES, "scan_name"), "")
"""the form before anybody wrote into it"""


@dataclass(frozen=True)
class ScanSent:
    """The file as it came, and what was answered beside it; empty for what was not."""

    name: str
    content: bytes
    fields: dict[str, str]

    def get(self, name: str) -> str:
        """What was answered."""
        return self.fields.get(name, "")


def scan_sent(sent: Sent, content: bytes | None) -> ScanSent | None:
    """What came with a form; None where no file was chosen."""
    if content is None:
        return None
    name = getattr(sent.form.get("scan"), "filename", "") or ""
    bare = PurePosixPath(name.replace("\\", "/")).name[-LONGEST_NAME:]
    return ScanSent(bare or "scan", content, fields_of(sent))


def fields_of(sent: Sent) -> dict[str, str]:
    """What was answered about a scan."""
    return {name: sent.text(name) for name in NAMES}


def scan_lines(scan: ScanSent) -> tuple[str, ...]:
    """Its part of the log sheet. Where no ends are written, they are found in the scan. Raises BadCloud, BadScan, BadField."""
    if not scan.content:
        raise BadField("This file is empty; send the scan itself.")
    unit = scan.get("scan_unit") or UNITS[0]
    name = named_by_content("".join(letter if letter.isprintable() else "_" for letter in scan.name), scan.content)
    lies = _written(scan) if any(map(scan.get, ("scan_butt", "scan_top", "scan_mark"))) else _found(scan, name, unit)
    return (f"file = {quoted(name)}", f"unit = {quoted(unit)}", *lies, *_besides(scan))


def _written(scan: ScanSent) -> Iterator[str]:
    for name, what in (("butt", "the butt end"), ("top", "the top end"), ("mark", "a place on the outside")):
        told = scan.get(f"scan_{name}").replace(";", " ").replace(",", " ").split()
        if len(told) != 3:
            raise BadField(f"Where is {what} in the scan? Write three numbers, x y z, with points for decimals.")
        yield f"{name} = [{', '.join(map(_coordinate, told))}]"
    if scan.get("scan_mark_clock"):
        yield f"mark_clock = {as_number(scan.get('scan_mark_clock'))}"


def _coordinate(word: str) -> str:
    try:
        return f"{float(word):.9g}" if isfinite(float(word)) else _coordinate("")
    except ValueError:
        raise BadField(f'"{word[:20]}" is no number of a point in the scan; write x y z, with points for decimals.') from None


def _found(scan: ScanSent, name: str, unit: str) -> Iterator[str]:
    metres = parse_length("1", parse_length_unit(unit))
    up = Up(scan.get("scan_up")) if scan.get("scan_up") in tuple(Up) else Up.Y
    pose = found_pose(read_cloud(BytesIO(scan.content), name, metres).points_m, up)
    for what, point in (("butt", pose.butt_m), ("top", pose.top_m), ("mark", place_of_mark(pose))):
        yield f"{what} = [{', '.join(f'{each / metres:.6g}' for each in point)}]"


def _besides(scan: ScanSent) -> Iterator[str]:
    if scan.get("scan_over") in OVER:
        yield f"over = {quoted(scan.get('scan_over'))}"
    if scan.get("scan_reach"):
        yield f"reach = {as_number(scan.get('scan_reach'))}"
