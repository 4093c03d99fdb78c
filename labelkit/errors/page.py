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
            do="If this is another step, send it now: the form below is a new one. If the first was wrong, put that right.",
        )


class NothingChanged(Refused):
    """A form to put an event right in which everything is as it was booked."""

    def __init__(self) -> None:
        super().__init__(
            what="Everything in the form is as it was booked.",
            why="A correction is kept for good, so it is booked only where something was wrong.",
            do="Change what was wrong, or strike the step if it never happened.",
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


class PassphraseNeeded(Refused):
    """The network was asked for without a passphrase, and nobody is there to be asked."""

    def __init__(self) -> None:
        super().__init__(
            what="The page on the local network needs a passphrase, and none was given.",
            why="Everybody on the network could otherwise read and book in your record; nothing was served.",
            do="Run “labelkit page --lan” in a terminal and type one, or set it in LABELKIT_PASSPHRASE.",
        )


class PassphraseTooShort(Refused):
    """Fewer characters than a guess would take long for."""

    def __init__(self, least: int) -> None:
        super().__init__(
            what=f"This passphrase has fewer than {least} characters.",
            why="A short one is guessed by anybody on the network; nothing was served.",
            do="Take four words that have nothing to do with each other; they are typed once on each telephone.",
        )


class PassphraseWrong(Refused):
    """Not the passphrase."""

    def __init__(self) -> None:
        super().__init__(
            what="This is not the passphrase.",
            why="It was set by whoever started the page, for as long as the page runs. Nothing was shown or changed.",
            do="Type it again; capital letters count. Whoever starts the page anew sets a new one.",
        )


class TooManyTries(Refused):
    """Wrong too often; the wait doubles."""

    def __init__(self, seconds: int) -> None:
        self.seconds = seconds
        wait = f"{seconds} second{'' if seconds == 1 else 's'}" if seconds < 120 else f"{-(-seconds // 60)} minutes"
        super().__init__(
            what=f"A wrong passphrase came too often. Wait {wait}, then try again.",
            why="The wait doubles with each wrong one, so that nobody gets in by guessing.",
            do="Ask whoever started the page what the passphrase is. On the machine itself the page can be started anew.",
        )


class SessionOver(Refused):
    """Asked by a script of the page whose session is over."""

    def __init__(self) -> None:
        super().__init__(
            what="This visit is over.",
            why="A visit over the network ends after two hours without a step, and after twelve in any case.",
            do="Load the page again and type the passphrase.",
        )


class NoLocalNetwork(Refused):
    """There is no local network to serve the page on."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=f"The page cannot be served on the local network: {reason}.",
            why="Only an address that the rest of the internet cannot reach is taken for it; nothing was served.",
            do="Join the network first, or name this machine's address on it: labelkit page --lan=192.168.1.20.",
        )


class NotOfThisNetwork(Refused):
    """A visitor from outside the local network."""

    def __init__(self, address: str) -> None:
        super().__init__(
            what=f"The page does not answer {address}.",
            why="It is for this machine and its own network alone; nothing was shown or changed.",
            do="Join the network the page is served on, and open its address there.",
        )


class TooManyJobs(Refused):
    """More long work than may wait."""

    def __init__(self, most: int) -> None:
        super().__init__(
            what=f"{most} pieces of long work are under way or waiting already.",
            why="They are done one after the other; nothing was begun or booked.",
            do="Wait for one of them, or stop one that is not needed; they stand on the record's page.",
        )


class NoJarsCounted(Refused):
    """A form of jars in which no jar is counted."""

    def __init__(self) -> None:
        super().__init__(
            what="No jars are counted yet.",
            why="A step without jars would say that something happened, and not to what.",
            do="Type how many beside the size it is about.",
        )
