"""Which layer means what: the office's own file of layer names, or the usual ones."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ..errors import FileError
from ..language import Input
from ..model.spelling import folded
from ..model.toml_entries import entries_of, one_of, only, section
from ..takeoff.edge_kinds import EDGE_KIND_ROWS
from ..takeoff.floor_features import FEATURE_KIND_ROWS
from ..takeoff.openings import OPENING_KIND_ROWS, OPENINGS
from ..takeoff.walls import MEASURING_LINE_ROWS
from .layer_names import FLOOR, NAME, RUN, USUAL_LAYERS

EDGE_KINDS: tuple[str, ...] = tuple(str(r["name"]) for r in EDGE_KIND_ROWS if not r["joins"])
OPENING_KINDS: tuple[str, ...] = tuple(str(r["name"]) for r in OPENING_KIND_ROWS)
# A thickening has a direction and a depth, a partition a width: a plan does not say them.
FEATURES: tuple[str, ...] = tuple(
    str(r["name"]) for r in FEATURE_KIND_ROWS if r["patched"] and r["name"] != "re-entrant corner"
)
LINES: tuple[str, ...] = tuple(str(r["name"]) for r in MEASURING_LINE_ROWS)
MEANINGS = (FLOOR, NAME, RUN, *EDGE_KINDS, *OPENING_KINDS, *FEATURES)
BLOCK_FIGURES = ("width", "height", "lintel")
NEAR = (1, 500)  # mm


@dataclass(frozen=True)
class Block:
    """What a block of the drawing is: a kind of opening, and of it what the office knows (m)."""

    kind: str
    figures: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Layers:
    """What is drawn on which layer, and how it is taken.

    `usual`: the kind of a side along which nothing is drawn. `measured_on`: the line on which wall
    runs are drawn. `near`: how far (m) from a side a line may lie and still lie along it.
    """

    meanings: Mapping[str, str]  # by the layer's name, folded
    blocks: Mapping[str, Block] = field(default_factory=dict)  # by the block's name, folded
    usual: str = "new wall"
    measured_on: str = "inside face"
    near: float = 0.01

    def meaning(self, layer: str) -> str | None:
        """What is drawn on that layer; None where it is not read."""
        return self.meanings.get(folded(layer))

    def block(self, name: str) -> Block | None:
        """What that block is, where the office says."""
        return self.blocks.get(folded(name))

    def names(self, meaning: str) -> str:
        """The layers of that meaning, as one phrase."""
        return ", ".join(sorted(n for n, m in self.meanings.items() if m == meaning)) or "none"


def usual_layers() -> Layers:
    """The layers that are read where no file names others."""
    return Layers({folded(n): m for n, m in USUAL_LAYERS.items()})


def read_layers(path: Path) -> Layers:
    """The office's own names, from a TOML file. Raises FileError at the first that cannot be used."""
    given = entries_of(path, "docs/plan.md")
    only(given, ("layers", "blocks", "usual", "measured_on", "near_mm"), path.name)
    listed = section(given, "layers", path.name)
    if FLOOR not in listed.values():
        raise FileError(f"{path.name}: layers", None, f'a layer that means "{FLOOR}"')
    meanings: dict[str, str] = {}
    for layer, meaning in listed.items():
        at = f'{path.name}: layers."{layer}"'
        if folded(layer) in meanings:
            raise FileError(at, layer, "each layer once, in capitals or not")
        meanings[folded(layer)] = one_of(meaning, MEANINGS, at)
    usual = Layers({})
    near = given.get("near_mm", usual.near * 1000)
    if (
        isinstance(near, bool)
        or not isinstance(near, int | float)
        or not NEAR[0] <= near <= NEAR[1]
    ):
        accepted = f"a number from {NEAR[0]} to {NEAR[1]} mm"
        raise FileError(f"{path.name}: near_mm", near, accepted)
    return Layers(
        meanings,
        dict(_blocks(section(given, "blocks", path.name), path.name)),
        one_of(given.get("usual", usual.usual), EDGE_KINDS, f"{path.name}: usual"),
        one_of(given.get("measured_on", usual.measured_on), LINES, f"{path.name}: measured_on"),
        near / 1000,
    )


def _blocks(given: Mapping[str, Any], place: str) -> Iterator[tuple[str, Block]]:
    inputs = [i for i in OPENINGS.inputs if i.name in BLOCK_FIGURES]
    for name, entry in given.items():
        at = f'{place}: blocks."{name}"'
        if not isinstance(entry, dict):
            raise FileError(at, entry, f'a section [blocks."{name}"]')
        only(entry, ("kind", *(i.key for i in inputs)), at)
        if "kind" not in entry:
            raise FileError(f"{at}.kind", None, "one of " + ", ".join(OPENING_KINDS))
        kind = one_of(entry["kind"], OPENING_KINDS, f"{at}.kind")
        yield folded(name), Block(kind, dict(_figures(entry, inputs, at)))


def _figures(
    entry: Mapping[str, Any], inputs: Sequence[Input], at: str
) -> Iterator[tuple[str, float]]:
    for item in inputs:
        value = entry.get(item.key)
        if value is None:
            continue
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        if not is_number or not (item.least or 0) <= value <= (item.most or 0):
            raise FileError(f"{at}.{item.key}", value, item.accepted)
        yield item.name, float(value)
