"""Every "How to add …" of DEVELOPERS.md is carried out in a copy of the tree, with the very files it names."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
LANGUAGES = ("de", "es", "fr", "pl", "uk")
CATALOGUE = "templates/languages/{}/LC_MESSAGES/{}.po"


@dataclass(frozen=True)
class HowTo:
    """What is added: each file with what is done to its text, the names in the guide, what must then be true, what is drawn."""

    files: dict[str, Callable[[str], str]]
    stands_for: dict[str, str]
    shown_by: str
    drawn: tuple[str, ...] = ()


BEGINNING = """
from datetime import UTC, datetime
CLOCK = datetime(2026, 7, 14, 12, tzinfo=UTC)
"""


def new(text: str) -> Callable[[str], str]:
    """A file that was not there before."""

    def write(before: str) -> str:
        assert before == "", "this file is there already"
        return text

    return write


def more(text: str) -> Callable[[str], str]:
    """Something at the end of a file."""
    return lambda before: f"{before.rstrip()}\n\n{text}"


def instead(old: str, text: str) -> Callable[[str], str]:
    """Something in the place of something else, which must be there."""

    def replace(before: str) -> str:
        assert old in before, old
        return before.replace(old, text, 1)

    return replace


def like(path: str, *changes: tuple[str, str]) -> Callable[[str], str]:
    """A new file made from one that is there."""
    text = (ROOT / path).read_text(encoding="utf-8")
    for old, with_ in changes:
        assert old in text, old
        text = text.replace(old, with_)
    return new(text)


LABEL = """
market = "us-va"
name = "Clover Honey"
declares = "1 lb"
maker = { name = "Pretend Hollow", city = "Pretendton", region = "VA", postcode = "00000" }

[situation]
own_hives = true
home_kitchen = true
"""

SENTENCE = HowTo(
    {
        "labelkit/rules/packs/us-va/statements.toml": more(
            """[[statement]]
rule = "us-va.statements.out_of_the_sun"
text = { en = "KEEP THIS INVENTED HONEY OUT OF THE SUN." }
level = "stop"
when = { own_hives = true }
says = "Honey must show an invented sentence."
do = "Print the sentence word for word."
since = 2020-01-01
cite = { source = "us-va-3-2-5130", clause = "an invented clause" }
sure = "memory"
"""
        )
    },
    {"CODE": "us-va"},
    f"""
from pathlib import Path
from labelkit.cli._runner import answer_to
from labelkit.rules import market
from labelkit.rules.lint import whole
from datetime import date
assert whole(market("us-va", date(2026, 7, 1)))
Path("label.toml").write_text({LABEL!r})
answer = answer_to(["check", "label.toml"], clock=CLOCK, who="Ada")
assert "KEEP THIS INVENTED HONEY OUT OF THE SUN" in answer.text, answer.text
""",
)

DESIGN = HowTo(
    {
        "templates/labels/designs/orchard.toml": like(
            "templates/labels/designs/press.toml", ('name = "press"', 'name = "orchard"'), ('"Press"', '"Orchard"')
        ),
    },
    {"NAME": "orchard"},
    """
from labelkit.labels.design import NAMES, design
assert "orchard" in NAMES and design("orchard").title == "Orchard"
from labelkit.cli._runner import answer_to
assert "orchard" in answer_to(["labels", "--list"], clock=CLOCK, who="Ada").text
from tests.golden.labels.draw import HERE, front, small
(HERE / "orchard.png").write_bytes(small(front("orchard"), 256))
from tests.labels.test_pictures import test_a_design_looks_as_it_was_last_seen
test_a_design_looks_as_it_was_last_seen("orchard")
""",
    ("tests/golden/labels/orchard.png",),
)

SHEET = HowTo(
    {
        "templates/sheets/common.toml": more(
            """[[sheet]]
name = "letter-2x4-95x60"
page = "letter"
across = 2
down = 4
label = ["95 mm", "60 mm"]
first = ["10 mm", "15 mm"]
gap = ["5 mm", "3 mm"]
corner = "2 mm"
use = "an invented sheet"
"""
        )
    },
    {},
    """
from labelkit.cli._runner import answer_to
from labelkit.labels.sheets import sheets
assert "letter-2x4-95x60" in sheets()
assert "letter-2x4-95x60" in answer_to(["labels", "--list"], clock=CLOCK, who="Ada").text
""",
)

COMMAND = HowTo(
    {
        "labelkit/cli/count_jars.py": new(
            '''"""``labelkit count-jars``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--boxes", type=int, required=True, metavar="N", help="Full boxes on the shelf.")
@answering
def command(context: CommandContext, boxes: int) -> Answer:
    """Count the jars in full boxes of twelve.

    Example:  labelkit count-jars --boxes 3
    """
    from labelkit.errors.lots import BoxesUnlikely

    if boxes < 0:
        raise BoxesUnlikely(boxes)
    return Answer({"jars": 12 * boxes}, f"{12 * boxes} jars")
