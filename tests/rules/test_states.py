"""The states, the members of the Union, the nations of the kingdom, Quebec: their rows one by one, on the days they hold."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from functools import lru_cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.measures import Mass
from labelkit.reading.label_file import read_label
from labelkit.rules import lint, market, shelf
from labelkit.rules.blocks import Exempt, Law, Require, Statement, SwitchOff, Value
from labelkit.rules.checking import check
from labelkit.rules.figures import date_mark, origin
from labelkit.rules.kinds import read
from labelkit.rules.wording import words
from tests.worked import worked

TODAY = date(2026, 11, 25)

# The states and the District by their two-letter codes: United States Postal Service, Publication 28, appendix B.
STATES = [
    "al",
    "ak",
    "az",
    "ar",
    "ca",
    "co",
    "ct",
    "de",
    "dc",
    "fl",
    "ga",
    "hi",
    "id",
    "il",
    "in",
    "ia",
    "ks",
    "ky",
    "la",
    "me",
    "md",
    "ma",
    "mi",
    "mn",
    "ms",
    "mo",
    "mt",
    "ne",
    "nv",
    "nh",
    "nj",
    "nm",
    "ny",
    "nc",
    "nd",
    "oh",
    "ok",
    "or",
    "pa",
    "ri",
    "sc",
    "sd",
    "tn",
    "tx",
    "ut",
    "vt",
    "va",
    "wa",
    "wv",
    "wi",
    "wy",
]
PLACES = [f"us-{state}" for state in STATES] + [
    *(f"eu-{member}" for member in ("de", "fr", "es", "it", "pl", "ie", "nl")),
    *("uk-scotland", "uk-wales", "uk-ni", "ca-qc"),
]
# States of which nothing beside a federal rule could be read when their packs were written.
UNREAD = ("us-de", "us-ks")


def rows(name: str, table: str = "case") -> list:
    """The rows of one worked table, each under a name a failing test can be found by."""
    found = worked(f"states/{name}")[table]
    return [pytest.param(row, id=f"{row['market']}-{number}") for number, row in enumerate(found)]


def on(row: dict):
    return market(row["market"], row.get("day", TODAY))


def holding(laws, facts: dict) -> list:
    return [law for law in laws if law.answer(facts).holds]


@lru_cache
def own_laws(place: str) -> tuple[Law, ...]:
    return lint.whole(market(place, TODAY))


# ---------------------------------------------------------------------------------------------- the packs as a whole


def test_every_state_and_the_district_has_a_pack():
    assert len(STATES) == 51
    assert {f"us-{state}" for state in STATES} == {head.id for head in shelf.markets() if head.id.startswith("us-")}


@pytest.mark.parametrize("place", PLACES)
def test_a_pack_is_read_whole(place):
    own_laws(place)
    assert market(place, TODAY).head.office


@pytest.mark.parametrize("place", PLACES)
def test_a_place_is_found_by_its_name(place):
    assert market(market(place, TODAY).name, TODAY).code == place


@pytest.mark.parametrize("place", PLACES)
def test_every_day_something_changes_can_be_visited(place):
    days = {edge for law in own_laws(place) for edge in (law.since, law.until) if edge}
    for edge in days:
        for day in (edge - timedelta(days=1), edge):
            there = market(place, day)
            for kind in (Require, Statement, Exempt, Value, SwitchOff):
                assert all(law.in_force(day) for law in there.laws(kind))


@pytest.mark.parametrize("place", PLACES)
def test_what_an_exemption_owes_stands_in_the_pack(place):
    rules = {law.label for law in own_laws(place)}
    for law in own_laws(place):
        if isinstance(law, Exempt):
            assert set(law.owes) <= rules, law.rule


@pytest.mark.parametrize("place", PLACES)
def test_what_is_only_remembered_never_stops_a_label(place):
    remembered = [law for law in own_laws(place) if law.sure == "memory" and getattr(law, "level", "") == "stop"]
    assert not remembered


@pytest.mark.parametrize("place", UNREAD)
def test_a_state_nobody_read_asks_and_names_an_office(place):
    there = market(place, TODAY)
    assert {"home", "name"} <= {question.area for question in there.not_read()}
    assert all(question.why and question.do for question in there.not_read())
    assert not [law for law in own_laws(place) if isinstance(law, (Statement, Exempt, Require))]


@pytest.mark.parametrize("place", [f"us-{state}" for state in STATES])
def test_no_state_is_silent_about_home_kitchens(place):
    """Either the pack says something about the kitchen, or it says that nobody read it."""
    there = market(place, TODAY)
    said = [law for law in own_laws(place) if law.topic in ("home", "statements")]
    assert said or "home" in {question.area for question in there.not_read()}


LABEL = """
kind = "{kind}"
name = "{name}"
declares = "454 g"
ingredients = {ingredients}
[maker]
name = "Quill Hollow Bees"
street = "1 Mill Lane"
city = "Exampleton"
{situation}
"""
HOME = """
[situation]
home_kitchen = true
own_hives = true
gallons_per_year = 90
sells_to = ["stall", "shop"]
"""
LABELS = {
    "plain": LABEL.format(kind="honey", name="Honey", ingredients='["honey"]', situation=HOME),
    "infused": LABEL.format(kind="infused", name="Cinnamon Honey", ingredients='["honey", "cinnamon"]', situation=HOME),
    "nothing told": LABEL.format(kind="honey", name="Honey", ingredients="[]", situation=""),
}


@pytest.mark.parametrize("place", PLACES)
def test_a_label_can_be_held_against_every_pack(place):
    for text in LABELS.values():
        found = check(read_label(text, markets=(place,)), [market(place, TODAY)])
        assert all(finding.do.endswith("Check your local rules.") for finding in found.findings)
        unread = {question.area for question in market(place, TODAY).not_read()}
        asked = {finding.rule.rpartition(".")[2] for finding in found.findings if ".not_read." in finding.rule}
        assert bool(unread) == bool(asked)


# ------------------------------------------------------------------------------------------------- the rows of the law


@pytest.mark.parametrize("row", rows("statements"))
def test_a_sentence_is_due_word_for_word(row):
    due = {law.text["en"]: law for law in holding(on(row).statements(), row["facts"])}
    law = due[row["text"]]
    assert law.letters == row.get("letters")
    assert law.place == row.get("place", "label")
    assert list(law.fonts) == row.get("fonts", [])
    assert law.contrast == row.get("contrast", False)
    assert law.exact == row.get("exact", True)
    assert law.level == row.get("level", "stop")
    assert law.sure == row["sure"]


@pytest.mark.parametrize("row", rows("examples"))
def test_a_situation_brings_what_the_state_wants(row):
    there, facts = on(row), row["facts"]
    if "says" in row:
        stops = [law for law in there.statements() if law.answer(facts).holds is not False and law.level == "stop"]
        assert sorted(law.text["en"] for law in stops) == sorted(row["says"])
    shown = {law.element for law in holding(there.requires(), facts)}
    assert set(row.get("shows", [])) <= shown
    if "freed" in row:
        assert bool(holding(own(there.exemptions(), row), facts)) == row["freed"]
    if "asks" in row:
        assert any(row["asks"] in law.says for law in holding(there.duties(), facts))
    for name, value in row.get("value", {}).items():
        assert there.value(name, **facts).value == value


def own(laws, row) -> list:
    return [law for law in laws if law.pack == row["market"]]


@pytest.mark.parametrize(
    "row", [r for r in rows("examples") if {"not_on_the_list", "on_the_list", "no_list"} & set(r.values[0])]
)
def test_california_fixes_the_weights_of_jars(row):
    there = on(row)
    if row.get("no_list"):
        assert not there.holds("weights a jar may hold", **row["facts"])
        return
    allowed = there.value("weights a jar may hold", **row["facts"]).value
    if "not_on_the_list" in row:
        assert read("mass", row["not_on_the_list"]) not in allowed
    else:
        assert read("mass", row["on_the_list"]) in allowed


@pytest.mark.parametrize("row", rows("caps"))
def test_a_cap_frees_up_to_its_last_step_and_no_further(row):
    exemptions = own(on(row).exemptions(), row)
    assert holding(exemptions, row["free"])
    assert not [law for law in exemptions if law.answer(row["bound"]).holds is not False]


@pytest.mark.parametrize("row", rows("words"))
def test_a_word_tied_to_a_place_or_reserved_raises_its_finding(row):
    found = [f for f in words(row["text"], on(row), facts=row["facts"]) if f.rule.startswith(f"{row['market']}.")]
    if row["level"] == "":
        assert not found
    else:
        assert row["level"] in {f.level for f in found}
        assert all(f.do.endswith("Check your local rules.") for f in found)


def test_west_virginia_does_not_hear_the_federal_rule_on_imitation_honey():
    there = market("us-wv", TODAY)
    assert "us.claim.imitation" not in {law.rule for law in there.wordings()}
    assert "us.claim.imitation" in {law.rule for law in market("us-ga", TODAY).wordings()}


@pytest.mark.parametrize("row", rows("moisture"))
def test_a_state_caps_the_moisture(row):
    assert on(row).value("highest moisture", **row["facts"]).value == Decimal(row["percent"])


@pytest.mark.parametrize("row", rows("nations", "date"))
def test_best_before_is_said_in_the_country_s_words(row):
    assert date_mark.of(date_mark.BestBefore.read("2028-06-30"), on(row)).statement == row["statement"]


@pytest.mark.parametrize("row", rows("nations", "origin"))
def test_origin_is_said_as_the_country_wants_it_on_that_day(row):
    shares = [(code, Decimal(share)) for code, share in row["shares"]]
    assert origin.statement(shares, on(row), net_g=Mass.of_grams(340).g).statement == row["statement"]


@pytest.mark.parametrize("row", rows("nations", "name"))
def test_reserved_names_stand_in_the_country_s_language(row):
    held = on(row).value("reserved product names").value
    assert [entry["name"] for entry in held if entry["sort"] == row["sort"]] == row["names"]


@pytest.mark.parametrize("place", ["eu-de", "eu-fr", "eu-es", "eu-it", "eu-pl"])
def test_filtered_honey_is_gone_since_june_2026(place):
    """Directive (EU) 2024/1438 deletes Annex I point 2(b)(viii) of Directive 2001/110/EC, applied from 14 June 2026."""
    before, after = (
        market(place, day).value("reserved product names").value for day in (date(2026, 6, 13), date(2026, 6, 14))
    )
    assert "filtered" in {entry["sort"] for entry in before}
    assert "filtered" not in {entry["sort"] for entry in after}


def test_germany_doubles_the_error_before_it_rounds():
    """Fertigpackungsverordnung § 9 Absatz 4: 375 g may be short by 22.5 g, not by twice 11.3 g."""
    assert market("eu-de", TODAY).value("second tolerable error").value == "twice the error, then rounded"
    assert market("eu-fr", TODAY).value("second tolerable error").value == "twice the rounded error"


# ---------------------------------------------------------------------------------------------------- days and doubts


def test_texas_changes_in_2025_and_the_weeks_trackers_disagree_on_are_asked():
    facts = {"own_hives": True, "kind": "honey", "pounds_per_year": 4000, "sells_to": ["shop"]}
    rules = {}
    for day in (date(2025, 6, 19), date(2025, 7, 15), date(2025, 9, 1)):
        there = market("us-tx", day)
        rules[day.month] = {
            law.rule for law in holding([*there.exemptions(), *there.duties()], facts) if law.pack == "us-tx"
        }
    assert rules[6] == set()
    assert rules[7] == {"us-tx.home.first_day_unsure"}
    assert "us-tx.home.honey_production" in rules[9]
    assert "us-tx.home.first_day_unsure" not in rules[9]


def test_missouri_dropped_its_placard_in_2015():
    facts = {"home_kitchen": True, "kind": "honey"}
    before, after = (market("us-mo", day) for day in (date(2015, 8, 27), date(2015, 8, 28)))
    assert "us-mo.statements.old_placard" in {law.rule for law in holding(before.duties(), facts)}
    assert "us-mo.statements.old_placard" not in {law.rule for law in after.duties()}


def test_an_unknown_answer_is_asked_and_never_taken_for_no():
    virginia = market("us-va", TODAY)
    statement = next(law for law in virginia.statements() if law.rule == "us-va.statements.home_honey")
    answer = statement.answer({"home_kitchen": True, "own_hives": True, "kind": "honey"})
    assert answer.holds is None
    assert [fact.name for fact in answer.missing] == ["gallons_per_year"]
    assert "gallons" in answer.missing[0].asks


GALLON_CAPS = {"us-va": 250, "us-hi": 500, "us-ok": 500, "us-il": 500, "us-ky": 150, "us-tn": 150}


@given(st.sampled_from(sorted(GALLON_CAPS)), st.integers(0, 2000), st.integers(0, 2000))
def test_more_gallons_never_win_an_exemption(place, some, more):
    few, many = sorted((some, more))
    facts = {
        "home_kitchen": True,
        "own_hives": True,
        "kind": "honey",
        "sells_to": ["market"],
        "food_sales_per_year": "90000 USD",
    }
    laws = [law for law in market(place, TODAY).exemptions() if "gallons_per_year" in law.when.facts]
    freed_few, freed_many = ({law.rule for law in holding(laws, facts | {"gallons_per_year": n})} for n in (few, many))
    assert freed_many <= freed_few
    assert bool(freed_few) == (few < GALLON_CAPS[place])


@given(st.integers(0, 2000), st.booleans(), st.booleans(), st.sampled_from(["honey", "comb", "infused", "blend"]))
def test_a_home_kitchen_in_virginia_is_freed_or_told_to_call(gallons, own_hives, infused, kind):
    facts = {"home_kitchen": True, "own_hives": own_hives, "kind": kind, "gallons_per_year": gallons}
    virginia = market("us-va", TODAY)
    freed = [law for law in holding(virginia.exemptions(), facts) if law.pack == "us-va"]
    called = [law for law in holding(virginia.duties(), facts) if law.pack == "us-va"]
    assert bool(freed) != bool(called)
