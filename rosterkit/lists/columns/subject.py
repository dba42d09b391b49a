"""Whether a table that is no sheet of ours is about engines."""

from collections.abc import Collection, Mapping

from rosterkit.lists.columns.context import MOSTLY, SAME, Context
from rosterkit.lists.columns.titles import names_engines
from rosterkit.lists.columns.values import is_kind_of_engine
from rosterkit.lists.reading import PAIR_CV, PAIR_VALUE
from rosterkit.lists.vocabulary import folded_heading, subjects_of
from rosterkit.roster.schema import folded

_NAMES = frozenset({"loco", "engine", "number"})
_DIGITAL = frozenset({"address", "decoder", "address_kind", "speed_steps", "direction", PAIR_VALUE})
_CONSISTS = ("consist", "traktion", "doppeltraktion", "multi")
_OF_ENGINES_ONLY = frozenset({"railway", "direction", "speed_steps", "length", "stall", "dc_operation"})
_TOLD_ONCE = frozenset({"address", "decoder", "address_kind", "owner", PAIR_VALUE})
_SEVERAL = 4
_NEARLY_ALL = 0.8
_OFTEN = 6
_REPEATED = 0.5
"""In a log of so many rows (or several of another table) at most this share of the names is different."""
_DESCRIBED = frozenset({"model", "decoder", "railway", "length", "speed_steps"})
"""What tells engines apart, together with their addresses, where nothing names them."""
_ENGINE_WORDS = (
    "loco", "engine", "lok", "locomotive", "locomotiva", "locomotora", "machine", "triebfahrzeug", "tfz",
    "roster", "loc", "parowoz", "fleet", "cab",
)  # fmt: skip
_OTHER_THINGS = (
    "wagon", "wagons", "wagen", "car", "cars", "coach", "coaches", "rolling", "turnout", "turnouts",
    "weichen", "switches", "accessories", "wissels", "aiguilles", "book", "books",
    "magazine", "magazines", "members", "mitglieder", "buildings", "structures",
)  # fmt: skip


def why_no_engines(context: Context, fields: Mapping[int, str], elsewhere: Collection[str]) -> str:
    """Return why a table is not about engines; blank if it is.

    ``fields`` are what its headings are read as, by their numbers; ``elsewhere`` are the labels, folded, of
    engines in other tables.
    """
    read = set(fields.values())
    other = _why_of_others(context, read)
    if other or {PAIR_CV, PAIR_VALUE} <= read:
        return other
    if _is_log(context, fields):
        return "it names the same engines over and over, on different days"
    cvs = any(field.startswith("cv:") for field in read)
    if not (_TOLD_ONCE & read or cvs) and _names_again(context, fields):
        return "it has several rows for one engine, and neither addresses nor decoders nor CVs"
    if _DIGITAL & read or cvs:
        return ""
    if _tells_more(context, fields, elsewhere):
        return "it says more of engines that another table has, in several rows for one engine"
    if _speaks_of_engines(context):
        return ""
    if _has_kinds(context, fields):
        return ""
    return "it has neither addresses nor decoders nor CVs, and no heading speaks of engines"


def _why_of_others(context: Context, read: set[str]) -> str:
    """Return why a table is about something else, or names no engines; blank if it names some."""
    of_others = {title for one in context.table.headings for title in subjects_of(one.text)}
    if "Accessories" in of_others and not _OF_ENGINES_ONLY & read and not _speaks_of_engines(context):
        return "it is about turnouts, signals or other accessories"
    if "Consists" in of_others and any(word.startswith(_CONSISTS) for word in _title_words(context)):
        return "it is about consists"
    named = bool(_NAMES & read) or _is_named(context)
    if not named and ("address" not in read or of_others or not _DESCRIBED & read):
        if "decoder" in read and ("address" not in read or "Decoder types" in of_others):
            return "it is about decoders, and has no engines"
        return "no column names an engine"
    digital = "address" in read or any(field.startswith("cv:") for field in read)
    if not digital and _speaks_of_others(context) and not _speaks_of_engines(context):
        return "it is about something other than engines, by its title or its headings"
    return ""


def _names_again(context: Context, fields: Mapping[int, str]) -> bool:
    """Whether most engines stand there several times."""
    named = [context.contents[number] for number, field in fields.items() if field == "engine"]
    return any(len(one.texts) >= _SEVERAL and one.different <= _REPEATED for one in named)


def _tells_more(context: Context, fields: Mapping[int, str], elsewhere: Collection[str]) -> bool:
    """Whether some engines stand there several times, and all in another table."""
    named = [context.contents[number] for number, field in fields.items() if field in {"loco", "engine"}]
    return any(
        one.texts and one.different < 1.0 and one.share(lambda text: folded(text) in elsewhere) >= _NEARLY_ALL
        for one in named
    )


def labels_of(context: Context, fields: Mapping[int, str]) -> set[str]:
    """Return the labels of engines, folded, of a table that tells their addresses, decoders or CVs."""
    read = set(fields.values())
    if not (_DIGITAL & read or any(field.startswith("cv:") for field in read)):
        return set()
    named = (context.contents[number] for number, field in fields.items() if field in {"loco", "engine"})
    return {folded(text) for one in named for text in one.texts}


def _is_log(context: Context, fields: Mapping[int, str]) -> bool:
    """Whether most engines stand there several times, and each row has a day."""
    named = [context.contents[number] for number, field in fields.items() if field in {"loco", "engine"}]
    dated = any(one.dated > MOSTLY and one.filled > MOSTLY for one in context.contents)
    return dated and any(len(one.texts) >= _OFTEN and one.different <= _REPEATED for one in named)


def _is_named(context: Context) -> bool:
    """Whether forms have titles that name their engines, or lists of CVs."""
    titled = any(map(names_engines, context.table.headings, context.contents))
    return titled or any(record.pairs for record in context.table.records)


def _title_words(context: Context) -> list[str]:
    return folded_heading(context.table.sheet).split()


def _words(context: Context) -> set[str]:
    said = [*(one.text for one in context.table.headings), context.table.sheet]
    return {word.rstrip("s") for text in said for word in folded_heading(text).split()} | {
        word for text in said for word in folded_heading(text).split()
    }


def _speaks_of_engines(context: Context) -> bool:
    return any(word.startswith(_ENGINE_WORDS[:5]) or word in _ENGINE_WORDS for word in _words(context))


def _has_kinds(context: Context, fields: Mapping[int, str]) -> bool:
    """Whether what its engines are called is a kind of engine: Dampflok, switcher, 2-8-0."""
    models = [context.contents[number] for number, field in fields.items() if field == "model"]
    return any(one.share(is_kind_of_engine) >= SAME for one in models)


def _speaks_of_others(context: Context) -> bool:
    return bool(_words(context).intersection(_OTHER_THINGS))
