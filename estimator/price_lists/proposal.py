"""A map proposed for a supplier's price list, by its headings: text for a person to correct.

So are entries for what a map that is there leaves out.
"""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..errors import PriceError
from ..model.job import Job
from ..model.spelling import one_line
from .amounts import looks_decimal_comma
from .headings import MOST_ABOVE, Columns, Line, heading_names, lines_of, text_of
from .mapping import COLUMNS, text_key
from .pack_sizes import gauge_as_micrometres, misfit, other_width
from .sheets import Sheet

# What merchants call their columns, common practice, from memory; the likeliest first.
_CALLED: dict[str, tuple[str, ...]] = {
    "code": (
        "product code", "item code", "stock code", "code", "sku", "item no", "item number",
        "product no", "product number", "part no", "part number", "article no", "article",
        "cat no", "catalogue no", "catalogue number", "our ref", "ref", "reference",
    ),
    "description": (
        "description", "product description", "item description", "desc", "product", "item",
        "product name", "name", "details", "material", "what it is",
    ),
    "price": (
        "net price", "nett price", "your price", "net", "nett", "trade price", "price", "unit price",
        "trade", "cost", "cost price", "list price", "sell price", "selling price", "retail price",
    ),
    "pack": (
        "pack size", "pack", "unit of sale", "sold per", "sold by", "unit", "uom", "unit of measure",
        "per", "price per", "selling unit", "pack qty", "qty per pack", "size", "sold as",
    ),
    "discount": ("discount", "disc", "your discount", "discount group", "disc group", "terms"),
}  # fmt: skip
_NOT_SAID = re.compile(r"[^a-z0-9/ ]+")
_IN_BRACKETS = re.compile(r"\(.*?\)|\b(?:inc|incl|including|ex|exc|excl|excluding|plus)\W*(?:of )?vat\b|£|%|\bpence\b|\bgbp\b")  # fmt: skip
_WITH_VAT = re.compile(r"\b(?:inc|incl|includes?|including|inclusive|with)\b\W*(?:of )?vat|vat inc")
_WITHOUT_VAT = re.compile(r"\b(?:ex|exc|excl|excludes?|excluding|exclusive|plus|without|net|no)\b\W*(?:of )?vat|\+ ?vat|vat ex|subject to vat")  # fmt: skip
_PENCE = re.compile(r"\bpence\b|\(p\)")
_WORD = re.compile(r"[a-z]+|\d+(?:\.\d+)?")
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f]")
# Words and units that say nothing of what a thing is.
_NO_NAMES = {
    *("roll", "pack", "bag", "box", "for", "and", "the", "of", "up", "to"),
    *("mm", "m", "kg", "um", "mu", "mic", "micron", "microns", "x"),
}
_DAMP_PROOF = re.compile(r"\bdamp[- ]?proof(?:ing)? (membrane|course)s?\b")
_SHORT = {"membrane": "dpm", "course": "dpc"}  # as the trade says it
_LIKELY = 3  # rows that are shown for a product
_HEAD = """\
# How the price list of one supplier is read. Proposed from {file}; correct it before anything is
# taken. A line that begins with "#" is not read. docs/prices.md shows every entry.

supplier = {supplier}
{vat}
prices_in = "{unit}"  # or "{other_unit}"
# prices_are = "net"  # the list gives what you pay: the trade discount on Prices is not taken off
decimal = "{decimal}"  # the sign before the pence in a price that is a text
# dated = 2026-03-01  # the day the prices are of
sheets = [{sheets}]{hidden}

[columns]  # the headings as they are in the list
"""
_PRODUCTS = """
# Which row of the list is which product of the price book: "code or description" = "product".
# Where the list's pack is another:   "..." = { product = "...", listed_as = "per m", times = 30 }
# For a product that is not in the book: add material, description and sizes (docs/job-file.md).
[products]
"""


@dataclass(frozen=True)
class Proposed:
    """The text of a map, and how many products of the book it has found."""

    text: str
    matched: int
    likely: int
    unlike: int


def proposed(job: Job, supplier: str, sheets: Sequence[Sheet]) -> Proposed:
    """The map that a list's headings suggest. Raises PriceError where no row looks like headings."""
    guessed = {s.name: g for s in sheets if (g := _guessed(s)) is not None}
    read = [s for s in sheets if s.name in guessed and not s.hidden]
    if not read:
        file = sheets[0].file if sheets else "the list"
        accepted = (
            f"in one of the first {MOST_ABOVE} rows the headings of a price and of a code or a "
            "description (Price, Code, Description, ...); or a map of your own"
        )
        raise PriceError(file, "no headings that are known", accepted)
    called: dict[str, list[str]] = {}
    lines: list[Line] = []
    for sheet in read:
        columns, names = guessed[sheet.name]
        for column, name in names.items():
            if text_key(name) not in map(text_key, called.setdefault(column, [])):
                called[column].append(name)
        lines += lines_of(sheet, columns)
    text = _head(supplier, sheets, read, guessed, lines)
    for column in COLUMNS:
        if column in called:
            listed = [_quoted(n) for n in called[column]]
            shown = listed[0] if len(listed) == 1 else f"[{', '.join(listed)}]"
            text += f"{column} = {shown}\n"
        else:
            text += f'# {column} = ""\n'
    text += _groups(lines)
    found = list(_products(job, supplier, lines))
    text += _PRODUCTS + "".join(entry for _, entry in found)
    kinds = [kind for kind, _ in found]
    return Proposed(text, kinds.count("same"), kinds.count("likely"), kinds.count("none"))


