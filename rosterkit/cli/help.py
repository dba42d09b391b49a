"""How commands show themselves: help in the words of the trade, and wrong usage as errors of our own."""

from typing import Any

from typer.core import TyperCommand, TyperGroup

from rosterkit.cli.usage_errors import UsageError, needed_words, no_such_command, stated, too_many, word_of


class Command(TyperCommand):
    """A command with its arguments and options."""

    allow_extra_args = True
    """So that words that are left over come to us."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Read the words of a command; CannotRunError where they are none."""
        try:
            left = super().parse_args(ctx, args)
        except UsageError as error:
            raise stated(error, ctx) from None
        if left and not ctx.resilient_parsing:
            raise too_many(left, ctx)
        return left

    def collect_usage_pieces(self, ctx: Any) -> list[str]:
        """Return the words of the usage line."""
        return [*needed_words(ctx.command), "[OPTIONS]"]

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Write what each argument and option is."""
        _write_options(self, ctx, formatter)

    def get_short_help_str(self, limit: int = 45) -> str:
        """Return the sentence of the list of commands whole, however long it is."""
        return " ".join((self.help or "").split()) if limit else ""


class Commands(TyperGroup):
    """All commands together."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Read the words before the command; CannotRunError where they are none."""
        try:
            return super().parse_args(ctx, args)
        except UsageError as error:
            raise stated(error, ctx) from None

    def resolve_command(self, ctx: Any, args: list[str]) -> tuple[str | None, Any, list[str]]:
        """Find the command; CannotRunError where there is none of that name."""
        if args[0] not in self.commands and not ctx.resilient_parsing:
            raise no_such_command(args[0], ctx)
        return super().resolve_command(ctx, args)

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Write the options that stand without a command, then the commands."""
        _write_options(self, ctx, formatter)
        self.format_commands(ctx, formatter)


def _write_options(command: Any, ctx: Any, formatter: Any) -> None:
    for title, kind in (("Arguments", "argument"), ("Options", "option")):
        params = [param for param in command.get_params(ctx) if param.param_type_name == kind]
        rows = [(_names(param), _purpose(param)) for param in params if not param.hidden]
        if rows:
            with formatter.section(title):
                formatter.write_dl(rows)


def _names(param: Any) -> str:
    if param.param_type_name == "argument":
        return word_of(param)
    names = ", ".join(sorted(param.opts, key=len))
    return f"{names} {param.metavar}" if param.metavar else names


def _purpose(param: Any) -> str:
    """Return what an argument or option is for, its limits, and what holds without it."""
    text = param.help or ""
    if getattr(param, "min", None) is not None:
        text += f" {param.min} to {param.max}."
    if isinstance(param.default, int | str) and not isinstance(param.default, bool):
        text += f" Else {param.default}."
    return text
