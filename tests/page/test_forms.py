"""The main line of the season by plain forms: what is typed is booked once, refused kindly, and can be taken back."""

from __future__ import annotations

import html
import io
import re
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from labelkit.cli._runner import answer_to
from labelkit.measures import Mass
from labelkit.record import open_record
from tests.lots.test_workbooks import workbook
from tests.page.conftest import DAY


def words(answer) -> str:
    """What a page says, without its marks."""
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.text)))


def test_without_a_record_every_page_leads_to_the_first_questions(hand):
    for path in ("/", "/weigh", "/plan", "/record", "/trace", "/labels"):
        assert hand.get(path).headers["Location"] == "/start"


def test_the_first_answers_make_the_record(hand):
    assert (
        hand.send("/start", {"market": "us-va", "name": "Pretend Hollow Honey", "units": "metric"}).status_code == 303
    )
    with open_record(hand.record, to_read=True) as book:
        settings = book.settings()
    assert settings["market"] == ["us-va"] and settings["currency"] == "USD" and settings["units"] == "metric"


def test_a_bare_number_is_read_in_the_unit_beside_its_field(hand):
    hand.send("/start", {"market": "us-va", "name": "Hollow"})
    hand.send("/weigh", {"bucket": "B1", "gross": "62", "tare": "2.5"})
    hand.send("/weigh", {"bucket": "B2", "gross": "28.4 kg", "tare": "1.1 kg"})
    first, second = (each.event.net for each in hand.events("weigh"))
    assert first == Mass.read("59.5 lb", "en_US") and second == Mass.read("27.3 kg", "en_US")


def test_a_brix_reading_becomes_a_moisture_by_the_honey_table(hand):
    # AOAC 969.38 by way of the sucrose scale: 80.0 °Brix is refractive index 1.4907, which the table has at 18.3 %.
    hand.begin()
    hand.send("/weigh", {"bucket": "B3", "net": "5 kg", "gross": "", "tare": "", "moisture": "80.0", "scale": "brix"})
    assert hand.events("weigh")[-1].event.moisture == Decimal("18.3")


def test_a_brix_typed_as_moisture_is_refused_and_everything_typed_still_stands(hand):
    hand.begin()
    answer = hand.send(
        "/weigh", {"bucket": "B3", "gross": "60 lb", "tare": "2 lb", "moisture": "81.5", "yards": "Far field: H9"}
    )
    assert answer.status_code == 422
    assert "looks like the solids" in words(answer) and "Brix" in words(answer)
    assert 'value="60 lb"' in answer.text and 'value="81.5"' in answer.text and "Far field: H9" in answer.text
    assert len(hand.events("weigh")) == 2


def test_the_look_says_what_booking_would_say_and_books_nothing(hand):
    hand.begin()
    fine = hand.get("/weigh/look?bucket=B9&gross=40+lb&tare=2+lb&moisture=17")
    assert "38 lb" in words(fine) and "17% water" in words(fine)
    swapped = hand.get("/weigh/look?bucket=B9&gross=2+lb&tare=40+lb")
    assert "is not more than the tare" in words(swapped)
    twice = hand.get("/weigh/look?bucket=B1&net=5+kg")
    assert "already weighed in" in words(twice)
    assert len(hand.events("weigh")) == 2


def test_the_same_form_sent_twice_books_one_bucket(hand):
    hand.begin()
    form = {**hand.hidden("/weigh", "/weigh"), "bucket": "B3", "net": "5 kg"}
    assert [hand.post("/weigh", form).status_code for _ in range(3)] == [303, 303, 303]
    assert [each.event.bucket for each in hand.events("weigh")] == ["B1", "B2", "B3"]


def test_a_form_gone_back_to_and_changed_is_told_apart_and_can_be_sent_anew(hand):
    hand.begin()
    form = {**hand.hidden("/weigh", "/weigh"), "bucket": "B3", "net": "5 kg"}
    hand.post("/weigh", form)
    again = hand.post("/weigh", form | {"bucket": "B4"})
    assert again.status_code == 409 and "already saved once" in words(again)
    new_key = re.search(r'name="step" value="([^"]+)"', again.text)[1]
    assert new_key != form["step"]
    assert hand.post("/weigh", form | {"bucket": "B4", "step": new_key}).status_code == 303


