"""Whatever is asked of the page, it answers: with a page, a refusal, or the way to another page; never with a fault."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from labelkit.page.app import make_app
from labelkit.page.request_context import Station
from labelkit.page.samples import Samples
from tests.page.conftest import DAY, PORT, Hand, desk_at
from tests.walks import examples

FIELDS = (
    "bucket",
    "gross",
    "tare",
    "net",
    "division",
    "container",
    "moisture",
    "scale",
    "temperature",
    "harvested",
    "plant",
    "yards",
    "into",
    "from",
    "part:B1",
    "size",
    "declares",
    "price",
    "cost",
    "goal",
    "first",
    "wet",
    "without",
    "at-least:one pound",
    "at-most:one pound",
    "price:one pound",
    "mix:one pound",
    "jar:one pound",
    "broken:one pound",
    "sample:one pound",
    "fill:one pound",
    "left",
    "lost",
    "lot",
    "sheet",
    "design",
    "kind",
    "count",
    "used",
    "right",
    "up",
    "cut",
    "spoiled",
    "name",
    "lines",
    "origin",
    "best_before",
    "wide:one pound",
    "high:one pound",
    "fact:home_kitchen",
    "fact:gallons_per_year",
    "as",
    "to",
    "customer",
    "place",
    "reason",
    "code",
    "yard",
    "hive",
    "event",
    "because",
    "back",
    "seal",
    "before",
    "market",
    "currency",
    "units",
    "language",
    "numbers",
    "product",
    "phone",
    "day",
    "change",
    "new",
    "more",
    "text",
    "cash",
    "cards",
    "off",
    "fee",
    "sold:one pound@L26195AXR",
    "back:one pound@L26195AXR",
    "cause",
    "why",
    "take",
    "ordered",
    "called",
    "how",
    "has",
    "note",
    "jars",
    "which",
)
LIKELY = (
    "",
    "B1",
    "B2",
    "one pound",
    "1 lb",
    "28.4 kg",
    "-3",
    "0",
    "1e9",
    "9" * 30,
    "12,7",
    "1/3",
    "17.4",
    "81.5",
    "NaN",
    "inf",
    "L26195AXR",
    "front",
    "back",
    "wrap",
    "lid",
    "meadow",
    "press",
    "letter-2x5-102x51",
    "a4-2x4-99x68",
    "roll-102x76",
    "roll-20x20",
    "us-va",
    "eu-de",
    "USD",
    "de_DE",
    "xx_XX",
    "brix",
    "sold",
    "returned",
    "money",
    "first",
    "2026-07-14",
    "32.13.2026",
    "<b>",
    "--help",
    "=",
    "a=b",
    "%",
    "\x00",
    "\ud7ff",
    "🍯",
    "../..",
    "{{1}}",
    "foreign-body",
    "wording",
    "R2026-07-14",
    "L26195AXR@one pound",
    "letter-1",
    "1 lb " * 40,
)
TEXTS = st.one_of(st.sampled_from(LIKELY), st.text(max_size=40))


@pytest.fixture(scope="module")
def hand():
    with tempfile.TemporaryDirectory() as folder:
        context = desk_at(Path(folder))
        app = make_app(Station(context, True, PORT, Samples()))
        someone = Hand(app.test_client(), context.record).begin()
        someone.bottle()
        someone.send("/words", {"name": "Wildflower Honey", "wide:one pound": "3 in", "high:one pound": "3.2 in"})
        with someone.client.session_transaction(base_url=f"http://{someone.host}") as session:
            session["token"] = "known"
        yield someone


def rules(hand, method: str) -> list[str]:
    found = [rule.rule for rule in hand.client.application.url_map.iter_rules() if method in rule.methods]
    return sorted(set(found) - {"/sample", "/sample/away"})


@given(data=st.data())
@settings(max_examples=examples(110), suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
def test_no_question_makes_a_fault(hand, data):
    rule = data.draw(st.sampled_from(rules(hand, "GET")))
    path = data.draw(st.sampled_from([rule.replace("<", "").replace(">", ""), rule]))
    for part in ("<code>", "<paper>", "<which>", "<kind>", "<key>", "<kept>", "<name>"):
        if part in path:
            path = path.replace(
                part,
                data.draw(
                    st.text(
                        st.characters(exclude_characters="/?#%", exclude_categories=("Cs",)), min_size=1, max_size=12
                    )
                ),
            )
    fields = data.draw(st.dictionaries(st.sampled_from(FIELDS), TEXTS, max_size=6))
    if rule.startswith("/labels"):
        fields = {"lot": "L26195AXR", "size": "one pound"} | fields
    answer = hand.client.get(path, query_string=fields, headers={"Host": hand.host})
    assert answer.status_code < 500, (path, fields, answer.data[-600:])
    assert b"not built for" not in answer.data


@given(data=st.data())
@settings(max_examples=examples(110), suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
def test_no_form_makes_a_fault(hand, data):
    path = data.draw(st.sampled_from(rules(hand, "POST")))
    fields = data.draw(st.dictionaries(st.sampled_from(FIELDS), TEXTS, max_size=8))
    fields |= {"token": "known", "step": data.draw(st.sampled_from(["", "a", "b"]))}
    answer = hand.post(path, fields)
    assert answer.status_code < 500, (path, fields, answer.data[-600:])
    assert b"not built for" not in answer.data
    assert hand.get("/").status_code == 200


def test_the_day_is_the_seasons(hand):
    assert "July 14, 2026" in hand.get("/").text and DAY.year == 2026
