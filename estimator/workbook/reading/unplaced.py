"""What a person put into a workbook that has no place in one laid out anew."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

from openpyxl.utils import column_index_from_string

from ...files.xlsx.cells import At, address_of, place
from ...model.plan import plan
from ..fronts import FRONTS
from ..layout import CELLS, CELLS_FIRST, PLACES_NAME, SCHEMA_NAME, VERSION_NAME, Layout, on
from ..refresh import held_back
from .comparison import differences, laid_ledger
from .inputs import Returned

# What stands in a package beside its sheets, by the beginning of a part's name under xl/.
_KINDS = {
    "comments": "notes on cells",
    "threadedComments": "comments",
    "drawings": "pictures, text boxes or charts",
    "charts": "charts",
    "media": "pictures",
    "chartsheets": "chart sheets",
    "tables": "tables",
    "pivot": "pivot tables",
    "slicer": "slicers",
    "externalLinks": "links to other workbooks",
    "ctrlProps": "form controls",
    "activeX": "controls",
    "vbaProject": "macros",
    "queryTables": "queries",
    "connections": "connections",
    "embeddings": "embedded documents",
    "customXml": "custom XML",
}
_DRAWING, _CHART = re.compile(r"drawings/drawing\d+\.xml"), re.compile(r"charts/chart\d+\.xml")
_RELATED = re.compile(r"drawings/_rels/(drawing\d+\.xml)\.rels")


def left_behind(returned: Returned, fresh: Mapping[str, set[Any]]) -> list[str]:
    """Everything that the same job laid out anew would not hold, each in a few words.

    `fresh` is what stands on each of its sheets.
    """
    ours = {span.sheet for span in returned.layout.spans.values()}
    ours |= {span.sheet for span in returned.layout.fronts.values()}
    ours |= {sheet for sheet, _ in returned.layout.cells.values()}
    ours |= {sheet for sheet, _ in returned.layout.typed_cells.values()}
    lines = [f"the sheet {on(s)}" for s in returned.sheets.parts if s not in ours]
    parts = _parts_of_others(returned)
    lines += list(
        dict.fromkeys(w for k, w in _KINDS.items() if any(p.startswith(k) for p in parts))
    )
    lines += [f"the name {name}" for name in _own_names(returned)]
    lines += returned.unknown
    if not returned.is_earlier:
        found = differences(returned, laid_ledger(returned))
        lines += [f"{d.where}: {d.kind}" for d in held_back(returned, found)]
    else:
        lines.append("whatever was typed over a formula: an earlier layout does not tell it")
    lines += returned.taken
    lines += [n.removesuffix(".") + ", stays as that number" for n in returned.notes]
    lines += list(_own_cells(returned, ours, fresh))
    return lines


def _parts_of_others(returned: Returned) -> list[str]:
    """What stands in the package, without what is there for our own drawings."""
    package = returned.sheets.package
    titles = {view.title for front in FRONTS for view in front.drawn}
    parts = [n.removeprefix("xl/") for n in package.names()]
    is_ours = {
        part: [
            (told := anchor.find(".//{*}cNvPr")) is not None and told.get("name") in titles
            for anchor in package.tree(f"xl/{part}")
        ]
        for part in parts
        if _DRAWING.fullmatch(part)
    }
    ours = sum(sum(each) for each in is_ours.values())
    left = [
        part for part in parts if not all(is_ours.get(_RELATED.sub(r"drawings/\1", part), (False,)))
    ]
    if sum(bool(_CHART.fullmatch(part)) for part in parts) > ours:
        return left
    return [part for part in left if not part.startswith("charts/")]


def _own_names(returned: Returned) -> list[str]:
    known = {*plan().cells, *plan().keyed, SCHEMA_NAME, PLACES_NAME, VERSION_NAME}
    return [n for n in returned.sheets.names if n not in known and not n.startswith("_xlnm.")]


def _own_cells(returned: Returned, ours: set[str], fresh: Mapping[str, set[Any]]) -> Iterator[str]:
    """Cells on our sheets that are not ours, and that no fresh workbook has."""
    held = _held(returned.layout)
    for sheet in returned.sheets.parts:
        if sheet not in ours:
            continue
        known = fresh.get(sheet, set().union(*fresh.values()))
        for at, stored in returned.sheets.cells(sheet).items():
            if (sheet, at) in held or stored.value in (None, "") or stored.value in known:
                continue
            yield f"{on(sheet)}!{address_of(at)}: {str(stored.value)[:40]!r}"


def _held(layout: Layout) -> set[tuple[str, At]]:
    """The cells that are ours: those with a name, those that repeat one, and all of every list."""
    held = {(sheet, place(at.replace("$", ""))) for sheet, at in layout.cells.values()}
    held |= {(sheet, place(at.replace("$", ""))) for _, sheet, at in layout.again}
    held |= {(sheet, place(at.replace("$", ""))) for sheet, at in layout.typed_cells.values()}
    if layout.is_apart:  # what is read and tested beside each named cell
        rows = range(1, CELLS_FIRST + len(layout.cells))
        held |= {(CELLS, (row, column)) for row in rows for column in range(1, 8)}
    for name in layout.spans if layout.is_apart else ():  # the head of an engine
        head = layout.spans[name]
        held |= {
            (head.sheet, (row, column_index_from_string(letter)))
            for row in range(1, head.first)
            for letter in head.letters.values()
        }
    for span in (*layout.spans.values(), *layout.fronts.values()):
        columns = [column_index_from_string(letter) for letter in span.letters.values()]
        rows = range(span.first, span.last + 1)
        held |= {(span.sheet, (row, column)) for row in rows for column in columns}
    return held
