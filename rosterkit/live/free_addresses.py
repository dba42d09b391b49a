"""Blocks of the sheet Live that rank the free addresses near a number as the command ``free`` does.

Candidates stand below one another: what the digits of the number can be made into, all short addresses, and
the nearest long ones, those in the member's own ranges first. Where a list ends before it has seen all,
nothing is offered that could come after an address it has not seen.
"""

from rosterkit.cv.address_sentences import IN_RULING, LOWEST, NEAREST, NEXT, OWN_RANGE
from rosterkit.cv.number_to_address import (
    BY_RULE,
    DROPPED,
    ITSELF,
    LAST_FOUR,
    RULES,
    SHORTENED,
    THOUSAND,
    Choice,
)
from rosterkit.live.asked_address import TITLE, has_answers
from rosterkit.live.inputs import INPUTS
from rosterkit.live.machinery import FIRST_ROW, Block, LiveCell, Machinery
from rosterkit.live.places import Places
from rosterkit.live.ranges import SPARE, segment
from rosterkit.live.settings import CHOICES, chosen, layout_setting, setting
from rosterkit.live.specimens import worded
from rosterkit.live.writing import choice, column_range, is_digits, key, quoted, sentence, spellings, text
from rosterkit.roster.schema import sheet
from rosterkit.standards.addresses import (
    DEFAULT_SHORT_ADDRESS,
    KIND_DIFFERS,
    LONG_ADDRESSES,
    SHORT_ADDRESSES,
    USUAL_LONG_ADDRESSES,
)
from rosterkit.standards.consists import CONSIST_ADDRESSES

OFFERED = 10
"""Addresses that are offered at most."""
NEAREST_LONG = 127
"""Long addresses that are looked at around the number, and as many again in the member's own ranges."""
_CELLS = (
    "digits",
    "usable",
    "reference",
    "kind",
    "member",
    "rules",
    "rule",
    "short first",
    "short last",
    "long first",
    "long last",
    "outside short",
    "outside long",
    "for consists",
    "limit",
)
_ANY, _SHORT, _LONG, _CONSIST, _OTHER = range(5)
"""What kind is wanted; between the first and the last, kinds of ranges have the same numbers."""
_UP, _DOWN = 99999, -99999
"""Beyond all addresses."""
_OWN_SHORT, _OWN_LONG, _REST, _NONE = 1 * 10**8, 2 * 10**8, 3 * 10**8, 9 * 10**8
"""Where the ranks of each group begin, behind those of the digits; and the rank of what is not free."""
_RULES = (*RULES, None)
_LONGEST = 6
"""Digits of a number at most."""


def free_blocks(places: Places, ranges: int) -> list[Block]:
    """Declare the blocks for a workbook with so many rows of ranges, spare ones included, 0 for none."""
    if not has_answers(places):
        return []
    return [
        Block(name="wanted", columns=("value",), rows=len(_CELLS)),
        Block(
            name="offers",
            columns=("member", "engines", "own", "consists", "else", "offered"),
            rows=max(1, ranges),
        ),
        Block(
            name="open",
            columns=("first", "last", "own first", "own last"),
            rows=2 * ranges + 1 if ranges else 1,
        ),
        Block(
            name="candidates",
            columns=("up", "down", "number", "open", "free", "rank", "why"),
            rows=len(_guesses()) + len(SHORT_ADDRESSES) + 2 * NEAREST_LONG,
        ),
        Block(name="found", columns=("rank", "number", "ruling"), rows=OFFERED),
    ]


def fill_free(machinery: Machinery, places: Places) -> None:
    """Fill the blocks, if they were declared."""
    if "candidates" not in machinery:
        return
    _fill_wanted(machinery)
    _fill_offers(machinery, places)
    _fill_open(machinery)
    _fill_guesses(machinery, places)
    _fill_shorts(machinery, places)
    _fill_walk(machinery, places, own=True)
    _fill_walk(machinery, places, own=False)
    _fill_found(machinery)


