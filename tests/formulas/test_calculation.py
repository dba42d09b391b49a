"""Sheets of values and formulas: what hangs on what, in any order, and each cell worked out once."""

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.formulas.calculation import Calculation, SheetCells
from rosterkit.formulas.cells import forget
from rosterkit.formulas.formula import compiled
from rosterkit.formulas.shift import shifted
from rosterkit.formulas.values import BAD_REFERENCE, UNSURE, VALUE, Content, FormulaError


def _filled(text: str, rows: range, values: dict[int, list[Content]] | None = None) -> Calculation:
    """Return a sheet whose column A has a formula filled down."""
    formula = compiled(text, "Sheet", rows.start)
    return Calculation({"Sheet": SheetCells(values=values or {}, fills={1: (formula, rows)})})


def test_a_formula_that_is_filled_down_sees_the_row_it_stands_in() -> None:
    cells = _filled("B2*10+C$1+ROW()", range(2, 5), {2: [0, 1, 2, 3], 3: [100]})

    assert [cells.value("Sheet", row, 1) for row in (2, 3, 4)] == [112, 123, 134]


def test_a_fill_goes_before_a_value_and_a_single_formula_before_a_fill() -> None:
    cells = Calculation(
        {
            "Sheet": SheetCells(
                values={1: ["value", "value", "value"]},
                fills={1: (compiled('"fill"', "Sheet", 2), {2, 3})},
                single={(3, 1): compiled('"single"', "Sheet", 3)},
            )
        }
    )

    assert cells.block("sheet", 1, 1, 4, 1) == [("value",), ("fill",), ("single",), (None,)]


def test_titles_are_the_same_in_any_case() -> None:
    cells = Calculation({"My Sheet": SheetCells(values={1: [5]})})

    assert compiled("'MY sheet'!A1+'my sheet'!A1", "Other", 1).value(cells, 1) == 10


def test_what_stood_on_a_sheet_that_was_deleted_is_a_lost_reference() -> None:
    cells = Calculation({"Sheet": SheetCells()})
    texts = ('IFERROR(Gone!A1,"lost")', 'IFERROR(SUM(Gone!A1:B2),"lost")', "Gone!A1")

    found = [compiled(text, "Sheet", 1).value(cells, 1) for text in texts]

    assert found == ["lost", "lost", BAD_REFERENCE]


def test_a_block_has_blank_cells_beyond_the_values() -> None:
    cells = Calculation({"Sheet": SheetCells(values={1: [1, 2], 3: ["x"]})})

    assert cells.block("Sheet", 2, 1, 3, 3) == [(2, None, None), (None, None, None)]


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        pytest.param("A1+1", 5000, id="each on the one above, from the last"),
        pytest.param("A3+1", 2, id="each on the one below, from the first"),
        pytest.param("MAX(A$1:A1)+1", 400, id="each on all above"),
    ],
)
def test_long_chains_of_cells_are_worked_out(text: str, asked: int) -> None:
    cells = _filled(text, range(2, 5001), {1: [1]})

    assert cells.value("Sheet", asked, 1) == {5000: 5000, 2: 4999, 400: 400}[asked]


@pytest.mark.parametrize("value", [float("inf"), float("-inf"), float("nan")])
@pytest.mark.parametrize(
    "text", ["INT(A1)", 'A1&""', "LEFT(5,A1)", "MOD(A1,7)", "A1+1", "A1^2", "IFERROR(INT(A1),0)"]
)
def test_nothing_is_claimed_of_what_is_no_finite_number(text: str, value: float) -> None:
    cells = Calculation({"Sheet": SheetCells(values={1: [value]})})

    assert compiled(text, "Sheet", 1).value(cells, 1) == UNSURE


def test_a_chain_of_formulas_of_many_levels_is_worked_out() -> None:
    deep = "IF(AND(A1>=0,TRUE)," * 20 + "A1+1" + ",0)" * 20
    cells = _filled(deep, range(2, 500), {1: [1]})

    assert cells.value("Sheet", 499, 1) == 499


def test_a_cell_that_hangs_on_itself_is_unsure() -> None:
    formulas = {(1, 1): "B1+1", (1, 2): "A1+1", (2, 1): "A2", (3, 1): "IF(TRUE,1,A3)"}
    cells = Calculation(
        {"Sheet": SheetCells(single={at: compiled(text, "Sheet", at[0]) for at, text in formulas.items()})}
    )

    assert [cells.value("Sheet", *at) for at in formulas] == [UNSURE, UNSURE, UNSURE, 1]


def test_a_long_circle_is_unsure() -> None:
    cells = _filled("IF(ROW()=999,A2,A3)", range(2, 1000))

    assert cells.value("Sheet", 2, 1) == UNSURE


