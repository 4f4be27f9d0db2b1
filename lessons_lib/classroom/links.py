"""Links that carry a whole file, so that it can be saved wherever the page is looked at."""

import base64
from html import escape
from pathlib import Path

PDF, PACKED = "application/pdf", "application/zip"


def link(file: Path, kind: str) -> str:
    """A link, as HTML, by which a file is saved. kind : what a browser is told that it is"""
    content = base64.b64encode(file.read_bytes()).decode()
    name = escape(file.name, quote=True)
    data = f"data:{kind};base64,{content}"
    return f'<a style="text-decoration:underline" download="{name}" href="{data}">{name}</a>'
