"""LABEL.toml as the command contract has it: each key missing in turn, odd values, and the form of a finding."""

from __future__ import annotations

from datetime import date

import pytest

from tests.contract.labels import CONTRACT, PLAIN, changed, text_of

KEYS = ["rule", "market", "level", "field", "found", "says", "do", "cite", "read_on", "sure"]


@pytest.fixture
def check(labelkit, tmp_path):
    def call(label, *options, day="2026-11-25"):
        (tmp_path / "label.toml").write_text(label if isinstance(label, str) else text_of(label), encoding="utf-8")
        return labelkit("check", "label.toml", *options, day=day)

    return call


def stops(ran):
    return {finding["rule"] for finding in ran.document["findings"] if finding["level"] == "stop"}


def test_the_contract_s_own_label(check):
    ran = check(CONTRACT)
    assert list(ran.document) == ["findings", "not_covered"]
    assert ran.code == 0 and stops(ran) == set()
    # The home honey sentence of Virginia is not among its lines: the print adds it.
    added = {one["rule"] for one in ran.document["findings"] if one["do"].startswith("labelkit adds this")}
    assert "us-va.statements.home_honey" in added
    for finding in ran.document["findings"]:
        assert list(finding) == KEYS
        assert finding["level"] in ("stop", "ask", "note")
        assert finding["sure"] in ("seen", "second-hand", "memory")
        assert finding["do"].endswith("Check your local rules.")
        assert all(isinstance(finding[key], str) for key in KEYS if key != "read_on")
        assert finding["read_on"] is None or date.fromisoformat(finding["read_on"])
        assert finding["rule"].startswith(("us.", "us-va."))


def test_findings_come_gravest_first(check):
    levels = [
        finding["level"] for finding in check(changed(CONTRACT, {"lines": ["Cures colds", "Raw"]})).document["findings"]
    ]
    assert levels == sorted(levels, key=["stop", "ask", "note"].index)


@pytest.mark.parametrize(
    "key", ["kind", "floral_source", "net_statement", "lines", "ingredients", "lot", "best_before", "origin", "panel"]
)
def test_a_label_without_this_key_is_still_checked(check, key):
    ran = check(changed(CONTRACT, {key: None}))
    assert ran.code == 0 and stops(ran) == set()


@pytest.mark.parametrize("key", ["market", "name", "declares"])
def test_a_label_without_this_key_is_none(check, key):
    change = {key: None, "net_statement": None} if key == "declares" else {key: None}
    ran = check(changed(CONTRACT, change))
    assert ran.code == 2
    assert ran.error["name"] == "LabelKeyMissing" and key in ran.error["what"]


@pytest.mark.parametrize(
    ("key", "rule"),
    [
        ("name", "us.maker.maker"),
        ("city", "us.maker.city"),
        ("region", "us.maker.region"),
        ("postcode", "us.maker.postcode"),
    ],
)
def test_the_address_of_21_cfr_101_5_is_due_in_full(check, key, rule):
    assert rule in stops(check(changed(CONTRACT, {"maker": {key: None}})))


def test_no_maker_at_all(check):
    assert {"us.maker.maker", "us.maker.city", "us.maker.region", "us.maker.postcode"} <= stops(
        check(changed(CONTRACT, {"maker": None}))
    )


def test_the_street_may_only_be_left_out_when_a_directory_shows_it(check):
    # 21 CFR 101.5(d)
    def found(**situation):
        ran = check(changed(CONTRACT, {"maker": {"street": None}, "situation": situation}))
        return {f["level"] for f in ran.document["findings"] if f["rule"] == "us.maker.street"}

    assert found() == {"ask"}
    assert found(in_directory=False) == {"stop"}
    assert found(in_directory=True) <= {"note"}


@pytest.mark.parametrize("key", list(CONTRACT["situation"]))
def test_a_situation_left_open_is_a_question_and_no_refusal(check, key):
    assert check(changed(CONTRACT, {"situation": {key: None}})).code in (0, 1)


