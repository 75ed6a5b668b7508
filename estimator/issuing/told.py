"""What the estimator is told before a document leaves: a supplier's name where the client reads it.

The program never puts one there; a person may, in the description of a product or of work.
"""

from collections.abc import Iterator

from ..rules.evaluate import Ledger


def warnings(job: Ledger, client: Ledger) -> tuple[str, ...]:
    """One sentence for each text of the client's copy in which a supplier's name stands."""
    suppliers = [str(name) for name in job.column("suppliers", "name") if name]
    found = []
    for text in _texts(client):
        for supplier in suppliers:
            if supplier.casefold() in text.casefold():
                sentence = f"The client will read a supplier's name: {supplier!r} in {text!r}."
                if sentence not in found:
                    found.append(sentence)
    return tuple(found)


def _texts(client: Ledger) -> Iterator[str]:
    yield from (v for v in client.typed.values() if isinstance(v, str))
    for rows in client.rows.values():
        for row in rows:
            yield from (v for v in row.values() if isinstance(v, str))
