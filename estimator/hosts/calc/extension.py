"""The extension file: the interface, the help in the function wizard, the code, the core."""

import io
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

from ... import __version__
from ...files.resources import licence
from ...functions import FUNCTIONS, PREFIX, Function
from .carried import CORE, carried
from .interface import INSTALLED, WHY, argument_name, type_library

IDENTIFIER = "estimator.damp.functions"
SERVICE = "DAMP"
HOST = Path(__file__).parent / "host"
_LIBRARY, _ADDINS, _JOBS = "damp.rdb", "CalcAddIns.xcu", "Jobs.xcu"
_CODE = ("damp_functions.py", "damp_rebind.py")
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_DATA = (
    '<oor:component-data xmlns:oor="http://openoffice.org/2001/registry" '
    'xmlns:xs="http://www.w3.org/2001/XMLSchema" oor:name="{name}" '
    'oor:package="org.openoffice.Office">\n{body}</oor:component-data>\n'
)
_NO_TIME = (1980, 1, 1, 0, 0, 0)  # the same functions always make the same file


def extension() -> bytes:
    """The extension's content."""
    return packed(parts())


def packed(parts: Mapping[str, bytes]) -> bytes:
    """Files packed into one, always alike."""
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            entry = zipfile.ZipInfo(name, _NO_TIME)
            entry.compress_type, entry.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
            package.writestr(entry, content)
    return written.getvalue()


def parts() -> dict[str, bytes]:
    """Each file of the extension by its name in it."""
    found = {
        "META-INF/manifest.xml": _manifest().encode("utf-8"),
        "description.xml": _description().encode("utf-8"),
        _LIBRARY: type_library(),
        _ADDINS: _add_ins().encode("utf-8"),
        _JOBS: _jobs().encode("utf-8"),
        "LICENSE": licence(),  # it carries this program's code
    }
    found |= {name: (HOST / name).read_bytes() for name in _CODE}
    return found | {f"pythonpath/{CORE}/{name}": content for name, content in carried().items()}


def _manifest() -> str:
    kinds = {
        _LIBRARY: "application/vnd.sun.star.uno-typelibrary;type=RDB",
        _ADDINS: "application/vnd.sun.star.configuration-data",
        _JOBS: "application/vnd.sun.star.configuration-data",
    } | dict.fromkeys(_CODE, "application/vnd.sun.star.uno-component;type=Python")
    entries = "".join(
        f'  <manifest:file-entry manifest:full-path="{name}" manifest:media-type="{kind}"/>\n'
        for name, kind in kinds.items()
    )
    space = 'xmlns:manifest="http://openoffice.org/2001/manifest"'
    return f"{_HEAD}<manifest:manifest {space}>\n{entries}</manifest:manifest>\n"


def _description() -> str:
    return (
        f'{_HEAD}<description xmlns="http://openoffice.org/extensions/description/2006" '
        'xmlns:d="http://openoffice.org/extensions/description/2006" '
        'xmlns:l="http://libreoffice.org/extensions/description/2011">\n'
        f'  <identifier value="{IDENTIFIER}"/>\n  <version value="{__version__}"/>\n'
        '  <display-name><name lang="en">Damp-proofing functions</name></display-name>\n'
        '  <dependencies><l:LibreOffice-minimal-version value="7.4" d:name="LibreOffice 7.4"/>'
        "</dependencies>\n</description>\n"
    )


def _add_ins() -> str:
    nodes = "".join(_function_node(f) for f in FUNCTIONS.values()) + _companion_nodes()
    body = _node("AddInInfo", _node(SERVICE, _node("AddInFunctions", nodes), replace=True))
    return _HEAD + _DATA.format(name="CalcAddIns", body=body)


def _function_node(function: Function) -> str:
    arguments = ((argument_name(a), a.shown, a.described) for a in function.arguments)
    return _add_in(function.method, function.described, arguments)


def _companion_nodes() -> str:
    return _add_in(
        WHY,
        "Why a function gives no figure, in one sentence; nothing where it gives one. Its name in "
        "quotation marks, then what it was given.",
        (
            ("functionName", "function name", 'Its name, as "DAMP_WEEP_COUNT".'),
            ("given", "given", "All that the function was given, in the same order."),
        ),
    ) + _add_in(INSTALLED, "That the damp-proofing functions are installed, and which.", ())


def _add_in(method: str, description: str, arguments: Iterable[tuple[str, str, str]]) -> str:
    shown = _worded("DisplayName", PREFIX + method) + _worded("Description", description)
    # The name in files of other programs: the same, or one of the two would not be found.
    stored = _worded("CompatibilityName", PREFIX + method)
    category = '<prop oor:name="Category"><value>Add-In</value></prop>\n'
    nodes = "".join(
        _node(name, _worded("DisplayName", label) + _worded("Description", help), replace=True)
        for name, label, help in arguments
    )
    return _node(method, shown + category + stored + _node("Parameters", nodes), replace=True)


def _jobs() -> str:
    job = "damp.calc.Rebind"
    body = _node("Jobs", _node(job, _prop("Service", job), replace=True)) + _node(
        "Events",
        _node("OnLoadFinished", _node("JobList", _node(job, "", replace=True)), fuse=True),
    )
    return _HEAD + _DATA.format(name="Jobs", body=body)


def _node(name: str, body: str, replace: bool = False, fuse: bool = False) -> str:
    how = ' oor:op="replace"' if replace else ' oor:op="fuse"' if fuse else ""
    return f"<node oor:name={quoteattr(name)}{how}>\n{body}</node>\n"


def _prop(name: str, value: str) -> str:
    return f'<prop oor:name="{name}"><value>{escape(value)}</value></prop>\n'


def _worded(name: str, text: str) -> str:
    return f'<prop oor:name="{name}"><value xml:lang="en-US">{escape(text)}</value></prop>\n'
