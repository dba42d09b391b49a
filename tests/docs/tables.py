"""Tables of columns, checks, commands and limits, made from where the code has them."""

import ast
import re
import sys
from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from pathlib import Path
from typing import Any

import typer

from rosterkit.checks import CHECKS
from rosterkit.checks.framework import Check
from rosterkit.cli.app import app
from rosterkit.roster.schema import Column, Sheet, all_sheets
from rosterkit.xlsx.package import limits
from tests.docs.markdown import table

_FEWEST_ALIKE = 4
"""Columns that differ in nothing but a number stand in one line from this many on."""


def column_tables() -> str:
    """Return the columns of every sheet, a section a sheet."""
    return "\n\n".join(_sheet_section(sheet) for sheet in all_sheets())


def _sheet_section(sheet: Sheet) -> str:
    first = "setting" if sheet.transposed else "column"
    rows = [_column_row(alike) for alike in _alike(sheet.columns)]
    headings = (first, "takes", "blank means", "what it is for", "also read as")
    about = f"{sheet.description}{_identity_words(sheet)}"
    return f"## {sheet.title}\n\n{about}\n\n{table(headings, rows)}"


def _identity_words(sheet: Sheet) -> str:
    """Say by what a row is recognised in another workbook."""
    sets = [" and ".join(f"*{sheet[name].heading}*" for name in names) for names in sheet.identity]
    return f" `rosterkit compare` recognises a row by {', else by '.join(sets)}." if sets else ""


def _alike(columns: Sequence[Column]) -> Iterator[list[Column]]:
    """Yield runs of columns that differ in their number only, and all other columns alone."""
    for _, group in groupby(columns, lambda one: (_unnumbered(one.heading), _unnumbered(one.description))):
        run = list(group)
        yield from [run] if len(run) >= _FEWEST_ALIKE else [[column] for column in run]


def _unnumbered(text: str) -> str:
    return re.sub(r"\d+", "#", text)


def _column_row(alike: Sequence[Column]) -> list[str]:
    column, last = alike[0], alike[-1]
    blank = "" if column.default is None else str(column.default)
    if column.required:
        blank = "(needed)"
    if column.computed:
        blank = "(computed)"
    heading, purpose, aliases = column.heading, column.description, ", ".join(column.aliases)
    if len(alike) > 1:
        heading, purpose, aliases = f"{heading} to {last.heading}", f"{purpose} To: {last.description}", ""
    takes = column.limits + (f" {column.unit}" if column.unit else "")
    return [heading, takes, blank, purpose, aliases]


def check_tables() -> str:
    """Return every check, a section for each module of checks."""
    sections = groupby(CHECKS, lambda check: check.hits.__module__)
    return "\n\n".join(_check_section(module, list(checks)) for module, checks in sections)


def _check_section(module: str, checks: Sequence[Check]) -> str:
    subject = module.rpartition(".")[2].replace("_", " ").capitalize()
    about = (sys.modules[module].__doc__ or "").splitlines()[0]
    rows = [
        [f"`{one.slug}`", ", or ".join(one.severities), one.what, _sentence(one.why), one.fix]
        for one in checks
    ]
    return f"## {subject}\n\n{about}\n\n{table(('check', 'severity', 'fault', 'why', 'fix'), rows)}"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def command_table() -> str:
    """Return every command with its arguments and options, and what it does."""
    commands = typer.main.get_command(app).commands  # type: ignore[attr-defined]
    rows = [[f"`{_usage(name, command)}`", command.help] for name, command in commands.items()]
    return table(("command", "does"), rows)


def _usage(name: str, command: Any) -> str:
    return " ".join(["rosterkit", name, *map(_word, command.params)])


def _word(param: Any) -> str:
    many = "..." if param.nargs < 0 or getattr(param, "multiple", False) else ""
    value = param.metavar or ""
    if param.param_type_name == "argument":
        word = f"{value}{many}"
        return word if param.required else f"[{word}]"
    name = next((opt for opt in param.opts if opt == "-o"), param.opts[-1])
    word = f"{name} {value}".rstrip()
    return word if param.required else f"[{word}]" + (many if not value.endswith("...") else "")


def limit_table() -> str:
    """Return the limits of reading: each constant's value, and the text below it."""
    lines = ast.parse(Path(str(limits.__file__)).read_text(encoding="utf-8")).body
    rows = []
    for line, text in pairwise(lines):
        if isinstance(line, ast.Assign) and isinstance(text, ast.Expr):
            name, meaning = ast.unparse(line.targets[0]), " ".join(ast.literal_eval(text.value).split())
            value = getattr(limits, name)
            shown = f"{value // limits.MIB} MiB" if name.endswith("_BYTES") else f"{value:,}"
            rows.append([meaning.rstrip("."), shown])
    return table(("what", "at most"), rows)