def offered(machinery: Machinery, place: int) -> str:
    """Return the free address at a place from 1, in words; an empty text where there are fewer."""
    number = machinery.one("found", "number", place - 1)
    kind = f'IF({_ref(machinery, "kind")}={_CONSIST},"consist ",IF({number}>0,"short ","long "))'
    return f'IF({number}="","",{kind}&ABS({number}))'


def why_offered(machinery: Machinery, place: int) -> str:
    """Say why the address stands at this place of the list."""
    number, rank, ruling = (machinery.one("found", name, place - 1) for name in ("number", "rank", "ruling"))
    at = f"MATCH({rank},{machinery.whole('candidates', 'rank')},0)"
    guessed = f"INDEX({machinery.whole('candidates', 'why')},{at})"
    if "ranges" in machinery:
        ends = f"INDEX({machinery.whole('ranges', 'ends')},{ruling})"
        member = f"{quoted(machinery.title)}{INPUTS['member'].reference}"
        own = sentence(OWN_RANGE, member=f"TRIM({member})", ruling=ends)
        behind = f'IF({ruling}=0,"",{sentence(IN_RULING.removeprefix("{why}"), ruling=ends)})'
    else:
        own = behind = '""'
    before = machinery.one("found", "rank", place - 2) if place > 1 else "0"
    lowest = f"IF({before}<{_REST},{text(LOWEST)},{text(NEXT)})"
    near = sentence(NEAREST, reference=_ref(machinery, "reference"))
    rest = f'IF({_ref(machinery, "digits")}="",{lowest},{near})&{behind}'
    return f'IF({number}="","",IF({rank}<{_OWN_SHORT},{guessed},IF({rank}<{_REST},{own},{rest})))'


def free_words(machinery: Machinery) -> str:
    """Say why there are no addresses, or fewer than there may be; an empty text where all is well."""
    usable, kind, limit = (_ref(machinery, name) for name in ("usable", "kind", "limit"))
    first, last = (machinery.one("found", "number", at) for at in (0, OFFERED - 1))
    unusable = text("here a whole number of at most six digits; 'rosterkit free --near' takes others")
    other = text("kinds here are short, long and consist; 'rosterkit free' has accessories as well")
    ended = f'IF({first}="",{text("no address is free")},{text("no other address is free")})'
    seen = f'IF({last}<>"","",IF({limit}<{_NONE}-1,{text(_FURTHER)},{ended}))'
    return f"IF({usable}=0,{unusable},IF({kind}={_OTHER},{other},{seen}))"


_FURTHER = "further ones are too far away to be listed here; 'rosterkit free' lists them"


def _ref(machinery: Machinery, name: str) -> str:
    return machinery.one("wanted", "value", _CELLS.index(name))


def _input(machinery: Machinery, name: str) -> str:
    return f"{quoted(machinery.title)}{INPUTS[name].reference}"


