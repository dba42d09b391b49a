"""The commands: their help, what goes to which stream, and their exit statuses."""

import csv
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from openpyxl import load_workbook
from typer.testing import CliRunner

from rosterkit import __version__
from rosterkit.checks import CHECKS
from rosterkit.cli.app import app
from rosterkit.roster.schema import schema_file
from tests.command_line import Ran, run, started, written
from tests.rosters import workbook

COMMANDS = (
    "new", "check", "fill", "cards", "speed", "decode", "free", "meet", "adopt", "send", "merge", "compare",
    "rules",
)  # fmt: skip
CLEAN = [{"Loco": "A", "Address": 12, "Owner": "M01"}, {"Loco": "B", "Address": 1000}]
WARNING = [{"Loco": "A", "Address": 3}]
ERROR = [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 12}]


@pytest.fixture
def clean(tmp_path: Path) -> Path:
    return written(tmp_path / "clean.xlsx", workbook(CLEAN))


@pytest.fixture
def warning(tmp_path: Path) -> Path:
    return written(tmp_path / "warning.xlsx", workbook(WARNING))


@pytest.fixture
def error(tmp_path: Path) -> Path:
    return written(tmp_path / "error.xlsx", workbook(ERROR))


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("asked", ["--help", "-h"])
def test_every_command_helps(command: str, asked: str) -> None:
    result = CliRunner().invoke(app, [command, asked], prog_name="rosterkit")

    assert result.exit_code == 0
    assert result.stdout.startswith(f"Usage: rosterkit {command} ")
    assert result.stderr == ""


def test_the_help_lists_every_command() -> None:
    result = CliRunner().invoke(app, ["--help"])
    listed = re.findall(r"^  (\w+)", result.stdout.split("Commands:\n")[1], re.MULTILINE)

    assert (result.exit_code, listed) == (0, list(COMMANDS))
    assert "..." not in result.stdout.split("Commands:\n")[1]


def test_the_version_is_printed() -> None:
    assert run("--version") == Ran(status=0, out=f"rosterkit {__version__}\n", err="")


def test_without_a_command_the_help_is_shown() -> None:
    ran = run()

    assert ran.status == 2
    assert "Commands:" in ran.out + ran.err


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_a_command_has_words_of_the_trade_only(command: str) -> None:
    help_text = run(command, "--help").out

    assert re.findall(r"<[a-z]|list\[|\bstr\b|\bint\b|\bpath\b|<=|\{", help_text) == []


