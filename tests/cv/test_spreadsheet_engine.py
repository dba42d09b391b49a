"""Consist and accessory CVs against LibreOffice's own calculation, cell by cell.

The formulas are written from NMRA S-9.2.2 (Jul 2012), CV19, CV1[513], CV9[521] and CV29[541], and RCN-225
(27.07.2025), CV19/20 and section 3.1; rosterkit has no part in them.
"""

import subprocess
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from rosterkit.writeback.computed_columns import computed_rows
from tests.rosters import roster

pytestmark = pytest.mark.external

_CONSISTS = (1, 3, 10, 85, 99, 100, 127, 128, 199, 200, 1000, 1234, 3985, 9999, 10200, 10239)
_NUMBERS = (
    1,
    2,
    4,
    5,
    8,
    9,
    63,
    64,
    65,
    252,
    253,
    255,
    256,
    257,
    1024,
    1044,
    2039,
    2040,
    2041,
    2044,
    2045,
    2048,
)


def calculated(folder: Path, rows: list[list[object]]) -> list[tuple[object, ...]]:
    """Have LibreOffice calculate rows of values and formulas."""
    workbook = Workbook()
    sheet = workbook.active
    assert sheet is not None
    for row in rows:
        sheet.append(row)
    source, out = folder / "formulas.xlsx", folder / "calculated"
    workbook.save(source)
    command = ["soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless"]
    command += ["--convert-to", "xlsx", "--outdir", str(out), str(source)]
    subprocess.run(command, check=True, capture_output=True, timeout=180)
    calculated = load_workbook(out / "formulas.xlsx", data_only=True)
    return list(calculated.worksheets[0].iter_rows(values_only=True))


def test_consist_cvs_are_what_libreoffice_calculates(tmp_path: Path) -> None:
    places = [(number, facing) for number in _CONSISTS for facing in ("forward", "reverse")]
    engines = [{"Loco": f"E{n}", "Address": n} for n in range(1, len(places) + 1)]
    consists = [
        {"Consist": f"C{n}", "Address": number, "Position": 1, "Loco": f"E{n}", "Facing": facing}
        for n, (number, facing) in enumerate(places, 1)
    ]
    rows: list[list[object]] = [
        [
            number,
            facing,
            f'=IF(A{n}<=127,A{n},MOD(A{n},100))+IF(B{n}="reverse",128,0)',
            f'=IF(A{n}<=127,"",INT(A{n}/100))',
        ]
        for n, (number, facing) in enumerate(places, 1)
    ]

    ours = computed_rows(roster(engines, consists=consists), "Consists")

    theirs = [(cv19, cv20 or None) for _, _, cv19, cv20 in calculated(tmp_path, rows)]
    assert [(row["cv19"], row["cv20"]) for row in ours] == theirs
    assert len(theirs) == 32


def test_accessory_cvs_are_what_libreoffice_calculates(tmp_path: Path) -> None:
    kinds = [
        (number, method, bidi, aspects)
        for number in _NUMBERS
        for method, bidi in (("decoder", "off"), ("decoder", "on"), ("output", "off"), ("output", "on"))
        for aspects in (0, 3)
    ]
    rows: list[list[object]] = []
    for offset in (0, 4):
        for number, method, bidi, aspects in kinds:
            n = len(rows) + 1
            packet, output = f"MOD(A{n}+3-D{n},2048)", f"MOD(A{n}-D{n},2048)"
            rows.append(
                [
                    number,
                    method,
                    bidi,
                    offset,
                    aspects,
                    f'=IF(B{n}="decoder",MOD(INT({packet}/4),64),MOD({output},256))',
                    f'=IF(B{n}="decoder",INT(INT({packet}/4)/64),INT({output}/256))',
                    f'=128+IF(B{n}="output",64,0)+IF(E{n}>0,32,0)+IF(C{n}="on",8,0)',
                ]
            )

    ours = []
    for offset in (0, 4):
        for n, (number, method, bidi, aspects) in enumerate(kinds):
            row = {
                "Accessory": f"T{n}",
                "Address": number,
                "Method": method,
                "BiDi": bidi,
                "Aspects": aspects,
            }
            made = roster(
                [{"Loco": "A", "Address": 12}], layout={"Accessory offset": offset}, accessories=[row]
            )
            ours += [(one["cv1"], one["cv9"], one["cv29"]) for one in computed_rows(made, "Accessories")]

    theirs = [tuple(row[5:]) for row in calculated(tmp_path, rows)]
    assert ours == theirs
    assert len(theirs) == 352
