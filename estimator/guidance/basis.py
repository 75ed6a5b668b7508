"""Whose guidance: one data file per document and edition, every value with its source.

A basis is always chosen by the job; there is no default one. Every key stands in every file:
where the document gives no number it says "not stated". How a value is known is said of each
value: its document and edition where they are not the basis's own, the clause, and its standing.
A firm's own figures are read from a folder it names: `house.py`.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, Self, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from ..errors import BasisError, FileError
from ..files.opening import file_text, toml_in
from ..language.units import (
    AREA_PER_METRE,
    DENSITY,
    EACH,
    MICROMETRES,
    MILLIMETRES,
    PER_METRE,
    PER_SQUARE_METRE,
    PERCENT,
    Unit,
)

M = TypeVar("M", bound=BaseModel)

AT_LEAST, AT_MOST, NEITHER = 1, -1, 0  # on which side of the value the stricter figures lie


@dataclass(frozen=True)
class Key:
    """One thing guidance may give a figure for."""

    name: str
    label: str
    unit: Unit
    least: float
    most: float
    stricter: int
    help: str
    since: int = 1  # the layout in which it was first asked


KEYS = (
    Key("dpm_lap", "Lap in DPM sheet", MILLIMETRES, 50, 1000, AT_LEAST,
        "Lap between two strips of sheet, and between the sheets of two floors."),
    Key("dpm_dpc_lap", "DPM dressed on to the DPC", MILLIMETRES, 0, 500, AT_LEAST,
        "Length of sheet dressed on to the DPC that receives it, beyond its turn-up."),
    Key("dpm_thickness", "DPM sheet thickness", MICROMETRES, 100, 2000, AT_LEAST,
        "Thickness of polyethylene sheet."),
    Key("blinding_thickness", "Blinding thickness", MILLIMETRES, 0, 150, NEITHER,
        "Sand on the hardcore, under the sheet."),
    Key("blinding_density", "Blinding density in place", DENSITY, 1, 2.6, NEITHER,
        "Tonnes of sand for one cubic metre measured in place."),
    Key("hardcore_density", "Hardcore density in place", DENSITY, 1, 2.6, NEITHER,
        "Tonnes of hardcore for one cubic metre measured compacted in place."),
    Key("hardcore_depth_max", "Deepest hardcore", MILLIMETRES, 100, 1000, AT_MOST,
        "Deeper than this the floor is to be suspended."),
    Key("hardcore_layer_max", "Hardcore layer, most", MILLIMETRES, 50, 300, AT_MOST,
        "Thickness of each layer as compacted."),
    Key("blinding_loose_density", "Blinding density, loose", DENSITY, 0.8, 2.4, NEITHER,
        "For the second route, shown beside the first."),
    Key("blinding_consolidation", "Blinding consolidation", PERCENT, 0, 60, NEITHER,
        "Between loose and in place. The job says whether it multiplies or divides."),
    Key("hardcore_loose_density", "Hardcore density, loose", DENSITY, 0.8, 2.4, NEITHER,
        "For the second route, shown beside the first."),
    Key("hardcore_consolidation", "Hardcore consolidation", PERCENT, 0, 60, NEITHER,
        "Between loose and in place. The job says whether it multiplies or divides."),
    Key("slab_thickness_min", "Slab thickness, least", MILLIMETRES, 50, 300, AT_LEAST,
        "Ground-supported concrete."),
    Key("dpc_height_min", "DPC above ground, least", MILLIMETRES, 75, 300, AT_LEAST,
        "Above the finished ground beside the wall."),
    Key("cavity_clear_min", "Clear cavity below DPC", MILLIMETRES, 100, 400, AT_LEAST,
        "Below the lowest DPC."),
    Key("dpc_lap", "Lap in DPC", MILLIMETRES, 50, 500, AT_LEAST,
        "Lap at joints of a DPC roll, at an existing wall's DPC, and of a jamb DPC at head and sill."),
    Key("dpc_projection", "DPC may project", MILLIMETRES, 0, 50, NEITHER,
        "How much wider than the leaf a DPC may be bought without being trimmed."),
    Key("sill_turn_up", "Sill DPC turn-up", MILLIMETRES, 0, 300, AT_LEAST,
        "Turn-up of the DPC under a sill, at its back and at both ends."),
    Key("tray_rise", "Tray rise across the cavity", MILLIMETRES, 75, 400, AT_LEAST,
        "Height the tray gains from the outer leaf to the inner leaf."),
    Key("tray_build_in", "Tray built into the inner leaf", MILLIMETRES, 0, 215, AT_LEAST,
        "Width of tray held in the inner leaf. Common practice: 100 mm."),
    Key("tray_past_lintel", "Tray past the lintel, each end", MILLIMETRES, 0, 500, AT_LEAST,
        "How far a head tray reaches past each end of the lintel."),
    Key("tray_past_closer", "Tray past the closer, each end", MILLIMETRES, 0, 500, AT_LEAST,
        "How far a head tray reaches past the outer face of the cavity closer."),
    Key("tray_lap", "Lap in a site-formed tray", MILLIMETRES, 50, 500, AT_LEAST,
        "Lap where one roll of tray ends and the next begins."),
    Key("weep_spacing", "Weeps no further apart", MILLIMETRES, 225, 2000, AT_MOST,
        "Centres of weep holes over a tray, before rounding down to perpends."),
    Key("weep_from_end", "First weep from the tray's end", MILLIMETRES, 225, 2000, AT_MOST,
        "Distance of the first weep hole from the stop end, before rounding down to perpends."),
    Key("weeps_min", "Fewest weeps per tray", EACH, 1, 10, AT_LEAST,
        "However short the tray."),
    Key("vent_per_metre", "Void ventilation by the run", PER_METRE, 100, 10000, AT_LEAST,
        "Free area of openings for each metre of two opposite external sides."),
    Key("vent_per_area", "Void ventilation by the floor", PER_SQUARE_METRE, 100, 10000, AT_LEAST,
        "Free area of openings for each square metre of floor. The greater of the two rules "
        "counts."),
    Key("threshold_past", "Threshold tray past the opening, each end", MILLIMETRES, 0, 500, AT_LEAST,
        "How far the tray under a level threshold reaches past each side of the opening."),
    Key("frame_drain_area", "Drainage below a timber frame", AREA_PER_METRE, 100, 5000, AT_LEAST,
        "Free area of open perpends for each metre of wall below the sole plate of a timber frame."),
    Key("frame_drain_spacing", "Open perpends at a timber frame, apart", MILLIMETRES, 225, 3000, AT_MOST,
        "Centres of the open perpends below the sole plate, and again above a tray there."),
    Key("lead_piece_max", "Lead flashing, longest piece", MILLIMETRES, 300, 3000, AT_MOST,
        "Length of one piece of lead flashing, laps included."),
    Key("lead_lap", "Lap in lead flashing", MILLIMETRES, 50, 250, AT_LEAST,
        "Lap between two pieces of lead flashing."),
    Key("tray_past_opening", "Tray past an opening without a lintel, each end", MILLIMETRES, 0, 500,
        AT_LEAST, "How far a tray reaches past what bridges the cavity where there is no lintel: an "
        "air brick, a small box, a duct.", since=4),
)  # fmt: skip


class Strict(BaseModel):
    """A table of a basis file: no field that is not known, and none turned into another kind."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class Document(Strict):
    """The document a basis is taken from, and whom it binds."""

    title: str
    nation: str
    binds: str
    regulatory: bool
    name: str = ""  # as it is cited beside a value; blank where there is no document
    edition: str = ""
    firm: str = ""  # whose house figures they are; blank for what is published
    assumed: bool = False  # its figures stand in where neither the chosen basis nor the job has one

    @property
    def named(self) -> str:
        """The document's name in a note."""
        return f"{self.name} ({self.edition})" if self.name and self.edition else self.title


