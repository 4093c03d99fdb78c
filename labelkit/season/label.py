"""Label: what the labels of some jars say, drawn on their sheets, judged as they print, and booked.

The labels of one lot and of many are made the same way. :func:`draw_labels` is the look: it books nothing and writes no
file. :func:`book_labels` books what was drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any

from labelkit.errors import unless_said
from labelkit.errors.labels import (
    LabelsForNoJar,
    LabelStopped,
    LabelTooSmall,
    LotKeepsWords,
    LotsUnclear,
    ProofNotBooked,
    WordsUntrue,
)
from labelkit.errors.run import JarSizeUnknown
from labelkit.labels.artwork import Artwork, draw_artwork
from labelkit.labels.case import LabelCase, label_case
from labelkit.labels.composed import Composed, compose
from labelkit.labels.content import LabelContent, Words
from labelkit.labels.label_set import LabelSet, said_on, set_of
from labelkit.labels.printed import Printed, wording_version
from labelkit.labels.printing import SheetPrint, print_labels
from labelkit.labels.sheets import Printer, Sheet
from labelkit.lots.code import is_lot_code, read_lot_code
from labelkit.rules import market
from labelkit.rules.figures import date_mark
from labelkit.rules.findings import Finding
from labelkit.rules.wording import gravest_first
from labelkit.run import Filled
from labelkit.season.borne import as_warmed, heritages, home_of, of_its_honey, unborne
from labelkit.season.lot_words import LotLabel
from labelkit.season.progress import progress
from labelkit.season.settings import settings_of
from labelkit.season.unmet import against_jars, refuse

if TYPE_CHECKING:
    from labelkit.labels.design import Design
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


@dataclass(frozen=True)
class LabelPrint:
    """What is to be printed: the label, its kinds, and for which jars.

    ``size`` names the jars in the record; ``lots`` the lots with a count of labels each (nought: as many as jars, or one
    sheet), ``None`` every lot of that size. A ``proof`` is marked as one on the paper and never booked. With ``art`` one
    label of each lot is drawn for a print shop, and as many are booked as are asked for. ``words`` says how these
    words stand to those the lots bear, where they are the record's.
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


@dataclass(frozen=True)
class Drawn:
    """One kind of label as it will print."""

    made: Composed
    printed: SheetPrint
    paper: LabelPaper


