"""Words and claims: every worked row, the innocent ones, the hidden ones, and what holds for every text."""

import re
import unicodedata
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors.rules import MarketUnknown, PackNameUnknown, PackValueWrong
from labelkit.rules import market
from labelkit.rules.blocks import Cite, Wording
from labelkit.rules.findings import CHECK_LOCAL
from labelkit.rules.market import Market
from labelkit.rules.pack import PACKS
from labelkit.rules.shelf import markets
from labelkit.rules.wording import words
from labelkit.rules.wording.lexicon import LEXICON, lexicon
from labelkit.rules.wording.search import Reader, readers
from labelkit.rules.wording.tokens import text_of
from tests.walks import examples
from tests.worked import worked

DAY = date(2026, 11, 25)
US = market("us", DAY)
CLAIMS = worked("words/us")["row"]
INNOCENT = worked("words/innocent")["row"]
HIDDEN = worked("words/hidden")["row"]
WORLD = worked("words/world")
STOPS = [row["text"] for row in (*CLAIMS, *HIDDEN) if row.get("level", "stop") == "stop" and "facts" not in row]


def name(row):
    return f"{row.get('market', 'us')}: {row['text']}"[:60].replace("\n", "/")


def stops(text, place=US):
    return {finding.rule for finding in words(text, place) if finding.level == "stop"}


def check_row(row, place):
    found = words(row["text"], place, facts=row.get("facts"))
    these = [f for f in found if f.rule == row["rule"]]
    assert these, (row, [(f.rule, f.level) for f in found])
    assert row.get("level", "stop") in {f.level for f in these}, (row, these)
    if "found" in row:
        assert row["found"] in {f.found for f in these}
    assert not {f.rule for f in found} & set(row.get("silent", ())), (row, found)


@pytest.mark.parametrize("row", CLAIMS, ids=name)
def test_each_kind_of_wording_is_found(row):
    check_row(row, US)


@pytest.mark.parametrize("row", HIDDEN, ids=name)
def test_no_trick_of_writing_hides_a_claim(row):
    check_row(row, US)


@pytest.mark.parametrize("row", WORLD["row"], ids=name)
def test_other_markets_and_languages(row):
    check_row(row, market(row["market"], DAY))


@pytest.mark.parametrize("row", INNOCENT, ids=name)
def test_innocent_words_stop_nothing(row):
    found = words(row["text"], US)
    assert not [f for f in found if f.level == "stop"], found
    assert not {f.rule for f in found} & set(row.get("silent", ())), found
    assert not (row.get("nothing") and found), found


@pytest.mark.parametrize("row", WORLD["innocent"], ids=name)
def test_plain_descriptions_in_other_languages_stop_nothing(row):
    assert not stops(row["text"], market(row["market"], DAY))


@pytest.mark.parametrize("row", [*CLAIMS, *INNOCENT, *HIDDEN, *WORLD["row"]], ids=name)
def test_every_row_names_its_source(row):
    assert row["source"]


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("head", markets(PACKS), ids=lambda head: head.id)
def test_what_the_law_prescribes_is_never_stopped_as_a_claim(head):
    place = market(head.id, DAY)
    for statement in place.statements():
        for text in statement.text.values():
            own = {rule for rule in stops(text, place) if ".claim." in rule}
            assert not own, (statement.rule, own)


def test_adding_an_innocent_sentence_never_removes_a_finding():
    for text in STOPS:
        before = stops(text)
        for row in INNOCENT:
            for both in (f"{row['text']}. {text}", f"{text}. {row['text']}"):
                assert before <= stops(both), both


