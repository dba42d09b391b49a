"""Which of the files given to meet are planned: not what rosterkit made, and no workbook twice."""

import os
import shutil
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from rosterkit.commands.fill import fill
from rosterkit.commands.meet.command import plan_meet
from rosterkit.errors import CannotRunError
from rosterkit.template.new_workbook import new_workbook
from tests.command_line import Ran, run, started
from tests.samples.meet import meet_books


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, records in meet_books().items():
        (tmp_path / name).write_bytes(new_workbook(records))
    return tmp_path


def meet(folder: Path, *words: str) -> Ran:
    paths = sorted(map(str, folder.glob("*.xlsx")))
    return run("meet", *paths, *words)


def test_a_second_plan_of_the_whole_folder_leaves_out_the_first_and_replaces_it(folder: Path) -> None:
    out = folder / "Spring.xlsx"
    meet(folder, "-o", str(out))
    first = out.read_bytes()

    again = meet(folder, "-o", str(out), "--force")

    assert again.err.splitlines()[0] == f"left out: {out}: it is a plan of a meet"
    assert again.status == 1
    assert out.read_bytes() == first


def test_a_plan_is_known_by_what_is_in_it_and_a_member_s_workbook_is_not_known_by_its_name(
    folder: Path,
) -> None:
    plain = meet(folder, "-o", str(folder.parent / "plan.xlsx"))
    shutil.copy(folder.parent / "plan.xlsx", folder / "club engines.xlsx")
    (folder / "M01.xlsx").rename(folder / "MEET.xlsx")

    again = meet(folder, "-o", str(folder.parent / "again.xlsx"))

    assert again.err.splitlines()[0] == f"left out: {folder / 'club engines.xlsx'}: it is a plan of a meet"
    assert again.out.splitlines()[-1] == plain.out.splitlines()[-1]


def _touch(path: Path) -> None:
    os.utime(path, (1_700_000_000, 1_700_000_000))


@pytest.mark.parametrize("change", [lambda _: None, _touch], ids=["as kept", "as mailed, without its times"])
def test_the_earlier_file_of_a_filled_workbook_is_left_out(
    folder: Path, change: Callable[[Path], None]
) -> None:
    fill(folder / "M01.xlsx")
    change(folder / "M01.earlier.xlsx")

    found = plan_meet(sorted(folder.glob("*.xlsx")))

    assert [Path(one.path).name for one in found.left_out] == ["M01.earlier.xlsx"]
    assert [Path(name).name for name, _ in found.workbooks] == ["M01.xlsx", "M02.xlsx", "M03.xlsx"]


def test_a_member_s_own_file_called_earlier_comes_to_the_meet(folder: Path) -> None:
    (folder / "M03.xlsx").rename(folder / "M01.earlier.xlsx")

    found = plan_meet(sorted(folder.glob("*.xlsx")))

    assert found.left_out == []
    assert len(found.workbooks) == 3


def test_a_copy_given_twice_is_named_and_nothing_is_planned(folder: Path) -> None:
    shutil.copy(folder / "M02.xlsx", folder / "M02 (2).xlsx")

    result = meet(folder, "-o", str(folder / "MEET.xlsx"))

    assert result.status == 2
    assert (
        f"'{folder / 'M02 (2).xlsx'}' and '{folder / 'M02.xlsx'}' hold the same 7 engines, as copies do"
        in result.err
    )
    assert "Give only the newer of the two." in result.err
    assert not (folder / "MEET.xlsx").exists()


_A, _B, _C, _D = ({"loco": name, "address": 200 + at, "at_meet": "yes"} for at, name in enumerate("ABCD"))


def _numbered(*numbers: int) -> list[dict[str, object]]:
    return [{"loco": f"JV {n}", "number": str(n), "address": n, "at_meet": "yes"} for n in numbers]


@pytest.mark.parametrize(
    ("one", "other", "copies"),
    [
        pytest.param([_A, _B], [_A, _B], True, id="labels and addresses only"),
        pytest.param([_A], [_A | {"address": 299}], False, id="a label only is no engine"),
        pytest.param(_numbered(201, 202, 203), _numbered(202, 203, 204), True, id="most of them"),
        pytest.param(_numbered(201, 202, 203), _numbered(203, 204, 205), False, id="one that both entered"),
        pytest.param(_numbered(201), _numbered(201), True, id="the only one of both"),
        pytest.param(_numbered(201), _numbered(201, 202), False, id="the only one of one of them"),
        pytest.param(
            [one | {"owner": "M01"} for one in _numbered(201, 202)],
            [one | {"owner": " m01"} for one in _numbered(202, 201)],
            True,
            id="sorted, and an owner spelt otherwise",
        ),
        pytest.param(
            [one | {"at_meet": "no"} for one in _numbered(201, 202)] + [_C],
            [one | {"at_meet": "no"} for one in _numbered(201, 202)] + [_D],
            False,
            id="those that stay at home do not count",
        ),
    ],
)
def test_two_workbooks_are_copies_where_most_engines_that_come_are_the_same(
    tmp_path: Path, one: Sequence[dict[str, object]], other: Sequence[dict[str, object]], copies: bool
) -> None:
    paths = [tmp_path / "one.xlsx", tmp_path / "other.xlsx"]
    for path, rows in zip(paths, (one, other), strict=True):
        path.write_bytes(new_workbook({"Locomotives": rows}))  # type: ignore[dict-item]

    if copies:
        with pytest.raises(CannotRunError, match="hold the same"):
            plan_meet(paths)
    else:
        assert len(plan_meet(paths).workbooks) == 2


def test_where_no_member_s_workbook_is_given_that_is_one_sentence(folder: Path) -> None:
    out = folder.parent / "plan.xlsx"
    meet(folder, "-o", str(out))

    with pytest.raises(CannotRunError, match="it is a plan of a meet"):
        plan_meet([out])


def test_two_plans_of_the_same_workbooks_are_the_same_bytes(folder: Path) -> None:
    paths = sorted(folder.glob("*.xlsx"))
    plans = []
    for seed in ("1", "2"):
        out = folder / f"plan {seed}.xlsx"
        done = started("meet", *paths, "-o", out, PYTHONHASHSEED=seed)
        plans.append((done.status, done.out, out.read_bytes()))
        # Times in a zip archive and in document properties are of two or one seconds.
        time.sleep(2.1)

    assert plans[0] == plans[1]
