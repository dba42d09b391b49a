"""Cells as values of our columns: words of several languages, addresses, lengths, days, and doubts."""

from datetime import date, datetime

import pytest

from rosterkit.lists.plain import PlainCell
from rosterkit.lists.settle.cells import cell_said
from rosterkit.roster.schema import sheet
from tests.lists.settle.lists import Content, cell


def _value(
    column: str, content: Content, heading: str = "", units: tuple[str | None, str | None] = (None, None)
) -> object:
    said = cell_said(sheet("Locomotives")[column], cell(content), heading, units)
    assert (said.value is None) or said.doubt is None
    return said.value if said.doubt is None else "doubt"


@pytest.mark.parametrize(
    ("column", "content", "heading", "value"),
    [
        pytest.param("direction", "normal", "", "normal", id="a choice of the schema is itself"),
        pytest.param("direction", "gedreht", "Richtung", "reversed", id="gedreht is reversed"),
        pytest.param("direction", "verkehrt herum", "", "reversed", id="two words are one choice"),
        pytest.param("direction", "R", "F/R", "reversed", id="R under F/R is reverse"),
        pytest.param("direction", "F", "F/R", "normal", id="F under F/R is forward"),
        pytest.param("direction", "N", "Dir", "normal", id="N beside R is normal"),
        pytest.param("direction", "omvänd", "", "reversed", id="Swedish"),
        pytest.param("direction", "obráceně", "", "reversed", id="Czech"),
        pytest.param("direction", "inversé", "", "reversed", id="French"),
        pytest.param(
            "direction", "gedreht (Motor)", "", "reversed", id="what follows in brackets does not matter"
        ),
        pytest.param(
            "direction", "x", "gedreht", "reversed", id="a tick under a heading that names the choice"
        ),
        pytest.param(
            "direction", "N", "gedreht", "normal", id="a no under such a heading is the other choice"
        ),
        pytest.param("direction", "x", "Direction", "doubt", id="a tick under a heading that names none"),
        pytest.param("direction", "normal?", "", "doubt", id="a question mark"),
        pytest.param("direction", "gedreht (nicht mehr)", "", "doubt", id="a denial behind it"),
        pytest.param("direction", "links", "", "doubt", id="a word that says something else"),
        pytest.param("address_kind", "L", "L/S", "long", id="L is long"),
        pytest.param("address_kind", "kurz", "", "short", id="kurz is short"),
        pytest.param("address_kind", "4-stellig", "", "long", id="four digits are long"),
        pytest.param("address_kind", "2 digits", "", "short", id="two digits are short"),
        pytest.param("address_kind", "dlouhá", "", "long", id="Czech for long"),
        pytest.param("address_kind", "x", "long?", "long", id="a tick under long"),
        pytest.param("address_kind", "", "long?", None, id="a blank under long says nothing"),
        pytest.param("address_kind", "x", "long/short", "doubt", id="a tick under both kinds"),
        pytest.param("speed_steps", "128 FS", "", "28/128", id="steps with their word"),
        pytest.param("speed_steps", "28/128 Fahrstufen", "", "28/128", id="both numbers of one choice"),
        pytest.param("speed_steps", 14, "", "14", id="a number of steps"),
        pytest.param("speed_steps", "14/28", "", "doubt", id="steps of two choices"),
        pytest.param("speed_steps", "27", "", "doubt", id="27 steps are none of ours"),
        pytest.param("dc_operation", "ja", "analog", "on", id="ja is on"),
        pytest.param("dc_operation", "x", "Runs DC?", "on", id="a tick is on"),
        pytest.param("dc_operation", "nur digital", "", "off", id="digital only is off"),
        pytest.param("dc_operation", "x", "no DC", "doubt", id="a tick under a heading that denies"),
        pytest.param("dc_operation", "-", "", None, id="a dash says nothing"),
        pytest.param("bidi", "aus", "", "off", id="aus is off"),
        pytest.param("bidi", "på", "", "on", id="på is on"),
        pytest.param("at_meet", "✓", "meet?", "yes", id="a check mark is yes"),
        pytest.param("at_meet", True, "", "yes", id="a ticked box is yes"),
        pytest.param("at_meet", "nie", "", "no", id="Polish for no"),
        pytest.param("at_meet", "maybe", "", "doubt", id="a maybe"),
        pytest.param("at_meet", "", "", None, id="a blank is no no"),
        pytest.param("drivers", "nur Besitzer", "", "owner", id="who drives, in German"),
        pytest.param("speed_curve", "Tabelle", "", "table", id="a table, in German"),
    ],
)
def test_a_choice_is_read_in_words(column: str, content: Content, heading: str, value: object) -> None:
    assert _value(column, content, heading) == value


