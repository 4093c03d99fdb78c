"""Copies of the record: made, downloaded, and brought back once it was shown what would be lost.

A damaged record lets no other view be shown, so these ask it nothing they can do without.
"""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from flask import Blueprint, Response, redirect

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoSuchPage
from labelkit.page import recent_events, request_context, security
from labelkit.page.forms import booked, paper, typed, uploaded
from labelkit.page.language import say, say_count
from labelkit.page.view import bare_page, page
from labelkit.record.copies import Copied, copy_record, earlier_copies, made_at, restore
from labelkit.record.last_copy import Compared, compared, copy_to
from labelkit.record.leftovers import private_file
from labelkit.record.location import record_file
from labelkit.record.reading import Head
from labelkit.season import SeasonContext

view = Blueprint("copies", __name__)

KEPT_COPIES = 20
SHOWN = 12  # steps that would be lost; the rest are counted
BROUGHT = "brought"  # how a copy from elsewhere is called


@view.before_request
def _begun():
    # A sample is thrown away and not copied; a server's record is copied by its server.
    here = _context()
    return redirect("/record", 303) if request_context.trying_a_sample() or "://" in here.where else None


@view.get("/copies")
def copies():
    """The copies beside the record, and the forms."""
    return _copies()


@view.post("/copies")
def copy():
    """Copy the record beside itself, verified; the last of days, weeks and months stay."""

    def step() -> Copied:
        context, folder = _context(), _folder()
        folder.mkdir(exist_ok=True)
        with context.season(to_read=True) as season:
            return copy_to(season.record, folder, context.now, rotate=True)

    return booked(
        step,
        _copies,
        lambda _: "/copies",
        lambda done: say_count(
            "{copy}: {n} event, written and verified.",
            "{copy}: {n} events, written and verified.",
            done.events,
            copy=done.path.name,
        ),
    )


@view.get("/copies/now")
def download() -> Response:
    """A copy of the record as it is now, verified, to keep on another machine."""
    context = _context()
    with TemporaryDirectory() as folder:
        made = copy_record(_record(), Path(folder), context.now)
        return paper(made.path.read_bytes(), made.path.name, "application/octet-stream")


@view.post("/copies/bring")
def bring():
    """Take in a copy from elsewhere; it is put beside the others, and nothing else is changed yet."""

    def step() -> str:
        file = uploaded("file")
        if file is None:
            raise NoSuchPage("/copies/bring")
        folder = _folder()
        folder.mkdir(exist_ok=True)
        to = folder / f"{_record().stem}.{BROUGHT}.{_context().now:%Y-%m-%d-%H%M%S}.copy"
        private_file(to)
        to.write_bytes(file[1])
        try:
            _head(to)
        except LabelkitError:
            to.unlink()
            raise
        return to.name

    return booked(step, _copies, lambda name: f"/copies?copy={name}", lambda _: "")


@view.post("/copies/restore")
def bring_back():
    """Put a copy in the place of the record; the file that is there is set aside, never deleted."""

    def step() -> tuple[Head, Path | None]:
        return restore(_named(typed("copy")), _record(), _context().now, even_if_newer=True)

    return booked(
        step,
        _copies,
        lambda _: "/record",
        lambda done: say(
            "The record ends at event {n} now. The file that was there is {file}.",
            n=done[0].seq,
            file=done[1].name if done[1] else "–",
        ),
    )


def _context() -> SeasonContext:
    """The context of this request, though its record may be damaged."""
    try:
        return request_context.context()
    except LabelkitError:
        return request_context.station().context


def _record() -> Path:
    return record_file(_context().where, "copies", "")


def _folder() -> Path:
    """Copies go beside the record; the browser names no folder."""
    return _record().parent / "copies"


def _every() -> list[Path]:
    """The copies beside the record, the newest first."""
    folder = _folder()
    if not folder.is_dir():
        return []
    brought = folder.glob(f"{_record().stem}.{BROUGHT}.*.copy")
    return sorted((*earlier_copies(_record(), folder), *brought), key=lambda each: made_at(each) or 0, reverse=True)


def _named(name: str) -> Path:
    """One of them by its name."""
    found = next((each for each in _every() if each.name == name), None)
    if found is None:
        raise NoSuchPage(f"/copies?copy={name[:60]}")
    return found


def _copies(refused: LabelkitError | None = None) -> str:
    made = [(each.name, made_at(each), BROUGHT in each.name) for each in _every()]
    facts = {"refused": refused, "copies": made, "where": _record().name, "chosen": None}
    name = typed("copy")
    if name and refused is None:
        facts |= {"chosen": name, **_what_changes(_named(name))}
    try:
        return page("copies.html", damaged=False, **facts)
    except LabelkitError as damage:
        return bare_page("copies.html", damaged=True, token=security.token(), **facts | {"refused": refused or damage})


def _what_changes(copy: Path) -> dict:
    """What bringing a copy back would change: the events it holds, and the steps that would be lost."""
    context = _context()
    try:
        with context.reading() as state:
            found: Compared = compared(state, copy)
            steps = recent_events.steps(state, context.locale, min(found.lost, SHOWN))
            return {"head": found.copy, "same": found.same, "lost": found.lost, "losing": steps[: found.lost]}
    except LabelkitError:
        # Nothing can be read from the record, or it is gone: all that is known is what the copy holds.
        return {"head": _head(copy), "same": True, "lost": None, "losing": []}


def _head(copy: Path) -> Head:
    from labelkit.record.copies import checked

    return checked(copy, copy.name)