@pytest.mark.parametrize(
    ("words", "usage"),
    [
        pytest.param(["check"], "rosterkit check WORKBOOK... [OPTIONS]", id="several workbooks"),
        pytest.param(["decode"], "rosterkit decode CV=VALUE... [OPTIONS]", id="CVs"),
        pytest.param(["compare"], "rosterkit compare OLD NEW [OPTIONS]", id="two workbooks"),
        pytest.param(["rules"], "rosterkit rules [SLUG] [OPTIONS]", id="a word that may be left out"),
        pytest.param(["send"], "rosterkit send MASTER -o COPY [OPTIONS]", id="an option that must be given"),
    ],
)
def test_the_help_of_a_command_begins_with(words: list[str], usage: str) -> None:
    assert run(*words, "--help").out.splitlines()[0] == f"Usage: {usage}"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        pytest.param(
            ["chekc"],
            "there is no command 'chekc'. Write 'rosterkit check', or see 'rosterkit --help'.",
            id="a command misspelt",
        ),
        pytest.param(["xyz"], "there is no command 'xyz'. See 'rosterkit --help'.", id="no such command"),
        pytest.param(
            ["--meet", "check", "a.xlsx"],
            "'rosterkit' has no option '--meet'. Write it after the command, as in "
            "'rosterkit check WORKBOOK --strict'.",
            id="an option before the command",
        ),
        pytest.param(
            ["--foo"], "'rosterkit' has no option '--foo'. See 'rosterkit --help'.", id="no option at all"
        ),
        pytest.param(
            ["check"],
            "'rosterkit check' needs WORKBOOK...: one workbook or more. Write 'rosterkit check WORKBOOK...'.",
            id="no workbook",
        ),
        pytest.param(
            ["compare", "a.xlsx"],
            "'rosterkit compare' needs NEW: the workbook as it is now. Write 'rosterkit compare OLD NEW'.",
            id="one workbook of two",
        ),
        pytest.param(
            ["decode"],
            "'rosterkit decode' needs CV=VALUE...: CVs, such as 29=34. Write 'rosterkit decode CV=VALUE...'.",
            id="no CV",
        ),
        pytest.param(
            ["send", "a.xlsx"],
            "'rosterkit send' needs -o COPY: where the copy is made. Write 'rosterkit send MASTER -o COPY'.",
            id="an option that must be given is not",
        ),
        pytest.param(
            ["fill", "a.xlsx", "b.xlsx"],
            "'rosterkit fill' has no use for 'b.xlsx'. Write 'rosterkit fill WORKBOOK'.",
            id="a word too many",
        ),
        pytest.param(
            ["check", "a.xlsx", "--format", "xml"],
            "--format cannot be 'xml'. Choose one of text, json, csv, annotations.",
            id="no such format",
        ),
        pytest.param(
            ["free", "a.xlsx", "--kind", "medium"],
            "--kind cannot be 'medium'. Choose one of short, long, consist, accessory.",
            id="no such kind",
        ),
        pytest.param(
            ["free", "a.xlsx", "--count", "0"],
            "--count cannot be '0'. Give a whole number from 1 to 10239.",
            id="a number out of bounds",
        ),
        pytest.param(
            ["free", "a.xlsx", "--count", "few"],
            "--count cannot be 'few'. Give a whole number from 1 to 10239.",
            id="no number",
        ),
        pytest.param(
            ["free", "a.xlsx", "--near"], "--near has no value. Write '--near NUMBER'.", id="no value"
        ),
        pytest.param(
            ["check", "a.xlsx", "--format"],
            "--format has no value. Choose one of text, json, csv, annotations.",
            id="no choice",
        ),
        pytest.param(
            ["check", "a.xlsx", "--meet=yes"],
            "--meet takes no value. Write --meet alone.",
            id="a value too many",
        ),
        pytest.param(
            ["fill", "a.xlsx", "--speed"],
            "'rosterkit fill' has no option '--speed'. See 'rosterkit fill --help'.",
            id="no such option",
        ),
        pytest.param(
            ["fill", "a.xlsx", "--strit"],
            "'rosterkit fill' has no option '--strit'. Write --strict, or see 'rosterkit fill --help'.",
            id="an option misspelt",
        ),
        pytest.param(
            ["decode", "29"],
            "'29' is not a CV and its value. Write CV=VALUE, such as 29=34.",
            id="a CV without a value",
        ),
    ],
)
def test_a_command_that_is_typed_wrongly_is_explained_in_one_sentence(words: list[str], said: str) -> None:
    assert run(*words) == Ran(status=2, out="", err=f"rosterkit: {said}\n")


@pytest.mark.parametrize(
    ("engines", "options", "status"),
    [
        pytest.param(CLEAN, [], 0, id="nothing found"),
        pytest.param(CLEAN, ["--strict"], 0, id="nothing found, strictly"),
        pytest.param(WARNING, [], 0, id="a warning"),
        pytest.param(WARNING, ["--strict"], 1, id="a warning, strictly"),
        pytest.param(WARNING, ["--meet"], 0, id="a warning of an engine that stays at home"),
        pytest.param(ERROR, [], 1, id="an error"),
        pytest.param(ERROR, ["--strict"], 1, id="an error, strictly"),
        pytest.param(ERROR, ["--meet"], 0, id="an error of engines that stay at home"),
        pytest.param(ERROR, ["--format", "json"], 1, id="an error as JSON"),
        pytest.param(ERROR, ["--format", "csv"], 1, id="an error as CSV"),
        pytest.param(ERROR, ["--format", "annotations"], 1, id="an error as annotations"),
    ],
)
def test_check_ends_with(
    tmp_path: Path, engines: list[dict[str, object]], options: list[str], status: int
) -> None:
    path = written(tmp_path / "club.xlsx", workbook(engines))

    ran = run("check", path, *options)

    assert (ran.status, ran.err) == (status, "")


def test_check_prints_findings_and_sums(error: Path) -> None:
    sheet = f"{error}!Locomotives"

    assert run("check", error).out == (
        f"{sheet}!B2 error address-shared: [A, Address] short 12 is also the address of 'B' (B3)\n"
        "    fix: Give 'A' or 'B' another address.\n"
        f"{sheet}!B3 error address-shared: [B, Address] short 12 is also the address of 'A' (B2)\n"
        "    fix: Give 'B' or 'A' another address.\n"
        "2 engines: 2 errors, 0 warnings, 0 notes\n"
    )