def test_no_situation_at_all_is_no_refusal(check):
    assert check(changed(CONTRACT, {"situation": None})).code in (0, 1)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"flavour": "mild"}, "flavour"),
        ({"maker": {"fax": "1"}}, "fax"),
        ({"panel": {"depth": "1 in"}}, "depth"),
        ({"situation": {"sell_to": ["stall"]}}, "sells_to"),
        ({"kind": "jam"}, "kind"),
        ({"name": 5}, "name"),
        ({"lines": 5}, "lines"),
        ({"lines": [5]}, "lines"),
        ({"declares": "16 fl oz"}, "fl oz"),
        ({"declares": "much"}, "much"),
        ({"declares": 5}, "declares"),
        ({"market": "xx"}, "xx"),
        ({"market": 5}, "market"),
        ({"origin": "US"}, "origin"),
        ({"origin": [{"country": "USA", "share": 100}]}, "country"),
        ({"origin": [{"country": "US", "share": 60}, {"country": "AR", "share": 30}]}, "90"),
        ({"origin": [{"country": "US", "share": 160}]}, "share"),
        ({"best_before": "2028-02-30x"}, "best_before"),
        ({"panel": {"diameter": "2.5 lb"}}, "lb"),
        ({"panel": {"width": "2 in"}}, "flat"),
        ({"situation": {"home_kitchen": "yes"}}, "home_kitchen"),
        ({"situation": {"gallons_per_year": -1}}, "gallons_per_year"),
        ({"situation": {"food_sales_per_year": "much"}}, "food_sales_per_year"),
        ({"situation": {"sells_to": ["moon"]}}, "sells_to"),
    ],
)
def test_a_value_that_is_none_is_refused_by_its_key(check, change, words):
    ran = check(changed(CONTRACT, change))
    assert ran.code == 2
    assert words in ran.error["what"] + ran.error["do"]


@pytest.mark.parametrize("text", ["market = [", "\x00", 'market = "us"\nmarket = "uk"\n', "= 5", "[maker\n"])
def test_what_is_not_toml_is_refused(check, text):
    assert check(text).error["name"] == "LabelFileUnreadable"


@pytest.mark.parametrize("market", ["us", ["us"], ["us", "us-va"], ["us", "eu", "uk", "ca", "au", "nz", "codex"]])
def test_markets_as_a_text_or_a_list(check, market):
    assert check(changed(CONTRACT, {"market": market, "situation": {"home_kitchen": False}})).code in (0, 1)


def test_another_market_is_asked_for_on_the_command_line(check):
    ran = check(CONTRACT, "--market", "us-ca")
    assert {f["market"] for f in ran.document["findings"]} == {"us-ca"}
    assert "us-ca.grade.required" in stops(ran)


@pytest.mark.parametrize(
    "change",
    [
        {"situation": {"infused": True}},
        {"kind": "infused"},
        {
            "kind": "infused",
            "name": "Cinnamon Infused Honey",
            "floral_source": None,
            "ingredients": ["honey", "cinnamon"],
        },
        {"ingredients": ["honey", "cinnamon"]},
    ],
)
def test_what_was_added_is_believed_wherever_the_file_says_it(check, change):
    # Code of Virginia 3.2-5130: infused honey is not covered by the home honey exemption.
    rules = {(f["rule"], f["level"]) for f in check(changed(CONTRACT, change)).document["findings"]}
    assert ("us-va.home.beyond_the_exemption", "ask") in rules


@pytest.mark.parametrize("name", ["100% Pure Honey", "Honey", "Clover Honey"])
def test_honey_with_corn_syrup_is_not_honey(check, name):
    # FDA guidance on proper labeling of honey (2018); FD&C Act 402(b), 403(i)
    ran = check(changed(CONTRACT, {"market": "us", "name": name, "ingredients": ["honey", "corn syrup"]}))
    assert "us.name.blend" in stops(ran)


