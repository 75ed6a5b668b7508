"""The extension file: the interface, the help in the function wizard, the menu, the code, the core."""

import io
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path

from ... import __version__
from ...files.resources import licence
from ...functions import FUNCTIONS, PREFIX, Function
from .carried import CORE, carried
from .configuration import HEAD, configuration, node, prop, worded
from .interface import INSTALLED, WHY, argument_name, type_library
from .menu import ADDONS, HANDLERS, Menu, menu_parts

IDENTIFIER = "estimator.damp.functions"
SERVICE = "DAMP"
HOST = Path(__file__).parent / "host"
_LIBRARY, _ADDINS, _JOBS = "damp.rdb", "CalcAddIns.xcu", "Jobs.xcu"
_CODE = ("damp_functions.py", "damp_rebind.py", "damp_menu.py")
_NO_TIME = (1980, 1, 1, 0, 0, 0)  # the same functions always make the same file


def extension(menu: Menu) -> bytes:
    """The extension's content."""
    return packed(parts(menu))


def packed(parts: Mapping[str, bytes]) -> bytes:
    """Files packed into one, always alike."""
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            entry = zipfile.ZipInfo(name, _NO_TIME)
            entry.compress_type, entry.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
            package.writestr(entry, content)
    return written.getvalue()


def parts(menu: Menu) -> dict[str, bytes]:
    """Each file of the extension by its name in it."""
    found = {
        "META-INF/manifest.xml": _manifest().encode("utf-8"),
        "description.xml": _description().encode("utf-8"),
        _LIBRARY: type_library(),
        _ADDINS: _add_ins().encode("utf-8"),
        _JOBS: _jobs().encode("utf-8"),
        **menu_parts(menu),
        "LICENSE": licence(),  # it carries this program's code
    }
    found |= {name: (HOST / name).read_bytes() for name in _CODE}
    return found | {f"pythonpath/{CORE}/{name}": content for name, content in carried().items()}


def _manifest() -> str:
    kinds = {
        _LIBRARY: "application/vnd.sun.star.uno-typelibrary;type=RDB",
        **dict.fromkeys(
            (_ADDINS, _JOBS, ADDONS, HANDLERS), "application/vnd.sun.star.configuration-data"
        ),
        **dict.fromkeys(_CODE, "application/vnd.sun.star.uno-component;type=Python"),
    }
    entries = "".join(
        f'  <manifest:file-entry manifest:full-path="{name}" manifest:media-type="{kind}"/>\n'
        for name, kind in kinds.items()
    )
    space = 'xmlns:manifest="http://openoffice.org/2001/manifest"'
    return f"{HEAD}<manifest:manifest {space}>\n{entries}</manifest:manifest>\n"


def _description() -> str:
    return (
        f'{HEAD}<description xmlns="http://openoffice.org/extensions/description/2006" '
        'xmlns:d="http://openoffice.org/extensions/description/2006" '
        'xmlns:l="http://libreoffice.org/extensions/description/2011">\n'
        f'  <identifier value="{IDENTIFIER}"/>\n  <version value="{__version__}"/>\n'
        '  <display-name><name lang="en">Damp-proofing functions</name></display-name>\n'
        '  <dependencies><l:LibreOffice-minimal-version value="7.4" d:name="LibreOffice 7.4"/>'
        "</dependencies>\n</description>\n"
    )


def _add_ins() -> str:
    nodes = "".join(_function_node(f) for f in FUNCTIONS.values()) + _companion_nodes()
    body = node("AddInInfo", node(SERVICE, node("AddInFunctions", nodes), replace=True))
    return configuration("CalcAddIns", body)


def _function_node(function: Function) -> str:
    arguments = ((argument_name(a), a.shown, a.described) for a in function.arguments)
    return _add_in(function.method, function.described, arguments)


def _companion_nodes() -> str:
    return _add_in(
        WHY,
        "Why a function gives no figure, in one sentence. Nothing where it gives one. Its name in "
        "quotation marks, then what it was given.",
        (
            ("functionName", "function name", 'Its name, as "DAMP_WEEP_COUNT".'),
            ("given", "given", "All that the function was given, in the same order."),
        ),
    ) + _add_in(INSTALLED, "That the damp-proofing functions are installed, and which.", ())


def _add_in(method: str, description: str, arguments: Iterable[tuple[str, str, str]]) -> str:
    shown = worded("DisplayName", PREFIX + method) + worded("Description", description)
    # The name in files of other programs: the same, or one of the two would not be found.
    stored = worded("CompatibilityName", PREFIX + method)
    category = '<prop oor:name="Category"><value>Add-In</value></prop>\n'
    nodes = "".join(
        node(name, worded("DisplayName", label) + worded("Description", help), replace=True)
        for name, label, help in arguments
    )
    return node(method, shown + category + stored + node("Parameters", nodes), replace=True)


def _jobs() -> str:
    job = "damp.calc.Rebind"
    body = node("Jobs", node(job, prop("Service", job), replace=True)) + node(
        "Events",
        node("OnLoadFinished", node("JobList", node(job, "", replace=True)), fuse=True),
    )
    return configuration("Jobs", body)