def test_the_next_buckets_form_knows_what_stays_the_same(hand):
    hand.begin()
    hand.send(
        "/weigh", {"bucket": "B09", "gross": "40 lb", "tare": "2 lb 7 oz", "yards": "Mill meadow: H1", "plant": "lime"}
    )
    page = hand.get("/weigh").text
    assert (
        'value="B10"' in page and 'value="2 lb 7 oz"' in page and "Mill meadow: H1" in page and 'value="lime"' in page
    )


def test_a_spreadsheet_is_taken_whole_or_not_at_all(hand):
    hand.begin()
    table = b"bucket,gross,tare,moisture\nC1,28.4 kg,1.1 kg,17.6\nC2,27 kg,1.1 kg,17.2\n"
    sent = hand.send("/weigh/file", {"table": (io.BytesIO(table), "anything.csv")}, "/weigh")
    assert sent.status_code == 303
    bad = table.replace(b"C", b"D").replace(b"27 kg", b"a lot")
    answer = hand.send("/weigh/file", {"table": (io.BytesIO(bad), "anything.csv")}, "/weigh")
    assert answer.status_code == 422 and "Your file, line 3" in words(answer)
    assert [each.event.bucket for each in hand.events("weigh")] == ["B1", "B2", "C1", "C2"]
    empty = hand.send("/weigh/file", {"table": (io.BytesIO(b""), "")}, "/weigh")
    assert empty.status_code == 422 and "You chose no file" in words(empty)


def test_cappings_honey_and_a_blend(hand):
    hand.begin()
    hand.send("/drain", {"bucket": "B1", "net": "2 lb 4 oz", "moisture": "17.8"})
    hand.send("/blend", {"from": ["B1", "B2"], "part:B1": "10", "into": "M1"})
    with open_record(hand.record, to_read=True) as book:
        made, rest = book.bucket("M1"), book.bucket("B1")
    assert made.holds == Mass.read("10 lb", "en_US") + Mass.read("12 kg", "en_US")
    assert rest.holds == Mass.read("38 lb 12 oz", "en_US") + Mass.read("2 lb 4 oz", "en_US") - Mass.read(
        "10 lb", "en_US"
    )


def test_the_plan_is_the_commands_plan_and_its_limits_stand_in_the_address(hand):
    # 17.577 kg hold 38 pounds of 453.592 g, 12 kg hold 26: (38 + 26) × (12.00 − 1.35) = 681.60.
    hand.begin()
    assert "$681.60" in words(hand.get("/plan"))
    # With at most 30 jars: 30 × 10.65 = 319.50.
    limited = words(hand.get("/plan?at-most%3Aone+pound=30"))
    assert "$319.50" in limited and "Without these limits $681.60" in limited
    assert "$319.50" in words(hand.get("/plan/look?at-most%3Aone+pound=30"))
    refused = words(hand.get("/plan?at-least%3Aone+pound=500"))
    assert "Why" in refused or "500" in refused


def test_a_run_shows_its_code_large_and_where_every_gram_went(hand):
    hand.begin()
    sent = hand.send("/bottle", {"bucket": "B1", "jar:one pound": "36", "broken:one pound": "1", "left": "1 lb"})
    page = hand.get(sent.headers["Location"])
    lot = sent.headers["Location"].rpartition("/")[2]
    assert re.search(rf'<h1 class="lotcode"><span>Lot</span> {lot}</h1>', page.text)
    # 38 lb 12 oz less 1 lb left, 36 jars and one broken leave 12 oz unexplained.
    assert "12 oz" in words(page) and "unexplained" in words(page)
    run = hand.events("run")[0].event
    assert run.unexplained == run.held - Mass.read("1 lb", "en_US") - 37 * Mass(453592)


def test_a_run_of_more_than_there_is_is_refused_with_the_form_as_it_was(hand):
    hand.begin()
    answer = hand.send("/bottle", {"bucket": "B1", "jar:one pound": "60"})
    assert answer.status_code == 422 and 'value="60"' in answer.text and not hand.events("run")
    assert "Count the jars and weigh" in words(hand.get("/bottle/look?bucket=B1&jar%3Aone+pound=60"))


