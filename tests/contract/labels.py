"""LABEL.toml as the command contract shows it, and changes to it."""

from __future__ import annotations

import json
from typing import Any

CONTRACT: dict[str, Any] = {
    "market": ["us", "us-va"],
    "kind": "honey",
    "name": "Clover Honey",
    "floral_source": "clover",
    "declares": "1 lb",
    "net_statement": "Net Wt 16 oz (1 lb) 453 g",
    "lines": ["Raw", "From our own hives"],
    "ingredients": ["honey"],
    "lot": "L26195K",
    "best_before": "2028-06-30",
    "origin": [{"country": "US", "share": 100}],
    "maker": {
        "name": "Sunny Ridge Apiary",
        "street": "12 Meadow Lane",
        "city": "Elmvale",
        "region": "VA",
        "postcode": "20000",
        "phone": "555 010 0100",
        "registration": "R-1",
    },
    "panel": {"diameter": "2.5 in", "height": "3.5 in"},
    "situation": {
        "home_kitchen": True,
        "own_hives": True,
        "sells_to": ["stall"],
        "gallons_per_year": 90,
        "food_sales_per_year": "18000 USD",
        "employees": 1,
        "units_per_year": 2000,
        "infused": False,
    },
}

# A plain jar for the European Union and its neighbours.
PLAIN: dict[str, Any] = {
    "market": ["eu"],
    "kind": "honey",
    "name": "Honey",
    "declares": "500 g",
    "net_statement": "500 g",
    "lines": [],
    "ingredients": ["honey"],
    "lot": "L26195K",
    "best_before": "2028-06-30",
    "origin": [{"country": "SI", "share": 100}],
    "maker": {"name": "Sunny Ridge Apiary", "street": "12 Meadow Lane", "city": "Elmvale", "postcode": "20000"},
    "panel": {"diameter": "7 cm", "height": "9 cm"},
    "situation": {"own_hives": True, "sells_to": ["stall"]},
}


def text_of(label: dict[str, Any]) -> str:
    """The label as a producer writes the file."""
    top = [f"{key} = {_written(key, value)}" for key, value in label.items() if not isinstance(value, dict)]
    for name, table in label.items():
        if isinstance(table, dict):
            top += [f"[{name}]", *(f"{key} = {_written(key, value)}" for key, value in table.items())]
    return "\n".join(top) + "\n"


def changed(label: dict[str, Any], change: dict[str, Any]) -> dict[str, Any]:
    """A label with some of it changed; tables are changed key by key, and ``None`` takes a key away."""
    whole = {key: dict(value) if isinstance(value, dict) else value for key, value in label.items()}
    for key, value in change.items():
        if value is None:
            whole.pop(key, None)
        elif isinstance(value, dict) and isinstance(whole.get(key), dict):
            for name, said in value.items():
                if said is None:
                    whole[key].pop(name, None)
                else:
                    whole[key][name] = said
        else:
            whole[key] = value
    return whole


def _written(key: str, value: Any) -> str:
    if key == "best_before" and len(value) == len("2028-06-30"):
        return value
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return (
            "["
            + ", ".join("{ " + ", ".join(f"{k} = {_written(k, v)}" for k, v in row.items()) + " }" for row in value)
            + "]"
        )
    return json.dumps(value, ensure_ascii=False)
