"""What a job cuts in whole pieces, kind by kind, and the cheapest rolls that give it."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from ..language.ledger import Ledger, is_available
from .cutting_stock import Cutting, Pieces, Problem, Roll, least
from .exact_strips import exact_strip

MICROMETRES = 1_000_000  # to a metre: lengths are whole ones here
WAYS = ("along A", "along B")


@dataclass(frozen=True)
class Splayed:
    """A floor with splays: its strips as the sheet counts them, and what lies on it exactly, longest
    first, in micrometres."""

    floor: str
    strips: tuple[int, ...]
    exact: tuple[int, ...]


@dataclass(frozen=True)
class Stock:
    """Products of one material, width and supplier as the job cuts them, and the least that gives the same.

    `rolls` and `pence` are what it takes as the job stands, by a plan that was taken over (`planned`)
    or as the sheet cuts it, before wastage, one's own number of packs, minimum orders and delivery;
    `pence` is 0 where a price is missing. `cutting` is None where no rolls in the price book give every
    piece. `floors` and `laid` belong to a damp-proof membrane: which floors may be laid either way, and
    how they are laid now. `rows` are those of the price book that may be cut for it. `splayed` are
    floors with splays, laid as they are now; `pack` is what one is called, and `joined` the length that
    the job takes besides, which may be joined and comes from packs of its own; `counted` and `exact` the least that gives every piece,
    all floors laid so: by the sheet's strips, and by theirs exactly. Both are None without such floors.
    """

    code: str
    description: str
    supplier: str
    rolls: int
    pence: int
    planned: bool
    pieces: Pieces
    floors: tuple[str, ...]
    laid: tuple[str, ...]
    cutting: Cutting | None
    rows: tuple[int, ...]
    pack: str = "roll"
    joined: int = 0
    splayed: tuple[Splayed, ...] = ()
    counted: Cutting | None = None
    exact: Cutting | None = None


def cut_from_stock(job: Ledger, turning: bool = True) -> list[Stock]:
    """What the job cuts in whole pieces, kind by kind, as the price book has it.

    Rolls of the same material and width from the same supplier may be mixed; with `turning` a floor
    may be laid either way where both fit, else every floor is laid as it is. Nothing for a job in
    which it is not known what is needed.
    """
    kinds: dict[int, list[int]] = {}
    for n, kind in enumerate(job.column("cuts", "kind")):
        if is_available(kind) and kind:
            kinds.setdefault(int(kind), []).append(n)
    return [_stock(job, kind, cuts, turning) for kind, cuts in kinds.items()]


def _stock(job: Ledger, kind: int, cuts: list[int], turning: bool) -> Stock:
    def of(column: str) -> list[float]:
        return [job.column("cuts", column)[n] for n in cuts]

    pieces: Counter[int] = Counter()
    products = list(dict.fromkeys(int(p) for p in of("product")))
    floors = dict(_either_way(job, products)) if turning else {}
    for length, count, zone, band in zip(
        *(of(c) for c in ("length", "pieces", "zone_row", "band_row")), strict=True
    ):
        floor = zone or (job.column("bands", "zone_row")[int(band) - 1] if band else 0)
        if int(floor) not in floors:
            pieces[_micrometres(length)] += round(count)
    marks = [str(m) for m in job.column("zones", job.plan.tables["zones"].key_in_use)]
    columns = ("code", "description", "seller", "net_price", "kind_row", "planned_rolls", "joined",
               "by_area", "material_row")  # fmt: skip
    book = {c: job.column("book", c) for c in columns}
    planned = job.column("book", "plan_holds")[kind - 1] == 1
    rows = [n for n, k in enumerate(book["kind_row"], 1) if k == kind]
    rolls = (
        {n: round(book["planned_rolls"][n - 1]) for n in rows}
        if planned
        else {p: round(max(r for r, q in zip(of("rolls"), of("product"), strict=True) if q == p))
              for p in products}
    )  # fmt: skip
    taken = {n: count for n, count in rolls.items() if count}
    prices = {n: round((book["net_price"][n - 1] or 0) * 100) for n in taken}
    problem = Problem(pieces, [ways for ways, _ in floors.values()])
    stocked = list(_rolls(job, rows))
    strips = {
        int(band): _micrometres(n)
        for n, band in zip(of("length"), of("band_row"), strict=True)
        if band
    }
    splayed = dict(_splayed(job, strips))
    exactly = dict(pair for floor in splayed.values() for pair in floor.items())
    counted: Counter[int] = Counter()
    exact: Counter[int] = Counter()
    for length, count, band in zip(*(of(c) for c in ("length", "pieces", "band_row")), strict=True):
        as_counted = Counter({_micrometres(length): round(count)})
        counted += as_counted
        exact += Counter(exactly[int(band)]) if band in exactly else as_counted
    return Stock(
        code=", ".join(str(book["code"][n - 1]) for n in taken),
        description=str(book["description"][products[0] - 1]),
        supplier=str(book["seller"][products[0] - 1]),
        rolls=sum(taken.values()),
        pence=sum(n * prices[p] for p, n in taken.items()) if all(prices.values()) else 0,
        planned=planned,
        pieces=pieces,
        floors=tuple(marks[zone - 1] for zone in floors),
        laid=tuple(laid for _, laid in floors.values()),
        cutting=least(problem, stocked),
        rows=tuple(rows),
        pack=str(job.column("materials", "pack")[int(book["material_row"][kind - 1]) - 1]),
        joined=sum(_micrometres(book["joined"][n - 1]) for n in rows if not book["by_area"][n - 1]),
        splayed=tuple(
            Splayed(
                marks[zone - 1],
                tuple(sorted((strips[band] for band in floor), reverse=True)),
                tuple(sorted((n for lengths in floor.values() for n in lengths), reverse=True)),
            )
            for zone, floor in splayed.items()
        ),
        counted=least(Problem(counted), stocked) if splayed else None,
        exact=least(Problem(exact), stocked) if splayed else None,
    )


def _splayed(
    job: Ledger, strips: Iterable[int]
) -> Iterator[tuple[int, dict[int, tuple[int, ...]]]]:
    """The row of each floor with splays, and by its strips what of each lies on it exactly."""
    zones = job.column("bands", "zone_row")
    for zone in dict.fromkeys(int(zones[band - 1]) for band in strips):
        if job.column("zones", "sides_splayed")[zone - 1]:
            yield (
                zone,
                {
                    band: tuple(_micrometres(n) for n in exact_strip(job, band))
                    for band in strips
                    if zones[band - 1] == zone
                },
            )


def _rolls(job: Ledger, rows: Iterable[int]) -> Iterator[Roll]:
    """The rolls that may be bought for it."""
    code, length, price = (job.column("book", c) for c in ("code", "length", "net_price"))
    for n in rows:
        if length[n - 1] and price[n - 1]:
            yield Roll(str(code[n - 1]), _micrometres(length[n - 1]), round(price[n - 1] * 100))


def _either_way(
    job: Ledger, products: Collection[int]
) -> Iterator[tuple[int, tuple[Mapping[str, Pieces], str]]]:
    """Each floor that this sheet is cut for and that may be laid both ways: its strips, each way."""
    product = job.cell("sheet_row")
    if product not in products:
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