def test_labels_are_looked_at_without_booking_and_booked_once(hand):
    lot = hand.begin().bottle()
    assert f"lot={lot}" in hand.get("/labels").text
    assert "Say the honey’s name" in words(
        hand.get(f"/labels?lot={lot}&size=one+pound&desk=/&name=&wide=3+in&high=3.2+in")
    )
    hand.send(
        "/words",
        {
            "name": "Wildflower Honey",
            "lines": "From our hives",
            "origin": "us",
            "wide:one pound": "3 in",
            "high:one pound": "3.2 in",
        },
    )
    ask = f"lot={lot}&size=one+pound"
    page = hand.get(f"/labels?{ask}&used=1&used=2")
    assert "21 CFR 101.7" in words(page) and "12 labels on 2 pages" in words(page)
    assert hand.get(f"/labels/one.png?{ask}").data.startswith(b"\x89PNG")
    assert hand.get(f"/labels/labels.pdf?{ask}").data.startswith(b"%PDF")
    assert not hand.events("print")
    form = hand.hidden(f"/labels?{ask}", "/labels/print")
    for _ in range(2):
        sent = hand.post("/labels/print", form | {"used": ["1", "2"], "design": "meadow"})
        assert sent.status_code == 303
    printed = hand.events("print")
    assert len(printed) == 1 and printed[0].event.count == 12 and printed[0].event.design == "meadow"
    assert "Net Wt 16 oz (1 lb) 453 g" in printed[0].event.said and any(lot in said for said in printed[0].event.said)
    assert hand.get(sent.headers["Location"]).data.startswith(b"%PDF")
    done = hand.get(f"/labels/done?{ask}")
    assert f"/labels/labels.pdf?lot={lot}" in html.unescape(done.text)
    # Nothing was printed after this one: back to the label.
    assert hand.get(f"/labels/done?{ask}&after={printed[0].seq}").headers["Location"].startswith("/labels?")


def test_a_word_the_rules_forbid_is_found_beside_the_look(hand):
    lot = hand.begin().bottle()
    hand.send("/words", {"name": "Wildflower Honey", "lines": "Cures asthma"})
    page = words(hand.get(f"/labels?lot={lot}&size=one+pound"))
    assert "Must be fixed" in page and "Cures asthma" in page and "Check your local rules" in page


@pytest.mark.parametrize(
    ("name", "sheet"), [("Wildflower Honey", ""), ("Summer Gold", ""), ("Wildflower Honey", "letter-3x10-67x25")]
)
def test_page_and_command_say_the_same_of_the_same_labels(hand, name, sheet):
    """For one record, lot and size the list of findings is one, and so is whether the labels are printed."""
    lot = hand.begin().bottle()
    hand.send("/words", {"name": name, "origin": "us", "wide:one pound": "3 in", "high:one pound": "3.2 in"})
    line = ["--record", hand.record, "--day", DAY.isoformat(), "labels", "--size", "one pound", "--lot", lot, "--proof"]
    line += ["--out", f"{hand.record}.pdf", *(["--sheet", sheet] if sheet else [])]
    answer = answer_to(line, clock=datetime(2026, 7, 14, 9, tzinfo=UTC), who="Robin")
    ask = f"/labels?lot={lot}&size=one+pound&sheet={sheet}"
    page = words(hand.get(ask))
    for level in ("stop", "ask", "note"):
        found = [finding for finding in answer.document["findings"] if finding.level == level]
        assert len(re.findall(rf'class="finding {level}" id="n-', hand.get(ask).text)) == len(found)
        assert all(" ".join(finding.says.split()) in page for finding in found)
    stopped = answer.exit_code == 1
    assert stopped == ("Nothing to fix, in the rules labelkit holds" not in page)
    assert stopped == (hand.send("/labels/print", {"sheet": sheet}, ask).status_code == 422)
    assert len(hand.events("print")) == (0 if stopped else 1)


def test_a_sale_a_gift_and_a_return_are_on_the_shelf_and_in_the_trace(hand):
    lot = hand.begin().bottle()
    sold = hand.send(
        "/sell",
        {"lot": lot, "jar:one pound": "5", "as": "sold", "to": "shop", "customer": "Made-up Corner Shop"},
        f"/sell?lot={lot}",
    )
    assert sold.status_code == 303
    too_many = hand.send("/sell", {"lot": lot, "jar:one pound": "8", "as": "sold"}, f"/sell?lot={lot}")
    assert too_many.status_code == 422 and "1 too few" in words(too_many)
    no_reason = hand.send("/sell", {"lot": lot, "jar:one pound": "1", "as": "returned"}, f"/sell?lot={lot}")
    assert no_reason.status_code == 422 and "reason" in words(no_reason)
    page = words(hand.get(f"/trace?code={lot.lower()}"))
    assert "Made-up Corner Shop" in page and "Mill meadow (H1, H2)" in page
    flow = hand.get(f"/trace/flow.svg?code={lot}")
    assert flow.mimetype == "image/svg+xml" and "sandbox" in flow.headers["Content-Security-Policy"]
    assert hand.get(f"/trace/steps.csv?code={lot}").text.count("\n") > 3
    assert hand.get(f"/trace/paper.pdf?code={lot}").data.startswith(b"%PDF")


