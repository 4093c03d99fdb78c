"""Cases of the page. Each is also met in the running server by tests/page."""

from labelkit.errors.page import (
    AddressNotOurs,
    FileNotGiven,
    FormFromElsewhere,
    NoSuchPage,
    PortTaken,
    SampleFailed,
    SentBefore,
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
    (SentBefore, say(SentBefore()), "already booked once"),
    (FileNotGiven, say(FileNotGiven()), "No file was chosen"),
    (PortTaken, say(PortTaken(8765, "the address is in use")), "--port 8766"),
    (PortTaken, say(PortTaken(65535, "the address is in use")), "--port 8001"),
    (SampleFailed, say(SampleFailed("no space left")), "no space left"),
]
