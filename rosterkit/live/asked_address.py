"""The block of the sheet Live for an address that somebody asks for, and what is said of it."""

from rosterkit.cv import address_sentences as said
from rosterkit.cv.addresses import Address, Space, kind_doubt
from rosterkit.cv.meanings import NEW_DECODERS
from rosterkit.live.engines import NEEDED, answered
from rosterkit.live.inputs import INPUTS
from rosterkit.live.machinery import Block, LiveCell, Machinery
from rosterkit.live.places import Places
from rosterkit.live.ranges import segment
from rosterkit.live.settings import CHOICES, TYPED, chosen, setting
from rosterkit.live.specimens import worded
from rosterkit.live.writing import SPACE, column_range, is_digits, quoted, sentence, text, whole
from rosterkit.roster.messages import SENTENCES
from rosterkit.roster.schema import sheet
from rosterkit.standards.addresses import (
    DEFAULT_SHORT_ADDRESS,
    KIND_DIFFERS,
    LONG_ADDRESSES,
    SHORT_ADDRESSES,
)

_CELLS = ("answers", "words", "engines")
TITLE = "Locomotives"
_MEET_ONLY = CHOICES["range_use"][2].index("meet only") + 1


def asked_blocks(places: Places) -> list[Block]:
    """Declare the block, and that of the addresses at meets."""
    blocks = [Block(name="asked", columns=("value",), rows=len(_CELLS))]
    place = places.get(TITLE)
    if place and "meet_address" in place.columns:
        rows = place.last_row - place.heading_row + 1
        blocks.append(Block(name="meet addresses", columns=("answers",), rows=rows))
    return blocks


def fill_asked(machinery: Machinery, places: Places) -> None:
    """Fill the blocks."""
    number, kind = (f"{quoted(machinery.title)}{INPUTS[name].reference}" for name in ("number", "kind"))
    answers = _ref(machinery, "answers")
    formulas = {
        "answers": f'IF({is_digits(f"TRIM({number})")},{answered(machinery, number, kind)},"")',
        "words": f'IF({answers}="","",IF({answers}>0,"short ","long ")&ABS({answers}))',
        "engines": _engines(places, answers),
    }
    machinery.put("asked", "value", [LiveCell(formula=formulas[name]) for name in _CELLS])
    if "meet addresses" in machinery:
        place = places[TITLE]
        typed = {
            name: f"INDEX({column_range(place, name, titled=True)},{machinery.place()}+1)"
            for name in ("meet_address", "meet_kind")
            if name in place.columns
        }
        at_meets = answered(machinery, typed["meet_address"], typed.get("meet_kind"))
        blank = f'TRIM({typed["meet_address"]})=""'
        machinery.fill("meet addresses", "answers", f'IF({blank},"",{at_meets})')


def has_answers(places: Places) -> bool:
    """Tell whether the workbook has the column that says what engines answer."""
    place = places.get(TITLE)
    return place is not None and {"answers", *NEEDED} <= place.columns.keys()


def in_words(machinery: Machinery) -> str:
    """Return the address in words, or say in the words of the findings why it is none."""
    address, kind = INPUTS["number"].reference, INPUTS["kind"].reference
    columns = sheet(TITLE)
    content, number = f"TRIM({address})", f"VALUE(TRIM({address}))"
    other, small, large = (
        sentence(SENTENCES[keyword](columns["address"], "{content}")[0], content=content)
        for keyword in ("type", "minimum", "maximum")
    )
    unknown = sentence(SENTENCES["enum"](columns["address_kind"], "{content}")[0], content=f"TRIM({kind})")
    last = str(SHORT_ADDRESSES[-1])
    no_short = said.NOT_OF_KIND.replace("{kind}", "short").replace("{last}", last)
    low, high = LONG_ADDRESSES[0], LONG_ADDRESSES[-1]
    judged = f"IF({number}<{low},{small},IF({number}>{high},{large},{sentence(no_short, number=number)}))"
    answers, words = _ref(machinery, "answers"), _ref(machinery, "words")
    no_kind = f"ISERROR({chosen(machinery, 'address_kind', kind)})"
    wrong = f"IF({is_digits(content)},IF({no_kind},{unknown},{judged}),{other})"
    return f'IF({content}="","",IF({answers}<>"",{words},{wrong}))'


def cv_of_asked(machinery: Machinery, cv: int) -> str:
    """Return CV1 of a short address, CV17 and CV18 of a long one."""
    answers = _ref(machinery, "answers")
    of_long = {17: f"192+INT(-{answers}/256)", 18: f"MOD(-{answers},256)"}
    value = f'IF({answers}>0,{answers},"")' if cv == 1 else f'IF({answers}<0,{of_long[cv]},"")'
    return f'IF({answers}="","",{value})'


