"""What resolving conflicts came to, as text and as JSON."""

from collections.abc import Callable, Iterator, Mapping

from rosterkit import __version__
from rosterkit.commands.merge.record import REMOVED
from rosterkit.commands.merge.report import number_of_conflicts, plain_value
from rosterkit.commands.merge.resolve import Resolution, Resolved
from rosterkit.commands.merge.sheet import KEEP, TITLE
from rosterkit.formats import as_json, as_lines
from rosterkit.roster.cell_values import shown

_FIRST = 15
"""Lines of each kind that are printed."""


def resolve_text(done: Resolution) -> str:
    """Return what was resolved, what was not and why, and what is next."""
    return as_lines(_text(done))


def saved_text(done: Resolution) -> str:
    """Say whether the workbook was written, and where the earlier one is."""
    if done.kept is None:
        return f"{done.path} stays as it is; nothing was written"
    return f"wrote {done.path}; the earlier file is {done.kept}"


def _text(done: Resolution) -> Iterator[str]:
    for one in done.resolved[:_FIRST]:
        yield f"{one.sheet} {_about(one)}: {one.kept}, {_value(one)}"
    if len(done.resolved) > _FIRST:
        yield f"… {len(done.resolved) - _FIRST} more"
    for refused in done.refused[:_FIRST]:
        yield f"{TITLE} {refused.cell} '{refused.chosen}' was not carried out: {refused.reason}"
    if len(done.refused) > _FIRST:
        yield f"… {len(done.refused) - _FIRST} more that were not carried out"
    parts = [f"{number_of_conflicts(len(done.resolved))} resolved"]
    parts += [f"{len(done.refused)} not carried out"] if done.refused else []
    parts += [f"{done.open} open: nothing stands under {KEEP}"] if done.open else []
    yield ", ".join(parts)
    if done.resolved:
        yield f"run 'rosterkit fill {done.path}' next, for CVs, Check, Findings and Cards"


def _about(one: Resolved) -> str:
    record = one.conflict.record
    parts = [part for part in (record.label, record.column) if part]
    return f"{one.cell} [{', '.join(parts)}]" if parts else one.cell


def _value(one: Resolved) -> str:
    if one.conflict.record.column is None:
        return "the row is removed" if one.value == REMOVED else "the row stays"
    return "blank" if one.value == "" else shown(one.value)


def resolve_json(done: Resolution) -> str:
    """Return one object with what was resolved and what was not (schema/outputs/merge_resolve.json)."""
    return as_json(
        {
            "rosterkit": __version__,
            "workbook": str(done.path),
            "resolved": [
                {
                    "sheet": one.sheet,
                    "cell": one.cell,
                    "row": one.conflict.record.label,
                    "column": one.conflict.record.column,
                    "kept": one.kept,
                    "value": plain_value(one.value),
                }
                for one in done.resolved
            ],
            "refused": [
                {"cell": one.cell, "chosen": one.chosen, "reason": one.reason} for one in done.refused
            ],
            "open": done.open,
        }
    )


RESOLVE_FORMATS: Mapping[str, Callable[[Resolution], str]] = {"text": resolve_text, "json": resolve_json}


def is_unfinished(done: Resolution) -> bool:
    """Tell whether a conflict is left, as nobody chose, or a choice could not be carried out."""
    return bool(done.open or done.refused)
