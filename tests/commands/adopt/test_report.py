"""What is said of a list, as text and as JSON."""

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from rosterkit.commands.adopt.command import AdoptReport
from rosterkit.commands.adopt.report import adopt_text, made_text
from rosterkit.commands.adopt.report_json import adopt_json
from rosterkit.commands.adopt.surety import in_question, surety
from rosterkit.lists.reading import ColumnReading, Sure, TableReading
from rosterkit.lists.tables import Heading, Origin, Table
from rosterkit.roster.schema import schema_file
from tests.commands.adopt.fleet import adopted, fleet, read

REPORT = AdoptReport(path=Path("fleet.ods"), plain=fleet(), read=read(), adopted=adopted())

NEXT = "what is read wrongly, say with --as 'Locomotives!B=COLUMN'"
MEANT = "    COLUMN is a heading of ours such as Owner, a CV as 'CV 49', 'own column' or 'nothing'"
TEXT = f"""\
fleet.ods: 3 engines, 2 rows of Extra values, 1 row of Layout
    the chart on the sheet Values stays behind
    the text 'NA' was taken as blank nowhere

sheet 'Locomotives', headings in row 3: 3 rows of Locomotives
    Locomotives!A  'No.'      Number      sure
    Locomotives!B  'Address'  Address     unsure: the heading says so
    Locomotives!C  'Notes'    Notes       sure
    Locomotives!D  'Shed'     own column  sure
    Locomotives!E  'From'     own column  sure
    Locomotives!F  'CV49'     CV 49       sure

1 doubt
    Locomotives!B5 (4E2): '12 or 45' is two numbers. Type the one that the engine answers into Address.

left out (1)
    Locomotives!A1 'Our fleet': a title

nothing was written: -o NEW.xlsx makes the workbook; {NEXT}
{MEANT}"""


def test_the_text_has_columns_doubts_and_what_is_next() -> None:
    assert adopt_text(REPORT) == TEXT


def test_what_is_next_names_the_workbook_that_was_made() -> None:
    made = replace(REPORT, out=Path("club.xlsx"), kept=Path("club.earlier.xlsx"))

    assert made_text(made) == "made club.xlsx; the earlier file is club.earlier.xlsx"
    assert adopt_text(made).splitlines()[-4:] == [
        "next: look at the sheet Reading of club.xlsx",
        "    correct what is wrong under Read as, then adopt the list with --reading club.xlsx -o NEW.xlsx,",
        "    or say it with --as 'Locomotives!B=COLUMN'; then run 'rosterkit check' on the new workbook",
        MEANT,
    ]


def test_of_very_many_only_the_first_are_printed() -> None:
    doubts = tuple(replace(adopted().doubts[0], engine=str(n)) for n in range(55))

    lines = adopt_text(replace(REPORT, adopted=replace(adopted(), doubts=doubts))).splitlines()

    assert sum("'12 or 45'" in line for line in lines) == 20
    assert "    … and 35 more in the sheet Reading" in lines


def test_the_json_has_all_of_it_and_is_as_its_schema_says() -> None:
    document = json.loads(adopt_json(replace(REPORT, out=Path("club.xlsx"))))

    Draft202012Validator(schema_file("outputs/adopt.json")).validate(document)
    assert document["out"] == "club.xlsx"
    assert document["counts"] == {"Locomotives": 3, "Extra values": 2, "Layout": 1}
    assert document["tables"][0]["columns"][5] == {
        "place": "Locomotives!F",
        "heading": "CV49",
        "read_as": "cv:49",
        "means": "CV 49",
        "sure": "sure",
        "why": "the heading says so",
        "samples": ["12", "255"],
    }
    assert document["rows"]["Locomotives"][1] == {
        "from": "Locomotives!5",
        "values": {"loco": "4E2", "number": "4E2", "notes": "two of them\nin one box"},
        "own": {"Shed": "@home"},
        "as_typed": {"Address": "12 or 45"},
        "colour": "",
        "places": {"number": ["Locomotives", "A5"]},
    }
    assert document["doubts"][0]["cell"] == "B5"
    assert document["skipped"] == [
        {"sheet": "Locomotives", "cell": "A1", "last": "A1", "text": "Our fleet", "why": "a title"}
    ]


