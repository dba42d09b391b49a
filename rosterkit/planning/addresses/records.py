"""A plain table of engines, such as a list of dictionaries or a data frame's records, made into engines."""

from collections.abc import Iterable, Iterator, Mapping
from typing import SupportsInt

from rosterkit.cv.addresses import Address, Space, space_by_number
from rosterkit.planning.addresses.model import NEVER_REGISTERED, Engine, LayoutRules

_KNOWN = (
    "key",
    "address",
    "kind",
    "number",
    "owner",
    "layout",
    "rails",
    "takes_long",
    "club",
    "agreed",
    "registered",
    "shares",
)


def engines_from(table: Iterable[Mapping[str, object]], rules: LayoutRules | None = None) -> Iterator[Engine]:
    """Make engines of rows; a value that is None, blank or not a number (as pandas writes a gap) is missing.

    Columns: ``key`` (needed, each only once), ``address`` (a whole number), ``kind`` (short or long; missing:
    by the number, long from the rules' ``long_from`` on), ``number``, ``owner``, ``layout``, ``takes_long``
    (missing: yes), ``club`` and ``agreed`` (missing: no), ``registered`` (missing: after
    all that have one) and ``shares``. ``rails`` is the old name of ``layout`` and still read.

    ValueError if a row has no key, an unknown column, or a value that is not what its column takes.
    """
    rules = rules or LayoutRules()
    for turn, row in enumerate(table):
        unknown = sorted(set(row) - set(_KNOWN))
        if unknown:
            raise ValueError(f"row {turn}: unknown column '{unknown[0]}'; known are {', '.join(_KNOWN)}")
        values = {name: value for name, value in row.items() if not _is_gap(value)}
        if "key" not in values:
            raise ValueError(f"row {turn}: no key")
        yield Engine(
            key=str(values["key"]),
            address=_address(values, rules, turn),
            number=_text(values.get("number")),
            owner=_text(values.get("owner")),
            layout=str(values.get("layout", values.get("rails", ""))),
            takes_long=bool(values.get("takes_long", True)),
            club=bool(values.get("club", False)),
            agreed=bool(values.get("agreed", False)),
            registered=_whole(values.get("registered", NEVER_REGISTERED), "registered", turn),
            shares=_text(values.get("shares")),
        )


def _is_gap(value: object) -> bool:
    # Not a number is the one value that differs from itself.
    return value is None or value != value or (isinstance(value, str) and not value.strip())  # noqa: PLR0124


def _text(value: object) -> str | None:
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return None if value is None else str(value)


def _whole(value: object, name: str, turn: int) -> int:
    if isinstance(value, SupportsInt) and not isinstance(value, str) and int(value) == value:
        return int(value)
    raise ValueError(f"row {turn}: {name} {value!r} is not a whole number")


def _address(values: Mapping[str, object], rules: LayoutRules, turn: int) -> Address | None:
    if "address" not in values:
        return None
    number = _whole(values["address"], "address", turn)
    kind = values.get("kind")
    if kind is None:
        return Address(space_by_number(number, rules.shorts, rules.long_from), number)
    if kind not in (Space.SHORT.value, Space.LONG.value):
        raise ValueError(f"row {turn}: kind {kind!r} is not short or long")
    return Address(Space(str(kind)), number)
