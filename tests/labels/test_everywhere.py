"""Every design, every kind, every geometry, every market: placed soundly, or refused with the millimetres.

Labels that are alike in what they say and what the law asks of it are placed once for all their markets; the counts of
combinations, of labels placed and of labels refused are printed. Of these a whole run takes one in eleven, which is every
kind on every geometry in every design with several labels: which label it is changes the words, seldom the path.
"""

from __future__ import annotations

import re
from collections import Counter

import pytest

from labelkit.errors.labels import LabelTooSmall, PanelTooLarge
from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.content import FIGURES, LETTERS, X_HEIGHT
from labelkit.labels.design import NAMES, design
from labelkit.labels.heights import measured_signs
from labelkit.labels.layout.kinds import PLACERS, place
from labelkit.labels.printing import print_sheet
from labelkit.labels.sheets import sheets
from labelkit.paper.marks import Text
from labelkit.reading.label_file import read_label
from labelkit.rules import market
from tests.labels.every_market import CODES, DAY, different, jar, of_kind
from tests.labels.looking import crossing_the_frame, faint, over_the_edge, overlaps, unsaid
from tests.labels.samples import outline
from tests.labels.test_kinds import CARD, CASE, TAG
from tests.walks import WHOLE, share

ROLLS = ("roll-102x76", "roll-57x32")
#: The same outline twice is one geometry; its sheets are counted all the same.
GEOMETRIES: dict = {}
for _name in (*sheets(), *ROLLS):
    GEOMETRIES.setdefault(outline(_name), []).append(_name)
OF_NO_MARKET = {"tag": TAG, "case": CASE, "card": CARD}
PANEL = 'market = "us"\nname = "Clover Honey"\ndeclares = "12 oz"\nmaker = { name = "Pretend Hollow" }\n'


def labels_of(kind: str):
    """Every different label of a kind and how many markets have it."""
    if kind in OF_NO_MARKET:
        return {OF_NO_MARKET[kind]: 1}
    if kind == "nutrition":
        content = compose(label_case(read_label(PANEL), [market("us", DAY)], "en_US"), kind=kind).content
        return {content: sum(code.partition("-")[0] == "us" for code in CODES)}
    return {content: len(codes) for content, codes in different(kind).items()}


def wrong_with(placed, look) -> list:
    """All that is not as it should be with a placed label."""
    return [
        *overlaps(placed),
        *over_the_edge(placed),
        *crossing_the_frame(placed),
        *faint(placed, look),
        *unsaid(placed.content, placed),
        *(row.item for row in placed.rows if not row.ok),
    ]


def every_case(look: str):
    """Every label of every kind on every geometry: a name for it, then the kind, the label, its markets and the place."""
    for kind in PLACERS:
        for n, (content, markets) in enumerate(labels_of(kind).items()):
            for where, names in GEOMETRIES.items():
                yield f"{look} {kind} {n} {names[0]}", (kind, content, markets, where, names)


@pytest.mark.slow
@pytest.mark.parametrize("look", NAMES)
def test_every_kind_on_every_geometry_in_every_market_is_sound_or_refused_with_millimetres(look, capsys):
    counted: Counter = Counter()
    for kind, content, markets, where, names in share(every_case(look), one_in=300, whole=11):
        many = markets * len(names)
        spot = f"{kind} in {look} on {names[0]} for {content.market or content.langs}"
        try:
            placed = place(content, where, design(look))
        except (LabelTooSmall, PanelTooLarge) as told:
            assert re.search(r"\d\.\d mm", told.what), f"{spot}: {told}"
            assert told.do, spot
            counted["refused"] += many
            counted["refusals"] += 1
            continue
        assert not wrong_with(placed, design(look)), spot
        if kind == "front":
            assert {"name", "net"}.isdisjoint(placed.moved), spot
        counted["placed"] += many
        counted["labels"] += 1
    with capsys.disabled():
        print(
            f"\n{look}: {counted['placed'] + counted['refused']:,} combinations of kind, geometry and market; "
            f"{counted['placed']:,} placed ({counted['labels']:,} different labels), "
            f"{counted['refused']:,} refused in millimetres ({counted['refusals']:,} different ones)"
        )
    assert counted["placed"] > 0 and counted["refused"] > 0
    # Small sheets refuse many; a design that refuses most is unfinished. A small share may happen upon the small ones.
    assert 3 * counted["placed"] > counted["refused"] or not WHOLE


def test_every_market_and_at_least_fourteen_geometries_and_a_roll_are_walked():
    assert len(CODES) >= 69 and len(GEOMETRIES) >= 14 and set(PLACERS) >= {"front", "back", "wrap", "lid", "seal"}
    assert sum(len(codes) for codes in different("front").values()) == len(CODES)


#: A kind and a sheet it fits in every design.
FITTING = {
    "front": "letter-2x3-102x85",
    "back": "a4-2x4-99x68",
    "lid": "letter-3x4-d64",
    "wrap": "letter-1x5-203x51",
    "seal": "letter-2x10-102x25",
    "tag": "letter-2x2-102x127",
    "case": "letter-2x2-102x127",
    "card": "a4-3x3-60x80",
    "nutrition": "letter-2x2-102x127",
}


def squeezed(text: str) -> str:
    """Without blanks and hyphens: the reader puts blanks between spaced letters and its own sign for a hyphen at a line's end."""
    return re.sub(r"[\s\-\u00ad\ufffe]", "", text)


def heights_in(page, whole: str, text: str, signs: str) -> list[float]:
    """Heights in millimetres of some signs of a text, as pypdfium2 finds them in the file."""
    start, found = whole.index(text), []
    for position in range(start, start + len(text)):
        if whole[position] in signs:
            _, bottom, _, top = page.get_charbox(position)
            found.append((top - max(bottom, 0)) * 25.4 / 72)
    return found


@pytest.mark.parametrize("kind", FITTING)
@pytest.mark.parametrize("look", NAMES)
def test_a_second_reader_finds_every_line_in_the_file_and_as_high_as_the_law_asks(look, kind):
    import pypdfium2

    codes = ("us-ca", "eu-de", "ca") if kind in ("front", "back", "wrap", "lid", "seal") else (None,)
    for code in codes:
        content = next(iter(labels_of(kind))) if code is None else of_kind(jar(code), kind)
        printed = print_sheet([content], FITTING[kind], look)
        page = pypdfium2.PdfDocument(printed.pdf)[0].get_textpage()
        whole = page.get_text_range()
        placed = printed.placed[0]
        for mark in placed.marks:
            if not isinstance(mark, Text):
                continue
            assert squeezed(mark.text) in squeezed(whole), (look, kind, code, mark.text)
        for words in placed.content.words:
            height = words.height
            if height is None or height.measured not in (FIGURES, LETTERS, X_HEIGHT):
                continue
            lines = [mark for mark in placed.marks if isinstance(mark, Text) and mark.role == words.role]
            said = " ".join(line.text for line in lines)
            signs = "xz" if height.measured == X_HEIGHT else measured_signs(said, height.measured) if said else ""
            for line in lines:
                if line.text in whole:
                    for high in heights_in(page, whole, line.text, signs):
                        assert high >= float(height.least.mm) - 0.005, (look, kind, code, line.text, high)
