"""The shares of a lot through three blends are exact, and agree with a reckoning that knows nothing of events."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from labelkit.lots.bucket import Blend, Drain, Part, WeighIn
from labelkit.lots.received import OriginShare, Receive
from labelkit.measures import Declared, Mass
from labelkit.rules import market
from labelkit.rules.figures.origin import rounded
from labelkit.run.bottling import Filled, Run
from labelkit.trace.booked import Booked
from labelkit.trace.heritage import Strand, heritage

DAY, AT = date(2026, 7, 14), datetime(2026, 7, 14, tzinfo=UTC)
AR_DE = (OriginShare("AR", Decimal(40)), OriginShare("DE", Decimal(60)))
EU = market("eu", date(2026, 11, 25))

masses = st.integers(1, 10**9)
parts = st.fractions(Fraction(1, 50), 1, max_denominator=50)


def booked(*events):
    return [Booked(n, event, "Ada", AT) for n, event in enumerate(events, 1)]


def bought(bucket: str, mg: int, **more) -> Receive:
    return Receive(bucket, DAY, Mass(mg), "Brook apiary", "K7", AR_DE, **more)


def run(bucket: str, held: int, taken: int) -> Run:
    jars = (Filled("jar", Declared.read("1 lb", "en_US"), 1, Mass(taken)),)
    return Run("L26195AAC", DAY, bucket, Mass(held), jars, left=Mass(held - taken), left_was_weighed=False)


@given(masses, masses, masses, masses, parts, parts, parts)
def test_shares_through_three_blends_and_a_drain_are_exact(own, theirs, second, late, p, q, r):
    one, two = max(1, int(own * p)), max(1, int(theirs * q))
    first = one + two
    three = max(1, int(first * r))
    story = [
        WeighIn("B1", DAY, Mass(own)),
        bought("R1", theirs),
        WeighIn("B2", DAY, Mass(second)),
        Blend("M1", DAY, (Part("B1", Mass(one)), Part("R1", Mass(two)))),
        Blend("M2", DAY, (Part("M1", Mass(three)), Part("B2", Mass(second)))),
        Drain("M2", DAY, Mass(late)),
        WeighIn("B3", DAY, Mass(own)),
        Blend("M3", DAY, (Part("M2", Mass(three + second + late)), Part("B3", Mass(own)))),
    ]
    found = {each.lot: each for each in heritage(booked(*story), ["M1", "M2", "M3"])}
    # Reckoned backwards by hand, as a mixture of mixtures.
    whole = three + second + late + own
    want = {
        "B1": Fraction(three, whole) * Fraction(one, first),
        "R1": Fraction(three, whole) * Fraction(two, first),
        "B2": Fraction(second, whole),
        "M2": Fraction(late, whole),
        "B3": Fraction(own, whole),
    }
    assert {strand.bucket: strand.share for strand in found["M3"].strands} == want
    assert sum(found["M3"].countries("DE").values()) == 1
    assert found["M3"].countries("DE")["AR"] == want["R1"] * Fraction(2, 5)


@given(st.lists(masses, min_size=2, max_size=6))
def test_printed_shares_make_up_100_and_each_is_within_the_laws_tolerance(weights):
    # Honigverordnung (AT) § 7(2), carrying out Directive (EU) 2024/1438: 5 % for each share; here of the share itself.
    countries = dict(zip(("DE", "AR", "ES", "UA", "HU", "PL"), weights, strict=False))
    exact = {code: Fraction(mg, sum(weights)) for code, mg in countries.items()}
    said = rounded(exact, EU)
    assert sum(share for _, share in said) == 100
    assert [share for _, share in said] == sorted((share for _, share in said), reverse=True)
    small = min(exact.values()) * 100 < Fraction(1, 10**5)
    assert small or all(abs(Fraction(share) / 100 / exact[code] - 1) <= Fraction(5, 100) for code, share in said)


def test_what_was_taken_before_honey_was_added_has_none_of_it():
    story = booked(
        WeighIn("B1", DAY, Mass(900)),
        run("B1", 900, 300),
        Drain("B1", DAY + timedelta(days=1), Mass(600)),
        bought("R1", 5),
    )
    lot, bucket = heritage(story, ["L26195AAC", "B1"])
    assert [(strand.seq, strand.share) for strand in lot.strands] == [(1, 1)]
    assert [(strand.seq, strand.share) for strand in bucket.strands] == [(1, Fraction(1, 2)), (3, Fraction(1, 2))]


def test_a_struck_delivery_is_in_no_lot():
    story = [
        Booked(1, bought("R1", 900), "Ada", AT, struck_by=2),
        Booked(3, bought("R1", 800), "Ada", AT, stands_for=1),
    ]
    (found,) = heritage(story, ["R1"])
    assert [(strand.seq, strand.share) for strand in found.strands] == [(3, 1)]


def test_what_every_part_bears_may_be_said_and_nothing_else():
    clover = WeighIn("B1", DAY, Mass(900), plant="clover")
    (own,) = heritage(booked(clover), ["B1"])
    assert own.bears == ("from our own hives", "clover")
    mixed = booked(
        clover, bought("R1", 100, states=("raw",)), Blend("M1", DAY, (Part("B1", Mass(9)), Part("R1", Mass(1))))
    )
    (blend,) = heritage(mixed, ["M1"])
    assert blend.bears == ()
    assert [strand.bucket for strand in blend.not_stating("raw")] == []
    assert [strand.bucket for strand in blend.not_stating("organic")] == ["R1"]
    assert all(isinstance(strand, Strand) for strand in blend.not_of("clover")), "the flower of R1 is not known"
