"""Damaged workbooks are refused in a sentence, or read and filled without loss; and a loss would be seen."""

from collections import Counter
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.formatting.rule import Rule
from openpyxl.workbook.defined_name import DefinedName

from tests.fuzz.__main__ import run
from tests.fuzz.cases import KINDS, tried
from tests.fuzz.comparer import losses
from tests.fuzz.kept import KEPT
from tests.fuzz.originals import ORIGINALS
from tests.xlsx import packages

SEED, CASES = 2026, 300


@pytest.mark.slow
@pytest.mark.parametrize("filled", [False, True], ids=["checked", "filled"])
def test_each_of_300_damaged_workbooks_is_refused_in_a_sentence_or_nothing_of_it_is_lost(
    *, filled: bool
) -> None:
    results = list(run(SEED, 0, CASES, filled=filled))

    assert [one for one in results if one["faults"]] == []
    outcomes = Counter(one["what"] for one in results)
    assert min(outcomes["refused"], outcomes["filled" if filled else "read"]) > CASES / 6
    # An edit that its own proof refuses is no loss, and yet one that was better not made.
    assert outcomes["held back"] <= CASES / 50
    assert {one["kind"] for one in results} == set(KINDS)


@pytest.mark.parametrize("filled", [False, True], ids=["checked", "filled"])
@pytest.mark.parametrize("fault", KEPT)
def test_what_once_went_wrong_goes_right(tmp_path: Path, fault: str, *, filled: bool) -> None:
    assert tried(KEPT[fault](), tmp_path, filled=filled).faults == ()


def _by_openpyxl(change: Callable[[openpyxl.Workbook], object]) -> Callable[[Path], None]:
    def changed(path: Path) -> None:
        book = openpyxl.load_workbook(path)
        change(book)
        book.save(path)

    return changed


def _in_part(part: str, old: str, new: str) -> Callable[[Path], None]:
    return lambda path: packages.patch(path, {part: packages.replaced(old, new)})


def _without_notes(path: Path) -> None:
    packages.write(path, {name: part for name, part in packages.parts(path).items() if "sheet3" not in name})


def _set(cell: str, value: str | int | None) -> Callable[[Path], None]:
    return _by_openpyxl(lambda book: book["Locomotives"].__setitem__(cell, value))


def _narrowed(book: openpyxl.Workbook) -> None:
    book["Locomotives"].column_dimensions["D"].width = 3


LOSSES: dict[str, tuple[Callable[[Path], None], str]] = {
    "a member's number changed": (_set("C2", 4), "locomotives: R2C3 was"),
    "a member's text emptied": (_set("A4", None), "locomotives: R4C1 was"),
    "a member's formula replaced by its value": (_set("J2", 6), "locomotives: R2C10 was"),
    "a remark put under a member's column": (_set("D12", "ours"), "locomotives: R12C4 came from nowhere"),
    "a text in a computed column replaced": (
        _set("E4", 7),
        "locomotives: R4C5: a text in a column of numbers",
    ),
    "a column made narrower": (_by_openpyxl(_narrowed), "locomotives: column 4 looked"),
    "cells no longer merged": (
        _by_openpyxl(lambda book: book["Locomotives"].unmerge_cells("A11:C12")),
        "locomotives: <mergeCells> is gone",
    ),
    "a conditional format gone": (
        _by_openpyxl(
            lambda book: setattr(
                book["Locomotives"],
                "conditional_formatting",
                type(book["Locomotives"].conditional_formatting)(),
            )
        ),
        "locomotives: the conditional format",
    ),
    "a name gone": (
        _by_openpyxl(lambda book: book.defined_names.pop("Rate")),
        "the name Rate is not the same",
    ),
    "a sheet gone": (_by_openpyxl(lambda book: book.remove(book["My notes"])), "My notes is not the same"),
    "a part gone": (_without_notes, "the part xl/worksheets/sheet3.xml is gone"),
    "a text on a member's sheet changed": (
        _in_part("xl/worksheets/sheet3.xml", ">note<", ">nope<"),
        "my notes: R1C1 was",
    ),
    "a cell format changed": (_in_part("xl/styles.xml", '<b val="1"/>', ""), "<fonts> entry"),
}


@pytest.fixture
def whole(tmp_path: Path) -> Path:
    path = tmp_path / "club.xlsx"
    ORIGINALS["a roster by openpyxl"](path)
    book = openpyxl.load_workbook(path)
    sheet = book["Locomotives"]
    sheet["E4"] = "see card"
    sheet.column_dimensions["D"].width = 30
    sheet.conditional_formatting.add("C2:C7", Rule("cellIs", operator="greaterThan", formula=["128"]))
    book.defined_names["Rate"] = DefinedName("Rate", attr_text="'My notes'!$A$1")
    book.save(path)
    return path


@pytest.mark.parametrize("loss", LOSSES)
def test_the_comparer_sees(tmp_path: Path, whole: Path, loss: str) -> None:
    change, said = LOSSES[loss]
    damaged = tmp_path / "damaged.xlsx"
    damaged.write_bytes(whole.read_bytes())

    change(damaged)

    assert said in "; ".join(losses(whole, damaged))


def test_the_comparer_sees_nothing_in_a_workbook_saved_as_it_was(tmp_path: Path, whole: Path) -> None:
    again = tmp_path / "again.xlsx"
    openpyxl.load_workbook(whole).save(again)

    assert [loss for loss in losses(whole, again) if "docProps" not in loss] == []
