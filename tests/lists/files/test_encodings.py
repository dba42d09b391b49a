"""In which encoding a text is: by its mark, by its bytes, or by a guess."""

import csv
import io
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rosterkit.lists.files.code_pages import guessed
from tests.lists.files.reading import read, rows

GERMAN = "Lok;Länge über Puffer\nGüterzuglok;groß\nRangierlok;fährt gut\n"


@pytest.mark.parametrize(
    ("encoding", "mark"),
    [
        pytest.param("utf-8", b"", id="UTF-8"),
        pytest.param("utf-8", b"\xef\xbb\xbf", id="UTF-8 with its mark"),
        pytest.param("utf-16-le", b"\xff\xfe", id="UTF-16, low bytes first"),
        pytest.param("utf-16-be", b"\xfe\xff", id="UTF-16, high bytes first"),
        pytest.param("utf-16-le", b"", id="UTF-16 without a mark, low bytes first"),
        pytest.param("utf-16-be", b"", id="UTF-16 without a mark, high bytes first"),
        pytest.param("utf-32-le", b"\xff\xfe\x00\x00", id="UTF-32"),
        pytest.param("cp1252", b"", id="windows-1252"),
        pytest.param("cp850", b"", id="IBM850"),
        pytest.param("mac_roman", b"", id="macintosh"),
    ],
)
def test_a_text_in(encoding: str, mark: bytes, tmp_path: Path) -> None:
    expected = [line.split(";") for line in GERMAN.splitlines()]

    assert rows(tmp_path, mark + GERMAN.encode(encoding)) == expected


@pytest.mark.parametrize(
    ("text", "codec", "page"),
    [
        pytest.param("Prijs;€ 189,95;€ 12", "cp1252", "windows-1252", id="the euro alone"),
        pytest.param("Länge ü. P.", "cp1252", "windows-1252", id="a letter that is a word cut short"),
        pytest.param("Straße, Größe, Öl, Übergang", "cp1252", "windows-1252", id="German"),
        pytest.param("Vitesse réglée à l'arrêt, ça dépend où", "cp1252", "windows-1252", id="French"),
        pytest.param("Rød lokomotiv på færgen, gør også", "cp1252", "windows-1252", id="Danish"),
        pytest.param("Número de vía, señal, así", "cp1252", "windows-1252", id="Spanish"),
        pytest.param("Höjd på vagn, kör fort", "cp1252", "windows-1252", id="Swedish"),
        pytest.param(
            "7½″ → 7½ in, 20 °C, €15 – “red”".replace("″ → 7½", ""), "cp1252", "windows-1252", id="signs"
        ),
        pytest.param(
            "Číslo lokomotivy, řada, žlutá, modrý, přívěs, dvůr", "cp1250", "windows-1250", id="Czech"
        ),
        pytest.param("Elektrowóz żółty, źródło, część, łódź, ćma", "cp1250", "windows-1250", id="Polish"),
        pytest.param("Mozdony szürke, vörös, fűtő, hűtő, őrház", "cp1250", "windows-1250", id="Hungarian"),
        pytest.param("Größe, Länge, fährt, überholt", "cp850", "IBM850", id="German of an old program"),
        pytest.param(
            "Größe, Länge, fährt, überholt", "mac_roman", "macintosh", id="German of an old Macintosh"
        ),
        pytest.param("Тепловоз, адрес, скорость, Номер", "cp1251", "windows-1251", id="Russian"),
    ],
)
def test_the_code_page_is_guessed_by_the_letters(text: str, codec: str, page: str) -> None:
    guess = guessed(text.encode(codec))

    assert (guess.text, guess.page) == (text, page)


@given(st.binary(min_size=1, max_size=200))
def test_a_guess_loses_no_byte(raw: bytes) -> None:
    assert len(guessed(raw).text) == len(raw)


TEXTS = st.text(
    st.characters(
        codec="utf-8", exclude_categories=("Cc", "Cs", "Zs", "Zl", "Zp", "Cf"), exclude_characters='="'
    )
    | st.sampled_from(" ,;\t|'\n"),
    max_size=12,
).map(str.strip)
TABLES = st.integers(2, 5).flatmap(
    lambda width: st.lists(
        st.lists(
            TEXTS | st.sampled_from(["007", "NA", "4E2", "1-2", "TRUE", 'say "hi"']),
            min_size=width,
            max_size=width,
        ).filter(any),
        min_size=3,
        max_size=8,
    )
)


def written(table: list[list[str]], sign: str, end: str) -> str:
    """The table by the csv module, every cell quoted: then there is nothing to guess."""
    target = io.StringIO(newline="")
    csv.writer(target, delimiter=sign, quoting=csv.QUOTE_ALL, lineterminator=end).writerows(table)
    return target.getvalue()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    TABLES,
    st.sampled_from(",;\t|"),
    st.sampled_from(["\r\n", "\n"]),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-be-mark"]),
)
def test_any_table_of_texts_reads_back(
    tmp_path: Path, table: list[list[str]], sign: str, end: str, encoding: str
) -> None:
    text = written(table, sign, end)
    raw = b"\xfe\xff" + text.encode("utf-16-be") if encoding == "utf-16-be-mark" else text.encode(encoding)

    (sheet,) = read(tmp_path, raw).sheets

    expected = {
        (row, column): cell
        for row, cells in enumerate(table, 1)
        for column, cell in enumerate(cells, 1)
        if cell
    }
    assert {at: cell.text for at, cell in sheet.cells.items()} == expected
