"""What stops a command: one sentence that says why, and one that says what to do."""

from rosterkit.printable import printable


class CannotRunError(Exception):
    """The job could not be done, and nothing was written.

    Faults in a member's data are findings, never this. What the sentences quote is safe to print.
    """

    exit_code = 2

    def __init__(self, message: str, fix: str) -> None:
        self.message = printable(message)
        self.fix = printable(fix)
        super().__init__(self.message)

    def __reduce__(self) -> tuple[type["CannotRunError"], tuple[str, str]]:
        """Let the error cross from a worker process whole."""
        return type(self), (self.message, self.fix)
