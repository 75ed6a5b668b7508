"""Differences in what is measured, and in what is bought for it, whoever it is bought from."""

from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from ...buying.lines import STATUSES
from ...buying.materials import MATERIAL_ROWS
from ...buying.packs_stated import in_tonnes, weighed
from ...language.ledger import Ledger
from ...language.units import MILLIMETRES
from ...model.levels import QUANTITIES
from ...model.reports import rows_of
from .change import MEASURED, Change, State
from .words import as_typed, as_worked, packs, say

_KILOGRAMS_IN_ONE = 1000  # tonne, in which a content is counted
_NOT_BOUGHT = STATUSES[2:]  # counted, and not in the price
_MATERIALS: dict[Any, dict[str, Any]] = {m["key"]: m for m in MATERIAL_ROWS}
Packs = dict[float | None, float | None]  # so many packs of that content


def quantity_changes(old: State, new: State) -> Iterator[Change]:
    """Net by material, net of what is counted and not bought here, and what is bought."""
    yield from _measured(old.ledger, new.ledger)
    yield from _not_bought(old.ledger, new.ledger)
    yield from _bought(old.ledger, new.ledger)


def _measured(old: Ledger, new: Ledger) -> Iterator[Change]:
    columns = {c: c for c in ("key", "label", "net", "unit")}
    before = {r["key"]: r["net"] for r in rows_of(old, "totals", columns)}
    for row in rows_of(new, "totals", columns):
        yield from _net(("totals", row["key"]), row["label"], row["unit"], before[row["key"]],
                        row["net"])  # fmt: skip


def _not_bought(old: Ledger, new: Ledger) -> Iterator[Change]:
    columns = {c: c for c in ("key", "label", "net", "unit", "standing")}
    before, after = (rows_of(x, "lines", columns) for x in (old, new))
    for was, now in zip(before, after, strict=True):
        standings = [r["standing"] for r in (was, now) if r["standing"] in _NOT_BOUGHT]
        if standings:
            label = say("by_others", label=now["label"], standing=standings[-1])
            figures = (r["net"] if r["standing"] in _NOT_BOUGHT else 0 for r in (was, now))
            yield from _net(("lines", now["key"]), label, now["unit"], *figures)


def _net(
    about: tuple[str, ...], label: str, unit: str, was: float | None, now: float | None
) -> Iterator[Change]:
    """Where the figures differ as they are printed."""
    texts = {"was": as_worked(was, unit), "now": as_worked(now, unit)}
    if texts["was"] != texts["now"]:
        text = say("measured", what=label, **texts)
        yield Change(MEASURED, (*about, "net"), text, was, now, True, QUANTITIES)


def _bought(old: Ledger, new: Ledger) -> Iterator[Change]:
    before, after = _packs_of(old), _packs_of(new)
    for product in sorted({*before, *after}, key=_place):
        was, now = before.get(product, {}), after.get(product, {})
        if was == now:
            continue
        material, width = product
        texts = {"was": _in_packs(was, material), "now": _in_packs(now, material)}
        kinds = list({*was, *now})
        if len(kinds) == 1:  # 3 rolls, was 2
            pack = _noun(material, kinds[0])
            texts = {"was": packs(_total(was), "nr"), "now": packs(_total(now), pack)}
        name = _product_name(material, width)
        text = say("bought", what=name, **texts)
        yield Change(MEASURED, ("bought", material, name), text, _total(was), _total(now), True,
                     QUANTITIES)  # fmt: skip


def _packs_of(ledger: Ledger) -> dict[tuple[str, float | None], Packs]:
    """Packs by material and width, then by what a pack holds."""
    columns = {c: c for c in ("material", "width", "content", "packs")}
    found: dict[tuple[str, float | None], Packs] = defaultdict(dict)
    for row in rows_of(ledger, "book", columns):
        if row["packs"] != 0 and row["material"]:
            of = found[row["material"], row["width"]]
            had = of.get(row["content"], 0)
            both = None if had is None or row["packs"] is None else had + row["packs"]
            of[row["content"]] = both
    return dict(found)


def _in_packs(found: Packs, material: str) -> str:
    """2 rolls of 20.00 m and 1 roll of 30.00 m; 6 × 25 kg and 1 × 1 t."""
    of = _MATERIALS[material]
    in_order = sorted(found, key=lambda c: (c is None, c))
    contents = ("" if of["by_weight"] else as_worked(c, str(of["unit"])) for c in in_order)
    texts = [
        packs(found[c], _noun(material, c), content)
        for c, content in zip(in_order, contents, strict=True)
    ]
    return _joined(texts) if texts else packs(0, "nr")


def _joined(texts: list[str]) -> str:
    return f" {say('and')} ".join(texts)


def _noun(material: str, content: float | None) -> str:
    """What a pack is called; what is weighed by its weight; a pack of one is counted, not named."""
    row = _MATERIALS[material]
    if row["by_weight"] and content is not None:
        kilograms = _KILOGRAMS_IN_ONE * content
        return str(weighed(in_tonnes(kilograms), kilograms))
    return "nr" if row["unit"] == "nr" and content == 1 else str(row["pack"])


def _product_name(material: str, width: float | None) -> str:
    row = _MATERIALS[material]
    if width is None:
        return str(row["label"])
    form = "sized" if row["by_piece"] else "wide"
    return say(form, label=row["label"], width=as_typed(width, MILLIMETRES))


def _place(product: tuple[str, float | None]) -> tuple[int, float]:
    return list(_MATERIALS).index(product[0]), product[1] or 0


def _total(found: Packs) -> float | None:
    if any(v is None for v in found.values()):
        return None
    return sum(v for v in found.values() if v is not None)
