"""What commands say and come to, apart from their results."""

import typer

from rosterkit.printable import printable

FOUND = 1
"""Exit status where the work was done and an error was found."""


def say(sentence: str) -> None:
    """Say what was done, apart from the results."""
    typer.echo(printable(sentence), err=True)


def leave(*, failing: bool) -> None:
    """End with the exit status of an error that was found, if one was."""
    if failing:
        raise typer.Exit(FOUND)
