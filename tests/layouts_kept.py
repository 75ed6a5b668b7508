"""A digest of each layout's lists, columns and named cells.

One that comes, goes or moves among its fellows shows here (hidden sheets are read by this order): SCHEMA in estimator/model/places.py then rises, once between two
releases. The digest of the layout being written is kept by: python -m tests.layouts_kept
"""

import hashlib
from pathlib import Path

from estimator.model.places import SCHEMA
from estimator.model.plan import plan
from estimator.workbook.layout import cells_in_order, engine_columns

KEPT = Path(__file__).parent / "data" / "layouts_kept.txt"


def kept() -> dict[str, str]:
    return dict(line.split(": ") for line in KEPT.read_text("utf-8").splitlines())


def digest() -> str:
    """Of the layout as it is now."""
    tables = plan().tables.values()
    held = [f"{t.name}.{column}" for t in tables for column in engine_columns(t)]
    text = "\n".join([*held, *cells_in_order(plan()), *plan().keyed])
    return hashlib.sha256(text.encode()).hexdigest()[:16]


if __name__ == "__main__":
    layouts = {**kept(), str(SCHEMA): digest()}
    KEPT.write_text("".join(f"{n}: {d}\n" for n, d in layouts.items()), "utf-8")