@pytest.mark.parametrize(
    ("text", "number", "kind", "kept"),
    [
        pytest.param("5201 L", 5201, "long", "", id="a letter behind"),
        pytest.param("L5201", 5201, "long", "", id="a letter before, without a blank"),
        pytest.param("short 12", 12, "short", "", id="a word before"),
        pytest.param("14 (short)", 14, "short", "", id="a word in brackets"),
        pytest.param("600 / 4 digits", 600, "long", "", id="digits as a kind"),
        pytest.param("#45", 45, None, "", id="a number sign"),
        pytest.param("Adr. 45 kurz", 45, "short", "", id="the word address"),
        pytest.param("03", 3, None, "", id="a zero before"),
        pytest.param("2\u00a0219", 2219, None, "", id="a blank that no line breaks at"),
        pytest.param("2\u202f219 L", 2219, "long", "", id="a narrow one, and a kind"),
        pytest.param("2\u2009219", 2219, None, "", id="a thin one"),
        pytest.param("2'219", 2219, None, "", id="an apostrophe"),
        pytest.param("2\u2019219", 2219, None, "", id="a printed apostrophe"),
        pytest.param(
            "45 L (not short!)", 45, "long", "45 L (not short!)", id="what it is not, kept as typed"
        ),
        pytest.param("none", None, None, "none", id="none is no address and no doubt"),
    ],
)
def test_an_address_says_its_kind(text: str, number: int | None, kind: str | None, kept: str) -> None:
    said = cell_said(sheet("Locomotives")["address"], cell(text), "Address", (None, None))

    assert (said.value, said.kind, said.as_typed, said.doubt) == (number, kind, kept, None)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("12 or 45", id="two numbers"),
        pytest.param("3/5201", id="two numbers with a stroke"),
        pytest.param("see card", id="no number"),
        pytest.param("45?", id="a question mark"),
        pytest.param("was 45", id="an earlier one"),
        pytest.param("S 200", id="a short one above 127"),
        pytest.param("10240", id="above the highest"),
        pytest.param("0", id="zero"),
        pytest.param("5.201", id="a stop within, which may part thousands"),
        pytest.param("L/S 45", id="both kinds"),
        pytest.param("2 219", id="an ordinary blank within"),
        pytest.param("2\u00a021", id="two figures behind a blank that no line breaks at"),
        pytest.param("2\u00a0219\u00a0300", id="millions"),
        pytest.param("2\u00a0219.5", id="a fraction of thousands"),
        pytest.param("0\u00a0219", id="no thousands"),
        pytest.param("44\u00a0219", id="thousands above the highest"),
    ],
)
def test_an_address_that_is_not_sure_stays_blank(text: str) -> None:
    said = cell_said(sheet("Locomotives")["address"], cell(text), "Address", (None, None))

    assert said.value is None
    assert said.as_typed == text
    assert said.doubt is not None
    assert text in said.doubt[0]


def test_a_kind_without_a_number_is_taken_and_the_number_is_a_doubt() -> None:
    said = cell_said(sheet("Locomotives")["address"], cell("4-digit"), "Address", (None, None))

    assert (said.value, said.kind) == (None, "long")
    assert said.doubt == (
        "'4-digit' says the kind of the address and no number",
        "Enter the number in Address.",
    )


def test_four_digits_of_a_short_address_may_mean_a_long_one() -> None:
    said = cell_said(sheet("Locomotives")["address"], cell("0045"), "Address", (None, None))

    assert (said.value, said.as_typed) == (45, "0045")
    assert said.doubt == (
        "'0045' has four digits, with which some stations mean long 45",
        "Enter long in Address kind if it is long.",
    )