def test_a_blend_that_says_so_is_let_be(check):
    change = {
        "market": "us",
        "kind": "blend",
        "name": "Blend of Honey and Corn Syrup",
        "floral_source": None,
        "lines": [],
        "ingredients": ["honey", "corn syrup"],
    }
    assert stops(check(changed(CONTRACT, change))) == set()


# Statements of the net quantity: what is wrong with each is named by its rule.
US = [
    ("Net Wt 16 oz (1 lb) 453 g", None),
    ("Net Wt 24 oz (1 lb 8 oz) 680 g", None),
    ("Net Wt 1 lb 8 oz (680 g)", None),
    ("680 g (1 lb 8 oz) Net Wt", None),
    ("NET WT 1.5 LB (680 g)", None),
    ("24 oz (1 1/2 lb) 680 g Net Weight", None),
    ("16 oz (1 lb) 453 g", "us.net_quantity.words_required"),
    ("Net Wt 16 oz", "us.net_quantity.systems"),
    ("Net Wt 16 oz (1 lb)", "us.net_quantity.systems"),
    ("Net Wt 453 g", "us.net_quantity.systems"),
    ("Net Wt 12 4/32 oz (343 g)", "us.net_quantity.denominators"),
    ("Net Wt 12 1/3 oz (349 g)", "us.net_quantity.denominators"),
    ("Net Wt 12 oz (340 gms)", "us.net_quantity.metric_symbols"),
    ("Net Wt 12 oz (340 Gr)", "us.net_quantity.metric_symbols"),
    ("Net Wt 17.64 oz (1 lb 1.64 oz) 500 g", "us.net_quantity.rounding"),
    ("Jumbo 16 oz (1 lb) 453 g Net Wt", "us.claim.exaggerated_quantity"),
    ("16 fl oz", "us.net_quantity.systems"),
]


@pytest.mark.parametrize(("statement", "rule"), US, ids=[row[0] for row in US])
def test_a_net_weight_statement_in_the_united_states(check, statement, rule):
    # 21 CFR 101.7(a), (d), (f), (j), (n); 16 CFR 500.23(b); 15 USC 1453(a)
    declares = {"24": "24 oz", "680": "24 oz", "1.5": "24 oz", "8": "24 oz", "12": "12 oz", "17": "500 g"}
    weight = next((value for sign, value in declares.items() if sign in statement), "1 lb")
    label = changed(
        CONTRACT, {"market": "us", "declares": weight, "net_statement": statement, "situation": {"home_kitchen": False}}
    )
    found = stops(check(label))
    if rule is None:
        assert found == set()
    else:
        assert rule in found


WORLD = [
    ("uk", "500 g", "500 g", None),
    ("uk", "340 g", "Net weight 340 g (11.99 oz)", None),
    ("uk", "340 g", "N.W. 340g", "uk.net_quantity.words"),
    ("uk", "500 g", "1/2 kg", "uk.net_quantity.metric_fractions"),
    ("uk", "340 g", "12 oz", "uk.net_quantity.systems"),
    ("ca", "1 kg", "1000 g", "ca.net_quantity.kilograms"),
    ("ca", "500 g", "0.5 kg", None),
]


@pytest.mark.parametrize(("market", "declares", "statement", "rule"), WORLD)
def test_a_net_weight_statement_elsewhere(check, market, declares, statement, rule):
    # SR 1999/84 (NI) reg. 3(4), (5); SI 1994/2867; SFCR s. 233
    label = changed(
        PLAIN,
        {
            "market": market,
            "name": "Honey / Miel",
            "declares": declares,
            "net_statement": statement,
            "origin": [{"country": "GB" if market == "uk" else "CA", "share": 100}],
        },
    )
    found = stops(check(label))
    assert (rule in found) if rule else not found


TWO = [{"country": "ES", "share": 60}, {"country": "AR", "share": 40}]


