"""The layout of a whole list: every table of every sheet, and what belongs to none."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from rosterkit.errors import CannotRunError
from rosterkit.lists.layout.across import across_table, cvs_down_table
from rosterkit.lists.layout.across_blocks import blocks_across
from rosterkit.lists.layout.bands import Band, bands_of, is_lone_text
from rosterkit.lists.layout.column_table import ColumnTable, Naming
from rosterkit.lists.layout.form_tables import tables_of_forms
from rosterkit.lists.layout.forms import Form, forms_of
from rosterkit.lists.layout.headings import HeadingFinder
from rosterkit.lists.layout.label_columns import cv_numbers_down, label_columns, runs_down
from rosterkit.lists.layout.legends import legend_of
from rosterkit.lists.layout.regular import is_regular
from rosterkit.lists.layout.side_by_side import strips_of
from rosterkit.lists.layout.skipping import NO_HEADINGS, NO_TABLE, RULE, Skips
from rosterkit.lists.layout.texts import is_number, is_word
from rosterkit.lists.layout.titled_lists import titled_lists
from rosterkit.lists.layout.two_line_records import folded
from rosterkit.lists.layout.view import View, view_of
from rosterkit.lists.plain import PlainList, PlainSheet
from rosterkit.lists.reading import Corrections
from rosterkit.lists.tables import Layout, Located, Table

_MOST_CANDIDATES = 5


@dataclass
class _Found:
    """What the sheets looked at so far come to."""

    tables: list[Table] = field(default_factory=list)
    forms: dict[str, list[Form]] = field(default_factory=dict)
    skips: Skips = field(default_factory=Skips)
    colours: dict[tuple[str, str], str] = field(default_factory=dict)

    def add(self, table: Table | None) -> None:
        """Add a table if it has records."""
        if table is not None:
            self.tables.append(table)


def laid_out(plain: PlainList, corrections: Corrections) -> Layout:
    """Return every table of a list, what belongs to none, and what colours mean.

    Raises CannotRunError if ``corrections`` name a sheet that is not there, or a row of headings in which
    nothing stands.
    """
    titles = {sheet.title for sheet in plain.sheets}
    for title in corrections.heading_rows:
        if title not in titles:
            raise CannotRunError(
                f"the list has no sheet '{title}', whose headings were named",
                f"Name one of its sheets: {', '.join(sorted(titles))}.",
            )
    found = _Found()
    views = {sheet.title: view_of(sheet) for sheet in plain.sheets}
    for sheet in plain.sheets:
        view = views[sheet.title]
        if sheet.own and view.cells:
            _skip_whole(view, found.skips, _why_own(sheet.own))
        elif view.cells:
            _read_sheet(sheet, view, corrections.heading_rows.get(sheet.title), found)
        elif sheet.title in corrections.heading_rows:
            raise _nothing_there(view, corrections.heading_rows[sheet.title])
    tables = _in_order(plain, [*found.tables, *tables_of_forms(found.forms)])
    return Layout(tuple(tables), found.skips.found(views), found.colours)


def _why_own(own: str) -> str:
    return "a copy of a list" if own == "Copy" else "a sheet that rosterkit made"


def _skip_whole(view: View, skips: Skips, why: str) -> None:
    skips.cells([view.cells[spot] for spot in sorted(view.cells)], why)


def _in_order(plain: PlainList, tables: Sequence[Table]) -> list[Table]:
    order = {sheet.title: number for number, sheet in enumerate(plain.sheets)}
    return sorted(tables, key=lambda one: order[one.sheet])


def _read_sheet(sheet: PlainSheet, whole: View, forced: int | None, found: _Found) -> None:
    if forced is not None and whole.is_blank(forced):
        raise _nothing_there(whole, forced)
    view, colours = legend_of(sheet, _without_rules(whole, found.skips), found.skips)
    found.colours.update(colours)
    if not view.cells:
        return
    if forced is not None:
        if _is_below_headings(view, forced):
            found.skips.line(view, forced, NO_HEADINGS)
        found.tables += _column_tables(view, found.skips, forced)
        return
    cvs = cv_numbers_down(view)
    if cvs is not None:
        found.add(cvs_down_table(view, cvs, found.skips))
        return
    listed = titled_lists(view, found.skips)
    if listed:
        found.forms[sheet.title] = listed
        return
    labels = label_columns(view)
    if runs_down(view, labels, HeadingFinder(view)):
        blocks = blocks_across(view, labels)
        for block in blocks:
            found.add(across_table(block, labels[0].position, found.skips, beside=len(blocks) > 1))
        if not blocks:
            found.forms[sheet.title] = forms_of(view, found.skips)
        return
    found.tables += _column_tables(view, found.skips, None)


def _is_below_headings(view: View, line: int) -> bool:
    """Whether a line has a number and no text that is known as a heading, and several right above it are."""
    words = [sum(is_word(one.cell.text) for one in view.located(at)) for at in (line - 1, line)]
    return words[0] > 1 and not words[1] and any(is_number(one.cell) for one in view.located(line))


def _without_rules(view: View, skips: Skips) -> View:
    """Return the view without the lines that hold no letter and no digit: rules drawn with signs."""
    rules = [
        line
        for line in view.order
        if not any(sign.isalnum() for one in view.located(line) for sign in one.cell.text)
    ]
    for line in rules:
        skips.line(view, line, RULE)
    return view.without((line, one) for line in rules for one in view.lines[line])


def _column_tables(view: View, skips: Skips, forced: int | None) -> list[Table]:
    strips = strips_of(view) if forced is None else [view]
    tables: list[Table] = []
    taken: dict[str, str] = {}
    titles: list[Located] = []
    for strip in strips:
        for number, band in enumerate(bands_of(strip, HeadingFinder(strip), forced)):
            if band.heading is None and not is_regular(strip):
                _skip_whole(strip, skips, NO_TABLE)
                continue
            naming = Naming(beside=len(strips) > 1, taken=taken)
            shared = titles if number == 0 and strip is not strips[0] else []
            laid, whole = folded(strip, band) or (strip, band)
            table = ColumnTable(laid, whole, naming, skips).table(shared)
            if strip is strips[0] and number == 0:
                titles = _titles_of_all(view, strip, band)
            if table is not None:
                taken = {**{one.key: one.text for one in table.headings}, **taken}
                tables.append(table)
    return tables


def _titles_of_all(view: View, strip: View, band: Band) -> list[Located]:
    """Return the titles above the first of several tables beside each other that stand alone in their row."""
    return [
        strip.located(line)[-1]
        for line in band.above
        if is_lone_text(strip, line) and len(view.lines[line]) == len(strip.lines[line])
    ]


def _nothing_there(view: View, row: int) -> CannotRunError:
    candidates = candidate_rows(view)
    named = ", ".join(f"'{view.sheet}!{one}'" for one in candidates)
    fix = f"Name a row of headings, such as {named}." if candidates else "Name a sheet that holds a table."
    return CannotRunError(f"nothing stands in row {row} of sheet '{view.sheet}'", fix)


def candidate_rows(view: View) -> list[int]:
    """Return the rows that look most like headings, at most five, from the top."""
    finder = HeadingFinder(view)
    rows = sorted(view.order[:60], key=lambda line: -finder.score(line))
    return sorted(rows[:_MOST_CANDIDATES])
