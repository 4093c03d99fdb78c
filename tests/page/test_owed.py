"""What customers owe, on the page: late deliveries, payments, refunds, reminders, and the tax that is stated."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from email import message_from_bytes, policy
from io import BytesIO

import pytest
from pypdf import PdfReader

from labelkit.measures import Mass, Money
from labelkit.record import open_record
from labelkit.record.settings import Setting
from labelkit.sale.account_events import Delivery
from labelkit.sale.events import SaleLine
from labelkit.season.account import account_of
from labelkit.season.settings import settings_of
from tests.page.conftest import DAY
from tests.page.test_forms import words

SHOP = "Hill shop"


@pytest.fixture
def owing(hand):
    """Four jars at 8.40 delivered, and three days late."""
    lot = hand.begin().bottle()
    price = Money.of("8.40", "USD")
    with (
        open_record(hand.record) as book,
        book.work(who="Ada", at=datetime(DAY.year, DAY.month, DAY.day, 9, tzinfo=UTC)) as work,
    ):
        jars = (SaleLine(lot, "one pound", 4, Mass(453_593), price),)
        work.add(Delivery(DAY, "D2026-001", SHOP, jars, ("1 Row",), due=DAY - timedelta(days=3)))
        work.commit()
    return hand


def account(hand):
    with open_record(hand.record, to_read=True) as book, book.reading() as state:
        return account_of(state, SHOP)


def test_the_page_names_who_is_late_and_draws_the_reminder(owing):
    page = words(owing.get("/owed"))
    assert "Hill shop" in page and "$33.60" in page and "3 days late" in page
    assert "owes $33.60" in words(owing.get("/"))
    assert owing.send("/owed/remind", {"customer": SHOP}, "/owed").status_code == 303
    letter = owing.get(f"/owed/reminder.pdf?customer={SHOP}")
    text = PdfReader(BytesIO(letter.data)).pages[0].extract_text()
    assert "D2026-001" in text and "$33.60" in text and "July 28, 2026" in text
    sent = message_from_bytes(owing.get(f"/owed/reminder.eml?customer={SHOP}").data, policy=policy.default)
    assert "D2026-001" in sent.get_body(("plain",)).get_content() and len(list(sent.iter_attachments())) == 1
    note = message_from_bytes(owing.get("/deliver/D2026-001.eml").data, policy=policy.default)
    assert "D2026-001" in note["Subject"] and len(list(note.iter_attachments())) == 1
    assert owing.get("/deliver/D2026-001.exe").status_code == 404
    assert "owes" not in words(owing.get("/"))
    assert owing.get("/owed/reminder.pdf?customer=Nobody").status_code == 404


def test_a_part_payment_is_booked_and_a_refund_above_the_credit_asks_why(owing):
    assert owing.send("/owed/pay", {"customer": SHOP, "amount": "20", "how": "cash"}, "/owed").status_code == 303
    assert account(owing).open == Money.of("13.60", "USD")
    back = {"customer": SHOP, "amount": "5", "way": "refund"}
    asked = owing.send("/owed/pay", back, "/owed")
    assert asked.status_code == 422 and "a credit of 0.00 USD" in words(asked) and 'name="because"' in asked.text
    assert owing.send("/owed/pay", {**back, "because": "agreed"}, "/owed").status_code == 303
    assert account(owing).open == Money.of("18.60", "USD")
    nothing = owing.send("/owed/pay", {"customer": SHOP, "amount": ""}, "/owed")
    assert nothing.status_code == 422 and len(owing.events("pay")) == 1


def test_a_tax_is_stated_for_a_channel_and_an_unclear_one_is_refused_at_its_field(owing):
    sent = owing.send("/prices/tax", {"how": "included", "rate": "5.3", "channel": "stall"}, "/prices")
    assert sent.status_code == 303
    owing.send("/prices/tax", {"how": "exempt", "channel": "shop"}, "/prices")
    with open_record(owing.record, to_read=True) as book, book.reading() as state:
        rates = settings_of(state).taxes.rates
    assert [(rate.channel, str(rate.tax)) for rate in rates] == [("stall", "included 5.3 %"), ("shop", "exempt")]
    page = words(owing.get("/prices"))
    assert "included in the price" in page and "Ask your tax office" in page
    assert owing.send("/prices/tax", {"how": "included", "rate": ""}, "/prices").status_code == 422


def test_the_state_of_jars_that_came_back_is_kept(owing):
    lot = owing.events("run")[0].event.lot
    back = {"lot": lot, "jar:one pound": "1", "as": "returned", "reason": "tasted", "state": "opened", "customer": SHOP}
    assert owing.send("/sell", back, f"/sell?lot={lot}").status_code == 303
    assert owing.events("return")[0].event.state == "opened"
    assert "came back opened" in words(owing.get("/"))


def test_a_delivery_is_booked_on_the_page_and_its_note_is_drawn_from_the_record(hand):
    lot = hand.begin().bottle()
    asked = {
        "customer": SHOP,
        "to": "shop",
        "jar:one pound": "3",
        "price:one pound": "9",
        "address": "1 Row\nSampleton",
    }
    unsaid = hand.send("/deliver", {**asked, "customer": " "}, "/deliver")
    assert unsaid.status_code == 422
    more = {"days_to_pay": "14", "phone": "555 0100"}
    assert hand.send("/deliver", asked | more, "/deliver").status_code == 303
    # 3 x 9.00, due 14 days after the day of the delivery
    (sent,) = account(hand).deliveries
    assert (sent.open, sent.delivery.due) == (Money.of("27.00", "USD"), DAY + timedelta(days=14))
    page = words(hand.get("/deliver"))
    assert "D2026-001" in page and "$27.00" in page
    note = PdfReader(BytesIO(hand.get("/deliver/D2026-001.pdf").data)).pages[0].extract_text()
    assert lot in note and "Sampleton" in note
    assert "$27.00" in words(hand.get("/owed"))
    assert hand.get("/deliver/D2026-009.pdf").status_code == 404
    # the price and the address are remembered
    again = {"customer": SHOP, "jar:one pound": "1"}
    assert hand.send("/deliver", again, "/deliver").status_code == 303
    assert account(hand).open == Money.of("36.00", "USD")
    # the note keeps the name the jars went under, whatever the season is called later
    with (
        open_record(hand.record) as book,
        book.work(who="Ada", at=datetime(DAY.year, DAY.month, DAY.day, 10, tzinfo=UTC) + timedelta(days=9)) as work,
    ):
        work.add(Setting(DAY + timedelta(days=9), "maker", {"name": "Another Name", "city": "Elsewhere"}))
        work.commit()
    later = PdfReader(BytesIO(hand.get("/deliver/D2026-001.pdf").data)).pages[0].extract_text()
    assert later == note
