"""A honey house in which anything happens in any order, through the use cases alone; many steps are refused.

Every step is a step of its own. Whatever was done or refused, the laws of :class:`Laws` hold after it.
"""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from labelkit import open_season
from labelkit.errors import LabelkitError
from labelkit.labels.printed import Printed
from labelkit.lots.bucket import Source
from labelkit.lots.bucket_life import FED, SOLD
from labelkit.lots.intake import Intake
from labelkit.lots.movement import SOURCES, Account
from labelkit.lots.received import OriginShare, Receive
from labelkit.measures import Declared, Mass, Money
from labelkit.measures.period import Period
from labelkit.plan.wishes import Planning
from labelkit.record import open_record
from labelkit.record.export import export, take_in
from labelkit.record.kinds import KINDS
from labelkit.record.settings import Setting
from labelkit.record.verify import verify
from labelkit.run.batch_sheet import BREAKAGE, Breakage
from labelkit.sale.events import PriceSet
from labelkit.sale.settlement import Till
from labelkit.season.account import GivingBack, Paying, pay, remind
from labelkit.season.account import refund as give_back
from labelkit.season.batch import SheetEntry, batch
from labelkit.season.blend import Blending, blend
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.changes import Changes, booked_values, held_values
from labelkit.season.check_weigh import CheckWeighing, check_weigh
from labelkit.season.close_year import YearToClose, close_year
from labelkit.season.correct import relabel
from labelkit.season.deliver import JarsForCustomer, deliver
from labelkit.season.drain import drain
from labelkit.season.kept_plan import keep_plan
from labelkit.season.measure import Measuring, Weighed, measure
from labelkit.season.note import note
from labelkit.season.past_fills import jars_of
from labelkit.season.put_right import put_right
from labelkit.season.recall import CallingBack, begin, drill, hold, release, tell
from labelkit.season.sell import JarsGone, sell
from labelkit.season.stall import Loading, load, loaded_day, settle_counted
from labelkit.season.stock import book_count, buy, make
from labelkit.season.take_out import TakingOut, take_out
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.treat import Drying, Skimming, Stirring, Warming, dry_out, skim, stir, warm
from labelkit.season.weigh import weigh
from labelkit.trace.follow import Trace
from labelkit.trace.recall import count_of
from tests.season.conftest import ZONE

NOW = datetime(2026, 7, 30, 18, tzinfo=ZONE)
TODAY = NOW.date()
BUCKETS = ("B1", "B2", "M1")
SIZES = {"pound": ("1 lb", "12.00"), "half": ("8 oz", "6.50")}
CUSTOMER = "Hill café"
NO_TILL = Till()
TILL = ("cash", "cards", "off", "fee", "change")

