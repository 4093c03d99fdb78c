"""Accounts of customers: due days, part payments, credits, refunds, reminders, and both ways to count a year."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors.sale import CustomerHasNoDeliveries, NothingToRemind, RefundAboveCredit
from labelkit.measures import Money
from labelkit.measures.period import Period
from labelkit.record.settings import Setting
from labelkit.sale.account_events import Delivery, Payment, Refund
from labelkit.sale.balances import accounts
from labelkit.sale.events import Return
from labelkit.sale.ledger import ledger
from labelkit.sale.tax_sheet import tax_sheet
from labelkit.sale.year_report import document
from labelkit.season.account import GivingBack, Paying, account_of, pay, refund, remind
from labelkit.season.due import due_today
from labelkit.season.result import result
from labelkit.season.tax import TaxFrom, set_tax
from tests.record.season import AT, DAY, LATER, SISTER, book_season, line
from tests.sale.test_tax import rate, usd
from tests.walks import examples

SHOP, HILL = "Corner shop", "Hill shop"
DUE = LATER + timedelta(days=14)


def sent(number: str, jars: int, *, day: date = LATER, due: date | None = None, to: str = HILL) -> Delivery:
    return Delivery(day, number, to, (line(jars, SISTER, price="10.00"),), ("1 Row",), due=due)


@pytest.fixture
def work(tmp_path):
    """The small season, with 5 and 3 jars at 10.00 delivered to Hill shop, the first to be paid in 14 days."""
    record = book_season(tmp_path / "season.labelkit")
    with record.work(who="Ada", at=AT + timedelta(days=60)) as work:
        work.add(sent("D1", 5, due=DUE))
        work.add(sent("D2", 3, day=LATER + timedelta(days=2)))
        yield work
    record.close()


def open_of(work):
    return {each.delivery.number: each.open for each in account_of(work, HILL).deliveries}


# The order of attribution: SI 1991/371, regulation 7: the earliest supply first, unless the payer named another and paid it.
def test_a_part_payment_goes_to_the_earliest_delivery_unless_it_names_another(work):
    pay(work, Paying(HILL, usd("20.00")), DUE)
    assert open_of(work) == {"D1": usd("30.00"), "D2": usd("30.00")}
    pay(work, Paying(HILL, usd("30.00"), number="D2"), DUE)
    assert open_of(work) == {"D1": usd("30.00"), "D2": usd("0")}
    with pytest.raises(CustomerHasNoDeliveries):
        pay(work, Paying(HILL, usd("1.00"), number="D9"), DUE)


def test_jars_that_come_back_lower_what_is_owed_and_a_refund_is_a_step_of_its_own(work):
    pay(work, Paying(HILL, usd("80.00")), DUE)
    back = line(2, SISTER, price="10.00")
    work.add(Return(DUE, (back,), "lid dented", HILL, held=True))
    assert account_of(work, HILL).credit == usd("20.00")
    with pytest.raises(RefundAboveCredit, match=r"20\.00 USD"):
        refund(work, GivingBack(HILL, usd("25.00")), DUE)
    refund(work, GivingBack(HILL, usd("20.00"), "cash"), DUE)
    account = account_of(work, HILL)
    assert (account.open, account.credit, account.refunded) == (usd("0"), usd("0"), usd("20.00"))


def test_a_credit_is_set_against_the_next_delivery(work):
    pay(work, Paying(HILL, usd("100.00")), DUE)
    work.add(sent("D3", 4, day=DUE))
    assert open_of(work) == {"D1": usd("0"), "D2": usd("0"), "D3": usd("20.00")}


def test_money_given_back_beyond_the_credit_is_owed_again_on_what_was_paid_last(work):
    pay(work, Paying(HILL, usd("80.00")), DUE)
    refund(work, GivingBack(HILL, usd("12.00"), because="agreed by telephone"), DUE)
    assert open_of(work) == {"D1": usd("0"), "D2": usd("12.00")}


# D2 has no day, and came two days after D1: Directive 2011/7/EU, Article 3(3)(b), 30 days after it came; the United
# Kingdom's Late Payment of Commercial Debts (Interest) Act 1998, s. 4, 30 days beginning with the day it came.
@pytest.mark.parametrize(
    ("market", "days", "late"),
    [
        ("eu-de", 14, []),
        ("eu-de", 15, ["D1"]),
        ("eu-de", 32, ["D1"]),
        ("eu-de", 33, ["D1", "D2"]),
        ("uk", 31, ["D1"]),
        ("uk", 32, ["D1", "D2"]),
    ],
)
def test_a_delivery_is_late_the_day_after_it_is_due(work, market, days, late):
    work.add(Setting(DAY, "market", [market]))
    account = account_of(work, HILL)
    assert [each.delivery.number for each in account.late(LATER + timedelta(days=days))] == late


def test_today_names_a_late_customer_until_they_pay_or_while_a_reminder_gives_them_time(work):
    def late(day):
        return [one.what for one in due_today(work, day, "en_US") if one.verb == "remind"]

    assert late(DUE) == [] and late(DUE + timedelta(days=1)) == [f"{HILL} owes $50.00 since {DUE}: D1."]
    with pytest.raises(NothingToRemind):
        remind(work, HILL, DUE)
    done = remind(work, HILL, DUE + timedelta(days=1), days=7)
    assert (done.reminder.amount, done.reminder.pay_by) == (usd("50.00"), DUE + timedelta(days=8))
    assert late(DUE + timedelta(days=7)) == [] and late(DUE + timedelta(days=8)) != []
    pay(work, Paying(HILL, usd("80.00")), DUE + timedelta(days=8))
    assert late(DUE + timedelta(days=99)) == []


def test_tax_of_the_cash_basis_follows_the_money_and_that_of_the_year_the_jars(work):
    """Half of a bill is paid: half of its tax is in what was paid."""
    set_tax(work, TaxFrom(rate("included 25 %")), DAY)
    before = result(work, DUE)
    pay(work, Paying(HILL, usd("25.00"), number="D1"), DUE)
    after = result(work, DUE)
    assert after.tax_in == before.tax_in and after.tax_received - before.tax_received == usd("5.00")
    assert after.received - before.received == usd("25.00") and after.money_in == before.money_in


def test_money_in_advance_is_taxed_when_it_comes_in_and_not_again_when_the_jars_go(work):
    """SI 1995/2518, regulation 57(a): the day on which payment is received."""
    set_tax(work, TaxFrom(rate("included 25 %")), DAY)
    before = result(work, DUE).tax_received
    pay(work, Paying(HILL, usd("100.00")), DUE)  # 80.00 are owed
    year = result(work, DUE)
    # 100.00 / 1.25 are 80.00 and 20.00 of tax, of which 4.00 are in the 20.00 paid in advance
    assert (year.in_advance, year.tax_received - before) == (usd("20.00"), usd("20.00"))
    assert document(year)["paid_in_advance"] == Decimal("20.00")
    after = DUE + timedelta(days=1)
    work.add(sent("D3", 2, day=after))  # 20.00
    first, second = (result(work, after, period) for period in (Period(DAY, DUE), Period(after, after)))
    assert (first.tax_received - before, second.tax_received, second.in_advance) == (usd("20.00"), usd("0"), usd("0"))


def test_payments_and_refunds_stand_in_every_export(work):
    pay(work, Paying(HILL, usd("90.00"), "bank"), DUE)
    refund(work, GivingBack(HILL, usd("10.00"), "cash"), DUE)
    year = result(work, DUE)
    rows = [row for row in tax_sheet(year).splitlines() if "payment" in row.split(",")[1] or ",refund," in row]
    assert sum(float(row.split(",")[12]) for row in rows) == 80
    lines = [one for one in ledger(year) if one.customer == HILL and one.account == "payments received"]
    assert [one.amount for one in lines] == [usd("90.00"), usd("-10.00")]
    assert sum(one.amount.minor for one in ledger(year) if one.document.startswith(("payment", "refund"))) == 0


MONEY = st.integers(1, 30_000).map(lambda minor: Money(minor, "USD"))
STEPS = st.lists(
    st.tuples(st.sampled_from(["send", "pay", "back", "refund"]), st.integers(0, 40), MONEY, st.integers(1, 9))
)


@given(STEPS)
@settings(max_examples=examples(200), deadline=None)
def test_what_is_open_of_the_deliveries_less_the_credit_is_what_is_open(steps):
    """Whatever is sent, paid, brought back and refunded in whichever order, no cent is lost between them."""
    story = [sent("D0", 3)]
    for n, (what, days, money, jars) in enumerate(steps):
        day = LATER + timedelta(days=days)
        returned = line(jars, SISTER, price="10.00")
        story.append(
            {
                "send": sent(f"D{n + 1}", jars, day=day),
                "pay": Payment(day, HILL, money, number=f"D{n}" if jars > 5 else ""),
                "back": Return(day, (returned,), "dented", HILL),
                "refund": Refund(day, HILL, money),
            }[what]
        )
    (account,) = accounts(story, "USD")
    still = sum(each.open.minor for each in account.deliveries)
    assert all(each.open.minor >= 0 for each in account.deliveries)
    never_paid = max(0, account.refunded.minor - account.paid.minor)
    assert 0 <= max(0, account.open.minor) - still <= never_paid
    assert sum(part.amount.minor for part in account.settled) == account.paid.minor - account.refunded.minor
