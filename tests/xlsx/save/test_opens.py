"""Other programs open an edited workbook and read the same values as before, with ours added.

The programs: openpyxl, calamine, LibreOffice and Gnumeric; the schemas of the format by openxml-audit.
"""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pytest
from openxml_audit import OpenXmlValidator

from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.save.edit import edited
from tests.xlsx.clubs import ENGINES, FINDINGS, FIRST_OWN, OWN_HEADINGS, TITLE, own_values, usual_change
from tests.xlsx.features import FEATURES, made
from tests.xlsx.packages import parts, write
from tests.xlsx.readers import Values, as_text, by_calamine, by_gnumeric, by_libreoffice, by_openpyxl

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("programs read edited workbooks")]

OPENPYXL_CANNOT = {"the Strict namespaces", "saved by Gnumeric"}
CALAMINE_CANNOT = {"a UTF-16 part"}
GNUMERIC_CANNOT = {"the Strict namespaces"}


@dataclass(frozen=True)
class Pair:
    before: Path
    after: Path
    page: str


@pytest.fixture(scope="module")
def pairs(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Pair]:
    folder = tmp_path_factory.mktemp("features")
    return {feature: _pair(folder, feature) for feature in FEATURES}


def _pair(folder: Path, feature: str) -> Pair:
    before = made(folder, feature)
    result = edited(opened(before), usual_change())
    after = folder / f"edited+{before.name}"
    after.write_bytes(result.data)
    return Pair(before, after, result.titles["Findings"])


def _ours(page: str) -> Values:
    cells = {(1, FIRST_OWN + place): heading for place, heading in enumerate(OWN_HEADINGS)}
    for row in range(2, len(ENGINES) + 2):
        cells |= {(row, FIRST_OWN + place): as_text(value) for place, value in enumerate(own_values(row))}
    findings = {
        (row, column): as_text(cell.value)
        for row, line in enumerate(FINDINGS.rows, start=1)
        for column, cell in enumerate(line, start=1)
        if cell.value is not None
    }
    return {TITLE: cells, page: findings}


def _expected(before: Values, page: str) -> Values:
    ours = _ours(page)
    return {**before, page: ours[page], TITLE: {**before[TITLE], **ours[TITLE]}}


@pytest.mark.parametrize("feature", [name for name in FEATURES if name not in OPENPYXL_CANNOT])
@pytest.mark.filterwarnings("ignore:.*:UserWarning:openpyxl")
def test_openpyxl_reads_the_same_values(pairs: dict[str, Pair], feature: str) -> None:
    pair = pairs[feature]

    values = by_openpyxl(pair.after)

    assert values == _expected(by_openpyxl(pair.before), pair.page)


@pytest.mark.parametrize("feature", [name for name in FEATURES if name not in CALAMINE_CANNOT])
def test_calamine_reads_the_same_values(pairs: dict[str, Pair], feature: str) -> None:
    pair = pairs[feature]

    values = by_calamine(pair.after)

    assert values == _expected(by_calamine(pair.before), pair.page)


@pytest.mark.parametrize("feature", [name for name in FEATURES if name not in GNUMERIC_CANNOT])
def test_gnumeric_reads_the_same_values(pairs: dict[str, Pair], tmp_path: Path, feature: str) -> None:
    pair = pairs[feature]

    values = by_gnumeric(pair.after, tmp_path)

    assert values == _expected(by_gnumeric(pair.before, tmp_path), pair.page)


@pytest.fixture(scope="module")
def in_libreoffice(pairs: dict[str, Pair], tmp_path_factory: pytest.TempPathFactory) -> dict[Path, Values]:
    files = [path for pair in pairs.values() for path in (pair.before, pair.after)]
    return by_libreoffice(files, tmp_path_factory.mktemp("libreoffice"))


@pytest.mark.parametrize("feature", FEATURES)
def test_libreoffice_reads_the_same_values(
    pairs: dict[str, Pair], in_libreoffice: dict[Path, Values], feature: str
) -> None:
    pair = pairs[feature]

    values = in_libreoffice[pair.after]

    assert values == _expected(in_libreoffice[pair.before], pair.page)


@pytest.mark.parametrize("feature", FEATURES)
def test_the_schemas_of_the_format_are_kept_as_before(pairs: dict[str, Pair], feature: str) -> None:
    pair = pairs[feature]

    new = _faults(pair.after) - _faults(pair.before)

    assert not new


def test_the_schema_checker_sees_a_fault(pairs: dict[str, Pair], tmp_path: Path) -> None:
    content = parts(pairs["photos"].after)
    sheet = "xl/worksheets/sheet1.xml"
    content[sheet] = content[sheet].replace(b"<sheetFormatPr", b'<cols/><sheetFormatPr wrong="1"', 1)
    write(tmp_path / "faulty.xlsx", content)

    assert _faults(tmp_path / "faulty.xlsx") - _faults(pairs["photos"].after)


def _faults(path: Path) -> Counter[tuple[str, str]]:
    found = OpenXmlValidator().validate(str(path)).errors
    return Counter((str(fault.part_uri), str(fault.description)) for fault in found)