def test_each_cell_is_worked_out_once_and_each_range_looked_through_once() -> None:
    class Counting(Calculation):
        blocks = 0

        def block(
            self, sheet: str, top: int, left: int, bottom: int, right: int
        ) -> Sequence[Sequence[Content]]:
            self.blocks += 1
            return super().block(sheet, top, left, bottom, right)

    cells = Counting({"Sheet": SheetCells(values={1: [1, 2, 2, 3]})})
    texts = ("COUNTIF($A$1:$A$4,2)", "MATCH(3,$A$1:$A$4,0)", "SMALL($A$1:$A$4,1)", "SUM($A$1:$A$4)")

    found = [compiled(text, "Sheet", 1).value(cells, 1) for text in texts]

    assert found == [2, 4, 1, 8]
    assert cells.blocks == 1


def test_ranges_are_looked_through_again_when_told_that_cells_have_changed() -> None:
    class Changing:
        def __init__(self) -> None:
            self.column: list[Content] = [1, 1]

        def value(self, sheet: str, row: int, column: int) -> Content:
            return self.column[row - 1]

        def block(
            self, sheet: str, top: int, left: int, bottom: int, right: int
        ) -> Sequence[Sequence[Content]]:
            return [(value,) for value in self.column]

    cells = Changing()
    formula = compiled("COUNTIF(A$1:A$2,1)", "Sheet", 1)
    before = formula.value(cells, 1)
    cells.column = [1, 2]
    forget(cells)

    assert (before, formula.value(cells, 1)) == (2, 1)


def test_a_cell_above_the_sheet_is_an_error() -> None:
    cells = _filled("ISERROR(A1)", range(5, 6))
    formula = compiled("ISERROR(B1)", "Sheet", 2)

    assert formula.value(cells, 1) is True
    assert formula.value(cells, 2) is False


_TEMPLATES = st.sampled_from(
    [
        "A2+$A2*2",
        "IF(A2=A$1,B2&C2,SUM(A2:B3))",
        'LEFT("A2",ROW())&A2',
        "COUNTIF($A$1:$A$9,A2)+MATCH(A2,A$1:A$9,0)",
        "SUMPRODUCT(($A$1:$A$9=A2)*ROW($A$1:$A$9))",
    ]
)


@given(
    _TEMPLATES, st.integers(2, 9), st.lists(st.sampled_from([None, 1, 2, "a", "b"]), min_size=9, max_size=9)
)
def test_a_formula_filled_down_is_the_formula_shifted(text: str, row: int, column: list[Content]) -> None:
    cells = Calculation({"Sheet": SheetCells(values={1: column, 2: column[::-1], 3: [5] * 9})})

    as_filled = compiled(text, "Sheet", 2).value(cells, row)

    assert as_filled == compiled(shifted(text, row - 2, 0), "Sheet", row).value(cells, row)


_OTHERS = ["a", "A", "", "b", 2.5, True, UNSURE, VALUE]
_CELLS = st.one_of(st.none(), st.integers(-3, 3), st.sampled_from(_OTHERS))
_FACTORS = [
    "({beside}<>D1)",
    "(D1<{beside})",
    "{beside}",
    "ROW({beside})",
    "(ROW({beside})<ROW())",
    "({beside}={area})",
    "D1",
]


@given(
    st.lists(st.tuples(_CELLS, _CELLS), min_size=1, max_size=12),
    _CELLS,
    st.sampled_from(_FACTORS),
    st.integers(0, 4),
)
def test_products_are_the_same_where_one_condition_is_searched_and_where_all_cells_are_worked_out(
    rows: list[tuple[Content, Content]], wanted: Content, factor: str, rank: int
) -> None:
    first, second = ([row[column] for row in rows] for column in (0, 1))
    cells = Calculation({"Sheet": SheetCells(values={1: first, 2: second, 4: [wanted]})})
    area, beside = (f"${letter}$1:${letter}${len(rows)}" for letter in "AB")
    other = factor.format(area=area, beside=beside)

    for text in ("SUMPRODUCT({product})", f"SUMPRODUCT(LARGE({{product}},{rank}))"):
        # A sign before a condition hides it from being searched.
        found, plain = (
            compiled(text.format(product=f"{sign}({area}=D1)*{other}"), "Sheet", 1).value(cells, 1)
            for sign in ("", "--")
        )
        assert plain in {found, UNSURE} or (
            isinstance(plain, FormulaError) and isinstance(found, FormulaError)
        )


@given(st.lists(st.one_of(st.none(), st.integers(-3, 3), st.sampled_from(["a", "A", ""])), min_size=1))
def test_look_ups_by_index_find_what_comparing_each_cell_finds(column: list[Content]) -> None:
    cells = Calculation({"Sheet": SheetCells(values={1: column, 2: [1, "a"]})})
    area = f"$A$1:$A${len(column)}"

    for wanted in ("B1", "B2"):
        counted = compiled(f"COUNTIF({area},{wanted})", "Sheet", 1).value(cells, 1)
        compared = compiled(f"SUMPRODUCT(({area}={wanted})*1)", "Sheet", 1).value(cells, 1)
        first = compiled(f"IFERROR(MATCH({wanted},{area},0),0)", "Sheet", 1).value(cells, 1)
        equal = [
            compiled(f"A{row}={wanted}", "Sheet", row).value(cells, row) for row in range(1, len(column) + 1)
        ]

        assert counted == compared == equal.count(True)
        assert first == (equal.index(True) + 1 if True in equal else 0)
