"""The proof of an edit that gives the workbook hidden texts sees any other change of its names."""

from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import Package
from tests.xlsx.packages import Patch, replaced
from tests.xlsx.verify.tampering import BOOK, verify_tampered

TEXTS = WorkbookChange(texts={"_note": 'a "quoted" text'})


TWIN = '<definedName name="_note" hidden="1">1</definedName>'


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        pytest.param(replaced('""quoted""', "quoted"), "the name _note", id="another text"),
        pytest.param(replaced(' hidden="1">"a', '>"a'), "the name _note", id="a name that shows"),
        pytest.param(
            replaced('name="_note"', 'name="_note" localSheetId="0"'),
            "workbook part changed",
            id="a name of one sheet",
        ),
        pytest.param(
            replaced(
                "</definedNames>", '<definedName name="_note" hidden="1">1</definedName></definedNames>'
            ),
            "the name _note",
            id="twice",
        ),
        pytest.param(
            replaced("</definedNames>", '<definedName name="x">1</definedName></definedNames>'),
            "workbook part changed",
            id="another name",
        ),
    ],
)
def test_a_hidden_text_of_the_workbook_is_what_it_was_to_be(
    package: Package, tmp_path: Path, change: Patch, sentence: str
) -> None:
    with pytest.raises(CannotRunError, match=sentence):
        verify_tampered(package, tmp_path, TEXTS, BOOK, change)


def test_a_hidden_text_that_was_meant_is_proven(package: Package, tmp_path: Path) -> None:
    verify_tampered(package, tmp_path, TEXTS, BOOK, lambda data: data)
