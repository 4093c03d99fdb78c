"""Seasons nobody planned: any verbs in any order with any figures, some of which the record will refuse."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

from hypothesis import strategies as st

from labelkit.errors import LabelkitError
from labelkit.lots.bucket import Blend, Drain, Part, Source, WeighIn
from labelkit.lots.bucket_life import (
    DISCARDED,
    DRIED,
    FED,
    GIVEN,
    SKIMMED,
    SOLD,
    STIRRED,
    WARMED,
    Measured,
    Note,
    TakenOut,
    Treated,
)
from labelkit.measures import Declared, Mass, Money
from labelkit.record.record import Record
from labelkit.run.bottling import Filled, bottle
from labelkit.sale.events import Discard, Give, Return, Sale, SaleLine
from labelkit.trace.hold import Hold, Release
from labelkit.trace.relabel import Relabel
from tests.record.season import AT, DAY, LATER

NAMES = [f"B{n}" for n in range(6)] + [f"M{n}" for n in range(3)]
LOTS = [f"L2620{n}" for n in range(5)]
names, lots = st.sampled_from(NAMES), st.sampled_from(LOTS)
grams = st.integers(1, 40_000).map(lambda g: Mass(g * 1000 + g % 7))
jars = st.integers(1, 60)
sources = st.lists(
    st.builds(Source, st.sampled_from(["Mill meadow", "Heath", "Zoë’s"]), st.sampled_from([(), ("H1",), ("H2", "H3")])),
    max_size=2,
    unique_by=lambda s: s.yard,
).map(tuple)

weighing = st.tuples(st.just("weigh"), names, grams, sources)
draining = st.tuples(st.just("drain"), names, grams, sources)
blending = st.tuples(st.just("blend"), names, st.lists(st.tuples(names, grams), min_size=2, max_size=3))
bottling = st.tuples(st.just("bottle"), names, lots, jars, st.integers(0, 3), st.none() | grams, st.integers(0, 50_000))
going = st.tuples(st.sampled_from(["sell", "give", "return", "discard", "hold", "release"]), lots, jars)
water = st.integers(150, 220).map(lambda tenths: Decimal(tenths) / 10)
measuring = st.tuples(st.just("measure"), names, st.none() | grams, st.none() | water)
treating = st.tuples(
    st.just("treat"),
    names,
    st.sampled_from([SKIMMED, DRIED, WARMED, STIRRED]),
    st.integers(-2, 900_000),
    st.none() | st.tuples(names, st.integers(1, 2_000_000).map(Mass)),
)
taking = st.tuples(st.just("take-out"), names, st.sampled_from([SOLD, FED, GIVEN, DISCARDED]), st.none() | grams)
noting = st.tuples(st.just("note"), names | lots)
relabelling = st.tuples(st.just("relabel"), lots, lots, st.integers(1, 5))
correcting = st.tuples(st.just("correct"), st.integers(1, 25))
verbs = st.lists(
    st.one_of(
        *(weighing, weighing, draining, blending, bottling, bottling, going, going, relabelling, correcting),
        *(measuring, treating, taking, noting),
    ),
    max_size=25,
)

FILL = Mass(340_000)


def live(record: Record, season: list) -> int:
    """Do each verb in a step of its own; how many the record took."""
    taken = 0
    for n, verb in enumerate(season):
        try:
            with record.work(who="Ada", at=AT + timedelta(seconds=n)) as work:
                _do(work, *verb)
                work.commit()
            taken += 1
        except LabelkitError:
            pass
    return taken


def _do(work, verb, *figures) -> None:
    if verb == "correct":
        work.correct(figures[0], "a slip", day=LATER)
    elif verb == "weigh":
        name, net, where = figures
        work.add(WeighIn(name, DAY, net, sources=where))
    elif verb == "drain":
        name, net, where = figures
        work.add(Drain(name, LATER, net, sources=where))
    elif verb == "blend":
        into, parts = figures
        work.add(Blend(into, LATER, tuple(Part(name, mass) for name, mass in parts)))
    elif verb == "bottle":
        name, lot, count, broken, left, lost = figures
        spoiled = [Filled("small", Declared.read("340 g", "en_US"), broken, FILL)] if broken else []
        filled = [Filled("small", Declared.read("340 g", "en_US"), count, FILL)]
        work.add(
            bottle(work.bucket(name), lot, LATER, filled, broken=spoiled, left=left, lost=Mass(lost), locale="en_US")
        )
    elif verb == "note":
        work.add(Note(LATER, figures, "seen by the pond", customer="Shop 1"))
    elif verb in ("measure", "treat", "take-out"):
        _step(work, verb, work.bucket(figures[0]).holds, *figures)
    elif verb == "relabel":
        old, new, count = figures
        work.add(Relabel(LATER, new, (SaleLine(old, "small", count, FILL),), "smudged"))
    else:
        _move(work, verb, *figures)


def _step(work, verb, held, name, *figures) -> None:
    if verb == "measure":
        net, moisture = figures
        work.add(Measured(name, LATER, held, net=net, moisture=moisture))
    elif verb == "treat":
        how, gone, seed = figures
        more = seed[1] if seed else Mass(0)
        work.add(Treated(name, LATER, held, how, held + more - Mass(gone), seed=Part(*seed) if seed else None))
    else:
        how, mass = figures
        work.add(TakenOut(name, LATER, held, how, mass or held, customer="Shop 1" if how == SOLD else None))


def _move(work, verb, lot, count) -> None:
    line = SaleLine(lot, "small", count, FILL, Money.of("8", "EUR") if verb == "sell" else None)
    work.add(
        {
            "sell": lambda: Sale(LATER, (line,), customer=f"Shop {count % 3}"),
            "give": lambda: Give(LATER, (line,)),
            "return": lambda: Return(LATER, (line,), "dented"),
            "discard": lambda: Discard(LATER, (line,), "dented"),
            "hold": lambda: Hold(LATER, (lot,), "a splinter", jars=(line,)),
            "release": lambda: Release(LATER, (lot,), "it was wax", jars=(line,)),
        }[verb]()
    )
