"""Refusals of the page: requests from elsewhere, forms sent twice, places that are not there."""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence


class AddressNotOurs(Refused):
    """A request for another host's name, as a web site makes it that wants to reach this machine."""

    def __init__(self, host: str, ours: str) -> None:
        super().__init__(
            what=Sentence("Your browser asked for this page as “{host}”, which is not its address.", host=host)
            if host
            else "Your browser asked for this page without an address.",
            why="Another web site could otherwise read your record through your browser. Nothing was changed.",
            do=Sentence("Open {ours} instead.", ours=ours),
        )


class FormFromElsewhere(Refused):
    """A form that this page did not hand out, or handed out before it was started anew."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=Sentence("This form was not accepted: {reason}.", reason=reason),
            why="Only forms of this page may record a step, so that no web site can do so in your name. Nothing was saved.",
            do="Go back, load the page again, and send the form once more.",
        )


class NoSuchPage(Refused):
    """An address under which there is nothing."""

    def __init__(self, path: str) -> None:
        super().__init__(
            what=Sentence("There is nothing at “{path}”.", path=path),
            why="The address may have a typing error, or belong to something you never recorded.",
            do="Start at the season page and follow its links.",
        )


class UploadTooLarge(Refused):
    """More than a form may carry."""

    def __init__(self, limit_kb: int) -> None:
        super().__init__(
            what=Sentence("The file is larger than {limit_kb} kB, the maximum of this page.", limit_kb=limit_kb),
            why="A table of 10,000 buckets is much smaller. You may have chosen another file. Nothing was saved.",
            do="Choose the spreadsheet saved as CSV, or split it. The command “labelkit weigh --from” has no limit.",
        )


class SentBefore(Refused):
    """A form sent a second time with other words in it."""

    def __init__(self) -> None:
        super().__init__(
            what="This form was already saved once, with other values.",
            why="Each form saves one step once, so that a double tap saves nothing twice. The first step is saved.",
            do="If this is another step, send it now: the form below is a new one. If the first was wrong, correct it.",
        )


class NothingChanged(Refused):
    """A form to put an event right in which everything is as it was booked."""

    def __init__(self) -> None:
        super().__init__(
            what="The form is unchanged.",
            why="A correction stays in the record for good. It needs a change.",
            do="Change what is wrong, or undo the step if it never happened.",
        )


class FileNotGiven(Refused):
    """A form for a file without one."""

    def __init__(self) -> None:
        super().__init__(
            what="You chose no file.",
            why="There are no buckets to read. Nothing was saved.",
            do="Choose the spreadsheet saved as CSV, or a season file (TOML), and send it again.",
        )


class PortTaken(Refused):
    """The port is somebody else's."""

    def __init__(self, port: int, reason: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot open the page on port {port}: {reason}.", port=port, reason=reason),
            why="Another program, perhaps another labelkit page, already uses this port.",
            do=Sentence(
                "Close the other program, or choose another port: labelkit page --port {other_port}",
                other_port=port + 1 if port < 65535 else 8001,
            ),
        )


class SampleFailed(Refused):
    """The sample season did not come about."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=Sentence("labelkit could not make the sample season: {reason}.", reason=reason),
            why="The sample uses a temporary folder. Your own record is unchanged.",
            do="Check whether the disk is full, or run “labelkit demo my-first-season” in a terminal.",
        )


class PassphraseNeeded(Refused):
    """The network was asked for without a passphrase, and nobody is there to be asked."""

    def __init__(self) -> None:
        super().__init__(
            what="You gave no passphrase for the page on the local network.",
            why="Without one, everybody on the network could read and change your record. The page was not opened.",
            do="Run “labelkit page --lan” in a terminal and type one, or set it in LABELKIT_PASSPHRASE.",
        )


class PassphraseTooShort(Refused):
    """Fewer characters than a guess would take long for."""

    def __init__(self, least: int) -> None:
        super().__init__(
            what=Sentence("This passphrase has fewer than {least} characters.", least=least),
            why="Anybody on the network could guess a short one. The page was not opened.",
            do="Use four words that do not belong together. You type them once on each phone.",
        )


class PassphraseWrong(Refused):
    """Not the passphrase."""

    def __init__(self) -> None:
        super().__init__(
            what="This is not the passphrase.",
            why="The person who started the page set it. It is valid until the page stops. Nothing was changed.",
            do="Type it again. Capital letters count. You can set a new one when you start the page again.",
        )


class TooManyTries(Refused):
    """Wrong too often; the wait doubles."""

    def __init__(self, seconds: int) -> None:
        self.seconds = seconds
        in_seconds = Sentence.plural("{n} second", "{n} seconds", seconds)
        wait = in_seconds if seconds < 120 else Sentence.plural("{n} minute", "{n} minutes", -(-seconds // 60))
        super().__init__(
            what=Sentence("Too many wrong passphrases. Wait {wait}, then try again.", wait=wait),
            why="The wait doubles with each wrong passphrase, to stop guessing.",
            do="Ask the person who started the page for the passphrase, or start the page again on that machine.",
        )


class SessionOver(Refused):
    """Asked by a script of the page whose session is over."""

    def __init__(self) -> None:
        super().__init__(
            what="You were signed out.",
            why="A visit over the network ends after 2 hours without a step, and after 12 hours in any case.",
            do="Load the page again and type the passphrase.",
        )


class NoLocalNetwork(Refused):
    """There is no local network to serve the page on."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot open the page on the local network: {reason}.", reason=reason),
            why="labelkit uses only an address that the internet cannot reach. The page was not opened.",
            do="Join the network first, or give this machine's address: labelkit page --lan=192.168.1.20",
        )


class NotOfThisNetwork(Refused):
    """A visitor from outside the local network."""

    def __init__(self, address: str) -> None:
        super().__init__(
            what=Sentence("The page does not answer {address}.", address=address),
            why="The page is only for this machine and its own network. Nothing was changed.",
            do="Join the network of the page, and open its address there.",
        )


class TooManyJobs(Refused):
    """More long work than may wait."""

    def __init__(self, most: int) -> None:
        super().__init__(
            what=Sentence("{most} jobs are already running or waiting.", most=most),
            why="labelkit runs one job after another. Nothing was started or saved.",
            do="Wait for a job to end, or stop one you do not need. They are listed on the Record page.",
        )


class NoJarsCounted(Refused):
    """A form of jars in which no jar is counted."""

    def __init__(self) -> None:
        super().__init__(
            what="You counted no jars.",
            why="A step without jars would not say which jars it is about.",
            do="Type a number next to the jar size.",
        )
