"""Label: what the labels of some jars say, drawn on their sheets, judged as they print, and booked.

The labels of one lot and of many are made the same way. :func:`draw_labels` is the look: it books nothing and writes no
file. :func:`book_labels` books what was drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING, Any

from labelkit.errors import unless_said
from labelkit.errors.labels import (
    LabelsForNoJar,
    LabelStopped,
    LabelTooSmall,
    LotKeepsWords,
    LotsUnclear,
    NoPlannedJars,
    ProofNotBooked,
    WordsUntrue,
)
from labelkit.errors.run import JarSizeUnknown
from labelkit.errors.sentence import Figure
from labelkit.labels.artwork import Artwork, draw_artwork
from labelkit.labels.case import LabelCase, label_case
from labelkit.labels.composed import Composed, compose
from labelkit.labels.content import LabelContent, Words
from labelkit.labels.label_set import LabelSet, said_on, set_of
from labelkit.labels.printed import Printed, wording_version
from labelkit.labels.printing import SheetPrint, print_labels, print_sheet
from labelkit.labels.roll import cut_to_length
from labelkit.labels.sheets import Printer, Sheet, free_places
from labelkit.lots.code import is_lot_code, read_lot_code
from labelkit.measures.locales import show_number
from labelkit.paper.preview import preview_png
from labelkit.rules import market
from labelkit.rules.figures import date_mark
from labelkit.rules.findings import Finding
from labelkit.rules.wording import gravest_first
from labelkit.run import Filled
from labelkit.season.borne import as_warmed, heritages, home_of, of_its_honey, unborne
from labelkit.season.bottle import next_code
from labelkit.season.kept_plan import still_planned
from labelkit.season.lot_words import LotLabel
from labelkit.season.price_papers import piece_price
from labelkit.season.progress import progress
from labelkit.season.settings import settings_of
from labelkit.season.shelf import lot_named
from labelkit.season.unmet import against_buckets, against_jars, refuse

if TYPE_CHECKING:
    from labelkit.labels.backdrop.picture import Backdrop
    from labelkit.labels.design import Design
    from labelkit.labels.layout.placed import Placed
    from labelkit.labels.logo import Logo
    from labelkit.measures import Length
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.rules.label import Label
    from labelkit.trace.heritage import Heritage

MOST = 100_000
#: So many labels more than jars are a sheet begun, or spoiled ones.
A_SHEET = 31
DPI = 600


@dataclass(frozen=True)
class LabelPaper:
    """One kind of label (front, back, lid …) and where it goes: the sheet, and the free places of the first one."""

    kind: str
    sheet: Sheet
    start_at: int = 1
    skip: frozenset[int] = frozenset()

    @property
    def free(self) -> int:
        """How many places of the first sheet are free."""
        used = [place for place in self.skip if place >= self.start_at]
        return max(1, self.sheet.count - self.start_at + 1 - len(used))


@dataclass(frozen=True)
class LabelLook:
    """How every label of a print looks, and the codes it bears. ``link_of`` makes the link of a lot."""

    design: Design
    printer: Printer = field(default_factory=lambda: Printer(dpi=DPI))
    number: str | None = None
    link_of: Callable[[str], str] | None = None
    link_in: str = "QR Code"
    lot_bars: str = "none"
    logo: Logo | None = None
    diameter: Length | None = None
    cut_lines: bool = False
    artwork: Mapping[str, Backdrop] = field(default_factory=dict)  # the ground of each kind of label


@dataclass(frozen=True)
class LabelPrint:
    """What is to be printed: the label, its kinds, and for which jars.

    ``size`` names the jars in the record; ``lots`` the lots with a count of labels each (nought: as many as jars, or one
    sheet), ``None`` every lot of that size. A ``proof`` is marked as one on the paper and never booked. With ``art`` one
    label of each lot is drawn for a print shop, and as many are booked as are asked for. ``words`` says how these
    words stand to those the lots bear, where they are the record's. ``bucket`` names the one the jars will be filled
    from, for labels that are printed before they are.
    """

    label: Label
    papers: tuple[LabelPaper, ...]
    look: LabelLook
    size: str | None = None
    lots: tuple[tuple[str, int], ...] | None = ()
    count: int | None = None
    spoiled: int = 0
    proof: bool = False
    because: str = ""
    art: Artwork | None = None
    words: LotLabel | None = None
    bucket: str = ""


@dataclass(frozen=True)
class OfSize:
    """The labels of the jars of one size in a print; a print of pieces sold by weight has several.

    ``case`` is at first the label as it was read, and in the end as it stands on the paper. ``filled`` is how many jars
    there are of each lot, where the record knows; ``price`` what stands on the label of a piece.
    """

    size: str
    label: Label
    lots: tuple[tuple[str, int], ...]
    case: LabelCase
    filled: tuple[tuple[str, int], ...] = ()
    bottled: date | None = None
    heritages: tuple[Heritage, ...] = ()  # what the lots are made of, where the record knows them
    price: str = ""
    set: LabelSet | None = None

    @cached_property
    def unborne(self) -> tuple[Finding, ...]:
        """What the labels say that the honey in the jars does not bear."""
        return unborne(self.case.cases, self.heritages, home_of(self.label))


@dataclass(frozen=True)
class Drawn:
    """One kind of label as it will print: ``composed`` for each size of the print, with the place of its first label."""

    composed: tuple[tuple[Composed, int], ...]
    printed: SheetPrint
    paper: LabelPaper

    @property
    def made(self) -> Composed:
        """All that the first label says."""
        return self.composed[0][0]


@dataclass(frozen=True)
class DrawnLabels:
    """Everything that was drawn, and what is found on it: the words that stand on these labels are what is judged."""

    asked: LabelPrint
    drawn: tuple[Drawn, ...]
    sizes: tuple[OfSize, ...]

    @property
    def lots(self) -> tuple[tuple[str, int], ...]:
        """How many labels each lot gets."""
        counts = Counter[str]()
        for one in self.sizes:
            counts.update(dict(one.lots))
        return tuple(counts.items())

    @cached_property
    def set(self) -> LabelSet:
        """What the labels of a jar leave unsaid; of several sizes, the one that leaves most."""
        return max((one.set for one in self.sizes if one.set), key=lambda one: (len(one.stops), len(one.missing)))

    @property
    def unborne(self) -> tuple[Finding, ...]:
        """What the labels say that the honey in the jars does not bear."""
        return tuple(dict.fromkeys(finding for one in self.sizes for finding in one.unborne))

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules find on the labels of this print, the gravest first; what holds of every size once."""
        first, *others = (one.case.checked.findings for one in self.sizes)
        seen = {(each.rule, each.market, each.field) for each in first}
        more = (each for found in others for each in found if (each.rule, each.market, each.field) not in seen)
        return gravest_first((*self.unborne, *first, *more))

    @property
    def stops(self) -> tuple[str, ...]:
        """What must be fixed before these labels are printed, in words."""
        low = (row for one in self.drawn for row in one.printed.rows if not row.ok)
        return (
            *self.set.stops,
            *(f"{row.item}: {row.placed:.2f} mm of {row.required:.2f} mm ({row.clause})." for row in low),
            *(f"{one.says} {one.do}" for one in self.findings if one.level == "stop"),
        )

    @property
    def stopped(self) -> bool:
        """Whether something must be fixed before these labels are printed, and nobody said why they are all the same."""
        return bool(self.untrue) or (bool(self.stops) and not self.asked.because.strip())

    @property
    def untrue(self) -> tuple[str, ...]:
        """What the record denies of these jars; no reason makes it true."""
        return tuple(f"{one.says} {one.do}" for one in self.unborne if one.level == "stop")


