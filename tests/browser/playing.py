"""A season as somebody plays it on the page, step by step, and what the record must hold afterwards, reckoned by hand."""

from __future__ import annotations

import re

from labelkit.lots.movement import Account
from labelkit.measures import Mass
from labelkit.record import open_record
from tests.browser.visitor import Visit, begin_in

SHOP, MARKET = "Made-up Corner Shop", "Imaginary Square market"


def play_season(at: Visit) -> str:
    """From the first question to the trace; the lot that was made."""
    tab = at.go("")
    assert tab.url.endswith("/start")
    begin_in(at, "us-va")
    at.go("prices")
    at.fill(size="one pound", declares="1 lb", price="12.00", cost="1.35")
    at.press("Keep it")
    at.fill(size="half pound", declares="8 oz", price="6.00", cost="1.10")
    at.press("Keep it")
    at.go("weigh")
    for bucket, gross, water in (("B1", "41 lb 3 oz", "17.4"), ("B2", "28 lb 15 oz", "17.1")):
        at.fill(bucket=bucket, gross=gross, tare="2 lb 7 oz", moisture=water, yards="Mill meadow: H1, H2")
        at.press("Weigh it in")
        assert at.said().startswith(f"{bucket} is weighed in")
    at.go("drain")
    tab.get_by_role("radio", name=re.compile("B1")).check()
    at.fill(net="2 lb 4 oz", moisture="17.8")
    at.press("Add it")
    at.go("plan")
    assert "proved" in tab.locator(".worth").inner_text()
    at.follow(tab.get_by_role("link", name="Bottle B1"))
    assert tab.get_by_role("radio", name=re.compile("B1")).is_checked()
    at.press("Book the run")
    lot = tab.locator(".lotcode").inner_text().split()[-1]
    at.go("words")
    at.fill(name="Wildflower Honey", lines="From our own hives", origin="US", best_before="2028-06")
    for size in ("one pound", "half pound"):
        at.fill(**{f"wide:{size}": "3 in", f"high:{size}": "3.2 in"})
    at.press("Keep these words")
    at.follow(tab.get_by_role("link", name=re.compile(f"{lot} one pound")).first)
    tab.locator(".designs label", has_text="Meadow").click()
    tab.locator(".sheet input").first.check()
    at.print_labels()
    at.go(f"sell?lot={lot}")
    at.fill(**{"jar:one pound": "5"}, customer="Made-up Corner Shop")
    tab.locator("[name=to]").select_option("shop")
    at.press("Book it")
    assert "5 × one pound" in at.said()
    at.go("trace")
    tab.locator("#code").press_sequentially(lot)  # as a scanner that types does
    with tab.expect_navigation():
        tab.keyboard.press("Enter")
    assert "Made-up Corner Shop" in tab.locator("main").inner_text()
    return lot


def check_season(at: Visit, lot: str) -> None:
    """What the record holds after :func:`play_season`, reckoned by hand."""
    weighed, drained = at.events("weigh"), at.events("drain")
    assert [each.net for each in weighed] == [
        Mass.read(gross, "en_US") - Mass.read("2 lb 7 oz", "en_US") for gross in ("41 lb 3 oz", "28 lb 15 oz")
    ]
    assert drained[0].net == Mass.read("2 lb 4 oz", "en_US")
    (run,) = at.events("run")
    # 41 lb fill 41 jars of a pound, or fewer with two half pounds in their place; nothing is left either way.
    assert run.lot == lot and run.bucket == "B1"
    assert sum(jar.count * (2 if jar.size == "one pound" else 1) for jar in run.jars) == 82
    (printed,) = at.events("print")
    assert (printed.lot, printed.size, printed.design) == (lot, "one pound", "meadow")
    assert "Net Wt 16 oz (1 lb) 453 g" in printed.said
    (sale,) = at.events("sell")
    assert sale.customer == "Made-up Corner Shop" and sale.lines[0].count == 5


def play_filling(at: Visit, lot: str) -> None:
    """Filling day: the sheet, two jars weighed, one short and topped up by correcting it, and the weights kept."""
    tab = at.go("filling")
    assert "16 oz 453.6 g" in tab.locator("main").inner_text()
    at.follow(tab.get_by_role("link", name=re.compile(f"Weigh them.*{lot}, one pound")))
    for read in ("16.1 oz", "15.9 oz"):
        at.fill(next=read)
        at.enter_jar(read)
    assert "add 0.1 oz" in tab.locator(".this-jar").inner_text()
    tab.locator("#look [name=w]").last.fill("16 oz")
    at.settle_list("16 oz")
    at.press("Keep the weights")
    assert "2 weights of lot" in at.said()