new_names = st.sampled_from([f"B{n}" for n in range(1, 9)])
buckets, sizes = st.sampled_from(BUCKETS), st.sampled_from(sorted(SIZES))
grams = st.integers(1, 30_000).map(lambda g: Mass(g * 1000 + g % 7))
jars = st.integers(1, 12)
some_grams = st.integers(100, 4_000).map(lambda g: Mass(g * 1000 + g % 7))
ways = st.sampled_from(["sold", "given", "returned", "discarded"])
days = st.just(TODAY) | st.integers(0, 20).map(lambda n: TODAY - timedelta(days=n // 4))
words = st.sampled_from(["looked at twice", "looked at twice", ""])
which = st.integers(0, 1_000)
WALKED: Counter[str] = Counter()  # steps by what became of them, and the kinds of event that were booked


def another(name: str, had: object, net: Mass, count: int, day: date) -> object:
    """Another value of the same kind for a correction."""
    by_name = {key: another(name, each, net, count, day) for key, each in had.items()} if isinstance(had, dict) else {}
    others = {
        "day": day,
        "customer": CUSTOMER,
        "seed": BUCKETS[count % 3],
        "moisture": Decimal("16.4"),
        "hottest_c": Decimal(count + 30),
        "hours": Decimal(count),
        "removed": Mass(net.mg // 50),
        "parts": Mass(net.mg // 4),
    }
    if by_name:
        return by_name
    if name in others:
        return others[name]
    if isinstance(had, int):
        return max(0, had + count % 5 - 2)
    return Money.of(f"{count}.00", "USD") if isinstance(had, Money) or name in TILL else net


class Laws(RuleBasedStateMachine):
    """The laws, and everything that can be done; a subclass says where the record is."""

    empty: Path | None = None  # an empty record, to take an export in again

    def place(self, folder: Path) -> str:
        """Where this life's record is."""
        return str(folder / "season.labelkit")

    @initialize()
    def begin_season(self) -> None:
        self.stack = ExitStack()
        self.folder = Path(self.stack.enter_context(tempfile.TemporaryDirectory()))
        opened = open_season(self.place(self.folder), create=True, who="Ada", clock=NOW)
        self.season = self.stack.enter_context(opened)
        with self.season.work() as work:
            begun = TODAY - timedelta(days=30)
            work.add(Setting(begun, "market", ["us"]))
            work.add(Setting(begun, "maker", {"name": "Hazel Bank", "street": "1 Invented lane", "city": "Nowhere"}))
            work.add(Setting(begun, "product Candles", {"kind": "candle"}))
            work.add(
                PriceSet(begun, "taper", None, Money.of("4.00", "USD"), Money.of("1.00", "USD"), product="Candles")
            )
            for size, (declares, price) in SIZES.items():
                prices = Money.of(price, "USD"), Money.of("1.35", "USD")
                work.add(PriceSet(TODAY - timedelta(days=30), size, Declared.read(declares, "en_US"), *prices))
            for name in ("B1", "B2"):
                weigh(
                    work,
                    Intake(name, net=Mass.of_grams(20_000), moisture=Decimal("17.4")),
                    TODAY - timedelta(days=15),
                    "en_US",
                )
            bottle(work, Bottling("B1", {"pound": 8, "half": 6}), TODAY - timedelta(days=8), "en_US")
        self.laws_hold()

    def teardown(self) -> None:
        WALKED["lives"] += 1
        if hasattr(self, "season"):
            WALKED.update(f"kind {each.kind}" for each in self.season.record.events())
        self.stack.close()

    def step(self, does) -> None:
        """One step: kept whole, or refused and nothing booked."""
        before = self.season.record.where and self.head()
        try:
            with self.season.work() as work:
                does(work)
        except LabelkitError as refusal:
            assert self.head() == before, f"{refusal.name} booked something"
            WALKED["refused"] += 1
            WALKED[f"refusal {refusal.name}"] += 1
            return
        WALKED["booked"] += 1

    def head(self) -> tuple[int, str]:
        with self.season.reading() as state:
            return state.head().seq, state.head().hash

    def lot(self, n: int) -> str:
        codes = sorted(self.season.record.lot_codes_taken())
        return codes[n % len(codes)] if codes else "L26201AAC"

    def there(self, n: int, size: str, count: int, place: Account = Account.JARS) -> tuple[str, str, int]:
        """Jars that are in stock, or at another place, mostly; any others now and then."""
        here = [] if n % 5 == 0 else self.season.record.stock(place)
        if not here:
            return self.lot(n), size, count
        jar = here[n % len(here)]
        return jar.lot, jar.size, min(count, jar.count)

    def event(self, n: int) -> int:
        return n % (self.head()[0] + 1) + 1

    # --- what is done ---

    @rule(name=new_names, net=grams, day=days, moisture=st.sampled_from([None, "17.2", "21.5"]), because=words)
    def weigh_in(self, name, net, day, moisture, because):
        source = Source("Mill meadow", ("H1", "H2")), Source("Heath")
        asked = Intake(name, net=net, sources=source, moisture=moisture and Decimal(moisture), because=because)
        self.step(lambda work: weigh(work, asked, day, "en_US"))

    @rule(name=buckets, net=some_grams, day=days, because=words)
    def drain_in(self, name, net, day, because):
        self.step(lambda work: drain(work, Intake(name, net=net, because=because), day, "en_US"))

    @rule(name=new_names, net=grams, day=days)
    def buy_in(self, name, net, day):
        bought = Receive(name, day, net, "Neighbour", "N7", (OriginShare("US", Decimal(100)),), moisture=Decimal(17))
        self.step(lambda work: work.add(bought))

    @rule(one=buckets, other=buckets, some=some_grams, day=days)
    def blend_into(self, one, other, some, day):
        self.step(lambda work: blend(work, Blending("M1", ((one, some), (other, None))), day, "en_US"))

    @rule(name=buckets, net=st.none() | grams, moisture=st.sampled_from([None, "16.9"]), day=days, because=words)
    def measure_again(self, name, net, moisture, day, because):
        asked = Measuring(name, Weighed(net=net), moisture and Decimal(moisture), because=because)
        self.step(lambda work: measure(work, asked, day, "en_US"))

    @rule(name=buckets, removed=grams, day=days)
    def skim_off(self, name, removed, day):
        self.step(lambda work: skim(work, Skimming(name, Mass(removed.mg // 50)), day, "en_US"))

    @rule(name=buckets, moisture=st.integers(140, 200), weighed=st.none() | grams, day=days, because=words)
    def dry_some(self, name, moisture, weighed, day, because):
        asked = Drying(name, after=weighed, moisture_after=Decimal(moisture) / 10, because=because)
        self.step(lambda work: dry_out(work, asked, day, "en_US"))

    @rule(name=buckets, seed=buckets, some=grams, day=days)
    def warm_and_stir(self, name, seed, some, day):
        self.step(lambda work: warm(work, Warming(name, Decimal(40), Decimal(12)), day, "en_US"))
        self.step(lambda work: stir(work, Stirring(name, seed, Mass(some.mg // 10)), day, "en_US"))

    @rule(name=buckets, how=st.sampled_from([SOLD, FED, "given", "discarded"]), part=some_grams | st.none(), day=days)
    def take_some_out(self, name, how, part, day):
        rate = Money.of("9.00", "USD") if how == SOLD else None
        who = CUSTOMER if how == SOLD else None
        asked = TakingOut(name, how, part, customer=who, rate=rate, because="said so")
        self.step(lambda work: take_out(work, asked, day, "en_US"))

    @rule(
        name=buckets, size=sizes, n=jars, broken=st.integers(0, 2), left=st.none() | some_grams, because=words, day=days
    )
    def fill(self, name, size, n, broken, left, because, day):
        asked = Bottling(name, {size: n}, {size: broken}, {size: broken // 2}, left=left, because=because)
        self.step(lambda work: bottle(work, asked, day, "en_US"))

    @rule(n=which, size=sizes, count=jars, way=ways, day=days, because=words)
    def move(self, n, size, count, way, day, because):
        lot, size, count = self.there(n, size, count, Account.SOLD if way == "returned" else Account.JARS)
        to = "gift" if way == "given" else "shop"
        asked = JarsGone(lot, {size: count}, way, to, CUSTOMER, reason="dented", because=because)
        self.step(lambda work: sell(work, asked, day))

    @rule(n=which, size=sizes, back=st.integers(1, 3))
    def sell_and_take_back(self, n, size, back):
        lot, size, count = self.there(n, size, 2)
        sold = JarsGone(lot, {size: count}, "sold", "shop", CUSTOMER, because="no labels yet")
        self.step(lambda work: sell(work, sold, TODAY))
        brought = JarsGone(lot, {size: back}, "returned", customer=CUSTOMER, reason="dented")
        self.step(lambda work: sell(work, brought, TODAY))
        gift = JarsGone(lot, {size: 1}, "given", "gift", because="no labels yet")
        self.step(lambda work: sell(work, gift, TODAY))

    @rule(n=which, size=sizes, count=jars, because=words)
    def deliver_to(self, n, size, count, because):
        _, size, count = self.there(n, size, count)
        prices = {size: Money.of("8.00", "USD")}
        asked = JarsForCustomer(
            CUSTOMER,
            {size: min(count, 3)},
            prices=prices,
            address=("2 Invented lane", "Nowhere"),
            phone="+1 555 0100",
            because=because,
            days_to_pay=0,
        )
        self.step(lambda work: deliver(work, asked, TODAY - timedelta(days=n % 3), "en_US"))
        self.step(lambda work: pay(work, Paying(CUSTOMER, Money.of("5.00", "USD")), TODAY))

    @rule(n=which)
    def see_to_the_account(self, n):
        refund = GivingBack(CUSTOMER, Money.of("1.00", "USD"), because="a jar short" if n % 2 else "")
        self.step(lambda work: give_back(work, refund, TODAY))
        self.step(lambda work: remind(work, CUSTOMER, TODAY))
        # The days of the first weigh-ins: nothing but a correction is booked into them afterwards.
        period = Period(TODAY - timedelta(days=20), TODAY - timedelta(days=10))
        self.step(lambda work: close_year(work, YearToClose(period, because="all counted"), TODAY, "en_US"))

    @rule(n=which, size=sizes, count=jars, sold=st.integers(0, 5), broken=st.integers(0, 2), more=st.booleans())
    def go_to_market(self, n, size, count, sold, broken, more):
        day = TODAY
        lot, size, count = self.there(n, size, count)
        words = "no labels yet" if n % 4 else ""
        change = None if more else Money.of("20.00", "USD")
        asked = Loading("Saturday market", {size: count}, lot, change=change, more=more, because=words)
        self.step(lambda work: load(work, asked, day))
        broken, sold = min(broken, count), min(sold, max(0, count - broken))
        counts = {"sold": {size: sold}, "broken": {size: broken}, "back": {size: count - sold - broken}}
        self.step(lambda work: settle_counted(work, loaded_day(work, day), counts, NO_TILL))

    @rule(n=which, size=sizes, count=st.integers(1, 6))
    def give_another_code(self, n, size, count):
        lot, size, count = self.there(n, size, count)
        self.step(lambda work: relabel(work, lot, {size: count}, "smudged", TODAY))

    @rule(n=which, name=st.none() | buckets)
    def hold_and_release(self, n, name):
        held = name or self.lot(n)
        self.step(lambda work: hold(work, [held], "a splinter", TODAY))
        if n % 4:
            self.step(lambda work: release(work, [held], "it was wax", TODAY))

    @rule(n=which)
    def call_back(self, n):
        lot, _, _ = self.there(n, "pound", 1, Account.SOLD)
        self.step(lambda work: begin(work, CallingBack((lot,), "ferment", "it foams"), TODAY))
        self.step(lambda work: tell(work, "", CUSTOMER, TODAY, has=0))
        self.step(lambda work: drill(work, TODAY, self.lot(n)))

    @rule(n=which, size=sizes, count=jars, weight=st.integers(440, 470))
    def label_and_weigh(self, n, size, count, weight):
        lot, size, count = self.there(n, size, count)
        printed = Printed(TODAY, lot, size, "front", "meadow", "sheet", "aaa", ("Honey",), count, 0)
        self.step(lambda work: work.add(printed))
        half = Decimal(weight) / (1 if size == "pound" else 2)
        asked = CheckWeighing((Mass.of_grams(half), Mass.of_grams(half + 1)))
        self.step(lambda work: check_weigh(work, jars_of(work, lot, size), asked, TODAY, locale="en_US"))

    @rule(n=which, size=sizes, count=jars, found=st.integers(0, 30))
    def count_stock(self, n, size, count, found):
        lot, size, _ = self.there(n, size, count)
        self.step(lambda work: buy(work, size, count, count, TODAY))
        self.step(lambda work: book_count(work, size, found, "counted", TODAY, lot if n % 3 else None))

    @rule(count=jars, sold=jars)
    def make_candles(self, count, sold):
        self.step(lambda work: make(work, "taper", count, TODAY))
        lots = [jar.lot for jar in self.season.record.stock(Account.JARS) if jar.size == "taper"]
        if lots:
            self.step(lambda work: sell(work, JarsGone(lots[-1], {"taper": sold}, "sold"), TODAY))

    @rule(n=which, name=st.none() | buckets, broken=st.integers(0, 3), day=days)
    def keep_a_sheet(self, n, name, broken, day):
        lines = [SheetEntry("air", read=Decimal(21))]
        lines += [SheetEntry(BREAKAGE, broken=(Breakage("pound", broken),))] if broken else []
        self.step(lambda work: batch(work, [name or self.lot(n)], lines, day, "en_US"))

    @rule(n=which, name=buckets, count=st.integers(1, 3), size=sizes)
    def seed_from_jars(self, n, name, count, size):
        lot, size, count = self.there(n, size, count)
        self.step(lambda work: stir(work, Stirring(name, lot, jars={size: count}), TODAY, "en_US"))

    @rule(name=buckets)
    def plan_and_note(self, name):
        self.step(lambda work: keep_plan(work, Planning(), TODAY))
        self.step(lambda work: note(work, [name], "smells of lime", TODAY))

    @rule()
    def forget_the_customer(self):
        self.step(lambda work: work.forget(CUSTOMER, "asked by letter", day=TODAY))

    @rule(n=which)
    def take_back(self, n):
        self.step(lambda work: put_right(work, self.event(n), "never happened", Changes(), TODAY))

    @rule(n=which, which=which, net=grams, count=st.integers(0, 30), day=days)
    def correct(self, n, which, net, count, day):
        """Any event that can be put right, one or two of its values at a time, to what fits it or not."""
        with self.season.reading() as state:
            every = [each for each in state.events() if held_values(each.event) and (each.stands or n % 7 == 0)]
        if not every:
            return
        wrong = every[n % len(every)]
        had, names = booked_values(wrong.event), held_values(wrong.event)
        values = {
            name: another(name, getattr(had, name), net, count, day)
            for name in dict.fromkeys((names[which % len(names)], names[which // 7 % len(names)]))
        }
        self.step(lambda work: put_right(work, wrong.seq, "misread", Changes(**values), TODAY))
        WALKED[f"tried to correct {wrong.kind}"] += 1

    @rule(ahead=st.booleans())
    @precondition(lambda self: self.season.clock == NOW)
    def meet_a_wrong_clock(self, ahead):
        """A clock a year off is refused, and the record is not touched."""
        season = self.season
        self.season = replace(season, clock=NOW + timedelta(days=365 if ahead else -365))
        before = self.head()
        try:
            self.step(lambda work: work.add(Setting(date(2026, 7, 1), "units", "metric")))
            assert self.head() == before
        finally:
            self.season = season

    # --- the laws ---

    @invariant()
    def laws_hold(self) -> None:
        if not hasattr(self, "season"):
            return
        record = self.season.record
        ends: Counter[Account] = Counter()
        with self.season.reading() as state:
            for each in state.events():
                for moved in each.movements():
                    ends[moved.account] += moved.mass.mg
            at_hand = state.stock(Account.JARS, Account.STALL, Account.HELD, Account.SOLD)
            assert all(jar.count >= 0 and jar.mass.mg >= 0 for jar in at_hand)
            assert all(bucket.holds.mg >= 0 for bucket in state.buckets())
            for code in sorted(state.lot_codes_taken()):
                found = trace(state, TraceFrom(code))
                assert found.lots, f"the code {code} leads nowhere"
                every_jar_is_somewhere(found.trace)
        assert sum(ends.values()) == 0, "honey came from nowhere or went nowhere"
        below = {account for account, mg in ends.items() if mg < 0}
        assert below <= {*SOURCES, Account.UNEXPLAINED, Account.REWEIGHED}
        self.comes_back_whole(record)

    def comes_back_whole(self, record) -> None:
        """The export, taken into an empty record, is the same export."""
        whole = export(record)
        out = Path(tempfile.mkdtemp(dir=self.folder))
        for name, text in whole.items():
            (out / name).write_text(text, encoding="utf-8", newline="")
        with open_record(shutil.copy(self.empty, out / "again.labelkit")) as again:
            take_in(out, again)
            assert export(again) == whole
            if len(list(self.folder.iterdir())) % 8 == 0:
                assert verify(again).clean
        shutil.rmtree(out)


def every_jar_is_somewhere(trace: Trace) -> None:
    """The jars of each lot add up to those made, and never more than all of them could be fetched."""
    for lot in trace.lots:
        count = count_of(trace, [lot])
        at_home = count.on_hold + count.in_stock + count.destroyed + count.broken_or_sampled + count.opened
        assert count.jars_made == at_home + count.with_customers + count.unnamed + count.missing, (lot, count)
        assert min(count.missing, count.surplus, count.with_customers, count.sold_direct, count.given) >= 0, (
            lot,
            count,
        )
        assert 0 <= count.reachable <= 100, (lot, count)


#: Kinds no walk reaches, and why.
NOT_WALKED = {
    "clock": "a person's word about the clock, which the walk does not give: see tests/record/test_clock.py",
    "protect": "only a record of an earlier form books it: see tests/record/test_people.py",
}
EVERY_KIND = set(KINDS) - set(NOT_WALKED)


def walk_round(life: Laws, draw: Callable[..., Any]) -> None:
    """Every rule once, in an order that is drawn; so that a short walk reaches what chance alone reaches late."""
    for each in draw(st.permutations(sorted(life.rules, key=lambda rule: rule.function.__name__))):
        if all(may(life) for may in each.preconditions):
            each.function(life, **{name: draw(strategy) for name, strategy in each.arguments.items()})
