"""Print how long a plan takes where thousands of engines crowd on one layout, and how much memory.

Run ``python -m tests.benchmarks.crowd [ENGINES...]``; without arguments 60, 300, 1,000, 3,000, 7,000, 10,366
(as many as there are addresses) and 30,000.
"""

import random
import resource
import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from types import MappingProxyType

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses import Consist, Engine, LayoutRules, NumberRange, plan_moves
from rosterkit.standards.addresses import SHORT_ADDRESSES

ENGINES = (60, 300, 1_000, 3_000, 7_000, 10_366, 30_000)

Meet = tuple[list[Engine], list[Consist], LayoutRules]

_CLUB = (
    NumberRange(kind="short", first=1, last=79, use="engines"),
    NumberRange(kind="consist", first=80, last=99, use="consists"),
    NumberRange(kind="long", first=128, last=9999, use="engines"),
    NumberRange(kind="long", first=9900, last=9999, use="meet only"),
    NumberRange(kind="long", first=200, last=299, use="devices"),
)


def numbered(engines: int, chance: random.Random) -> Meet:
    """Every number from 1 to 9999 is as likely."""
    return [_numbered(turn, chance.randrange(1, 10_000)) for turn in range(engines)], [], LayoutRules()


def popular(engines: int, chance: random.Random) -> Meet:
    """Half of the numbers are from 1000 to 3999."""
    numbers = [
        chance.choice((chance.randrange(1000, 9999), chance.randrange(1000, 4000))) for _ in range(engines)
    ]
    return [_numbered(turn, number) for turn, number in enumerate(numbers)], [], LayoutRules()


def unregistered(engines: int, chance: random.Random) -> Meet:
    """The same, and nobody has registered: who stays is up to the addresses that are left."""
    numbers = [
        chance.choice((chance.randrange(1000, 9999), chance.randrange(1000, 4000))) for _ in range(engines)
    ]
    rows = [Engine(key=str(turn), address=_at(one), number=str(one)) for turn, one in enumerate(numbers)]
    return rows, [], LayoutRules()


def unnumbered(engines: int, chance: random.Random) -> Meet:
    """No engine has a number, and the addresses are all among 1 to 3000."""
    rows = [
        Engine(key=str(turn), address=_at(chance.randrange(1, 3000)), registered=turn)
        for turn in range(engines)
    ]
    return rows, [], LayoutRules()


def mixed(engines: int, chance: random.Random) -> Meet:
    """Ranges by member, consists, short-only decoders, and engines without an address or a number."""
    members = engines // 60 + 1
    rows = [_mixed(turn, f"M{chance.randrange(members):03}", chance) for turn in range(engines)]
    consists = [
        Consist(
            key=f"C{turn}",
            address=Address(Space.SHORT, chance.randrange(1, 128)),
            engines=(str(2 * turn), str(2 * turn + 1)),
            owner=rows[2 * turn].owner,
            registered=turn,
        )
        for turn in range(min(engines // 100, 150))
    ]
    ranges = [
        NumberRange(kind="long", first=2000 + 10 * at, last=2009 + 10 * at, use="engines", member=f"M{at:03}")
        for at in range(min(members, 300))
    ]
    rules = LayoutRules(
        shorts=range(1, 100),
        longs=range(128, 10_000),
        address_rule="last four digits",
        ranges=(*_CLUB, *ranges),
    )
    return rows, consists, rules


def _numbered(turn: int, number: int) -> Engine:
    return Engine(key=str(turn), address=_at(number), number=str(number), registered=turn)


def _at(number: int) -> Address:
    return Address(Space.SHORT if number in SHORT_ADDRESSES else Space.LONG, number)


def _mixed(turn: int, owner: str, chance: random.Random) -> Engine:
    four, five = str(chance.randrange(1, 10_000)), str(chance.randrange(10_000, 99_999))
    number = chance.choice((None, four, four, five, f"Class {turn % 40} No. {chance.randrange(10, 90)}"))
    kind = chance.random()
    long = (
        int(number[-4:]) if number in (four, five) and chance.random() < 0.8 else chance.randrange(128, 9999)
    )
    address = None if kind < 0.1 else _at(chance.randrange(1, 128)) if kind < 0.25 else _at(max(long, 128))
    return Engine(
        key=str(turn),
        address=address,
        number=number,
        owner=owner,
        takes_long=chance.random() > 0.05,
        club=chance.random() < 0.05,
        registered=chance.randrange(1000),
    )


MEETS: MappingProxyType[str, Callable[[int, random.Random], Meet]] = MappingProxyType(
    {one.__name__: one for one in (numbered, popular, unregistered, unnumbered, mixed)}
)


def planned(meet: str, engines: int) -> str:
    """Plan a meet, and give what came of it: clashes, engines moved, engines left, seconds, MiB at most."""
    rows, consists, rules = MEETS[meet](engines, random.Random(2026))  # noqa: S311 - the same at every run
    began = time.perf_counter()
    plan = plan_moves(rows, consists, {"": rules})
    seconds = time.perf_counter() - began
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    counts = f"{len(plan.clashes):,} | {plan.cost.moved:,} | {plan.cost.unresolved:,}"
    return f"{counts} | {seconds:.3f} | {peak:.0f}"


def main(arguments: list[str]) -> None:
    """Measure and print."""
    print("| meet | engines | clashes | moved | left | seconds | MiB |")
    print("|---|---|---|---|---|---|---|")
    for engines in [int(argument) for argument in arguments] or ENGINES:
        for meet in MEETS:
            # A process of its own, for its memory.
            with ProcessPoolExecutor(max_workers=1) as pool:
                result = pool.submit(planned, meet, engines).result()
            print(f"| {meet} | {engines:,} | {result} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