@settings(max_examples=examples(60), deadline=None)
@given(data=st.data())
def test_no_change_of_writing_hides_a_stop(data):
    """Case, accents, hyphens within a word, line ends between words and invisible characters change nothing."""
    text = data.draw(st.sampled_from(STOPS))
    before = stops(text)
    changed = []
    for word in re.split(r"(\s+)", text):
        if not word.isalpha() or len(word) < 4 or not word.isascii():
            changed.append(
                data.draw(st.sampled_from(["\n", " ", "  "])) if word.isspace() and "\n" not in word else word
            )
            continue
        at = data.draw(st.integers(2, len(word) - 2))
        joint = data.draw(st.sampled_from(["", "", "-\n", "\u00ad", "\u200b", "\u00ad\n"]))
        accent = data.draw(st.sampled_from(["", "\u0301", "\u0308"]))
        case = data.draw(st.sampled_from([str.upper, str.lower, str.title, str]))
        changed.append(case(word[:at]) + accent + joint + word[at:])
    written = unicodedata.normalize(data.draw(st.sampled_from(["NFC", "NFD"])), "".join(changed))
    assert before <= stops(written), written


@settings(max_examples=examples(80), deadline=None)
@given(st.text(max_size=200))
def test_any_text_can_be_read(text):
    for finding in words(text, US):
        assert finding.do.endswith(CHECK_LOCAL)


def test_every_finding_says_what_to_do_and_where_it_is_written():
    for row in CLAIMS:
        for finding in words(row["text"], US, facts=row.get("facts")):
            assert finding.market == "us"
            assert finding.field == "text"
            assert finding.says.endswith((".", "”"))
            assert finding.do.endswith(CHECK_LOCAL)
            assert finding.cite
            assert finding.read_on or finding.sure == "memory"


def test_the_same_words_are_told_once():
    assert len([f for f in words("Raw honey. Raw honey. RAW honey.", US) if f.rule == "us.claim.raw"]) == 1


def test_findings_come_gravest_first():
    levels = [f.level for f in words("Gluten-free, raw, cures colds", US, facts={"infused": False})]
    assert levels == sorted(levels, key=["stop", "ask", "note"].index)


def test_an_unknown_fact_turns_a_stop_into_a_question_that_names_it():
    (found,) = [f for f in words("Certified organic", US) if f.rule == "us.claim.certified_organic"]
    assert found.level == "ask"
    assert "Is the honey certified organic?" in found.do


def test_a_known_fact_settles_it():
    assert not [f for f in words("Organic", US, facts={"certified_organic": True}) if f.rule == "us.claim.organic"]
    limit = {"certified_organic": False, "organic_sales_per_year": "5000 USD"}
    assert not [f for f in words("Organic", US, facts=limit) if f.rule == "us.claim.organic"]


def test_words_of_origin_follow_the_day():
    phrase = "blend of EU and non-EU honeys"
    assert "eu.claim.blend_phrase" not in stops(phrase, market("eu", date(2026, 6, 13)))
    assert "eu.claim.blend_phrase" in stops(phrase, market("eu", date(2026, 6, 14)))


def test_a_country_reads_its_own_language_and_english():
    assert {law.language for law in market("eu-de", DAY).wordings()} == {"de", "en"}
    assert {law.language for law in market("ca", DAY).wordings()} == {"en", "fr"}


def test_a_word_two_languages_share_is_innocent_where_one_of_them_finds_it_so():
    """The caution to ask one's doctor is no promise of healing; invented sentences."""
    germany = market("eu-de", DAY)
    assert not stops("Diabetiker fragen ihren Arzt.", germany)
    assert stops("Hilft Diabetikern, gut für Diabetiker.", germany) == {"eu.claim.disease"}


@pytest.mark.parametrize("path", sorted(LEXICON.glob("*.toml")), ids=lambda path: path.stem)
def test_every_list_of_every_vocabulary_can_be_compiled(path):
    lists = lexicon(path.stem)
    Reader((), lists.__getitem__, lists)


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("head", markets(PACKS), ids=lambda head: head.id)
def test_every_wording_of_every_market_can_be_compiled(head):
    assert readers(market(head.id, DAY))


def wording(*phrases, **changes):
    fields = {
        "pack": "x",
        "topic": "claims",
        "file": "x/claims.toml",
        "since": DAY,
        "cite": Cite("An invented act", "1"),
        "sure": "memory",
        "rule": "x.claim.y",
        "level": "stop",
        "says": "…",
        "do": "…",
        "language": "en",
        "words": phrases,
    }
    return Wording(**{**fields, **changes})


