"""A look of one's own: design, colours, logo, font, artwork, sheets, printer and codes, kept in the record under a name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, replace
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.labels import LookUnknown, LookUnnamed
from labelkit.labels.backdrop.picture import WordBox
from labelkit.record.settings import file_of, file_value, is_file
from labelkit.season.label_paper import keep, kept

if TYPE_CHECKING:
    from labelkit.labels.backdrop.picture import Backdrop
    from labelkit.labels.design import Design
    from labelkit.labels.logo import Logo
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

LOOKS = "looks"


def keep_look(work: Work, name: str, look: Mapping[str, Any], day: date) -> int:
    """Keep a look under its name, in place of one that had it; the event's number.

    ``look`` holds texts, yes or no, a colour, boxes for words, tables of them, and files as a pair of name and bytes; what
    is empty is left out.
    Raises :class:`~labelkit.errors.labels.LookUnnamed` and :class:`~labelkit.errors.labels.KeptFileTooLarge`.
    """
    if not name.strip():
        raise LookUnnamed()
    return keep(work, LOOKS, name, {key: _kept(value) for key, value in look.items() if value}, day)


def look_named(state: Reading | None, name: str) -> dict[str, Any]:
    """A look as it was kept, its files as pairs of name and bytes. Raises :class:`~labelkit.errors.labels.LookUnknown`."""
    held = kept(state, LOOKS)
    if name not in held:
        raise LookUnknown(name, sorted(held))
    return {key: _read(value) for key, value in held[name].items()}


def dressed(look: Mapping[str, Any]) -> tuple[Design, Logo | None, dict[str, Backdrop]]:
    """The design of a look in its own colours and font, its logo, and its artwork by kind of label.

    Raises what a design, a font, a logo and artwork are refused for.
    """
    from labelkit.labels.backdrop.picture import read_backdrop
    from labelkit.labels.design import USUAL_DESIGN, design, with_colours, with_face
    from labelkit.labels.logo import read_logo
    from labelkit.paper.fonts import own_face

    made = design(look.get("design") or USUAL_DESIGN, look.get("ink") or "full")
    if look.get("font"):
        made = with_face(made, own_face(*look["font"]))
    if look.get("colours"):
        made = with_colours(made, look["colours"])
    logo = read_logo(look["logo"][1], look["logo"][0]) if look.get("logo") else None
    boxes, under = look.get("artwork_boxes") or {}, look.get("artwork_ground")
    artwork = {
        kind: replace(read_backdrop(data, name), boxes=boxes.get(kind, ()), ground=under or None)
        for kind, (name, data) in (look.get("artwork") or {}).items()
    }
    return made, logo, artwork


def _kept(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _kept(one) for key, one in value.items()}
    if isinstance(value, tuple) and isinstance(value[0], WordBox):
        return [
            {key: list(one) if isinstance(one, tuple) else one for key, one in asdict(box).items()} for box in value
        ]
    if isinstance(value, tuple) and isinstance(value[0], int):
        return list(value)
    if isinstance(value, tuple):
        return file_value(*value)
    return value


def _read(value: Any) -> Any:
    if is_file(value):
        return file_of(value)
    if isinstance(value, dict):
        return {key: _read(one) for key, one in value.items()}
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return tuple(_box(one) for one in value)
    if isinstance(value, list):
        return tuple(value)
    return value


def _box(held: Mapping[str, Any]) -> WordBox:
    """A box for words as it was kept."""
    values: dict[str, Any] = {key: tuple(value) if isinstance(value, list) else value for key, value in held.items()}
    return WordBox(**values)
