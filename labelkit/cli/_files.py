"""Files in, whole; files out, whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from labelkit.errors.cli import FileUnreadable, FolderInTheWay, UsageUnclear
from labelkit.reading.tables import text_of
from labelkit.record.leftovers import private_file, remove_unfinished, sweep, unfinished_name

if TYPE_CHECKING:
    from datetime import datetime

    from labelkit.paper.mail import Mail
    from labelkit.reading.open_table import Lines
    from labelkit.record.work import Work


def read_text(name: str | Path) -> str:
    """The text of a file, as UTF-8. Raises :class:`~labelkit.errors.cli.FileUnreadable`."""
    return text_of(read_bytes(name), str(name))


def read_lines(name: str | Path, locale: str) -> Lines:
    """The lines of a text file, or of the one sheet of a workbook; its numbers are written as in ``locale``."""
    from labelkit.reading.open_table import lines_in

    return lines_in(read_bytes(name), str(name), locale)


def read_bytes(name: str | Path) -> bytes:
    """The bytes of a file. Raises :class:`~labelkit.errors.cli.FileUnreadable`."""
    try:
        return Path(name).read_bytes()
    except FileNotFoundError:
        raise FileUnreadable(str(name), "there is no such file") from None
    except IsADirectoryError:
        raise FileUnreadable(str(name), "it is a folder") from None
    except ValueError as error:
        raise FileUnreadable(ascii(str(name)), str(error)) from None
    except OSError as error:
        raise FileUnreadable(str(name), error.strerror or "the system refused it") from None


def write_whole(name: str | Path, content: bytes | str, *, private: bool = False) -> Path:
    """Write a file so that a reader finds either the old one or the whole new one, never a part.

    A ``private`` one holds names of people, and only its owner may read it.
    """
    target = Path(name)
    if not target.name:
        raise UsageUnclear(f"“{name}” names no file to write.", "labelkit --help")
    data = content.encode("utf-8") if isinstance(content, str) else content
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        sweep(target.parent)
        making = unfinished_name(target, "part")
        remove_unfinished(making)
        private_file(making)
    except OSError as error:
        raise FolderInTheWay(str(target.parent), error.strerror or "the system refused it") from None
    try:
        with making.open("wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        if not private:
            making.chmod(0o666 & ~_umask())
        os.replace(making, target)
    except OSError as error:
        remove_unfinished(making)
        raise FolderInTheWay(str(target), error.strerror or "the system refused it") from None
    except BaseException:
        # Stopped in the middle (Ctrl-C): what was begun goes too.
        remove_unfinished(making)
        raise
    return target


def message_beside(paper: Path, mail: Mail, now: datetime) -> tuple[Path, ...]:
    """The message of a paper (.eml) beside it; none where no address of the customer is known."""
    from labelkit.paper.mail import can_be_reached, mail_file

    if not can_be_reached(mail.to.email):
        return ()
    return (write_whole(paper.with_suffix(".eml"), mail_file(mail, now), private=True),)


def no_message(customer: str) -> str:
    """What is said where a paper has no message beside it."""
    return (
        f"No e-mail address of {customer} is known, so no message (.eml) lies beside it. "
        f'Note it: labelkit record customer "{customer}" --email ADDRESS'
    )


def commit_with(work: Work, *papers: Path) -> None:
    """Commit a step whose papers are written already; they go again if the record refuses it."""
    try:
        work.commit()
    except BaseException:
        for paper in papers:
            paper.unlink(missing_ok=True)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def new_folder(name: str | Path) -> Path:
    """A folder to fill: made now, or empty already. Raises :class:`~labelkit.errors.cli.FolderInTheWay`."""
    folder = Path(name)
    if folder.is_file():
        raise FolderInTheWay(str(folder), "it is a file")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if any(folder.iterdir()):
            raise FolderInTheWay(str(folder), "it holds other files")
    except OSError as error:
        raise FolderInTheWay(str(folder), error.strerror or "the system refused it") from None
    return folder
