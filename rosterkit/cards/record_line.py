"""The command that records what was read back, up to the readings, quoted for the shell that runs it."""

import re
from collections.abc import Iterable, Mapping
from enum import StrEnum

from rosterkit.cards.card import CardOptions
from rosterkit.printable import printable


class Shell(StrEnum):
    """A family of shells that reads quotes in a way of its own."""

    POSIX = "a POSIX shell"
    POWERSHELL = "PowerShell"
    CMD = "cmd"


# The POSIX shell's rules: IEEE Std 1003.1-2017, Shell Command Language, 2.2. That ! calls up an earlier
# command within double quotes, in shells used interactively, and the rules of the other two: common practice,
# no source.
_ACTS_IN_DOUBLE_QUOTES: Mapping[Shell, str] = {
    Shell.POSIX: r'["$`!]|\\(?:\\|$)',
    Shell.POWERSHELL: '["$`\u201c\u201d\u201e]|\\\\$',
    Shell.CMD: r'"|%.*%|\\$',
}
_SINGLE_QUOTES = "['\u2018\u2019\u201a\u201b]"
"""What ends a text in single quotes in PowerShell; doubled, it stands for itself."""


def quoted(text: str, shell: Shell) -> str | None:
    """Return a text as one word of a command line.

    In double quotes where nothing in it acts there, as all shells read those alike.

    Returns:
        None where the shell has no way to pass it on as it is.
    """
    if printable(text) != text or not _is_unicode(text):
        return None
    if not re.search(_ACTS_IN_DOUBLE_QUOTES[shell], text):
        return f'"{text}"'
    if shell is Shell.POSIX:
        return "'" + text.replace("'", "'\\''") + "'"
    # Programs get a double quote or a backslash at the end from here in ways that differ between versions.
    if shell is Shell.POWERSHELL and '"' not in text and not text.endswith("\\"):
        return "'" + re.sub(_SINGLE_QUOTES, r"\g<0>\g<0>", text) + "'"
    return None


def _is_unicode(text: str) -> bool:
    """Tell whether a text can be written; a file's name need not be."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def line_starts(workbook: str, label: str, options: CardOptions) -> dict[str, list[Shell]]:
    """Return how the command begins that records readings of one engine or accessory, up to ``--record``.

    Args:
        workbook: the workbook's path as it was typed.
        label: the engine's label.
        options: the kind of card that was read back: what is left to key in is printed for the same.

    Returns:
        Each beginning with the shells that take it; those that cannot are in none.
    """
    found: dict[str, list[Shell]] = {}
    for shell in Shell:
        words = [quoted(text, shell) for text in (workbook, label)]
        if None not in words:
            more = [f" --mode {options.mode}"] if options.mode else []
            more += [f" --meet {options.phase}"] if options.phase else []
            found.setdefault(f"rosterkit cards {words[0]} --loco {words[1]}{''.join(more)}", []).append(shell)
    return found


def shell_words(shells: Iterable[Shell]) -> str:
    """Name shells, such as PowerShell or cmd."""
    *first, last = shells
    return f"{', '.join(first)} or {last}" if first else str(last)
