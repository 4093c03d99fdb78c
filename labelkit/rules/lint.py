"""A pack read whole: every file, every value reckoned out, every stance and switch-off held against the parents.

Nothing here is needed to answer a question; it is what the tests and whoever writes a pack run to be sure that no fault
waits in a file nobody has asked for yet.
"""

from __future__ import annotations

from collections.abc import Iterator

from labelkit.errors.rules import PackStanceMissing, PackSwitchesNothing
from labelkit.rules import shelf
from labelkit.rules.blocks import Law, SwitchOff, Value
from labelkit.rules.market import Market


def whole(found: Market) -> tuple[Law, ...]:
    """Every block of the market's own pack, read to the last value; raises the first fault found."""
    own = tuple(_own(found))
    for law in own:
        if isinstance(law, Value):
            _ = law.value
            _refuse_silent_repeat(found, law)
        if isinstance(law, SwitchOff):
            _refuse_empty_switch(found, law)
    return own


def _own(found: Market) -> Iterator[Law]:
    for topic in shelf.topics(found.code, found.shelf):
        yield from shelf.laws(found.code, topic, found.shelf)


def _refuse_silent_repeat(found: Market, law: Value) -> None:
    if law.against_parent:
        return
    for parent in found.packs[1:]:
        theirs = shelf.laws(parent, law.topic, found.shelf)
        if any(isinstance(other, Value) and other.name == law.name for other in theirs):
            raise PackStanceMissing(law.file, law.name, parent)


def _refuse_empty_switch(found: Market, law: SwitchOff) -> None:
    for parent in found.packs[1:]:
        if any(other.label == law.what for other in shelf.laws(parent, law.topic, found.shelf)):
            return
    raise PackSwitchesNothing(law.file, law.what)
