"""Doctor: whether labelkit has what it needs on this machine, and whether the record, its copies and the clock are right.

Each check is one line that can be read out over the telephone: what was found, and what to do where it is not good.
"""

from __future__ import annotations

import os
import platform
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from importlib.metadata import PackageNotFoundError, requires, version
from pathlib import Path
from typing import TYPE_CHECKING

from labelkit.errors import LabelkitError
from labelkit.errors.record import RecordMissing
from labelkit.measures.locales import show_day
from labelkit.record.clock import CLOCKS_AGREE_TO, FAR_AHEAD
from labelkit.season.label_paper import PRINTERS
from labelkit.season.papers import paper_size
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.season.context import Season, SeasonContext

GOOD, LOOK, BAD = "good", "look", "bad"
# A season's record takes some megabytes and its papers some tens: our own line, no source.
ROOM_NEEDED = 200_000_000
# A printed ruler is read to a tenth of a millimetre.
TRUE_TO = 100


@dataclass(frozen=True, slots=True)
class Check:
    """One thing looked at: good, to be looked at, or bad; what was found, and what to do about it."""

    name: str
    state: str
    found: str
    do: str = ""


@dataclass(frozen=True, slots=True)
class Examined:
    """All checks in the order they are read out."""

    machine: str
    checks: tuple[Check, ...]
    damaged: bool

    @property
    def worst(self) -> str:
        """The state of the worst of them."""
        states = {check.state for check in self.checks}
        return next(state for state in (BAD, LOOK, GOOD) if state in states)


def examine(context: SeasonContext) -> Examined:
    """Look at the machine, the parts of labelkit and the record; books nothing, and a record that is refused is a finding."""
    machine = (
        f"labelkit {version('labelkit')}, Python {platform.python_version()}, {platform.system()} {platform.machine()}"
    )
    checks = [parts(), optional(), fonts(), drawn_true()]
    damaged = False
    try:
        with context.season(to_read=True) as season:
            record, damaged = sound(season)
            checks += [record, disk(season.record.path)]
            with season.record.as_it_is() as state:
                checks += [] if damaged else of_record(state, context)
    except LabelkitError as refused:
        damaged = not isinstance(refused, RecordMissing)
        checks.append(Check("record", BAD if damaged else LOOK, refused.what, refused.do))
        checks.append(clock(context.now, None, None, context.locale))
    return Examined(machine, tuple(checks), damaged)


def of_record(state: Reading, context: SeasonContext) -> Iterator[Check]:
    """What a sound record can tell: its copies, the clock, the printers that were measured."""
    season = settings_of(state)
    yield copies(state, context)
    yield clock(context.now, state.head().at, _rules_read(season.markets, context), context.locale)
    yield printers(state, paper_size(season))


# --- what is installed ----------------------------------------------------------------------------------------


def parts() -> Check:
    """The packages labelkit cannot do without."""
    names = [name for name, extra in _needed() if not extra]
    missing = [name for name in names if not _version(name)]
    if missing:
        return Check("parts", BAD, f"missing: {', '.join(missing)}", "Install labelkit again in a fresh environment.")
    return Check("parts", GOOD, f"{len(names)} of {len(names)} installed")


def optional() -> Check:
    """What is only needed for some things: the driver of a shared record."""
    found = [f"{name} {_version(name)}" for name, extra in _needed() if extra == "postgres" and _version(name)]
    if found:
        return Check("optional", GOOD, f"a record on a PostgreSQL server can be used ({', '.join(found)})")
    return Check("optional", GOOD, "no PostgreSQL driver; only needed where stations share one record on a server")


def fonts() -> Check:
    """The typefaces of labels and papers: each is read, since a file may be there and be broken."""
    from labelkit.paper.fonts import FAMILIES, face

    broken = []
    for family in FAMILIES:
        try:
            face(f"{family}-Regular")
        except (LabelkitError, OSError, ImportError, ValueError):
            broken.append(family)
    if broken:
        return Check("fonts", BAD, f"cannot be read: {', '.join(broken)}", "Install labelkit again.")
    return Check("fonts", GOOD, f"{len(FAMILIES)} of {len(FAMILIES)} families read")


def _needed() -> Iterator[tuple[str, str]]:
    """Each package labelkit asks for, with the extra that asks for it."""
    for line in requires("labelkit") or ():
        name = re.match(r"[\w.-]+", line)
        extra = re.search(r"extra == ['\"](\w+)['\"]", line)
        if name and name[0] != "labelkit":
            yield name[0], extra[1] if extra else ""


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return ""


# --- true to size ---------------------------------------------------------------------------------------------


def drawn_true() -> Check:
    """Whether the ruler page is drawn true to size: its crosses are measured on the page, as a steel ruler would."""
    off = {page: abs(_cross_to_cross(page) - 150_000) for page in ("letter", "a4")}
    worst = max(off.values())
    if worst > TRUE_TO:
        return Check("drawing", BAD, f"150 mm are drawn {worst / 1000:.1f} mm off", "Install labelkit again.")
    return Check("drawing", GOOD, "150 mm measured on a drawn page, Letter and A4")


