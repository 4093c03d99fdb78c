"""What the record never lets happen, looked at before a step is committed.

A bucket gives no more than it holds, no jar leaves twice, a lot on hold stays where it is, and no name is used a second
time. Balances are checked once the whole step is booked, so that a correction and what replaces it count together.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import date
from typing import Any

from labelkit.errors.lots import BucketTooEmpty, BucketTwice, BucketUnknown, SeedFromItself
from labelkit.errors.record import (
    DayBeforeItsHoney,
    DayLaterThanClock,
    EventUnkeepable,
    JarsTooFew,
    LotHeld,
    LotTwice,
    LotUnknown,
    MassNotConserved,
)
from labelkit.errors.sentence import Figure
from labelkit.lots.bucket import Blend, BucketStep, Drain, WeighIn
from labelkit.lots.bucket_life import DISCARDED, TakenOut, Treated
from labelkit.lots.movement import SOURCES, Account
from labelkit.lots.received import Receive
from labelkit.measures import Mass, show_both, total
from labelkit.record.engine import sa
from labelkit.record.kinds import KINDS
from labelkit.record.reading import AT_HAND, Reading, portions
from labelkit.record.tables import event, movement, strike
from labelkit.trace.booked import Correct
from labelkit.trace.relabel import Relabel

_WORDS = {Account.JARS: "in stock", Account.STALL: "at the stall", Account.HELD: "on hold", Account.SOLD: "sold"}
_LARGEST = 2**63
_ONLY_TAKE = (Account.LOST, Account.WATER, Account.FED)  # nothing ever comes back from there
_AT_A_BUCKET = tuple(kind for kind, cls in KINDS.items() if issubclass(cls, Drain | BucketStep))
# The kinds of event that bring a bucket or a lot into being.
_MAKERS = (WeighIn.kind, Receive.kind, Blend.kind, "run", Relabel.kind)


def check_alone(happened: Any) -> None:
    """What can be said about one event without the record: it closes, and its figures fit into the tables."""
    moves = happened.movements()
    rest = total(m.mass for m in moves)
    if rest:
        raise MassNotConserved(happened.kind, moves[0].lot, Figure(show_both, Mass(abs(rest.mg))))
    if any(m.mass.mg < 0 and m.account in _ONLY_TAKE for m in moves):
        raise EventUnkeepable(happened.kind, "more would be in the bucket after it than before")
    if any(abs(m.mass.mg) >= _LARGEST or abs(m.count) >= _LARGEST for m in moves):
        raise EventUnkeepable(happened.kind, "a figure is larger than any honey house")
    if any("\x00" in m.lot + m.size for m in moves):
        raise EventUnkeepable(happened.kind, "a name holds a character that cannot be printed")


def check_days(record: Reading, happened: Sequence[Any], today: date) -> None:
    """Nothing happens later than today, to honey before it was weighed in, or to a jar before it was filled.

    Raises :class:`~labelkit.errors.record.DayLaterThanClock` and :class:`~labelkit.errors.record.DayBeforeItsHoney`.
    """
    made = {name: day.isoformat() for name, day in days_made(happened).items()}
    needs = [(each, m.lot) for each in happened for m in _needs(each)]
    first = _first_days(record, {lot for _, lot in needs}) | made
    for each in happened:
        # A price or a setting may begin on a later day; honey and jars move on days that have been.
        if each.day > today and each.movements():
            raise DayLaterThanClock(each.title, each.day.isoformat(), today.isoformat())
    for each, lot in needs:
        if lot in first and each.day.isoformat() < first[lot]:
            raise DayBeforeItsHoney(each.title, each.day.isoformat(), lot, first[lot])


def days_made(happened: Iterable[Any]) -> dict[str, date]:
    """On which day these events make which buckets and lots."""
    return {name: each.day for each in happened if (name := _made(each))}


def _made(each: Any) -> str | None:
    return _bucket_made(each) or _lot_made(each) or (each.into if isinstance(each, Relabel) else None)


def check_later(record: Reading, made: dict[str, date]) -> None:
    """What was booked on these before does not come before they were made: a correction may have moved their day.

    Raises :class:`~labelkit.errors.record.DayBeforeItsHoney`.
    """
    if not made:
        return
    taken = (
        sa.select(movement.c.lot, event.c.kind, sa.func.min(event.c.day))
        .join(event, event.c.seq == movement.c.event)
        .where(
            movement.c.account.not_in(SOURCES),
            sa.or_(movement.c.mass_mg < 0, event.c.kind.in_(_AT_A_BUCKET)),
            event.c.kind != Correct.kind,
            ~sa.exists().where(strike.c.event == movement.c.event),
        )
        .group_by(movement.c.lot, event.c.kind)
    )
    for some in portions(made):
        for lot, kind, day in record.connection.execute(taken.where(movement.c.lot.in_(some))):
            if day < made[lot].isoformat():
                raise DayBeforeItsHoney(KINDS[kind].title, day, lot, made[lot].isoformat())


def check_names(record: Reading, happened: Sequence[Any]) -> None:
    """No bucket and no lot code twice, in the record or in this batch; honey comes only out of what is there."""
    made: dict[str, Any] = {}
    for each in happened:
        name = _bucket_made(each) or _lot_made(each)
        if name is not None and name in made:
            raise _twice(each, name, made[name].day.isoformat())
        if name is not None:
            made[name] = each
    standing = _first_days(record, made)
    for name, each in made.items():
        if name in standing:
            raise _twice(each, name, standing[name])
    _check_seeds(record, happened)
    relabelled = {each.into: each for each in happened if isinstance(each, Relabel)}
    _check_relabelled(record, relabelled)
    wanted = {m.lot: m for each in happened for m in _needs(each) if m.lot not in made and m.lot not in relabelled}
    for name in sorted(set(wanted) - set(_first_days(record, wanted))):
        of_bucket = any(m.account == Account.BUCKET and m.lot == name for each in happened for m in each.movements())
        raise BucketUnknown(name, "") if of_bucket else LotUnknown(f"lot {name}", "")


def _check_seeds(record: Reading, happened: Sequence[Any]) -> None:
    """A bucket is never its own parent, so that every walk back ends at the hives."""
    for each in happened:
        seed = each.seed if isinstance(each, Treated) else None
        if seed is not None and (seed.bucket == each.bucket or seed.bucket in record.descent(each.bucket)):
            raise SeedFromItself(each.bucket, seed.bucket)


def _check_relabelled(record: Reading, relabelled: dict[str, Relabel]) -> None:
    for into, each in relabelled.items():
        olds = {line.lot for line in each.lines}
        if len(olds) != 1:
            raise EventUnkeepable(each.kind, "it names jars of more than one lot")
        if into in record.names("bucket"):
            raise EventUnkeepable(each.kind, f"{into} is a bucket and no lot code")
        if into in olds | record.ancestry(*olds):
            raise EventUnkeepable(
                each.kind, f"lot {olds.pop()} itself came from {into}; correct the earlier step instead"
            )


def _needs(each: Any):
    """The movements whose lot must be there already: honey added to a bucket or treated in it, all that leaves a lot."""
    moves = each.movements()
    return (
        moves
        if isinstance(each, Drain | BucketStep)
        else [m for m in moves if m.mass.mg < 0 and m.account not in SOURCES]
    )


def _bucket_made(each: Any) -> str | None:
    return each.bucket if isinstance(each, WeighIn | Receive) else each.into if isinstance(each, Blend) else None


def _lot_made(each: Any) -> str | None:
    return each.lot if each.kind == "run" else None


def _twice(each: Any, name: str, day: str) -> Exception:
    return LotTwice(name, day) if each.kind == "run" else BucketTwice(name, f" ({day})")


def _first_days(record: Reading, names: Collection[str]) -> dict[str, str]:
    """On which day each of these buckets and lots was made, where it stands in the record."""
    wanted = (
        sa.select(movement.c.lot, sa.func.min(event.c.day))
        .join(event, event.c.seq == movement.c.event)
        .where(
            movement.c.mass_mg > 0,
            event.c.kind.in_(_MAKERS),
            ~sa.exists().where(strike.c.event == movement.c.event),
        )
        .group_by(movement.c.lot)
    )
    found: dict[str, str] = {}
    for some in portions(names):
        found.update(record.connection.execute(wanted.where(movement.c.lot.in_(some))).all())
    return found


def check_holds(held: dict[str, tuple[str, str]], happened: Any) -> None:
    """A lot on hold is not sold, given or loaded, and a bucket on hold not bottled or blended.

    ``held`` tells since when and why.
    """
    if happened.ignores_holds:
        return
    # What is on hold may be dried and skimmed, and thrown away; it may not go on to anybody.
    stays = happened.bucket if isinstance(happened, BucketStep) and _stays(happened) else None
    for m in happened.movements():
        if m.lot in held and m.lot != stays and m.mass.mg < 0 and m.account in (Account.BUCKET, *AT_HAND):
            raise LotHeld(m.lot, *held[m.lot])


def _stays(step: BucketStep) -> bool:
    return not isinstance(step, TakenOut) or step.how == DISCARDED


def check_balances(record: Reading, lots: set[str]) -> None:
    """Nothing below nothing, anywhere honey or jars can be taken from."""
    for some in portions(lots):
        rows = record.connection.execute(
            sa.select(
                movement.c.account,
                movement.c.lot,
                movement.c.size,
                sa.func.sum(movement.c.mass_mg),
                sa.func.sum(movement.c.count),
            )
            .where(movement.c.lot.in_(some), movement.c.account.in_((Account.BUCKET, Account.SOLD, *AT_HAND)))
            .group_by(movement.c.account, movement.c.lot, movement.c.size)
            .order_by(movement.c.account, movement.c.lot, movement.c.size)
        ).all()
        on_hold = {(row.lot, row.size): int(row[4]) for row in rows if row.account == Account.HELD}
        for account, lot, size, mg, count in rows:
            if account == Account.BUCKET and mg < 0:
                _refuse_bucket(record, lot, int(mg))
            if account != Account.BUCKET and count < 0:
                held = on_hold.get((lot, size), 0) if account == Account.JARS else 0
                raise JarsTooFew(lot, size, -int(count), _WORDS[Account(account)], held)
            if account != Account.BUCKET and (mg < 0 or (size and count == 0 and mg != 0)):
                raise MassNotConserved("filling weight of jars", lot, Figure(show_both, Mass(abs(int(mg)))))


def _refuse_bucket(record: Reading, lot: str, mg: int) -> None:
    out = record.connection.execute(
        sa.select(-sa.func.min(movement.c.mass_mg)).where(
            movement.c.lot == lot,
            movement.c.account == Account.BUCKET,
            movement.c.event == sa.select(sa.func.max(movement.c.event)).where(movement.c.lot == lot).scalar_subquery(),
        )
    ).scalar()
    wanted = Mass(max(int(out or 0), -mg))
    raise BucketTooEmpty(
        lot,
        Figure(show_both, wanted),
        Figure(show_both, wanted + Mass(mg)),
        Figure(show_both, Mass(-mg)),
    )
