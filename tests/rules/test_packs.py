"""Every pack read whole, as data: nothing waits in a file nobody has asked for yet."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

import pytest

from labelkit.rules import market, shelf
from labelkit.rules.blocks import Exempt, Rule, Statement, Value
from labelkit.rules.glossary import glossary
from labelkit.rules.lint import whole
from labelkit.rules.pack import PACKS, folders

DAY = date(2026, 11, 29)
CODES = [head.id for head in shelf.markets()]
ROOTS = {"us", "eu", "uk", "ca", "au", "nz", "codex"}


def laws(code):
    return whole(market(code, DAY))


@pytest.mark.parametrize("code", CODES)
def test_a_pack_is_whole(code):
    laws(code)


def test_every_folder_of_packs_has_a_head():
    assert {path.name for path in PACKS.iterdir() if path.is_dir()} == set(folders(PACKS))


@pytest.mark.parametrize("code", CODES)
def test_a_pack_says_whom_to_call_and_in_which_language(code):
    head = shelf.head(code)
    assert head.office and head.languages and len(head.currency) == 3
    assert code in ROOTS or head.parents, f"{code} stands under nobody"
    assert all(entry.why.endswith(".") for entry in head.not_read)


@pytest.mark.parametrize("code", CODES)
def test_what_is_owed_and_switched_off_exists(code):
    here = market(code, DAY)
    known = {law.label for pack in here.packs for topic in shelf.topics(pack) for law in shelf.laws(pack, topic)}
    for law in laws(code):
        if isinstance(law, Exempt):
            assert set(law.owes) <= known, f"{law.rule} owes what nobody holds"


@pytest.mark.parametrize("code", CODES)
def test_every_finding_a_pack_can_raise_says_what_and_what_to_do(code):
    for law in laws(code):
        if isinstance(law, Rule):
            assert law.says[-1] in ".!?”", f"{law.rule}: {law.says}"
            assert law.do[-1] in ".!?”", f"{law.rule}: {law.do}"
            assert law.rule == law.rule.lower(), law.rule


@pytest.mark.parametrize("code", CODES)
def test_no_law_was_read_in_the_future_or_began_after_it_was_read(code):
    for law in laws(code):
        if law.cite.read_on:
            assert law.cite.read_on <= DAY, f"{law.file}: {law.label}"
        if law.since_is == "at least" and law.cite.read_on:
            assert law.since <= law.cite.read_on, f"{law.file}: {law.label}"


@pytest.mark.parametrize("code", CODES)
def test_what_practice_says_is_never_passed_off_as_law_that_was_read(code):
    for law in laws(code):
        if "no source" in law.cite.title:
            assert law.sure == "memory", f"{law.file}: {law.label}"


@pytest.mark.parametrize("code", CODES)
def test_a_statement_speaks_the_languages_of_the_place(code):
    here = market(code, DAY)
    for law in laws(code):
        if isinstance(law, Statement):
            assert set(law.text) & set(here.head.languages), f"{law.rule} speaks {list(law.text)}"


def test_one_rule_id_belongs_to_one_pack_only():
    owner = {}
    for code in CODES:
        for law in laws(code):
            if isinstance(law, Rule):
                assert owner.setdefault(law.rule, code) == code


def days_something_changes(code):
    here = market(code, DAY)
    for pack in here.packs:
        for topic in shelf.topics(pack):
            for law in shelf.laws(pack, topic):
                yield law.since
                if law.until:
                    yield law.until


@pytest.mark.parametrize("code", sorted(ROOTS))
def test_on_every_day_something_changes_and_the_day_before_no_two_values_compete(code):
    """On each of these days, among values with the very same conditions, one at most is in force."""
    days = {day for change in days_something_changes(code) for day in (change, change - timedelta(days=1))}
    values = [law for law in laws(code) if isinstance(law, Value)]
    for day in days:
        held = Counter((law.name, str(law.when), str(law.unless)) for law in values if law.in_force(day))
        assert not [key for key, count in held.items() if count > 1], day


@pytest.mark.parametrize("code", CODES)
def test_a_value_holds_from_its_first_day_to_the_day_before_its_last(code):
    for law in laws(code):
        if not isinstance(law, Value):
            continue
        assert law.in_force(law.since) and not law.in_force(law.since - timedelta(days=1))
        if law.until:
            assert law.in_force(law.until - timedelta(days=1)) and not law.in_force(law.until)


def test_every_entry_of_the_glossary_says_what_kind_it_is():
    words = glossary()
    for name in words.names.values():
        assert name.topic in words.topics
        assert name.kind != "word" or name.words, f"{name.name} is a word without a list of words"
    for fact in words.facts.values():
        assert fact.asks.endswith("?"), fact.name


def of_parents(code, law):
    """The parents' values of the same name that stand under the same conditions on a day the child's does."""
    here = market(code, DAY)
    for pack in here.packs[1:]:
        for other in shelf.laws(pack, law.topic):
            same = isinstance(other, Value) and other.name == law.name and str(other.when) == str(law.when)
            if same and other.in_force(law.since):
                yield other


@pytest.mark.parametrize("code", CODES)
def test_a_child_that_says_it_tightens_asks_more_than_its_parent(code):
    for law in laws(code):
        if not isinstance(law, Value) or law.against_parent != "tightens" or not law.entry.stricter:
            continue
        for other in of_parents(code, law):
            asks_more = law.value > other.value if law.entry.stricter == "higher" else law.value < other.value
            assert asks_more, f"{law.file}: {law.name} {law.raw} against {other.raw} of {other.pack}"


@pytest.mark.parametrize("code", CODES)
def test_a_childs_rule_of_its_parents_name_is_not_held_beside_it(code):
    """Two findings of one id would say two things of one label; a child switches its parent's rule off first."""
    here = market(code, DAY)
    own = {law.rule for law in laws(code) if isinstance(law, Rule)}
    for pack in here.packs[1:]:
        theirs = {law.rule for topic in shelf.topics(pack) for law in shelf.laws(pack, topic) if isinstance(law, Rule)}
        assert not own & theirs
