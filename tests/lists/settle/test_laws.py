"""What holds of any cell and any table: no value that the schema refuses, nothing lost, never an error."""

from hypothesis import example, given
from hypothesis import strategies as st

from rosterkit.lists.plain import Place
from rosterkit.lists.reading import ENGINES, OWN
from rosterkit.lists.settle.addresses import KINDS, address_said
from rosterkit.lists.settle.cells import cell_said
from rosterkit.lists.settle.labels import LONGEST_LABEL, label_parts, made_unique
from rosterkit.lists.settle.measures import measure
from rosterkit.lists.settle.note_cvs import cvs_in_note
from rosterkit.lists.settle.typed_cvs import TypedCv
from rosterkit.roster.schema import Column, folded, sheet
from rosterkit.roster.validation import refusal
from rosterkit.standards.addresses import LONG_ADDRESSES
from tests.lists.settle.lists import adopted, cell, reading

PIECES = st.sampled_from(
    ("\n", '"', "L", "short", "kurz", "4-digit", "not", "or", "?", "#", "(", ")", "/", "-")
)
SIGNS = st.sampled_from(
    (",", ".", ":", ";", "=", "CV", "cv", "mm", "in", "1/4", "¼", "x", "ja", "gedreht", "¹")
)
WORDS = st.sampled_from(("nein", "NE", "GP", "DCC", "to", "auf", "0x", "h", "was", "see", "free"))
NUMBERS = st.integers(0, 11000).map(str) | st.sampled_from(["007", "0045", "182,5", "2.3.19", "00000110"])
TEXTS = st.lists(PIECES | SIGNS | WORDS | NUMBERS, min_size=1, max_size=6).flatmap(
    lambda parts: st.sampled_from(["", " "]).map(lambda between: between.join(parts))
) | st.text(max_size=12)
ANY_TEXT = TEXTS.map(str.strip).filter(bool)
COLUMNS = st.sampled_from(sheet(ENGINES).filled_by_members)
UNITS = st.tuples(st.sampled_from([None, "mm", "cm", "in"]), st.sampled_from([None, "mm", "in"]))


@given(column=COLUMNS, text=ANY_TEXT, heading=TEXTS, units=UNITS)
def test_a_cell_gives_a_value_that_the_schema_takes_or_keeps_its_text(
    column: Column, text: str, heading: str, units: tuple[str | None, str | None]
) -> None:
    said = cell_said(column, cell(text), heading, units)

    assert said.value is None or refusal(column, said.value) is None
    assert said.value is not None or said.as_typed == text


@given(text=ANY_TEXT)
@example("45 L (not short!)")
@example("CV17/18 = 212/120")
def test_an_address_is_a_number_of_its_text_and_one_that_its_kind_can_have(text: str) -> None:
    said = address_said(text)

    assert said.value is None or (said.value in LONG_ADDRESSES and str(said.value) in text)
    assert said.value is None or said.kind is None or said.value in KINDS[said.kind]
    assert said.value is not None or said.as_typed == text


@given(text=ANY_TEXT)
def test_a_note_sets_only_bytes(text: str) -> None:
    found = [one for one in cvs_in_note(text, Place("List", 1, 1)) if isinstance(one, TypedCv)]

    assert all(1 <= one.cv <= 1024 and 0 <= one.value <= 255 for one in found)
    assert all(str(one.cv) in text and str(one.value) in text for one in found)


@given(text=ANY_TEXT)
def test_a_label_taken_apart_says_what_it_said(text: str) -> None:
    parts = label_parts(text, set())

    assert parts is None or " ".join(text.split()).startswith(parts.loco)
    assert parts is None or (
        parts.loco == f"{parts.railway} {parts.number}" and len(parts.loco) <= LONGEST_LABEL
    )
    assert parts is None or parts.model is None or parts.model in " ".join(text.split())


@given(whole=st.integers(0, 400), over=st.integers(1, 63), under=st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_a_fraction_of_an_inch_is_exact(whole: int, over: int, under: int) -> None:
    found = measure(f'{whole} {over}/{under}"')

    assert (
        found is None
        if over >= under
        else (found is not None and found.number * under == whole * under + over)
    )


@given(labels=st.lists(st.text("ab ", min_size=1, max_size=LONGEST_LABEL).filter(str.strip), max_size=12))
def test_labels_made_unique_are_each_only_once_and_short_enough(labels: list[str]) -> None:
    taken: set[str] = set()
    for label in labels:
        unique = made_unique(label, taken)
        assert folded(unique) not in taken
        assert len(unique) <= LONGEST_LABEL
        taken.add(folded(unique))


COLUMNS_OF_ENGINES = (
    "loco",
    "engine",
    "railway",
    "number",
    "model",
    "owner",
    "address",
    "address_kind",
    "length",
)
SETTINGS = (
    "direction",
    "decoder",
    "notes",
    "at_meet",
    "checked_on",
    "vstart",
    "cv",
    "value",
    "own",
    "nothing",
)
CVS = ("cv:1", "cv:17/18", "cv:29", "cv:19", "cv:49", "cv:257")
READ_AS = st.sampled_from((*COLUMNS_OF_ENGINES, *SETTINGS, *CVS))


@given(
    data=st.data(), read_as=st.lists(READ_AS, min_size=1, max_size=6, unique=True), count=st.integers(1, 4)
)
def test_any_table_of_engines_settles(data: st.DataObject, read_as: list[str], count: int) -> None:
    rows = [[data.draw(st.just("") | ANY_TEXT) for _ in read_as] for _ in range(count)]
    found = adopted(reading({f"{name}!": name for name in read_as}, *rows))

    labels = [folded(str(one.values["loco"])) for one in found.engines]
    assert len(labels) == len(set(labels))
    for one in found.engines:
        assert all(refusal(sheet(ENGINES)[name], value) is None for name, value in one.values.items())
        assert one.values.keys() >= one.places.keys() - {"loco"}
    if OWN in read_as:
        kept = " ".join(str(value) for one in found.engines for value in one.own.values())
        keys = " ".join(one.came_from for one in found.engines)
        column = read_as.index(OWN)
        for number, row in enumerate(rows, 2):
            assert f"List!{number}" not in keys.split(", ") or row[column] in kept
    for doubt in found.doubts:
        assert doubt.fix.endswith(".")
        assert not doubt.message.endswith(".")
