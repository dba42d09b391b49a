"""What changed between two workbooks, as text, JSON and CSV."""

from collections.abc import Callable, Iterable, Mapping

from rosterkit.comparing import Comparison, Difference, EngineChange, Fate
from rosterkit.rendering.tables import as_csv, as_json

_KEYS = ("change", "owner", "loco", "what", "name", "old", "new")


def compare_text(found: Comparison) -> str:
    """Give a block an engine: what became of it, then one line a value; and a line of sums at the end."""
    lines: list[str] = []
    if found.settings:
        lines += ["Layout changed", *_lines(found.settings)]
    for engine in found.engines:
        owner = f" ({engine.owner})" if engine.owner else ""
        lines += [f"{engine.loco}{owner} {engine.fate.value}", *_lines(engine.columns)]
        lines += [f"    registers: {_registers(engine)}"] if engine.registers else []
    return "\n".join([*lines, _sums(found)])


def _lines(differences: Iterable[Difference]) -> list[str]:
    return [f"    {one.name}: {_shown(one.old)} -> {_shown(one.new)}" for one in differences]


def _registers(engine: EngineChange) -> str:
    if engine.fate is Fate.CHANGED:
        return ", ".join(f"{one.name} {_shown(one.old)} -> {_shown(one.new)}" for one in engine.registers)
    return ", ".join(f"{one.name} = {one.new if one.old is None else one.old}" for one in engine.registers)


def _shown(value: object) -> str:
    if value is None:
        return "blank"
    return (
        f"'{value}'" if isinstance(value, str) else f"{value:g}" if isinstance(value, float) else str(value)
    )


def _sums(found: Comparison) -> str:
    number = {fate: sum(one.fate is fate for one in found.engines) for fate in Fate}
    parts = [f"{number[fate]} {fate.value}" for fate in Fate]
    return f"engines: {', '.join(parts)}, {found.same} as before"


def compare_json(found: Comparison) -> str:
    """Give one object with the settings and the engines (schema/outputs/compare.json)."""
    return as_json(
        {
            "old": found.old,
            "new": found.new,
            "settings": _records(found.settings),
            "engines": [
                {
                    "change": one.fate.value,
                    "loco": one.loco,
                    "owner": one.owner,
                    "columns": _records(one.columns),
                    "registers": _records(one.registers),
                }
                for one in found.engines
            ],
            "same": found.same,
        }
    )


def _records(differences: Iterable[Difference]) -> list[dict[str, object]]:
    return [{"name": one.name, "old": one.old, "new": one.new} for one in differences]


def compare_csv(found: Comparison) -> str:
    """Give one row a value that changed."""
    rows: list[list[object]] = [
        ["changed", None, None, "setting", one.name, one.old, one.new] for one in found.settings
    ]
    for engine in found.engines:
        for what, differences in (("column", engine.columns), ("register", engine.registers)):
            rows += [
                [engine.fate.value, engine.owner, engine.loco, what, one.name, one.old, one.new]
                for one in differences
            ]
    return as_csv(_KEYS, rows)


COMPARE_FORMATS: Mapping[str, Callable[[Comparison], str]] = {
    "text": compare_text,
    "json": compare_json,
    "csv": compare_csv,
}
