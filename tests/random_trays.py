"""What random jobs draw for jambs, thresholds, junctions, parapets and tray units.

Drawn from a seed of its own, so that a new list here leaves what the other lists draw as it was.
"""

import random
from typing import Any

from estimator.buying.materials import MATERIAL_ROWS, measures_of

UNITS = (
    "lead_piece",
    "soaker",
    "dpc_step_unit",
    "corner_unit",
    "junction_unit",
    "level_step_unit",
    "penetration_unit",
)
_KEYS = [str(row["key"]) for row in MATERIAL_ROWS]
_NEWER = _KEYS[_KEYS.index("channel") + 1 :]  # the last for which a stock was thought out
Rows = list[dict[str, Any]]


def more_trays(seed: str, rows: dict[str, Rows]) -> None:
    """Fill the optional columns of the lists there are, and the lists of their own."""
    r = random.Random(f"trays {seed}")
    for opening in rows["openings"]:
        _opening(r, opening)
    for wall in rows["walls"]:
        _wall(r, wall)
    for roof in rows["abutments"]:
        roof["tile_gauge"] = r.choice([None, 100, 275, 320])
    rows["parapets"] = [
        {
            "mark": f"K{n}",
            "description": r.choice([None, "as drawn"]),
            "wall": r.choice(rows["walls"])["mark"],
            "length": round(r.uniform(0.5, 12), 2),
            "corners": r.randint(0, 3),
            "ends": r.randint(0, 2),
            "tray_height": r.choice([None, 100, 150, 225]),
        }
        for n in range(1, r.choice([0, 0, 1, 2]) + 1)
    ]
    rows["tray_units"] = _tray_units(r, rows["abutments"])
    _stepped_and_met(seed, rows)


def _stepped_and_met(seed: str, rows: dict[str, Rows]) -> None:
    """Runs that end at new walls, and trays stepped into old ones: drawn after all else."""
    r = random.Random(f"stepped {seed}")
    for wall in rows["walls"]:
        room = 0 if wall["run"] == "closed" else 2 - wall["ends_at_existing"]
        ends = r.choice([None, None, 0, r.randint(0, room)])
        wall |= {
            "ends_at_new": ends,
            "met_thickness": r.choice([102.5, 215, 302.5]) if ends else None,
        }
    for cut in rows["cut_ins"]:
        cut |= {"pitch": None, "course": r.choice([None, 75, 80])}
        if cut["kind"] == "above a new roof" and r.random() < 0.25:
            cut["kind"] = r.choice(["stepped up a slope", "stepped up two slopes meeting"])
            cut["pitch"] = r.choice([15, 30, 45])


def _opening(r: random.Random, opening: dict[str, Any]) -> None:
    if r.random() < 0.2:
        opening["kind"] = r.choice(["meter box", "flue or duct"])
    forms_tray = opening["lintel"] is not None and r.random() < 0.25
    opening["lintel_tray"] = "yes" if forms_tray else r.choice([None, "no"])


def _wall(r: random.Random, wall: dict[str, Any]) -> None:
    steps = r.choice([None, None, 0, 1, 3])
    cavity = wall["cavity"] > 0
    blocks = r.random() < 0.25
    wall |= {
        "junctions": r.choice([None, None, 0, 1, 2]),
        "steps": steps,
        "step_rise": r.choice([75, 150, 225]) if steps else None,
        "step_by": r.choice([None, "laps", "preformed"]),
        "party_wall": r.choice([None, None, "no", "yes"]),
        "inner_of": r.choice([None, "masonry", "timber frame"]) if cavity else None,
        "base_tray": r.choice([None, None, "no", "yes"]) if cavity else r.choice([None, "no"]),
        "course": r.choice([225, 150]) if blocks else r.choice([None, 75]),
        "unit": r.choice([450, 300]) if blocks else r.choice([None, None, 225, 240]),
    }


def _tray_units(r: random.Random, abutments: Rows) -> Rows:
    """Units on level trays, as many as fit."""
    found: Rows = []
    for roof in abutments:
        rest = roof["length"] if roof["kind"] == "level" else 0
        for _ in range(r.randint(0, 2)):
            kind, legs = r.choice(
                [("corner", 2), ("T-junction", 3), ("level step", 2), ("penetration", 2)]
            )
            number, leg = r.randint(1, 2), r.choice([150, 225, 300])
            rest -= number * legs * leg / 1000
            if rest < 0:
                break
            found.append({"mark": f"U{len(found) + 1}", "description": r.choice([None, "as drawn"]),
                          "abutment": roof["mark"], "kind": kind, "number": number, "leg": leg})  # fmt: skip
    return found


def more_stock(seed: str, suppliers: list[str], used: set[str], book: Rows) -> None:
    """Price rows for the materials of these lists, after those that were drawn before."""
    r = random.Random(f"stock {seed}")

    def add(supplier: str, material: str, **sizes: Any) -> None:
        row = dict.fromkeys(book[0])
        number = len(book) + 1
        row |= {"code": f"P{number}", "supplier": supplier, "material": material}
        row |= {"description": f"{material} {number}", "price": round(r.uniform(2, 40), 2)}
        row |= {"minimum_packs": r.choice([None, None, None, 2])}
        book.append({**row, **sizes})

    for name in suppliers:
        for width in [*r.sample([50, 75, 100], r.randint(1, 3)), 165]:
            add(name, "closer", width=width, length=r.choice([2.4, 2.5, 3]))
        add(name, "channel", length=r.choice([1, 3]))
        add(name, "cavity_support", length=3)
        add(name, "sealant", length=8)
        for material in UNITS:
            if name in used or r.random() < 0.9:
                add(name, material, pieces=r.choice([1, 1, 2]))
        for material in _NEWER:  # after all that is drawn, so that this keeps its meaning
            sizes = {"width": 1000, "length": 10, "pieces": 1, "weight": 1000}
            add(name, material, **{m: sizes[m] for m in measures_of(material)})