@pytest.mark.parametrize(
    ("column", "content", "heading_unit", "unit", "value"),
    [
        pytest.param("length", "182,5", "mm", "mm", 182.5, id="a decimal comma"),
        pytest.param("length", "7 1/4", "in", "in", 7.25, id="a fraction"),
        pytest.param("length", "7¼", "in", "in", 7.25, id="a fraction in one sign"),
        pytest.param("length", '8"', "in", "in", 8, id="an inch mark"),
        pytest.param("length", "182,5 mm", None, "mm", 182.5, id="a unit in the cell"),
        pytest.param("length", "18,25 cm", None, "mm", 182.5, id="centimetres"),
        pytest.param("length", 18.25, "cm", "mm", 182.5, id="centimetres by the heading"),
        pytest.param("length", 7.1, None, None, 7.1, id="no unit at all"),
        pytest.param("length", '7 1/4"', "mm", "mm", "doubt", id="inches among millimetres"),
        pytest.param("length", "1,234", "mm", "mm", "doubt", id="a comma that may part thousands"),
        pytest.param("length", "185/190", "mm", "mm", "doubt", id="two lengths are no fraction"),
        pytest.param("length", "about 8", "in", "in", "doubt", id="about"),
        pytest.param("length", "0", "in", "in", "doubt", id="no length at all"),
        pytest.param("length", "900 mA", "in", "in", "doubt", id="a current is no length"),
        pytest.param("stall", "0.9 A", None, "mm", 0.9, id="amperes"),
        pytest.param("stall", "450 mA", None, "mm", 0.45, id="milliamperes"),
        pytest.param("stall", 450, "mA", "mm", 0.45, id="milliamperes by the heading"),
        pytest.param("stall", "450", None, "mm", "doubt", id="450 amperes are none"),
        pytest.param("stall", "?", None, None, None, id="a question mark is a blank"),
        pytest.param("vstart", 6.0, None, None, 6, id="a whole number"),
        pytest.param("vstart", "6-8", None, None, "doubt", id="two numbers"),
        pytest.param("vstart", "300", None, None, "doubt", id="more than a CV holds"),
    ],
)
def test_a_number_is_read_with_its_unit(
    column: str, content: Content, heading_unit: str | None, unit: str | None, value: object
) -> None:
    assert _value(column, content, "", (heading_unit, unit)) == value


def test_a_length_in_another_unit_is_proposed_in_ours() -> None:
    said = cell_said(sheet("Locomotives")["length"], cell('7 1/4"'), "LüP (mm)", ("mm", "mm"))

    assert said.doubt == (
        "'7 1/4\"' is in inches, and the lengths of this list are in millimetres",
        "Measure, or enter 184.15 in Length.",
    )


@pytest.mark.parametrize(
    ("content", "value"),
    [
        pytest.param("2019-03-02", "2019-03-02", id="year, month, day"),
        pytest.param(date(2019, 3, 2), "2019-03-02", id="a date"),
        pytest.param(datetime(2019, 3, 2), "2019-03-02", id="a date at midnight"),
        pytest.param("02.03.2019", "2019-03-02", id="in dots the day is first"),
        pytest.param("2.3.19", "2019-03-02", id="two digits of this century"),
        pytest.param("2.3.98", "1998-03-02", id="two digits of the last century"),
        pytest.param("13/2/2019", "2019-02-13", id="no month is 13"),
        pytest.param("2/13/2019", "2019-02-13", id="no month is 13, the other way round"),
        pytest.param("3/3/2019", "2019-03-03", id="the same either way"),
        pytest.param("2 March 2019", "2019-03-02", id="a month by its name"),
        pytest.param("1. dubna 2022", "2022-04-01", id="a Czech month"),
        pytest.param("3/2/19", "doubt", id="day and month may be either"),
        pytest.param("31.02.2019", "doubt", id="no such day"),
        pytest.param("spring 2014", "doubt", id="no day"),
        pytest.param("2014", "doubt", id="a year alone"),
    ],
)
def test_a_day_is_read_however_it_is_written(content: Content, value: str) -> None:
    assert _value("checked_on", content) == value


@pytest.mark.parametrize(
    ("column", "content", "value", "kept"),
    [
        pytest.param("number", PlainCell("007", 7), "007", "", id="zeros that the format shows stay"),
        pytest.param("number", 5210.0, "5210", "", id="a number is text in Number"),
        pytest.param("owner", "M09 (guest)", "M09 (guest)", "", id="text stays"),
        pytest.param("number", date(2024, 1, 2), None, "2024-01-02", id="a date is no number"),
        pytest.param(
            "number", PlainCell("1-2", date(2024, 1, 2), loss="a date"), None, "1-2", id="a loss is no number"
        ),
        pytest.param("number", "1" * 21, None, "1" * 21, id="too long a text stays as typed"),
        pytest.param("notes", "-", "-", "", id="a dash in notes stays"),
        pytest.param("owner", "-", None, "-", id="a dash is no owner"),
        pytest.param("decoder", "none", None, "none", id="none is no decoder"),
        pytest.param("decoder", "?", None, "?", id="a question mark is no decoder"),
        pytest.param("notes", date(2024, 1, 2), "2024-01-02", "", id="a date in notes is a note"),
    ],
)
def test_text_stays_as_typed(column: str, content: Content, value: object, kept: str) -> None:
    said = cell_said(sheet("Locomotives")[column], cell(content), "", (None, None))

    assert (said.value, said.as_typed) == (value, kept)
    assert (said.doubt is None) == (value is not None or content in ("-", "none", "?"))