def test_a_mistyped_code_names_the_lot_it_may_be(hand):
    lot = hand.begin().bottle()
    wrong = lot[:-2] + lot[-1] + lot[-2]
    assert lot in words(hand.get(f"/trace?code={wrong}"))


def put_right(hand, event: int, **fields: str):
    """Open the form of an event, change some of it, and send all of it."""
    path = f"/correct?event={event}&back=/record"
    form = hand.get(path).text
    booked = {
        name: html.unescape(said) for name, said in re.findall(r'name="([^"]+)" type="text" value="([^"]*)"', form)
    }
    return booked, hand.send("/correct", {**booked, "because": "misread", **fields}, path)


def test_the_last_step_is_taken_back_and_its_own_form_comes_filled_with_what_was_booked(hand):
    lot = hand.begin().bottle()
    run = hand.events("run")[0].seq
    assert f'name="event" value="{run}"' in hand.get(f"/lot/{lot}").text
    _, answer = put_right(hand, run, do="strike")
    assert answer.status_code == 303
    with open_record(hand.record, to_read=True) as book:
        assert not book.stock() and book.bucket("B1").holds == Mass.read("38 lb 12 oz", "en_US")
    again = hand.get(answer.headers["Location"]).text
    assert 'name="jar:one pound" value="12"' in again and re.search(r'name="bucket" value="B1" required checked', again)
    assert "struck by event" in words(hand.get("/record")) and "misread" in words(hand.get("/record"))
    assert "taken back" in words(hand.get(f"/lot/{lot}"))


def test_a_weigh_in_is_put_right_in_its_place_and_what_stands_on_it_keeps_its_code(hand):
    lot = hand.begin().bottle()
    weighed = hand.events("weigh")[0].seq
    booked, answer = put_right(hand, weighed, gross="42 lb 3 oz")
    assert (booked["gross"], booked["tare"], booked["net"], booked["moisture"]) == (
        "41 lb 3 oz",
        "2 lb 7 oz",
        "",
        "17.4",
    )
    assert answer.status_code == 303 and answer.headers["Location"] == "/record"
    first, *_, right = hand.events("weigh")
    assert not first.stands and right.stands
    assert right.event.net == Mass.read("42 lb 3 oz", "en_US") - Mass.read("2 lb 7 oz", "en_US")
    assert hand.events("run")[-1].stands and hand.events("run")[-1].event.lot == lot
    assert lot in words(hand.get("/record"))


def test_putting_right_asks_for_a_change_and_a_reason(hand):
    hand.begin().bottle()
    weighed = hand.events("weigh")[0].seq
    assert "as it was booked" in words(put_right(hand, weighed)[1])
    _, without = put_right(hand, weighed, gross="42 lb", because="")
    assert without.status_code == 422 and 'value="42 lb"' in without.text
    assert put_right(hand, weighed, gross="a lot")[1].status_code == 422
    assert hand.events("weigh")[0].stands
    assert hand.get("/correct?event=999").status_code == 422


def test_a_struck_step_and_a_correction_lead_to_what_stands_now(hand):
    hand.begin()
    wrong = hand.events("weigh")[0].seq
    put_right(hand, wrong, gross="42 lb 3 oz")
    stands = hand.events("weigh")[-1].seq
    for seq in (wrong, hand.events("correct")[0].seq):
        assert f'href="/correct?event={stands}"' in hand.get(f"/correct?event={seq}").text


def test_the_rest_of_a_run_that_was_not_weighed_is_left_empty_to_be_weighed(hand):
    hand.begin().bottle()
    run = hand.events("run")[0]
    assert not run.event.left_was_weighed
    form = hand.get(f"/correct?event={run.seq}").text
    assert re.search(r'name="left" type="text" value=""', form) and "Not weighed: it was worked out." in form


def test_the_story_of_a_bucket_is_told_in_the_weights_of_the_season(hand):
    hand.begin().bottle()
    told = hand.get("/bucket?bucket=B1").text
    story = told[told.index('<ol class="steps">') :].partition("</ol>")[0]
    assert " lb" in story and " kg" not in story


def test_a_step_others_rest_on_is_not_taken_back(hand):
    lot = hand.begin().bottle()
    weighed = hand.events("weigh")[0].seq
    assert put_right(hand, weighed, do="strike")[1].status_code == 422
    assert hand.events("weigh")[0].stands and lot in words(hand.get("/"))


