"""What several columns of a table say of each other, and what a table is about."""

import pytest

from rosterkit.lists.columns.recognise import recognised
from rosterkit.lists.reading import Sure
from rosterkit.lists.tables import Layout
from tests.lists.columns.layouts import NOTHING_SAID, read, table, words

LABELS = ("NE 5201", "NE 5202", "JV 54", "JV 2101")
NUMBERS = ("5201", "5202", "54", "2101")


def lines(**columns: str) -> list[list[str]]:
    """Lines of a list, from each column's heading (its blanks as _) and texts."""
    texts = [column.split("|") if "|" in column else column.split() for column in columns.values()]
    return [[name.strip("_").replace("_", " ") for name in columns], *map(list, zip(*texts, strict=True))]


@pytest.mark.parametrize(
    ("list_of", "expected"),
    [
        pytest.param(
            lines(Number="5201 5202 54", Owner="M01 M02 M01", DCC="5201 5202 54"),
            "number owner address",
            id="Number is the road number where another column has the address",
        ),
        pytest.param(
            lines(No="NE 5201|NE 5202|JV 54", Addr="5201|5202|54", Own="M01|M02|M01"),
            "engine address owner",
            id="No. with letters and digits is a label of the engine",
        ),
        pytest.param(
            lines(Road="NE NE JV", No="VT31 VT32 VT33", Addr="31 32 33"),
            "railway number address",
            id="No. with letters and digits beside a railway is the number",
        ),
        pytest.param(
            lines(Name_of_engine="NE 5201|NE 5202|JV 54", ID="5201|5202|54", chip="plain|snd|snd"),
            "loco address decoder",
            id="ID beside a chip is the address",
        ),
        pytest.param(
            lines(ID="17 23 99", Road_no="5201 5202 54", Address="5201 5202 54"),
            "own number address",
            id="ID beside number and address is something of the member's own",
        ),
        pytest.param(
            lines(ID="NE 5201|NE 5202|JV 54", Road="NE|NE|JV", Unit="5201|5202|54", Addr="3|4|54"),
            "loco railway number address",
            id="ID with letters and digits is the label",
        ),
        pytest.param(
            lines(No="1|2|3|4", Loco="NE 5201|NE 5202|JV 54|JV 55", Address="5201|5202|54|55"),
            "own engine address",
            id="No. that only counts the rows is no number",
        ),
        pytest.param(
            lines(Engine="GP|GP|cab", Road="NE|NE|JV", Road_no="5201|5202|54", Addr="5201|5202|54"),
            "model railway number address",
            id="Engine with repeated words is the model where the number stands elsewhere",
        ),
        pytest.param(
            lines(Engine="5201|5202|54", Road="NE|NE|JV", Addr="5201|5202|54"),
            "number railway address",
            id="Engine with digits is the number",
        ),
        pytest.param(
            lines(Name="Anna|Berta|Clara", Addr="3|4|5", Owner="M01|M01|M02"),
            "loco address owner",
            id="Name with different names is the label",
        ),
        pytest.param(
            lines(Engine="NE 1|NE 2|JV 3", Vmin="4|5|6", Vmax="200|210|220", Addr="1|2|3"),
            "engine vstart vhigh address",
            id="Vmax beside Vmin is the value of CV5",
        ),
        pytest.param(
            lines(Engine="NE 1|NE 2|JV 3", Vmax="80|100|120", Addr="1|2|3"),
            "engine own address",
            id="Vmax alone is something of the member's own",
        ),
        pytest.param(
            [["Loco", "CV|2", "3", "29"], ["NE 1", "3", "4", "6"], ["NE 2", "5", "6", "2"]],
            "engine cv:2 cv:3 cv:29",
            id="bare numbers behind CV are CVs",
        ),
        pytest.param(
            [["Loco", "Addr", "1", "2", "3"], ["NE 1", "1", "a", "b", "c"], ["NE 2", "2", "d", "e", "f"]],
            "engine address own own own",
            id="bare numbers are no CVs where nothing speaks of CVs",
        ),
        pytest.param(
            [["Name|road", "|unit", "Address|home", "Address|at shows"], ["NE", "5201", "5201", "4201"]],
            "railway number address meet_address",
            id="two lines of headings",
        ),
        pytest.param(
            [
                ["Engine|Road", "Number|on the cab", "Digital|Addr.|1-9999", "Digital|Chip|own name"],
                ["NE", "5201", "12", "plain"],
                ["JV", "54", "54", "snd"],
            ],
            "railway number address decoder",
            id="a middle line, where the lowest only explains",
        ),
        pytest.param(
            lines(Number="NE 5201|NE 5202|JV 54", Addr="1|2|3", Owner="M01|M01|M02"),
            "engine address owner",
            id="Number with letters and digits is a label of the engine",
        ),
        pytest.param(
            lines(Road="NE|NE|JV", Number="1|2|3", Addr="5|6|7", Outputs="4|4|6", Switch="a|b|a"),
            "railway number address own own",
            id="outputs and a switch make no accessories of engines with a railway",
        ),
        pytest.param(
            lines(Nr="1|2|3", Bezeichnung="BR 94|V 36|E 44", Hersteller="A|B|A", Adresse="94|36|44"),
            "own engine own address",
            id="a count beside a description that has letters and a number, another for each",
        ),
        pytest.param(
            lines(Bezeichnung="Krokodil|Hecht|Kuh", Adresse="94|36|44", Besitzer="M01|M01|M02"),
            "loco address owner",
            id="a description that differs, where nothing else names the engines",
        ),
        pytest.param(
            lines(Bezeichnung="Diesel|Diesel|Dampf", Adresse="94|36|44", Besitzer="M01|M01|M02"),
            "model address owner",
            id="a description that does not",
        ),
        pytest.param(
            lines(Loco="NE 5201|JV 54", Long="5201|54", Owner="M01|M02"),
            "engine own owner",
            id="the engines' digits below Long are no lengths",
        ),
        pytest.param(
            lines(Loco="NE 7|NE 5310|KC 18", Railway="NE|NE|KC", Number="007|5310|18", Address="7|5310|18"),
            "loco railway number address",
            id="a label beside its railway and number is the member's own",
        ),
        pytest.param(
            [["Loco", "Purchase|Date", "Purchase|No.", "Addr"], ["NE 1", "2001-01-02", "1234", "1"]],
            "engine own own address",
            id="a lower line below one that is the member's own",
        ),
        pytest.param(
            lines(Loco="NE 5201|NE 5202", CV="29|29", Value="34|6"),
            "engine cv value",
            id="CV numbers and values below each other",
        ),
        pytest.param(
            lines(Loco="NE 5201|NE 5202", Addr="1|2", Value="340|600"),
            "engine address own",
            id="a value without CV numbers is the member's own",
        ),
        pytest.param(
            lines(Note="a b c", Address="5201 5202 54", Remarks="x1 y2 z3", Loco="A1 B2 C3"),
            "notes address notes engine",
            id="two columns of notes",
        ),
        pytest.param(
            lines(__="NE 5201|NE 5202|JV 54", Addr="5201|5202|54", Type="a|b|c"),
            "engine address model",
            id="a first column without a heading that has letters and the addresses' digits",
        ),
        pytest.param(
            lines(Loco="NE 1|NE 2", Addr="1|2", Notes="CV3=4|loud", __="CV4=8|"),
            "engine address notes notes",
            id="CVs in a column without a heading",
        ),
        pytest.param(
            lines(__="A3|B1|C2", Addr="5201|5202|54", Number="5201|5202|54"),
            "own address number",
            id="a column of shelves without a heading",
        ),
        pytest.param(
            lines(Loco="NE 1000|NE 5201|JV 2101", Hi="195|212|200", Lo="232|81|53"),
            "engine cv:17 cv:18",
            id="192-231 beside 0-255 that come to the engines' numbers",
        ),
        pytest.param(
            lines(Loco="NE 1000|NE 5201|JV 2101", Hi="195|212|200", Lo="1|2|3"),
            "engine own own",
            id="192-231 beside 0-255 that come to something else",
        ),
        pytest.param(
            lines(Lok="Anna|Berta|Clara", Adresse="Hauptstr. 1|Am Hang 22|Weg 3", Dekoder="a|a|b"),
            "loco own decoder",
            id="an address that is a street",
        ),
        pytest.param(
            lines(Loco="A 1|B 2|C 3", Address="12345|54321|23456", Chip="a|b|c"),
            "engine own decoder",
            id="an address of five digits is none",
        ),
        pytest.param(
            lines(Loco="A 1|B 2|C 3", Short_addr="3|3|7", Long_addr="1|2|"),
            "engine cv:1 address",
            id="a short address beside a long one is CV1",
        ),
        pytest.param(
            lines(
                Loco="A 1|B 2|C 3", Checked="2020-01-01|2020-01-02|2020-01-03", By="M01|M02|M01", Addr="1|2|3"
            ),
            "engine checked_on checked_by address",
            id="who checked, beside when",
        ),
        pytest.param(
            lines(Loco="A 1|B 2|C 3", Short_addr="3|3|7", Owner="M01|M01|M02"),
            "engine address owner",
            id="a short address alone is the address",
        ),
        pytest.param(
            lines(Loco="A 1|B 2|C 3", Address="1|2 as on the card|to be set by Bo on Friday", Chip="a|b|c"),
            "engine address decoder",
            id="an address with remarks beside it",
        ),
        pytest.param(
            lines(Loco="A 1|B 2|C 3", Address="on the card|in the box|ask Bo", Chip="a|b|c"),
            "engine own decoder",
            id="an address that is nowhere one",
        ),
        pytest.param(
            lines(Loco="A 1|B 2|C 3", Address="1|see card|none", Chip="a|b|c"),
            "engine address decoder",
            id="an address that is left open in most rows",
        ),
    ],
)
def test_the_columns_of_a_table_are_read_as(list_of: list[list[str]], expected: str) -> None:
    assert words(list_of) == expected


