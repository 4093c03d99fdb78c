"""What a label says: every word and figure, decided before anything is placed.

Content knows no paper and no typeface. It carries, beside each text, what the law asks of its height and where that is
written, so that the placer can keep it and the table of heights can show it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from labelkit.errors.labels import TextRefused
from labelkit.labels.backdrop.picture import Backdrop
from labelkit.labels.logo import Logo
from labelkit.labels.nutrition.panel import Nutrition
from labelkit.measures import Length

#: What a required height is measured on.
LETTERS, FIGURES, X_HEIGHT, TYPE_SIZE = "letters", "figures", "x-height", "type size"

#: What the lot code may stand in beside its plain letters.
LOT_BARS = ("none", "code128", "datamatrix")

#: Scripts that run from right to left are not set by labelkit; these are their blocks of letters.
_RIGHT_TO_LEFT = ((0x0590, 0x08FF), (0xFB1D, 0xFDFF), (0xFE70, 0xFEFF), (0x10800, 0x10FFF), (0x1E800, 0x1EFFF))
_HIDDEN = {0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A), 0xFEFF}
LONGEST = 400


@dataclass(frozen=True, slots=True)
class Height:
    """The least height of a text and what it is measured on.

    ``letters``: capitals where the text is all capitals (symbols such as g and kg left aside), else the small letter
    o. ``figures``: the lowest figure printed. ``x-height``: the small letter x. ``type size``: the size of the type itself,
    where a law speaks of points.
    """

    least: Length
    measured: str = LETTERS
    clause: str = ""
    sure: str = "seen"


@dataclass(frozen=True, slots=True)
class NetRule:
    """Where and how the net quantity must stand, beside its height."""

    bottom_share: Decimal | None = None
    clear_heights: Decimal = Decimal(0)
    clear_n_widths: Decimal = Decimal(0)
    most_proportion: Decimal | None = None
    clause: str = ""
    sure: str = "seen"


@dataclass(frozen=True, slots=True)
class Words:
    """One thing the label says; ``also`` holds the same in further languages, ``instead`` other lawful forms of it."""

    role: str
    text: str
    height: Height | None = None
    must: bool = False
    also: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        return (self.text, *self.also)


@dataclass(frozen=True, slots=True)
class LabelContent:
    """One label's words, codes and rules."""

    kind: str
    words: tuple[Words, ...]
    lang: str = "en"
    langs: tuple[str, ...] = ()
    lot: str | None = None
    lot_bars: str = "none"  # one of LOT_BARS
    link: str | None = None
    link_in: str = "QR Code"  # or "Data Matrix"
    number: str | None = None
    facts: tuple[tuple[str, str], ...] = ()
    elements: tuple[tuple[str, str], ...] = ()
    net_rule: NetRule = field(default_factory=NetRule)
    diameter: Length | None = None
    market: str = ""
    nutrition: Nutrition | None = None
    logo: Logo | None = None
    artwork: Backdrop | None = None
    harvest: str = ""  # the one year of the harvest, where it is told

    @property
    def spoken(self) -> tuple[str, ...]:
        """The languages in the order of :attr:`Words.all`."""
        return self.langs or (self.lang,)

    def lang_of(self, place: int) -> str:
        """The language of the first, second … text of :attr:`Words.all`."""
        return self.spoken[min(place, len(self.spoken) - 1)]

    def of(self, role: str) -> Words | None:
        """The first thing of that role, if any."""
        return next((words for words in self.words if words.role == role), None)

    def the(self, role: str) -> Words:
        """The first thing of a role that every label of this kind has."""
        return next(words for words in self.words if words.role == role)

    def every(self, *roles: str) -> tuple[Words, ...]:
        """Everything of those roles, in order."""
        return tuple(words for words in self.words if words.role in roles)

    def without(self, *roles: str) -> LabelContent:
        """The same without those roles."""
        return replace(self, words=tuple(words for words in self.words if words.role not in roles))

    @property
    def brief(self) -> LabelContent:
        """The same with the address by itself, where it also stands with its maker's name; itself where it does not."""
        words = tuple(
            replace(one, text=one.instead[0], instead=()) if one.role == "address" and one.instead else one
            for one in self.words
        )
        return replace(self, words=words) if words != self.words else self

    def for_lot(self, lot: str, link_of: Callable[[str], str] | None = None) -> LabelContent:
        """The same label for another lot; ``link_of`` makes the lot's link, where the label carries one."""

        def renamed(text: str) -> str:
            return text.replace(self.lot, lot) if self.lot else text

        words = tuple(
            replace(one, text=renamed(one.text), also=tuple(map(renamed, one.also))) if one.role == "lot" else one
            for one in self.words
        )
        return replace(self, lot=lot, words=words, link=link_of(lot) if link_of and self.link else self.link)


