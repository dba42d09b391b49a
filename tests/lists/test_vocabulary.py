"""What headings stand for (from common usage, no source), and which texts are no headings."""

import pytest

from rosterkit.lists.reading import ENGINES
from rosterkit.lists.vocabulary import (
    fields_of,
    folded_heading,
    is_heading_word,
    is_total_word,
    subjects_of,
    without_unit,
)
from rosterkit.roster.schema import schema_file, sheet


@pytest.mark.parametrize(
    ("heading", "fields"),
    [
        pytest.param("Adr.", ("address",), id="an abbreviation with its full stop"),
        pytest.param("LEN_IN", ("length",), id="a unit behind an underscore"),
        pytest.param("roadNumber", ("number",), id="words that a capital parts"),
        pytest.param("Engine.Address", ("address",), id="words that a full stop parts"),
        pytest.param("BAHN_KZ", ("railway",), id="a code of a data base"),
        pytest.param("Kdo", ("owner", "own"), id="who, in Czech"),
        pytest.param("Kjører analogt?", ("dc_operation",), id="a question in Norwegian"),
        pytest.param("Adr. de la loco", ("address",), id="abbreviated, in French"),
        pytest.param("Sat on it", (), id="words that are nothing here"),
        pytest.param("Sign_in", (), id="an underscore before what may be a word"),
        pytest.param("DCC adress", ("address",), id="a common misspelling"),
        pytest.param("Addresss:", ("address",), id="a slip of the pen"),
        pytest.param("Onwer", ("owner",), id="two letters that changed places"),
        pytest.param("LüP (mm)", ("length",), id="a unit in brackets"),
        pytest.param("Length, in.", ("length",), id="a unit after a comma"),
        pytest.param("EIGENTUEMER", ("owner",), id="an umlaut as two letters, in capitals"),
        pytest.param("Propriétaire", ("owner",), id="French"),
        pytest.param("Rijstappen", ("speed_steps",), id="Dutch"),
        pytest.param("Bemærkninger", ("notes",), id="Danish"),
        pytest.param("Körriktning", ("direction",), id="Swedish"),
        pytest.param("Kjøreretning", ("direction",), id="Norwegian"),
        pytest.param("Osservazioni", ("notes",), id="Italian"),
        pytest.param("Descodificador", ("decoder",), id="Spanish"),
        pytest.param("Poznámka", ("notes",), id="Czech"),
        pytest.param("Właściciel", ("owner",), id="Polish"),
        pytest.param("No.", ("number", "address", "engine", "loco"), id="a word that says several things"),
        pytest.param("Module", (), id="a word that differs by a letter from a known one"),
        pytest.param("Notes / comments", ("notes",), id="two words for the same"),
        pytest.param("Railway / owner", (), id="two words for two things"),
        pytest.param("DCC Loco #", ("address",), id="a number that the heading calls one of DCC"),
        pytest.param("Road DCC", (), id="a railway and DCC, which say nothing together"),
        pytest.param("3. Address", ("address",), id="a question with its number"),
        pytest.param("Adresse / Address", ("address",), id="two languages"),
        pytest.param("DCC Steps", ("speed_steps",), id="a known word beside one that says nothing"),
        pytest.param("What is the DCC address of the loco?", ("address",), id="a question of a form"),
        pytest.param("Which decoder did you like best?", (), id="a question of something else"),
        pytest.param("cv29=", ("cv:29",), id="a CV"),
        pytest.param("horn volume (CV 64)", ("cv:64",), id="a CV in brackets"),
        pytest.param("CV 3", ("cv:3",), id="a CV with a column of its own"),
        pytest.param("CV17/18", ("cv:17/18",), id="both halves of a long address"),
        pytest.param("CV3/CV4", ("own",), id="two CVs in one cell"),
        pytest.param("CV67-94", ("own",), id="a range of CVs"),
        pytest.param("CV 2000", ("own",), id="a CV that no decoder has"),
        pytest.param("F12", ("own",), id="a function key"),
        pytest.param("Price (EUR)", ("own",), id="a price"),
        pytest.param("Old addr.", ("own",), id="an address that is none now"),
        pytest.param("Katalog-Nr.", ("own",), id="a catalogue number"),
        pytest.param("Weichen Adresse", ("own",), id="an address of an accessory"),
        pytest.param("Güterzuglok", (), id="a value"),
        pytest.param("5201", (), id="a number"),
        pytest.param("address = road number", (), id="a note that speaks of an address"),
    ],
)
def test_a_heading_stands_for(heading: str, fields: tuple[str, ...]) -> None:
    assert fields_of(heading) == fields


@pytest.mark.parametrize(
    ("heading", "bare", "unit"),
    [
        pytest.param("LüP (mm)", "LüP", "mm", id="in brackets"),
        pytest.param("Lgth [in]", "Lgth", "in", id="in square brackets"),
        pytest.param("Length, in.", "Length", "in", id="after a comma"),
        pytest.param("Stall A", "Stall", "A", id="after a blank"),
        pytest.param("Address", "Address", "", id="none"),
        pytest.param("(old)", "(old)", "", id="nothing but brackets"),
    ],
)
def test_a_unit_is_taken_off_a_heading(heading: str, bare: str, unit: str) -> None:
    assert without_unit(heading) == (bare, unit)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("Owner", True, id="a column of engines"),
        pytest.param("Manufacturer ID", True, id="a column of another sheet of ours"),
        pytest.param("Weiche", True, id="a column of turnouts"),
        pytest.param("Preis", True, id="a column that is the member's own"),
        pytest.param("NE 5201 GP / sound", False, id="an engine that mentions its sound"),
        pytest.param("17", False, id="a number, also where a speed table has it as a heading"),
        pytest.param("", False, id="nothing"),
    ],
)
def test_a_text_is_or_is_not_a_heading(text: str, *, expected: bool) -> None:
    assert is_heading_word(text) is expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("Total", True, id="English"),
        pytest.param("Zwischensumme:", True, id="German"),
        pytest.param("Sous-total", True, id="French"),
        pytest.param("Total engines M01", True, id="with what it totals"),
        pytest.param("Anzahl Loks", True, id="a count"),
        pytest.param("Totalitarian 3", False, id="a word that begins alike"),
        pytest.param("NE 5201", False, id="an engine"),
    ],
)
def test_a_text_is_or_is_not_a_total(text: str, *, expected: bool) -> None:
    assert is_total_word(text) is expected


def test_a_turnout_speaks_for_accessories_and_an_engine_for_nothing_else() -> None:
    assert subjects_of("Weiche") == ("Accessories",)
    assert subjects_of("Loco") == ()


def test_every_field_of_the_vocabulary_is_a_column_of_engines_or_a_word_of_its_own() -> None:
    document = schema_file("lists/headings.json")
    ours = {column.name for column in sheet(ENGINES).columns if not column.computed}
    words = {name for fields in document["ambiguous"].values() for name in fields} | set(document["fields"])

    assert words <= ours | {"engine", "cv", "value", "own"}
    assert ours <= words


def test_the_vocabulary_says_where_it_is_from() -> None:
    assert "common usage (no source)" in schema_file("lists/headings.json")["description"]


def test_misspelt_headings_are_known_after_any_number_of_other_words() -> None:
    assert not any(is_heading_word(f"qwert{'y' * number}") for number in range(300))
    assert fields_of("Decodre") == ("decoder",)


def test_a_heading_is_folded() -> None:
    assert folded_heading("  Adr.-Nr: Größe ŁÓDŹ #") == "adr nr grosse lodz #"
