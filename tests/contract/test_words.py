"""Free wording: what people innocently write raises no stop, what the law forbids does, in seven languages."""

from __future__ import annotations

import pytest

from tests.contract.tables import read

KEYS = ["rule", "market", "level", "field", "found", "says", "do", "cite", "read_on", "sure"]


def sentences(kind: str) -> list:
    return [
        pytest.param(group["market"], text, id=f"{group['market']}: {text!r}")
        for group in read("words.toml")[kind]
        for text in group["texts"]
    ]


@pytest.mark.parametrize(("market", "text"), sentences("innocent"))
def test_innocent_words_raise_no_stop(labelkit, market, text):
    ran = labelkit("words", text, "--market", market)
    assert [f for f in ran.document["findings"] if f["level"] == "stop"] == []
    assert ran.code == 0


@pytest.mark.parametrize(("market", "text"), sentences("claim"))
def test_a_claim_raises_a_stop(labelkit, market, text):
    ran = labelkit("words", text, "--market", market)
    stops = [f for f in ran.document["findings"] if f["level"] == "stop"]
    assert stops
    assert ran.code == 1
    for finding in stops:
        assert list(finding) == KEYS
        assert finding["rule"].startswith((f"{market}.claim.", f"{market.split('-')[0]}.claim."))


# The levels the published rules give to words, with the rule each falls under.
LEVELS = [
    (
        "Raw Clover Honey",
        "ask",
        "us.claim.raw",
        "Utah R70-520 and Hawaii 147-1 define raw; there is no federal meaning",
    ),
    ("Raw Clover Honey", "ask", "us.claim.floral", "FDA CPG 515.300: the chief floral source, with proof"),
    ("Naturally antibacterial", "stop", "us.claim.antibacterial", "FDA letter of 17 March 2022"),
    ("Naturally antibacterial", "ask", "us.claim.natural", "FDA has no definition of natural"),
    ("No added sugar", "stop", "us.claim.no_added_sugar", "21 CFR 101.60(c)(2)"),
    ("Sugar free", "stop", "us.claim.sugar_free", "21 CFR 101.60(c)(1)"),
    ("Non-GMO", "ask", "us.claim.gmo", "7 USC 1639c(c)"),
    ("Manuka UMF 10+", "stop", "us.claim.manuka_mark", "FDA CPG 515.300; a registered mark"),
    ("Certified organic", "ask", "us.claim.certified_organic", "7 CFR 205: only with a certificate"),
    ("Organic honey", "ask", "us.claim.organic", "7 CFR 205"),
    ("Local honey", "ask", "us.claim.local", "no federal meaning"),
    ("California honey", "ask", "us.claim.place", "California Food and Agricultural Code 29642"),
    ("U.S. Grade A", "ask", "us.claim.grade", "7 USC 1622(h): a grade pulls in the origin words"),
    ("FDA approved", "stop", "us.claim.fda_approved", "FD&C Act 403(a)(1)"),
    ("Rich in antioxidants", "stop", "us.claim.nutrients", "21 CFR 101.13, 101.54"),
    ("Healthy", "ask", "us.claim.healthy", "21 CFR 101.65(d)"),
    ("Detox", "ask", "us.claim.body", "FD&C Act 403(a)(1)"),
    ("Superfood", "ask", "us.claim.body", "no rule knows the word"),
    (
        "Gluten free",
        "ask",
        "us.claim.gluten_infused",
        "21 CFR 101.91: fine for pure honey, not once something is added",
    ),
    ("Pesticide-free", "ask", "us.claim.free_from", "FD&C Act 403(a)(1)"),
    ("Antibiotic-free", "ask", "us.claim.free_from", "FD&C Act 403(a)(1)"),
    ("Vegan", "ask", "us.claim.vegan", "FD&C Act 403(a)(1)"),
    ("Infused with lemon", "ask", "us.claim.infusion", "FDA guidance of 2018: the name tells it"),
    ("Imitation honey", "stop", "us.claim.imitation", "banned by eight states"),
    ("Unfiltered", "note", "us.claim.filtered", "a style of the USDA grades and no more"),
    ("Product of USA", "ask", "us.claim.made_in_usa", "16 CFR 323"),
    ("State inspected", "ask", "us.claim.certified", "only with proof"),
    ("Jumbo quart", "stop", "us.claim.exaggerated_quantity", "21 CFR 101.7(f)"),
    ("Safe for babies", "stop", "us.claim.infants", "FDA notice of November 2018"),
    ("Honey for manly energy, an aphrodisiac", "stop", "us.claim.aphrodisiac", "FDA letters of 12 July 2022"),
]