def clean(text: str, what: str = "the label") -> str:
    """One line of text, blanks evened out. Raises :class:`~labelkit.errors.labels.TextRefused`.

    >>> clean("  Wild flower\\n honey ")
    'Wild flower honey'
    """
    line = " ".join(text.replace("\u00a0", " ").split())
    if len(line) > LONGEST:
        raise TextRefused(what, line[:40] + "…", f"it is {len(line)} characters long, and {LONGEST} is the most")
    for sign in line:
        code = ord(sign)
        if any(low <= code <= high for low, high in _RIGHT_TO_LEFT):
            raise TextRefused(what, line, f"“{sign}” belongs to a script that runs from right to left")
        if code < 32 or code in _HIDDEN or 0x7F <= code < 0xA0:
            raise TextRefused(what, ascii(line)[1:-1], f"it holds the control character U+{code:04X}")
    return line


def front_label_content(
    *,
    name: str | Sequence[str],
    statement: str | Sequence[str],
    maker: str,
    address: Iterable[str] = (),
    lot: str | None = None,
    lot_words: str | Sequence[str] = "Lot",
    best_before: str | Sequence[str] = "",
    caution: str | Sequence[str] = "",
    origin: str | Sequence[str] = "",
    ingredients: str | Sequence[str] = "",
    grade: str | Sequence[str] = "",
    lines: Iterable[str | Sequence[str]] = (),
    wording: Iterable[str] = (),
    storage: str | Sequence[str] = "",
    story: str | Sequence[str] = "",
    other_statements: Sequence[str] = (),
    net_height: Height | None = None,
    text_height: Height | None = None,
    net_rule: NetRule | None = None,
    langs: Sequence[str] = ("en",),
    link: str | None = None,
    number: str | None = None,
    diameter: Length | None = None,
    market: str = "",
    kind: str = "front",
) -> LabelContent:
    """What a front label says, from plain data.

    A text may be one string, or one for each language of ``langs``. ``statement`` is the net quantity as it is to
    print, ``other_statements`` are further lawful forms of it (a shorter one is taken where room is short), ``wording`` the sentences a law prescribes to the letter; ``net_height`` and ``text_height`` are what the
    market asks of the net quantity and of every other required text, ``net_rule`` where the net quantity must stand.

    >>> content = front_label_content(name="Clover Honey", statement="NET WT 16 OZ (1 LB) 453 g", maker="Hazel Bank",
    ...     lot="L26195AXR", caution="Do not feed honey to infants under one year of age.")
    >>> content.of("net").text, content.of("lot").text
    ('NET WT 16 OZ (1 LB) 453 g', 'Lot L26195AXR')
    """
    lot_text = ""
    if lot:
        said = [lot_words] if isinstance(lot_words, str) else list(lot_words)
        lot_text = f"{' / '.join(dict.fromkeys(word for word in said if word))} {lot}".strip()
    held = [
        _words("maker", maker, text_height, must=True),
        _words("name", name, text_height, must=True),
        *(_words("line", line, None) for line in lines),
        _net(statement, other_statements, net_height),
        _words("grade", grade, text_height),
        _words("origin", origin, text_height, must=bool(origin)),
        _words("ingredients", ingredients, text_height),
        _words("caution", caution, text_height, must=bool(caution)),
        *(_words("wording", sentence, text_height, must=True) for sentence in wording),
        _words("storage", storage, text_height),
        _words("story", story, None),
        _words(
            "address",
            " · ".join(filter(None, (clean(part, "the address") for part in address))),
            text_height,
            must=True,
        ),
        _words("best_before", best_before, text_height, must=bool(best_before)),
        _words("lot", lot_text, text_height, must=bool(lot)),
    ]
    return LabelContent(
        kind=kind,
        words=tuple(words for words in held if words),
        lang=langs[0],
        langs=tuple(langs),
        lot=lot,
        link=link,
        number=number,
        net_rule=net_rule or NetRule(),
        diameter=diameter,
        market=market,
    )


def _net(statement: str | Sequence[str], others: Sequence[str], height: Height | None) -> Words | None:
    words = _words("net", statement, height, must=True)
    forms = tuple(clean(one, "the net quantity") for one in others)
    return replace(words, instead=tuple(form for form in forms if form != words.text)) if words else None


def _words(role: str, text: str | Sequence[str], height: Height | None, must: bool = False) -> Words | None:
    said = (text,) if isinstance(text, str) else tuple(text)
    said = tuple(dict.fromkeys(filter(None, (clean(one, f"the {role.replace('_', ' ')}") for one in said))))
    return Words(role, said[0], height, must, said[1:]) if said else None