def _fill_wanted(machinery: Machinery) -> None:
    digits, kind = _ref(machinery, "digits"), _ref(machinery, "kind")
    number = f"VALUE({digits})"
    is_number = f"AND(LEN({digits})<={_LONGEST},{is_digits(digits)})"
    is_address = f"AND({number}>={LONG_ADDRESSES[0]},{number}<={LONG_ADDRESSES[-1]})"
    reference = f"IF({is_address},{number},VALUE(RIGHT({digits},4)))"
    in_order = (_SHORT, _LONG, _CONSIST, _OTHER, _ANY)
    typed = chosen(machinery, "range_kind", _input(machinery, "free_kind"))
    numbered = f"CHOOSE(1+{typed},{','.join(map(str, in_order))})"
    rule = choice(layout_setting(machinery, "address_rule"), _ref(machinery, "rules"))
    by_number = f"IF({kind}={_ANY},{setting(machinery, 'first_long')}-1,{KIND_DIFFERS.start - 1})"
    short_last = f"MIN({KIND_DIFFERS.start - 1},{setting(machinery, 'short_last')},{by_number})"
    long_first = f"MAX({USUAL_LONG_ADDRESSES[0]},{setting(machinery, 'long_first')})"
    long_last = f"MIN({USUAL_LONG_ADDRESSES[-1]},{setting(machinery, 'long_last')})"
    no_long = f"OR({kind}={_SHORT},{kind}>={_CONSIST})"
    no_short = f"OR({kind}={_LONG},{kind}={_OTHER})"
    formulas = {
        "digits": f"TRIM({_input(machinery, 'near')})",
        "usable": f'IF({digits}="",1,IF({is_number},1,0))',
        "reference": f'IF(OR({digits}="",{_ref(machinery, "usable")}=0),0,{reference})',
        "kind": f"IFERROR({numbered},{_OTHER})",
        "member": key(_input(machinery, "member")),
        "rule": f"IFERROR({rule},{len(RULES)})",
        "short first": f"IF({kind}={_CONSIST},{CONSIST_ADDRESSES[0]},{setting(machinery, 'short_first')})",
        "short last": f"IF({no_short},0,IF({kind}={_CONSIST},{CONSIST_ADDRESSES[-1]},{short_last}))",
        "long first": long_first,
        "long last": f"IF({no_long},0,{long_last})",
        **_outside(machinery, kind),
        "limit": _limit(machinery),
    }
    cells = [LiveCell(formula=formulas.get(name)) for name in _CELLS]
    listed = spellings(sheet("Layout")["address_rule"], _RULES)
    cells[_CELLS.index("rules")] = LiveCell(value=listed)
    machinery.put("wanted", "value", cells)


def _outside(machinery: Machinery, kind: str) -> dict[str, str]:
    """Tell of each kind whether addresses that no range holds may be used; and if ranges for consists may."""
    if "ranges" not in machinery:
        return {"outside short": "1", "outside long": "1", "for consists": "0"}
    kinds = machinery.whole("ranges", "kind")
    engines, consists = (machinery.whole("offers", name) for name in ("engines", "consists"))
    # Of a range that is kept for consists, 2 stands for one of another member.
    any_kept = f"SUMPRODUCT(({consists}>0)*1)"
    short, long = (f"IF(SUMPRODUCT(({kinds}={one})*{engines})=0,1,0)" for one in (_SHORT, _LONG))
    return {
        "outside short": f"IF({kind}={_CONSIST},IF({any_kept}=0,1,0),{short})",
        "outside long": long,
        "for consists": f"SUMPRODUCT(({consists}=1)*1)",
    }


def _fill_offers(machinery: Machinery, places: Places) -> None:
    """Tell of each range to whom it gives addresses: 1 for the member, 0 not; 2 for consists of others."""
    if "ranges" not in machinery:
        return
    place = places["Address ranges"]
    kind, use, begin = (
        f"INDEX({machinery.whole('ranges', name)},{machinery.place()})" for name in ("kind", "use", "begin")
    )
    uses = CHOICES["range_use"][2]
    engines, lent, consists, never = (
        uses.index(one) + 1 for one in ("engines", "meet only", "consists", "never")
    )
    whose = '"k"'
    if "member" in place.columns:
        whose = key(
            f"INDEX({column_range(place, 'member', titled=True, beyond=SPARE)},{machinery.place()}+1)"
        )
    machinery.fill("offers", "member", whose)
    of, member = machinery.here("offers", "member"), _ref(machinery, "member")
    usable, mine = f"{begin}<{_UP}", f'OR({of}="k",{of}={member})'
    is_consist = f"{kind}={_CONSIST}"

    def flag(*conditions: str) -> str:
        return f"IF(AND({','.join(conditions)}),1,0)"

    machinery.fill("offers", "engines", flag(usable, f"{kind}<>{_CONSIST}", f"{use}={engines}", mine))
    to_engines = f"OR({use}={engines},{use}={lent})"
    machinery.fill(
        "offers", "own", flag(usable, f"{kind}<>{_CONSIST}", to_engines, f'{of}<>"k"', f"{of}={member}")
    )
    kept = f"OR({use}={consists},AND({is_consist},{use}<>{never}))"
    for_consists = f"AND({usable},{kind}<>{_LONG},{kept})"
    machinery.fill("offers", "consists", f"IF({for_consists},IF({mine},1,2),0)")
    machinery.fill("offers", "else", flag(usable, f"{kind}<>{_LONG}", to_engines, mine))
    here = {name: machinery.here("offers", name) for name in ("engines", "consists", "else")}
    for_one = f"IF({_ref(machinery, 'for consists')}>0,IF({here['consists']}=1,1,0),{here['else']})"
    wanted = f"IF({_ref(machinery, 'kind')}={_CONSIST},{for_one},{here['engines']})"
    machinery.fill("offers", "offered", wanted)


