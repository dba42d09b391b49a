"""What a roster comes to, a row each: the CVs to key in, and the findings of the checks."""

from collections.abc import Iterable, Iterator

import pandas as pd

from rosterkit.checks import findings_in
from rosterkit.checks.framework import scope_of
from rosterkit.checks.report import finding_record
from rosterkit.cv.engine import cvs_of
from rosterkit.findings import Finding, Severity, in_reading_order
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import is_known, sheet

_CVS = {
    "row": "Int64",
    "loco": "string",
    "cv": "Int64",
    "index_high": "Int64",
    "index_low": "Int64",
    "value": "Int64",
}
SEVERITIES = pd.CategoricalDtype([severity.value for severity in reversed(Severity)], ordered=True)
"""note < warning < error."""
_TEXTS = ("rule", "sheet", "cell", "column", "loco", "message", "fix", "related")


def cvs_frame(roster: Roster) -> pd.DataFrame:
    """Return the CVs of every engine in the order in which its card has them, as at home."""
    return pd.DataFrame(list(_cvs(roster)), columns=list(_CVS)).astype(_CVS)


def _cvs(roster: Roster) -> Iterator[tuple[int | str | None, ...]]:
    for engine in roster.engines:
        row = engine.table.rows[engine.index]
        for one in cvs_of(engine, roster).values:
            high, low = one.index or (None, None)
            yield row, engine.loco, one.cv, high, low, one.value


def findings_frame(roster: Roster) -> pd.DataFrame:
    """Return what the command check finds in a workbook, in its order."""
    found = in_reading_order(findings_in(scope_of([roster])))
    records = [_record(finding) for finding in found]
    columns = ["severity", "rule", "sheet", "row", *_TEXTS[2:]]
    frame = pd.DataFrame(records, columns=columns).astype({"row": "Int64", **dict.fromkeys(_TEXTS, "string")})
    return frame.assign(severity=frame["severity"].astype(SEVERITIES))


def _record(finding: Finding) -> dict[str, object]:
    title = finding.place.sheet
    return {
        **finding_record(finding),
        "sheet": sheet(title).title if title is not None and is_known(title) else title,
        "row": finding.place.row,
        "related": _places(map(str, finding.related)),
    }


def _places(places: Iterable[str]) -> str | None:
    return " ".join(places) or None