def test_sheets_with_the_same_headings_are_read_alike() -> None:
    headings = ["Engine", "Kind", "Addr"]
    first = table([headings, ["NE 1", "steam", "1"], ["NE 2", "diesel", "2"]], "M01")
    second = table([headings, ["JV 3", "", "see card"]], "M02")

    one, other = recognised(Layout((first, second)), NOTHING_SAID)

    assert [column.read_as for column in other.columns] == [column.read_as for column in one.columns]
    assert [column.read_as for column in one.columns] == ["engine", "model", "address"]
    assert other.columns[0].samples == ("JV 3",)


def test_a_number_that_may_only_count_the_rows_is_in_doubt() -> None:
    reading = read(lines(No="1|2|3", Road="NE|NE|JV", Addr="5201|5202|54"))

    assert (reading.columns[0].read_as, reading.columns[0].sure) == ("number", Sure.UNSURE)
    assert reading.columns[0].why.endswith("though it may only count the rows")


@pytest.mark.parametrize(
    ("list_of", "why"),
    [
        pytest.param(
            lines(Turnout="T1 T2 T3", Address="1 2 3"),
            "it is about turnouts, signals or other accessories",
            id="a list of turnouts",
        ),
        pytest.param(
            lines(Consist="Coal|Ore", Lead="NE 1|NE 3", Trailing="NE 2|NE 4", Addr="12|13"),
            "no column names an engine",
            id="consists",
        ),
        pytest.param(
            lines(Member="M01 M02", Phone="123 456"), "no column names an engine", id="a list of members"
        ),
        pytest.param(
            lines(Decoder="plain snd", Quantity="3 4", Price="19.50 80", Address="3 3"),
            "it is about decoders, and has no engines",
            id="a stock of decoders",
        ),
        pytest.param(
            lines(
                Date="|".join(f"2020-01-0{day}" for day in range(1, 7)),
                Loco="A 1|B 2|A 1|B 2|A 1|A 1",
                Addr="1|2|1|2|1|1",
            ),
            "it names the same engines over and over, on different days",
            id="a log of runs",
        ),
        pytest.param(
            lines(Member="M01|M02|M03|M04", Address="12 Mill Lane|3|9|47 Station Yard", Engines="4|11|2|1"),
            "no column names an engine",
            id="a list of members with their streets and how many engines they have",
        ),
        pytest.param(
            lines(Address="100|101|102", Member="M01|M02|M03", Since="a|b|c"),
            "no column names an engine",
            id="addresses and whose they are",
        ),
        pytest.param(
            lines(Loco="NE 1|NE 1|JV 2|JV 2", Step="1|14|1|14", Seconds="30|10|28|9"),
            "it has several rows for one engine, and neither addresses nor decoders nor CVs",
            id="speed runs of somebody else",
        ),
        pytest.param(
            lines(Number="101 102 103", Description="box hopper tank"),
            "it has neither addresses nor decoders nor CVs, and no heading speaks of engines",
            id="a list of wagons",
        ),
    ],
)
def test_a_table_is_of_no_engines(list_of: list[list[str]], why: str) -> None:
    reading = read(list_of)

    assert (reading.subject, reading.why) == ("", why)
    assert {one.read_as for one in reading.columns} == {"own"}


