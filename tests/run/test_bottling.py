"""A run closes: what left the bucket is in jars, broken, sampled, lost by name, or shown as unexplained."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.run import MostIsMissing, RestHeavierThanBucket, RunTakesTooMuch
from labelkit.lots.bucket import Bucket
from labelkit.lots.movement import Account
from labelkit.measures import Declared, Mass, total
from labelkit.run import Filled, bottle

DAY = date(2026, 7, 20)
POUND = Mass.read("1 lb", "en_US")


def test_the_unexplained_difference_is_shown_in_grams_and_per_cent():
    # The published mass-balance layout of a food-safety trace: 40.000 kg in; 100 x 340 g and 10 x 500 g out; 0.850 kg
    # of named loss; 0.150 kg unaccounted, so 99.625 % is accounted for.
    run = bottle(
        Bucket("B1", Mass.read("40 kg", "en_US")),
        "L26201AXR",
        DAY,
        [
            Filled("small", Declared.read("340 g", "en_US"), 100, Mass.read("340 g", "en_US")),
            Filled("half kilo", Declared.read("500 g", "en_US"), 10, Mass.read("500 g", "en_US")),
        ],
        left=Mass(0),
        lost=Mass.read("850 g", "en_US"),
        locale="en_US",
    )
    assert run.unexplained == Mass.read("150 g", "en_US")
    assert run.unexplained_percent == Decimal("0.375")


def test_broken_jars_and_samples_are_counted_apart():
    run = bottle(
        Bucket("B1", Mass.read("10 kg", "en_US")),
        "L26201AXR",
        DAY,
        [Filled("pound", Declared.read("1 lb", "en_US"), 20, POUND)],
        broken=[Filled("pound", Declared.read("1 lb", "en_US"), 1, POUND)],
        samples=[Filled("pound", Declared.read("1 lb", "en_US"), 1, POUND)],
        locale="en_US",
    )
    counts = {m.account: m.count for m in run.movements() if m.count}
    assert counts == {Account.JARS: 20, Account.BROKEN: 1, Account.SAMPLE: 1}
    assert run.left == Mass.read("10 kg", "en_US") - 22 * POUND
    assert run.unexplained == Mass(0)


@given(
    st.integers(min_value=1, max_value=30_000_000),
    st.lists(st.tuples(st.integers(0, 60), st.integers(28_000, 2_300_000)), min_size=1, max_size=4),
    st.integers(min_value=0, max_value=2_000_000),
    st.one_of(st.none(), st.integers(min_value=0, max_value=30_000_000)),
)
def test_a_run_conserves_mass_and_never_takes_more_than_the_bucket_holds(holds, jars, lost, left):
    filled = [Filled(f"s{n}", Declared.read("1 lb", "en_US"), count, Mass(mg)) for n, (count, mg) in enumerate(jars)]
    try:
        run = bottle(
            Bucket("B1", Mass(holds)),
            "L26201AXR",
            DAY,
            filled,
            lost=Mass(lost),
            left=None if left is None else Mass(left),
            locale="en_US",
        )
    except RunTakesTooMuch:
        assert sum(count * mg for count, mg in jars) + lost + (left or 0) > holds
        return
    except RestHeavierThanBucket:
        assert left > holds
        return
    except MostIsMissing:
        assert sum(count * mg for count, mg in jars) + lost < (holds - left) / 4
        return
    except Exception as refusal:
        assert type(refusal).__name__ == "NothingFilled" and not any(count for count, _ in jars)
        return
    assert total(m.mass for m in run.movements()) == Mass(0)
    assert Mass(0) <= run.left <= run.held == Mass(holds)
    assert run.taken == run.accounted + run.unexplained


def test_more_jars_than_the_bucket_holds_are_refused():
    with pytest.raises(RunTakesTooMuch):
        bottle(
            Bucket("B1", 59 * POUND),
            "L26201AXR",
            DAY,
            [Filled("pound", Declared.read("1 lb", "en_US"), 60, POUND)],
            locale="en_US",
        )
