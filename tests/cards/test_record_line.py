"""The command that records what was read back: each shell passes on just what stands in the workbook."""

import shlex
import subprocess
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cards.card import CardOptions, MeetPhase
from rosterkit.cards.record_line import Shell, line_starts, quoted, shell_words
from rosterkit.cards.write_modes import WriteMode
from rosterkit.printable import printable

POSIX, POWERSHELL, CMD = Shell


@pytest.mark.parametrize(
    ("text", "posix", "powershell", "cmd"),
    [
        pytest.param("JV 2102", '"JV 2102"', '"JV 2102"', '"JV 2102"', id="letters, digits and blanks"),
        pytest.param("O'Neil", '"O\'Neil"', '"O\'Neil"', '"O\'Neil"', id="an apostrophe"),
        pytest.param("a & b | c > d", *['"a & b | c > d"'] * 3, id="signs that act outside quotes only"),
        pytest.param("$HOME", "'$HOME'", "'$HOME'", '"$HOME"', id="a dollar sign"),
        pytest.param("a`b", "'a`b'", "'a`b'", '"a`b"', id="a backquote"),
        pytest.param("it's $5", "'it'\\''s $5'", "'it''s $5'", '"it\'s $5"', id="both"),
        pytest.param("stop!", "'stop!'", '"stop!"', '"stop!"', id="an exclamation mark"),
        pytest.param('3" gauge', "'3\" gauge'", None, None, id="a double quote"),
        pytest.param("\u201cBig\u201d", '"\u201cBig\u201d"', "'\u201cBig\u201d'", '"\u201cBig\u201d"',
                     id="curly double quotes, which PowerShell takes for plain ones"),
        pytest.param("$ O\u2019N", "'$ O\u2019N'", "'$ O\u2019\u2019N'", '"$ O\u2019N"',
                     id="a curly single quote within single quotes"),
        pytest.param("100 %", '"100 %"', '"100 %"', '"100 %"', id="one percent sign"),
        pytest.param("%PATH%", '"%PATH%"', '"%PATH%"', None, id="what cmd takes for a variable"),
        pytest.param("C:\\a\\b.xlsx", *['"C:\\a\\b.xlsx"'] * 3, id="single backslashes"),
        pytest.param("\\\\host\\a", "'\\\\host\\a'", '"\\\\host\\a"', '"\\\\host\\a"', id="two backslashes"),
        pytest.param("end\\", "'end\\'", None, None, id="a backslash at the end"),
        pytest.param("a\nb", None, None, None, id="a line end"),
        pytest.param("a\u202eb", None, None, None, id="a sign that turns the direction of writing"),
        pytest.param("a\udc80", None, None, None, id="a file's name that is no text"),
    ],
)  # fmt: skip
def test_a_text_is_quoted_as_each_shell_reads_it(
    text: str, posix: str | None, powershell: str | None, cmd: str | None
) -> None:
    assert [quoted(text, shell) for shell in (POSIX, POWERSHELL, CMD)] == [posix, powershell, cmd]


@given(st.text(st.characters(exclude_categories=["Cs"]), min_size=1))
def test_what_is_quoted_for_a_posix_shell_is_one_word_that_says_the_same(text: str) -> None:
    word = quoted(text, POSIX)

    assert (word is None) == (printable(text) != text)
    if word is not None:
        assert shlex.split(word) == [text]
        assert word[0] == "'" or not set(word[1:-1]) & set('"$`!')


AWKWARD = ["$HOME", "a`date`b", "it's $5", "it''s", 'a"b', "\\\\x", "end\\", "*", "~", "a;b", "-x", "!!"]


def test_a_real_shell_passes_on_what_was_quoted(tmp_path: Path) -> None:
    script = "".join(f"printf '%s\\n' {quoted(text, POSIX)}\n" for text in AWKWARD)

    for shell in ("sh", "bash"):
        done = subprocess.run([shell, "-c", script], cwd=tmp_path, capture_output=True, text=True, check=True)
        assert done.stdout.splitlines() == AWKWARD


def test_shells_that_read_a_line_alike_share_it() -> None:
    alike = line_starts("club.xlsx", "A 1", CardOptions())
    apart = line_starts("club.xlsx", "$1", CardOptions())
    one = line_starts("club.xlsx", '3"', CardOptions())

    assert alike == {'rosterkit cards "club.xlsx" --loco "A 1"': [POSIX, POWERSHELL, CMD]}
    assert apart == {
        "rosterkit cards \"club.xlsx\" --loco '$1'": [POSIX, POWERSHELL],
        'rosterkit cards "club.xlsx" --loco "$1"': [CMD],
    }
    assert one == {'rosterkit cards "club.xlsx" --loco \'3"\'': [POSIX]}


def test_what_is_left_is_printed_for_the_same_mode_and_side_of_the_meet() -> None:
    options = CardOptions(mode=WriteMode.PAGED, phase=MeetPhase.AFTER, changes=True, read_out=True)

    assert list(line_starts("c.xlsx", "A", options)) == [
        'rosterkit cards "c.xlsx" --loco "A" --mode paged --meet after'
    ]


def test_shells_are_named_in_a_sentence() -> None:
    assert shell_words([CMD]) == "cmd"
    assert shell_words([POSIX, POWERSHELL, CMD]) == "a POSIX shell, PowerShell or cmd"
