"""Lists of CVs with nothing but a title: an engine's name above each, or as the title of its sheet."""

from rosterkit.lists.layout.cv_lists import CvList, cv_lists, skip_beside, spots_of
from rosterkit.lists.layout.forms import Form
from rosterkit.lists.layout.skipping import TITLE, Skips
from rosterkit.lists.layout.texts import is_number
from rosterkit.lists.layout.view import View


def titled_lists(view: View, skips: Skips) -> list[Form]:
    """Return a form for each list of CVs of a sheet that holds these and their titles only, else none."""
    lists = cv_lists(view)
    rest = view.without(spot for one in lists for spot in spots_of(one, view))
    if not lists or any(view.lines[one.line][0] != one.heading.place.column for one in lists):
        return []
    lone = [line for line in rest.order if len(view.lines[line]) == 1]
    if lone != rest.order or any(is_number(rest.located(line)[0].cell) for line in lone):
        return []
    forms, before = [], 0
    for found in lists:
        titles = [line for line in lone if before < line < found.line]
        before = found.last
        forms.append(_form(view, found, titles, skips))
    for line in lone:
        if line > before:
            skips.line(view, line, TITLE)
    return forms


def _form(view: View, found: CvList, titles: list[int], skips: Skips) -> Form:
    """Return one list as a form; the title next to it is its title, others above that are skipped."""
    for line in titles[:-1]:
        skips.line(view, line, TITLE)
    skip_beside(found, skips)
    title = view.located(titles[-1])[0] if titles else None
    return Form(
        view.sheet,
        titles[-1] if titles else found.line,
        found.heading.place.column,
        title=title,
        pairs=list(found.pairs),
        cv_heading=None if found.unsure else found.heading,
        value_heading=found.value_heading,
        label_position=found.heading.place.column,
    )
