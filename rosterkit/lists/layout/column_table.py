"""One table whose records are lines below headings, as a Table, and what of it is skipped."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from rosterkit.lists.layout.bands import MOST_TITLES, Band, is_lone_text
from rosterkit.lists.layout.groups import Groups, label_and_value
from rosterkit.lists.layout.heading_texts import HeadingTexts
from rosterkit.lists.layout.lines import Body, LineJudge, LineKind
from rosterkit.lists.layout.skipping import CONTINUES, HEADING_AGAIN, NO_RECORD, NOTE, TITLE, TOTAL, Skips
from rosterkit.lists.layout.view import View
from rosterkit.lists.plain import Place, PlainCell
from rosterkit.lists.tables import Heading, Located, Origin, Record, Table

_WHY = {LineKind.TOTAL: TOTAL, LineKind.NOTE: NOTE}


@dataclass(frozen=True, slots=True)
class Naming:
    """How the keys of a table's headings and records differ from those of others on its sheet."""

    beside: bool = False
    """Whether another table stands beside it."""
    taken: Mapping[str, str] = field(default_factory=dict)
    """The keys of earlier tables of the sheet, and the headings that they stand for there."""


class ColumnTable:
    """Makes a Table of a band."""

    def __init__(self, view: View, band: Band, naming: Naming, skips: Skips) -> None:
        self._view, self._band, self._naming, self._skips = view, band, naming, skips
        again = set(band.again)
        self._lines = tuple(line for line in band.body if line not in again)
        self._columns = self._filled_columns()
        self._first_column = self._columns[0] if self._columns else 1

    def table(self, shared_titles: Sequence[Located] = (), *, all_records: bool = False) -> Table | None:
        """Return the table, None where nothing stands below its headings.

        ``shared_titles`` stand above it and its neighbours; with ``all_records`` no line is taken for a
        group, a total or a note.
        """
        view, band = self._view, self._band
        headings = self._column_headings()
        fixed = [sheet_title(view.sheet), *self._titles()]
        fixed += [_titled(f"{view.sheet}!heading{one.place.row}", one) for one in shared_titles]
        held: dict[int, Located] = {}
        for heading, value in fixed:
            held[len(headings)] = value
            headings.append(heading)
        for line in band.again:
            if line in view.lines:
                self._skips.line(view, line, HEADING_AGAIN)
        kinds = self._all_records() if all_records else self._judged()
        records = self._records(kinds, headings, held)
        if not records:
            self._skip_headings()
            return None
        row = band.heading.last if band.heading and not view.across else 0
        return Table(view.sheet, tuple(headings), tuple(records), row)

    def _filled_columns(self) -> tuple[int, ...]:
        lines: list[int] = list(self._lines)
        found = {position for line in lines for position in self._view.lines[line]}
        if self._band.heading is not None:
            for line in range(self._band.heading.first, self._band.heading.last + 1):
                found |= set(self._view.lines.get(line, ()))
        return tuple(sorted(found))

    def _column_headings(self) -> list[Heading]:
        view, band = self._view, self._band
        origin = Origin.ROW if view.across else Origin.COLUMN
        texts = HeadingTexts(view, band.heading, self._columns) if band.heading else None
        headings = []
        for position in self._columns:
            text = texts.text(position) if texts else ""
            cells = tuple(texts.cells(position)) if texts else ()
            key = view.position_key(position)
            if band.heading is not None and self._naming.taken.get(key, text) != text:
                key = f"{key}{band.heading.last}"
            headings.append(Heading(key, text, origin, cells))
        return headings

    def _titles(self) -> list[tuple[Heading, Located]]:
        """Return the titles above the table and their cells; further lines there are notes."""
        view = self._view
        found: list[tuple[Heading, Located]] = []
        for line in self._band.above[:-MOST_TITLES]:
            self._skips.line(view, line, TITLE)
        for line in self._band.above[-MOST_TITLES:]:
            if not is_lone_text(view, line):
                self._skips.line(view, line, NOTE)
                continue
            key = f"{view.sheet}!heading{'' if not found else line}"
            if key in self._naming.taken:
                key = f"{view.sheet}!heading{line}"
            found.append(_titled(key, *view.located(line)))
        return found

    def _skip_headings(self) -> None:
        """Skip titles and headings that have no record."""
        for line in self._band.above[-MOST_TITLES:]:
            if is_lone_text(self._view, line):
                self._skips.line(self._view, line, TITLE)
        if self._band.heading is not None:
            lines = range(self._band.heading.first, self._band.heading.last + 1)
            cells = [one for line in lines for one in self._view.located(line)]
            self._skips.cells(cells, NO_RECORD)

    def _all_records(self) -> dict[int, LineKind]:
        return dict.fromkeys(self._lines, LineKind.RECORD)

    def _judged(self) -> dict[int, LineKind]:
        return LineJudge(Body(self._view, self._lines, self._columns)).kinds()

    def _records(
        self, kinds: dict[int, LineKind], headings: list[Heading], held: dict[int, Located]
    ) -> list[Record]:
        view = self._view
        numbers = {position: number for number, position in enumerate(self._columns)}
        filled_down = self._filled_down()
        groups = Groups(view, len(headings))
        records = []
        last: dict[int, Located] = {}
        for line, kind in kinds.items():
            if kind is LineKind.GROUP:
                for replaced in groups.enter(line):
                    self._skips.line(view, replaced, NOTE)
            elif kind is LineKind.RECORD:
                last = {numbers[one]: view.cells[line, one] for one in view.lines[line]}
                for one, upper in filled_down.get(line, ()):
                    last.setdefault(numbers[one], upper)
                last |= {**held, **groups.held()}
                records.append(Record(self._record_key(line), last))
            elif kind is LineKind.CONTINUATION:
                self._continue(last, {numbers[one]: view.cells[line, one] for one in view.lines[line]})
            else:
                self._skips.line(view, line, _WHY[kind])
        headings += groups.headings
        return records

    def _continue(self, cells: dict[int, Located], more: Mapping[int, Located]) -> None:
        """Add a line that continues a record: its cells in place of blank ones, or to what stands there."""
        for number, added in more.items():
            known = cells.get(number)
            if known is None:
                cells[number] = added
                continue
            text = f"{known.cell.text}; {added.cell.text}"
            cells[number] = Located(known.place, replace(known.cell, text=text, value=text))
            self._skips.cells([added], CONTINUES)

    def _record_key(self, line: int) -> str:
        key = self._view.line_key(line)
        if self._naming.beside:
            return f"{key}/{self._view.position_key(self._first_column).rpartition('!')[2]}"
        return key

    def _filled_down(self) -> dict[int, list[tuple[int, Located]]]:
        """Return, by line, the cells merged over lines that hold for it too."""
        found: dict[int, list[tuple[int, Located]]] = {}
        lines = set(self._lines)
        for area in self._view.merged:
            cell = self._view.cells.get((area.top, area.left))
            if cell is None or area.bottom == area.top or area.top not in lines:
                continue
            for line in self._view.lines_between(area.top + 1, area.bottom):
                found.setdefault(line, []).append((area.left, cell))
        return found


def sheet_title(sheet: str, key: str = "") -> tuple[Heading, Located]:
    """Return the heading that a sheet's title is, and the title as its value (its place is A1)."""
    value = Located(Place(sheet, 1, 1), PlainCell(sheet, sheet))
    return Heading(key or f"{sheet}!title", "", Origin.SHEET_TITLE), value


def _titled(key: str, *cells: Located) -> tuple[Heading, Located]:
    """Return a title of a table as a heading without a text, or 'Owner: M01' under the heading Owner."""
    text, value = label_and_value(cells)
    return Heading(key, text, Origin.TABLE_TITLE, tuple(cells[:1]) if len(cells) > 1 else ()), value