@dataclass(frozen=True)
class DrawnLabels:
    """Everything that was drawn, and what is found on it: the words that stand on these labels are what is judged."""

    asked: LabelPrint
    label: Label
    lots: tuple[tuple[str, int], ...]
    drawn: tuple[Drawn, ...]
    case: LabelCase
    set: LabelSet
    heritages: tuple[Heritage, ...] = ()  # what the lots are made of, where the record knows them
    jars: tuple[tuple[str, int], ...] = ()  # how many jars of the size were filled, lot by lot

    @cached_property
    def unborne(self) -> tuple[Finding, ...]:
        """What the labels say that the honey in the jars does not bear."""
        return unborne(self.case.cases, self.heritages, home_of(self.asked.label))

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules find on the labels of this print, the gravest first."""
        return gravest_first((*self.unborne, *self.case.checked.findings))

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
    label, lots, bottled = asked.label, asked.lots, None
    jars: tuple[tuple[str, int], ...] = ()
    if asked.size and state is not None:
        label, jars, bottled = jars_of(state, label, asked.size, lots, day)
        typed = [count for _, count in lots or ()] or [0] * len(jars)
        lots = tuple((lot, asked.count or said or filled) for (lot, filled), said in zip(jars, typed, strict=True))
    lots = lots or ((label.lot, 0),)
    found = heritages(state, [lot for lot, _ in lots if state.bottled(lot)]) if state is not None else ()
    label = of_its_honey(label, found, day)
    if state is not None:
        label = as_warmed(state, label, [made.lot for made in found])
    total = sum(count for _, count in lots)
    if total > MOST:
        raise LotsUnclear(f"{len(lots)} lots", f"{total:,} labels are asked for, and {MOST:,} is the most in one file")
    label = replace(label, lot=lots[0][0])
    case = label_case(label, [market(name, day) for name in label.markets], locale)
    with _knowing_the_jar(label):
        drawn = tuple(_draw(case, asked, paper, lots, bottled) for paper in asked.papers)
    jar = drawn[0].made.content
    if jar.nutrition is not None:
        jar = words_of(case, asked.look, "front", bottled).content
    whole = set_of(jar, [one.printed.placed[0] for one in drawn], case.warnings, label.panel)
    printed = next((one.made for one in drawn if one.made.content.nutrition is not None), drawn[0].made)
    return DrawnLabels(asked, label, lots, drawn, printed.case.unsaid(whole.unsaid), whole, found, jars)


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
        jars = {(lot, drawn.asked.size): count for lot, count in drawn.lots}
        refuse(against_jars(work, jars, day, printing=True), drawn.asked.because)
    events = [event for one in drawn.drawn for event in _events(one, drawn, day)]
    booked = work.add_all(events)
    return (work.booked_before or booked)[0].seq


def refuse_for_no_jar(drawn: DrawnLabels) -> None:
    """Ask about labels far beyond the jars of a lot; a sheet more, or a tenth, asks nothing. Our own eye, no source.

    Raises :class:`~labelkit.errors.labels.LabelsForNoJar`.
    """
    filled = dict(drawn.jars)
    for lot, count in drawn.lots:
        if lot in filled and count > max(filled[lot] + A_SHEET, filled[lot] * 11 // 10):
            unless_said(drawn.asked.because, LabelsForNoJar(lot, count, filled[lot]))


def words_of(case: LabelCase, look: LabelLook, kind: str, bottled: date | None = None) -> Composed:
    """All that one label of a jar says, its codes included, before it is placed."""
    link = look.link_of(case.label.lot) if look.link_of else None
    made = compose(case, bottled=bottled, kind=kind, link=link, number=look.number)
    content = replace(made.content, link_in=look.link_in, lot_bars=look.lot_bars, logo=look.logo)
    return replace(made, content=replace(content, diameter=look.diameter) if look.diameter else content)


def _draw(
    case: LabelCase, asked: LabelPrint, paper: LabelPaper, lots: Sequence[tuple[str, int]], bottled: date | None
) -> Drawn:
    look, made = asked.look, words_of(case, asked.look, paper.kind, bottled)
    if asked.art is not None:
        codes = [lot for lot, _ in lots]
        drawn = draw_artwork(
            made.content,
            codes,
            paper.sheet,
            look.design,
            asked.art,
            link_of=look.link_of,
            printer=look.printer,
            proof=asked.proof,
        )
        return Drawn(made, drawn, paper)
    counted = [(lot, count or asked.count or paper.free) for lot, count in lots]
    with progress("Labels", sum(count for _, count in counted)) as on_progress:
        printed = print_labels(
            made.content,
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
    return Drawn(made, printed, paper)


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
    """Every lot with jars of a size, filled or relabelled, in the order they were made."""
    made = [booked.event for booked in state.events(("run", "relabel")) if booked.stands]
    lots = [run.lot for run in made if run.kind == "run" and any(jar.size == size and jar.count for jar in run.jars)]
    return [*lots, *(lot for lot, _ in _relabelled(state, (each for each in made if each.kind == "relabel"), size))]


def _relabelled(state: Reading, events: Iterable[Any], size: str) -> Iterator[tuple[str, tuple[Filled, date]]]:
    """Jars that bear another lot code, or the label of another size, since they were filled."""
    for event in events:
        lines = [line for line in event.lines if (event.size or line.size) == size]
        if lines:
            declares = settings_of(state).size(size).weight
            count = sum(line.count for line in lines)
            yield event.into, (Filled(size, declares, count, lines[0].fill), event.day)


def _events(one: Drawn, drawn: DrawnLabels, day: date) -> Iterator[Printed]:
    """The prints of one kind as the record keeps them, with the words that stand on the paper and no others."""
    said = list(_standing(one))
    words = tuple(Words(role, form[0], also=form[1:]) for role, form in said)
    texts = tuple(text for _, form in said for text in form)
    content, model = one.made.content, one.printed.placed[0].content.lot
    version = wording_version(replace(content, words=words))
    for lot, count in drawn.lots:
        yield Printed(
            day,
            lot,
            drawn.asked.size or "",
            content.kind,
            drawn.asked.look.design.name,
            one.paper.sheet.name,
            version,
            tuple(text.replace(model, lot) for text in texts) if model else texts,
            count,
            drawn.asked.spoiled,
            drawn.stops,
            drawn.asked.because.strip(),
            drawn.label.best_before.last if drawn.label.best_before else None,
            drawn.asked.words.product if drawn.asked.words else "",
            drawn.asked.words.words_of if drawn.asked.words else 0,
        )


def _standing(one: Drawn) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The roles that stand on a label, each in the form that was taken."""
    content: LabelContent = one.made.content
    panel = content.of("nutrition")
    if content.nutrition is not None and panel is not None:
        standing = {panel.text}
    else:
        model = one.printed.placed[0]
        standing = set(said_on(model))
        content = content.for_lot(model.content.lot) if model.content.lot and content.lot else content
    for words in content.words:
        form = tuple(text for text in (*words.all, *words.instead) if text in standing)
        if form:
            yield words.role, form
