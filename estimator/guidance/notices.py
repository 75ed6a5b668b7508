"""The data of the hold points: one file for what to look for, one for each nation's notices."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from ..buying.lines import HOLD_POINTS
from ..errors import BasisError

M = TypeVar("M", bound=BaseModel)

# As Start lists them; each has its file in nations/.
NATIONS = ("England", "Wales", "Scotland", "Northern Ireland")
FOLDER = Path(__file__).parent


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class LookedFor(_Strict):
    """What to look for at a hold point: common practice, in our words."""

    look_for: str


class Notice(_Strict):
    """Who is to be told and when, where that stands, and how well the project knows it."""

    notice: str
    source: str
    standing: Literal["read", "reported", "memory"]


@dataclass(frozen=True)
class Nation:
    """One nation's notices, by hold point."""

    name: str
    notices: Mapping[str, Notice]


def load_nation(path: Path) -> Nation:
    """Read a nation's file. Raises BasisError naming the hold point that is missing or wrong."""
    entries = tomllib.loads(path.read_text("utf-8"))
    name = str(entries.pop("nation", {}).get("name"))
    if name not in NATIONS:
        raise BasisError(f"{path.name}: nation.name", name, "one of " + ", ".join(NATIONS))
    return Nation(name, _by_hold_point(Notice, entries, path))


@cache
def nations() -> tuple[Nation, ...]:
    """Every nation, in the order Start lists them."""
    found = [load_nation(p) for p in sorted((FOLDER / "nations").glob("*.toml"))]
    if sorted(n.name for n in found) != sorted(NATIONS):
        raise BasisError(str(FOLDER / "nations"), len(found), "one file for each nation")
    return tuple(sorted(found, key=lambda n: NATIONS.index(n.name)))


@cache
def looked_for() -> Mapping[str, LookedFor]:
    """What to look for, by hold point."""
    path = FOLDER / "hold_points.toml"
    return _by_hold_point(LookedFor, tomllib.loads(path.read_text("utf-8")), path)


def _by_hold_point(model: type[M], entries: Mapping[str, Any], path: Path) -> dict[str, M]:
    if tuple(entries) != HOLD_POINTS:
        wrong = next(
            (n for n in (*HOLD_POINTS, *entries) if n not in entries or n not in HOLD_POINTS),
            next(iter(entries), None),
        )
        raise BasisError(
            f"{path.name}: {wrong}",
            wrong,
            "each hold point once, in order: " + ", ".join(HOLD_POINTS),
        )
    found = {}
    for name, entry in entries.items():
        try:
            found[name] = model.model_validate(entry)
        except ValidationError as error:
            first = error.errors()[0]
            where = f"{path.name}: {name}.{first['loc'][0]}"
            raise BasisError(where, first["input"], first["msg"].lower()) from None
    return found
