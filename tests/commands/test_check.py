"""Several workbooks at once: each on its own, or together where that is asked for."""

from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from rosterkit.commands.check import check
from rosterkit.template.new_workbook import new_workbook
from tests.command_line import run

ENGINES: Mapping[str, Sequence[Mapping[str, str | int | float | None]]] = {
    "a.xlsx": [{"loco": "A", "address": 12, "railway": "Elm", "number": "7", "owner": "M01"}],
    "b.xlsx": [{"loco": "B", "address": 12, "railway": "Elm", "number": "7", "owner": "m01"}],
}


@pytest.fixture
def books(tmp_path: Path) -> Sequence[Path]:
    for name, rows in ENGINES.items():
        (tmp_path / name).write_bytes(new_workbook({"Locomotives": rows}))
    return [tmp_path / name for name in ENGINES]


def test_workbooks_are_not_compared_unless_that_is_asked_for(books: Sequence[Path]) -> None:
    assert check(books).findings == []


def test_together_they_are_compared_by_their_home_addresses(books: Sequence[Path]) -> None:
    found = check(books, together=True).findings

    assert [(one.rule, one.place.workbook, one.place.cell) for one in found] == [
        ("number-repeated", str(books[0]), "D2"),
        ("address-shared", str(books[0]), "I2"),
        ("owner-spelt-otherwise", str(books[1]), "B2"),
        ("number-repeated", str(books[1]), "D2"),
        ("address-shared", str(books[1]), "I2"),
    ]


def test_together_each_still_has_its_own_findings_once(books: Sequence[Path]) -> None:
    books[0].write_bytes(new_workbook({"Locomotives": [{"loco": "A", "address": 3}]}))
    alone, together = check(books[:1]).findings, check(books, together=True).findings

    assert [one.rule for one in alone] == ["address-default"]
    assert [one.rule for one in together] == ["address-default"]


def test_together_one_that_cannot_be_read_is_a_finding(books: Sequence[Path]) -> None:
    books[1].write_bytes(b"PK torn")

    assert [one.rule for one in check(books, together=True).findings] == ["workbook-unread"]


def test_the_command_takes_the_word(books: Sequence[Path]) -> None:
    assert run("check", *books).status == 0
    assert run("check", *books, "--together").status == 1