def _fill_open(machinery: Machinery) -> None:
    """Turn the segments into stretches of long addresses that the member may use."""
    low, high = _ref(machinery, "long first"), _ref(machinery, "long last")
    first, last = (machinery.here("open", name) for name in ("first", "last"))
    if "segments" not in machinery:
        machinery.fill("open", "first", f"IF({low}>{high},{_UP},{low})")
        machinery.fill("open", "last", f"IF({low}>{high},{_DOWN},{high})")
        machinery.fill("open", "own first", str(_UP))
        machinery.fill("open", "own last", str(_DOWN))
        return
    begins, place = machinery.whole("segments", "begin"), machinery.place()
    begin, row = (f"INDEX({machinery.whole('segments', name)},{place})" for name in ("begin", "range"))
    rows = 2 * _rows(machinery, "offers") + 1
    following = f"IF({place}={rows},{_UP},INDEX({begins},MIN({rows},{place}+1)))"
    of_range = f"INDEX({machinery.whole('offers', 'offered')},MAX(1,{row}))"
    may = f"IF({row}=0,{_ref(machinery, 'outside long')},{of_range})"
    lowest, highest = f"MAX(1-{following},{low})", f"MIN(-{begin},{high})"
    is_open = f"IF({may}=1,{lowest}<={highest},FALSE)"
    machinery.fill("open", "first", f"IF({is_open},{lowest},{_UP})")
    machinery.fill("open", "last", f"IF({first}={_UP},{_DOWN},{highest})")
    starts, behind, own = (
        machinery.whole("ranges", "begin"),
        machinery.whole("ranges", "behind"),
        machinery.whole("offers", "own"),
    )
    is_own = f"SUMPRODUCT(({starts}<={begin})*({behind}>{begin})*{own})>0"
    machinery.fill("open", "own first", f"IF({first}={_UP},{_UP},IF({is_own},{first},{_UP}))")
    own_first = machinery.here("open", "own first")
    machinery.fill("open", "own last", f"IF({own_first}={_UP},{_DOWN},{last})")


def _rows(machinery: Machinery, block: str) -> int:
    return next(one.rows for one in machinery.blocks if one.name == block)


def _fill_part(machinery: Machinery, name: str, first: int, count: int, template: str) -> None:
    """Fill some rows of the candidates down."""
    column = machinery.column("candidates", name)
    for row in range(FIRST_ROW + first, FIRST_ROW + first + count):
        machinery.cells[row, column] = LiveCell(formula=template.replace("{r}", str(row)))


def _part(machinery: Machinery, name: str, first: int, count: int) -> str:
    """Refer to some rows of a column of the candidates."""
    top = machinery.one("candidates", name, first)
    return f"{top}:{machinery.one('candidates', name, first + count - 1).rpartition('!')[2]}"