def test_a_report_of_no_engines_says_so() -> None:
    rows = {"Consists": adopted().rows["Extra values"]}

    text = adopt_text(replace(REPORT, adopted=replace(adopted(), rows=rows)))

    assert text.startswith("fleet.ods: no engines, 2 rows of Consists\n")


def _reading(*columns: tuple[Heading, str, Sure, str]) -> tuple[TableReading, ...]:
    read_as = tuple(
        ColumnReading(n, word, sure, why, ("Guild of the Nine Valleys, new series",))
        for n, (_, word, sure, why) in enumerate(columns)
    )
    table = Table("Fleet", tuple(heading for heading, *_ in columns), ())
    return (TableReading(table, "Locomotives", read_as),)


ADDRESS = (Heading("Fleet!A", "Address", Origin.COLUMN), "address", Sure.SURE, "the heading says so")
LIKELY = (Heading("Fleet!B", "Typ", Origin.COLUMN), "model", Sure.LIKELY, "it may be that")
STRANGE = (Heading("Fleet!C", "Zzyx", Origin.COLUMN), "own", Sure.SURE, "'Zzyx' is no heading that is known")
SECOND = (Heading("Fleet!D", "Adresse", Origin.COLUMN), "own", Sure.SURE, "Address is Fleet!A")
BOX = (Heading("Fleet!E", "Box", Origin.COLUMN), "own", Sure.SURE, "it is something of your own")
TITLE = (Heading("Fleet!title", "", Origin.SHEET_TITLE), "own", Sure.SURE, "")
SAID = (Heading("Fleet!F", "Zzyx", Origin.COLUMN), "own", Sure.GIVEN, "somebody said so")


@pytest.mark.parametrize(
    ("column", "said"),
    [
        pytest.param(ADDRESS, "sure", id="a heading that is known"),
        pytest.param(LIKELY, "likely: it may be that", id="a likely one has its reason"),
        pytest.param(STRANGE, "not known: kept as your own", id="one that nobody knows"),
        pytest.param(SECOND, "kept as your own: Address is Fleet!A", id="a second one for the same field"),
        pytest.param(BOX, "sure", id="a heading that members have for something of their own"),
        pytest.param(TITLE, "sure", id="a title"),
        pytest.param(SAID, "given", id="an unknown one of which somebody said that it is their own"),
    ],
)
def test_how_sure_a_column_is(column: tuple[Heading, str, Sure, str], said: str) -> None:
    (reading,) = _reading(column)

    assert surety(reading, reading.columns[0]) == said


@pytest.mark.parametrize(
    ("columns", "place"),
    [
        pytest.param((ADDRESS, BOX, TITLE), "SHEET!C", id="none where nothing is in question"),
        pytest.param((ADDRESS, LIKELY), "Fleet!B", id="a likely one"),
        pytest.param((LIKELY, STRANGE), "Fleet!C", id="rather an unknown one"),
        pytest.param((STRANGE, SECOND), "Fleet!D", id="rather one that may be a field of ours"),
    ],
)
def test_the_example_names_the_column_to_look_at(
    columns: Sequence[tuple[Heading, str, Sure, str]], place: str
) -> None:
    assert in_question(_reading(*columns)) == place


def test_a_title_is_shown_by_what_it_says() -> None:
    report = replace(REPORT, adopted=replace(adopted(), readings=_reading(ADDRESS, TITLE)))

    assert "    Fleet!title  ('Guild of the Nine Valleys…')  own column  sure" in adopt_text(report)


def test_lines_that_came_to_nothing_are_not_counted_as_rows() -> None:
    engines = {**adopted().rows, "Locomotives": adopted().engines[:2]}

    lines = adopt_text(replace(REPORT, adopted=replace(adopted(), rows=engines))).splitlines()

    assert "sheet 'Locomotives', headings in row 3: 2 rows of Locomotives" in lines
