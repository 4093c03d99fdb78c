"""Refusals of the page: requests from elsewhere, forms sent twice, places that are not there."""

from __future__ import annotations

from labelkit.errors import Refused


class AddressNotOurs(Refused):
    """A request for another host's name, as a web site makes it that wants to reach this machine."""

    def __init__(self, host: str, ours: str) -> None:
        super().__init__(
            what=f"This page was asked for as “{host or 'nobody'}”, which is not its address.",
            why="A web site could otherwise reach your record through your own browser; nothing was shown or changed.",
            do=f"Open {ours} instead.",
        )


class FormFromElsewhere(Refused):
    """A form that this page did not hand out, or handed out before it was started anew."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=f"This form was not taken: {reason}.",
            why="Only forms of this page may book anything, so that no web site can book in your name; nothing was booked.",
            do="Go back, load the page again, and send the form once more.",
        )


class NoSuchPage(Refused):
    """An address under which there is nothing."""

    def __init__(self, path: str) -> None:
        super().__init__(
            what=f"There is nothing at “{path}”.",
            why="The address may be mistyped, or belong to something that was never booked.",
            do="Begin at the season's page and follow its links.",
        )


class UploadTooLarge(Refused):
    """More than a form may carry."""

    def __init__(self, limit_kb: int) -> None:
        super().__init__(
            what=f"What was sent is larger than {limit_kb} kB, the most this page takes at once.",
            why="A table of ten thousand buckets is far smaller; something else was probably chosen. Nothing was booked.",
            do="Choose the spreadsheet itself, saved as CSV, or split it; the command “labelkit weigh --from” has no limit.",
        )


class SentBefore(Refused):
    """A form sent a second time with other words in it."""

    def __init__(self) -> None:
        super().__init__(
            what="This form was already booked once, and now says something else.",
            why="Each form books one step once, so that a double tap books nothing twice; the first step stands.",
            do="If this is another step, send it now: the form below is a new one. If the first was wrong, undo it first.",
        )


class FileNotGiven(Refused):
    """A form for a file without one."""

    def __init__(self) -> None:
        super().__init__(
            what="No file was chosen.",
            why="There is nothing to read the buckets from; nothing was booked.",
            do="Choose the spreadsheet saved as CSV, or a season file (TOML), and send it again.",
        )


class PortTaken(Refused):
    """The port is somebody else's."""

    def __init__(self, port: int, reason: str) -> None:
        super().__init__(
            what=f"The page cannot be served on port {port}: {reason}.",
            why="Another program, perhaps another labelkit page, already answers there.",
            do=f"Close the other one, or choose another port: labelkit page --port {port + 1 if port < 65535 else 8001}.",
        )


class SampleFailed(Refused):
    """The sample season did not come about."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=f"The sample season could not be made: {reason}.",
            why="It is made in a folder for passing things; your own record was not touched.",
            do="See whether the disk is full, or run “labelkit demo my-first-season” in a terminal.",
        )