def _guesses() -> list[tuple[str, str, str]]:
    """Return condition, number and reason of each guess, in which D stands for the digits, R for the rule."""
    some = [("TRUE", "D", Choice(1, ITSELF, "54321", "").because)]
    kept = f"CHOOSE(1+R,{','.join(str(many) for many in RULES.values())},0)"
    some.append((f"R<{len(RULES)}", f"RIGHT(D,{kept})", Choice(1, BY_RULE, "54321", "no rule").because))
    some.append(("LEN(D)>4", "RIGHT(D,4)", Choice(1, LAST_FOUR, "54321", "").because))
    dropped = Choice(777, DROPPED, "54321", "").because
    for place in range(1, 6):
        short_enough = f"AND(LEN(D)>2,LEN(D)<6,LEN(D)>={place})"
        some.append((short_enough, f"LEFT(D,{place - 1})&MID(D,{place + 1},9)", dropped))
    for thousand in range(1000, 10000, 1000):
        added = Choice(321 + thousand, THOUSAND, "54321", "").because
        some.append(("TRUE", f"{thousand}+VALUE(RIGHT(D,3))", added))
    for many in (3, 2):
        number = 321 if many == 3 else 21
        because = Choice(number, SHORTENED, "54321", "").because
        some.append((f"LEN(D)>{many}", f"RIGHT(D,{many})", because))
    return some


def _grade(at: int) -> int:
    return [ITSELF, BY_RULE, LAST_FOUR, *[DROPPED] * 5, *[THOUSAND] * 9, *[SHORTENED] * 2][at]


def _signed(machinery: Machinery, number: str) -> str:
    """Return a number as Answers has it, of the kind that is wanted or that it is taken for."""
    kind = _ref(machinery, "kind")
    long = f"OR({kind}={_LONG},AND({kind}={_ANY},{number}>={setting(machinery, 'first_long')}))"
    return f"IF({long},-{number},{number})"


def _fill_guesses(machinery: Machinery, places: Places) -> None:
    digits, rule, reference = (_ref(machinery, name) for name in ("digits", "rule", "reference"))
    column = {name: machinery.column("candidates", name) for name in ("number", "open", "rank", "why")}
    numbers_above = _part(machinery, "number", 0, 1).partition(":")[0]
    lasts, firsts = machinery.whole("open", "last"), machinery.whole("open", "first")
    shorts = _part(machinery, "open", len(_guesses()), len(SHORT_ADDRESSES))
    names = [*RULES, ""]
    for at, (condition, digits_kept, because) in enumerate(_guesses()):
        row = FIRST_ROW + at

        def filled(words: str) -> str:
            return (
                words.replace("LEN(D)", f"LEN({digits})")
                .replace("(D,", f"({digits},")
                .replace("R<", f"{rule}<")
                .replace("1+R", f"1+{rule}")
            )

        value = digits if digits_kept == "D" else filled(digits_kept)
        number = f"VALUE({value})"
        in_range = f"AND({number}>={LONG_ADDRESSES[0]},{number}<={LONG_ADDRESSES[-1]})"
        found = f"IF({in_range},{_signed(machinery, number)},0)"
        asked = f'OR({digits}="",{_ref(machinery, "usable")}=0,{_ref(machinery, "kind")}>={_CONSIST})'
        here = machinery.one("candidates", "number", at)
        machinery.cells[row, column["number"]] = LiveCell(
            formula=f"IF({asked},0,IF(VALUE({digits})=0,0,IF({filled(condition)},IFERROR({found},0),0)))"
        )
        short = (
            f"IF({here}<={SHORT_ADDRESSES[-1]},INDEX({shorts},MAX(1,MIN({SHORT_ADDRESSES[-1]},{here}))),0)"
        )
        long = f"SUMPRODUCT(({firsts}<=-{here})*({lasts}>=-{here}))"
        machinery.cells[row, column["open"]] = LiveCell(formula=f"IF({here}=0,0,IF({here}>0,{short},{long}))")
        rank = f"{_grade(at)}*10000000+ABS(ABS({here})-{reference})*100+{at}"
        if at:
            above = f"{numbers_above}:{machinery.one('candidates', 'number', at - 1).rpartition('!')[2]}"
            once = f"IF(COUNTIF({above},{here})=0,{rank},{_NONE})"
        else:
            once = rank
        free = machinery.one("candidates", "free", at)
        machinery.cells[row, column["rank"]] = LiveCell(formula=f"IF({free}=1,{once},{_NONE})")
        words = _guess_words(because, digits, here, _grade(at))
        if _grade(at) == BY_RULE:
            listed = ",".join(text(one) for one in names)
            words = words.replace(
                text("the no rule of "), f"{text('the ')}&CHOOSE(1+{rule},{listed})&{text(' of ')}"
            )
        machinery.cells[row, column["why"]] = LiveCell(formula=f'IF({here}=0,"",{words})')
    _fill_part(machinery, "free", 0, len(_guesses()), _free(machinery, places))


