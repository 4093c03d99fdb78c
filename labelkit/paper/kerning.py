"""Pair kerning, read from a font's GPOS table.

The PDF library sets every letter at its full advance, which leaves a hole between W and i in a large "Wildflower".
fontTools reads the table; what remains is to look a pair up as the OpenType specification says: within one lookup the
first subtable that knows the pair decides, and the lookups of the feature add up.
"""

from __future__ import annotations

from dataclasses import dataclass, field

PAIR_ADJUSTMENT, EXTENSION = 2, 9


@dataclass
class Pairs:
    """The pair lookups of a font's kern feature, for the Latin or the default script."""

    lookups: list[list] = field(default_factory=list)

    def between(self, left: str, right: str) -> int:
        """The change to the advance of ``left`` before ``right``, in font units."""
        return sum(_in_lookup(subtables, left, right) for subtables in self.lookups)


def pairs_of(font) -> Pairs:
    """The kerning of a fontTools font; none where it has no GPOS table."""
    if "GPOS" not in font:
        return Pairs()
    table = font["GPOS"].table
    scripts = {record.ScriptTag: record.Script for record in table.ScriptList.ScriptRecord}
    script = scripts.get("latn") or scripts.get("DFLT")
    if script is None or script.DefaultLangSys is None:
        return Pairs()
    wanted: set[int] = set()
    for index in script.DefaultLangSys.FeatureIndex:
        record = table.FeatureList.FeatureRecord[index]
        if record.FeatureTag == "kern":
            wanted.update(record.Feature.LookupListIndex)
    lookups = [_subtables(table.LookupList.Lookup[index]) for index in sorted(wanted)]
    return Pairs([subtables for subtables in lookups if subtables])


def _subtables(lookup) -> list:
    held = []
    for subtable in lookup.SubTable:
        inner = subtable.ExtSubTable if lookup.LookupType == EXTENSION else subtable
        if inner.LookupType == PAIR_ADJUSTMENT:
            held.append((inner, {name: place for place, name in enumerate(inner.Coverage.glyphs)}))
    return held


def _in_lookup(subtables: list, left: str, right: str) -> int:
    for subtable, coverage in subtables:
        place = coverage.get(left)
        if place is None:
            continue
        if subtable.Format == 1:
            for record in subtable.PairSet[place].PairValueRecord:
                if record.SecondGlyph == right:
                    return _advance(record.Value1)
            continue
        first = subtable.ClassDef1.classDefs.get(left, 0)
        second = subtable.ClassDef2.classDefs.get(right, 0)
        return _advance(subtable.Class1Record[first].Class2Record[second].Value1)
    return 0


def _advance(value) -> int:
    return getattr(value, "XAdvance", 0) or 0
