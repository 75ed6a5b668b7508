"""The questions of the one-page form, asked one after another in a terminal."""

from collections.abc import Callable
from typing import Any

from ..errors import JobError
from ..files.opening import figure
from ..language.tables import Input
from ..model.job import bases_offered, basis_named, checked_number
from ..model.plan import SHIPPED_ROWS
from ..questionnaire.answers import INPUTS, asked_if

Ask = Callable[[str], str]
Say = Callable[[str], None]


def ask_all(ask: Ask, say: Say) -> dict[str, Any]:
    """Every question that is still needed, each asked until the answer can be used or is blank."""
    say(
        "An extension of one room, against a wall of a house or round a corner of it. Leave blank what is not known yet."
    )
    answers: dict[str, Any] = {i.name: None for i in INPUTS}
    for item in INPUTS:
        if asked_if(item.name, answers):
            answers[item.name] = _answer(item, ask, say)
    return answers


def ask_basis(ask: Ask, say: Say) -> str:
    """Whose guidance, asked once: a number, a document or a key. Raises JobError for any other answer."""
    names = [*bases_offered()]
    say("Whose guidance?")
    for n, name in enumerate(names, 1):
        say(f"  {n}  {name}")
    typed = ask("Number").strip()
    if not typed:
        every = ", ".join(map(repr, names))
        raise JobError("--basis", None, f"a number from 1 to {len(names)}, or one of {every}")
    if typed.isdecimal() and 1 <= int(typed) <= len(names):
        return names[int(typed) - 1]
    return basis_named(typed)


def choices_of(item: Input) -> list[str]:
    """What a question that asks a choice may be answered with."""
    table, _, column = (item.choice_of or "").partition(".")
    return [str(row[column]) for row in SHIPPED_ROWS[table]] if table else []


def _answer(item: Input, ask: Ask, say: Say) -> Any:
    choices = choices_of(item)
    if item.help:
        say(f"\n{item.help}")
    for n, choice in enumerate(choices, 1):
        say(f"  {n}  {choice}")
    sign = f", {item.unit.sign}" if item.unit.sign and item.unit.sign != "nr" else ""
    while True:
        typed = ask(f"{item.label}{sign}").strip()
        if not typed:
            return None
        try:
            return _chosen(typed, choices) if choices else _number(typed, item)
        except ValueError as error:
            say(f"  accepted is {error}")


def _chosen(typed: str, choices: list[str]) -> str:
    found = [c for n, c in enumerate(choices, 1) if typed.lower() in (str(n), c.lower())]
    if not found:
        raise ValueError(f"a number from 1 to {len(choices)}, or nothing")
    return found[0]


def _number(typed: str, item: Input) -> float:
    try:
        value = figure(typed)
    except ValueError:
        raise ValueError(item.accepted) from None
    return checked_number(value, item)
