"""Cases of the command line itself."""

from labelkit.errors.cli import FileUnreadable, FolderInTheWay, InternalError, OutputNotWritten, UsageUnclear
from labelkit.errors.run import JarSizeUnknown


def say(refusal):
    def cause():
        raise refusal

    return cause


CASES = [
    (UsageUnclear, say(UsageUnclear("There is no command “wegh”.", "labelkit --help")), "labelkit --help"),
    (FileUnreadable, say(FileUnreadable("lots.toml", "there is no such file")), "lots.toml cannot be read"),
    (FolderInTheWay, say(FolderInTheWay("out", "it holds other files")), "does not write over files"),
    (OutputNotWritten, say(OutputNotWritten("No space left on device")), "labelkit record events"),
    (InternalError, say(InternalError(ValueError("odd"))), "a fault in labelkit, not in your season"),
    (JarSizeUnknown, say(JarSizeUnknown("gallon", "one pound, half pound")), "Use one of: one pound, half pound"),
]
