"""Home and small producers in the United States: the exact words, one word changed, and who is told to call.

The words are those of the statutes and rules named in each row. Where a text was not read at its source labelkit asks instead
of stopping; those rows say so.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.contract.labels import CONTRACT, changed, text_of

HOME = {
    "home_kitchen": True,
    "own_hives": True,
    "infused": False,
    "sells_to": ["stall"],
    "gallons_per_year": 20,
    "food_sales_per_year": "900 USD",
}
CINNAMON = {
    "kind": "infused",
    "name": "Cinnamon Infused Honey",
    "ingredients": ["honey", "cinnamon"],
    "situation": {**HOME, "infused": True},
}

# market, rule, the exact words, a changed copy of them, level when they are not right, what else the label needs, source
WORDS: list[tuple[str, str, str, str, str, dict[str, Any], str]] = [
    (
        "us-va",
        "us-va.statements.home_honey",
        "PROCESSED AND PREPARED WITHOUT STATE INSPECTION. WARNING: Do Not Feed Honey to Infants Under One Year Old.",
        "PROCESSED AND PREPARED WITHOUT FEDERAL INSPECTION. WARNING: Do Not Feed Honey to Infants Under One Year Old.",
        "stop",
        {},
        "Code of Virginia 3.2-5130",
    ),
    (
        "us-hi",
        "us-hi.statements.infants",
        "Honey should not be consumed by infants under one year of age.",
        "Honey should not be eaten by infants under one year of age.",
        "stop",
        {},
        "Hawaii Revised Statutes 328-79(D)",
    ),
    (
        "us-hi",
        "us-hi.statements.home_produced",
        "This product is home-produced and processed and has not been inspected by the Department of Health.",
        "This product is home-produced and has not been inspected by the Department of Health.",
        "stop",
        {},
        "Hawaii Revised Statutes 328-79(E)",
    ),
    (
        "us-ok",
        "us-ok.statements.honey_act",
        "Bottled or packaged in a facility not inspected by the Oklahoma Department of Health",
        "Bottled in a facility not inspected by the Oklahoma Department of Health",
        "stop",
        {},
        "Oklahoma Honey Sales Act",
    ),
    (
        "us-fl",
        "us-fl.statements.cottage",
        "Made in a cottage food operation that is not subject to Florida's food safety regulations.",
        "Made in a cottage food kitchen that is not subject to Florida's food safety regulations.",
        "stop",
        {},
        "Florida Statutes 500.80",
    ),
    (
        "us-ga",
        "us-ga.statements.cottage",
        "MADE IN A COTTAGE FOOD OPERATION THAT IS NOT SUBJECT TO STATE FOOD SAFETY INSPECTIONS.",
        "MADE IN A COTTAGE FOOD OPERATION THAT IS NOT SUBJECT TO FOOD SAFETY INSPECTIONS.",
        "ask",
        {},
        "Georgia Rules 40-7-19-.09; honey is not among its examples",
    ),
    (
        "us-mi",
        "us-mi.statements.not_inspected",
        "Processed in a facility not inspected by the Michigan Department of Agriculture & Rural Development",
        "Processed in a facility not inspected by the Michigan Department of Agriculture",
        "stop",
        {},
        "Michigan Food Law 289.4105",
    ),
    (
        "us-mn",
        "us-mn.statements.homemade",
        "These products are homemade and not subject to state inspection.",
        "These products are homemade and not subject to inspection.",
        "stop",
        CINNAMON,
        "Minnesota Statutes 28A.152, flavoured honey",
    ),
    (
        "us-or",
        "us-or.statements.farm_direct",
        "This product is not prepared in an inspected food establishment",
        "This product is homemade and is not prepared in an inspected food establishment.",
        "stop",
        {},
        "Oregon Revised Statutes 616.683, honey",
    ),
    (
        "us-or",
        "us-or.statements.not_for_resale",
        "Not For Resale",
        "Not For Sale",
        "stop",
        {},
        "Oregon Revised Statutes 616.683",
    ),
    (
        "us-ca",
        "us-ca.statements.home_kitchen",
        "Made in a Home Kitchen",
        "Made in our Kitchen",
        "stop",
        {},
        "California Health and Safety Code 114365.2",
    ),
    (
        "us-co",
        "us-co.statements.cottage",
        "This product was produced in a home kitchen that is not subject to state licensure or inspection and that may also process common food allergens such as tree nuts, peanuts, eggs, soy, wheat, milk, fish, and crustacean shellfish. This product is not intended for resale.",
        "This product was produced in a home kitchen that is not subject to state licensure or inspection and that may also process common food allergens such as tree nuts, peanuts, eggs, soy, wheat, milk and fish. This product is not intended for resale.",
        "stop",
        {},
        "Colorado Revised Statutes 25-4-1614",
    ),
    (
        "us-tn",
        "us-tn.statements.homemade_honey",
        "This product was produced at a private residence that is exempt from state licensing and inspection. This product may contain allergens.",
        "This product was produced at a private residence. This product may contain allergens.",
        "ask",
        {},
        "Tennessee Code 53-1-118",
    ),
    (
        "us-az",
        "us-az.statements.cottage",
        "This product was produced in a home kitchen that may process common food allergens and is not subject to public health inspection.",
        "This product was produced in a home kitchen that is not subject to public health inspection.",
        "stop",
        {},
        "Arizona Revised Statutes 36-931",
    ),
    (
        "us-ia",
        "us-ia.statements.cottage",
        "This product was produced at a residential property that is exempt from state licensing and inspection.",
        "This product was produced at a property that is exempt from state licensing and inspection.",
        "stop",
        {},
        "Iowa cottage food law of 2022",
    ),
    (
        "us-ms",
        "us-ms.statements.cottage",
        "Made in a cottage food operation that is not subject to Mississippi's food safety regulations.",
        "Made in a cottage food operation.",
        "ask",
        {},
        "Mississippi Code 75-29-951, words from memory",
    ),
    (
        "us-md",
        "us-md.statements.cottage",
        "Made by a cottage food business that is not subject to Maryland's food safety regulations.",
        "Made by a cottage food business.",
        "ask",
        {},
        "COMAR 10.15.03.27C(1)(c)(vii)",
    ),
    (
        "us-in",
        "us-in.statements.home_based_vendor",
        "This product is home produced and processed and the production area has not been inspected by the state department of health. NOT FOR RESALE.",
        "This product is home produced.",
        "ask",
        {},
        "Indiana Code 16-42-5.3, words from memory",
    ),
    (
        "us-ar",
        "us-ar.statements.homemade",
        "This product was produced in a private residence that is exempt from state licensing and inspection. This product may contain allergens.",
        "This product was produced in a private residence.",
        "ask",
        {},
        "Arkansas Code 20-57-503, words from memory",
    ),
]


@pytest.fixture
def check(labelkit, tmp_path):
    def call(market: str, change: dict[str, Any]):
        state = {
            "market": ["us", market],
            "grade": None,
            "lines": [],
            "maker": {"region": market[-2:].upper()},
            "situation": HOME,
        }
        label = changed(changed(CONTRACT, {**state, "floral_source": None, "name": "Honey"}), change)
        (tmp_path / "label.toml").write_text(text_of(label), encoding="utf-8")
        return labelkit("check", "label.toml")

    return call


def levels(ran, rule: str) -> set[str]:
    return {finding["level"] for finding in ran.document["findings"] if finding["rule"] == rule}


@pytest.mark.parametrize("row", WORDS, ids=[row[1] for row in WORDS])
def test_the_exact_words_are_taken(check, row):
    market, rule, words, _, _, change, source = row
    assert source
    assert levels(check(market, {**change, "lines": [words]}), rule) <= {"note"}


@pytest.mark.parametrize("row", WORDS, ids=[row[1] for row in WORDS])
def test_a_changed_word_is_not_taken(check, row):
    """The maker's own version is refused, or the print adds the sentence as the law has it."""
    market, rule, words, other, level, change, _ = row
    ran = check(market, {**change, "lines": [other]})
    assert level in levels(ran, rule) or added(ran, rule, words) or (level == "ask" and not levels(ran, rule))


