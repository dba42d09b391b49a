"""Engines of earlier tables, found again by their labels, or by their numbers and railways."""

from collections.abc import Iterable, Mapping

from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.labels import is_short_for, made_label
from rosterkit.roster.schema import folded

_MANY = 100
"""Of so many railways beginning alike no one is meant for sure."""
_Index = dict[str, dict[int, Draft]]


class KnownEngines:
    """Engines of earlier tables, found by their labels and numbers without a look at each of them."""

    def __init__(self) -> None:
        self._by_label: _Index = {}
        self._by_number: _Index = {}
        self._by_initial: _Index = {}

    def add(self, drafts: Iterable[Draft]) -> None:
        """Add engines, or what is known of them by now."""
        for draft in drafts:
            if label := folded(label_of(draft) or ""):
                self._by_label.setdefault(label, {})[id(draft)] = draft
            number, railway = folded(number_of(draft) or ""), _railway_of(draft)
            if number and railway:
                self._by_number.setdefault(number, {})[id(draft)] = draft
                self._by_initial.setdefault(_key(number, railway), {})[id(draft)] = draft

    def fitting(self, draft: Draft) -> Draft | None:
        """Return the one engine that a draft may be: by a label with letters, or by number and railway.

        One railway is short for the other's; or CVs stand beside the number alone. None where none or several
        may be meant.
        """
        label = folded(label_of(draft) or "")
        labelled = {} if label.isdecimal() else self._by_label.get(label, {})
        if labelled:
            return _only(labelled)
        number, railway = folded(number_of(draft) or ""), _railway_of(draft)
        if not railway:
            of_cvs = bool(draft.cvs) and "loco" not in draft.typed
            return _only(self._by_number.get(number, {})) if of_cvs else None
        near = self._by_initial.get(_key(number, railway), {})
        if len(near) > _MANY:
            return None
        return _only({key: one for key, one in near.items() if is_one_railway(_railway_of(one), railway)})


def _key(number: str, railway: str) -> str:
    return f"{folded(railway)[:1]} {number}"


def _only(some: Mapping[int, Draft]) -> Draft | None:
    return next(iter(some.values())) if len(some) == 1 else None


def number_of(draft: Draft) -> str | None:
    """Return the number that an engine has, in its column or its label; None without one."""
    number = draft.values.get("number") or draft.of_label.get("number", (None,))[0]
    return str(number) if number else None


def _railway_of(draft: Draft) -> str:
    return str(draft.values.get("railway") or draft.of_label.get("railway", ("",))[0])


def is_one_railway(first: str, other: str) -> bool:
    """Tell whether one name of a railway is short for the other."""
    return is_short_for(first, other) or is_short_for(other, first)


def label_of(draft: Draft) -> str | None:
    """Return the label that an engine has or would get by its railway and number; None without either."""
    railway, number = draft.values.get("railway"), draft.values.get("number")
    return draft.label or made_label(str(railway) if railway else None, str(number) if number else None, ())
