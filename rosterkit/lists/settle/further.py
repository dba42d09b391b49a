"""The rows that engines come to in other sheets, beside the rows that the list has there itself."""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.lists.adopted import AdoptedRow
from rosterkit.lists.settle.beside import consist_row, decoder_rows, extra_rows, speed_table_row
from rosterkit.lists.settle.draft import Draft
from rosterkit.roster.schema import folded

_CORRECT = "Read the CV again, then correct the one or the other."
Rows = Sequence[AdoptedRow]


def further_rows(
    drafts: Sequence[Draft], typed: Mapping[str, Rows]
) -> Iterator[tuple[str, list[AdoptedRow]]]:
    """Return what engines' CVs and decoders come to, by the title of the sheet that it is for.

    A row that the list has itself stays; what CVs say otherwise is a doubt.
    """
    yield "Consists", list(_consists(drafts, typed.get("Consists", ())))
    yield "Speed tables", list(_speed_tables(drafts, typed.get("Speed tables", ())))
    yield "Extra values", list(_extras(drafts, typed.get("Extra values", ())))
    yield "Decoder types", decoder_rows(drafts, typed.get("Decoder types", ()))


def _consists(drafts: Sequence[Draft], typed: Rows) -> Iterator[AdoptedRow]:
    by_loco = {folded(str(row.values["loco"])): row for row in typed if "loco" in row.values}
    labels = {
        row.values["address"]: row.values["consist"]
        for row in reversed(typed)
        if {"address", "consist"} <= row.values.keys()
    }
    for draft in drafts:
        row = consist_row(draft)
        if row is None:
            continue
        address = row.values["address"]
        there = by_loco.get(folded(draft.label))
        if there is None:
            label = labels.get(address, row.values["consist"])
            yield AdoptedRow({**row.values, "consist": label}, came_from=row.came_from, places=row.places)
        elif there.values.get("address") != address:
            message = f"CV19 says consist {address}, and Consists says {there.values.get('address')}"
            draft.doubt(row.places["address"], message, _CORRECT)


def _speed_tables(drafts: Sequence[Draft], typed: Rows) -> Iterator[AdoptedRow]:
    """Return the tables of engines; two engines that name one table share it if they have the same values."""
    known = {folded(str(row.values["label"])): row for row in typed if "label" in row.values}
    for draft in drafts:
        row = speed_table_row(draft)
        if row is None:
            continue
        there = known.setdefault(folded(str(row.values["label"])), row)
        if there is row:
            yield row
        elif any(there.values.get(name) != value for name, value in row.values.items() if name != "label"):
            message = f"CV67 to CV94 differ from the speed table '{row.values['label']}'"
            draft.doubt(
                row.places["step1"],
                message,
                "Enter them as another table in Speed tables, or read them again.",
            )


def _extras(drafts: Sequence[Draft], typed: Rows) -> Iterator[AdoptedRow]:
    known = {_key(row): row for row in typed}
    for draft in drafts:
        for row in extra_rows(draft):
            there = known.get(_key(row))
            if there is None:
                yield row
            elif there.values.get("value") != row.values["value"]:
                message = (
                    f"CV{row.values['cv']} = {row.values['value']} here, "
                    f"and Extra values says {there.values.get('value', 'nothing')}"
                )
                draft.doubt(row.places["value"], message, _CORRECT)


def _key(row: AdoptedRow) -> tuple[object, ...]:
    index = row.values.get("index_high"), row.values.get("index_low")
    return folded(str(row.values.get("loco", ""))), row.values.get("cv"), *index