@pytest.mark.parametrize("row", WORDS, ids=[row[1] for row in WORDS])
def test_the_words_left_out_are_added_by_the_print_or_asked_for_in_full(check, row):
    market, rule, words, _, level, change, _ = row
    ran = check(market, change)
    (finding,) = [finding for finding in ran.document["findings"] if finding["rule"] == rule]
    assert " ".join(words.split()) in " ".join(finding["do"].split())
    if not added(ran, rule, words):
        assert levels(ran, rule) == {level} and (ran.code == 1 or level == "ask")


def added(ran, rule: str, words: str) -> bool:
    """Whether the check says that labelkit prints these words by itself."""
    return any(
        finding["level"] == "note"
        and finding["do"].startswith("labelkit adds this")
        and " ".join(words.split()) in " ".join(finding["do"].split())
        for finding in ran.document["findings"]
        if finding["rule"] == rule
    )


def test_oklahoma_takes_the_homemade_food_words_as_well(check):
    # Oklahoma Administrative Code 35:37-19-4
    ran = check(
        "us-ok",
        {
            "lines": [
                "This product was produced in a private residence that is exempt from government licensing and inspection."
            ]
        },
    )
    assert ran.code == 0


# market, the situation outside the relief, the rule that tells to call, source
OUTSIDE = [
    ("us-va", {"gallons_per_year": 260}, "us-va.home.beyond_the_exemption", "less than 250 gallons"),
    ("us-va", {"gallons_per_year": 250}, "us-va.home.beyond_the_exemption", "250 is not less than 250"),
    ("us-va", {"own_hives": False}, "us-va.home.beyond_the_exemption", "own hives only"),
    ("us-hi", {"gallons_per_year": 500}, "us-hi.home.beyond_the_exemption", "less than 500 gallons"),
    ("us-ok", {"gallons_per_year": 500}, "us-ok.home.beyond_the_honey_act", "less than 500 gallons"),
    ("us-fl", {"food_sales_per_year": "250001 USD"}, "us-fl.home.beyond_cottage", "not more than 250,000 dollars"),
    ("us-ky", {"gallons_per_year": 160}, "us-ky.home.beyond_small", "less than 150 gallons"),
    (
        "us-mi",
        {"food_sales_per_year": "15002 USD", "honey_sales_per_year": "15002 USD"},
        "us-mi.home.beyond_small",
        "15,001 dollars",
    ),
    ("us-tn", {"gallons_per_year": 150}, "us-tn.home.beyond_small", "less than 150 gallons"),
    ("us-ms", {"food_sales_per_year": "35001 USD"}, "us-ms.home.beyond_cottage", "35,000 dollars"),
    ("us-mo", {"food_sales_per_year": "50001 USD"}, "us-mo.home.beyond_cap", "50,000 dollars"),
    ("us-sc", {"gallons_per_year": 450}, "us-sc.home.beyond_small", "400 gallons"),
]