def test_check_prints_json_and_nothing_else(error: Path, clean: Path) -> None:
    document = json.loads(run("check", error, clean, "--format", "json").out)

    Draft202012Validator(schema_file("outputs/check.json")).validate(document)
    assert document["workbooks"] == [
        {"path": str(error), "locomotives": 2},
        {"path": str(clean), "locomotives": 2},
    ]
    assert document["counts"] == {"error": 2, "warning": 0, "note": 0}


def test_cards_for_a_meet_print_nothing_where_no_engine_has_another_address_there(clean: Path) -> None:
    assert run("cards", clean, "--meet", "before") == Ran(
        status=0, out="", err="no engine has a Meet address of its own: there is nothing to key in\n"
    )


def test_check_looks_at_each_workbook_on_its_own_and_for_a_meet_at_all_together(tmp_path: Path) -> None:
    guest = {
        "Loco": "A",
        "Address": 500,
        "At meet": "yes",
        "Owner": "M01",
        "Checked by": "M02",
        "Checked on": "2026-04-11",
    }
    paths = [written(tmp_path / name, workbook([guest])) for name in ("a.xlsx", "b.xlsx")]

    alone, together = run("check", *paths), run("check", "--meet", *paths)

    assert (alone.status, alone.out) == (0, "2 engines in 2 workbooks: 0 errors, 0 warnings, 0 notes\n")
    assert (together.status, together.out.count("address-shared")) == (1, 2)


def test_a_workbook_that_is_named_twice_does_not_clash_with_itself(tmp_path: Path) -> None:
    path = written(tmp_path / "a.xlsx", workbook([{"Loco": "A", "Address": 500, "At meet": "yes"}]))

    ran = run("check", "--meet", path, tmp_path / "." / "a.xlsx")

    assert ran.out.splitlines()[-1] == "1 engine: 0 errors, 3 warnings, 0 notes"


def test_check_writes_nothing(error: Path) -> None:
    before = error.read_bytes()

    run("check", error)

    assert (error.read_bytes(), [path.name for path in error.parent.iterdir()]) == (before, ["error.xlsx"])


def test_fill_prints_the_sums_and_says_on_stderr_what_it_wrote(error: Path) -> None:
    kept = error.with_name("error.earlier.xlsx")

    assert run("fill", error) == Ran(
        status=1,
        out="2 engines: 2 errors, 0 warnings, 0 notes\n",
        err=f"filled {error}; the earlier file is {kept}\n",
    )


def test_fill_says_so_where_nothing_had_to_be_written(clean: Path) -> None:
    run("fill", clean)

    assert run("fill", clean) == Ran(
        status=0,
        out="2 engines: 0 errors, 0 warnings, 0 notes\n",
        err=f"{clean} is filled already; nothing was written\n",
    )


def test_fill_writes_a_copy_also_of_a_workbook_that_is_filled_already(clean: Path) -> None:
    run("fill", clean)
    copy = clean.with_name("copy.xlsx")

    ran = run("fill", clean, "-o", copy)

    assert (ran.status, ran.err) == (0, f"filled {copy}\n")
    assert copy.is_file()


def test_fill_can_be_strict(warning: Path) -> None:
    assert (run("fill", warning).status, run("fill", warning, "--strict").status) == (0, 1)


def test_a_filled_workbook_has_the_findings_it_had_before(error: Path) -> None:
    before = run("check", error).out

    run("fill", error)

    assert run("check", error).out == before


def test_cards_are_printed_for_all_or_for_some(clean: Path) -> None:
    every, some = run("cards", clean), run("cards", clean, "--loco", "b", "--loco", "A")
    one = run("cards", clean, "--loco", "b")

    assert [ran.status for ran in (every, some, one)] == [0, 0, 0]
    assert every.out == some.out
    assert ["short 12" in every.out, "long 1000" in every.out] == [True, True]
    assert ["short 12" in one.out, "long 1000" in one.out] == [False, True]


def test_cards_of_an_engine_that_is_not_there_cannot_be_printed(clean: Path) -> None:
    assert run("cards", clean, "--loco", "C", "--loco", "A", "--loco", "D") == Ran(
        status=2,
        out="",
        err=f"rosterkit: {clean}: there is no engine 'C', 'D'. "
        "Give --loco as it stands in the column Loco.\n",
    )


def test_what_was_read_is_recorded_and_what_is_left_is_printed(clean: Path) -> None:
    first = run("cards", clean, "--loco", "A", "--record", "1=12 19=0", "--on", "2026-04-18")
    second = run("cards", clean, "--loco", "A", "--record", "29=2", "--on", "2026-04-18")

    assert (first.status, "CV29" in first.out, "CV19" in first.out) == (0, True, False)
    assert first.err.startswith(f"recorded in {clean}; the earlier file is ")
    assert first.err.endswith("\nA: CV1 read 12, CV19 read 0\n")
    assert (second.status, second.out) == (0, "Nothing to do: A\n")
    assert run("cards", clean, "--changes").out.endswith("Nothing to do: A\n")


