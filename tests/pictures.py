"""The README's pictures, made anew from the demonstration:  python -m tests.pictures"""

from __future__ import annotations

import tempfile
from pathlib import Path

from labelkit.cli._rim import run
from labelkit.labels.printing import preview_png

PICTURES = Path(__file__).parent.parent / "sample_lots" / "pictures"
DPI = 84


def pictures() -> dict[str, bytes]:
    """Each picture by its name."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "demo"
        if run(["demo", str(out)]):
            raise SystemExit("the demonstration did not run")
        sheet = next(out.glob("labels-*-one-pound.pdf"))
        return {"plan.svg": (out / "plan.svg").read_bytes(), "sheet.png": preview_png(sheet.read_bytes(), 1, DPI)}


if __name__ == "__main__":
    PICTURES.mkdir(exist_ok=True)
    for name, content in pictures().items():
        (PICTURES / name).write_bytes(content)
