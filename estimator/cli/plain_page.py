"""A page of docs/ (Markdown, as those pages use it) as plain text for a terminal."""

import re
from collections.abc import Iterator
from textwrap import wrap

_HEADING = re.compile(r"(#+) (.*)")
_ITEM = re.compile(r"(- |\d+\. )(.*)")
_PICTURE = re.compile(r"!\[([^]]+)\]\([^)]+\)")
_LINK = re.compile(r"\[([^]]+)\]\([^)]+\)")
_CODE = re.compile(r"`([^`]*)`")
_RULE = re.compile(r"\|[\s:|-]+\|?$")  # the line under a table's head
_CELLS = re.compile(r"(?<!\\)\|")
_LEAST = 12  # characters of a table's column: narrower ones are written one beneath another


def heading(page: str) -> str:
    """What a page is about: its first heading."""
    return next(_words(m[2]) for m in map(_HEADING.match, page.splitlines()) if m)


def as_plain(page: str, width: int) -> str:
    """The page in lines of that width; code and tables keep their lines."""
    lines = [line for line in page.splitlines() if not line.startswith("<!--")]
    return re.sub(r"\n{3,}", "\n\n", "\n".join(_plain(lines, width))).strip("\n") + "\n"


def _plain(lines: list[str], width: int) -> Iterator[str]:
    at = 0
    while at < len(lines):
        line = lines[at]
        at += 1
        if line.startswith("```"):
            while at < len(lines) and not lines[at].startswith("```"):
                yield f"    {lines[at]}".rstrip()
                at += 1
            at += 1
        elif found := _HEADING.match(line):
            words = _words(found[2])
            yield from ("", words, ("=" if len(found[1]) == 1 else "-") * len(words), "")
        elif line.startswith("|"):
            rows = [_cells(line)]
            while at < len(lines) and lines[at].startswith("|"):
                if not _RULE.match(lines[at]):
                    rows.append(_cells(lines[at]))
                at += 1
            yield from _table(rows, width)
        elif found := _ITEM.match(line):
            first = f"  {found[1]}"
            yield from wrap(
                _words(found[2]), width, initial_indent=first, subsequent_indent=" " * len(first)
            )
        else:
            yield from wrap(_words(line), width) or [""]


def _words(text: str) -> str:
    """Without the marks of links and emphasis; what is typed stays in its quotes."""
    parts = _CODE.split(_LINK.sub(r"\1", _PICTURE.sub(r"(Picture: \1)", text)))
    # Every second part is code, in which a star is a star.
    return "".join(
        f"`{part}`" if n % 2 else part.replace("**", "").replace("*", "").replace("\\|", "|")
        for n, part in enumerate(parts)
    )


def _cells(line: str) -> list[str]:
    return [_words(cell.strip()) for cell in _CELLS.split(line.strip().strip("|"))]


def _table(rows: list[list[str]], width: int) -> Iterator[str]:
    """Columns side by side where there is room for them, else the cells of a row one by one."""
    count = max(map(len, rows))
    rows = [[*row, *[""] * (count - len(row))] for row in rows]
    widths = _widths(rows, width - 2 * (count - 1))
    if widths is None:
        head, *rest = rows
        for row in rest:
            for name, cell in zip(head, row, strict=True):
                if cell:
                    words = f"{name}: {cell}" if name else cell
                    yield from wrap(words, width, initial_indent="  ", subsequent_indent="      ")
            yield ""
        return
    for n, row in enumerate(rows):
        cells = [wrap(c, w) or [""] for c, w in zip(row, widths, strict=True)]
        for k in range(max(map(len, cells))):
            shown = (c[k] if k < len(c) else "" for c in cells)
            yield "  ".join(f"{s:<{w}}" for s, w in zip(shown, widths, strict=True)).rstrip()
        if n == 0 and any(row):
            yield "  ".join("-" * w for w in widths)
    yield ""


def _widths(rows: list[list[str]], room: int) -> list[int] | None:
    """How wide each column may be: narrow ones as they are, wide ones share what is left."""
    widths = [max(1, *(len(row[c]) for row in rows)) for c in range(len(rows[0]))]
    while sum(widths) > room:
        widest = max(widths)
        if widest <= _LEAST:
            return None
        widths[widths.index(widest)] -= 1
    return widths
