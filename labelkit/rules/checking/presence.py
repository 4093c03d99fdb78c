"""Which elements stand on a label: by its fields, or by the words on it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from labelkit.rules.checking.said import Said
from labelkit.rules.label import Label
from labelkit.rules.wording.folding import folded

# Elements that are a field of the file and nothing else.
_FIELDS = {
    "maker": "name",
    "street": "street",
    "city": "city",
    "region": "region",
    "postcode": "postcode",
    "country": "country",
    "phone": "phone",
    "email": "email",
    "registration": "registration",
}
# Elements that a field of the file or words among the lines can be; the words are the ``stands_…`` lists.
_WORDS = {
    "role": "role",
    "date made": "date_made",
    "infant caution": "infant_caution",
    "storage": "storage",
    "nutrition contact": "nutrition_contact",
    "volume": "volume",
    "colour": "colour",
    "grade": "grade",
    "origin": "origin",
    "nutrition panel": "nutrition_panel",
    "origin mark": "origin_mark",
    "allergens": "allergens",
}


def stands(element: str, label: Label, said: Said, facts: Mapping[str, Any]) -> bool | None:
    """Whether an element stands on the label; ``None`` when the file cannot tell."""
    if element in _FIELDS:
        return bool(label.maker.get(_FIELDS[element]))
    words = _WORDS.get(element, "")
    if facts.get(words) is False:
        return False  # the maker said that it is not there, whatever words speak of it
    return words in said.reading.elements or _by_field(element, label, facts)


def _by_field(element: str, label: Label, facts: Mapping[str, Any]) -> bool | None:
    if element in ("net quantity", "metric net quantity"):
        return bool(label.declares or label.net_statement)
    if element == "county":
        # A county may be printed in the region or among the lines; only the producer knows which name is a county.
        return True if "county" in folded(label.maker.get("region", "")) else None
    if element in ("nutrition panel", "origin mark"):
        return facts.get(_WORDS[element])
    if element == "allergens":
        return None
    if element == "ingredients" and label.kind in ("infused", "blend"):
        return len(label.ingredients) > 1  # a list that names one thing does not name what was added
    given = {
        "name": label.name,
        "ingredients": label.ingredients,
        "grade": label.grade,
        "lot": label.lot,
        "volume": label.volume,
        "best before": label.best_before,
        "origin": label.origin,
    }
    return bool(given[element]) if element in given else False


def as_words(element: str) -> str:
    """The words an element is known by when it stands among the lines; empty for one that is a field alone."""
    return _WORDS.get(element, "")


def names_an_addition(label: Label) -> bool:
    """Whether the name speaks of something beside honey: an ingredient, or a word such as "infused"."""
    name = folded(label.name)
    words = {word for ingredient in label.ingredients for word in folded(ingredient).split() if len(word) > 3}
    return any(
        word.rstrip("s") in name for word in words - {"honey", "miel", "honig", "pure", "natural", "organic"}
    ) or any(
        sign in name
        for sign in (
            "infus",
            "flavor",
            "flavour",
            "blend",
            "spread",
            "with ",
            " and ",
            "aromatis",
            " mit ",
            " con ",
            " z ",
        )
    )


def has_words(words: tuple[str, ...], label: Label) -> bool:
    """Whether any of these words, which serve instead of an element, stand on the label."""
    text = " ".join(" ".join(map(folded, line.split())) for line in (label.name, label.grade, *label.lines))
    return any(" ".join(map(folded, word.split())) in text for word in words)
