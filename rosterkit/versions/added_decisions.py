"""What becomes of the rows that sides added: one row each, with what all agree on."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from rosterkit.roster.schema import folded
from rosterkit.versions.added_rows import Added, same_rows
from rosterkit.versions.deciding import Deciding
from rosterkit.versions.meanings import meaning_of
from rosterkit.versions.merged import SideValue
from rosterkit.versions.sheet_changes import NewRow, SideCell
from rosterkit.versions.sheet_rows import Key
from rosterkit.versions.votes import Vote, side_values


class AddedDecisions:
    """The decisions on the rows that copies added."""

    def __init__(self, on: Deciding) -> None:
        self._on = on

    def decide(self) -> None:
        """Decide on each row that copies added, alone or with the master."""
        sheet = self._on.sheet
        if sheet.now.known is None or not any(changes.added for _, changes in sheet.sides):
            return
        sides = [(name, [self._named_now(row) for row in changes.added]) for name, changes in sheet.sides]
        masters = [self._named_now(row) for row in sheet.master.changes.added]
        groups = same_rows(sheet.now.known, masters, sides, sheet.master_name)
        self._other_labels(groups)
        for group in groups:
            if group[0][0] != sheet.master_name or len(group) > 1:
                self._together(group)

    def _named_now(self, row: NewRow) -> NewRow:
        """Return a row that names others by what they are called in the merged workbook."""
        names = {key: self._on.sheet.label_now(key, cell.meaning) for key, cell in row.cells.items()}
        if not any(names.values()):
            return row
        cells = {
            key: cell if (name := names[key]) is None else SideCell(name, name, cell.place)
            for key, cell in row.cells.items()
        }
        return replace(row, cells=cells)

    def _other_labels(self, groups: Sequence[Sequence[Added]]) -> None:
        """Let all labels that sides gave to one new row lead to the one that it keeps."""
        sheet = self._on.sheet
        key = self._on.label
        if key is None:
            return
        given = [[(n, row.cells[key]) for n, row in group if key in row.cells] for group in groups]
        used = Counter(folded(str(one)) for one in sheet.base.meanings.get(key, ()) if one is not None)
        used.update(label for some in given for label in {folded(str(cell.meaning)) for _, cell in some})
        for some in given:
            sides = side_values(some)
            kept = str(meaning_of(self._kept_label(sides).value)) if len(sides) > 1 else ""
            for one in sides if kept else ():
                label = folded(str(meaning_of(one.value)))
                if used[label] == 1 and label != folded(kept):
                    self._on.labels.now[label] = kept

    def _kept_label(self, sides: Sequence[SideValue]) -> SideValue:
        """Return the label that a row has until somebody decides: the master's, else the first by letters."""
        masters = [one for one in sides if self._on.sheet.master_name in one.sources]
        return masters[0] if masters else min(sides, key=lambda one: str(one.value))

    def _spelt_once(self, key: Key, votes: Sequence[Vote]) -> Sequence[Vote]:
        """Spell in one way what a row is recognised by, the master's or else the first by letters.

        Rows are recognised whatever the letter case and the blanks, so these are no conflict.
        """
        sheet = self._on.sheet
        known = sheet.now.known
        if known is None or key[1] or not any(key[0] in one for one in known.identity):
            return votes
        spelt: dict[str, Vote] = {}
        for name, cell in sorted(votes, key=lambda one: (one[0] != sheet.master_name, str(one[1].meaning))):
            if isinstance(cell.meaning, str):
                spelt.setdefault(folded(cell.meaning), (name, cell))
        firsts = {label: cell for label, (_, cell) in spelt.items()}
        return [
            (
                name,
                replace(firsts[folded(cell.meaning)], place=cell.place)
                if isinstance(cell.meaning, str)
                else cell,
            )
            for name, cell in votes
        ]

    def _together(self, group: Sequence[Added]) -> None:
        """Decide on a row that one or several sides added, the master among them or not."""
        sheet = self._on.sheet
        name, first = group[0]
        now = sheet.now.rows.index(first.row) if name == sheet.master_name else None
        votes: dict[Key, list[Vote]] = {}
        for side, added in group:
            for key, cell in added.cells.items():
                votes.setdefault(key, []).append((side, cell))
        wanted = {key: self._on.wanted(key, self._spelt_once(key, some), now) for key, some in votes.items()}
        cells = {key: sides[0] for key, sides in wanted.items() if len(sides) == 1}
        label = self._on.label
        if label is not None and len(wanted.get(label, ())) > 1:
            # Without any label the row would be nobody's.
            cells[label] = self._kept_label(wanted[label])
        if now is None:
            row = self._on.new_row(cells)
            self._on.append(row, cells, [side for side, _ in group])
        else:
            row = sheet.masters_row(now, {key: one.value for key, one in cells.items()})
            for key, one in cells.items():
                if sheet.master_name not in one.sources:
                    self._on.take(row, key, "", one)
            self._on.result.decided |= {(now, key) for key in votes}
        for key, sides in wanted.items():
            if len(sides) > 1:
                self._on.conflict(row, key, cells[key].value if key in cells else "", sides)