'''
        ),
        "labelkit/cli/_order.py": instead('"bottle",', '"bottle", "count-jars",'),
        "labelkit/errors/lots.py": more(
            '''
class BoxesUnlikely(Refused):
    """Fewer boxes than none."""

    def __init__(self, boxes: int) -> None:
        super().__init__(
            what=f"{boxes} boxes cannot stand on a shelf.",
            why="The count of jars would be less than nothing.",
            do="Count the boxes and type the number: labelkit count-jars --boxes 3",
        )
'''
        ),
        "tests/refusals/lots.py": lambda before: before.replace(
            "    BlendUnclear,\n", "    BlendUnclear,\n    BoxesUnlikely,\n", 1
        ).replace("CASES = [\n", 'CASES = [\n    (BoxesUnlikely, say(BoxesUnlikely(-1)), "-1 boxes"),\n', 1),
    },
    {"NAME": "count_jars", "PACKAGE": "lots"},
    """
import subprocess, sys
from labelkit.cli._runner import answer_to
assert answer_to(["count-jars", "--boxes", "3"], clock=CLOCK, who="Ada").document == {"jars": 36}
done = subprocess.run([sys.executable, "-m", "labelkit", "count-jars", "--boxes", "-1"], capture_output=True, text=True)
assert done.returncode == 2 and "-1 boxes" in done.stderr, done
from tests.test_errors import test_every_refusal_has_a_case
test_every_refusal_has_a_case()
from labelkit.cli._runner import program
from tests.cli.test_help import test_every_command_has_one_place_in_the_order_of_the_work
test_every_command_has_one_place_in_the_order_of_the_work(program)
""",
)

EVENT = HowTo(
    {
        "labelkit/lots/taste.py": new(
            '''"""Tasting a bucket: what it tastes of, for the label."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event
from labelkit.measures.locales import DEFAULT_LOCALE


@dataclass(frozen=True, slots=True)
class Taste(Event):
    """What a bucket tastes of."""

    kind: ClassVar[str] = "taste"
    title: ClassVar[str] = "tasted"
    voidable: ClassVar[bool] = True
    day: date
    bucket: str
    tastes_of: str

    def describe(self, locale: str = DEFAULT_LOCALE) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.bucket} tastes of {self.tastes_of}"
'''
        ),
        "labelkit/record/kinds.py": lambda before: before.replace(
            "from labelkit.record.people", "from labelkit.lots.taste import Taste\nfrom labelkit.record.people", 1
        ).replace("        Drain,\n", "        Drain,\n        Taste,\n", 1),
        "tests/record/every_kind.py": lambda before: before.replace(
            "from labelkit.measures", "from labelkit.lots.taste import Taste\nfrom labelkit.measures", 1
        ).replace(
            "        work.add(Drain(", '        work.add(Taste(LATER, "B2", "lime"))\n        work.add(Drain(', 1
        ),
        **{CATALOGUE.format(lang, "page"): more('msgid "tasted"\nmsgstr "(tasted)"\n') for lang in LANGUAGES},
    },
    {"STAGE": "lots", "NAME": "taste"},
    """
from pathlib import Path
from labelkit.cli._runner import answer_to
from labelkit.record.verify import verify
from tests.record.every_kind import book_everything
with book_everything(Path("season.labelkit")) as record:
    assert verify(record).clean
answer = answer_to(["--record", "season.labelkit", "record", "events", "--kind", "taste"], clock=CLOCK, who="Ada")
assert "tasted" in answer.text and "B2 tastes of lime" in answer.text, answer.text
from labelkit.shipped.catalogues import wording
from tests.page.said import everything_said
assert "tasted" in everything_said() and wording("page", "de")("tasted") == "(tasted)"
""",
)


def in_italian(domain: str) -> Callable[[str], str]:
    """The French catalogue under another name: what is tried is the adding, not the Italian."""
    return like(CATALOGUE.format("fr", domain), ("Language: fr", "Language: it"))


LANGUAGE = HowTo(
    {CATALOGUE.format("it", domain): in_italian(domain) for domain in ("labelkit", "page", "recall")},
    {"LANG": "it"},
    """
from labelkit.page.language import LANGUAGES
from labelkit.shipped.catalogues import wording
assert LANGUAGES["it"] == "Italiano"
for domain, word in (("labelkit", "Price list"), ("page", "Weigh in"), ("recall", "FOOD RECALL")):
    assert word in wording(domain, "it_IT"), (domain, word)
