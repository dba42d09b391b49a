"""What a list came to, as JSON: all of it."""

from collections.abc import Mapping, Sequence

from rosterkit import __version__
from rosterkit.commands.adopt.command import AdoptReport
from rosterkit.commands.adopt.surety import UNKNOWN, is_known
from rosterkit.commands.adopt.words import word_for
from rosterkit.formats import as_json
from rosterkit.lists.adopted import AdoptedRow, Doubt
from rosterkit.lists.plain import Place
from rosterkit.lists.reading import TableReading
from rosterkit.lists.tables import Skipped


def adopt_json(report: AdoptReport) -> str:
    """Return what ``schema/outputs/adopt.json`` describes."""
    adopted = report.adopted
    return as_json(
        {
            "rosterkit": __version__,
            "list": str(report.path),
            "out": str(report.out) if report.out else None,
            "remarks": list(dict.fromkeys([*report.plain.remarks, *adopted.remarks])),
            "counts": {title: len(rows) for title, rows in adopted.rows.items() if rows},
            "tables": [_table(one) for one in adopted.readings],
            "rows": {title: [_row(one) for one in rows] for title, rows in adopted.rows.items() if rows},
            "doubts": [_doubt(one) for one in adopted.doubts],
            "skipped": [_skipped(one) for one in adopted.skipped],
        }
    )


def _table(reading: TableReading) -> Mapping[str, object]:
    return {
        "sheet": reading.table.sheet,
        "heading_row": reading.table.heading_row or None,
        "records": len(reading.table.records),
        "rows_of": reading.subject or None,
        "why": reading.why,
        "columns": [
            {
                "place": reading.table.headings[one.heading].key,
                "heading": reading.table.headings[one.heading].text,
                "read_as": one.read_as,
                "means": word_for(one.read_as, reading.subject),
                "sure": one.sure.value if is_known(reading, one) else UNKNOWN,
                "why": one.why,
                "samples": list(one.samples),
            }
            for one in reading.columns
        ],
    }


def _row(row: AdoptedRow) -> Mapping[str, object]:
    return {
        "from": row.came_from,
        "values": dict(row.values),
        "own": dict(row.own),
        "as_typed": dict(row.as_typed),
        "colour": row.colour,
        "places": {name: _place(place) for name, place in row.places.items()},
    }


def _place(place: Place) -> Sequence[str]:
    return place.sheet, place.cell


def _doubt(doubt: Doubt) -> Mapping[str, object]:
    sheet, cell = _place(doubt.place)
    return {
        "sheet": sheet,
        "cell": cell,
        "loco": doubt.engine or None,
        "message": doubt.message,
        "fix": doubt.fix,
    }


def _skipped(skipped: Skipped) -> Mapping[str, object]:
    sheet, cell = _place(skipped.place)
    return {
        "sheet": sheet,
        "cell": cell,
        "last": skipped.last.cell,
        "text": skipped.text,
        "why": skipped.why,
    }
