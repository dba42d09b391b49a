"""Styles of an OpenDocument spreadsheet: the colour behind a cell, and which sheets are hidden."""

import re

from lxml import etree

from rosterkit.lists.files.open_document_names import FORMATTING, STYLE, TABLE

_COLOUR = re.compile(r"#([0-9A-Fa-f]{6})")
_WHITE = "FFFFFF"
_LONGEST_CHAIN = 50
"""Styles that are asked one after the other; files that go round in a circle are damaged."""


class Styles:
    """The styles by name, as far as they tell how a list looks."""

    def __init__(self) -> None:
        self._parents: dict[str, str] = {}
        self._colours: dict[str, str] = {}
        self._usual = ""
        self._hidden: set[str] = set()
        self._known: dict[str, str] = {}

    def add(self, style: etree._Element) -> None:
        """Take in a style, or the default of all styles of a family; other elements are passed over."""
        family, name = style.get(f"{STYLE}family"), style.get(f"{STYLE}name") or ""
        if family == "table":
            properties = style.find(f"{STYLE}table-properties")
            if properties is not None and properties.get(f"{TABLE}display") == "false":
                self._hidden.add(name)
        elif family == "table-cell":
            properties = style.find(f"{STYLE}table-cell-properties")
            stated = None if properties is None else properties.get(f"{FORMATTING}background-color")
            if style.tag == f"{STYLE}default-style":
                self._usual = stated or ""
                return
            self._parents[name] = style.get(f"{STYLE}parent-style-name") or ""
            if stated is not None:
                self._colours[name] = stated

    def hidden(self, name: str | None) -> bool:
        """Whether sheets of a style are hidden."""
        return name in self._hidden

    def fill(self, name: str) -> str:
        """Return the colour behind cells of a style as RRGGBB, blank for none and for white."""
        if name not in self._known:
            match = _COLOUR.fullmatch(self._stated(name).strip())
            colour = match[1].upper() if match else ""
            self._known[name] = "" if colour == _WHITE else colour
        return self._known[name]

    def _stated(self, name: str) -> str:
        """Return what a style, or the next above it that says anything, states; also "transparent"."""
        for _ in range(_LONGEST_CHAIN):
            if name in self._colours:
                return self._colours[name]
            name = self._parents.get(name, "")
            if not name:
                break
        return self._usual
