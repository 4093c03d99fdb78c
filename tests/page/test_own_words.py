"""No refusal speaks of the command line on the page, each still says something, and it stands at the field it is about."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import labelkit.cli
from labelkit.page.own_words import in_page_words
from tests.test_errors import CASES

COMMANDS = {
    path.stem.replace("_", "-")
    for path in Path(labelkit.cli.__file__).parent.iterdir()
    if not path.name.startswith("_") and path.suffix in (".py", "")
}
NAMED = re.compile(
    rf"labelkit (?:--\S+ )*({'|'.join(sorted(COMMANDS, key=len, reverse=True))})\b(?! (?:holds|knows|has)\b)"
)


@pytest.mark.parametrize(("error", "cause"), [case[:2] for case in CASES], ids=[case[0].__name__ for case in CASES])
def test_no_refusal_names_a_command_or_an_option_on_the_page(error, cause):
    with pytest.raises(error) as told:
        cause()
    refusal = told.value.in_locale("en_US")
    for said in (refusal.what, refusal.why, refusal.do):
        shown = in_page_words(str(said))
        assert not NAMED.search(shown) and not re.search(r"(?<![\w-])--[a-z]", shown), shown
        assert shown.count("(") == shown.count(")") and shown.count("“") == shown.count("”"), shown


def test_a_refusal_stands_at_its_field_and_links_to_what_cures_it(hand):
    hand.begin()
    page = hand.send("/weigh", {"bucket": "B9", "gross": "forty", "tare": "2 lb"}).text
    field = re.search(r'<input id="f-gross"[^>]*>', page)[0]
    assert 'aria-invalid="true"' in field and 'value="forty"' in field
    described = re.search(r'aria-describedby="([^"]+)"', field)[1].split()[-1]
    assert re.search(rf'id="{described}"[^>]*>[^<]*forty', page) and 'href="#f-gross"' in page


@pytest.mark.parametrize("path", ["/nowhere", "/lot/nothing"])
def test_a_page_that_is_not_there_keeps_the_way_to_the_others(hand, path):
    assert 'aria-label="The season"' not in hand.get("/nowhere").text  # nor is there one before a season
    hand.begin()
    page = hand.get(path)
    assert page.status_code in (404, 422) and 'href="/weigh"' in page.text
