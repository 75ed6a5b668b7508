"""What an extension adds to LibreOffice's configuration, as XML."""

from xml.sax.saxutils import escape, quoteattr

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'


def configuration(component: str, body: str) -> str:
    """A file of settings of one component of LibreOffice."""
    return (
        f'{HEAD}<oor:component-data xmlns:oor="http://openoffice.org/2001/registry" '
        f'xmlns:xs="http://www.w3.org/2001/XMLSchema" oor:name="{component}" '
        f'oor:package="org.openoffice.Office">\n{body}</oor:component-data>\n'
    )


def node(name: str, body: str, replace: bool = False, fuse: bool = False) -> str:
    """A group of settings; one of a set says whether it comes anew or goes on with what is there."""
    how = ' oor:op="replace"' if replace else ' oor:op="fuse"' if fuse else ""
    return f"<node oor:name={quoteattr(name)}{how}>\n{body}</node>\n"


def prop(name: str, value: str) -> str:
    """One setting."""
    return f'<prop oor:name="{name}"><value>{escape(value)}</value></prop>\n'


def worded(name: str, text: str) -> str:
    """One setting that a person reads, in English."""
    return f'<prop oor:name="{name}"><value xml:lang="en-US">{escape(text)}</value></prop>\n'
