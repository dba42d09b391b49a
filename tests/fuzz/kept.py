"""Damaged workbooks that once went wrong, by what went wrong with them."""

from collections.abc import Callable, Mapping

from tests.fuzz.archive_mutations import entries_of, zipped
from tests.fuzz.originals import original


def _with(part: str, old: str, new: str, name: str = "a roster by hand") -> Callable[[], bytes]:
    """Replace a text of a part that must be there, once."""

    def made() -> bytes:
        entries = dict(entries_of(original(name)))
        assert old.encode() in entries[part], f"{old} is not in {part}"
        return zipped(list((entries | {part: entries[part].replace(old.encode(), new.encode(), 1)}).items()))

    return made


_SHEET, _STYLES, _BOOK = "xl/worksheets/sheet1.xml", "xl/styles.xml", "xl/workbook.xml"
_NAME = '<definedName name="_xlnm._FilterDatabase" localSheetId="{}">Locomotives!$A$1:$B$5</definedName>'

KEPT: Mapping[str, Callable[[], bytes]] = {
    "a number format of 5,000 digits ended the run": _with(
        _STYLES, 'numFmtId="14"', f'numFmtId="{"9" * 5000}"'
    ),
    "a sheet's number of 5,000 digits in a defined name ended the run": _with(
        _BOOK, "</sheets>", f"</sheets><definedNames>{_NAME.format('9' * 5000)}</definedNames>"
    ),
    "an encoding of 5,000 digits was quoted whole": _with(
        _BOOK, "<workbook", f'<?xml version="1.0" encoding="UTF{"9" * 5000}"?><workbook'
    ),
    "a reference with a line end was quoted with it": _with(_SHEET, 'r="B2"', 'r="&#13;&#10;"'),
    "a format's number with a line end was quoted with it": _with(_SHEET, 's="3"', 's="&#13;&#10;"'),
    "a text's number that turns round was quoted with it": _with(_SHEET, "<v>0</v>", "<v>\u202e6</v>"),
    "a cell's reference of 5,000 signs was quoted whole": _with(
        _SHEET, 'r="B2" s="3"', f'r="B{"0" * 5000}2" s="99"'
    ),
}
