"""Where a wide list is cut into printed pages: between blocks, and where a page is full."""

from collections.abc import Sequence

_LARGEST, _SMALLEST = 80, 55  # percent: below it, what is printed cannot be read at a desk
_ROOM = {
    True: 10.2,
    False: 6.9,
}  # inches on A4, less a reserve: hosts differ in a character's width


def column_breaks(
    widths: Sequence[float], blocks: Sequence[int], landscape: bool
) -> tuple[int, list[int]]:
    """The scale in percent, and the columns after which a page ends.

    The first two columns stand on every page. The block after what is typed begins a new page,
    unless all fits on one; a later one does where it would be cut and half a page is full.
    """
    inches = [(7 * w + 5) / 96 for w in widths]
    titles, room = sum(inches[:2]), _ROOM[landscape]
    if sum(inches) * _SMALLEST / 100 <= room:
        return 100, []
    begins = sorted(b - 1 for b in blocks)[1:]  # what is typed stands beside the titles
    ends = [*begins, len(inches)]
    parts = [
        sum(inches[a:b]) + (titles if a else 0) for a, b in zip([0, *begins], ends, strict=True)
    ]
    scale = int(max(_SMALLEST, min(_LARGEST, 100 * room / parts[0])))
    breaks: list[int] = []
    used = titles
    for n, wide in enumerate(inches[2:], 2):
        block = parts[begins.index(n) + 1] - titles if n in begins else 0.0
        cut = block and (used + block) * scale / 100 > room and used * scale / 100 > room / 2
        if n in begins[:1] or cut or (used + wide) * scale / 100 > room:
            breaks.append(n)
            used = titles
        used += wide
    return scale, breaks
