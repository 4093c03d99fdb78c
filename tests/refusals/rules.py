"""Cases of the rules room. Each broken pack of ``tests/broken_packs`` breaks one thing only."""

import csv
import io
from datetime import date
from decimal import Decimal
from pathlib import Path

from labelkit.errors import rules as errors
from labelkit.measures import Declared
from labelkit.reading.shares import read_share
from labelkit.rules import market, review
from labelkit.rules.conditions import known_word
from labelkit.rules.figures import colour, date_mark, moisture_limit, net_weight, origin, tolerance
from labelkit.rules.lint import whole

DAY = date(2026, 11, 25)
BROKEN = Path(__file__).parents[1] / "broken_packs"


def pack(name, code="here"):
    return lambda: whole(market(code, DAY, BROKEN / name))


def moisture(name, **facts):
    return lambda: market("here", DAY, BROKEN / name).value("highest moisture", **facts)


def value(name, code="us", day=DAY):
    return lambda: market(code, day).value(name)


def declared(text, code):
    return lambda: net_weight.net_quantity(Declared.read(text, "en_US"), market(code, DAY))


def best_before(text, bottled):
    return lambda: date_mark.of(date_mark.BestBefore.read(text), market("eu", DAY), bottled)


def reviewed(**edited):
    """A review of one pack whose first row is ticked and not signed."""

    def read():
        here = market("us-or", DAY)
        row = review.rows(here)[0].cells | {"agreed": "x"} | edited
        out = io.StringIO()
        writer = csv.DictWriter(out, review.COLUMNS)
        writer.writeheader()
        writer.writerow(row)
        review.read_table(out.getvalue(), here, "en_US")

    return read


HEIGHT = "smallest letter height of the net quantity"