def range_words(machinery: Machinery) -> str:
    """Say whose range the address is in, or what it is kept for."""
    answers, words = _ref(machinery, "answers"), _ref(machinery, "words")
    none = text("in no range of the sheet Address ranges")
    if "segments" not in machinery:
        return f'IF({answers}="","",{none})'
    kept, whose, row = (segment(machinery, answers, name) for name in ("kept", "whose", "range"))
    ends, use = (f"INDEX({machinery.whole('ranges', name)},{row})" for name in ("ends", "use"))
    lent = f'IF({use}={_MEET_ONLY},{text(f", {said.LENT}")},"")'
    # What is said of a member's range goes on with whose it is not.
    of_member = f"{words}&{SPACE}&LEFT({whose},LEN({whose})-1)&{lent}"
    of_all = f"{words}&{text(' is in ')}&{ends}&{lent}"
    ruled = f'IF({kept}<>"",{words}&{SPACE}&{kept},IF({whose}<>"",{of_member},{of_all}))'
    return f'IF({answers}="","",IF({row}=0,{none},{ruled}))'


def layout_words(machinery: Machinery) -> str:
    """Say whether the layout calls the address."""
    answers, words = _ref(machinery, "answers"), _ref(machinery, "words")
    parts = []
    for kind, number in (("short", answers), ("long", f"-{answers}")):
        low, high, outside = (setting(machinery, f"{kind}_{end}") for end in ("lowest", "highest", "outside"))
        wrong = f"OR({number}<{low},{number}>{high})"
        parts.append(f"IF({wrong},{words}&{SPACE}&{outside},{text('this layout calls it')})")
    return f'IF({answers}="","",IF({answers}>0,{",".join(parts)}))'


def engine_words(machinery: Machinery, places: Places) -> str:
    """Say on how many engines the address is, at home and at meets, with the label of the first."""
    answers, count = _ref(machinery, "answers"), _ref(machinery, "engines")
    if not has_answers(places):
        return '""'
    place = places[TITLE]
    columns = {name: column_range(place, name, titled=True) for name in ("answers", "loco")}
    at_home = _named(f"TRIM(INDEX({columns['loco']},MATCH({answers},{columns['answers']},0)))", count)
    home = f"IF({count}=0,{text('no engine has it')},{at_home})"
    at_meet = '""'
    if "meet addresses" in machinery:
        meets = machinery.whole("meet addresses", "answers")
        meet_count = f"COUNTIF({meets},{answers})"
        named = _named(f"TRIM(INDEX({columns['loco']},1+MATCH({answers},{meets},0)))", meet_count)
        at_meet = f'IF({meet_count}=0,"",{text("; for a meet: ")}&{named})'
    return f'IF({answers}="","",{home}&{at_meet})'


def consist_words(machinery: Machinery) -> str:
    """Say which consist has the address."""
    answers = _ref(machinery, "answers")
    none = text("no consist has it")
    if "consists" not in machinery:
        return f'IF({answers}="","",{none})'
    rails, names = (machinery.whole("consists", name) for name in ("answers", "named"))
    name = f"INDEX({names},MATCH({answers},{rails},0))"
    found = f"IF(COUNTIF({rails},{answers})=0,{none},{sentence(said.CONSIST, label=name)})"
    return f'IF({answers}="","",{found})'


def doubt_words(machinery: Machinery) -> str:
    """Say that new decoders have the address, or that systems differ on its kind and no layout says."""
    answers = _ref(machinery, "answers")
    default = text(said.STILL_DEFAULT.format(number=DEFAULT_SHORT_ADDRESS, decoders=NEW_DECODERS))
    short = worded(_doubt(Space.SHORT), {"short 105": answers, "long 105": answers})
    long = worded(_doubt(Space.LONG), {"long 105": f"ABS({answers})", "short 105": f"ABS({answers})"})
    doubt = (
        f"IF(AND({answers}>={KIND_DIFFERS.start},{answers}<={KIND_DIFFERS[-1]}),{short},"
        f'IF(AND({answers}<0,{answers}>={-SHORT_ADDRESSES[-1]}),{long},""))'
    )
    typed = machinery.one("typed", "as typed", TYPED.index("long_from"))
    by_number = f"(ABS({answers})<{setting(machinery, 'first_long')})=({answers}>0)"
    settled = f"IF(IFERROR({whole(typed)},0)>0,{by_number},FALSE)"
    rest = f'IF({settled},"",{doubt})'
    return f'IF({answers}="","",IF({answers}={DEFAULT_SHORT_ADDRESS},{default},{rest}))'


def _doubt(space: Space) -> str:
    words, fix = kind_doubt(Address(space, 105)) or ("", "")
    return f"{words}. {fix}"


def _ref(machinery: Machinery, name: str) -> str:
    return machinery.one("asked", "value", _CELLS.index(name))


def _engines(places: Places, answers: str) -> str:
    if not has_answers(places):
        return '""'
    return f'IF({answers}="","",COUNTIF({column_range(places[TITLE], "answers", titled=True)},{answers}))'


def _named(loco: str, count: str) -> str:
    """Name the first engine, and say how many more there are."""
    named = f'IF({loco}="",{text(said.NAMELESS)},"\'"&{loco}&"\'")'
    return f'{named}&IF({count}>1,{sentence(said.MORE, count=f"({count}-1)")},"")'