def _cross_to_cross(page: str) -> int:
    """Micrometres between the upright lines of crosses A and B on the drawn ruler page."""
    from labelkit.labels.calibration import crosses, ruler_page
    from labelkit.paper.preview import page_picture

    dots = 20  # a millimetre
    picture = page_picture(ruler_page(page), 1, dots * 25.4).convert("L")

    def upright(x: int, y: int) -> int:
        left, foot = (x - 2_000) * dots // 1000, picture.height - y * dots // 1000
        strip = picture.crop((left, foot - 4 * dots, left + 4 * dots, foot - 3 * dots)).resize((4 * dots, 1))
        row = list(strip.tobytes())
        return left + row.index(min(row))

    held = crosses(page)
    return (upright(*held.b) - upright(*held.a)) * 1000 // dots


def printers(state: Reading, page: str) -> Check:
    """Whether a printer was measured with the ruler page."""
    held = state.settings().get(PRINTERS, {})
    if held:
        return Check("printer", GOOD, f"measured: {', '.join(held)}")
    return Check(
        "printer",
        LOOK,
        "no printer was measured; a printer may fit the page to its margins",
        f"Print the ruler page at 100 % and read it: labelkit ruler --page {page} --out ruler.pdf",
    )


# --- the record -----------------------------------------------------------------------------------------------


def sound(season: Season) -> tuple[Check, bool]:
    """Every event of the record, verified; and whether it is damaged."""
    from labelkit.record.verify import verify
    from labelkit.season.progress import progress

    verdict, where = verify(season.record, progress=progress), season.record.where
    if verdict.clean:
        return Check("record", GOOD, f"{where}: {verdict.events} events, each as it was booked"), False
    more = f" (and {len(verdict.faults) - 1} more)" if len(verdict.faults) > 1 else ""
    return Check(
        "record",
        BAD,
        f"{where}: {verdict.faults[0].found}{more}",
        "Keep this file as it is. See all that is wrong: labelkit record verify",
    ), True


def disk(path: Path | None) -> Check:
    """Room on the disk of the record, and whether this user may write there."""
    if path is None:
        return Check("disk", GOOD, "the record is on a server; its disk is the server's")
    folder = path.absolute().parent
    free = shutil.disk_usage(folder).free
    room = f"{free // 1_000_000_000} GB free" if free >= 10**9 else f"{free // 1_000_000} MB free"
    if not (os.access(path, os.W_OK) and os.access(folder, os.W_OK)):
        return Check("disk", BAD, f"{folder} can only be read", "Work as the user the record belongs to.")
    if free < ROOM_NEEDED:
        return Check("disk", BAD, f"{room} in {folder}", "Free some disk space before you book anything.")
    return Check("disk", GOOD, room)


def copies(state: Reading, context: SeasonContext) -> Check:
    """How fresh the last copy is, whether it is there, and whether it would be lost with the record."""
    from labelkit.record.last_copy import uncopied
    from labelkit.season.due import copy_is_old

    if "://" in state.where:
        return Check("copies", LOOK, "the record is on a server", "Ask who runs the server when it was last backed up.")
    new, do = (
        uncopied(state, context.now.date()),
        "Copy it to a stick or another disk: labelkit record copy --to FOLDER",
    )
    if new.last is None:
        return Check("copies", BAD if copy_is_old(new, context.now.date()) else LOOK, "no copy was made yet", do)
    day = show_day(new.last.day, context.locale, form="medium") if new.last.day else "an unknown day"
    found = f"the last of {day}; {new.events} events since"
    if copy_is_old(new, context.now.date()):
        return Check("copies", BAD, found, do)
    if not new.last.path.exists():
        return Check("copies", GOOD, f"{found}; {new.last.path.parent} is not connected now")
    if new.last.path.stat().st_dev == Path(state.where).absolute().stat().st_dev:
        return Check("copies", LOOK, f"{found}; on the disk of the record", do)
    return Check("copies", GOOD, found)


# --- the clock ------------------------------------------------------------------------------------------------


def clock(now: datetime, last: datetime | None, rules_read: datetime | None, locale: str) -> Check:
    """Whether the clock can be right: not before the last booking, nor before the rules that are shipped were read."""
    shown = f"{show_day(now.date(), locale, form='full')}, {now:%H:%M} (UTC{now:%z})"
    do = "Compare it with another clock; set the day, the time and the time zone of this machine."
    if last is not None and now - last < -CLOCKS_AGREE_TO:
        return Check("clock", BAD, f"{shown}; before the last booking, {last:%Y-%m-%d %H:%M}", do)
    if rules_read is not None and now < rules_read:
        return Check("clock", BAD, f"{shown}; before {rules_read:%Y-%m-%d}, when rules of this labelkit were read", do)
    if last is not None and now - last > FAR_AHEAD:
        return Check("clock", LOOK, f"{shown}; {(now - last).days} days after the last booking", do)
    return Check("clock", GOOD, f"{shown}; is it that day and time?")


def _rules_read(markets: tuple[str, ...], context: SeasonContext) -> datetime | None:
    """The last day on which a rule of the season's markets was read."""
    from labelkit.rules import market
    from labelkit.rules.catalogue import own

    laws = [law for name in markets for law in own(market(name, context.now.date()))]
    days = [law.cite.read_on for law in laws if law.cite.read_on]
    return datetime(*max(days).timetuple()[:3], tzinfo=context.now.tzinfo) if days else None