def found_by(law, text):
    ready = text_of(text)
    return [ready.written(hit.begin, hit.end) for hit in Reader([law], lexicon("en").__getitem__).read(ready).hits]


def test_the_small_language_of_phrases():
    assert found_by(wording("honey*"), "Honeycomb and honeys") == ["Honeycomb", "honeys"]
    assert found_by(wording("*honig"), "Waldhonig, Honigglas") == ["Waldhonig"]
    assert found_by(wording("*bakter*"), "antibakteriell") == ["antibakteriell"]
    assert found_by(wording("anti-aging"), "anti aging. antiaging. anti-aging") == [
        "anti aging",
        "antiaging",
        "anti-aging",
    ]
    assert found_by(wording("good ...2 you"), "good for you; good for all of you") == ["good for you"]
    assert found_by(wording("made [in|at] home"), "made home, made at home") == ["made home", "made at home"]
    assert found_by(wording("(cat|dog fox) food"), "dog fox food, dog food") == ["dog fox food"]
    assert found_by(wording("=UMF"), "UMF umf") == ["UMF"]


def test_a_gap_never_reaches_into_the_next_sentence():
    assert found_by(wording("cures ... colds"), "It cures nothing much. Then colds come.") == []


def test_words_needed_near_must_stand_in_the_same_sentence():
    law = wording("active", near=("honey",))
    assert found_by(law, "Active honey") == ["Active"]
    assert found_by(law, "Active bees. Honey.") == []


def test_a_firm_phrase_outlives_a_negation_and_a_plain_one_does_not():
    assert found_by(wording("asthma"), "no asthma") == []
    assert found_by(wording("!asthma"), "no asthma") == ["asthma"]
    assert found_by(wording("asthma", negated="keeps"), "no asthma") == ["asthma"]


@pytest.mark.parametrize("phrase", ["(a|b", "a)", "... a", "[a]", "", "a ] b"])
def test_a_phrase_that_is_none_refuses_its_pack(phrase):
    with pytest.raises(PackValueWrong, match="refuses the rules file"):
        Reader([wording(phrase)], lexicon("en").__getitem__)


def test_an_unknown_list_refuses_its_pack(tmp_path):
    (tmp_path / "us").mkdir()
    (tmp_path / "us" / "pack.toml").write_text((PACKS / "us" / "pack.toml").read_text())
    block = (
        '[[wording]]\nrule = "us.claim.y"\nlanguage = "en"\nwords = ["{ilsl}"]\nlevel = "ask"\nsays = "…"\ndo = "…"\n'
        'since = 2020-01-01\ncite = { source = "act" }\nsure = "memory"\n'
    )
    (tmp_path / "us" / "claims.toml").write_text(block)
    (tmp_path / "sources.toml").write_text('[act]\ntitle = "An invented act"\n')
    place = Market("us", DAY, ("us",), tmp_path)
    with pytest.raises(PackNameUnknown, match="ills"):
        words("x", place)


def test_an_unknown_market_names_near_ones():
    with pytest.raises(MarketUnknown, match="us-va"):
        market("us-vaa", DAY)


def test_ten_thousand_words_are_read_in_linear_steps():
    """Twice the text costs about twice the work: the number of phrase trials, counted, not timed."""
    from labelkit.rules.wording import matcher

    once = " ".join(row["text"].replace("\n", " ") + "." for row in (*CLAIMS, *INNOCENT))
    counts = []
    for times in (2, 4):
        tried = 0
        original = matcher._Walk.ends

        def counting(self, node, at, limit, original=original):
            nonlocal tried
            tried += 1
            return original(self, node, at, limit)

        matcher._Walk.ends = counting
        try:
            words(once * times, US)
        finally:
            matcher._Walk.ends = original
        counts.append(tried)
    assert Decimal(counts[1]) / counts[0] < Decimal("2.2")