def test_only_what_is_recorded_today_has_a_time_of_day(clean: Path) -> None:
    run("cards", clean, "--loco", "A", "--record", "1=12", "--on", "2026-04-18")
    run("cards", clean, "--loco", "A", "--record", "1=12")

    past, today = load_workbook(clean)["Readings"].iter_rows(min_row=2, max_col=2, values_only=True)
    assert past == ("2026-04-18", None)
    assert re.fullmatch(r"\d\d:\d\d:\d\d", str(today[1]))


@pytest.mark.parametrize(
    ("words", "message"),
    [
        pytest.param(["--record", "29=2"], "readings are of one engine at a time", id="no engine"),
        pytest.param(["--loco", "A", "--record", "29"], "'29' is not a CV and its value", id="no value"),
        pytest.param(
            ["--loco", "A", "--record", "29=2", "--on", "yesterday"], "'yesterday' is not a day", id="no day"
        ),
    ],
)
def test_what_cannot_be_recorded_is_refused_and_nothing_written(
    words: list[str], message: str, clean: Path
) -> None:
    before = clean.read_bytes()

    ran = run("cards", clean, *words)

    assert (ran.status, ran.out) == (2, "")
    assert message in ran.err
    assert clean.read_bytes() == before


def test_cards_are_printed_for_another_mode_after_a_reset_and_in_40_columns(clean: Path) -> None:
    narrow = run("cards", clean, "--width", "40").out
    by_register = run("cards", clean, "--mode", "register").out
    after_reset = run("cards", clean, "--after-reset").out

    assert [line for line in narrow.splitlines() if len(line) > 40] == []
    assert "R5" in by_register
    assert "Register mode reaches" in by_register
    assert "As after a reset to factory values" in after_reset


def test_cards_are_printed_as_json_and_csv(clean: Path) -> None:
    document = json.loads(run("cards", clean, "--format", "json").out)
    table = list(csv.DictReader(run("cards", clean, "--format", "csv").out.splitlines()))

    Draft202012Validator(schema_file("outputs/cards.json")).validate(document)
    assert [card["loco"] for card in document["cards"]] == ["A", "B"]
    assert [row["value"] for row in table if row["value"] and row["cv"] in {"1", "17", "18", "29"}] == [
        "12",
        "2",
        "195",
        "232",
        "34",
    ]


@pytest.mark.parametrize(
    ("words", "status", "first"),
    [
        pytest.param(["17=195", "18=232", "29=34"], 0, "address: long 1000", id="in order"),
        pytest.param(["1=3", "29=6"], 0, "address: short 3", id="a warning"),
        pytest.param(["1=0", "17=195", "18=232", "29=2"], 1, "address: not known from these", id="an error"),
    ],
)
def test_decode_ends_with(words: list[str], status: int, first: str) -> None:
    ran = run("decode", *words)

    assert (ran.status, ran.out.splitlines()[0], ran.err) == (status, first, "")


def test_decode_prints_json() -> None:
    document = json.loads(run("decode", "17=195", "18=232", "29=34", "--format", "json").out)

    Draft202012Validator(schema_file("outputs/decode.json")).validate(document)
    assert (document["address"], document["kind"], document["faults"]) == (1000, "long", [])


def test_decode_explains_what_it_cannot_read() -> None:
    assert run("decode", "29") == Ran(
        status=2,
        out="",
        err="rosterkit: '29' is not a CV and its value. Write CV=VALUE, such as 29=34.\n",
    )


def test_rules_lists_every_check_with_severity_and_fault() -> None:
    ran = run("rules")

    assert [line.split()[:2] for line in ran.out.splitlines()] == [
        ["/".join(check.severities), check.slug] for check in CHECKS
    ]
    assert ran.out.splitlines()[2].endswith("Engines answer the same address.")


@pytest.mark.parametrize("slug", [check.slug for check in CHECKS])
def test_rules_explains_a_check_with_reason_and_fix(slug: str) -> None:
    ran = run("rules", slug)
    lines = ran.out.splitlines()

    assert (ran.status, lines[0].split()[0]) == (0, slug)
    assert [line[:5] for line in lines if line[:5] in {"Why: ", "Fix: "}] == ["Why: ", "Fix: "]
    assert [line for line in lines if len(line) > 80] == []


