"""What the program makes of a list, compared with what a patient keeper does."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rosterkit.lists.adopted import Adopted, AdoptedRow
from tests.lists.compared_columns import compare_columns
from tests.lists.figures import Score
from tests.lists.gold import BLANK_UNLESS_SAID, Gold, Value


def compared(gold: Gold, adopted: Adopted) -> Score:
    """Return how far a list is read as its gold says."""
    score = Score(gold.file)
    compare_columns(gold, adopted, score)
    matched = _matched(gold, adopted.engines)
    _compare_engines(gold, adopted.engines, matched, score)
    for key, row in matched.items():
        _compare_values(key, gold.engines[key], row, score)
    _compare_rows(
        "extras", gold.extras, _rows(adopted, "Extra values", ("loco", "cv", "value")), matched, gold, score
    )
    if gold.consists is not None:
        rows = [(loco, at, facing or "forward") for loco, at, facing in _rows(adopted, "Consists", _CONSIST)]
        _compare_rows("consists", gold.consists, rows, matched, gold, score)
    if gold.speed_tables is not None:
        steps = tuple(f"step{n}" for n in range(1, 29))
        tables = _rows(adopted, "Speed tables", steps)
        for table in gold.speed_tables:
            score.note("tables right" if table in tables else "tables missed")
    _compare_doubts(gold, adopted, score)
    return score


_CONSIST = ("loco", "address", "facing")


def _matched(gold: Gold, engines: Iterable[AdoptedRow]) -> dict[str, AdoptedRow]:
    """Return the row of each engine: by the key of its record, else by its label."""
    by_key = {key: row for row in engines for key in row.came_from.split(", ")}
    by_loco = {row.values.get("loco"): row for row in engines}
    matched = {key: by_key[key] for key in gold.engines if key in by_key}
    taken = {id(row) for row in matched.values()}
    for key, engine in gold.engines.items():
        if key not in matched:
            candidates = (by_loco.get(label) for label in engine.get("loco", ()) if label is not None)
            if row := next((one for one in candidates if one and id(one) not in taken), None):
                matched[key] = row
                taken.add(id(row))
    return matched


def _compare_engines(
    gold: Gold, engines: tuple[AdoptedRow, ...], matched: Mapping[str, AdoptedRow], score: Score
) -> None:
    for key, engine in gold.engines.items():
        if key in matched:
            score.note("engines found")
        elif not gold.optional:
            score.note("engines missing", f"{key} {engine.get('loco', ('',))[0]}")
    ours = {id(row) for row in matched.values()}
    for row in engines:
        if id(row) not in ours and not row.came_from.startswith(gold.either or ("\0",)):
            score.note("engines invented", f"{row.came_from} {row.values.get('loco', '')}")


def _compare_values(key: str, engine: Mapping[str, tuple[Value, ...]], row: AdoptedRow, score: Score) -> None:
    for name, accepted in [*engine.items(), *((n, (None,)) for n in BLANK_UNLESS_SAID if n not in engine)]:
        got = row.values.get(name)
        if name == "colour":
            got = next((one for one in accepted if one and str(one) in row.colour), row.colour or None)
        if any(_same(got, wanted) for wanted in accepted):
            score.note("values right")
        elif got is None:
            score.note("values missed", f"{key} {name} is {accepted[0]!r}")
        else:
            score.note(
                "values wrong", f"{key} {name} read as {got!r}, not {' or '.join(map(repr, accepted))}"
            )


def _same(got: Value, wanted: Value) -> bool:
    """Whether a value is the one wanted: texts but for blanks around words, numbers as numbers."""
    if isinstance(got, str) and isinstance(wanted, str):
        return got.split() == wanted.split()
    if isinstance(got, str) or isinstance(wanted, str):
        return False
    return got == wanted


def _rows(adopted: Adopted, title: str, names: tuple[str, ...]) -> list[tuple[Value, ...]]:
    return [tuple(row.values.get(name) for name in names) for row in adopted.rows.get(title, ())]


def _compare_rows(
    what: str,
    wanted: Iterable[tuple[Value, ...]],
    rows: Sequence[tuple[Value, ...]],
    matched: Mapping[str, AdoptedRow],
    gold: Gold,
    score: Score,
) -> None:
    """Compare rows that begin with the label of an engine, which may be any that the gold accepts for it."""
    left = list(rows)
    for label, *values in wanted:
        labels = set(_labels(str(label), matched, gold))
        if row := next((one for one in left if one[0] in labels and list(one[1:]) == values), None):
            left.remove(row)
            score.note(f"{what} right")
        else:
            score.note(f"{what} missed", f"{label} {values}")
    for row in left:
        score.note(f"{what} wrong", str(row))


def _labels(label: str, matched: Mapping[str, AdoptedRow], gold: Gold) -> Iterator[Value]:
    yield label
    for key, engine in gold.engines.items():
        if key in matched and (key == label or label in engine.get("loco", ())):
            yield matched[key].values.get("loco")


def _compare_doubts(gold: Gold, adopted: Adopted, score: Score) -> None:
    score.counts["doubts"] = len(adopted.doubts)
    at = {str(doubt.place) for doubt in adopted.doubts}
    for cell in gold.doubts:
        score.note(*(("doubts right",) if cell in at else ("doubts missed", f"none at {cell}")))
