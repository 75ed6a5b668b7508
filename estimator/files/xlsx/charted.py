"""What a chart keeps of the cells it reads, brought up to date where such a cell is changed.

A program that does not calculate draws a chart from what it keeps, not from the cells.
"""

import re
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from lxml import etree
from openpyxl.utils import column_index_from_string

from .cells import At
from .opening import Package

_PART = re.compile(r"xl/charts/chart\d+\.xml")
_AREA = re.compile(
    r"(?:'((?:[^']|'')+)'|([^'!,()]+))!\$?([A-Z]{1,3})\$?(\d+)(?::\$?([A-Z]{1,3})\$?(\d+))?"
)


class Kept(NamedTuple):
    """A chart's reference to an area, and the part of it that keeps what stands there."""

    sheet: str
    first: At
    last: At
    cache: Any

    def number(self, at: At) -> int | None:
        """Which cell of the area it is, row by row and counted from 0; None outside."""
        (top, left), (bottom, right), (row, column) = self.first, self.last, at
        if not (top <= row <= bottom and left <= column <= right):
            return None
        return (row - top) * (right - left + 1) + column - left


def charts(package: Package) -> list[str]:
    """The parts that are charts."""
    return [name for name in package.names() if _PART.fullmatch(name)]


def kept(tree: Any) -> Iterator[Kept]:
    """Every reference of a chart to one area that keeps figures or texts."""
    for reference in tree.iter("{*}numRef", "{*}strRef"):
        found = _AREA.fullmatch(reference.findtext("{*}f") or "")
        cache = next((c for c in reference if etree.QName(c).localname.endswith("Cache")), None)
        if found is None or cache is None:
            continue
        quoted, bare, left, top, right, bottom = found.groups()
        first = int(top), column_index_from_string(left)
        last = int(bottom or top), column_index_from_string(right or left)
        yield Kept(quoted.replace("''", "'") if quoted else bare, first, last, cache)


def redrawn(package: Package, texts: Mapping[str, Mapping[At, str | None]]) -> dict[str, Any]:
    """The charts that read changed cells, as trees by their parts.

    `texts` are the changed cells as they are stored, by sheet; None for one that is blank.
    """
    found = {}
    for part in charts(package):
        tree = package.tree(part)
        changed = [_put(each, texts.get(each.sheet, {})) for each in kept(tree)]
        if any(changed):
            found[part] = tree
    return found


def _put(kept: Kept, texts: Mapping[At, str | None]) -> bool:
    """Put changed cells into what is kept of them. Whether there were any."""
    space = kept.cache.tag.rpartition("}")[0] + "}"
    points = {int(p.get("idx")): p for p in kept.cache.iterfind("{*}pt")}
    changed = False
    for at, text in texts.items():
        number = kept.number(at)
        if number is None:
            continue
        changed = True
        if number in points:
            kept.cache.remove(points.pop(number))
        if text is None:
            continue
        point = etree.Element(f"{space}pt", idx=str(number))
        etree.SubElement(point, f"{space}v").text = text
        points[number] = point
    if changed:
        for number in sorted(points):  # in the order of the cells, whatever was there before
            kept.cache.append(points[number])
    return changed
