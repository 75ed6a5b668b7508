"""What the estimator is told before a document leaves: a supplier's name where the client reads it.

The program never puts one there; a person may, in the description of a product or of work.
"""

import re
from collections.abc import Iterable, Iterator
from itertools import chain

from ..language.ledger import Ledger

SHORTEST_NAME = 4  # letters of a word by which a supplier is known


def warnings(job: Ledger, client: Ledger, drawn: Iterable[str] = ()) -> tuple[str, ...]:
    """One sentence for each text of the client's copy, and of what is drawn there, in which a
    supplier's name stands."""
    suppliers = [str(name) for name in job.column("suppliers", "name") if name]
    found = []
    for text in chain(_texts(client), drawn):
        for supplier in suppliers:
            name = _name_in(text, supplier)
            sentence = f"The client will read a supplier's name: {name!r} in {text!r}."
            if name is not None and sentence not in found:
                found.append(sentence)
    return tuple(found)


def _name_in(text: str, supplier: str) -> str | None:
    """The supplier's name as it stands in a text: whole, or its first word, as people say it."""
    if supplier.casefold() in text.casefold():
        return supplier
    first = next(iter(re.findall(r"\w+", supplier)), "")
    said = re.search(rf"\b{re.escape(first)}\b", text, re.IGNORECASE)
    return first if len(first) >= SHORTEST_NAME and said else None


def _texts(client: Ledger) -> Iterator[str]:
    yield from (v for v in client.typed.values() if isinstance(v, str))
    for rows in client.rows.values():
        for row in rows:
            yield from (v for v in row.values() if isinstance(v, str))
