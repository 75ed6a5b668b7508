"""One piece of work for each of many things, shared out among the machine's cores."""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import Any

_at_hand: list[tuple[Callable[[Any], Any], Sequence[Any]]] = []


def over_cores(work: Callable[[Any], Any], things: Sequence[Any]) -> list[Any]:
    """What the work gives for each thing, in their order; only its results are handed over.

    The processes are forked, so that work and things need not be packed up.
    """
    _at_hand.append((work, things))
    try:
        with ProcessPoolExecutor(os.cpu_count(), mp_context=get_context("fork")) as pool:
            return list(pool.map(_one, range(len(things))))
    finally:
        _at_hand.pop()


def _one(n: int) -> Any:
    work, things = _at_hand[-1]
    return work(things[n])
