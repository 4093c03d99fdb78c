"""A refusal in the page's own words: what it says of commands and options is left out, and the page's links stand instead."""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape

from labelkit.errors import LabelkitError
from labelkit.errors.sentence import Sentence
from labelkit.page.doors import door
from labelkit.page.language import Marked, chosen, in_figures, later, translated
from labelkit.season.unmet import Unmet

#: What a command does has its page; the longer name first.
_PLACES = {
    "record restore": ("/record", later("To the record")),
    "record": ("/record", later("To the record")),
    "recall": ("/recall", later("To recalls")),
    "label-words": ("/words", later("What the labels say")),
    "labels": ("/labels", later("Labels")),
    "weigh": ("/weigh", later("Weigh in")),
    "drain": ("/drain", later("Add cappings honey")),
    "blend": ("/blend", later("Blend")),
    "price": ("/prices", later("Jars and prices")),
    "plan": ("/plan", later("Plan")),
    "bottle": ("/bottle", later("Book the run")),
    "sell": ("/sell", later("Sell")),
    "deliver": ("/deliver", later("Deliver")),
    "stall": ("/stall", later("To the market day")),
    "trace": ("/trace", later("Trace")),
    "start": ("/start", later("Who you are and where you sell")),
}
_OTHERS = (
    "batch|bucket|check|check-weigh|completion|demo|find-prices|inspection|lot-code|note|page|pay|receive|reckon|"
    "relabel|remind|result|ruler|rules|run-result|run-sheet|sheet|stock|tax|today|verify|warming|words|year"
)
_NAMES = "|".join(sorted(map(re.escape, _PLACES), key=len, reverse=True))
_COMMAND = re.compile(rf"labelkit (?:--[\w-]+(?: [^\s-]\S*)? )*({_NAMES}|{_OTHERS})\b(?! (?:holds|knows|has)\b)")
_TOLD = re.compile(rf"{_COMMAND.pattern}|(?<![\w-])--[a-z][\w-]*|LABELKIT_\w+|pip install")
_IN_BRACKETS = re.compile(r" ?\([^()]*\)")
_TO_DO_SO = re.compile(r"(?:^|(?<=[.!?] ))To [^.:]*: ?labelkit [^”]*?(?=[.;] [A-Z]|[.;]?$)")
_AFTER_A_COLON = re.compile(
    r"(?:, for example:|:|: one of|, for example) ?“?(?:labelkit |--)[^”]*?”?(?=[.;] [A-Z]|[.;]?$)", re.DOTALL
)
_SENTENCE = re.compile(r"(?<=[.!?…”])\s+(?=[A-Z“({])|;\s+|\n\s*")


def in_page_words(text: str) -> str:
    """The same advice without its commands and options; whole sentences that are nothing else are left out.

    >>> in_page_words("Weigh it in first (labelkit weigh --bucket B9 …).")
    'Weigh it in first.'
    >>> in_page_words("Weigh in the honey first: labelkit weigh --bucket B1 --net WEIGHT. Or name a bucket that has some.")
    'Weigh in the honey first. Or name a bucket that has some.'
    >>> in_page_words("Leave out --year, or begin at a yard.")
    ''
    """
    bare = _IN_BRACKETS.sub(lambda found: "" if _TOLD.search(found[0]) else found[0], in_figures(text))
    bare = _AFTER_A_COLON.sub("", _TO_DO_SO.sub("", bare)).strip()
    kept = [part for part in _SENTENCE.split(bare) if part and not _TOLD.search(part)]
    kept = [part[0].upper() + part[1:] for part in kept]
    return " ".join(f"{part}." if part[-1] not in ".!?…”)" else part for part in kept)


def page_says(text: str) -> str:
    """The same in the language of this request where its catalogue has it; else in English, marked so.

    The catalogues hold what a refusal says as the page says it: its commands are left out before it is looked up.
    """
    if chosen() == "en":
        return in_page_words(text)
    english = in_page_words(text)
    known = translated(text.worded(in_page_words) if isinstance(text, Sentence) else english)
    return known or (Marked(f'<span lang="en">{escape(english)}</span>') if english else "")


def ways_of(refusal: LabelkitError | Unmet) -> list[tuple[str, str, str]]:
    """Where the ways out of a refusal, or of what stands against honey, lead on the page: address, word of the link, and what it is about."""
    ways = [(*door(way), way.about) for way in refusal.ways]
    named: Iterable[str] = (found[1] for found in _COMMAND.finditer(f"{refusal.why} {getattr(refusal, 'do', '')}"))
    ways += [(*_PLACES[name], "") for name in named if name in _PLACES]
    return list({path.partition("?")[0]: (path, word, about) for path, word, about in reversed(ways) if path}.values())[
        ::-1
    ]
