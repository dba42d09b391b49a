"""What stops a command: one sentence that says why, and one that says what to do."""


class CannotRunError(Exception):
    """The job could not be done, and nothing was written; never for faults in a member's data."""

    exit_code = 2

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message)
        self.message = message
        self.fix = fix

    def __reduce__(self) -> tuple[type["CannotRunError"], tuple[str, str]]:
        """Let the error cross from a worker process whole."""
        return type(self), (self.message, self.fix)
