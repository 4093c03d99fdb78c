"""Two browsers at two stations with one PostgreSQL record: nothing is drawn twice, nothing is lost."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from labelkit.page.serve import Server
from labelkit.record import open_record
from labelkit.record.verify import verify
from tests.browser.visitor import DESK, PHONE, Visit, begin, weigh
from tests.page.conftest import desk_at
from tests.record.server import new_database

pytestmark = pytest.mark.browser


@pytest.fixture
def stations(browser, tmp_path):
    """Two servers, each as on a machine of its own, with one record between them; a visit to each."""
    where = new_database()
    context = replace(desk_at(tmp_path), record=where)
    servers = [Server(replace(context, who=who), 0) for who in ("Robin", "Sascha")]
    threads = [threading.Thread(target=server.run, daemon=True) for server in servers]
    for thread in threads:
        thread.start()
    visits = [Visit(browser, server, where, **kind) for server, kind in zip(servers, (DESK, PHONE), strict=True)]
    yield visits
    for each in visits:
        assert each.troubles == []
        each.context.close()
    for server, thread in zip(servers, threads, strict=True):
        server.close()
        thread.join(10)


def test_buckets_weighed_in_turn_stand_in_one_record(stations):
    one, other = stations
    begin(one)
    for n in range(2):
        weigh(one, f"A{n}", "10 lb")
        weigh(other, f"Z{n}", "10 lb")
    assert [each.bucket for each in one.events("weigh")] == ["A0", "Z0", "A1", "Z1"]
    assert "4 buckets so far" in one.go("weigh").locator("main").inner_text()
    with open_record(one.record, to_read=True) as book:
        assert verify(book).clean
        assert {each.who for each in book.events(("weigh",))} == {"Robin", "Sascha"}


def test_the_last_jars_go_to_whoever_books_first(stations):
    one, other = stations
    begin(one)
    weigh(one, "B1", "20 lb")
    one.go("bottle")
    one.fill(**{"jar:one pound": "5"})
    one.press("Book the run")
    lot = one.tab.locator(".lotcode").inner_text().split()[-1]
    for each in (one, other):  # both see five in stock before either books
        each.go(f"sell?lot={lot}")
        each.fill(**{"jar:one pound": "4"})
    one.press("Book it")
    assert "4 × one pound" in one.said()
    other.press("Book it")
    assert "3 too few in stock" in other.tab.locator(".refusal").inner_text()
    assert other.tab.locator("[name='jar:one pound']").input_value() == "4"
    assert sum(each.lines[0].count for each in one.events("sell")) == 4


@pytest.mark.exhaustive
def test_both_at_the_very_same_time_fill_one_name_once(stations):
    one = stations[0]
    begin(one)
    forms = []
    for each in stations:
        tab = each.go("weigh")
        token, step = (tab.locator(f"form[action='/weigh'] [name={name}]").input_value() for name in ("token", "step"))
        cookies = "; ".join(f"{c['name']}={c['value']}" for c in each.context.cookies(each.address))
        forms.append((each.address, cookies, {"token": token, "step": step, "bucket": "B1", "net": "10 lb"}))
    with ThreadPoolExecutor(2) as pool:
        answers = sorted(pool.map(sent, forms))
    assert answers == [303, 422], "one is booked, the other is told that the name is taken"
    assert len(one.events("weigh")) == 1


def sent(form: tuple[str, str, dict]) -> int:
    """Send a form of a visit's page from a thread of its own; how it was answered."""
    import http.client
    from urllib.parse import urlencode, urlsplit

    address, cookies, fields = form
    host = urlsplit(address).netloc
    line = http.client.HTTPConnection(host, timeout=20)
    headers = {"Content-Type": "application/x-www-form-urlencoded", "Cookie": cookies, "Origin": f"http://{host}"}
    line.request("POST", "/weigh", urlencode(fields), headers)
    status = line.getresponse().status
    line.close()
    return status