@pytest.mark.parametrize(("market", "situation", "rule", "source"), OUTSIDE)
def test_who_is_outside_is_told_whom_to_call(check, market, situation, rule, source):
    assert source
    ran = check(market, {"situation": situation})
    (finding,) = [finding for finding in ran.document["findings"] if finding["rule"] == rule]
    assert finding["level"] == "ask"
    assert finding["do"].startswith(("Call", "Ask"))


@pytest.mark.parametrize(("market", "situation", "rule", "source"), OUTSIDE)
def test_who_is_inside_is_not(check, market, situation, rule, source):
    assert source
    assert levels(check(market, {}), rule) == set()


SIZES = [
    ("4 oz", True),
    ("5 oz", True),
    ("8 oz", True),
    ("12 oz", True),
    ("1 lb", True),
    ("1 1/2 lb", True),
    ("24 oz", True),
    ("2 lb", True),
    ("40 oz", True),
    ("3 lb", True),
    ("5 lb", True),
    ("6 lb", True),
    ("10 lb", True),
    ("12 lb", True),
    ("60 lb", True),
    ("9 oz", False),
    ("6 oz", False),
    ("22 oz", False),
    ("44 oz", False),
    ("500 g", False),
    ("4 lb", False),
    ("20 lb", False),
]


@pytest.mark.parametrize(("declares", "allowed"), SIZES)
def test_california_s_weights(check, declares, allowed):
    # Food and Agricultural Code 29620, 29502
    ran = check("us-ca", {"declares": declares, "net_statement": None, "grade": "U.S. Grade A"})
    assert levels(ran, "us-ca.sizes.allowed") == (set() if allowed else {"stop"})


def test_california_names_the_nearest_weights(check):
    ran = check("us-ca", {"declares": "9 oz", "net_statement": None})
    (finding,) = [finding for finding in ran.document["findings"] if finding["rule"] == "us-ca.sizes.allowed"]
    assert "8 oz or 12 oz" in finding["do"]


@pytest.mark.parametrize("market", ["us-ca", "us-wa"])
def test_a_grade_is_due_and_pulls_in_the_origin(check, market):
    # Food and Agricultural Code 29611(c); RCW 69.28.050; 7 USC 1622(h)
    assert levels(check(market, {}), f"{market}.grade.required") == {"stop"}
    graded = check(market, {"grade": "U.S. Grade A", "origin": None})
    assert levels(graded, f"{market}.grade.required") == set()
    assert levels(graded, "us.grade.origin_beside") == {"stop"}
    whole = check(market, {"grade": "U.S. Grade A", "lines": ["Product of U.S.A."]})
    assert levels(whole, "us.grade.origin_beside") <= {"note"}


