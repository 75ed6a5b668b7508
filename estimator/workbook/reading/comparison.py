"""What a workbook shows held against what is worked out from its inputs, cell by cell."""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta
from functools import partial
from typing import Any, NamedTuple

from ...files.xlsx.cells import NOTHING, Failed, Stored, as_words, place
from ...language import NOT_AVAILABLE
from ...language.ledger import Ledger
from ...language.tables import Input, Table
from ...model.plan import plan
from ...model.spelling import one_line
from ..blocks import label_of
from ..content import Content, Filled
from ..contents import Contents
from ..fronts import ENGINE
from ..layout import CELL_VALUE, CELLS, CELLS_FIRST, cells_in_order, on
from .inputs import Returned
from .shape import front_rows

TYPED_OVER = "typed over"  # a figure stands where a formula should
CHANGED = "formula changed"
UNWIRED = "no formulas"  # a row that was put in without them
STALE = "not recalculated"  # the formula is right, the stored result is not
FIXED = "text changed"  # in a list that comes with the program
_FIRST = 5  # of what is only out of date, so many are named
_PLAIN_VALUES = (float, str)  # of these kinds equal values are alike; an error value is no text

_NUMBER = re.compile(r"(?<![A-Za-z$_\d.])\d+(?:\.\d*)?(?:[eE][+-]?\d+)?")
_TWICE = re.compile(r"(\$?[A-Z]{1,3}\$?\d+):\1(?!\d)")
# A text, or the name of a sheet in quotes: in neither is a blank or a number another spelling.
_KEPT = re.compile(r"""("(?:[^"]|"")*")|'((?:[^']|'')+)'!""")
_PLAIN_NAME = re.compile(r"[\w.]+")


@dataclass(frozen=True)
class Difference:
    """One cell that is not what it should be. `at` is its sheet, row and column."""

    at: tuple[str, int, int]
    where: str
    kind: str
    shown: Any
    expected: Any
    content: Content

    @property
    def sentence(self) -> str:
        """What is said of it."""
        if self.kind == UNWIRED and not self.at[0].startswith(ENGINE):
            return f"{self.where}: there is no formula here. What is typed counts all the same."
        if self.kind == UNWIRED:
            return f"{self.where}: this row has no formulas, so the sheet does not count it."
        shown, expected = said(self.shown), said(self.expected)
        kind = "" if self.kind == STALE else f"{self.kind}, "
        return f"{self.where}: {kind}shows {shown}, worked out {expected}."


def said(value: Any) -> str:
    """A figure or text as it is said in a sentence."""
    if value is NOT_AVAILABLE:
        return "#N/A"
    if value is None or value == "":
        return "nothing"
    if isinstance(value, Failed):
        return str(value)
    if isinstance(value, date | time | timedelta):
        return as_words(value)
    return repr(value) if isinstance(value, str) else f"{value:.12g}"


def laid_ledger(returned: Returned) -> Ledger:
    """Every figure of the job, its lists as long as they are in the workbook."""
    return returned.laid_ledger()


class Column(NamedTuple):
    """Cells of ours, one under another from a first one, and what should stand in each."""

    sheet: str
    row: int
    column: int
    contents: Sequence[Content]
    words: Callable[[int], str]  # for the place of the n-th, made only where they are asked for


def every_column(returned: Returned, ledger: Ledger) -> Iterator[Column]:
    """Each named cell, each place that shows one again, and each column of each list."""
    layout, contents = returned.layout, Contents(ledger, returned.layout)
    order = cells_in_order(plan())
    for letter, found in contents.cells():
        words = partial(_of_named, returned, order, "" if letter == CELL_VALUE else letter)
        yield Column(CELLS, CELLS_FIRST, place(f"{letter}1")[1], found, words)
    for name, sheet, address in layout.again:
        row, column = place(address.replace("$", ""))
        label = (plan().cells.get(name) or plan().keyed_items[name]).label
        words = partial(_of_again, returned, f"{on(sheet)}!{address.replace('$', '')}", label)
        yield Column(sheet, row, column, (contents.again(name),), words)
    for name, span in layout.spans.items():
        table = plan().tables[name]
        named = contents.column(table, "label" if table.has("label") else table.key_in_use)
        if name in layout.fronts:
            yield from _of_front(returned, contents, table, named)
        for column_name, letter in span.letters.items():
            _, column = place(f"{letter}1")
            start = f"{on(span.sheet)}!{letter}", span.first
            words = partial(_in_list, returned, start, named, label_of(table, column_name))
            found = contents.column(table, column_name)
            yield Column(span.sheet, span.first, column, found, words)


def _of_front(
    returned: Returned, contents: Contents, table: Table, named: Sequence[Content]
) -> Iterator[Column]:
    """What stands beside what is typed. A row put in without it counts all the same."""
    front = returned.layout.fronts[table.name]
    cells = returned.sheets.cells(front.sheet)
    rows = front_rows(returned, table)
    for name, letter in front.letters.items():
        if table.has(name) and isinstance(table.column(name), Input):
            continue
        _, column = place(f"{letter}1")
        label = label_of(table, name)
        found = contents.front(table, name)
        for n, row in rows.items():
            if n <= len(found) and (row, column) in cells:
                at = f"{on(front.sheet)}!{letter}{row}"
                words = partial(_in_front, returned, at, named, label, n - 1)
                yield Column(front.sheet, row, column, (found[n - 1],), words)


