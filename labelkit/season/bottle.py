"""Bottle: what was really filled from one bucket, or cut into pieces, under one lot code."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors import unless_said
from labelkit.errors.run import FewerBrokenThanNoted, PieceFarFromOthers, SoldByWeight
from labelkit.errors.sale import NoPriceInThisJar, NotFilled, SizeRetired
from labelkit.lots.code import lot_code
from labelkit.measures import NOTHING, Mass, show_both, show_metric
from labelkit.run import Filled, Run
from labelkit.run import bottle as close_run
from labelkit.run.check_weighing.plausible import likely
from labelkit.season.batch import waiting_breakages
from labelkit.season.chunk import Chunk, poured_over_comb
from labelkit.season.fills import in_current_fill
from labelkit.season.once import booked_once
from labelkit.season.product_sizes import named_after_honey, renamed
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.unmet import against_buckets, refuse
from labelkit.trace.alarms import limits_of

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.measures import Declared
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.sale import PriceSet
    from labelkit.sale.product import Product

#: So many times the middle piece of a list is asked about: labelkit's own line, no source.
FAR = 4


@dataclass(frozen=True, slots=True)
class Bottling:
    """What somebody says of a run: jars by size, and what became of the rest of the bucket.

    ``pieces`` are the weights of a size that is sold by weight, each with a label of its own; ``broken_pieces`` those that
    fell. ``comb`` is the comb of other buckets that stands in the jars, with ``bucket``'s honey over it. ``fills`` is what
    a jar of a size held on average, where some were weighed; ``left`` what was weighed back;
    ``because`` why it is right, where the balance is asked about. ``product`` is what the jars are sold as; unless it is
    said, what the bucket's honey is named after, where that has a price of its own in these jars.
    """

    bucket: str
    jars: Mapping[str, int]
    broken: Mapping[str, int] = field(default_factory=dict)
    samples: Mapping[str, int] = field(default_factory=dict)
    fills: Mapping[str, Mass] = field(default_factory=dict)
    left: Mass | None = None
    lost: Mass = NOTHING
    because: str = ""
    pieces: Mapping[str, Sequence[Declared]] = field(default_factory=dict)
    product: str | None = None
    broken_pieces: Mapping[str, Sequence[Declared]] = field(default_factory=dict)
    comb: Mapping[str, Mass] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Bottled:
    """The run as it was booked, and the number of its event."""

    run: Run
    event: int
    pieces: tuple[PriceSet, ...] = ()  # each weight and its price, the lightest first

    @property
    def lot(self) -> str:
        """The lot code for every jar of the run."""
        return self.run.lot


def bottle(work: Work, asked: Bottling, day: date, locale: str) -> Bottled:
    """Record one run; a step repeated under its key gives the run of the first time.

    ``locale`` is how a refusal writes its figures. Raises what closing a run refuses
    (:class:`~labelkit.errors.run.RunTakesTooMuch`, :class:`~labelkit.errors.run.NothingFilled`),
    :class:`~labelkit.errors.run.JarSizeUnknown`, :class:`~labelkit.errors.filling.WeightFarFromLabel`,
    :class:`~labelkit.errors.sale.NotFilled`, :class:`~labelkit.errors.sale.SizeRetired`,
    :class:`~labelkit.errors.run.SoldByWeight`, :class:`~labelkit.errors.run.PieceFarFromOthers`,
    :class:`~labelkit.errors.sale.NoPriceInThisJar`, :class:`~labelkit.errors.sale.SizeNamedTwice` and what stands against
    the bucket (:mod:`labelkit.season.unmet`).
    """
    season = settings_of(work)
    asked = _as_product(work, season, in_current_fill(work, asked))
    cut = _cut(season, asked.pieces, asked.because, day, locale)
    fell = _cut(season, asked.broken_pieces, asked.because, day, locale)
    pieces = tuple(sorted(cut, key=lambda piece: piece.weight.grams))
    wanted = dict(asked.jars) | {piece.size: count for piece, count in cut.items()}
    before = booked_once(work, "run", lambda run: _is_of(work, run, asked) and _counted(run) == wanted)
    if before:
        return Bottled(before.event, before.seq, pieces)
    work.add_all(piece for piece in dict.fromkeys((*pieces, *fell)) if season.prices.get(piece.size) != piece)
    run = _run(work, season, asked, (cut, fell), day, locale)
    return Bottled(run, work.add(run).seq, pieces)


def _is_of(work: Work, run: Run, asked: Bottling) -> bool:
    return work.call(run.bucket) == _chunk(asked).called(work) if asked.comb else run.bucket == asked.bucket


def _chunk(asked: Bottling) -> Chunk:
    return Chunk(asked.bucket, asked.comb, asked.left, asked.lost, asked.because)


def _cut(
    season: SeasonSettings, pieces: Mapping[str, Sequence[Declared]], because: str, day: date, locale: str
) -> dict[PriceSet, int]:
    """Each weight of piece as a size of its own, and how many there are of it."""
    cut: Counter[PriceSet] = Counter()
    for size, weights in pieces.items():
        whole = season.size(size)
        if not whole.by_weight:
            raise SoldByWeight(size, by_weight=False)
        middle = sorted(each.mass for each in weights)[len(weights) // 2]
        for weight in weights:
            if not middle <= weight.mass * FAR or not weight.mass <= middle * FAR:
                figures = (weight.show(locale), show_both(middle, locale))
                unless_said(because, PieceFarFromOthers(size, *figures))
            piece = whole.piece(weight, day)
            known = season.prices.get(piece.size)
            cut[known if known and replace(known, day=day) == piece else piece] += 1
    return cut


def _as_product(work: Work, season: SeasonSettings, asked: Bottling) -> Bottling:
    """The run with each size as that of its product: the one that was said, else the one named after the bucket's honey.

    Where a size of that product is named beside another, both are meant as they are named. Raises
    :class:`~labelkit.errors.sale.ProductUnknown`, :class:`~labelkit.errors.run.JarSizeUnknown`,
    :class:`~labelkit.errors.sale.NoPriceInThisJar` and :class:`~labelkit.errors.sale.SizeNamedTwice`.
    """
    tables = (asked.jars, asked.broken, asked.samples, asked.fills, asked.pieces, asked.broken_pieces)
    product = named_after_honey(season, work.bucket(asked.bucket))
    if asked.product is not None:
        product = season.product(asked.product)
    elif product is None or any(season.size(size).product == product.name for table in tables for size in table):
        return asked
    names = {size: _own(season, size, product, asked) for table in tables for size in table}
    return replace(
        asked,
        jars=renamed(asked.jars, names),
        broken=renamed(asked.broken, names),
        samples=renamed(asked.samples, names),
        fills=renamed(asked.fills, names),
        pieces=renamed(asked.pieces, names),
        broken_pieces=renamed(asked.broken_pieces, names),
    )


def _own(season: SeasonSettings, size: str, product: Product, asked: Bottling) -> str:
    own = season.own_size(size, product.name)
    if own is None and asked.product is not None:
        raise NoPriceInThisJar(size, product.called, season.sold_in(size).called)
    return own or size


def _counted(run: Run) -> dict[str, int]:
    return {filled.size: filled.count for filled in run.jars}


def _run(
    work: Work,
    season: SeasonSettings,
    asked: Bottling,
    pieces: tuple[Mapping[PriceSet, int], Mapping[PriceSet, int]],
    day: date,
    locale: str,
) -> Run:
    """The run with its good pieces and those that fell, closed against what the record says the bucket holds."""
    for size in (*asked.jars, *asked.broken, *asked.samples):
        if season.size(size).by_weight or season.size(size).piece_of:
            raise SoldByWeight(season.size(size).piece_of or size, by_weight=True)
        if not season.sold_in(size).is_honey:
            raise NotFilled(size, season.sold_in(size).called)
        if size not in season.jars(day):
            unless_said(asked.because, SizeRetired(size))
    for size, mean in asked.fills.items():
        # A mean of 4.55 g for 455 would turn the whole bucket into unexplained honey.
        likely(mean, season.fill(size, day), f"the mean of {size}", show_metric(mean, locale), locale)
    jars = [*_filled(season, asked.jars, asked.fills, day), *_as_filled(pieces[0])]
    broken = [*_filled(season, _broken(work, asked), asked.fills, day), *_as_filled(pieces[1])]
    samples = _filled(season, asked.samples, asked.fills, day)
    if asked.comb:
        poured = poured_over_comb(work, _chunk(asked), (*jars, *broken, *samples), day, locale)
        asked = replace(asked, bucket=poured, left=None if asked.left is None else NOTHING)
    bucket = work.bucket(asked.bucket)
    refuse(against_buckets(work, [bucket], day), asked.because)
    return close_run(
        bucket,
        next_code(work, asked.bucket, day, work.lot_codes_taken()),
        day,
        jars,
        broken=broken,
        samples=samples,
        left=asked.left,
        lost=asked.lost,
        explained=explained(work, bucket),
        because=asked.because,
        locale=locale,
    )


def _as_filled(pieces: Mapping[PriceSet, int]) -> list[Filled]:
    return [Filled(piece.size, piece.weight, count, piece.weight.mass) for piece, count in pieces.items()]


def _broken(state: Reading, asked: Bottling) -> Mapping[str, int]:
    """The broken jars as they are said, and those of the batch sheet where nothing is said of their size."""
    noted = waiting_breakages(state, asked.bucket)
    for size, count in asked.broken.items():
        if count < noted[size]:
            unless_said(asked.because, FewerBrokenThanNoted(size, count, noted[size]))
    return {**noted, **asked.broken}


def explained(state: Reading, bucket: Bucket) -> Mass:
    """How much more than it held may come out of a bucket: two steps of its scale, and the share the producer lets pass."""
    limits = limits_of(state.settings())
    weighings = [getattr(each, "weighing", None) for each in bucket.history]
    steps = [2 * weighing.division for weighing in weighings if weighing and weighing.division]
    return max(steps, default=limits.noise) + bucket.holds.times(limits.unexplained / 100)


def next_code(state: Reading, bucket: str, day: date, taken: Collection[str]) -> str:
    """The code the next run gets: that of a struck run of this bucket and day, whose jars may bear it, or a free one."""
    runs = [each for each in state.events_about([bucket], ("run",)) if each.day == day and each.event.bucket == bucket]
    standing = {each.event.lot for each in runs if each.stands}
    struck = [each.event.lot for each in runs if each.event.lot not in standing]
    return struck[0] if struck else lot_code(day, bucket, taken).code


def _filled(season: SeasonSettings, counts: Mapping[str, int], fills: Mapping[str, Mass], day: date) -> list[Filled]:
    return [
        Filled(size, season.size(size).weight, count, fills.get(size) or season.fill(size, day))
        for size, count in counts.items()
        if count
    ]
