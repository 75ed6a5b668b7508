"""The menu of the extension: its entries, and what its code is told of this program.

`host/damp_menu.py` does the work, inside LibreOffice.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .configuration import configuration, node, prop, worded

ADDONS, HANDLERS, SETTINGS = "Addons.xcu", "ProtocolHandler.xcu", "damp_menu.json"
TITLE = "Damp-proofing"
HANDLER, PROTOCOL = "damp.calc.Menu", "vnd.estimator.damp:"  # as in host/damp_menu.py
SPREADSHEET = "com.sun.star.sheet.SpreadsheetDocument"
# Words of the command in whose place host/damp_menu.py puts what they stand for.
WORKBOOK, ACTION, STEP = "{workbook}", "{action}", "{step}"


@dataclass(frozen=True)
class Menu:
    """What the menu does, and how the installed program does it."""

    command: Sequence[str]  # the words that run one step of an action on a workbook
    steps: tuple[str, str]  # what needs no yes, and the rest
    actions: Mapping[str, str]  # each entry's words, by the action's name
    recorded: Sequence[str]  # the actions that change the workbook after a yes
    mark: str  # a name that each of our workbooks has, and no other
    ours: str  # what is accepted, in words


def menu_parts(menu: Menu) -> dict[str, bytes]:
    """The files of the menu, but for its code, by their names in the extension."""
    entries = "".join(
        node(
            f"m{n}",
            prop("URL", PROTOCOL + action)
            + worded("Title", words.capitalize())
            + prop("Target", "_self"),
            replace=True,
        )
        for n, (action, words) in enumerate(menu.actions.items(), 1)
    )
    bar = node(
        "estimator.damp.menu",
        prop("Context", SPREADSHEET) + worded("Title", TITLE) + node("Submenu", entries),
        replace=True,
    )
    addons = configuration("Addons", node("AddonUI", node("OfficeMenuBar", bar)))
    handler = node(HANDLER, prop("Protocols", f"{PROTOCOL}*"), replace=True)
    settings = {
        "command": list(menu.command),
        "steps": list(menu.steps),
        "actions": dict(menu.actions),
        "recorded": list(menu.recorded),
        "mark": menu.mark,
        "ours": menu.ours,
    }
    return {
        ADDONS: addons.encode("utf-8"),
        HANDLERS: configuration("ProtocolHandler", node("HandlerSet", handler)).encode("utf-8"),
        SETTINGS: json.dumps(settings, indent=1).encode("utf-8"),
    }