def test_rules_names_the_nearest_check() -> None:
    assert run("rules", "adress-shared") == Ran(
        status=2,
        out="",
        err="rosterkit: there is no check 'adress-shared'. Did you mean 'address-shared'? "
        "Run 'rosterkit rules' for all of them.\n",
    )


def test_new_makes_a_workbook_that_can_be_checked(tmp_path: Path) -> None:
    path = tmp_path / "demo.xlsx"

    made = run("new", path, "--sample")

    assert made == Ran(status=0, out="", err=f"made {path}\n")
    assert run("check", path).status == 1


def test_a_new_workbook_without_engines_is_said_to_have_none(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    run("new", path)

    assert run("check", path) == Ran(
        status=2,
        out="",
        err=f"rosterkit: {path}: the sheet 'Locomotives' has headings but no engines. "
        "Enter at least one engine below the headings.\n",
    )


def test_new_never_replaces_a_file_unless_forced(clean: Path) -> None:
    before = clean.read_bytes()

    refused = run("new", clean)
    kept = clean.read_bytes()
    forced = run("new", clean, "--force")

    assert refused == Ran(
        status=2,
        out="",
        err=f"rosterkit: '{clean}' is there already. Give another name, or --force to replace it.\n",
    )
    assert kept == before
    assert (forced.status, clean.read_bytes() == before) == (0, False)
    assert (clean.parent / "clean.earlier.xlsx").read_bytes() == before


@pytest.mark.parametrize(
    ("name", "said"),
    [
        pytest.param("club.xls", "does not end in .xlsx. Name it club.xlsx.", id="another ending"),
        pytest.param("club", "does not end in .xlsx. Name it club.xlsx.", id="no ending"),
        pytest.param(
            "none/club.xlsx", "is not a folder to write into. Make the folder first.", id="no folder"
        ),
        pytest.param("folder.xlsx", "is a folder. Give another name.", id="a folder of that name"),
        pytest.param(".", "is a folder. Give another name.", id="the folder itself"),
    ],
)
def test_new_refuses(tmp_path: Path, name: str, said: str) -> None:
    (tmp_path / "folder.xlsx").mkdir()

    ran = run("new", tmp_path / name, "--force")

    assert (ran.status, ran.out, ran.err.endswith(f"{said}\n")) == (2, "", True)
    assert [path.name for path in tmp_path.rglob("*")] == ["folder.xlsx"]


@pytest.mark.parametrize("name", ["", ".", "/"])
@pytest.mark.parametrize(
    ("words", "said"),
    [
        pytest.param(["new"], "is a folder. Give another name.", id="new"),
        pytest.param(["meet", "a.xlsx", "-o"], "is a folder. Give another name.", id="meet"),
        pytest.param(["fill", "a.xlsx", "-o"], "is a folder. Give a file name inside it.", id="fill"),
        pytest.param(["speed", "a.xlsx", "-o"], "is a folder. Give a file name inside it.", id="speed"),
    ],
)
def test_a_name_that_is_blank_or_a_folder_is_refused(words: list[str], said: str, name: str) -> None:
    ran = run(*words, name)

    assert (ran.status, ran.out, ran.err.endswith(f"{said}\n")) == (2, "", True)


@pytest.mark.parametrize(
    ("words", "status"),
    [
        pytest.param(["decode", "17=195", "18=232", "29=34"], 0, id="0 where nothing is wrong"),
        pytest.param(["decode", "1=0", "29=2"], 1, id="1 where an error is found"),
        pytest.param(["check", "none.xlsx"], 2, id="2 where it cannot run"),
        pytest.param(["chekc"], 2, id="2 where it is typed wrongly"),
    ],
)
def test_a_process_ends_with(words: list[str], status: int) -> None:
    ran = started(*words)

    assert ran.status == status
    assert "Traceback" not in ran.out + ran.err


def test_a_pipe_gets_utf_8_whatever_the_locale(tmp_path: Path) -> None:
    path = written(tmp_path / "club.xlsx", workbook([{"Loco": "Zürich → 7", "Address": 3}]))

    ran = started("check", path, "--format", "json", PYTHONIOENCODING="ascii", PYTHONUTF8="0", LC_ALL="C")

    assert json.loads(ran.out)["findings"][0]["loco"] == "Zürich → 7"


def test_a_reader_that_goes_away_is_no_reason_for_a_traceback() -> None:
    command = f"'{sys.executable}' -m rosterkit rules | true"

    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, timeout=60, check=False)

    assert done.stderr == ""
