"""The acts the packs cite, and the words quoted from them."""

from __future__ import annotations

import tomllib
from collections import defaultdict
from datetime import date
from urllib.parse import urlsplit

import pytest
from babel import Locale
from babel.dates import get_date_format

from labelkit.rules import market, shelf
from labelkit.rules.blocks import MOST_QUOTED
from labelkit.rules.lint import whole
from labelkit.rules.pack import PACKS, SOURCES
from labelkit.rules.sources import source, tables

DAY = date(2026, 11, 29)
LAWS = [law for head in shelf.markets() for law in whole(market(head.id, DAY))]
HELD = [source(name) for name in tables(PACKS)]


def test_the_file_of_sources_is_one_toml_document_with_a_table_for_each():
    whole_file = tomllib.loads((PACKS / SOURCES).read_text(encoding="utf-8"))
    assert list(whole_file) == list(tables(PACKS))


def test_no_two_sources_have_the_same_title():
    titles = [each.title for each in HELD]
    assert sorted(titles) == sorted(set(titles))


def test_every_source_is_cited():
    assert set(tables(PACKS)) == {law.cite.source.id for law in LAWS}


@pytest.mark.parametrize("each", [each for each in HELD if each.url], ids=lambda each: each.id)
def test_an_address_is_one_a_person_can_open_and_says_whose_it_is(each):
    parts = urlsplit(each.url)
    assert parts.scheme == "https" and "." in parts.netloc
    assert each.publisher and each.language and each.find


def test_a_quotation_is_short_and_belongs_to_one_act():
    owners = defaultdict(set)
    for law in LAWS:
        assert len(law.cite.quote.split()) <= MOST_QUOTED, f"{law.file}: {law.label}"
        assert not (law.cite.quote and law.cite.no_quote), f"{law.file}: {law.label}"
        if law.cite.quote:
            owners[" ".join(law.cite.quote.casefold().split())].add(law.cite.source.id)
    assert not {quote: acts for quote, acts in owners.items() if len(acts) > 1}


def test_a_date_that_cites_cldr_is_written_as_babel_carries_it():
    """The quotation and the pattern are the long date of the locale the clause names."""
    dates = [law for law in LAWS if law.cite.source.id == "cldr" and law.name == "date written"]
    assert dates
    for law in dates:
        locale = law.cite.clause.removeprefix("locale ").partition(",")[0]
        long = get_date_format("long", Locale.parse(locale, sep="-")).pattern
        assert law.cite.quote == long == next(row["pattern"] for row in law.value if row["shows"] == "day"), law.file


def test_what_is_from_memory_quotes_nothing():
    """Words nobody read cannot be quoted."""
    assert not [f"{law.file}: {law.label}" for law in LAWS if law.sure == "memory" and law.cite.quote]


def test_a_day_to_read_again_lies_after_the_day_it_was_read():
    for law in LAWS:
        if law.cite.recheck_by and law.cite.read_on:
            assert law.cite.recheck_by > law.cite.read_on, f"{law.file}: {law.label}"


def test_a_bill_is_watched_from_a_day_that_has_been():
    for law in LAWS:
        for bill in law.watch:
            assert bill.what and bill.day <= DAY, f"{law.file}: {law.label}"


def test_only_a_change_has_stock_to_sell_through():
    """Jars labelled before a change exist only where an older text of the same rule is held."""
    for law in LAWS:
        if law.sell_through:
            older = [other for other in LAWS if other.pack == law.pack and other.until == law.since]
            assert older, f"{law.file}: {law.label}"


def test_every_value_of_the_united_states_is_quoted_or_says_why_not():
    for law in LAWS:
        if law.pack.split("-")[0] == "us" and law.kind != "word_list":
            assert law.cite.quote or law.cite.no_quote, f"{law.file}: {law.label}"
