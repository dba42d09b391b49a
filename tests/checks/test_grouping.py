"""Equal findings are said once, and every cell is still named."""

import json
import re
from collections.abc import Iterable, Iterator, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.checks.cell_runs import cells_in_words
from rosterkit.checks.framework import RUN_FILL
from rosterkit.checks.grouping import grouped
from rosterkit.checks.report import check_json, check_text, printed
from rosterkit.checks.result import CheckReport
from rosterkit.checks.sheet import findings_sheet
from rosterkit.commands.check import check
from rosterkit.findings import Finding, Place, Severity, in_reading_order
from tests.samples.__main__ import FOLDER

RULES = ("card-incomplete", "tag-open", "value-missing", "computed-stale", "formula-missing")


def finding(
    row: int | None,
    message: str = "it is blank",
    *,
    rule: str = "value-missing",
    fix: str = "Fill it in.",
    loco: str | None = None,
    column: int = 1,
    sheet: str | None = "Locomotives",
    workbook: str = "a.xlsx",
    severity: Severity = Severity.ERROR,
    down_to: int | None = None,
) -> Finding:
    """Make a finding."""
    return Finding(
        severity=severity,
        rule=rule,
        place=Place(workbook, sheet, row, column if row else None),
        column=f"Heading {column}",
        loco=loco,
        message=message,
        fix=fix,
        down_to=down_to,
    )


def report(findings: Iterable[Finding], *, workbooks: Sequence[str] = ("a.xlsx", "b.xlsx")) -> CheckReport:
    """Make a report of findings."""
    return CheckReport(
        version="1", workbooks=[(name, 9) for name in workbooks], findings=in_reading_order(findings)
    )


def _stale(row: int, column: int = 1, rule: str = "computed-stale", **others: object) -> Finding:
    words = f"{row} should be {row + 1} for 'E{row}'"
    return finding(row, words, rule=rule, fix=RUN_FILL, column=column, severity=Severity.WARNING, **others)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("findings", "said"),
    [
        pytest.param(
            [finding(row, loco=f"E{row}") for row in (3, 5, 6, 7, 9)],
            ["Locomotives!A3 error value-missing: [5 engines, Heading 1] it is blank (A3, A5-A7, A9)"],
            id="engines that lack the same are one line with their cells in runs",
        ),
        pytest.param(
            [finding(row, f"'E{row}' comes and is blank", loco=f"E{row}") for row in (3, 4)],
            ["Locomotives!A3 error value-missing: [2 engines, Heading 1] each comes and is blank (A3-A4)"],
            id="the engine that a message names is each of them",
        ),
        pytest.param(
            [finding(row, f"'E{row}': it is late", loco=f"E{row}") for row in (3, 4)],
            ["Locomotives!A3 error value-missing: [2 engines, Heading 1] it is late (A3-A4)"],
            id="an engine before a colon is left to the count",
        ),
        pytest.param(
            [finding(row, f"the one in row {row} is late") for row in (3, 4)],
            ["Locomotives!A3 error value-missing: [2 cells, Heading 1] the one in each row is late (A3-A4)"],
            id="the row that a message names is each row",
        ),
        pytest.param(
            [finding(1, "as in row 12"), finding(12, "as in row 12")],
            [
                "Locomotives!A1 error value-missing: [Heading 1] as in row 12",
                "Locomotives!A12 error value-missing: [Heading 1] as in row 12",
            ],
            id="row 12 is not row 1 with a 2 behind it",
        ),
        pytest.param(
            [finding(row, f"'E' lacks it in row {row}", loco="E") for row in (3, 5)],
            ["Locomotives!A3 error value-missing: [E, Heading 1] 'E' lacks it in each row (A3, A5)"],
            id="several rows of one engine keep its name",
        ),
        pytest.param(
            [finding(3, loco="A"), finding(4, loco="B", fix="Ask M02.")],
            [
                "Locomotives!A3 error value-missing: [A, Heading 1] it is blank",
                "Locomotives!A4 error value-missing: [B, Heading 1] it is blank",
            ],
            id="another fix is another line",
        ),
        pytest.param(
            [finding(3), finding(4, column=2)],
            [
                "Locomotives!A3 error value-missing: [Heading 1] it is blank",
                "Locomotives!B4 error value-missing: [Heading 2] it is blank",
            ],
            id="another column is another line",
        ),
        pytest.param(
            [finding(3), finding(4, severity=Severity.NOTE)],
            [
                "Locomotives!A3 error value-missing: [Heading 1] it is blank",
                "Locomotives!A4 note value-missing: [Heading 1] it is blank",
            ],
            id="what is less severe is another line",
        ),
        pytest.param(
            [finding(3), finding(3, sheet="Consists"), finding(3, workbook="b.xlsx")],
            [
                "Consists!A3 error value-missing: [Heading 1] it is blank",
                "Locomotives!A3 error value-missing: [Heading 1] it is blank",
                "b.xlsx!Locomotives!A3 error value-missing: [Heading 1] it is blank",
            ],
            id="another sheet or workbook is another line",
        ),
        pytest.param(
            [_stale(3)],
            ["Locomotives!A3 warning computed-stale: [Heading 1] 3 should be 4 for 'E3'"],
            id="a single cell that fill mends is said in full",
        ),
        pytest.param(
            [_stale(3), _stale(3, 2), _stale(5), _stale(6), _stale(3, sheet="Consists")],
            [
                "Consists!A3 warning computed-stale: 5 computed cells are not as the next fill writes them "
                "(A3, Locomotives A3-B3, A5-A6)"
            ],
            id="all that fill mends is one line, whatever the sheet and column",
        ),
        pytest.param(
            [
                _stale(3),
                _stale(4, 2, "formula-missing"),
                _stale(5),
                finding(
                    7,
                    "gone, and likewise down to B9",
                    rule="formula-missing",
                    fix=RUN_FILL,
                    column=2,
                    severity=Severity.WARNING,
                    down_to=9,
                ),
            ],
            [
                "Locomotives!A3 warning computed-stale, formula-missing: 6 computed cells are not as the "
                "next fill writes them (A3, A5 (computed-stale), B4, B7-B9 (formula-missing))"
            ],
            id="what fill mends by several checks names each of them, and all cells of a run",
        ),
    ],
)
def test_text_says_of_equal_findings(findings: Sequence[Finding], said: Sequence[str]) -> None:
    lines = check_text(report(findings)).splitlines()

    assert [line.removeprefix("a.xlsx!") for line in lines[:-1:2]] == list(said)


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        pytest.param([(1, 3)], "A3", id="one cell"),
        pytest.param([(1, 3), (1, 4)], "A3-A4", id="two below each other"),
        pytest.param([(1, 9), (1, 3), (1, 8)], "A3, A8-A9", id="in any order"),
        pytest.param([(1, 3), (1, 3)], "A3", id="twice the same"),
        pytest.param([(26, 3), (27, 3)], "Z3-AA3", id="side by side"),
        pytest.param([(c, r) for c in (1, 2, 3) for r in (3, 4)], "A3-C4", id="an area"),
        pytest.param([(1, 3), (1, 4), (2, 3)], "A3-A4, B3", id="runs of other lengths stay apart"),
        pytest.param([(1, 3), (3, 3)], "A3, C3", id="columns with one between stay apart"),
    ],
)
def test_cells_are_named_in_runs(cells: Sequence[tuple[int, int]], said: str) -> None:
    assert cells_in_words(finding(row, column=column) for column, row in cells) == said


