"""Refusals of a label file: a key nobody knows, a value of the wrong kind, facts that cannot all be true.

What the law says about a label that can be read is never a refusal; it is a finding.
"""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence

_WHY_KEY = "A key that is not understood may be the very one that mattered, so none is passed over."


def _place(file: str, line: int) -> str:
    return Sentence("{file}, line {line}", file=file, line=line) if line else file


def _quoted(words: tuple[str, ...]) -> str:
    return " or ".join(f"“{word}”" for word in words)


class LabelFileUnreadable(Refused):
    """Not TOML."""

    def __init__(self, file: str, fault: str) -> None:
        super().__init__(
            what=Sentence("{file} is not valid TOML: {fault}.", file=file, fault=fault.rstrip(".")),
            why="A label file read in part would be checked in part.",
            do="Correct that line. Put texts in double quotes, lists in square brackets, and write dates as 2028-06-30.",
        )


class LabelKeyUnknown(Refused):
    """A key that a label file does not have."""

    def __init__(
        self, file: str, line: int, key: str, where: str, near: tuple[str, ...], known: tuple[str, ...]
    ) -> None:
        super().__init__(
            what=Sentence("{place}: “{key}” is not a key of {where}.", place=_place(file, line), key=key, where=where),
            why=_WHY_KEY,
            do=Sentence("Did you mean {near}?", near=_quoted(near))
            if near
            else Sentence("Use one of: {known}.", known=", ".join(known)),
        )


class LabelKeyMissing(Refused):
    """Something without which there is no label to check."""

    def __init__(self, file: str, key: str, example: str) -> None:
        super().__init__(
            what=Sentence("{file} has no “{key}”.", file=file, key=key),
            why="Every rule depends on the market, the name and the weight.",
            do=Sentence("Add a line such as {example}.", example=example),
        )


class LabelValueWrong(Refused):
    """A value of the wrong kind."""

    def __init__(self, file: str, line: int, key: str, given: object, wanted: str, near: tuple[str, ...] = ()) -> None:
        super().__init__(
            what=Sentence(
                "{place}: {key} = {given} is not {wanted}.",
                place=_place(file, line),
                key=key,
                given=given,
                wanted=wanted,
            ),
            why="A guess would print on every jar.",
            do=Sentence("Give {wanted}. Did you mean {near}?", wanted=wanted, near=_quoted(near))
            if near
            else Sentence("Give {wanted}.", wanted=wanted),
        )


class LabelSharesNotWhole(Refused):
    """Shares of origin that do not make a whole."""

    def __init__(self, file: str, line: int, shares: str, total: str) -> None:
        super().__init__(
            what=Sentence(
                "{place}: the shares of origin {shares} add up to {total}, not to 100.",
                place=_place(file, line),
                shares=shares,
                total=total,
            ),
            why="The label must name every country the honey comes from, in some markets with its share.",
            do="Give each country its share in percent. Together they must make 100. Decimals such as 33.4 are fine.",
        )


class SituationContradicts(Refused):
    """Two things a label file says that cannot both be true."""

    def __init__(self, file: str, line: int, first: str, second: str, reason: str) -> None:
        super().__init__(
            what=Sentence(
                "{place}: the file says {first} and {second}, but {reason}.",
                place=_place(file, line),
                first=first,
                second=second,
                reason=reason,
            ),
            why="These answers decide which rules apply. Two answers to one question contradict each other.",
            do="Correct one of the two.",
        )