def draw_labels(state: Reading | None, asked: LabelPrint, day: date, locale: str) -> DrawnLabels:
    """Draw the labels and judge them; nothing is booked and nothing written.

    Raises what the label is refused for, :class:`~labelkit.errors.labels.LabelTooSmall` with the millimetres that are
    wanting, :class:`~labelkit.errors.run.JarSizeUnknown` and :class:`~labelkit.errors.labels.LotsUnclear`.
    """
    sizes = tuple(_of_size(state, asked, size, day, locale) for size in _sizes(state, asked))
    total = sum(count for one in sizes for _, count in one.lots)
    if total > MOST:
        raise LotsUnclear(
            f"{len(sizes[0].lots)} lots", f"{total:,} labels are asked for, and {MOST:,} is the most in one file"
        )
    with _knowing_the_jar(sizes[0].label):
        drawn = tuple(_draw(sizes, asked, paper) for paper in asked.papers)
    return DrawnLabels(asked, drawn, tuple(_judged(one, drawn, number, asked.look) for number, one in enumerate(sizes)))


def _sizes(state: Reading | None, asked: LabelPrint) -> tuple[str, ...]:
    """The size of the print; of what is sold by weight each weight there is of the lots, the lightest first."""
    if not asked.size or state is None:
        return (asked.size or "",)
    season = settings_of(state)
    if not season.size(asked.size).by_weight:
        return (asked.size,)
    lots = lots_with(state, asked.size) if asked.lots is None else [lot for lot, _ in asked.lots] or [asked.label.lot]
    runs = (each.event for each in state.events_about([lot_named(state, lot) for lot in lots], ("run",)) if each.stands)
    cut = {jar.size: jar.declares.grams for run in runs for jar in run.jars if season.is_of(jar.size, asked.size)}
    if not cut:
        raise JarSizeUnknown(asked.size, f"none of lot {', '.join(filter(None, lots)) or 'that was named'}")
    return tuple(sorted(cut, key=lambda size: (cut[size], size)))


