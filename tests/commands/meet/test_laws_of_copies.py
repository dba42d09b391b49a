"""The laws of copies with a plan in them: applied and cleared, every cell is what it was."""

import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rosterkit.commands.meet.clear import ClearedWorkbook, clear_meet_addresses
from rosterkit.commands.meet.command import make_meet_workbook, plan_meet
from tests.commands.meet.differences import (
    added_headings,
    cells,
    changed_columns,
    changed_parts,
    club,
    sheet_parts,
)

_ADDRESSES = st.sampled_from([3, 12, 14, 84, 100, 127, 128, 2101, 2102, ""])
Sheets = dict[str, list[dict[str, object]]]


@st.composite
def _workbooks(draw: st.DrawFn, name: str) -> Sheets:
    """Make engines, some of them in consists, beside columns, formulas and a sheet of a member's own."""
    labels = [f"{name}{n}" for n in range(draw(st.integers(1, 5)))]
    blank: dict[str, object] = draw(
        st.sampled_from([{}, {"Meet kind": ""}, {"Meet kind": "", "Meet address": ""}])
    )
    engines: list[dict[str, object]] = [
        {
            "My own": "=1+2",
            "Loco": label,
            "Owner": name,
            "Number": draw(st.sampled_from(["12", "2101", "4E2", ""])),
            "Address": draw(_ADDRESSES),
            "Address kind": draw(st.sampled_from(["", "", "long"])),
            "Decoder": draw(st.sampled_from(["", "old"])),
            "At meet": draw(st.sampled_from(["yes", "yes", "yes", "no"])),
        }
        | blank
        for label in labels
    ]
    engines[0]["At meet"] = "yes"
    column: dict[str, object] = draw(st.sampled_from([{}, {"Meet address": ""}]))
    consists: list[dict[str, object]] = [
        {"Consist": "X", "Address": 84, "Position": at, "Loco": label, "Note": "mine"} | column
        for at, label in enumerate(labels[: draw(st.integers(0, len(labels)))], 1)
    ]
    return {
        "Layout": [{"Setting": "Short address range", "Value": draw(st.sampled_from(["1-99", "1-127"]))}],
        "Decoder types": [{"Decoder": "old", "Long address": "no"}],
        "Locomotives": engines,
        **({"Consists": consists} if consists else {}),
        "My sheet": [{"Anything": "=A1", "More": 2.5}],
    }


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(one=_workbooks("A"), other=_workbooks("B"))
def test_applied_and_cleared_every_cell_is_what_it_was(one: Sheets, other: Sheets) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        paths = [club(folder / "a.xlsx", **one), club(folder / "b.xlsx", **other)]
        copies = [folder / "copies" / path.name for path in paths]

        meet = make_meet_workbook(paths, None, copies_to=folder / "copies")

        for path, copy in zip(paths, copies, strict=True):
            columns = changed_columns(path, copy)
            assert columns <= {
                ("Locomotives", "Meet address"),
                ("Locomotives", "Meet kind"),
                ("Consists", "Meet address"),
            }
            # A heading that is added has a format of its own. Formulas are to be calculated on opening.
            around = {"xl/workbook.xml"} | ({"xl/styles.xml"} if added_headings(path, copy) else set())
            assert changed_parts(path, copy) <= sheet_parts(path, *(sheet for sheet, _ in columns)) | around
        again = plan_meet(copies)
        assert again.plan.moves == ()
        assert again.addresses == meet.addresses
        done = [one for one in clear_meet_addresses(copies) if isinstance(one, ClearedWorkbook)]
        assert sum(one.engines + one.consists for one in done) == sum(meet.copies.values())
        for path, copy in zip(paths, copies, strict=True):
            added = added_headings(path, copy)
            assert {at: value for at, value in cells(copy).items() if at not in added} == cells(path)
        before = [copy.read_bytes() for copy in copies]
        clear_meet_addresses(copies)
        assert [copy.read_bytes() for copy in copies] == before
