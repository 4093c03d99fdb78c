"""Label files for tests: a whole, plain label, and what a case changes of it."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from labelkit.reading.label_file import read_label
from labelkit.rules import market
from labelkit.rules.checking import Checked, check

DAY = date(2026, 11, 25)
WHOLE: dict[str, Any] = {
    "market": ["us"],
    "kind": "honey",
    "name": "Wildflower Honey",
    "declares": "1 lb",
    "lot": "L26195K",
    "ingredients": ["honey"],
    "origin": [{"country": "US", "share": 100}],
    "maker": {
        "name": "Sunny Ridge Apiary",
        "street": "12 Meadow Lane",
        "city": "Elmvale",
        "region": "VA",
        "postcode": "20000",
    },
    "situation": {"own_hives": True, "sells_to": ["stall"], "food_sales_per_year": "18000 USD", "in_directory": True},
}


def label_text(changes: dict[str, Any], without: tuple[str, ...] = ()) -> str:
    """The whole label with these changes, as a producer would write the file; tables are changed key by key."""
    whole = {key: value for key, value in WHOLE.items() if key not in without}
    for key, value in changes.items():
        whole[key] = {**whole.get(key, {}), **value} if isinstance(value, dict) else value
    for key in without:
        table, _, name = key.partition(".")
        if name:
            whole[table] = {other: value for other, value in whole[table].items() if other != name}
    top = [f"{key} = {_written(value)}" for key, value in whole.items() if not isinstance(value, dict)]
    for name, table in whole.items():
        if isinstance(table, dict):
            top += [f"[{name}]", *(f"{key} = {_written(value)}" for key, value in table.items())]
    return "\n".join(top) + "\n"


def _written(value: Any) -> str:
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return (
            "["
            + ", ".join("{ " + ", ".join(f"{k} = {_written(v)}" for k, v in row.items()) + " }" for row in value)
            + "]"
        )
    return json.dumps(value, ensure_ascii=False)


def checked(changes: dict[str, Any], without: tuple[str, ...] = (), day: date = DAY) -> Checked:
    """The check of the whole label with these changes."""
    label = read_label(label_text(changes, without))
    return check(label, [market(name, day) for name in label.markets])
