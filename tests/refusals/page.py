"""Cases of the page. Each is also met in the running server by tests/page."""

from labelkit.errors.page import (
    AddressNotOurs,
    FileNotGiven,
    FormFromElsewhere,
    NoJarsCounted,
    NoLocalNetwork,
    NoSuchPage,
    NothingChanged,
    NotOfThisNetwork,
    PassphraseNeeded,
    PassphraseTooShort,
    PassphraseWrong,
    PortTaken,
    SampleFailed,
    SentBefore,
    SessionOver,
    TooManyJobs,
    TooManyTries,
    UploadTooLarge,
)


def say(refusal):
    def cause():
        raise refusal

    return cause


CASES = [
    (AddressNotOurs, say(AddressNotOurs("evil.example", "http://127.0.0.1:8765/")), "evil.example"),
    (FormFromElsewhere, say(FormFromElsewhere("it comes from https://evil.example")), "https://evil.example"),
    (NoSuchPage, say(NoSuchPage("/nowhere")), "/nowhere"),
    (UploadTooLarge, say(UploadTooLarge(2048)), "2048 kB"),
    (SentBefore, say(SentBefore()), "This form was already saved once, with other values."),
    (NothingChanged, say(NothingChanged()), "The form is unchanged."),
    (FileNotGiven, say(FileNotGiven()), "You chose no file."),
    (PortTaken, say(PortTaken(8765, "the address is in use")), "--port 8766"),
    (PortTaken, say(PortTaken(65535, "the address is in use")), "--port 8001"),
    (SampleFailed, say(SampleFailed("no space left")), "no space left"),
    (NoLocalNetwork, say(NoLocalNetwork("it is on no network")), "on no network"),
    (NotOfThisNetwork, say(NotOfThisNetwork("8.8.8.8")), "8.8.8.8"),
    (PassphraseNeeded, say(PassphraseNeeded()), "LABELKIT_PASSPHRASE"),
    (PassphraseTooShort, say(PassphraseTooShort(8)), "fewer than 8 characters"),
    (PassphraseWrong, say(PassphraseWrong()), "not the passphrase"),
    (SessionOver, say(SessionOver()), "You were signed out."),
    (TooManyJobs, say(TooManyJobs(8)), "8 jobs are already running or waiting."),
    (TooManyTries, say(TooManyTries(8)), "Wait 8 seconds"),
    (TooManyTries, say(TooManyTries(900)), "Wait 15 minutes"),
    (NoJarsCounted, say(NoJarsCounted()), "You counted no jars."),
]
