"""``name=value`` options whose values are not jar sizes, split."""

from __future__ import annotations

from labelkit.errors.cli import UsageUnclear


def pairs(texts: tuple[str, ...], option: str, example: str) -> list[tuple[str, str]]:
    """``name=value`` options, split. Raises :class:`~labelkit.errors.cli.UsageUnclear`.

    >>> pairs(("one pound=57",), "--jar", "one pound=57")
    [('one pound', '57')]
    """
    found = []
    for text in texts:
        name, equals, value = text.rpartition("=")  # a name may hold the sign, a count or a weight does not
        if not equals or not name.strip() or not value.strip():
            raise UsageUnclear(
                f"“{option} {text}” is not a name and a value; write {option} '{example}'.", "labelkit --help"
            )
        found.append((name.strip(), value.strip()))
    return found