def _of_size(state: Reading | None, asked: LabelPrint, size: str, day: date, locale: str) -> OfSize:
    """The label of the jars of one size as they were filled, read by the rules of its markets."""
    label, lots, bottled = asked.label, asked.lots, None
    priced = settings_of(state).prices.get(size) if state is not None else None
    filled: tuple[tuple[str, int], ...] = ()
    if size and state is not None:
        if asked.bucket:
            return _before_filling(state, asked, size, day, locale)
        if size != asked.size:
            own = lots if lots is not None else [(lot, 0) for lot in lots_with(state, size)]
            lots = tuple((lot, count) for lot, count in own if lot_named(state, lot) in lots_with(state, size))
        label, filled, bottled = jars_of(state, label, size, lots, day)
        typed = [count for _, count in lots or ()] or [0] * len(filled)
        lots = tuple((lot, asked.count or said or count) for (lot, count), said in zip(filled, typed, strict=True))
    lots = lots or ((label.lot, 0),)
    found = heritages(state, [lot for lot, _ in lots if state.bottled(lot)]) if state is not None else ()
    label, case = _read(state, replace(label, lot=lots[0][0]), found, day, locale)
    is_piece = priced is not None and priced.piece_of
    price = piece_price(settings_of(state), size, day, case.langs[0]) if is_piece and state is not None else ""
    return OfSize(size, label, lots, case, filled, bottled, found, price)


def _before_filling(state: Reading, asked: LabelPrint, size: str, day: date, locale: str) -> OfSize:
    """The labels of jars that will be filled from a bucket on this day: as many as the kept plan has, under its next code."""
    bucket = state.fill(asked.bucket)
    planned = still_planned(state, bucket, day).get(size, 0)
    if not (asked.count or planned):
        raise NoPlannedJars(bucket, size)
    lot = next_code(state, bucket, day, state.lot_codes_taken())
    found = heritages(state, [bucket])
    label = replace(asked.label, lot=lot, declares=settings_of(state).size(size).weight)
    label, case = _read(state, label, found, day, locale)
    return OfSize(size, label, ((lot, asked.count or planned),), case, ((lot, planned),) if planned else (), day, found)