def play_market(at: Visit, lot: str) -> None:
    """A market day: loaded, sold, settled by hand with the cash two dollars short."""
    tab = at.go("stall")
    at.fill(place=MARKET, **{"jar:one pound": "6"}, change="50")
    at.press("They are loaded: book it")
    assert "6 jars are loaded" in at.said()
    item = f"one pound@{lot}"
    at.fill(**{f"sold:{item}": "4", f"tasted:{item}": "1", f"back:{item}": "1"}, cash="96")
    at.press("Settle the day")
    # Four at 12.00 should have brought 48.00; 96.00 less the 50.00 it began with is 46.00.
    shown = tab.locator(".sums").inner_text()
    assert "$48.00" in shown and "$46.00" in shown and "-$2.00" in shown
    # Five jars gone at 1.35 each are 6.75; 46.00 − 6.75 = 39.25 is left.
    assert "$6.75" in shown and "$39.25" in shown


def play_recall(at: Visit, lot: str) -> None:
    """A recall: how far, hold, begin, the shop told and answered, its jars back and destroyed, all of them counted."""
    tab = at.go("recall")
    at.fill(code=lot.lower())
    tab.get_by_role("radio", name=re.compile("a foreign body")).check()
    at.press("See how far it reaches")
    assert SHOP in tab.locator("main").inner_text()
    at.fill(why="a splinter of glass was found")
    at.press("Only put on hold, at once")
    assert "on hold" in at.said()
    refused = at.go(f"sell?lot={lot}")
    at.fill(**{"jar:one pound": "1"})
    at.press("Book it")
    assert "on hold" in refused.locator(".refusal").inner_text()
    at.go(f"recall/scope?code={lot}&cause=foreign-body&why=a+splinter+of+glass+was+found")
    at.press("Call these jars back")
    assert tab.locator("h1").inner_text().startswith("Recall R")
    mine = tab.locator(".call", has_text=SHOP)
    mine.locator("[name=has]").fill("5")
    at.follow(mine.get_by_role("button", name=re.compile("Note it")))
    assert "1 of 1 told, 1 answered" in tab.locator("main").inner_text()
    mine = tab.locator(".call", has_text=SHOP)
    mine.locator("[name=count]").fill("5")
    at.follow(mine.get_by_role("button", name=re.compile("They are here")))
    while tab.get_by_role("button", name=re.compile("^Destroyed.*:")).count():
        row = tab.locator("form[action='/recall/destroyed']").first
        row.locator("input:visible").fill(re.search(r"(\d+) here", row.inner_text())[1])
        at.follow(row.get_by_role("button"))
    # All that could be fetched is destroyed; what is left went to people at the market, and nobody can call them.
    assert re.match(r"0\s%\s+could still be fetched", tab.locator(".worth").inner_text())
    assert "No jar is unexplained" in tab.locator("main").inner_text()


def check_rest(at: Visit, lot: str) -> None:
    """What the record holds after the filling, the market day and the recall."""
    (weighed,) = at.events("check-weigh")
    assert list(weighed.shown) == [Mass.read(read, "en_US") for read in ("16.1 oz", "16 oz")] and weighed.lot == lot
    (day,) = at.events("unload")
    assert (sum(x.count for x in day.lines), sum(x.count for x in day.tasted), sum(x.count for x in day.back)) == (
        4,
        1,
        1,
    )
    (recall,) = at.events("recall")
    (told,) = at.events("tell")
    assert recall.lots == (lot,) and (told.customer, told.has) == (SHOP, 5)
    (run,) = at.events("run")
    made = sum(jar.count for jar in run.jars)
    with open_record(at.record, to_read=True) as book, book.reading() as state:
        there = {}
        for s in state.stock(*Account, lots=[lot]):
            there[s.account] = there.get(s.account, 0) + s.count
        assert lot in state.holds() and run.bucket in state.holds()
    # Five went to the shop and came back; four were sold and one tasted at the market; all others were destroyed.
    assert there == {Account.DISCARDED: made - 5, Account.SOLD: 4, Account.GIVEN: 1}
