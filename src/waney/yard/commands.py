"""Commands: acts on their way to the book, and the one list that phones, papers and pages send them in."""

from __future__ import annotations

import json
from dataclasses import dataclass

from waney.figures.json_schema import DRAFT, SchemaBuilder
from waney.figures.typed_json import BadJson, Decoder, Json, parsed
from waney.yard.acts.base import Decision, filled_lines, moment
from waney.yard.acts.every import ACTS, Act, act_json, act_kind, act_of
from waney.yard.problems import BadAct, BadCommands
from waney.yard.streams import checked_id

FORMAT = "waney-commands/1"
LARGEST_COUNT = 2**53
"""beyond it a page's numbers are no longer whole"""


@dataclass(frozen=True)
class Read:
    """What a decision was made on: a stream at a version, and then the sender's own commands up to number `after`."""

    stream: str
    version: int
    after: int = 0

    def __post_init__(self) -> None:
        filled_lines(stream=self.stream)
        if not 0 <= self.version <= LARGEST_COUNT or not 0 <= self.after <= LARGEST_COUNT:
            raise BadAct("what was read has a version and a number of a command, both 0 or more.")


@dataclass(frozen=True)
class Command:
    """An act, who sends it, from which device, as the how-manieth, and when by that device's clock."""

    id: str
    device: str
    count: int
    person: str
    happened_at: str
    act: Act
    read: tuple[Read, ...] = ()

    def __post_init__(self) -> None:
        checked_id(self.id, "id")
        checked_id(self.device, "device")
        if self.person:
            checked_id(self.person, "person")
        moment(self.happened_at, "happened_at")
        if not 1 <= self.count <= LARGEST_COUNT:
            raise BadAct("a device counts its commands from 1 on.")
        if isinstance(self.act, Decision) and not self.read:
            raise BadAct(f"{act_kind(self.act)} is a decision: say which streams were read, at which version.")
        if isinstance(self.act, Decision) and not set(self.act.streams()) <= {each.stream for each in self.read}:
            raise BadAct(f"{act_kind(self.act)} must name what it decides on, {self.act.streams()[0]}, among what was read.")


@dataclass(frozen=True)
class Unreadable:
    """A command of a list that is none: where it stands, its id if it has one, and the sentence."""

    place: int
    id: str
    sentence: str


def read_commands(text: str) -> tuple[Command | Unreadable, ...]:
    """The commands of a list, in their order; what cannot be read stands among them. Raises BadCommands for no list at all."""
    try:
        document = parsed(text)
    except BadJson as slip:
        raise BadCommands(f"This list of commands cannot be read: {slip}") from None
    if not isinstance(document, dict) or document.get("format") != FORMAT or not isinstance(document.get("commands"), list):
        raise BadCommands(f'A list of commands has "format": "{FORMAT}", a device, and commands; this has not.')
    device = document.get("device")
    return tuple(_command(each, device, place) for place, each in enumerate(document["commands"], 1))


def _command(data: Json, device: Json, place: int) -> Command | Unreadable:
    try:
        if not isinstance(data, dict) or not isinstance(data.get("act"), dict):
            raise BadAct("a command is an object with an act.")
        head = {name: value for name, value in data.items() if name != "act"} | {"device": device}
        act = dict(data["act"])
        return _built(head, act_of(str(act.pop("kind", "")), act))
    except (BadAct, BadJson) as slip:
        ident = data.get("id") if isinstance(data, dict) else None
        return Unreadable(place, ident if isinstance(ident, str) else "", f"Command {place} of the list: {slip}")


@dataclass(frozen=True)
class _Head:
    id: str
    device: str
    count: int
    happened_at: str
    person: str = ""
    read: tuple[Read, ...] = ()


def _built(head: Json, act: Act) -> Command:
    h: _Head = Decoder().decode(head, _Head, "command")
    return Command(h.id, h.device, h.count, h.person, h.happened_at, act, h.read)


def write_commands(device: str, commands: tuple[Command, ...]) -> str:
    """The list that `read_commands` reads."""
    listed = [command_json(command) for command in commands]
    return json.dumps({"format": FORMAT, "device": device, "commands": listed}, ensure_ascii=False, indent=1) + "\n"


def command_json(command: Command) -> Json:
    """One command of a list."""
    head = {"id": command.id, "count": command.count, "person": command.person, "happened_at": command.happened_at}
    read = {"read": read_json(command.read)} if command.read else {}
    return head | read | {"act": {"kind": act_kind(command.act)} | act_json(command.act)}


def read_json(read: tuple[Read, ...]) -> Json:
    """What was read, as it stands in a list and in the book."""
    return [{"stream": each.stream, "version": each.version} | ({"after": each.after} if each.after else {}) for each in read]


def commands_schema() -> Json:
    """JSON Schema of a list of commands."""
    builder = SchemaBuilder()
    kinds = [{"$ref": f"#/$defs/{kind}"} for kind in ACTS]
    for kind, cls in ACTS.items():
        builder.definitions[kind] = builder.fields(cls, kind)
    head = builder.fields(_Head)
    told = {name: form for name, form in head["properties"].items() if name != "device"}
    needed = [name for name in head["required"] if name != "device"]
    command = head | {"properties": told | {"act": {"anyOf": kinds}}, "required": [*needed, "act"]}
    return {
        "$schema": DRAFT,
        "title": FORMAT,
        "type": "object",
        "properties": {
            "format": {"const": FORMAT},
            "device": {"type": "string"},
            "commands": {"type": "array", "items": command | {"description": "One command."}},
        },
        "required": ["format", "device", "commands"],
        "additionalProperties": False,
        "$defs": dict(sorted(builder.definitions.items())),
    }