def test_a_list_without_addresses_is_of_engines_if_it_says_what_kinds_they_are() -> None:
    lines_of = lines(Bahn="Waldbahn|Waldbahn", Betriebsnummer="301|V 12", Gattung="Dampflok|Diesellok")

    assert read(lines_of).subject == "Locomotives"


def test_a_log_of_engines_that_another_table_has_is_no_table_of_engines() -> None:
    engines = table([["Loco", "Addr"], ["NE 1", "1"], ["NE 2", "2"]], "Engines")
    log = table([["Engine", "Work done"], ["NE 1", "oil"], ["NE 2", "wheels"], ["NE 1", "lamp"]], "Log")
    once = table([["Engine", "Lamp"], ["NE 1", "oil"], ["NE 2", "wheels"]], "Once")

    readings = recognised(Layout((engines, log, once)), NOTHING_SAID)

    assert [one.subject for one in readings] == ["Locomotives", "", "Locomotives"]
    assert readings[1].why == "it says more of engines that another table has, in several rows for one engine"


def test_a_list_of_consists_is_not_of_engines_though_it_names_them() -> None:
    reading = read(lines(Consist="Coal|Coal", Loco="NE 1|NE 2", Addr="12|12"), "Consists 2014")

    assert (reading.subject, reading.why) == ("", "it is about consists")


def test_two_columns_that_would_do_for_an_address_are_in_doubt() -> None:
    reading = read(lines(Loco="A 1|B 2", Address="1|2", DCC_address="1|3"))

    assert [one.sure for one in reading.columns][1:] == [Sure.UNSURE, Sure.SURE]
    assert "S!C 'DCC address' would do as well" in reading.columns[1].why
    assert reading.columns[2].read_as == "own"
