"""How much a price is for, as merchants write it: roll 30m, per m, each, box of 10, 25kg bag."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..takeoff.sheet_gauge import micrometres

_NUMBER = r"(?P<n>\d+(?:\.\d+)?)"
_METRES = re.compile(rf"{_NUMBER} ?(?:m|mtrs?|metres?|meters?|lm)\b(?! ?[²³23])")
_MILLIMETRES = re.compile(rf"{_NUMBER} ?mm\b")
_CROSS = re.compile(rf"{_NUMBER} ?(?=x ?\d+(?:\.\d+)? ?m\b)")  # the 4 of 4 x 25m
_MICROMETRES = re.compile(rf"{_NUMBER} ?(?:μm|um|mu|mic|microns?|micrometres?)\b")
# Of sheet. A bare g is one only behind four figures, and not in g/m².
_GAUGE = re.compile(r"\b(?P<n>\d{3,4})(?: ?gauge|(?<=\d{4}) ?g)\b(?! ?(?:/|per\b))")
_SQUARE = re.compile(rf"{_NUMBER} ?(?:m2|m²|sqm|sq m|sq\. ?m|square metres?)(?![a-z0-9])")
_CUBIC = re.compile(r"(?:m3|m³|cu m|cubic metres?)(?![a-z0-9])|\blit(?:re|er)s?\b")
_KILOGRAMS = re.compile(rf"{_NUMBER} ?(?:kgs?|kilos?)\b")
_TONNES = re.compile(rf"{_NUMBER} ?(?:t|tonnes?|tons?)\b")
_HOLDER = r"(?:pack|pk|pkt|packet|box|bx|carton|ctn|case|bag|bundle|set|tub)s?"
_NOT_A_SIZE = r"(?![\d.]| ?(?:mm|m|mtrs?|metres?|kgs?|kilos?|t|tonnes?|ltr|litres?|x)\b| ?[²³%])"
_PIECES = (
    re.compile(rf"\b{_HOLDER}(?: of |/| ?\(| )? ?{_NUMBER}{_NOT_A_SIZE}"),
    re.compile(rf"{_NUMBER}(?: ?/ ?| per | |-)?{_HOLDER}\b"),
    re.compile(rf"{_NUMBER} ?(?:no\b\.?|nr\b|pcs?\b|pieces?\b|off\b)"),
    re.compile(rf"^(?:per )?{_NUMBER}(?:s|'s)?$"),
)
_ONE = re.compile(r"(?:per |each )?(?:each|ea|unit|item|piece|pce|no|nr|single|1)\.?")
_PER_METRE = re.compile(r"(?:per |each |price )?(?:linear |lin |l)?(?:m|mtr|metre|meter|lm)\.?")
_PER_SQUARE = re.compile(r"(?:per )?(?:m2|m²|sqm|sq m|square metre)\.?")
_PER_TONNE = re.compile(r"(?:per )?(?:t|te|tonne|ton)\.?")
_PER_KILO = re.compile(r"(?:per )?(?:kg|kilo)\.?")
_BY_MEASURE = re.compile(r"(?:\bper |/ ?)(?:(?:linear |lin )?(?:m|mtr|metre|meter|lm)|m2|m²|sqm|sq m|square metre|t|te|tonne|ton|kg|kilo)\b")  # fmt: skip
_WORDS = {"pair": 2.0, "dozen": 12.0, "hundred": 100.0, "thousand": 1000.0}
_LEAST_WIDTH = 10  # mm: less is a thickness
_WIDEST = 12  # m, of sheet, as in the price book
_NEAR = 0.001  # of a size: 12.5 and 12.50 are one, 12.5 and 12.6 are not


@dataclass(frozen=True)
class Stated:
    """The sizes a text states: m, mm, m², kg and pieces; empty where it states none."""

    metres: tuple[float, ...] = ()
    millimetres: tuple[float, ...] = ()
    square: tuple[float, ...] = ()
    kilograms: tuple[float, ...] = ()
    pieces: float | None = None
    one: bool = False  # "each": one of whatever is described
    by_volume: bool = False

    @property
    def is_silent(self) -> bool:
        """Whether it states no size at all, as `roll`."""
        return self == Stated()


def stated(text: str) -> Stated:
    """The sizes in a text.

    >>> stated("Roll 30m").metres, stated("box of 10").pieces, stated("per m").metres
    ((30.0,), 10.0, (1.0,))
    """
    said = _plain(text).removeprefix("/").strip()
    if _ONE.fullmatch(said):
        return Stated(one=True)
    if _PER_METRE.fullmatch(said):
        return Stated(metres=(1.0,))
    if _PER_SQUARE.fullmatch(said):
        return Stated(square=(1.0,))
    if _PER_TONNE.fullmatch(said):
        return Stated(kilograms=(1000.0,))
    if _PER_KILO.fullmatch(said):
        return Stated(kilograms=(1.0,))
    across = _all(_CROSS, said)  # of sheet in metres, of all else in millimetres
    kilograms = (*_all(_KILOGRAMS, said), *(1000 * t for t in _all(_TONNES, said)))
    return Stated(
        (*(n for n in across if n <= _WIDEST), *_all(_METRES, said)),
        (*_all(_MILLIMETRES, said), *(n for n in across if n > _WIDEST)),
        _all(_SQUARE, said),
        kilograms,
        _pieces(said),
        by_volume=_CUBIC.search(said) is not None,
    )


def is_by_measure(text: str) -> bool:
    """Whether it prices a measure, of which any part is sold, and no pack: `per m`, `tonne`.

    >>> is_by_measure("per tonne, loose"), is_by_measure("box of 100")
    (True, False)
    """
    said = " ".join(text.casefold().split())
    by_one = (_PER_METRE, _PER_SQUARE, _PER_TONNE, _PER_KILO)
    return any(p.fullmatch(said) for p in by_one) or _BY_MEASURE.search(said) is not None


def thicknesses(text: str) -> tuple[float, ...]:
    """The thicknesses of sheet that a text states, in µm: by microns, by gauge, or in small mm.

    >>> thicknesses("DPM 300mu 4m x 25m"), thicknesses("1200 gauge"), thicknesses("370 g/m²")
    ((300.0,), (300.0,), ())
    """
    said = _plain(text)
    return (
        *_all(_MICROMETRES, said),
        *(micrometres(n) for n in _all(_GAUGE, said)),
        *(1000 * n for n in _all(_MILLIMETRES, said) if n < _LEAST_WIDTH),
    )


def gauge_as_micrometres(text: str) -> str:
    """The text with its gauges as the micrometres that they are.

    >>> gauge_as_micrometres("DPM 1200 gauge, 4m")
    'dpm 300 um, 4m'
    """
    return _GAUGE.sub(lambda found: f"{micrometres(float(found['n'])):g} um", _plain(text))


def _plain(text: str) -> str:
    """In small letters, with one sign for each thing: 1,200 is 1200, × is x."""
    said = " ".join(text.casefold().replace("×", "x").replace("\xa0", " ").split())
    return re.sub(r"(?<=\d),(?=\d{3}\b)", "", said)


def _all(pattern: re.Pattern[str], text: str) -> tuple[float, ...]:
    return tuple(float(m["n"]) for m in pattern.finditer(text))


def _pieces(text: str) -> float | None:
    for pattern in _PIECES:
        if found := pattern.search(text):
            return float(found["n"])
    return next((n for word, n in _WORDS.items() if re.search(rf"\b{word}s?\b", text)), None)


def misfit(pack: str, description: str, row: Mapping[str, Any]) -> str | None:
    """What a list states of the pack that is another in the book's row; None where nothing is.

    `pack` is what the price is said to be for. Where it is silent on a measure, the description
    is read. What neither states is no misfit.
    """
    by_pack, described = stated(pack), stated(description)
    pieces = by_pack.pieces
    if pieces is None and (by_pack.one or by_pack.is_silent):
        pieces = described.pieces or (1 if by_pack.one else None)
    if by_pack.by_volume:
        return "by volume"
    if row["length"] is not None:
        found = by_pack.metres or described.metres
        # A length in millimetres may fit, yet is mostly a width: it never makes a misfit.
        fits = (*found, *(n / 1000 for n in (*by_pack.millimetres, *described.millimetres)))
        if found and not _among(row["length"], fits):
            return f"{found[-1]:g} m"
    if wide := other_width(pack, description, row):
        return wide
    if row["thickness"] is not None:
        thick = thicknesses(pack) or thicknesses(description)
        if thick and not _among(row["thickness"], thick):
            return f"{thick[0]:g} µm"
    if row["length"] is not None and row["width"] is not None:
        area = row["length"] * row["width"] / 1000
        found = by_pack.square or described.square
        if found and not _among(area, found):
            return f"{found[-1]:g} m²"
    elif by_pack.square:
        return f"{by_pack.square[-1]:g} m²"
    if row["weight"] is not None:
        found = by_pack.kilograms or described.kilograms
        if found and not _among(row["weight"], found):
            return f"{found[-1]:g} kg"
    elif by_pack.kilograms:
        return f"{by_pack.kilograms[-1]:g} kg"
    if pieces is not None and not _among(row["pieces"] or 1, (pieces,)):
        return f"{pieces:g} {'piece' if pieces == 1 else 'pieces'}"
    return None


def other_width(pack: str, description: str, row: Mapping[str, Any]) -> str | None:
    """The width that a list states instead of the book's (mm); None where it is that, or none is.

    Two lengths in metres are taken as those of a sheet, and one of them for its width.
    """
    width, by_pack, described = row["width"], stated(pack), stated(description)
    if width is None:
        return None
    small = [n for n in (*by_pack.millimetres, *described.millimetres) if n >= _LEAST_WIDTH]
    sheet = next((s.metres for s in (by_pack, described) if len(s.metres) > 1), ())
    found = (*(1000 * n for n in sheet), *small)
    if not found or _among(width, found):
        return None
    return f"{small[0] if small else min(found):g} mm"


def _among(size: float, found: tuple[float, ...]) -> bool:
    return any(abs(n - size) <= _NEAR * size for n in found)
