"""Pressing: a page as a browser without scripts has it: its forms and buttons, and what pressing one of them sends."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any
from urllib.parse import urlencode, urljoin, urlsplit

from .conftest import Person

SCRIPTED = "needs-module"
"""the look hides what has this class where there are no scripts"""


@dataclass
class Control:
    """Something in a form. options: of a select, where one was chosen; words: on a button."""

    kind: str
    name: str
    value: str
    owner: str
    target: str | None = None
    options: list[str] = field(default_factory=list)
    words: str = ""
    seen: bool = True


@dataclass
class Page(HTMLParser):
    """What stands in a page. forms: their address and way of sending, by id or number."""

    address: str
    text: str
    forms: dict[str, tuple[str, str]] = field(default_factory=dict)
    controls: list[Control] = field(default_factory=list)
    _form: str = ""
    _hidden: list[str] = field(default_factory=list)
    _open: Control | None = None
    _labelled: bool = False

    def __post_init__(self) -> None:
        HTMLParser.__init__(self)
        self.feed(self.text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        hides = "hidden" in told or SCRIPTED in told.get("class", "").split()
        if (self._hidden and tag == self._hidden[-1]) or (hides and tag not in ("input", "button")):
            self._hidden.append(tag)
        name, value, owner = told.get("name", ""), told.get("value", ""), told.get("form", self._form)
        if tag == "form":
            self._form = told.get("id") or f"{len(self.forms)}"
            self.forms[self._form] = (told.get("action", ""), told.get("enctype", ""))
        elif tag == "input":
            self.controls.append(Control(told.get("type", "text"), name, value, owner))
        elif tag == "select":
            self._open = Control(tag, name, "", owner)
            self.controls.append(self._open)
        elif tag == "option" and self._open:
            self._open.options.append(value)
            if "selected" in told or len(self._open.options) == 1:
                self._open.value = value
            self._labelled = "value" in told
        elif tag == "button":
            seen = not (self._hidden or hides or "disabled" in told)
            words, self._labelled = told.get("aria-label", ""), "aria-label" in told
            kind = told.get("type", "submit")
            self._open = Control(kind, name, value, owner, told.get("formaction"), words=words, seen=seen)
            self.controls.append(self._open)

    def handle_data(self, data: str) -> None:
        if self._open is None or self._labelled:
            return
        if self._open.kind == "select":
            if data.strip() and self._open.options:
                self._open.options[-1] = data.strip()  # an option without a value sends its words
        else:
            self._open.words += data

    def handle_endtag(self, tag: str) -> None:
        if self._hidden and tag == self._hidden[-1]:
            self._hidden.pop()
        if self._open and tag in ("select", "button"):
            self._open.words = " ".join(self._open.words.split())
            self._open = None
        if tag == "form":
            self._form = ""

    def buttons(self) -> list[Control]:
        """What can be pressed and sends a form to this page's own address or below it."""
        own = urlsplit(self.address).path
        return [one for one in self.controls if one.kind == "submit" and one.seen and self._target(one)[0].startswith(own)]

    def button(self, words: str) -> Control:
        """The only one with these words."""
        found = [one for one in self.buttons() if one.words == words]
        assert len(found) == 1, (words, [one.words for one in self.buttons()])
        return found[0]

    def _target(self, button: Control) -> tuple[str, str]:
        action, way = self.forms[button.owner]
        where = action if button.target is None else button.target
        return (urljoin(self.address, where) if where else self.address, way)

    def each_kind(self) -> list[str]:
        """One button of every sort: all that say what to do, and of those that say how or how much the first of a form."""
        kinds = {(one.owner, one.name, one.value if one.name == "do" else ""): one.words for one in reversed(self.buttons())}
        return list(kinds.values())

    def press(self, person: Person, words: str, photo: bytes | None = None, **chosen: str) -> Any:
        """The answer to pressing a button, with what was chosen in the selects of its form."""
        button, fields = self.button(words), []
        for one in self.controls:
            if one.owner != button.owner or not one.name or (one.kind in ("submit", "file") and one is not button):
                continue
            if one.name in chosen:
                assert chosen[one.name] in one.options, (one.name, one.options)
            fields.append((one.name, chosen.get(one.name, one.value)))
        address, way = self._target(button)
        if way == "multipart/form-data":
            (file,) = (one.name for one in self.controls if one.owner == button.owner and one.kind == "file")
            sent = {file: ("face.jpg" if photo else "", photo or b"", "image/jpeg")}
            return person.client.post(address, data=dict(fields), files=sent, follow_redirects=True)
        headers = {"content-type": "application/x-www-form-urlencoded"}
        return person.client.post(address, content=urlencode(fields), headers=headers, follow_redirects=True)


def opened(person: Person, address: str) -> Page:
    """The page at an address."""
    answer = person.get(address)
    assert answer.status_code == 200, answer.text
    return Page(address, answer.text)