def _read(
    state: Reading | None, label: Label, found: Sequence[Heritage], day: date, locale: str
) -> tuple[Label, LabelCase]:
    """The label with what the record knows of its honey, and its case by the rules of its markets."""
    label = of_its_honey(label, found, day)
    if state is not None:
        label = as_warmed(state, label, [made.lot for made in found])
    return label, label_case(label, [market(name, day) for name in label.markets], locale)


def _judged(one: OfSize, drawn: Sequence[Drawn], number: int, look: LabelLook) -> OfSize:
    """A size with what its labels say and leave unsaid together, and the rules' case of what stands on the paper."""
    made = [each.composed[number][0] for each in drawn]
    placed = [each.printed.placed[each.composed[number][1]] for each in drawn]
    jar = made[0].content
    if jar.nutrition is not None:
        jar = words_of(one, look, "front").content
    whole = set_of(jar, placed, one.case.warnings, one.label.panel)
    printed = next((each for each in made if each.content.nutrition is not None), made[0])
    return replace(one, case=printed.case.unsaid(whole.unsaid), set=whole)


def picture_of(drawn: DrawnLabels, dpi: int) -> bytes:
    """The first label of the file that will print, cut out of its page on the design's paper, as PNG."""
    one = drawn.drawn[0]
    sheet = one.paper.sheet
    _, place = next(free_places(sheet, one.paper.start_at, one.paper.skip))
    box = sheet.place(place)
    around = (box.left, box.bottom, sheet.page_wide - box.right, sheet.page_high - box.top)
    return preview_png(one.printed.pdf, dpi=dpi, paper=drawn.asked.look.design.paper, crop=around)


def book_labels(work: Work, drawn: DrawnLabels, day: date) -> int:
    """Book that these labels were printed, lot by lot, as one step; the number of the first event.

    Raises :class:`~labelkit.errors.labels.LotKeepsWords` where the lots bear other words and nobody said why they change,
    :class:`~labelkit.errors.labels.LabelStopped` where something must be fixed before they are printed,
    :class:`~labelkit.errors.labels.WordsUntrue` where the record denies what they say, and what stands against the jars (:mod:`labelkit.season.unmet`).
    """
    if drawn.asked.proof:
        raise ProofNotBooked()
    if drawn.untrue:
        raise WordsUntrue(drawn.untrue)
    if drawn.asked.words and drawn.asked.words.changed:
        unless_said(drawn.asked.because, LotKeepsWords([lot for lot, _ in drawn.lots], drawn.asked.words.changed))
    if drawn.stops:
        unless_said(drawn.asked.because, LabelStopped(drawn.stops))
    refuse_for_no_jar(drawn)
    if drawn.asked.size and not work.booked_before:
        jars = {(lot, one.size): count for one in drawn.sizes for lot, count in one.lots}
        if drawn.asked.bucket:
            bucket = work.bucket(work.fill(drawn.asked.bucket))
            refuse(against_buckets(work, [bucket], day), drawn.asked.because)
        refuse(against_jars(work, jars, day, printing=True), drawn.asked.because)
    events = [
        event
        for each in drawn.drawn
        for n, one in enumerate(drawn.sizes)
        for event in _events(each, n, one, drawn, day)
    ]
    booked = work.add_all(events)
    return (work.booked_before or booked)[0].seq