""",
)

PAGE = HowTo(
    {
        "labelkit/page/views/diary.py": new(
            '''"""The diary: a page of its own."""

from __future__ import annotations

from flask import Blueprint

from labelkit.page.view import page

view = Blueprint("diary", __name__)


@view.get("/diary")
def diary() -> str:
    """Show the diary."""
    return page("diary.html")
'''
        ),
        "templates/page/diary.html": new(
            """{% extends "page/frame.html" %}
{% block title %}{{ _('The invented diary') }}{% endblock %}
{% block main %}
<h1>{{ _('The invented diary') }}</h1>
{% endblock %}
"""
        ),
        **{
            CATALOGUE.format(lang, "page"): more(f'msgid "The invented diary"\nmsgstr "(diary in {lang})"\n')
            for lang in LANGUAGES
        },
    },
    {"NAME": "diary"},
    """
from labelkit.page.views import every_view
assert "diary" in {view.name for view in every_view()}
from labelkit.shipped.catalogues import wording
assert wording("page", "de")("The invented diary") == "(diary in de)"
from tests.page.said import everything_said
assert "The invented diary" in everything_said()
from pathlib import Path
from tests.page.conftest import PORT, Hand, Samples, Station, desk_at, make_app
context = desk_at(Path("."))
hand = Hand(make_app(Station(context, True, PORT, Samples())).test_client(), context.record)
hand.begin()
assert "The invented diary" in hand.get("/diary").text
""",
)

TARGET = HowTo(
    {
        "labelkit/rules/figures/net_weight.py": instead(
            '    "the larger": governing,\n',
            '    "the larger": governing,\n    "a gram over the metric": lambda metric_g, _: metric_g + 1,\n',
        ),
        "labelkit/rules/glossary.toml": instead(
            'words = ["the larger", "the metric"]', 'words = ["the larger", "the metric", "a gram over the metric"]'
        ),
        "labelkit/rules/packs/codex/net_quantity.toml": instead(
            'value = "the metric"', 'value = "a gram over the metric"'
        ),
    },
    {"CODE": "codex"},
    """
from datetime import date
from labelkit.measures import Declared
from labelkit.rules import market
from labelkit.rules.figures.net_weight import fill_target
assert fill_target(Declared.read("500 g", "en_US"), [market("codex", date(2026, 7, 1))]).mg == 501_000
""",
)

HOW_TO = {
    "a state's sentence": SENTENCE,
    "a design": DESIGN,
    "a sheet": SHEET,
    "a command": COMMAND,
    "an event": EVENT,
    "a language": LANGUAGE,
    "a page": PAGE,
    "another fill target": TARGET,
}


@pytest.fixture
def copy(tmp_path):
    """A copy of the tree, without pictures, that can be changed."""
    for name in ("labelkit", "templates", "tests"):
        unneeded = shutil.ignore_patterns("__pycache__", "*.png", "bench")
        shutil.copytree(ROOT / name, tmp_path / name, ignore=unneeded)
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(ROOT / name, tmp_path)
    return tmp_path


@pytest.mark.exhaustive(one_in=3)
@pytest.mark.slow
@pytest.mark.parametrize("what", HOW_TO)
def test_what_the_guide_says_is_all_there_is_to_do(copy, what):
    for name, change in HOW_TO[what].files.items():
        file = copy / name
        before = file.read_text(encoding="utf-8") if file.exists() else ""
        after = change(before)
        assert after != before, name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(after, encoding="utf-8")
    inside = {**os.environ, "PYTHONPATH": str(copy)}
    script = BEGINNING + HOW_TO[what].shown_by
    done = subprocess.run([sys.executable, "-c", script], cwd=copy, env=inside, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    assert all((copy / name).exists() for name in HOW_TO[what].drawn)


def guide() -> dict[str, set[str]]:
    """The files of each "How to add …", as DEVELOPERS.md lists them."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    part = re.search(r"^## How to add …\n(.*?)^## ", text, re.MULTILINE | re.DOTALL)[1]
    found = {}
    for what, words in re.findall(r"^\*\*(.+?)\.\*\*(.*?)(?=^\*\*|\Z)", part, re.MULTILINE | re.DOTALL):
        listed = re.search(r"^Files: (.*?)\.$", words, re.MULTILINE | re.DOTALL)
        if listed:
            found[what] = set(re.findall(r"`([^`]+)`", listed[1]))
    return found


def test_the_guide_tells_how_to_add_each_of_these():
    assert set(guide()) == set(HOW_TO)


@pytest.mark.parametrize("what", HOW_TO)
def test_the_guide_names_the_files_that_were_changed(what):
    names = HOW_TO[what].stands_for
    told = {re.sub(r"\b[A-Z]{4,}\b", lambda word: names.get(word[0], word[0]), path) for path in guide()[what]}
    changed = {*HOW_TO[what].files, *HOW_TO[what].drawn}
    if "LANG" not in names:  # one catalogue stands for those of all languages
        told = {path for name in told for path in (name.replace("LANG", lang) for lang in LANGUAGES)}
    assert told == changed