def test_csv_and_annotations_have_every_finding_in_full() -> None:
    found = report([_stale(3), _stale(4), *(finding(row) for row in (6, 7))])

    assert len(printed(found, "csv").splitlines()) == 1 + 4
    assert len(printed(found, "annotations").splitlines()) == 4


def test_the_findings_in_json_s_related_are_whole() -> None:
    found = json.loads(check_json(report([_stale(3), _stale(4, 2, "formula-missing")])))

    assert found["counts"] == {"error": 0, "warning": 2, "note": 0}
    (first,) = found["findings"]
    assert (first["cell"], first["message"]) == ("A3", "3 should be 4 for 'E3'")
    assert first["related"] == [
        {
            "severity": "warning",
            "rule": "formula-missing",
            "workbook": "a.xlsx",
            "sheet": "Locomotives",
            "cell": "B4",
            "column": "Heading 2",
            "loco": None,
            "message": "4 should be 5 for 'E4'",
            "fix": RUN_FILL,
            "related": [],
        }
    ]


def test_the_sheet_has_a_row_with_a_link_to_the_first_cell_and_names_the_others() -> None:
    found = [finding(row, loco=f"E{row}", severity=Severity.NOTE) for row in (3, 5, 6)]
    page = findings_sheet([*found, finding(9, "another")])

    assert [[cell.value for cell in row] for row in page.rows[1:]] == [
        ["error", "Locomotives A9", None, "Heading 1", "another", "Fill it in.", "value-missing"],
        [
            "note",
            "Locomotives A3",
            "3 engines",
            "Heading 1",
            "it is blank (A3, A5-A6)",
            "Fill it in.",
            "value-missing",
        ],
    ]
    assert [row[1].link for row in page.rows[1:]] == [("Locomotives", "A9"), ("Locomotives", "A3")]


def test_cells_that_one_row_cannot_show_go_on_in_the_next() -> None:
    page = findings_sheet([finding(row, loco=f"E{row}") for row in range(2, 2002, 2)])

    named = [str(row[4].value) for row in page.rows[1:]]

    assert len(named) > 1
    assert max(map(len, named)) < 700
    assert [cell for text in named for cell in re.findall(r"A\d+", text)] == [
        f"A{row}" for row in range(2, 2002, 2)
    ]
    assert [row[1].link for row in page.rows[1:]] == [
        ("Locomotives", re.findall(r"A\d+", text)[0]) for text in named
    ]


_WORDS = st.sampled_from(["it is blank", "'{loco}' is late", "'{loco}': late", "as in row {row}"])


_KIND = st.tuples(
    st.sampled_from(RULES),
    _WORDS,
    st.sampled_from(["Fill it in.", "Ask '{loco}'."]),
    st.integers(1, 3),
    st.sampled_from(["Locomotives", "Consists"]),
)