def test_a_washington_blend_names_the_country_and_its_share(check):
    # RCW 69.28.050
    ran = check(
        "us-wa",
        {
            "origin": [{"country": "US", "share": 80}, {"country": "AR", "share": 20}],
            "grade": "U.S. Grade A",
            "situation": {"own_hives": False},
        },
    )
    (finding,) = [finding for finding in ran.document["findings"] if finding["rule"] == "us-wa.origin.several"]
    assert "Argentina 20 %" in finding["do"]


def test_tennessee_no_longer_wants_the_words_of_its_repealed_sections(check):
    # Tennessee Code 53-15-101 to 103: repealed by 2014 Tenn. Acts, ch. 527, effective 1 July 2014
    found = check("us-tn", {"lines": []})
    assert levels(found, "us-tn.name.market_words") == {"note"}
    assert not levels(found, "us-tn.name.pure")


def test_new_hampshire_takes_a_grade_or_not_graded(check):
    # RSA 429:20
    assert levels(check("us-nh", {}), "us-nh.grade.required") == {"stop"}
    assert levels(check("us-nh", {"lines": ["Not graded"]}), "us-nh.grade.required") == set()


def test_south_carolina_by_buyer(check):
    # South Carolina Code 39-25-20(t)
    direct = check("us-sc", {"situation": {"gallons_per_year": 300}})
    assert levels(direct, "us-sc.home.file") == {"ask"} and levels(direct, "us-sc.home.inspected_facility") == set()
    assert levels(
        check("us-sc", {"situation": {"gallons_per_year": 300, "sells_to": ["shop"]}}), "us-sc.home.inspected_facility"
    ) == {"stop"}


@pytest.mark.parametrize(
    ("situation", "rule", "level"),
    [
        ({"food_sales_per_year": "18000 USD"}, "us.nutrition.retailer", "note"),
        (
            {"food_sales_per_year": None, "sells_to": ["shop"], "employees": 3, "units_per_year": 6000},
            "us.nutrition.very_small",
            "note",
        ),
        (
            {"food_sales_per_year": None, "sells_to": ["wholesale"], "employees": 4, "units_per_year": 12000},
            "us.nutrition.low_volume",
            "ask",
        ),
        (
            {
                "food_sales_per_year": None,
                "sells_to": ["wholesale"],
                "employees": 120,
                "units_per_year": 200000,
                "label_surface": "11.9 sq in",
            },
            "us.nutrition.small_package",
            "note",
        ),
        (
            {
                "food_sales_per_year": None,
                "sells_to": ["wholesale"],
                "employees": 120,
                "units_per_year": 200000,
                "label_surface": "12 sq in",
                "nutrition_panel": False,
            },
            "us.nutrition.panel",
            "stop",
        ),
    ],
)
def test_who_needs_a_nutrition_panel(check, situation, rule, level):
    # 21 CFR 101.9(j)(1), (18), (13)(i)
    assert levels(check("us-oh", {"situation": {"home_kitchen": False, **situation}}), rule) == {level}


def test_a_nutrition_claim_ends_the_freedom(check):
    ran = check(
        "us-oh", {"lines": ["Rich in vitamins"], "situation": {"home_kitchen": False, "nutrition_panel": False}}
    )
    assert "stop" in levels(ran, "us.nutrition.panel")


def test_certified_organic_without_a_certificate(check):
    # 7 CFR 205
    without = {"certified_organic": False, "organic_sales_per_year": "2000 USD", "home_kitchen": False}
    assert levels(
        check("us-oh", {"lines": ["Certified organic"], "situation": without}), "us.claim.certified_organic"
    ) == {"stop"}
    assert "stop" not in levels(check("us-oh", {"lines": ["Organic"], "situation": without}), "us.claim.organic")


@pytest.mark.parametrize(
    "words", ["Reg. PA Dept of Agr.", "Reg. Penna. Dept. Agr.", "Registered with the PA Department of Agriculture"]
)
def test_registered_in_pennsylvania_only_with_the_fee(check, words):
    # Pennsylvania Department of Agriculture guideline of October 2020
    lines = [words]
    assert levels(check("us-pa", {"lines": lines}), "us-pa.claims.registered") == {"ask"}
    assert levels(check("us-pa", {"lines": lines, "situation": {"registered": False}}), "us-pa.claims.registered") == {
        "stop"
    }