def test_the_record_is_verified_and_sealed(hand):
    hand.begin()
    page = hand.get("/record").text
    seal = html.unescape(re.search(r'<p class="seal">([^<]+)</p>', page)[1])
    hand.send("/weigh", {"bucket": "B3", "net": "5 kg", "gross": "", "tare": ""})
    verified = hand.send("/record/verify", {"seal": seal}, "/record")
    assert "each as it was booked" in words(verified) and "It holds what was sealed" in words(verified)
    wrong = hand.send("/record/verify", {"seal": "not a seal"}, "/record")
    assert wrong.status_code == 422 and "is not a seal" in words(wrong)
    assert hand.get("/record/seal.pdf").data.startswith(b"%PDF")


def test_a_changed_record_is_told_by_verify(hand):
    import sqlite3

    hand.begin()
    raw = sqlite3.connect(hand.record)
    for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        raw.execute(f'DROP TRIGGER "{name}"')
    raw.execute("UPDATE event SET who = 'Somebody else' WHERE seq = 4")
    raw.commit()
    raw.close()
    form = {"token": "x"}
    with hand.client.session_transaction(base_url=f"http://{hand.host}") as session:
        session["token"] = "x"
    answer = hand.post("/record/verify", form)
    assert answer.status_code in (200, 409) and "Traceback" not in answer.text
    assert "event 4" in words(answer) or "damaged" in words(answer)


HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "'; DROP TABLE event; --",
    "--bucket",
    "=1+1",
    "../../etc/passwd",
    "{{ 7 * 7 }}",
    "{% raw %}",
    "B\u202e1",
    "\u0000",
    "a\nb",
    "名前",
    "🐝" * 20,
    "x" * 60,
    "%s%n",
    "&amp;",
    "${7*7}",
]


@pytest.mark.exhaustive(one_in=8)
@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_a_name_or_is_refused(hand, name):
    hand.begin()
    sent = hand.send(
        "/weigh", {"bucket": name, "net": "5 kg", "gross": "", "tare": "", "yards": f"{name}: {name}", "plant": name}
    )
    assert sent.status_code in (303, 422)
    for path in ("/", "/weigh", "/drain", "/blend", "/plan", "/bottle", "/record", "/trace"):
        page = hand.get(path)
        assert page.status_code == 200
        assert "<script>alert" not in page.text and "<img src=x" not in page.text
        assert "49" not in re.findall(r"<h3>[^<]*</h3>", page.text)
    if sent.status_code == 303 and len(hand.events("weigh")) == 3:
        assert hand.events("weigh")[-1].event.bucket == name.strip() or "\n" in name


def test_metric_and_customary_stand_side_by_side_in_the_order_asked_for(hand):
    hand.begin()
    assert re.search(r"<b>38 lb 12 oz</b> <span class=\"other\">17\.577 kg</span>", hand.get("/").text)
    hand.send("/start", {"market": "us-va", "name": "Hollow", "units": "metric"})
    assert re.search(r"<b>17\.577 kg</b> <span class=\"other\">38 lb 12 oz</span>", hand.get("/").text)


def test_numbers_are_read_and_written_as_the_season_says(hand):
    hand.send("/start", {"market": "eu-de", "name": "Hollow", "numbers": "de_DE"})
    hand.send("/weigh", {"bucket": "B1", "gross": "28,4", "tare": "1,1", "moisture": "17,6"})
    assert hand.events("weigh")[0].event.net == Mass.read("27.3 kg", "en_US")
    assert "27,3 kg" in words(hand.get("/")) and "17,6" in words(hand.get("/"))


def test_the_plan_says_why_not_one_more(hand):
    hand.begin()
    page = words(hand.get("/plan/why?at-most%3Aone+pound=30"))
    # As many as allowed: one jar more would bring its price less its cost, 12.00 − 1.35.
    assert "as many as allowed. One more would bring $10.65 more" in page


def test_a_lot_on_hold_goes_nowhere_until_it_is_released(hand):
    lot = hand.begin().bottle()
    held = hand.send("/trace/hold", {"because": "a splinter of glass was found"}, f"/trace?code={lot}")
    assert held.status_code == 303
    assert "is on hold" in words(hand.get(f"/trace?code={lot}")) and f"Lot {lot} is on hold" in words(hand.get("/"))
    sale = hand.send("/sell", {"lot": lot, "jar:one pound": "1", "as": "sold"}, f"/sell?lot={lot}")
    assert sale.status_code in (422, 409) and not hand.events("sell")
    no_reason = hand.send("/trace/release", {"because": ""}, f"/trace?code={lot}")
    assert no_reason.status_code == 422
    assert hand.send("/trace/release", {"because": "laboratory: clean"}, f"/trace?code={lot}").status_code == 303
    assert hand.send("/sell", {"lot": lot, "jar:one pound": "1", "as": "sold"}, f"/sell?lot={lot}").status_code == 303


