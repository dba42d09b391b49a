"""The scorer itself: what it calls right, wrong, missed and invented."""

from collections.abc import Mapping

import pytest

from rosterkit.lists.adopted import Adopted, AdoptedRow, AdoptedValue, Doubt
from rosterkit.lists.plain import Place, PlainCell
from rosterkit.lists.reading import ColumnReading, Sure, TableReading
from rosterkit.lists.tables import Heading, Located, Origin, Record, Table
from tests.lists.compared import compared
from tests.lists.figures import Score
from tests.lists.gold import Gold


def _located(row: int, column: int, text: str) -> Located:
    return Located(Place("S", row, column), PlainCell(text, text))


def _adopted(read_as: str = "address", *, subject: str = "Locomotives", **values: AdoptedValue) -> Adopted:
    """A list of one column, B, and one engine, in row 2."""
    heading = Heading("S!B", "Adr", Origin.COLUMN, (_located(1, 2, "Adr"),))
    table = Table("S", (heading,), (Record("S!2", {0: _located(2, 2, "5")}),), 1)
    reading = TableReading(table, subject, (ColumnReading(0, read_as, Sure.SURE, "", ("5",)),))
    row = AdoptedRow({"loco": "NE 5", "address": 5, **values}, came_from="S!2", colour="amber: to oil")
    doubt = Doubt(Place("S", 2, 2), "'5' may be a number", "Look at it.")
    return Adopted({"Locomotives": (row,)}, (reading,), (doubt,), ())


def _gold(
    column: str = "address",
    engines: Mapping[str, Mapping[str, object]] | None = None,
    *,
    extras: tuple[tuple[str, int, int], ...] = (),
    consists: tuple[tuple[str, int, str], ...] | None = None,
    doubts: tuple[str, ...] = (),
    either: tuple[str, ...] = (),
    optional: bool = False,
) -> Gold:
    said = {"S!2": {"loco": "NE 5", "address": 5}} if engines is None else engines
    wanted = {
        key: {name: tuple(v) if isinstance(v, list) else (v,) for name, v in engine.items()}
        for key, engine in said.items()
    }
    columns = {"S!B": frozenset(column.split("|"))}
    return Gold("s.csv", columns, wanted, extras, consists, None, doubts, either, optional)


def _figure(score: Score) -> set[str]:
    return {name for name, number in score.counts.items() if number and "right" not in name} - {
        "engines found",
        "doubts",
    }


@pytest.mark.parametrize(
    ("gold", "adopted", "faults", "is_wrong"),
    [
        pytest.param(_gold(), _adopted(), set(), False, id="all is right"),
        pytest.param(_gold("number|address"), _adopted(), set(), False, id="one of two readings"),
        pytest.param(_gold("own"), _adopted(), {"columns wrong"}, True, id="an own column taken for a field"),
        pytest.param(_gold("number"), _adopted(), {"columns wrong"}, True, id="another field"),
        pytest.param(_gold(), _adopted("own"), {"columns missed"}, False, id="a field left as an own column"),
        pytest.param(_gold(), _adopted("nothing"), {"columns missed"}, False, id="a field passed over"),
        pytest.param(_gold("own"), _adopted(subject=""), set(), False, id="a table of nothing of ours"),
        pytest.param(_gold("vstart"), _adopted("cv:2"), set(), False, id="a CV that has a column"),
        pytest.param(
            _gold(engines={"S!2": {"address": 6}}), _adopted(), {"values wrong"}, True, id="another value"
        ),
        pytest.param(
            _gold(engines={"S!2": {"address": None}}),
            _adopted(),
            {"values wrong"},
            True,
            id="a guess",
        ),
        pytest.param(
            _gold(engines={"S!2": {"address": 5, "number": "5"}}),
            _adopted(),
            {"values missed"},
            False,
            id="a value passed over",
        ),
        pytest.param(
            _gold(engines={"S!2": {"address": 5, "number": "5"}}),
            _adopted(number=5),
            {"values wrong"},
            True,
            id="a number on an engine that is no text",
        ),
        pytest.param(
            _gold(engines={"S!2": {"address": 5}}),
            _adopted(length=7.5),
            {"values wrong"},
            True,
            id="a length of which nothing is said",
        ),
        pytest.param(
            _gold(engines={"S!2": {"address": [None, 5]}}), _adopted(), set(), False, id="either will do"
        ),
        pytest.param(
            _gold(engines={"S!9": {"loco": "NE 5", "address": 5}}),
            _adopted(),
            set(),
            False,
            id="known by its label where the key is another",
        ),
        pytest.param(
            _gold(engines={"S!9": {"loco": "NE 6"}}),
            _adopted(),
            {"engines missing", "engines invented"},
            True,
            id="another engine",
        ),
        pytest.param(_gold(engines={}, either=("S!",)), _adopted(), set(), False, id="an engine or not"),
        pytest.param(
            _gold(engines={"S!2": {"address": 5}, "S!3": {"loco": "x"}}, optional=True),
            _adopted(),
            set(),
            False,
            id="engines that may be passed over",
        ),
        pytest.param(
            _gold(extras=(("NE 5", 49, 1),)), _adopted(), {"extras missed"}, False, id="an extra value missed"
        ),
        pytest.param(
            _gold(consists=(("NE 5", 40, "forward"),)),
            _adopted(),
            {"consists missed"},
            False,
            id="a consist missed",
        ),
        pytest.param(_gold(doubts=("S!B2",)), _adopted(), set(), False, id="a doubt at its cell"),
        pytest.param(_gold(doubts=("S!C2",)), _adopted(), {"doubts missed"}, False, id="no doubt there"),
        pytest.param(
            _gold(engines={"S!2": {"address": 5, "colour": "oil"}}), _adopted(), set(), False, id="a colour"
        ),
        pytest.param(
            _gold(engines={"S!2": {"address": 5, "colour": "sold"}}),
            _adopted(),
            {"values wrong"},
            True,
            id="another colour",
        ),
    ],
)
def test_a_list_is_scored(gold: Gold, adopted: Adopted, faults: set[str], is_wrong: bool) -> None:
    score = compared(gold, adopted)

    assert _figure(score) == faults
    assert bool(score.wrong) == is_wrong
