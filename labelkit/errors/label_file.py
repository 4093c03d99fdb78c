"""Refusals of a label file: a key nobody knows, a value of the wrong kind, facts that cannot all be true.

What the law says about a label that can be read is never a refusal; it is a finding.
"""

from __future__ import annotations

from labelkit.errors import Refused

_WHY_KEY = "A key that is not understood may be the very one that mattered, so none is passed over."


def _place(file: str, line: int) -> str:
    return f"{file}, line {line}" if line else file


class LabelFileUnreadable(Refused):
    """Not TOML."""

    def __init__(self, file: str, fault: str) -> None:
        super().__init__(
            what=f"{file} is not valid TOML: {fault.rstrip('.')}.",
            why="A label that is half read would be half checked.",
            do="Mend that line; texts stand in double quotes, lists in square brackets, days as 2028-06-30.",
        )


class LabelKeyUnknown(Refused):
    """A key that a label file does not have."""

    def __init__(
        self, file: str, line: int, key: str, where: str, near: tuple[str, ...], known: tuple[str, ...]
    ) -> None:
        hint = (
            f"Did you mean {' or '.join(f'“{word}”' for word in near)}?" if near else f"Known are: {', '.join(known)}."
        )
        super().__init__(what=f"{_place(file, line)}: “{key}” is not a key of {where}.", why=_WHY_KEY, do=hint)


class LabelKeyMissing(Refused):
    """Something without which there is no label to check."""

    def __init__(self, file: str, key: str, example: str) -> None:
        super().__init__(
            what=f"{file} does not say “{key}”.",
            why="Without it there is no label to check: every rule hangs on the market, the name and the weight.",
            do=f"Add a line such as {example}.",
        )


class LabelValueWrong(Refused):
    """A value of the wrong kind."""

    def __init__(self, file: str, line: int, key: str, given: object, wanted: str, near: tuple[str, ...] = ()) -> None:
        hint = f" Did you mean {' or '.join(f'“{word}”' for word in near)}?" if near else ""
        super().__init__(
            what=f"{_place(file, line)}: {key} = {given} is not {wanted}.",
            why="A guess at what was meant would be printed on every jar.",
            do=f"Give {wanted}.{hint}",
        )


class LabelSharesNotWhole(Refused):
    """Shares of origin that do not make a whole."""

    def __init__(self, file: str, line: int, shares: str, total: str) -> None:
        super().__init__(
            what=f"{_place(file, line)}: the shares of origin, {shares}, add up to {total} and not to 100.",
            why="The label must name where all of the honey comes from, and in some markets how much from each country.",
            do="Give every country its share in percent so that together they are 100; decimals such as 33.4 are fine.",
        )


class SituationContradicts(Refused):
    """Two things a label file says that cannot both be true."""

    def __init__(self, file: str, line: int, first: str, second: str, reason: str) -> None:
        super().__init__(
            what=f"{_place(file, line)}: the file says both {first} and {second}, but {reason}.",
            why="Which rules hold hangs on these answers; with two answers to one question both could be wrong.",
            do="Correct one of the two.",
        )