@pytest.mark.parametrize(
    ("day", "lines", "stop"),
    [
        ("2026-06-13", ["blend of EU and non-EU honeys"], False),
        ("2026-06-14", ["blend of EU and non-EU honeys"], True),
        ("2026-11-25", ["Spain 60 %, Argentina 40 %"], False),
    ],
)
def test_the_words_for_a_blend_by_the_day(check, day, lines, stop):
    # Directive (EU) 2024/1438, from 14 June 2026
    label = changed(PLAIN, {"origin": TWO, "lines": lines, "situation": {"own_hives": False}})
    assert (check(label, day=day).code == 1) is stop


def test_origin_left_out_in_the_union(check):
    assert "eu.origin.present" in stops(check(changed(PLAIN, {"origin": None})))


@pytest.mark.parametrize(
    ("lot", "best_before", "stop"),
    [(None, "2028", True), (None, "2028-06", True), (None, "2028-06-30", False), ("L26195K", "2028", False)],
)
def test_a_lot_mark_is_due_unless_day_and_month_are_shown(check, lot, best_before, stop):
    # Directive 2011/91/EU Article 3 to 5
    label = changed(PLAIN, {"lot": lot, "best_before": best_before, "situation": {"sells_to": ["shop"]}})
    assert ("eu.date_and_lot.lot" in stops(check(label))) is stop


def test_a_lot_mark_on_food_prepacked_for_immediate_sale_is_a_question(check):
    # Directive 2011/91/EU Article 2(2)(b)
    label = changed(PLAIN, {"lot": None, "best_before": "2028", "situation": {"sells_to": ["stall"]}})
    assert {f["level"] for f in check(label).document["findings"] if ".date_and_lot.lot" in f["rule"]} == {"ask"}


def test_canada_speaks_both_languages(check):
    # SFCR s. 206
    label = changed(PLAIN, {"market": "ca", "origin": [{"country": "CA", "share": 100}]})
    assert "ca.language.due" in stops(check(label))
    assert "ca.language.due" not in stops(check(changed(label, {"name": "Honey / Miel"})))


def test_a_canadian_grade_is_for_licence_holders(check):
    # SFCR s. 308
    label = changed(
        PLAIN,
        {"market": "ca", "name": "Honey / Miel", "grade": "Canada No. 1", "origin": [{"country": "CA", "share": 100}]},
    )
    assert "ca.claim.grade" in {f["rule"] for f in check(label).document["findings"]}
    assert "ca.grade.licence" in stops(check(changed(label, {"situation": {"licence_holder": False}})))


@pytest.mark.parametrize(
    ("market", "name", "stop"),
    [
        ("eu-de", "Honey", True),
        ("eu-de", "Honig", False),
        ("eu-fr", "Miel", False),
        ("eu-pl", "Miód", False),
        ("eu-it", "Miele", False),
        ("eu-es", "Miel", False),
        ("eu-nl", "Honing", False),
    ],
)
def test_the_name_is_in_the_language_of_the_member(check, market, name, stop):
    assert (
        check(
            changed(PLAIN, {"market": market, "name": name, "origin": [{"country": market[-2:].upper(), "share": 100}]})
        ).code
        == 1
    ) is stop


def test_the_contract_s_own_label_printed(labelkit, tmp_path):
    """Virginia's sentence is printed though the file leaves it out; with it the front is full, and a back is asked for."""
    (tmp_path / "label.toml").write_text(text_of(CONTRACT), encoding="utf-8")
    front = labelkit("labels", "--label", "label.toml")
    unsaid = front.document["set"]["missing"]
    assert front.code == (1 if unsaid else 0)
    assert {one["role"] for one in unsaid} <= set(front.document["moved"])
    assert all("back" in one["kinds"] and "Print a back as well" in one["do"] for one in unsaid)
    both = labelkit("labels", "--label", "label.toml", "--kind", "front,back")
    assert both.code == 0 and both.document["set"]["whole"] is True
    assert [one["file"] for one in both.document["files"]] == ["labels-front.pdf", "labels-back.pdf"]
    assert all((tmp_path / one["file"]).read_bytes().startswith(b"%PDF") for one in both.document["files"])