def refuse_for_no_jar(drawn: DrawnLabels) -> None:
    """Ask about labels far beyond the jars of a lot; a sheet more, or a tenth, asks nothing. Our own eye, no source.

    Raises :class:`~labelkit.errors.labels.LabelsForNoJar`.
    """
    for one in drawn.sizes:
        filled = dict(one.filled)
        for lot, count in one.lots:
            if lot in filled and count > max(filled[lot] + A_SHEET, filled[lot] * 11 // 10):
                unless_said(
                    drawn.asked.because,
                    LabelsForNoJar(lot, Figure(show_number, count), Figure(show_number, filled[lot])),
                )


def words_of(one: OfSize, look: LabelLook, kind: str) -> Composed:
    """All that one label of a jar says, its codes included, before it is placed."""
    link = look.link_of(one.case.label.lot) if look.link_of else None
    made = compose(one.case, bottled=one.bottled, kind=kind, link=link, number=look.number)
    content = replace(made.content, link_in=look.link_in, lot_bars=look.lot_bars, logo=look.logo)
    content = replace(content, artwork=look.artwork.get(kind))
    if one.price:
        # As large as the law wants other words: a price that found no room would be sold by guess.
        content = replace(content, words=(*content.words, Words("wording", one.price, made.asked.text, must=True)))
    return replace(made, content=replace(content, diameter=look.diameter) if look.diameter else content)


def _high(sheet: Sheet) -> int:
    return sheet.high


def _draw(sizes: Sequence[OfSize], asked: LabelPrint, paper: LabelPaper) -> Drawn:
    look, made = asked.look, [words_of(one, asked.look, paper.kind) for one in sizes]
    longest = max((cut_to_length(one.content, paper.sheet, look.design, look.printer.dpi) for one in made), key=_high)
    paper = replace(paper, sheet=longest)
    if asked.art is not None:
        # Of what is sold by weight, the artwork of one piece.
        codes = [lot for lot, _ in sizes[0].lots]
        drawn = draw_artwork(
            made[0].content,
            codes,
            paper.sheet,
            look.design,
            asked.art,
            link_of=look.link_of,
            printer=look.printer,
            proof=asked.proof,
        )
        return Drawn(tuple((each, 0) for each in made), drawn, paper)
    if len(sizes) > 1 or sizes[0].price:
        each = [
            (words.content.for_lot(lot, look.link_of), count)
            for one, words in zip(sizes, made, strict=True)
            for lot, count in one.lots
        ]
        printed = print_sheet(
            each,
            paper.sheet,
            look.design,
            start_at=paper.start_at,
            skip=paper.skip,
            printer=look.printer,
            cut_lines=look.cut_lines,
            proof=asked.proof,
        )
        first = accumulate((len(one.lots) for one in sizes[:-1]), initial=0)
        return Drawn(tuple(zip(made, first, strict=True)), printed, paper)
    counted = [(lot, count or asked.count or paper.free) for lot, count in sizes[0].lots]
    with progress("Labels", sum(count for _, count in counted)) as on_progress:
        printed = print_labels(
            made[0].content,
            counted,
            paper.sheet,
            look.design,
            link_of=look.link_of,
            start_at=paper.start_at,
            skip=paper.skip,
            printer=look.printer,
            cut_lines=look.cut_lines,
            proof=asked.proof,
            on_progress=on_progress,
        )
    return Drawn(((made[0], 0),), printed, paper)


@contextmanager
def _knowing_the_jar(label: Label) -> Iterator[None]:
    """Where letters do not fit and the jar's size is not known, say that knowing it may make them smaller."""
    try:
        yield
    except LabelTooSmall as told:
        if not label.panel:
            told.do += (
                " Or say how large the jar is (diameter and height under [panel], or label-words --jar): until then the "
                "largest letters that may be due are taken."
            )
        raise


def jars_of(
    state: Reading,
    label: Label,
    size: str,
    lots: Sequence[tuple[str, int]] | None,
    day: date | None = None,
) -> tuple[Label, tuple[tuple[str, int], ...], date]:
    """The label of the jars of a size as they were filled, each lot with its jars, and the first day of bottling.

    ``lots`` are those asked for (none: the label's own), ``None`` every one. Raises
    :class:`~labelkit.errors.run.JarSizeUnknown` for a lot without such jars, and
    :class:`~labelkit.errors.labels.LotsUnclear` where the jars of two lots declare different weights.
    """
    if lots is None:
        codes, made = None, [booked.event for booked in state.events(("run", "relabel")) if booked.stands]
    else:
        named = lots or ((label.lot, 0),)
        near = () if all(is_lot_code(lot) for lot, _ in named) else state.lot_codes_taken()
        codes = [read_lot_code(lot, near=near).code for lot, _ in named]
        about = state.events_about(codes, ("run", "relabel"))
        made = [booked.event for booked in about if booked.stands]
    runs = [event for event in made if event.kind == "run"]
    filled = {run.lot: (jar, run.day) for run in runs for jar in run.jars if jar.size == size and jar.count}
    filled |= dict(_relabelled(state, (event for event in made if event.kind == "relabel"), size))
    wanted = list(filled) if codes is None else codes
    if not wanted:
        raise JarSizeUnknown(size, ", ".join(sorted({jar.size for run in runs for jar in run.jars})) or "none yet")
    for lot in wanted:
        if lot not in filled:
            held = [jar.size for run in runs if run.lot == lot for jar in run.jars]
            raise JarSizeUnknown(size, ", ".join(held) or f"none, since lot {lot} is not in the record")
    weights = {filled[lot][0].declares: lot for lot in wanted}
    if len(weights) > 1:
        shown = ", ".join(f"{lot} declares {declares.text}" for declares, lot in weights.items())
        raise LotsUnclear(f"The jars called {size}", f"{shown}; one label cannot say both, so print them apart")
    declares = next(iter(weights))
    own = label.net_statement if label.declares == declares else None
    label = replace(label, declares=declares, net_statement=own)
    if label.best_before and len(wanted) > 1 and day:
        main = market(label.markets[0], day)
        for lot in wanted:
            date_mark.of(label.best_before, main, filled[lot][1])
    counted = tuple((lot, filled[lot][0].count) for lot in wanted)
    return label, counted, min(filled[lot][1] for lot in wanted)


def lots_with(state: Reading, size: str) -> list[str]:
    """Every lot with jars of a size, filled or relabelled, or with pieces of it, in the order they were made."""
    made = [booked.event for booked in state.events(("run", "relabel")) if booked.stands]
    season = settings_of(state)
    runs = (run for run in made if run.kind == "run")
    lots = [run.lot for run in runs if any(season.is_of(jar.size, size) and jar.count for jar in run.jars)]
    return [*lots, *(lot for lot, _ in _relabelled(state, (each for each in made if each.kind == "relabel"), size))]


def _relabelled(state: Reading, events: Iterable[Any], size: str) -> Iterator[tuple[str, tuple[Filled, date]]]:
    """Jars that bear another lot code, or the label of another size, since they were filled."""
    for event in events:
        lines = [line for line in event.lines if (event.size or line.size) == size]
        if lines:
            declares = settings_of(state).size(size).weight
            count = sum(line.count for line in lines)
            yield event.into, (Filled(size, declares, count, lines[0].fill), event.day)


def _events(each: Drawn, number: int, one: OfSize, drawn: DrawnLabels, day: date) -> Iterator[Printed]:
    """The prints of one kind and size as the record keeps them, with the words that stand on the paper and no others."""
    made, place = each.composed[number]
    said = list(_standing(made, each.printed.placed[place]))
    words = tuple(Words(role, form[0], also=form[1:]) for role, form in said)
    texts = tuple(text for _, form in said for text in form)
    content, model = made.content, each.printed.placed[place].content.lot
    version = wording_version(replace(content, words=words))
    for lot, count in one.lots:
        yield Printed(
            day,
            lot,
            one.size,
            content.kind,
            drawn.asked.look.design.name,
            each.paper.sheet.name,
            version,
            tuple(text.replace(model, lot) for text in texts) if model else texts,
            count,
            drawn.asked.spoiled,
            drawn.stops,
            drawn.asked.because.strip(),
            one.label.best_before.last if one.label.best_before else None,
            drawn.asked.words.product if drawn.asked.words else "",
            drawn.asked.words.words_of if drawn.asked.words else 0,
        )


def _standing(made: Composed, model: Placed) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The roles that stand on a label, each in the form that was taken."""
    content: LabelContent = made.content
    panel = content.of("nutrition")
    if content.nutrition is not None and panel is not None:
        standing = {panel.text}
    else:
        standing = set(said_on(model))
        content = content.for_lot(model.content.lot) if model.content.lot and content.lot else content
    for words in content.words:
        form = tuple(text for text in (*words.all, *words.instead) if text in standing)
        if form:
            yield words.role, form
