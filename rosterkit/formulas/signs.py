"""Signs before and after a value: minus, plus, percent."""

from collections.abc import Callable, Mapping

from rosterkit.formulas.values import Content, number

SIGNS: Mapping[str, Callable[[Content], Content]] = {
    "-": lambda value: -number(value),
    "+": lambda value: 0 if value is None else value,
    "%": lambda value: number(value) / 100,
}
"""What each sign does to a value; each raises Fault with the error that a value is."""
