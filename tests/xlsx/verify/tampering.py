"""Changes a written workbook behind the verification's back, and says what the edit claims."""

from pathlib import Path

from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.own_sheets.insert import Placed
from rosterkit.xlsx.own_sheets.insert_charts import Charted
from rosterkit.xlsx.own_sheets.typed import coded
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.save.edit import edited
from rosterkit.xlsx.save.zip_writer import zipped
from rosterkit.xlsx.verify.claims import Claims
from rosterkit.xlsx.verify.verify import verify_edit
from tests.xlsx.clubs import FINDINGS, usual_change
from tests.xlsx.packages import Patch, parts, stored

SHEET = "xl/worksheets/sheet1.xml"
BOOK = "xl/workbook.xml"
STYLES = "xl/styles.xml"
PAGE = "xl/worksheets/sheet3.xml"
TABLE = "xl/tables/table1.xml"
TYPES = "[Content_Types].xml"
LINKS = "xl/_rels/workbook.xml.rels"


def claims_of(package: Package, after: Path) -> Claims:
    """Say what the usual change does."""
    before, now = stored(package.path), stored(after)
    return Claims(
        written=frozenset(name for name in now if now[name] != before.get(name)),
        removed=frozenset(),
        changes={SHEET: usual_change(first=6).sheets[0]},
        placed=(Placed(own_sheet=coded(FINDINGS), title="Findings", part=PAGE, charted=Charted()),),
    )


def spoilt(path: Path, part: str, change: Patch) -> bytes:
    """Change one part and leave the packed bytes of all others."""
    new = change(parts(path)[part])
    assert new != parts(path)[part]
    draft = Draft(opened(path))
    draft.written[part] = new
    return zipped(draft)


def verify_tampered(
    package: Package,
    folder: Path,
    made: WorkbookChange,
    part: str,
    change: Patch,
    claimed: WorkbookChange | None = None,
) -> None:
    """Make a change without sheets of our own, change one part behind its back, and verify the claims."""
    after = folder / "after.xlsx"
    after.write_bytes(edited(package, made).data)
    then, now, content = stored(package.path), stored(after), parts(after)
    edit, tampered = Draft(package), Draft(opened(after))
    edit.written = {name: data for name, data in content.items() if now[name] != then.get(name)}
    tampered.written[part] = change(content[part])
    verify_edit(package, zipped(tampered), Claims.of(edit, claimed or made, []))
