"""Every word the page says, gathered from its templates and rooms; what is said through a variable is listed here."""

from __future__ import annotations

import ast
from pathlib import Path

import labelkit
from labelkit.shipped import folder

ROOMS = Path(labelkit.__file__).parent / "page"
IN_PYTHON = {"say": 1, "later": 1, "say_count": 2, "Sentence": 1, "plural": 2}
BESIDE = (
    "honey/crystals.py",
    "honey/hives.py",
    "honey/yields.py",
    "sale/honey_show.py",
    "season/ahead.py",
    "season/caps.py",
    "season/due.py",
    "season/kept_papers.py",
    "season/reckon.py",
    "season/unmet.py",
)  # rooms of the house whose sentences the page says again


def by_variable() -> set[str]:
    """Words that stand in a table of their own and are said through ``_(word)``."""
    from labelkit.honey import ferment, source
    from labelkit.honey.crystals import FLOWERS
    from labelkit.labels.layout.kinds import OF_A_JAR
    from labelkit.labels.sheets import sheets
    from labelkit.page.views import buckets, sell, words
    from labelkit.record.kinds import KINDS
    from labelkit.record.settings import SUBJECTS
    from labelkit.rules.glossary import glossary
    from labelkit.run.batch_sheet import LINES
    from labelkit.sale import honey_show
    from labelkit.season import kept_plan
    from labelkit.season.stock import STATES

    facts = [glossary().facts[name] for name in words.FACTS]
    return {
        *(band[3] for band in ferment._BANDS),
        *FLOWERS,
        *(source.SECOND_HAND, source.MEMORY, source.RECKONED, source.PRACTICE, source.OWN),
        ferment._BEYOND[2],
        *buckets.SCALES.values(),
        *(honey_show.YES, honey_show.NO, honey_show.ASK),
        *STATES,
        *sell.WAYS.values(),
        *sell.CHANNELS,
        *(event.title for event in KINDS.values()),
        *kept_plan._CHANGES.values(),
        *(words for _, words in LINES.values()),
        *SUBJECTS.values(),
        *OF_A_JAR,
        *(fact.asks for fact in facts),
        *(word for fact in facts for word in fact.words),
        *(sheet.shape for sheet in sheets().values()),
        *(sheet.page for sheet in sheets().values()),
    }


def in_templates() -> dict[str, str]:
    """English words of the templates, each with its plural or nothing, as Jinja2's own extraction finds them."""
    from jinja2.ext import babel_extract

    found: dict[str, str] = {}
    for path in sorted((folder("templates") / "page").glob("*.html")):
        with path.open("rb") as file:
            for _, function, message, _ in babel_extract(file, ("_", "ngettext"), (), {"trimmed": "true"}):
                if message is None:  # said through a variable
                    continue
                strings = [message] if isinstance(message, str) else [text for text in message if text]
                found[strings[0]] = strings[1] if function == "ngettext" else found.get(strings[0], "")
    return found


def in_rooms() -> dict[str, str]:
    """English words of the page's Python, each with its plural or nothing."""
    found: dict[str, str] = {}
    for path in sorted((*ROOMS.rglob("*.py"), *(ROOMS.parent / name for name in BESIDE))):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            of_sentence = getattr(getattr(node.func, "value", None), "id", "") == "Sentence"
            count = IN_PYTHON.get(node.func.attr if of_sentence else getattr(node.func, "id", ""))
            texts = [each.value for each in node.args[:count] if isinstance(each, ast.Constant)] if count else []
            if texts:
                found[texts[0]] = texts[1] if len(texts) > 1 else found.get(texts[0], "")
    return found


def in_refusals() -> set[str]:
    """What refusals say, as the page says it: a catalogue may have it, and what it lacks stays English and is marked so."""
    from labelkit.page.own_words import in_page_words

    return {
        in_page_words(node.value)
        for path in sorted((ROOMS.parent / "errors").glob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def everything_said() -> dict[str, str]:
    """All of it: English words, with their plural or nothing."""
    return {**dict.fromkeys(by_variable(), ""), **in_rooms(), **in_templates()}
