"""Laws that hold for any season: mass is conserved, walks close, what is written is read, what leaves comes back."""

import shutil
from collections import Counter
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from labelkit.lots.bucket import Drain, WeighIn
from labelkit.lots.movement import Account
from labelkit.measures import Length, Mass, Money
from labelkit.plan.kept_plan import PlanKept
from labelkit.record import open_record
from labelkit.record.codec import Unkeepable, read, write
from labelkit.record.export import export, import_whole
from labelkit.record.kinds import KINDS
from labelkit.record.settings import Setting
from labelkit.record.verify import verify
from labelkit.run.bottling import Run
from labelkit.sale.events import PriceSet, Return, Sale
from labelkit.trace.balance import balances
from labelkit.trace.booked import Correct
from labelkit.trace.follow import Start, follow
from labelkit.trace.hold import Hold
from labelkit.trace.links import ancestors, descendants, links
from tests.record.seasons_at_random import live, verbs
from tests.walks import examples

MAY_BE_NEGATIVE = (Account.HIVES, Account.UNEXPLAINED, Account.REWEIGHED)


@pytest.fixture(scope="module")
def empty(tmp_path_factory):
    """An empty record, to be copied."""
    path = tmp_path_factory.mktemp("empty") / "season.labelkit"
    open_record(path, create=True).close()
    return path


@settings(max_examples=examples(60))
@given(season=verbs)
def test_whatever_is_done_mass_is_conserved_and_every_walk_closes(empty, tmp_path_factory, season):
    path = shutil.copy(empty, tmp_path_factory.mktemp("any") / "season.labelkit")
    with open_record(path) as record:
        event(f"{live(record, season)} of {len(season)} booked")
        story = tuple(record.events())
        lots = sorted({m.lot for each in story for m in each.movements()})
        assert verify(record).clean
        ends = Counter()
        for each in story:
            for m in each.movements():
                ends[m.account] += m.mass.mg
        assert sum(ends.values()) == 0
        assert all(ends[a] >= 0 for a in Account if a not in MAY_BE_NEGATIVE)
        held_by_buckets = sum(bucket.holds.mg for bucket in record.buckets())
        assert held_by_buckets == ends[Account.BUCKET]
        for balance in balances(story, lots):
            assert balance.rest.mg == 0 and balance.jars_unaccounted == 0
        web = links(story)
        for lot in lots:
            behind, ahead = record.ancestry(lot), record.descent(lot)
            assert behind == ancestors([lot], web) and ahead == descendants([lot], web)
            assert all(lot in record.descent(parent) for parent in behind)
            assert all(lot in record.ancestry(child) for child in ahead)
            assert lot not in behind
            _trace_is_the_same_from_its_own_story(record, lot, story)


def _trace_is_the_same_from_its_own_story(record, lot, story):
    """A trace through the few events the record picks equals the one through all of them."""
    start = Start("lot", lot, (lot,))
    with record.reading() as state:
        few = follow(start, state.story([lot]))
    whole = follow(start, story)
    assert few.lots == whole.lots and few.buckets == whole.buckets and few.sisters == whole.sisters
    assert few.balances == whole.balances and few.went == whole.went and few.intakes == whole.intakes


@settings(max_examples=examples(25))
@given(season=verbs)
def test_any_season_exported_comes_back_equal(empty, tmp_path_factory, season):
    folder = tmp_path_factory.mktemp("out")
    path = shutil.copy(empty, folder / "season.labelkit")
    with open_record(path) as record:
        live(record, season)
        files = export(record)
        story = list(record.events())
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8", newline="")
    import_whole(folder, str(folder / "again.labelkit"))
    with open_record(folder / "again.labelkit") as again:
        assert list(again.events()) == story
        assert export(again) == files
        assert verify(again).clean


# --- writing and reading ----------------------------------------------------------------------------------------------

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
decimals = st.decimals(allow_nan=False, allow_infinity=False)
st.register_type_strategy(Decimal, decimals)
st.register_type_strategy(date, st.dates())
st.register_type_strategy(str, texts)
st.register_type_strategy(Mass, st.builds(Mass, st.integers(-(2**62), 2**62)))
st.register_type_strategy(Length, st.builds(Length, st.integers()))
st.register_type_strategy(Money, st.builds(Money, st.integers(), st.sampled_from(["USD", "EUR", "JPY"])))
plain = st.recursive(
    st.none() | st.booleans() | st.integers() | texts,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=6,
)


@pytest.mark.exhaustive(one_in=6)
@pytest.mark.parametrize("cls", KINDS.values(), ids=KINDS)
@given(data=st.data())
def test_an_event_of_any_kind_is_read_exactly_as_it_was_written(cls, data):
    made = data.draw(st.builds(cls, value=plain) if cls is Setting else st.from_type(cls))
    body = write(made)
    again = read(cls, body)
    assert again == made and write(again) == body
    if cls not in (Setting, PlanKept):  # tables have no order of their own
        assert repr(again) == repr(made), "digits of decimals too"


def test_every_kind_of_event_there_is_can_be_kept():
    import labelkit.lots.bucket
    import labelkit.lots.bucket_life
    import labelkit.run.bottling
    import labelkit.sale.events
    import labelkit.trace.booked
    import labelkit.trace.hold

    rooms = (
        labelkit.lots.bucket,
        labelkit.lots.bucket_life,
        labelkit.run.bottling,
        labelkit.sale.events,
        labelkit.trace.booked,
        labelkit.trace.hold,
    )
    kinds = {
        c
        for room in rooms
        for c in vars(room).values()
        if isinstance(c, type) and hasattr(c, "movements") and hasattr(c, "kind")
    }
    assert {c for c in kinds if not isinstance(c.kind, property)} <= set(KINDS.values())
    assert {Run, Sale, Return, PriceSet, Hold, Correct, WeighIn, Drain} <= set(KINDS.values())


@pytest.mark.parametrize(
    "body",
    [
        "",
        "{",
        "[]",
        "3",
        '{"bucket":"B1"}',
        '{"bucket":1,"day":"2026-07-14","net":{"mg":1}}',
        '{"bucket":"B1","day":"14 July","net":{"mg":1}}',
        '{"bucket":"B1","day":"2026-07-14","net":{"mg":1.5}}',
        '{"bucket":"B1","day":"2026-07-14","net":{"mg":true}}',
        '{"bucket":"B1","day":"2026-07-14","net":1}',
        '{"bucket":"B1","day":"2026-07-14","net":{"mg":1},"sweet":1}',
        '{"bucket":"B1","day":"2026-07-14","net":null}',
        '{"bucket":"B1","day":"2026-07-14","net":{"mg":1},"moisture":"NaN"}',
    ],
)
def test_a_body_that_fits_no_event_is_refused(body):
    with pytest.raises(Unkeepable):
        read(Drain, body)