class Value(Strict):
    """One value as its document gives it, and how well the project knows it.

    `document` and `edition` say where it was seen, if not in the basis's own; `source` is the
    clause. `read`: that clause was seen in that edition; `reported`: in a page that reports it;
    `memory`: known, not looked up; `not seen`: nothing on it was seen, so no figure is stated.
    """

    value: float | Literal["not stated"]
    document: str = Field(default="", min_length=1)
    edition: str = Field(default="", min_length=1)
    source: str = Field(min_length=1)
    says: str = Field(min_length=1)
    standing: Literal["read", "reported", "memory", "not seen", "house figure"]

    @model_validator(mode="after")
    def _holds_together(self) -> Self:
        if self.document and not self.edition:
            raise ValueError("a value of another document names its edition")
        if self.standing == "not seen" and self.number is not None:
            raise ValueError("a figure was seen, reported or remembered: 'not seen' has none")
        return self

    @property
    def number(self) -> float | None:
        """The figure, or None where the document states none."""
        return None if isinstance(self.value, str) else self.value


@dataclass(frozen=True)
class Basis:
    """One document's values, by key."""

    name: str
    document: Document
    values: Mapping[str, Value]

    def citation(self, key: str) -> str:
        """The document, edition and clause of a value, as a person can look it up.

        A house figure is named as one, with what the firm says it follows.
        """
        value = self.values[key]
        if self.document.firm:
            after = f", after {value.document}, {value.edition}" if value.document else ""
            return f"{self.document.named}{after}: {value.source}"
        name, edition = self.edition_of(key)
        between = " " if edition[:1].isdigit() else ", "
        return f"{name}{between}{edition}, {value.source}" if name else value.source

    def edition_of(self, key: str) -> tuple[str, str]:
        """The document and edition in which a value stands; blanks where there is no document."""
        value = self.values[key]
        name = value.document or self.document.name
        return name, value.edition or self.document.edition