@pytest.mark.parametrize(("text", "level", "rule", "source"), LEVELS, ids=[f"{row[2]}: {row[0]}" for row in LEVELS])
def test_words_have_the_level_of_their_rule(labelkit, text, level, rule, source):
    assert source
    found = {(f["rule"], f["level"]) for f in labelkit("words", text, "--market", "us").document["findings"]}
    assert (rule, level) in found


@pytest.mark.parametrize(
    ("text", "market", "day", "stops"),
    [
        ("blend of EU and non-EU honeys", "eu", "2026-06-13", False),
        ("blend of EU and non-EU honeys", "eu", "2026-06-14", True),
        ("Filtered honey", "eu", "2026-06-13", False),
        ("Filtered honey", "eu", "2026-06-14", True),
    ],
)
def test_words_are_held_to_the_law_of_the_day(labelkit, text, market, day, stops):
    # Directive (EU) 2024/1438 applies from 14 June 2026.
    assert labelkit("words", text, "--market", market, day=day).code == int(stops)


def test_several_markets_are_answered_together(labelkit):
    found = labelkit("words", "Cures colds", "--market", "us", "--market", "eu").document["findings"]
    assert {f["market"] for f in found if f["level"] == "stop"} == {"us", "eu"}


# A negation denies only what it stands before.
SAID_ALL_THE_SAME = [
    "Not only delicious: it prevents asthma",
    "Not just tasty, relieves allergies",
    "Do not wait - cure your allergies",
    "You will not regret it: cures arthritis",
    "Why not try it for asthma?",
    "Never have asthma again",
]
DENIED = [
    "This honey is not intended to diagnose, treat, cure or prevent any disease such as asthma",
    "Not a medicine for asthma",
    "Honey does not cure allergies",
    "We do not claim that honey cures allergies",
]


@pytest.mark.parametrize("text", SAID_ALL_THE_SAME)
def test_what_follows_a_negation_of_something_else_is_said(labelkit, text):
    assert labelkit("words", text, "--market", "us").code == 1


@pytest.mark.parametrize("text", DENIED)
def test_what_is_denied_is_not_said(labelkit, text):
    assert labelkit("words", text, "--market", "us").code == 0


@pytest.mark.parametrize(
    ("market", "text"),
    [
        ("eu-it", "Non solo buono: previene l'asma"),
        ("eu-es", "No solo deliciosa: previene el asma"),
        ("eu-de", "Nicht nur lecker: hilft gegen Husten"),
        ("eu-fr", "Non seulement bon, il guérit la toux"),
        ("eu-pl", "Nie tylko smaczny: leczy kaszel"),
        ("eu-nl", "Niet alleen lekker: geneest hoest"),
        ("eu-nl", "Wacht niet, geneest hoest"),
        ("eu-pl", "Nie czekaj, leczy kaszel"),
    ],
)
def test_not_only_denies_nothing_in_any_language(labelkit, market, text):
    assert labelkit("words", text, "--market", market).code == 1


@pytest.mark.parametrize("market", ["ca", "eu-fr", "uk"])
def test_the_french_word_for_taste_is_no_illness(labelkit, market):
    assert labelkit("words", "Le goût de l'été, un gout unique", "--market", market).code == 0
