"""A command typed wrongly, in one sentence and a fix, in place of the command-line library's own words."""

from collections.abc import Iterable
from typing import Any, cast

import typer

from rosterkit.errors import CannotRunError
from rosterkit.spelling import Spelling

UsageError = cast("type[Exception]", typer.BadParameter.__mro__[1])
"""What the library raises for a command typed wrongly; it has no public name of its own."""


def word_of(param: Any) -> str:
    """Return what stands for an argument or an option's value: WORKBOOK..., [SLUG], text|json."""
    word: str = param.metavar or param.name.upper()
    if param.param_type_name != "argument":
        return word
    several = "..." if param.nargs == -1 else ""
    return f"{word}{several}" if param.required else f"[{word}{several}]"


def needed_words(command: Any) -> list[str]:
    """Return what is typed after a command's name at least, and the arguments that may follow it."""
    arguments = [word_of(param) for param in command.params if param.param_type_name == "argument"]
    needed = [param for param in command.params if param.required and param.param_type_name == "option"]
    return [*arguments, *(f"{param.opts[0]} {word_of(param)}" for param in needed)]


def stated(error: Any, ctx: Any) -> CannotRunError:
    """Say in our words what the library found wrong in the words of a command."""
    param = getattr(error, "param", None)
    if hasattr(error, "possibilities"):
        return _no_such_option(error.option_name, ctx)
    if hasattr(error, "option_name"):
        return _value_of_option(error.option_name, ctx)
    if hasattr(error, "param_type"):
        return _missing(param, ctx)
    if param is not None:
        return _bad_value(error, param)
    return CannotRunError(f"'{ctx.command_path}' cannot be run as it was typed", _see_help(ctx))


def too_many(words: Iterable[str], ctx: Any) -> CannotRunError:
    """Say that words are left over that a command does not take."""
    shown = " ".join(f"'{word}'" for word in words)
    return CannotRunError(f"'{ctx.command_path}' has no use for {shown}", _write_whole(ctx))


def no_such_command(word: str, ctx: Any) -> CannotRunError:
    """Say that there is no such command, with the nearest one."""
    near = Spelling(ctx.command.commands).nearest(word)
    fix = f"Write '{ctx.command_path} {near}', or see '{ctx.command_path} --help'." if near else None
    return CannotRunError(f"there is no command '{word}'", fix or _see_help(ctx))


def _no_such_option(name: str, ctx: Any) -> CannotRunError:
    message = f"'{ctx.command_path}' has no option '{name}'"
    commands = getattr(ctx.command, "commands", {})
    if any(name in param.opts for command in commands.values() for param in command.params):
        return CannotRunError(
            message, "Write it after the command, as in 'rosterkit check WORKBOOK --strict'."
        )
    options = (option for param in ctx.command.get_params(ctx) for option in param.opts)
    near = Spelling(options).nearest(name)
    fix = f"Write {near}, or see '{ctx.command_path} --help'." if near else _see_help(ctx)
    return CannotRunError(message, fix)


def _value_of_option(name: str, ctx: Any) -> CannotRunError:
    param = next((one for one in ctx.command.get_params(ctx) if name in one.opts), None)
    if param is None or not param.metavar:
        return CannotRunError(f"{name} takes no value", f"Write {name} alone.")
    if "|" in param.metavar:
        return CannotRunError(f"{name} has no value", _choose(param))
    return CannotRunError(f"{name} has no value", f"Write '{name} {param.metavar}'.")


def _missing(param: Any, ctx: Any) -> CannotRunError:
    name = f"{param.opts[0]} {word_of(param)}" if param.param_type_name == "option" else word_of(param)
    purpose = param.help.removesuffix(".")
    if purpose[1:2].islower():  # an abbreviation such as CVs keeps its capitals
        purpose = purpose[:1].lower() + purpose[1:]
    return CannotRunError(f"'{ctx.command_path}' needs {name}: {purpose}", _write_whole(ctx))


def _bad_value(error: Any, param: Any) -> CannotRunError:
    name = word_of(param) if param.param_type_name == "argument" else max(param.opts, key=len)
    given = _given(error)
    message = f"{name} cannot be that" if given is None else f"{name} cannot be '{given}'"
    if param.min is not None and param.max is not None:
        return CannotRunError(message, f"Give a whole number from {param.min} to {param.max}.")
    if param.metavar and "|" in param.metavar:
        return CannotRunError(message, _choose(param))
    return CannotRunError(message, f"Give {word_of(param)} as --help says.")


def _choose(param: Any) -> str:
    return f"Choose one of {', '.join(param.metavar.split('|'))}."


def _given(error: Any) -> object:
    """Return the value that was refused, which only the error behind the library's own knows."""
    errors = getattr(error.__cause__, "errors", None)
    return errors()[0].get("input") if errors else None


def _write_whole(ctx: Any) -> str:
    return f"Write '{' '.join([ctx.command_path, *needed_words(ctx.command)])}'."


def _see_help(ctx: Any) -> str:
    return f"See '{ctx.command_path} --help'."