CASES = [
    (errors.MarketUnknown, lambda: market("us-vq", DAY), "labelkit has no rules for a market “us-vq”."),
    (errors.MarketUnknown, lambda: market("Untied Kingdom", DAY), "Did you mean uk (United Kingdom)?"),
    (errors.MarketUnclear, lambda: market("the valley", DAY, BROKEN / "two_called_alike"), "here, there"),
    (errors.NoRuleInForce, value(HEIGHT, day=date(1900, 1, 1)), "Its first one took effect on 2016-08-19."),
    (
        errors.NoRuleInForce,
        value("colour classes", "eu"),
        "labelkit has no “colour classes” for European Union on 2026-11-25, nor on any other day.",
    ),
    (errors.FactMissing, value(HEIGHT), "How large is the side of the jar"),
    (errors.RulesOverlap, moisture("two_hold", honey="heather", pasteurized=True), "here/composition.toml"),
    (errors.PackBroken, lambda: market("here", DAY, BROKEN / "no_head"), "here/pack.toml"),
    (errors.PackUnreadable, pack("not_toml"), "here/composition.toml"),
    (errors.PackUnreadable, pack("key_twice"), "here/composition.toml"),
    (errors.PackKeyUnknown, pack("unknown_key"), "[[value]] highest moisture has an unknown key “sinse”."),
    (errors.PackKeyUnknown, pack("unknown_block"), "the file has an unknown key “valu”."),
    (errors.PackValueWrong, pack("single_brackets"), "[[value]] with two brackets"),
    (errors.PackKeyMissing, pack("missing_key"), "[[value]] highest moisture has no “sure”."),
    (errors.PackKeyMissing, pack("missing_because"), "[[value]] highest moisture has no “because”."),
    (errors.PackValueWrong, pack("wrong_kind"), "“value = 20 %” is not a number of per cent"),
    (errors.PackValueWrong, pack("wrong_unit"), "“value = 1 ell” is not a length"),
    (errors.PackValueWrong, pack("wrong_certainty"), "seen, second-hand, memory"),
    (errors.PackValueWrong, pack("wrong_count"), "sold, packed, produced"),
    (errors.PackValueWrong, pack("wrong_rule_id"), "an id that begins with “here.”"),
    (errors.PackValueWrong, pack("wrong_condition"), "it has no order"),
    (errors.PackValueWrong, pack("wrong_condition_value"), "hether"),
    (errors.PackValueWrong, pack("empty_condition"), "a table of conditions"),
    (errors.PackNameUnknown, pack("unknown_value"), "the glossary has no value “highest moistures”."),
    (errors.PackNameUnknown, pack("unknown_fact"), "the glossary has no fact “honny”."),
    (errors.PackNameUnknown, pack("unknown_element"), "no element “streat”"),
    (errors.PackNameUnknown, pack("unknown_topic"), "no topic “moisture”"),
    (errors.PackTopicWrong, pack("wrong_topic"), "Move the block to composition.toml"),
    (errors.PackTwice, pack("twice"), "the second since 2022-01-01"),
    (errors.PackDaysWrong, pack("ends_before_it_begins"), "ends on 2019-01-01"),
    (errors.PackKeyMissing, pack("no_title"), "“title”"),
    (errors.PackKeyMissing, pack("no_source"), "“source”"),
    (errors.PackKeyMissing, pack("watches_nothing"), "“what”"),
    (errors.PackKeyUnknown, pack("source_unknown_key"), "adress"),
    (errors.PackValueWrong, pack("source_twice"), "an id no other source has"),
    (errors.PackValueWrong, pack("source_read_nowhere"), "official text, faithful copy, other text of the same act"),
    (errors.PackValueWrong, pack("sells_through_forever"), "stocks run out"),
    (errors.PackCitationWrong, pack("quotes_too_much"), "more than 25 words"),
    (errors.PackCitationWrong, pack("seen_but_never_read"), "does not say on which day it was read"),
    (errors.PackCitationWrong, pack("unknown_source"), "no source “act” is in sources.toml"),
    (errors.PackParentUnknown, pack("unknown_parent"), "“there” does not exist"),
    (errors.PackStanceMissing, pack("child_says_nothing"), "also given by there"),
    (
        errors.PackSwitchesNothing,
        pack("switches_nothing"),
        "it switches off “there.maker.street”, which no parent pack has.",
    ),
    (errors.TooLightToDeclare, declared("4 g", "eu"), "4 g is less than 5 g"),
    (
        errors.WeightRoundsToZero,
        declared("100 mg", "us"),
        "100 mg rounds down to zero in the figures a label in United States may show.",
    ),
    (
        errors.OutsideTolerances,
        lambda: tolerance.of(Declared.read("12 kg", "en_US"), market("eu", DAY)),
        "5 g to 10 kg",
    ),
    (errors.WordUnknown, lambda: known_word("honey", "hether"), "heather"),
    (
        errors.OutsideTolerances,
        lambda: tolerance.of(Declared.read("4 g", "en_US"), market("eu", DAY)),
        "4 g is outside the declared weights with a tolerance in European Union:",
    ),
    (errors.DateNotShortEnough, best_before("2027", date(2026, 12, 1)), "at least the month must be shown"),
    (errors.FactMissing, best_before("2028", None), "On which day is the honey bottled?"),
    (errors.DateBeforeBottling, best_before("2026-01-01", DAY), "is not after the bottling on 2026-11-25"),
    (
        errors.SharesNotWhole,
        lambda: origin.statement([("ES", Decimal(60))], market("eu", DAY)),
        "The shares ES 60 % add up to 60%, not to 100%.",
    ),
    (errors.ShareUnclear, lambda: read_share("ES:60", "en_US"), "no “=”"),
    (errors.ShareUnclear, lambda: read_share("ES=0", "en_US"), "more than 0"),
    (
        errors.ReadingImpossible,
        lambda: moisture_limit.allowed(Decimal(180), market("eu", DAY)),
        "The range is 0 to 100.",
    ),
    (errors.ReadingImpossible, lambda: colour.of(Decimal(-1), market("us", DAY)), "The range is 0 to 140."),
    (
        errors.ReviewUnreadable,
        lambda: review.read_table("rule,says\n", market("us-or", DAY), "en_US"),
        "the columns id, file",
    ),
    (
        errors.ReviewDoesNotFit,
        reviewed(says="Anything."),
        "The row for “us-or.claims.homemade_sentence” (us-or/claims.toml) differs from the rules of us-or.",
    ),
    (errors.ReviewUnsigned, reviewed(), "has no reviewer or no day"),
    (errors.CountryUnknown, lambda: read_share("UK=100", "en_US"), "United Kingdom is GB"),
]
