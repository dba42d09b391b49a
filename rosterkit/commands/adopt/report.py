"""What a list came to, as text."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from rosterkit.commands.adopt.command import AdoptReport
from rosterkit.commands.adopt.report_json import adopt_json
from rosterkit.commands.adopt.surety import in_question, surety
from rosterkit.commands.adopt.words import word_for
from rosterkit.formats import as_lines
from rosterkit.lists.adopted import Adopted, Doubt
from rosterkit.lists.reading import ENGINES, NOTHING, ColumnReading, TableReading
from rosterkit.lists.tables import Heading, Origin, Skipped

_SHOWN = 20
"""So many of a kind are printed; the sheet Reading has them all."""
_WIDEST = 30
_INDENT = "    "


def adopt_text(report: AdoptReport) -> str:
    """Return how each column was read, what is in doubt, what was left out, and what is to be done next."""
    adopted = report.adopted
    lines = [f"{report.path}: {_counts(report)}", *(_INDENT + one for one in _remarks(report))]
    for reading in adopted.readings:
        lines += ["", *_table(reading, adopted)]
    if adopted.doubts:
        lines += ["", _number(len(adopted.doubts), "doubt"), *_first(map(_doubt, adopted.doubts))]
    if adopted.skipped:
        lines += ["", f"left out ({len(adopted.skipped)})", *_first(map(_left_out, adopted.skipped))]
    return as_lines([*lines, "", *_next(report)])


def _remarks(report: AdoptReport) -> Sequence[str]:
    return tuple(dict.fromkeys([*report.plain.remarks, *report.adopted.remarks]))


def _counts(report: AdoptReport) -> str:
    rows = report.adopted.rows
    engines = _number(len(rows.get(ENGINES, ())), "engine") if rows.get(ENGINES) else "no engines"
    others = [
        f"{_number(len(some), 'row')} of {title}" for title, some in rows.items() if title != ENGINES and some
    ]
    return ", ".join([engines, *others])


def _table(reading: TableReading, adopted: Adopted) -> Iterator[str]:
    table = reading.table
    where = f", headings in row {table.heading_row}" if table.heading_row else ""
    rows = _number(_rows_of(reading, adopted), "row")
    what = f"{rows} of {reading.subject}" if reading.subject else "no rows of ours"
    why = f" ({reading.why})" if reading.why and not reading.subject else ""
    yield f"sheet '{table.sheet}'{where}: {what}{why}"
    columns = [_column(reading, one) for one in reading.columns if _is_worth_a_line(reading, one)]
    widths = [min(_WIDEST, max(map(len, texts))) for texts in zip(*columns, strict=True)][:3]
    yield from _first(_aligned(column, widths) for column in columns)


def _rows_of(reading: TableReading, adopted: Adopted) -> int:
    """Return how many rows came of a table; a line of it may have come to nothing, such as a free address."""
    keys = {record.key for record in reading.table.records}
    made = adopted.rows.get(reading.subject, ())
    # An engine that stands in two tables names both records.
    return sum(not keys.isdisjoint((row.came_from, *row.came_from.split(", "))) for row in made)


def _is_worth_a_line(reading: TableReading, one: ColumnReading) -> bool:
    """Tell whether it is more than a title that means nothing."""
    heading = reading.table.headings[one.heading]
    return one.read_as != NOTHING or heading.origin in {Origin.COLUMN, Origin.ROW, Origin.LABEL}


def _column(reading: TableReading, one: ColumnReading) -> Sequence[str]:
    heading = reading.table.headings[one.heading]
    word = word_for(one.read_as, reading.subject)
    return heading.key, _heading(heading, one.samples), word, surety(reading, one)


def _heading(heading: Heading, samples: Sequence[str]) -> str:
    """Return a heading as the list has it; of a title that stands for itself what it says."""
    if text := " ".join(heading.text.split()):
        return f"'{text}'"
    if heading.origin in {Origin.COLUMN, Origin.ROW, Origin.LABEL} or not samples:
        return "(no heading)"
    said = " ".join(samples[0].split())
    return f"('{said if len(said) < _WIDEST else f'{said[: _WIDEST - 5]}…'}')"


def _aligned(row: Sequence[str], widths: Sequence[int]) -> str:
    padded = (text.ljust(width) for text, width in zip(row, widths, strict=False))
    return "  ".join([*padded, row[-1]])


def _doubt(doubt: Doubt) -> str:
    engine = f" ({doubt.engine})" if doubt.engine else ""
    return f"{doubt.place}{engine}: {doubt.message}. {doubt.fix}"


def _left_out(skipped: Skipped) -> str:
    last = f" to {skipped.last.cell}" if skipped.last != skipped.place else ""
    text = f" '{' '.join(skipped.text.split())}'" if skipped.text else ""
    return f"{skipped.place}{last}{text}: {skipped.why}"


def _first(lines: Iterable[str]) -> Iterator[str]:
    found = list(lines)
    yield from (_INDENT + line for line in found[:_SHOWN])
    if len(found) > _SHOWN:
        yield f"{_INDENT}… and {len(found) - _SHOWN} more in the sheet Reading"


def _number(count: int, what: str) -> str:
    return f"{count:,} {what}{'' if count == 1 else 's'}"


def _next(report: AdoptReport) -> Iterator[str]:
    said = f"--as '{in_question(report.adopted.readings)}=COLUMN'"
    if report.out is None:
        yield f"nothing was written: -o NEW.xlsx makes the workbook; what is read wrongly, say with {said}"
    else:
        again = f"--reading {report.out} -o NEW.xlsx"
        yield f"next: look at the sheet Reading of {report.out}"
        yield f"{_INDENT}correct what is wrong under Read as, then adopt the list with {again},"
        yield f"{_INDENT}or say it with {said}; then run 'rosterkit check' on the new workbook"
    yield f"{_INDENT}COLUMN is a heading of ours such as Owner, a CV as 'CV 49', 'own column' or 'nothing'"


def made_text(report: AdoptReport) -> str:
    """Return the sentence that says what was written."""
    return f"made {report.out}" + (f"; the earlier file is {report.kept}" if report.kept else "")


ADOPT_FORMATS: Mapping[str, Callable[[AdoptReport], str]] = {"text": adopt_text, "json": adopt_json}