def _in_front(
    returned: Returned, at: str, named: Sequence[Content], label: str, n: int, _: int
) -> str:
    its_name = named[n].value if n < len(named) else ""
    return _where(returned, at, f"{its_name}: {label}" if its_name else label)


def _where(returned: Returned, at: str, words: str) -> str:
    return f"{returned.path.name}: {at} ({words})"


def _of_named(returned: Returned, order: Sequence[str], letter: str, n: int) -> str:
    at = f"{CELLS}!{letter or CELL_VALUE}{CELLS_FIRST + n}"
    return _where(returned, at, plan().cells[order[n]].label)


def _of_again(returned: Returned, at: str, label: str, _: int) -> str:
    return _where(returned, at, label)


def _in_list(
    returned: Returned, start: tuple[str, int], named: Sequence[Content], label: str, n: int
) -> str:
    column, first = start
    its_name = named[n].value
    return _where(returned, f"{column}{first + n}", f"{its_name}: {label}" if its_name else label)


def differences(returned: Returned, ledger: Ledger) -> list[Difference]:
    """Every cell of ours that is typed over, changed, without its formula or out of date."""
    found: list[Difference] = []
    for sheet, first, column, contents, words in every_column(returned, ledger):
        cells = returned.sheets.cells(sheet)
        for n, wanted in enumerate(_pairs(contents)):
            stored = cells.get((first + n, column), NOTHING)
            value = stored.value
            if wanted == (stored.formula, value) and type(value) in _PLAIN_VALUES:
                continue  # nearly every cell, and there are tens of thousands
            content = contents[n]
            kind = _kind(stored, content)
            if kind is not None:
                at = (sheet, first + n, column)
                one = Difference(at, words(n), kind, stored.value, content.value, content)
                found.append(one)
    return found


def _pairs(contents: Sequence[Content]) -> Iterator[tuple[str | None, Any]]:
    """The formula and the result or value of each."""
    if isinstance(contents, Filled):
        return contents.pairs()
    return ((content.formula, content.value) for content in contents)


def _kind(stored: Stored, content: Content) -> str | None:
    if content.typed:
        return None
    if content.formula is None:
        return None if _alike(stored, content) else FIXED
    if stored.formula is None:
        return UNWIRED if stored.value is None else TYPED_OVER
    same = content.grows or stored.formula == content.formula
    if not same and spelled(stored.formula) != spelled(content.formula):
        return CHANGED
    return None if _alike(stored, content) else STALE


def _alike(stored: Stored, content: Content) -> bool:
    value = content.value
    # A number that someone gave a date's format is still that number.
    shown = stored.value if stored.number is None else stored.number
    if value is NOT_AVAILABLE:
        return isinstance(shown, Failed) and shown == "#N/A"
    if value is None or value == "":
        return shown is None or (shown == "" and not isinstance(shown, Failed))
    if isinstance(value, str):
        if isinstance(shown, Failed) or not isinstance(shown, str):
            return False
        # A formula shows a text as it was typed; the job holds it as its list spells it.
        return shown == value or (
            content.formula is not None and one_line(shown).lower() == value.lower()
        )
    if isinstance(shown, str) or not isinstance(shown, int | float):
        return False
    if content.unit.exact:
        return bool(shown == value)
    return abs(shown - value) <= 1e-9 * max(1.0, abs(value))


def spelled(formula: str) -> str:
    """A formula in one spelling: programs write blanks, numbers and single cells in their own way."""
    parts, at = [], 0
    for kept in _KEPT.finditer(formula):
        parts.append(_plain(formula[at : kept.start()]))
        quoted = kept.group(2)
        plain = quoted is not None and _PLAIN_NAME.fullmatch(quoted)
        parts.append(f"{quoted}!" if plain else kept.group())
        at = kept.end()
    return "".join([*parts, _plain(formula[at:])])


def _plain(part: str) -> str:
    """A piece without texts, its blanks left out, each number and single cell in one spelling."""
    once = _TWICE.sub(r"\1", "".join(part.split()))
    return _NUMBER.sub(lambda m: f"{float(m.group()):.15g}", once)


def by_row(found: list[Difference]) -> list[Difference]:
    """A row without formulas is one finding, not one for each of its columns."""
    seen: set[tuple[str, int]] = set()
    kept = []
    for difference in found:
        if difference.kind == UNWIRED:
            row = difference.at[:2]
            if row in seen:
                continue
            seen.add(row)
        kept.append(difference)
    return kept


def told(found: Sequence[Difference]) -> list[str]:
    """What is said of them: all that a person changed; of what is out of date how much, and the first."""
    theirs = [d for d in found if d.kind != STALE]
    stale = [d for d in found if d.kind == STALE]
    lines = [d.sentence for d in theirs]
    if stale:
        count = "1 cell was" if len(stale) == 1 else f"{len(stale)} cells were"
        why = ", or follow from what is above" if theirs else ""
        first = ". The first of them" if len(stale) > _FIRST else ""
        lines.append(f"{count} not recalculated when the file was saved{why}{first}:")
        lines += [f"  {d.sentence}" for d in stale[:_FIRST]]
    if len(stale) > _FIRST:
        lines.append(f"  and {len(stale) - _FIRST} more")
    return lines