def _guess_words(because: str, digits: str, number: str, grade: int) -> str:
    if grade == THOUSAND:
        return worded(because, {"321": f"VALUE(RIGHT({digits},3))"})
    parts = {"54321": digits}
    return worded(because, parts | ({"777": f"ABS({number})"} if grade == DROPPED else {}))


def _free(machinery: Machinery, places: Places) -> str:
    """Tell whether a candidate that may be used is nobody's, at home, at a meet or in a consist."""
    number, is_open = (machinery.here("candidates", name) for name in ("number", "open"))
    counted = [f"COUNTIF({column_range(places[TITLE], 'answers', titled=True)},{number})"]
    if "meet addresses" in machinery:
        counted.append(f"COUNTIF({machinery.whole('meet addresses', 'answers')},{number})")
    if "consists" in machinery:
        # Consists up to 127 use the numbers of short addresses, others those of long ones.
        consists = f"COUNTIF({machinery.whole('consists', 'address')},ABS({number}))"
        counted.append(f"IF(({number}>0)=(ABS({number})<={CONSIST_ADDRESSES[-1]}),{consists},0)")
    return f"IF({is_open}=0,0,IF({'+'.join(counted)}=0,1,0))"


def _fill_shorts(machinery: Machinery, places: Places) -> None:
    first, count = len(_guesses()), len(SHORT_ADDRESSES)
    reference, kind = _ref(machinery, "reference"), _ref(machinery, "kind")
    number, free = (machinery.here("candidates", name) for name in ("number", "free"))
    low, high, outside = (_ref(machinery, name) for name in ("short first", "short last", "outside short"))
    _fill_part(machinery, "number", first, count, f"ROW()-{FIRST_ROW + first - 1}")
    own, may = "0", outside
    if "ranges" in machinery:
        row = segment(machinery, number, "range")
        may = f"IF({row}=0,{outside},INDEX({machinery.whole('offers', 'offered')},MAX(1,{row})))"
        begin, behind = machinery.whole("ranges", "begin"), machinery.whole("ranges", "behind")
        own = f"SUMPRODUCT(({begin}<={number})*({behind}>{number})*{machinery.whole('offers', 'own')})"
        own = f"IF({kind}={_CONSIST},0,{own})"
    usable = f"AND({number}>={low},{number}<={high},{number}<>{DEFAULT_SHORT_ADDRESS})"
    _fill_part(machinery, "open", first, count, f"IF({usable},{may},0)")
    _fill_part(machinery, "free", first, count, _free(machinery, places))
    distance = f"4*ABS({number}-{reference})+IF({number}>{reference},1,0)"
    rank = f"{distance}+IF({own}>0,{_OWN_SHORT},{_REST}+2)"
    guessed = f"COUNTIF({_part(machinery, 'number', 0, first)},{number})"
    _fill_part(machinery, "rank", first, count, f"IF({free}=0,{_NONE},IF({guessed}>0,{_NONE},{rank}))")


def _walk_start(*, own: bool) -> int:
    return len(_guesses()) + len(SHORT_ADDRESSES) + (0 if own else NEAREST_LONG)


