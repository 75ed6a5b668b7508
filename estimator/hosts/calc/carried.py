"""What travels into the extension: the functions, every module they need, and the bases as data.

A host has the standard library and nothing else, and all its extensions share one interpreter:
so only the modules needed are carried, under a package name of their own.
"""

import ast
import json
from collections.abc import Iterator
from pathlib import Path

from ...guidance.basis import plain_data

ROOT = Path(__file__).parent.parent.parent
CORE = "damp_functions_core"  # the same name in host/damp_functions.py


def carried() -> dict[str, bytes]:
    """Each file of the package, by its path in it. Raises BasisError for a basis that is wrong."""
    found = {str(p.relative_to(ROOT).as_posix()): p.read_bytes() for p in needed()}
    data = json.dumps(plain_data(), ensure_ascii=False, indent=1)
    found["functions/bases.json"] = data.encode("utf-8")
    return dict(sorted(found.items()))


def needed() -> set[Path]:
    """The modules that the functions import when they are loaded, and what those import."""
    found: set[Path] = set()
    waiting = [ROOT / "functions" / "__init__.py", ROOT / "__init__.py"]
    while waiting:
        path = waiting.pop()
        if path in found:
            continue
        found.add(path)
        waiting += _imported(path)
        waiting += [p / "__init__.py" for p in path.parents if p.is_relative_to(ROOT)]
    return found


def _imported(path: Path) -> Iterator[Path]:
    """Modules of this package that are imported at the top of a module, not inside a function."""
    for node in ast.parse(path.read_text("utf-8")).body:
        if not isinstance(node, ast.ImportFrom) or not node.level:
            continue
        folder = path.parents[node.level - 1]
        module = folder.joinpath(*(node.module or "").split(".")) if node.module else folder
        yield from _file(module)
        for name in node.names:
            yield from _file(module / name.name)


def _file(module: Path) -> Iterator[Path]:
    if module.with_suffix(".py").is_file():
        yield module.with_suffix(".py")
    elif (module / "__init__.py").is_file():
        yield module / "__init__.py"
