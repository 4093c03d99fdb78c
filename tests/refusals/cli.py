"""Cases of the command line itself."""

from labelkit.cli._runner import _check_text
from labelkit.errors.cli import (
    FileUnreadable,
    FolderInTheWay,
    InternalError,
    OutputNotWritten,
    UsageUnclear,
    WordsUnclear,
)
from labelkit.errors.run import JarSizeUnknown


def say(refusal):
    def cause():
        raise refusal

    return cause


CASES = [
    (UsageUnclear, say(UsageUnclear("There is no command “wegh”.", "labelkit --help")), "labelkit --help"),
    (WordsUnclear, lambda: _check_text(["trace", "caf\udce9"]), "“caf\ufffd” on the command line is not UTF-8"),
    (FileUnreadable, say(FileUnreadable("lots.toml", "there is no such file")), "lots.toml cannot be read"),
    (
        FolderInTheWay,
        say(FolderInTheWay("out", "it holds other files")),
        "labelkit does not overwrite files it did not make.",
    ),
    (OutputNotWritten, say(OutputNotWritten("No space left on device")), "labelkit record events"),
    (InternalError, say(InternalError(ValueError("odd"))), "a fault in labelkit, not in your season"),
    (JarSizeUnknown, say(JarSizeUnknown("gallon", "one pound, half pound")), "Use one of: one pound, half pound"),
]
