"""A digest of each layout's lists, columns and named cells.

One that comes or goes shows here: SCHEMA in estimator/model/places.py then rises, once between two
releases. The digest of the layout being written is kept by: python -m tests.layouts_kept
"""

import hashlib
from pathlib import Path

from estimator.model.places import SCHEMA, place_rows
from estimator.model.plan import plan

KEPT = Path(__file__).parent / "data" / "layouts_kept.txt"


def kept() -> dict[str, str]:
    return dict(line.split(": ") for line in KEPT.read_text("utf-8").splitlines())


def digest() -> str:
    """Of the layout as it is now."""
    held = [f"{r['list']}.{r['column']}" for r in place_rows(plan(), ())]
    text = "\n".join(sorted([*held, *plan().cells, *plan().keyed]))
    return hashlib.sha256(text.encode()).hexdigest()[:16]


if __name__ == "__main__":
    layouts = {**kept(), str(SCHEMA): digest()}
    KEPT.write_text("".join(f"{n}: {d}\n" for n, d in layouts.items()), "utf-8")