def supplier_in(sheets: Sequence[Sheet], file: str, suppliers: Sequence[str]) -> str | None:
    """The one supplier whose name stands above a list or in its file's name; None if not one."""
    if len(suppliers) == 1:
        return suppliers[0]
    texts = [file, *(text_of(c) for s in sheets for _, cells in s.rows[:MOST_ABOVE] for c in cells)]
    said = [word for t in texts for word in _words(t)]
    names = {s: _words(s.partition("(")[0]) for s in suppliers}
    whole = [s for s, words in names.items() if " ".join(words) in " ".join(said)]
    short = [s for s, words in names.items() if words and words[0] in said]  # as most call it
    named = whole or short
    return named[0] if len(named) == 1 else None


def _rank(heading: str, column: str) -> int | None:
    """How likely a heading is that column's, 0 the likeliest; None for no such heading.

    One that only has the column's own word in it comes after all that are usual: "price each".
    """
    usual = _CALLED[column]
    if heading in usual:
        return usual.index(heading)
    taken = any(heading in names for names in _CALLED.values())
    return len(usual) if column in heading.split() and not taken else None


def _guessed(sheet: Sheet) -> tuple[Columns, dict[str, str]] | None:
    """The columns of a sheet by what their headings are usually called, and those headings."""
    best: tuple[int, Columns, dict[str, str]] | None = None
    for n in range(min(len(sheet.rows), MOST_ABOVE)):
        names = heading_names(sheet, n)
        at: dict[str, int] = {}
        for column in _CALLED:
            ranked = [
                (rank, place)
                for place, said in names.items()
                for plain in map(_plain, said)
                if (rank := _rank(plain, column)) is not None and place not in at.values()
            ]
            if ranked:
                at[column] = min(ranked)[1]
        # Where another column has the description, one headed Item has the codes.
        items = [p for p, said in names.items() if "item" in map(_plain, said)]
        if "code" not in at and "description" in at and items and items[0] not in at.values():
            at["code"] = items[0]
        if "price" in at and ("code" in at or "description" in at):
            score = len(at)
            if best is None or score > best[0]:
                shown = {c: _as_written(sheet, n, place) for c, place in at.items()}
                best = (score, Columns(sheet.rows[n][0], at, heading=shown["price"]), shown)
    return None if best is None else best[1:]


def _as_written(sheet: Sheet, n: int, column: int) -> str:
    """The heading as the map has to say it: with the one above where it is not the only one."""
    names = heading_names(sheet, n)
    own = names[column][0]
    if sum(own in said for said in names.values()) > 1 and len(names[column]) > 1:
        return names[column][1]
    cells = sheet.rows[n][1]
    return (text_of(cells[column]) if column < len(cells) else "") or own


def _plain(heading: str) -> str:
    return " ".join(_NOT_SAID.sub(" ", _IN_BRACKETS.sub(" ", heading)).split())


def _head(
    supplier: str,
    sheets: Sequence[Sheet],
    read: Sequence[Sheet],
    guessed: Mapping[str, tuple[Columns, dict[str, str]]],
    lines: Sequence[Line],
) -> str:
    above = [
        text_key(text_of(c))
        for s in read
        for row, cells in s.rows
        if row <= guessed[s.name][0].row
        for c in cells
    ]
    heads = [text_key(guessed[s.name][1]["price"]) for s in read]
    vat = _vat_said(heads) or _vat_said(above)
    texts = [line.price for line in lines if isinstance(line.price, str) and line.price]
    comma = any(map(looks_decimal_comma, texts))
    in_pence = any(_PENCE.search(h) for h in heads)
    hidden = [s.name for s in sheets if s.hidden]
    units = ("pence", "pounds") if in_pence else ("pounds", "pence")
    return _HEAD.format(
        file=_remark(read[0].file),
        supplier=_quoted(supplier),
        vat=f'vat = "{vat}"  # whether the prices hold VAT: or "{_OTHER_VAT[vat]}"' if vat else
        '# vat =   # to be filled in: "included" or "excluded"',
        unit=units[0],
        other_unit=units[1],
        decimal="," if comma else ".",
        sheets=", ".join(_quoted(s.name) for s in read) if read[0].name else "",
        hidden=f"  # hidden: {_remark(', '.join(hidden))}" if hidden else "",
    )  # fmt: skip


_OTHER_VAT = {"included": "excluded", "excluded": "included"}


def _vat_said(texts: Sequence[str]) -> str:
    """Whether prices hold VAT, where the texts say one of the two and not both."""
    with_it = any(_WITH_VAT.search(t) for t in texts)
    without = any(_WITHOUT_VAT.search(t) for t in texts)
    return "" if with_it == without else "included" if with_it else "excluded"