def test_what_was_said_of_how_one_works_can_be_taken_back(hand):
    hand.begin()
    hand.send("/words", {"name": "Wildflower Honey", "fact:home_kitchen": "yes", "fact:sells_to": ["stall", "shop"]})
    with open_record(hand.record, to_read=True) as book:
        assert book.settings()["situation"] == {"home_kitchen": True, "sells_to": ["stall", "shop"]}
    hand.send("/words", {"name": "Wildflower Honey", "fact:home_kitchen": "", "fact:sells_to": ["stall"]})
    with open_record(hand.record, to_read=True) as book:
        assert book.settings()["situation"] == {"sells_to": ["stall"]}


@pytest.mark.parametrize("content", [b"", b"not a record at all, only words", b"SQLite format 3\x00" + bytes(200)])
def test_a_record_that_is_none_is_refused_on_every_page_and_left_as_it_is(hand, content):
    with open(hand.record, "wb") as file:
        file.write(content)
    for path in ("/", "/weigh", "/record", "/start", "/labels"):
        answer = hand.get(path)
        assert answer.status_code == 409 and "Not done" in words(answer), path
    with open(hand.record, "rb") as file:
        assert file.read() == content


def test_the_money_of_a_season_is_the_commands_result(hand):
    lot = hand.begin().bottle()
    assert "$0.00" in words(hand.get("/sell/result"))
    hand.send("/sell", {"lot": lot, "jar:one pound": "5", "as": "sold", "place": "Saturday market"}, f"/sell?lot={lot}")
    page = words(hand.get("/sell/result"))
    # Five at 12.00 are 60.00; they cost 1.35 each, 6.75; 53.25 is left.
    assert "5 × one pound $60.00" in page and "− $6.75" in page and "left $53.25" in page and "Saturday market" in page


def test_a_very_long_season_is_reckoned_beside_the_page(hand, monkeypatch):
    from labelkit.page.views import sell

    hand.begin()
    monkeypatch.setattr(sell, "LONG", 1)
    assert "takes a while" in words(hand.get("/sell/result"))
    sent = hand.send("/sell/result", {})
    assert sent.status_code == 303 and sent.headers["Location"].startswith("/job/")


def test_bought_in_honey_is_weighed_in_on_the_same_form_and_a_refusal_keeps_what_was_typed(hand):
    hand.begin()
    typed = {"bucket": "R1", "net": "20 kg", "supplier": "Brook apiary", "their_lot": "K7", "origin": "US=60\nAR=30"}
    typed |= {"plant": "clover", "yards": "Far field: H9"}
    answer = hand.send("/weigh", typed)
    assert answer.status_code == 422
    assert "add up to 90 %" in words(answer) and "US=60\nAR=30" in answer.text and "Brook apiary" in answer.text
    hand.send("/weigh", typed | {"origin": "US=60\nAR=40", "paid": "90", "states": "raw"})
    came = hand.events("receive")[-1].event
    assert (came.supplier, came.their_lot, came.states, came.paid.minor) == ("Brook apiary", "K7", ("raw",), 9000)
    assert [(share.country, share.percent) for share in came.origin] == [("US", 60), ("AR", 40)]
    assert "bought in" in words(hand.get("/weigh"))
    assert came.plant is None, "the plant the form remembers is of the season's own honey"


def test_a_workbook_is_taken_as_a_spreadsheet_is_and_a_wrong_cell_is_named(hand):
    hand.begin()
    rows = [("bucket", "net (kg)"), ("C1", 27.3)]
    sent = hand.send("/weigh/file", {"table": (io.BytesIO(workbook(Weights=rows)), "July.xlsx")}, "/weigh")
    assert sent.status_code == 303
    assert [each.event.bucket for each in hand.events("weigh")][-1] == "C1"
    bad = workbook(Weights=[*rows[:1], ("D1", "much")])
    answer = hand.send("/weigh/file", {"table": (io.BytesIO(bad), "July.xlsx")}, "/weigh")
    assert answer.status_code == 422 and "Weights!B2" in words(answer)
