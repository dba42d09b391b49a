"""The notes at cells of an .xls workbook ([MS-XLS], 2.4.179 Note, 2.4.329 TxO)."""

import struct

_NOTE, _OBJECT, _TEXT, _CONTINUED = 0x1C, 0x5D, 0x1B6, 0x3C


class Notes:
    """Puts together the notes of a sheet out of its records: the text of one comes before its cell."""

    def __init__(self, *, newest: bool) -> None:
        self._newest = newest
        self._object = -1
        self._left = 0
        """Signs of the text of a note that are still to come."""
        self._texts: dict[int, str] = {}
        self._places: dict[tuple[int, int], int] = {}
        self._old: dict[tuple[int, int], str] = {}
        self._last = (0, 0)

    def add(self, kind: int, body: bytes) -> None:
        """Take in a record; those of other kinds are passed over."""
        if kind == _OBJECT and len(body) >= 8:
            (self._object,) = struct.unpack_from("<H", body, 6)
        elif kind == _TEXT and len(body) >= 12:
            (self._left,) = struct.unpack_from("<H", body, 10)
        elif kind == _CONTINUED and self._left and body:
            wide = body[0] & 1
            text = body[1:].decode("utf-16-le" if wide else "latin-1", "replace")[: self._left]
            self._left -= len(text)
            self._texts[self._object] = self._texts.get(self._object, "") + text
        elif kind == _NOTE and len(body) >= 8:
            self._add_note(body)

    def _add_note(self, body: bytes) -> None:
        row, column, length, number = struct.unpack_from("<HHHH", body)
        if self._newest:
            self._places[row + 1, column + 1] = number
            return
        # A long note goes on in further records, which name no cell.
        if row != 0xFFFF:
            self._last = (row + 1, column + 1)
        text = body[6 : 6 + min(length, 2048)].decode("cp1252", "replace")
        self._old[self._last] = self._old.get(self._last, "") + text

    def found(self) -> dict[tuple[int, int], str]:
        """Return the notes by row and column from 1, each on one line."""
        texts = {at: self._texts.get(number, "") for at, number in self._places.items()} | self._old
        return {at: " ".join(text.split()) for at, text in texts.items() if text.strip()}