def _groups(lines: Sequence[Line]) -> str:
    """The groups of discount that are no figures, each to be filled in."""
    groups: dict[str, None] = {}
    for line in lines:
        said = line.discount
        if isinstance(said, str) and said.strip() and not re.search(r"\d", said):
            groups.setdefault(said.strip(), None)
    if not groups:
        return ""
    entries = "".join(f"# {_quoted(g)} =   # to be filled in: per cent\n" for g in sorted(groups))
    return "\n[discounts]  # what each group stands for\n" + entries


def suggested(rows: Sequence[Mapping[str, Any]], lines: Sequence[Line]) -> dict[str, list[str]]:
    """Entries of a map for products of the book, by their codes, out of the lines of a list.

    A line that fits the pack of one product is not suggested for another that it does not fit.
    """
    found = [(row, line) for row, _, some in _matches(rows, lines) for line in some]
    fits = [misfit(line.pack, line.description, row) is None for row, line in found]
    placed = {line.place for (_, line), is_fit in zip(found, fits, strict=True) if is_fit}
    entries: dict[str, list[str]] = {}
    for (row, line), is_fit in zip(found, fits, strict=True):
        if is_fit or line.place not in placed:
            entries.setdefault(row["code"], []).append(_entry(line, row))
    return entries


def _products(job: Job, supplier: str, lines: Sequence[Line]) -> Iterator[tuple[str, str]]:
    """An entry for each product of the supplier's: one that is the same, or likely ones as remarks."""
    rows = [row for row in job.rows["book"] if job.seller(row) == supplier]
    for row, kind, found in _matches(rows, lines):
        head = f"# {_remark(row['code'])}: {_remark(row['description'])}"
        if kind == "same":
            yield kind, f"{_entry(found[0], row)}\n"
        elif kind == "likely":
            yield kind, f"{head}, perhaps:\n" + "".join(f"#   {_entry(x, row)}\n" for x in found)
        else:
            yield kind, f"{head}: no row with half of its words and sizes\n"


def _matches(
    rows: Sequence[Mapping[str, Any]], lines: Sequence[Line]
) -> Iterator[tuple[Mapping[str, Any], str, Sequence[Line]]]:
    """For each product the one line that is the same, or likely ones, or none."""
    by_text: dict[str, list[Line]] = {}
    for line in lines:
        for key in {text_key(line.code), text_key(line.description)} - {""}:
            by_text.setdefault(key, []).append(line)
    # A size may stand in the column of packs alone.
    bags = [(_telling(f"{line.description} {line.pack}"), line) for line in lines]
    for row in rows:
        same = next(
            (f for t in ("code", "description") if (f := by_text.get(text_key(row[t]), []))), []
        )
        if len(same) == 1 and len(by_text[text_key(_key(same[0]))]) == 1:
            yield row, "same", same
        else:
            likely = _likely(row, bags)
            yield row, "likely" if likely else "none", likely


def _likely(row: Mapping[str, Any], bags: Sequence[tuple[frozenset[str], Line]]) -> list[Line]:
    """The rows that share most with a product: a word, and half of its words and sizes at least.

    Those of another pack come only where there is no other, those of another width never.
    """
    wanted = _telling(row["description"])
    scored = [
        (len(shared) / len(wanted | bag), -n)
        for n, (bag, _) in enumerate(bags)
        if 2 * len(shared := wanted & bag) >= len(wanted) and any(map(_is_word, shared))
    ]
    found = [bags[-n][1] for _, n in sorted(scored, reverse=True)]
    found = [x for x in found if not other_width(x.pack, x.description, row)]
    fitting = [x for x in found if misfit(x.pack, x.description, row) is None]
    return (fitting or found)[:_LIKELY]


def _is_word(said: str) -> bool:
    """Whether it is a word that says what a thing is, and no figure or unit."""
    return said.isalpha() and len(said) > 2


def _telling(text: str) -> frozenset[str]:
    """What of a text says what a thing is, and its sizes: stop ends are a stop end."""
    found = (w for w in _words(text) if w not in _NO_NAMES)
    return frozenset(w[:-1] if len(w) > 3 and w.endswith("s") else w for w in found)


def _words(text: str) -> list[str]:
    """The words and figures of a text, as 30 and m of 30m.

    A damp proof course is a dpc, and 1200 gauge is 300 µm.
    """
    said = _DAMP_PROOF.sub(lambda found: _SHORT[found[1]], text_key(gauge_as_micrometres(text)))
    return _WORD.findall(said.replace("×", "x"))


def _key(line: Line) -> str:
    """What a map calls a line."""
    return line.code or line.description


def _entry(line: Line, row: Mapping[str, Any]) -> str:
    return f"{_quoted(_key(line))} = {_quoted(row['code'])}  # {_described(line)}"


def _described(line: Line) -> str:
    parts = (line.description, line.pack, text_of(line.price))
    return _remark(", ".join(p for p in parts if p))


def _remark(text: str) -> str:
    """A text that may stand behind a #: one line, no control characters."""
    return _CONTROL.sub(" ", one_line(text))


def _quoted(text: str) -> str:
    """A TOML basic string, which a JSON string is."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