def _fill_walk(machinery: Machinery, places: Places, *, own: bool) -> None:
    """Go outward from the number over all long addresses that may be used, the nearest first."""
    first = _walk_start(own=own)
    reference = _ref(machinery, "reference")
    begin, end = ("own first", "own last") if own else ("first", "last")
    firsts, lasts = machinery.whole("open", begin), machinery.whole("open", end)
    up, down, number, free = (machinery.here("candidates", name) for name in ("up", "down", "number", "free"))

    def upward(beyond: str) -> str:
        inside = f"SUMPRODUCT(({firsts}<={beyond}+1)*({lasts}>={beyond}+1))>0"
        following = f"IFERROR(SMALL({firsts},SUMPRODUCT(({firsts}<={beyond}+1)*1)+1),{_UP})"
        return f"IF({beyond}>={_UP},{_UP},IF({inside},{beyond}+1,{following}))"

    def downward(beyond: str) -> str:
        inside = f"SUMPRODUCT(({firsts}<={beyond}-1)*({lasts}>={beyond}-1))>0"
        following = f"IFERROR(LARGE({lasts},SUMPRODUCT(({lasts}>={beyond}-1)*1)+1),{_DOWN})"
        return f"IF({beyond}<={_DOWN},{_DOWN},IF({inside},{beyond}-1,{following}))"

    _fill_part(machinery, "up", first, 1, upward(f"({reference}-1)"))
    _fill_part(machinery, "down", first, 1, downward(reference))
    column = {name: machinery.column("candidates", name) for name in ("up", "down")}
    for at in range(first + 1, first + NEAREST_LONG):
        before = {name: machinery.one("candidates", name, at - 1) for name in ("up", "down", "number")}
        for name, onward in (("up", upward), ("down", downward)):
            taken = f"-{before['number']}={before[name]}"
            machinery.cells[FIRST_ROW + at, column[name]] = LiveCell(
                formula=f"IF({taken},{onward(before[name])},{before[name]})"
            )
    none = f"AND({up}={_UP},{down}={_DOWN})"
    nearer = f"IF({reference}-{down}<={up}-{reference},{down},{up})"
    _fill_part(machinery, "number", first, NEAREST_LONG, f"IF({none},0,-{nearer})")
    _fill_part(machinery, "open", first, NEAREST_LONG, f"IF({number}=0,0,1)")
    _fill_part(machinery, "free", first, NEAREST_LONG, _free(machinery, places))
    before_shorts = _part(machinery, "number", 0, len(_guesses()))
    known = f"COUNTIF({before_shorts},{number})"
    if own:
        rank = f"{_OWN_LONG}+ROW()"
    else:
        known += f"+COUNTIF({_part(machinery, 'number', _walk_start(own=True), NEAREST_LONG)},{number})"
        rank = f"{_REST}+4*ABS(-{number}-{reference})+IF(-{number}>{reference},1,0)"
    _fill_part(machinery, "rank", first, NEAREST_LONG, f"IF({free}=0,{_NONE},IF({known}>0,{_NONE},{rank}))")


def _limit(machinery: Machinery) -> str:
    """Return the rank up to which nothing can be missing between the candidates."""
    own, other = (
        machinery.one("candidates", "number", _walk_start(own=one) + NEAREST_LONG - 1)
        for one in (True, False)
    )
    reference = _ref(machinery, "reference")
    last = f"{_REST}+4*ABS(-{other}-{reference})+IF(-{other}>{reference},1,0)"
    return f"IF({own}<>0,{_REST}-1,IF({other}<>0,{last},{_NONE}-1))"


def _fill_found(machinery: Machinery) -> None:
    ranks, numbers = machinery.whole("candidates", "rank"), machinery.whole("candidates", "number")
    machinery.fill("found", "rank", f"SMALL({ranks},{machinery.place()})")
    rank, number = machinery.here("found", "rank"), machinery.here("found", "number")
    unusable = f"OR({_ref(machinery, 'usable')}=0,{_ref(machinery, 'kind')}={_OTHER})"
    beyond = f"{rank}>{_ref(machinery, 'limit')}"
    machinery.fill(
        "found", "number", f'IF(OR({unusable},{beyond}),"",INDEX({numbers},MATCH({rank},{ranks},0)))'
    )
    ruling = segment(machinery, number, "range") if "segments" in machinery else "0"
    machinery.fill("found", "ruling", f'IF({number}="",0,{ruling})')