@st.composite
def _findings(draw: st.DrawFn) -> list[Finding]:
    """Return findings of few kinds, so that several are often equal."""
    kinds = draw(st.lists(_KIND, min_size=1, max_size=3))
    rows = st.tuples(
        st.sampled_from(kinds),
        st.integers(2, 12),
        st.sampled_from([None, "A", "B", "C", "D"]),
        st.sampled_from(["a.xlsx", "b.xlsx"]),
    )
    return [_of_kind(*one) for one in draw(st.lists(rows, max_size=12))]


def _of_kind(kind: tuple[str, str, str, int, str], row: int, loco: str | None, workbook: str) -> Finding:
    rule, words, fix, column, sheet = kind
    is_for_fill = rule in RULES[-2:]
    return finding(
        row,
        words.format(loco=loco, row=row),
        rule=rule,
        fix=RUN_FILL if is_for_fill else fix.format(loco=loco),
        loco=loco,
        column=column,
        sheet=sheet,
        workbook=workbook,
        severity=Severity.WARNING if is_for_fill else Severity.ERROR,
    )


_MANY = _findings()


def _cells(words: str) -> Iterator[str]:
    """Return the cells that some words name: all of A5-B9."""
    for left, top, right, bottom in re.findall(r"\b([A-C])(\d+)(?:-([A-C])(\d+))?\b", words):
        for letter in "ABC"["ABC".index(left) : "ABC".index(right or left) + 1]:
            yield from (f"{letter}{row}" for row in range(int(top), int(bottom or top) + 1))


def _named(rules: Sequence[str], words: str) -> Iterator[tuple[str, str]]:
    """Return the checks and cells that some words name; of several checks each is in brackets."""
    if len(rules) == 1:
        yield from ((rules[0], cell) for cell in _cells(words))
        return
    for cells, rule in re.findall(r"(.*?) \(([a-z-]+)\)(?:, |$)", words):
        yield from ((rule, cell) for cell in _cells(cells))


def _in_text(text: str) -> Iterator[tuple[str, str]]:
    for line in text.splitlines()[:-1:2]:
        cell, rules, words = re.fullmatch(r"\S+!(\w+) \w+ ([a-z, -]+): (.*)", line).groups()  # type: ignore[union-attr]
        several = re.search(r" \(([A-Z].*)\)$", words)
        yield from _named(rules.split(", "), several[1] if several else cell)


def _in_brief(text: str) -> Iterator[tuple[str, str]]:
    for line in text.splitlines()[:-1]:
        rule = ""
        # The engine or count comes first, then the checks.
        for part in re.sub(r"\. (Fill|Ask|Run) .*", "", line).split("; "):
            words = part.partition(": ")[0]
            in_brackets = re.findall(r"\([a-z-]+\)", words)
            if in_brackets:
                yield from _named(["", ""], words)
                continue
            found = re.search("|".join(RULES), words)
            rule = found[0] if found else rule
            yield from ((rule, cell) for cell in _cells(words[found.end() if found else 0 :]))


@settings(deadline=None, max_examples=300)
@given(_MANY)
def test_grouped_reports_name_the_cells_of_every_check_as_ungrouped_ones_do(findings: list[Finding]) -> None:
    found = report(findings)
    expected = {(one.rule, str(one.place.cell)) for one in findings}

    in_json = [
        (one["rule"], one["cell"])
        for first in json.loads(check_json(found))["findings"]
        for one in (first, *(other for other in first["related"] if "rule" in other))
    ]
    on_sheet = [
        one
        for row in findings_sheet(findings).rows[1:]
        if row[1].link
        for cells in [re.search(r" \(([A-Z].*)\)$", str(row[4].value))]
        for one in _named(str(row[6].value).split(", "), cells[1] if cells else row[1].link[1])
    ]

    assert sorted(in_json) == sorted((one.rule, str(one.place.cell)) for one in findings)
    assert set(_in_text(check_text(found))) == expected
    assert set(on_sheet) == expected
    assert set(_in_brief(check_text(found, brief=True))) == expected


@given(_MANY, st.booleans())
def test_every_finding_is_in_one_group(findings: list[Finding], across: bool) -> None:
    ordered = in_reading_order(findings)

    groups = grouped(ordered, across=across)

    assert sorted(map(id, (one for group in groups for one in group.findings))) == sorted(map(id, ordered))
    assert [ordered.index(group.lead) for group in groups] == sorted(ordered.index(g.lead) for g in groups)


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.xlsx")), ids=lambda path: path.stem)
def test_the_samples_have_the_same_findings_grouped(path: object) -> None:
    found = check([path])  # type: ignore[list-item]
    document = json.loads(check_json(found))["findings"]

    assert sorted(
        (one["rule"], str(one["sheet"]), str(one["cell"]), one["message"])
        for first in document
        for one in (first, *(other for other in first["related"] if "rule" in other))
    ) == sorted((f.rule, str(f.place.sheet), str(f.place.cell), f.message) for f in found.findings)
