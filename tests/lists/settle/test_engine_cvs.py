"""CVs of a list as settings, consists, tables and extra values; bits by NMRA S-9.2.2 and RCN-225."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cv.engine import cvs_of
from rosterkit.lists.adopted import AdoptedValue
from rosterkit.lists.plain import Place
from rosterkit.lists.settle.note_cvs import cvs_in_note
from rosterkit.lists.settle.typed_cvs import TypedCv
from rosterkit.roster.model import Roster
from tests.lists.settle.lists import adopted, one_engine, reading
from tests.rosters import roster


@pytest.mark.parametrize(
    ("cv29", "settings"),
    [
        pytest.param(2, ("normal", "28/128", "off", "off", "3-point"), id="2 is 28 steps alone"),
        pytest.param(35, ("reversed", "28/128", "off", "off", "3-point"), id="35 is reversed and long"),
        pytest.param(6, ("normal", "28/128", "on", "off", "3-point"), id="6 runs on DC too"),
        pytest.param(4, ("normal", "14", "on", "off", "3-point"), id="4 has 14 steps"),
        pytest.param(50, ("normal", "28/128", "off", "off", "table"), id="50 runs by a table"),
        pytest.param(10, ("normal", "28/128", "off", "on", "3-point"), id="10 answers by BiDi"),
    ],
)
def test_cv29_says_five_settings(cv29: int, settings: tuple[str, ...]) -> None:
    values, doubts = one_engine(
        {"Loco": "loco", "Adr": "address", "CV29": "cv:29"}, "A", 612 if cv29 & 32 else 12, cv29
    )

    names = ("direction", "speed_steps", "dc_operation", "bidi", "speed_curve")
    assert tuple(values[name] for name in names) == settings
    assert values["address_kind"] == ("long" if cv29 & 32 else "short")
    assert doubts == []


@pytest.mark.parametrize(
    ("cv29", "kept"),
    [
        pytest.param(34, {"CV1": 7}, id="the short one of an engine that answers its long one"),
        pytest.param(2, {"CV17": 195, "CV18": 232}, id="the long one of one that answers its short one"),
    ],
)
def test_the_address_that_an_engine_does_not_answer_is_kept(cv29: int, kept: dict[str, int]) -> None:
    headings = {"Loco": "loco", "CV1": "cv:1", "CV17": "cv:17", "CV18": "cv:18", "CV29": "cv:29"}

    found = adopted(reading(headings, ("A", 7, 195, 232, cv29)))

    assert [one.own for one in found.engines] == [kept]


def test_no_cv29_says_nothing() -> None:
    values, doubts = one_engine({"Loco": "loco", "CV2": "cv:2"}, "A", 5)

    assert values == {"loco": "A", "vstart": 5}
    assert doubts == []


@pytest.mark.parametrize(
    ("cv29", "message"),
    [
        pytest.param(162, "CV29 = 162 is an accessory decoder's, or nothing was read", id="bit 7"),
        pytest.param(66, "CV29 = 66 has bit 6 set, which is reserved and has no column", id="bit 6"),
    ],
)
def test_an_odd_cv29_is_a_doubt(cv29: int, message: str) -> None:
    values, doubts = one_engine({"Loco": "loco", "Adr": "address", "CV29": "cv:29"}, "A", 12, cv29)

    assert ("direction" in values) == (cv29 < 128)
    assert doubts == [f"C2: {message}"]


ADDRESS_COLUMNS = {"Loco": "loco", "No": "number", "Adr": "address", "Kind": "address_kind"} | {
    "CV1": "cv:1",
    "CV17/18": "cv:17/18",
    "CV29": "cv:29",
}


@pytest.mark.parametrize(
    ("row", "address", "kind"),
    [
        pytest.param(("", "", "", 3, "212/120", 34), 5240, "long", id="CV29 makes the pair active"),
        pytest.param(("", "", "", 46, "212/120", 2), 46, "short", id="CV29 makes CV1 active"),
        pytest.param(
            ("", "5240", "", 3, "212/120", ""), 5240, "long", id="the typed address is that of the pair"
        ),
        pytest.param(("", "12", "", 12, "", ""), 12, "short", id="the typed address is that of CV1"),
        pytest.param(
            ("", "612", "", "", "", 34), 612, "long", id="CV29 alone says the kind of the typed address"
        ),
        pytest.param(
            ("5240", "", "", "", "212/120", ""), 5240, "long", id="the pair holds the number on the engine"
        ),
        pytest.param(
            ("", "", "L", "", "212/120", ""), 5240, "long", id="the kind is typed and the pair is there"
        ),
        pytest.param(("", "", "", "", "5240", 34), 5240, "long", id="a whole address in place of the pair"),
        pytest.param(("", "5240", "", 3, "", ""), 5240, None, id="CV1 may be what was there before"),
    ],
)
def test_an_address_of_which_the_cvs_are_sure(
    row: tuple[str | int, ...], address: int, kind: str | None
) -> None:
    values, doubts = one_engine(ADDRESS_COLUMNS, "A", *row)

    assert (values.get("address"), values.get("address_kind")) == (address, kind)
    assert doubts == []


@pytest.mark.parametrize(
    ("row", "address", "kind", "doubt"),
    [
        pytest.param(
            ("", "5240", "", "", "212/121", 34),
            5240,
            None,
            "C2: 5240 is typed, and CV17 = 212 and CV18 = 121 and CV29 = 34 say long 5241",
            id="the typed address beats the pair",
        ),
        pytest.param(
            ("", "12", "L", 12, "", 2),
            12,
            "long",
            "D2: long is typed, and CV1 = 12 and CV29 = 2 say short 12",
            id="the typed kind beats bit 5",
        ),
        pytest.param(
            ("", "5240", "", "", "", 2),
            5240,
            None,
            "C2: 5240 is typed, and CV29 = 2 says short",
            id="no short address is 5240",
        ),
        pytest.param(
            ("", "12", "", 12, "", 34),
            12,
            None,
            "C2: 12 is typed, and CV29 = 34 says long",
            id="CV1 holds the typed address and CV29 says long",
        ),
        pytest.param(
            ("", "", "S", 12, "212/120", 34),
            None,
            "short",
            "D2: short is typed, and CV17 = 212 and CV18 = 120 and CV29 = 34 say long 5240",
            id="the typed kind beats the pair",
        ),
        pytest.param(
            ("", "", "", 12, "212/120", ""),
            None,
            None,
            "E2: CV1 = 12 holds short 12 and CV17 = 212 and CV18 = 120 hold long 5240; "
            "whether that is active depends on CV29",
            id="without CV29 nothing says which",
        ),
        pytest.param(
            ("", "", "", "", "191/120", 34),
            None,
            "long",
            "G2: CV29 = 34 says long, and CV17 and CV18 do not say which",
            id="191 is no high byte",
        ),
        pytest.param(
            ("", "", "", "", "120", 34),
            None,
            "long",
            "F2: '120' is no pair of values of CV17 and CV18, such as 212/120",
            id="half a pair",
        ),
    ],
)
def test_an_address_of_which_the_cvs_are_not_sure(
    row: tuple[str | int, ...], address: int | None, kind: str | None, doubt: str
) -> None:
    values, doubts = one_engine(ADDRESS_COLUMNS, "A", *row)

    assert (values.get("address"), values.get("address_kind")) == (address, kind)
    assert doubt in doubts


def test_what_is_typed_beats_what_a_cv_says_and_the_difference_is_a_doubt_at_its_cell() -> None:
    columns = {"Loco": "loco", "Dir": "direction", "Vstart": "vstart", "CV2": "cv:2", "CV29": "cv:29"}
    values, doubts = one_engine(columns, "A", "normal", 4, 5, 3)

    assert (values["direction"], values["vstart"]) == ("normal", 4)
    assert "B2: normal is typed, and CV29 = 3 says Direction reversed" in doubts
    assert "C2: 4 is typed, and CV2 = 5 says Vstart 5" in doubts


def test_what_is_typed_and_a_cv_that_agrees_are_no_doubt() -> None:
    columns = {"Loco": "loco", "Adr": "address", "Dir": "direction", "CV29": "cv:29"}
    _, doubts = one_engine(columns, "A", 12, "gedreht", 3)

    assert doubts == []


def test_pairs_below_each_other_hold_cvs_and_settings_by_their_labels() -> None:
    pairs = (("CV 1", 3), ("17", 200), ("cv18", 82), ("29", 34), ("2", 4), ("address", 2130))
    values, doubts = one_engine({"Loco": "loco"}, "JV 2130", pairs=pairs)

    assert (values["address"], values["address_kind"], values["vstart"]) == (2130, "long", 4)
    assert doubts == []


@pytest.mark.parametrize(
    ("note", "expected"),
    [
        pytest.param("CV2=5, CV5=200", {"vstart": 5, "vhigh": 200}, id="equal signs"),
        pytest.param("cv3 to 12", {"acceleration": 12}, id="to"),
        pytest.param("CV 3: 10 / CV 4: 8", {"acceleration": 10, "deceleration": 8}, id="colons and a stroke"),
        pytest.param("CV3=12; CV4=8", {"acceleration": 12, "deceleration": 8}, id="semicolons"),
        pytest.param("CV3 auf 12", {"acceleration": 12}, id="auf"),
        pytest.param("CV3 set to 12", {"acceleration": 12}, id="set to"),
        pytest.param("cv 3 gesetzt auf 12 und CV4 auf 8", {"acceleration": 12, "deceleration": 8}, id="und"),
        pytest.param("CV3 zu 12", {"acceleration": 12}, id="zu"),
        pytest.param("CV3 op 12", {"acceleration": 12}, id="op"),
        pytest.param("CV3 réglée à 12", {"acceleration": 12}, id="réglée à"),
        pytest.param("CV3 satt till 12", {"acceleration": 12}, id="satt till"),
        pytest.param("CV3 impostata a 12", {"acceleration": 12}, id="impostata a"),
        pytest.param("CV3 puesta en 12", {"acceleration": 12}, id="puesta en"),
        pytest.param("CV3 nastaveno na 12", {"acceleration": 12}, id="nastaveno na"),
        pytest.param("CV3 ustawiono na 12", {"acceleration": 12}, id="ustawiono na"),
        pytest.param("CV 3 -> 12", {"acceleration": 12}, id="an arrow"),
        pytest.param("CV3 = 0x1A", {"acceleration": 26}, id="hexadecimal"),
        pytest.param("CV3=12 (smooth)", {"acceleration": 12}, id="a word in brackets"),
        pytest.param("runs well. CV3=12.", {"acceleration": 12}, id="a sentence about it"),
    ],
)
def test_a_note_sets_cvs_and_stays_as_typed(note: str, expected: dict[str, int]) -> None:
    values, doubts = one_engine({"Loco": "loco", "Notes": "notes"}, "A", note)

    assert values == {"loco": "A", "notes": note, **expected}
    assert doubts == []


@pytest.mark.parametrize(
    ("note", "doubts"),
    [
        pytest.param("CV8 reads 13", 0, id="what was read"),
        pytest.param("read CV3", 0, id="a CV without a value"),
        pytest.param("CV3 was 12", 0, id="what was there"),
        pytest.param("CV3=300", 1, id="more than a byte"),
        pytest.param("CV3=12?", 1, id="a question mark"),
        pytest.param("old: CV3=12", 1, id="an old one"),
        pytest.param("CV3=10-12", 1, id="a range of values"),
        pytest.param("CV3=10 or 12", 1, id="one or the other"),
        pytest.param("CV67 to 94", 1, id="a range of CVs"),
        pytest.param("CV3=12s", 1, id="seconds"),
        pytest.param("CV3=1.5", 1, id="a fraction"),
        pytest.param("CV1025=3", 1, id="no such CV"),
        pytest.param("CV3 no longer 12", 0, id="no longer"),
        pytest.param("CV3 was set to 12", 0, id="was set to"),
        pytest.param("CV3=12, no longer", 1, id="no longer, behind it"),
        pytest.param("CV3=12 (old)", 1, id="an old one, in brackets"),
        pytest.param("no longer CV3 set to 12", 1, id="no longer, before it"),
        pytest.param("CV3 set to 12 or 14", 1, id="set to one or the other"),
        pytest.param("CV3 = 0x1AB", 1, id="more than a byte in hexadecimal"),
        pytest.param("CV3 = 12h", 1, id="hours"),
    ],
)
def test_a_note_that_only_tells_sets_nothing(note: str, doubts: int) -> None:
    values, found = one_engine({"Loco": "loco", "Notes": "notes"}, "A", note)

    assert values == {"loco": "A", "notes": note}
    assert len(found) == doubts


def test_in_a_note_as_long_as_a_cell_holds_every_cv_is_looked_at() -> None:
    note = "CV3=12 " * 4600
    found = [one for one in cvs_in_note(note, Place("List", 2, 2)) if isinstance(one, TypedCv)]

    assert len(found) == 4600
    assert {one.value for one in found} == {12}


def test_a_column_beats_a_note() -> None:
    values, doubts = one_engine({"Loco": "loco", "CV3": "cv:3", "Notes": "notes"}, "A", 10, "CV3=12")

    assert values["acceleration"] == 10
    assert doubts == ["C2: CV3 is 10 in B2 and 12 here"]


def test_two_values_of_one_cv_are_both_left_out() -> None:
    values, doubts = one_engine({"Loco": "loco"}, "A", pairs=(("CV3", 10), ("CV3", 12)))

    assert "acceleration" not in values
    assert doubts == ["Z3: CV3 is 10 in Z2 and 12 here, so it is left out"]


def test_255_everywhere_is_nothing_read() -> None:
    values, doubts = one_engine({"Loco": "loco"}, "A", pairs=(("CV2", 255), ("CV3", 255), ("CV29", 255)))

    assert values == {"loco": "A"}
    assert doubts == ["Z2: every CV is 255, so probably nothing was read"]


def test_a_value_outside_a_byte_is_a_doubt_and_kept_as_own() -> None:
    found = adopted(reading({"Loco": "loco", "CV49": "cv:49"}, ("A", "256"), ("B", "see card")))

    assert "Extra values" not in found.rows
    assert [one.own for one in found.engines] == [{"CV49": "256"}, {"CV49": "see card"}]
    assert [doubt.message for doubt in found.doubts] == [
        "'256' is no value of CV49: they are 0 to 255",
        "'see card' is no value of CV49: they are 0 to 255",
    ]


def _rows(title: str, pairs: tuple[tuple[str, int], ...], label: str = "A") -> list[dict[str, AdoptedValue]]:
    found = adopted(reading({"Loco": "loco"}, (label,), pairs=pairs))
    return [dict(row.values) for row in found.rows.get(title, ())]


@pytest.mark.parametrize(
    ("pairs", "row"),
    [
        pytest.param(
            (("CV19", 85),), {"consist": "Consist 85", "address": 85, "facing": "forward"}, id="forward"
        ),
        pytest.param(
            (("CV19", 213),), {"consist": "Consist 85", "address": 85, "facing": "reverse"}, id="bit 7"
        ),
        pytest.param(
            (("CV19", 34), ("CV20", 140)),
            {"consist": "Consist 1234", "address": 1234, "facing": "forward", "position": 1},
            id="CV20 holds hundreds and marks the lead",
        ),
        pytest.param(
            (("CV19", 85), ("CV21", 1), ("CV22", 3)),
            {"consist": "Consist 85", "address": 85, "facing": "forward", "functions": "F0f F0r F1"},
            id="CV21 and CV22 are its functions",
        ),
    ],
)
def test_cv19_puts_an_engine_into_a_consist(
    pairs: tuple[tuple[str, int], ...], row: dict[str, AdoptedValue]
) -> None:
    assert _rows("Consists", pairs) == [{"loco": "A", **row}]


@pytest.mark.parametrize("value", [pytest.param(0, id="0"), pytest.param(128, id="128, bit 7 alone")])
def test_cv19_of_no_consist_makes_no_row(value: int) -> None:
    assert _rows("Consists", (("CV19", value),)) == []


def test_a_consist_that_is_typed_stays_and_cv19_that_differs_is_a_doubt() -> None:
    found = adopted(
        reading({"Loco": "loco", "CV19": "cv:19"}, ("A", 85), ("B", 10)),
        reading(
            {"Consist": "consist", "Address": "address", "Loco": "loco"}, ("X", 86, "A"), subject="Consists"
        ),
    )

    assert [row.values["address"] for row in found.rows["Consists"]] == [86, 10]
    assert [doubt.message for doubt in found.doubts] == ["CV19 says consist 85, and Consists says 86"]


TABLE = tuple((f"CV{cv}", 9 * (cv - 66)) for cv in range(67, 95))


def test_all_of_cv67_to_cv94_make_a_speed_table_that_the_engine_names() -> None:
    found = adopted(reading({"Loco": "loco"}, ("A",), pairs=TABLE))

    (row,) = found.rows["Speed tables"]
    assert row.values == {"label": "A", **{f"step{n}": 9 * n for n in range(1, 29)}}
    assert found.engines[0].values["speed_table"] == "A"
    assert "Extra values" not in found.rows


def test_part_of_a_speed_table_is_a_doubt() -> None:
    found = adopted(reading({"Loco": "loco"}, ("A",), pairs=TABLE[:-1]))

    assert "Speed tables" not in found.rows
    assert "speed_table" not in found.engines[0].values
    assert [doubt.message for doubt in found.doubts] == [
        "of the speed table in CV67 to CV94 the list has 27 of 28 values"
    ]


def test_other_cvs_are_extra_values_and_those_above_256_have_their_index() -> None:
    pairs = (("CV49", 1), ("CV31", 16), ("CV32", 0), ("CV257", 4), ("CV32", 1), ("CV257", 5))

    assert _rows("Extra values", pairs) == [
        {"loco": "A", "cv": 49, "value": 1},
        {"loco": "A", "cv": 257, "value": 4, "index_high": 16, "index_low": 0},
        {"loco": "A", "cv": 257, "value": 5, "index_high": 16, "index_low": 1},
    ]


def test_a_cv_above_256_without_its_index_is_a_doubt() -> None:
    found = adopted(reading({"Loco": "loco"}, ("A",), pairs=(("CV257", 4),)))

    assert [doubt.message for doubt in found.doubts] == [
        "CV257 = 4 has no index: the list does not say CV31 and CV32 for it"
    ]


def test_cv7_and_cv8_are_never_extra_values() -> None:
    found = adopted(reading({"Loco": "loco", "CV8": "cv:8"}, ("A", 13), ("B", 13)))

    assert "Extra values" not in found.rows
    assert [one.own for one in found.engines] == [{"CV8": 13}, {"CV8": 13}]
    assert [(doubt.engine, doubt.message) for doubt in found.doubts] == [
        ("A", "CV8 = 13 is the decoder's own manufacturer ID, which is read and never keyed in")
    ]


def test_cv16_is_the_number_of_a_lock_and_cv15_its_key() -> None:
    values, doubts = one_engine({"Loco": "loco", "CV15": "cv:15", "CV16": "cv:16"}, "A", 2, 2)

    assert values == {"loco": "A", "lock": 2}
    assert doubts == []


SETTINGS = {
    "direction": ("normal", "reversed"),
    "speed_steps": ("14", "28/128"),
    "dc_operation": ("off", "on"),
    "bidi": ("off", "on"),
    "speed_curve": ("3-point",),
}
HEADINGS = {
    "direction": "Direction",
    "speed_steps": "Speed steps",
    "dc_operation": "DC operation",
    "bidi": "BiDi",
    "speed_curve": "Speed curve",
    "vstart": "Vstart",
    "acceleration": "Acceleration",
    "deceleration": "Deceleration",
    "vhigh": "Vhigh",
    "vmid": "Vmid",
}
BYTES = st.integers(0, 255)
MOTOR = ("vstart", "acceleration", "deceleration", "vhigh", "vmid")
ADDRESSES = st.one_of(
    st.tuples(st.just("short"), st.integers(1, 127)), st.tuples(st.just("long"), st.integers(1, 10239))
)


def _roster(values: dict[str, AdoptedValue]) -> Roster:
    row = {
        HEADINGS.get(name, {"address_kind": "Address kind"}.get(name, name.title())): v
        for name, v in values.items()
    }
    return roster([row])


@given(
    address=ADDRESSES,
    settings=st.fixed_dictionaries({name: st.sampled_from(choices) for name, choices in SETTINGS.items()}),
    motor=st.fixed_dictionaries(dict.fromkeys(MOTOR, BYTES)),
)
def test_the_cvs_of_an_engine_settle_to_the_same_engine(
    address: tuple[str, int], settings: dict[str, str], motor: dict[str, int]
) -> None:
    kind, number = address
    engine: dict[str, AdoptedValue] = {
        "loco": "A",
        "address": number,
        "address_kind": kind,
        **settings,
        **motor,
    }
    made = _roster(engine)
    cvs = cvs_of(made.engines[0], made)
    pairs = tuple((f"CV{one.cv}", one.value) for one in cvs.values)

    values, doubts = one_engine({"Loco": "loco"}, "A", pairs=pairs)

    assert values == engine
    assert doubts == []


@pytest.mark.parametrize(
    ("row", "address", "kind"),
    [
        pytest.param(("5201", "3", ""), 5201, "long", id="a long one beside a short one"),
        pytest.param(("", "12", ""), 12, "short", id="a short one alone"),
        pytest.param(("5201", "3", 34), 5201, "long", id="CV29 says long"),
        pytest.param(("", "12 S", 2), 12, "short", id="CV29 says short"),
        pytest.param(("-", "-", ""), None, None, id="neither"),
    ],
)
def test_long_and_short_addresses_may_have_a_column_each(
    row: tuple[str | int, ...], address: int | None, kind: str | None
) -> None:
    columns = {"Loco": "loco", "Long addr": "address", "Short addr": "cv:1", "CV29": "cv:29"}
    values, doubts = one_engine(columns, "A", *row)

    assert (values.get("address"), values.get("address_kind")) == (address, kind)
    assert doubts == []


def test_a_short_address_that_is_none_is_a_doubt() -> None:
    _, doubts = one_engine({"Loco": "loco", "Kurze Adresse": "address"}, "A", 200)

    assert doubts == ["B2: '200' is no short address, as 'Kurze Adresse' says"]


@pytest.mark.parametrize(
    ("content", "value"),
    [
        pytest.param("34", 34, id="a number"),
        pytest.param(34.0, 34, id="a number of a spreadsheet"),
        pytest.param("034", 34, id="a zero before"),
        pytest.param("00100010", 34, id="eight bits"),
        pytest.param("0010 0010", 34, id="eight bits in two groups"),
        pytest.param("0x22", 34, id="hexadecimal with 0x"),
        pytest.param("22h", 34, id="hexadecimal with h"),
        pytest.param("34 (long)", 34, id="words in brackets"),
        pytest.param("34 (was)", None, id="words that make it doubtful"),
        pytest.param("34/2", None, id="two values"),
        pytest.param("3.5", None, id="a fraction"),
        pytest.param("-1", None, id="less than nothing"),
    ],
)
def test_a_value_of_a_cv_is_read_however_it_is_written(content: str | float, value: int | None) -> None:
    found = adopted(reading({"Loco": "loco", "CV49": "cv:49"}, ("A", content)))

    assert [row.values["value"] for row in found.rows.get("Extra values", ())] == ([value] if value else [])
    assert len(found.doubts) == (value is None)


@pytest.mark.parametrize(
    ("label", "name"),
    [
        pytest.param("3", "acceleration", id="a number alone"),
        pytest.param("CV 3", "acceleration", id="CV and its number"),
        pytest.param("CV3 (accel.)", "acceleration", id="with its name in brackets"),
        pytest.param("Vmax (CV5)", "vhigh", id="in brackets behind its name"),
        pytest.param("Owner", "owner", id="the heading of a column"),
    ],
)
def test_the_label_of_a_pair_names_a_cv_or_a_column(label: str, name: str) -> None:
    values, doubts = one_engine({"Loco": "loco"}, "A", pairs=((label, "12"),))

    assert str(values[name]) == "12"
    assert doubts == []


def test_the_label_of_a_pair_that_names_neither_is_an_own_column() -> None:
    found = adopted(reading({"Loco": "loco"}, ("A",), pairs=(("Bought at", "a show"),)))

    assert found.engines[0].own == {"Bought at": "a show"}


def test_cv19_of_a_consist_that_is_typed_takes_its_name() -> None:
    found = adopted(
        reading({"Loco": "loco", "CV19": "cv:19"}, ("A", 85), ("B", 85)),
        reading(
            {"Consist": "consist", "Address": "address", "Loco": "loco"},
            ("Coal", 85, "A"),
            subject="Consists",
        ),
    )

    assert [(row.values["loco"], row.values["consist"]) for row in found.rows["Consists"]] == [
        ("A", "Coal"),
        ("B", "Coal"),
    ]
    assert found.doubts == ()


def test_an_extra_value_that_is_typed_stays_and_a_cv_that_differs_is_a_doubt() -> None:
    found = adopted(
        reading({"Loco": "loco", "CV49": "cv:49", "CV50": "cv:50"}, ("A", 1, 3)),
        reading(
            {"Loco": "loco", "CV": "cv", "Value": "value"}, ("A", 49, 2), ("A", 50, 3), subject="Extra values"
        ),
    )

    assert [(row.values["cv"], row.values["value"]) for row in found.rows["Extra values"]] == [
        (49, 2),
        (50, 3),
    ]
    assert [doubt.message for doubt in found.doubts] == ["CV49 = 1 here, and Extra values says 2"]


@pytest.mark.parametrize(
    ("other", "doubts"),
    [
        pytest.param(TABLE, [], id="the same values"),
        pytest.param(
            (("CV67", 8), *TABLE[1:]), ["CV67 to CV94 differ from the speed table 'slow'"], id="others"
        ),
    ],
)
def test_two_engines_that_name_one_speed_table_share_it(
    other: tuple[tuple[str, int], ...], doubts: list[str]
) -> None:
    columns = {"Loco": "loco", "Table": "speed_table"}
    found = adopted(
        reading(columns, ("A", "slow"), pairs=TABLE), reading(columns, ("B", "slow"), pairs=other, sheet="B")
    )

    assert [row.values["label"] for row in found.rows["Speed tables"]] == ["slow"]
    assert [doubt.message for doubt in found.doubts] == doubts