def entries_of(path: Path, whole: bool) -> dict[str, Any]:
    """The tables of a basis file, each named as a key; in a whole one every key has its own.

    Raises BasisError naming the key that is missing or unknown.
    """
    try:
        entries = toml_in(file_text(path))
    except FileError:
        raise
    except ValueError as error:
        raise BasisError(path.name, str(error), "TOML, as in the shipped bases") from None
    keys = [k.name for k in KEYS]
    for name in keys if whole else ():
        if name not in entries:
            raise BasisError(f"{path.name}: {name}", None, "a value for every key, or 'not stated'")
    for name in entries.keys() - {*keys, "document"}:
        raise BasisError(f"{path.name}: {name}", name, "one of " + ", ".join(keys))
    return entries


def load_basis(path: Path) -> Basis:
    """Read one basis file. Raises BasisError naming the key that is missing, unknown or wrong."""
    entries = entries_of(path, whole=True)
    document = checked_table(Document, entries.get("document"), f"{path.name}: document")
    values = {k.name: value_of(k, entries[k.name], path) for k in KEYS}
    for name, value in values.items():
        if value.standing == "read" and not (value.edition or document.edition):
            raise BasisError(f"{path.name}: {name}.edition", None, "the edition it was read in")
    return Basis(path.stem, document, values)


def value_of(key: Key, entry: Any, path: Path) -> Value:
    """One value of a file, within its limits. Raises BasisError naming the field."""
    value = checked_table(Value, entry, f"{path.name}: {key.name}")
    if value.number is not None and not key.least <= value.number <= key.most:
        raise BasisError(
            f"{path.name}: {key.name}.value", value.number, f"{key.least:g} to {key.most:g}"
        )
    return value


def shipped_bases() -> tuple[Basis, ...]:
    """Every basis that comes with the package; the regulatory one first."""
    folder = Path(__file__).parent / "bases"
    found = [load_basis(p) for p in sorted(folder.glob("*.toml"))]
    return tuple(sorted(found, key=lambda b: (not b.document.regulatory, b.name)))


def checked_table(model: type[M], entry: Any, where: str) -> M:
    """One table of a basis file, field by field. Raises BasisError naming the field."""
    try:
        return model.model_validate(entry)
    except ValidationError as error:
        first = error.errors()[0]
        at = ".".join((where, *(str(p) for p in first["loc"][:1])))
        if first["type"] == "missing":
            raise BasisError(at, None, "this field") from None
        if first["type"] == "extra_forbidden":
            fields = ", ".join(model.model_fields)
            raise BasisError(at, first["loc"][0], f"one of {fields}") from None
        if not isinstance(entry, dict):
            raise BasisError(where, entry, "a table of fields") from None
        accepted = first["msg"].removeprefix("Value error, ")
        found = None if isinstance(first["input"], dict) else first["input"]
        raise BasisError(at, found, accepted[0].lower() + accepted[1:]) from None


def labels_of(bases: Iterable[Basis]) -> dict[str, str]:
    """By each basis the text by which a person chooses it, which is no other's."""
    named = {b.name: b.document.named for b in bases}
    several = [label for label, count in Counter(named.values()).items() if count > 1]
    return {name: f"{own}, {name}" if own in several else own for name, own in named.items()}


def plain_data() -> dict[str, Any]:
    """All keys and shipped bases as plain data, for a host that has no pydantic to read them."""
    return {
        "keys": {
            k.name: {"label": k.label, "unit": k.unit.sign, "least": k.least, "most": k.most}
            for k in KEYS
        },
        "labels": labels_of(shipped_bases()),
        "bases": {
            b.name: {
                name: {"value": v.number, "source": b.citation(name), "standing": v.standing}
                for name, v in b.values.items()
            }
            for b in shipped_bases()
        },
    }
