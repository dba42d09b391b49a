"""Makes workbooks with one feature each that belongs to cells, columns, sheets or the workbook itself."""

from datetime import UTC, datetime
from pathlib import Path

from tests.xlsx.clubs import ENGINES, HEADINGS, TITLE, club, locomotives


def validations(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.data_validation(
        "C2:C99", {"validate": "integer", "criteria": "between", "minimum": 1, "maximum": 10239}
    )
    sheet.data_validation(
        "A2:A99", {"validate": "list", "source": ["M01", "M02", "M03"], "error_message": "a > b"}
    )
    book.close()


def conditional_formats(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    red = book.add_format({"bg_color": "#FFC7CE"})
    sheet.conditional_format("C2:C6", {"type": "duplicate", "format": red})
    sheet.conditional_format("A1:G9", {"type": "formula", "criteria": '=$A1="rosterkit"', "format": red})
    sheet.conditional_format("E2:E6", {"type": "data_bar", "data_bar_2010": True, "bar_solid": True})
    sheet.conditional_format("E2:E6", {"type": "3_color_scale"})
    sheet.conditional_format("C2:C6", {"type": "icon_set", "icon_style": "3_traffic_lights"})
    book.close()


def tables(path: Path) -> None:
    book = club(path)
    columns = [{"header": heading} for heading in HEADINGS]
    sheet = locomotives(book)
    sheet.add_table("A1:E6", {"columns": columns, "name": "Engines", "style": "Table Style Light 9"})
    sheet.add_table(
        "A12:B15", {"total_row": True, "columns": [{"total_string": "Sum"}, {"total_function": "count"}]}
    )
    book.close()


def links(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.write_url("A9", "https://example.org/a?b=1&c=2", string="somewhere", tip="a tip")
    sheet.write_url("A10", "internal:'Second sheet'!B2", string="a sheet")
    book.add_worksheet("Second sheet").write("B2", "here")
    book.close()


def names(path: Path) -> None:
    book = club(path)
    book.add_worksheet("Second sheet").write("A1", 5)
    book.define_name("Addresses", "=Locomotives!$C$2:$C$6")
    book.define_name("'Second sheet'!Rate", "='Second sheet'!$A$1")
    book.define_name("Doubled", "=LAMBDA(x,x*2)")
    book.close()


def panes(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.freeze_panes(1, 2)
    sheet.set_zoom(120)
    sheet.hide_gridlines(2)
    second = book.add_worksheet("Second sheet")
    second.split_panes(15, 8)
    second.right_to_left()
    second.activate()
    book.close()


def filters(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.autofilter("A1:E6")
    sheet.filter_column("A", "Owner == M01")
    for row, engine in enumerate(ENGINES, start=1):
        if engine[0] != "M01":
            sheet.set_row(row, options={"hidden": True})
    book.close()


def groups(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.set_column("B:B", 30, None, {"level": 1})
    sheet.set_column("D:D", 4, None, {"hidden": True})
    sheet.set_column("F:XFD", 11.5)
    sheet.set_row(2, 33, None, {"level": 1, "hidden": True})
    sheet.set_row(3, None, None, {"collapsed": True})
    book.add_worksheet("Hidden").hide()
    book.add_worksheet("Very hidden").very_hidden()
    book.close()


def formatted_rows_and_columns(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.set_column("H:H", 12, book.add_format({"num_format": "yyyy-mm-dd", "bg_color": "#EEFFEE"}))
    sheet.set_column("I:I", 12, book.add_format({"font_color": "#0000FF", "text_wrap": True}))
    sheet.set_row(3, 20, book.add_format({"bold": True, "border": 1}))
    book.close()


def merged_cells(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.merge_range("A9:C11", "one over nine", book.add_format({"border": 2, "align": "center"}))
    sheet.write("B10", "under the merge")
    book.close()


def protection(path: Path) -> None:
    book = club(path)
    rules = book.add_worksheet("Rules")
    rules.protect("secret", {"sort": True, "format_cells": True})
    rules.unprotect_range("A1:B2", "free")
    rules.write("A1", "leave this", book.add_format({"locked": False}))
    book.read_only_recommended()
    book.close()


def print_set_up(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.set_landscape()
    sheet.set_paper(9)
    sheet.repeat_rows(0)
    sheet.repeat_columns("A:B")
    sheet.print_area("A1:E6")
    sheet.set_h_pagebreaks([3])
    sheet.set_v_pagebreaks([2])
    sheet.set_header("&LClub & friends&R&D")
    sheet.fit_to_pages(1, 0)
    book.close()


def rich_text(path: Path) -> None:
    book = club(path)
    bold, red = book.add_format({"bold": True}), book.add_format({"color": "red"})
    locomotives(book).write_rich_string("A9", "some ", bold, "bold", " and ", red, "red")
    book.close()


def properties(path: Path) -> None:
    book = club(path)
    book.set_properties(
        {"title": "Roster", "author": "M01", "company": "Club", "manager": "M02", "comments": "a"}
    )
    book.set_custom_property("Checked", True)
    book.set_custom_property("Checked on", datetime(2024, 5, 17, tzinfo=UTC).replace(tzinfo=None), "date")
    book.set_custom_property("Layout", "Café")
    book.close()


def formulas(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.write_formula("A9", "=SUM(C2:C6)", None, 5852)
    sheet.write_formula("B9", '=IF(G2>0,"filled","empty")', None, "empty")
    sheet.write_formula("C9", "=1/0", None, "#DIV/0!")
    sheet.write_array_formula("D9:D10", "{=C2:C3*2}", None, 6)
    book.set_calc_mode("manual")
    book.close()


def dynamic_arrays(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.write_dynamic_array_formula("A9:A11", "=UNIQUE(A2:A6)", None, "M01")
    sheet.write("A10", "M02")
    sheet.write("A11", "M03")
    sheet.write_formula("C9", "=LET(x,C2,x+1)", None, 4)
    book.close()


def dates_from_1904(path: Path) -> None:
    club(path, {"date_1904": True}).close()


def formats(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    look = {"num_format": "[h]:mm:ss", "bg_color": "#FFFF99", "border": 1, "hidden": True, "rotation": 30}
    sheet.write("A9", 2.5, book.add_format(look))
    sheet.write("G9", "stays", book.add_format({"font_name": "Courier New", "italic": True}))
    sheet.write_blank("G3", None, book.add_format({"bg_color": "#123456", "num_format": "0.00"}))
    book.close()


def ignored_errors(path: Path) -> None:
    book = club(path)
    locomotives(book).ignore_errors({"number_stored_as_text": "A1:XFD1048576"})
    book.close()


def other_sheets_first(path: Path) -> None:
    book = club(path)
    book.add_worksheet("Findings").write("A1", "a member's own sheet of that title")
    book.get_worksheet_by_name(TITLE).set_tab_color("#FF8800")
    book.close()


KEPT = {
    "validations": validations,
    "conditional formats": conditional_formats,
    "tables": tables,
    "links": links,
    "names": names,
    "panes and views": panes,
    "an active filter": filters,
    "hidden and grouped rows and columns": groups,
    "formatted rows and columns": formatted_rows_and_columns,
    "merged cells": merged_cells,
    "protection of another sheet": protection,
    "a print set-up": print_set_up,
    "rich text": rich_text,
    "properties": properties,
    "formulas with stored values": formulas,
    "dynamic arrays": dynamic_arrays,
    "dates from 1904": dates_from_1904,
    "cell formats": formats,
    "ignored errors": ignored_errors,
    "a sheet of the member's called Findings": other_sheets_first,
}
