"""The ways out of a refusal, as commands to type: the page words the same ways as links."""

from __future__ import annotations

from labelkit.errors import LabelkitError, Way

# What is left in capitals is for the reader to fill in.
_COMMANDS = {
    "release": 'labelkit recall release --lot {about} --because "WORDS"',
    "hold": 'labelkit recall hold --lot {about} --because "WORDS"',
    "correct": 'labelkit record correct {about} --because "WORDS"',
    "bucket dry": "labelkit bucket dry {about} --moisture PERCENT",
    "weigh jars": 'labelkit check-weigh --lot {lot} --size "{size}" --anew --weights FILE',
    "relabel": 'labelkit relabel --lot {lot} --jar "{size}=COUNT" --as SIZE --reason "WORDS"',
    "labels": 'labelkit labels --lot {lot} --size "{size}"',
}


def command_of(way: Way) -> str:
    """The command that leads out this way; nothing where no command does.

    >>> command_of(Way("labels", "L26201AXN=one pound"))
    'labelkit labels --lot L26201AXN --size "one pound"'
    """
    lot, _, size = way.about.partition("=")
    return _COMMANDS.get(way.verb, "").format(about=way.about, lot=lot, size=size)


def worded(refusal: LabelkitError) -> LabelkitError:
    """The refusal with its ways out as commands, and with the option that says why."""
    asks = ['Say why: --because "WORDS"'] if refusal.asks and "--because" not in refusal.do else []
    ways = [command for way in refusal.ways if (command := command_of(way))]
    refusal.do = "\n       ".join((refusal.do, *ways, *asks))
    return refusal
