"""What a job cuts in whole pieces, product by product, and the cheapest rolls that give it."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ..language.ledger import Ledger, is_available
from .cutting_stock import Cutting, Pieces, Problem, Roll, least

MICROMETRES = 1_000_000  # to a metre: lengths are whole ones here
WAYS = ("along A", "along B")


@dataclass(frozen=True)
class Stock:
    """One product as the job cuts it, and the least that gives the same pieces.

    `rolls` and `pence` are what it takes as the sheet cuts it, before wastage, one's own number of
    packs, minimum orders and delivery; `pence` is 0 where its price is missing. `cutting` is None
    where no rolls in the price book give every piece. `floors` and `laid` belong to a damp-proof membrane: which floors may be laid either way,
    and how they are laid now.
    """

    code: str
    description: str
    supplier: str
    rolls: int
    pence: int
    pieces: Pieces
    floors: tuple[str, ...]
    laid: tuple[str, ...]
    cutting: Cutting | None


def cut_from_stock(job: Ledger) -> list[Stock]:
    """Each product that the job cuts in whole pieces, as the price book has it.

    Rolls of the same material and width from the same supplier may be mixed, and a floor may be laid
    either way where both fit. Nothing for a job in which it is not known what is needed.
    """
    rows: dict[int, list[int]] = {}
    for n, product in enumerate(job.column("cuts", "product")):
        if is_available(product) and product:
            rows.setdefault(int(product), []).append(n)
    return [_stock(job, product, cuts) for product, cuts in rows.items()]


def _stock(job: Ledger, product: int, cuts: list[int]) -> Stock:
    def of(column: str) -> list[float]:
        return [job.column("cuts", column)[n] for n in cuts]

    pieces: Counter[int] = Counter()
    floors = dict(_either_way(job, product))
    for length, count, zone, band in zip(
        *(of(c) for c in ("length", "pieces", "zone_row", "band_row")), strict=True
    ):
        floor = zone or (job.column("bands", "zone_row")[int(band) - 1] if band else 0)
        if int(floor) not in floors:
            pieces[_micrometres(length)] += round(count)
    book = {c: job.column("book", c) for c in ("code", "description", "seller", "net_price")}
    rolls = round(max(of("rolls")))
    problem = Problem(pieces, [ways for ways, _ in floors.values()])
    return Stock(
        code=str(book["code"][product - 1]),
        description=str(book["description"][product - 1]),
        supplier=str(book["seller"][product - 1]),
        rolls=rolls,
        pence=rolls * round((book["net_price"][product - 1] or 0) * 100),
        pieces=pieces,
        floors=tuple(str(job.column("zones", "mark")[zone - 1]) for zone in floors),
        laid=tuple(laid for _, laid in floors.values()),
        cutting=least(problem, list(_rolls(job, product))),
    )


def _rolls(job: Ledger, product: int) -> Iterator[Roll]:
    """The rolls that may be bought in its place: of its material, width and supplier."""
    columns = ("code", "length", "net_price", "material", "sold_by", "width")
    every = list(zip(*(job.column("book", c) for c in columns), strict=True))
    same = every[product - 1][3:]
    for code, length, price, *kind in every:
        if tuple(kind) == same and length and price:
            yield Roll(str(code), _micrometres(length), round(price * 100))


def _either_way(
    job: Ledger, product: int
) -> Iterator[tuple[int, tuple[Mapping[str, Pieces], str]]]:
    """Each floor that this sheet is cut for and that may be laid both ways: its strips, each way."""
    if product != job.cell("sheet_row"):
        return
    columns = ("at", "book_row", "can_a", "can_b", "along_b", "width_no", "strips_a", "strips_b",
               "long_a", "long_b", "by_strip_a", "by_strip_b")  # fmt: skip
    for row in zip(*(job.column("layouts", c) for c in columns), strict=True):
        at = dict(zip(columns, row, strict=True))
        if at["book_row"] == product and at["can_a"] == at["can_b"] == 1:
            ways = {
                way: _strips(job, at["at"], at["width_no"], letter)
                if at[f"by_strip_{letter}"]
                else {_micrometres(at[f"long_{letter}"]): round(at[f"strips_{letter}"])}
                for way, letter in zip(WAYS, "ab", strict=True)
            }
            yield int(at["at"]), (ways, WAYS[int(at["along_b"])])


def _strips(job: Ledger, zone: float, width: float, letter: str) -> Counter[int]:
    """The strips of a floor that is no rectangle, one by one."""
    columns = ("zone_row", "width_no", f"long_{letter}")
    rows = zip(*(job.column("bands", c) for c in columns), strict=True)
    return Counter(_micrometres(long) for z, w, long in rows if (z, w) == (zone, width) and long)


def _micrometres(metres: float) -> int:
    return round(metres * MICROMETRES)
