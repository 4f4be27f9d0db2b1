"""A sheet as a web page that prints in black and white. Every text is escaped; nothing is loaded from elsewhere."""

import base64
from html import escape

from .blocks import (
    MARGIN,
    NUMBERED,
    PAPERS,
    RUNNING,
    Blank,
    Box,
    Columns,
    Heading,
    NewPage,
    Picture,
    Signatures,
    Stop,
    Table,
    Text,
)

STYLE = """
@page {{ size: {width}mm {height}mm; margin: {margin}mm; }}
* {{ box-sizing: border-box; }}
body {{ font: {type_size}pt/{leading} "DejaVu Sans", Verdana, Arial, sans-serif; color: #000; background: #fff; width: {inside}mm; margin: 0 auto; }}
h1 {{ font-size: 1.45em; margin: 0 0 .3em; }}
h2 {{ font-size: 1.1em; margin: .6em 0 .2em; border-bottom: .3mm solid #000; }}
p {{ margin: {gap:.3g}em 0; white-space: pre-line; }}
table {{ width: 100%; border-collapse: collapse; margin: {between:.3g}em 0; table-layout: fixed; }}
th, td {{ border: .2mm solid #000; padding: {padding:.3g}em .35em; text-align: left; vertical-align: top; overflow-wrap: anywhere; white-space: pre-line; }}
th {{ background: #e8e8e8; }}
td:empty::after {{ content: "\\00a0"; }}
img {{ display: block; margin: {gap:.3g}em auto; }}
.stop {{ border: 1mm solid #000; padding: .3em .5em; margin: {between:.3g}em 0; font-weight: bold; }}
.box {{ border: .3mm solid #000; padding: .2em .4em; margin: {between:.3g}em 0; }}
.line {{ border-bottom: .2mm solid #000; height: 2em; }}
.columns {{ display: flex; gap: 4mm; }}
.foot {{ font-size: .85em; margin-top: {between:.3g}em; }}
tr, img, .stop, .box {{ break-inside: avoid; }}
h2 {{ break-after: avoid; }}
.new {{ break-before: page; }}
"""
FOOT = """
@page {{ margin-bottom: {bottom}mm; font: 8pt "DejaVu Sans", Verdana, Arial, sans-serif;
  @bottom-left {{ content: "{running}"; vertical-align: top; white-space: nowrap; }}
  @bottom-right {{ content: {number}; vertical-align: top; white-space: nowrap; }} }}
"""


def page(sheet, paper: str) -> str:
    """Gives the HTML of a whole Sheet on a paper of PAPERS."""
    width, height = PAPERS[paper]
    loose = sheet.leading - 1
    style = STYLE.format(
        width=width,
        height=height,
        margin=MARGIN,
        inside=width - 2 * MARGIN,
        type_size=sheet.type_size,
        leading=sheet.leading,
        padding=0.5 * loose,
        gap=0.8 * loose,
        between=1.2 * loose,
    )
    if sheet.running:
        number = '"' + NUMBERED.format('" counter(page) "', '" counter(pages) "') + '"'
        style += FOOT.format(bottom=MARGIN + RUNNING, running=_in_style(sheet.running), number=number)
    body = "".join(map(_block, sheet.blocks))
    foot = f'<p class="foot">{escape(sheet.foot)}</p>' if sheet.foot else ""
    title = escape(sheet.title)
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta'
        f' charset="utf-8"><title>{title}</title><style>{style}</style></head>'
        f"<body><h1>{title}</h1>{body}{foot}</body></html>\n"
    )


def _in_style(text: str) -> str:
    """Gives a text as a style sheet may quote it: every sign that is no letter, number or blank by its number.

    The blank behind a number belongs to it (CSS Syntax Module Level 3, 4.3.7).
    """
    return "".join(one if one.isalnum() or one == " " else f"\\{ord(one):06x} " for one in text)


def _block(block) -> str:
    """Gives the HTML of one block."""
    match block:
        case Heading(text):
            return f"<h2>{escape(text)}</h2>"
        case NewPage(title, _):
            return f'<h1 class="new">{escape(title)}</h1>'
        case Text(text, bold, lead):
            return f"<p><b>{escape(lead + text)}</b></p>" if bold else f"<p>{_bold(lead)}{escape(text)}</p>"
        case Stop(text):
            return f'<div class="stop">{escape(text)}</div>'
        case Table():
            return _table(block)
        case Picture(svg, _, alt, _, share):
            data = base64.b64encode(svg.encode()).decode()
            return (
                f'<img style="width:{100 * share:g}%" alt="{escape(alt, quote=True)}"'
                f' src="data:image/svg+xml;base64,{data}">'
            )
        case Blank(label, lines):
            return f"<p>{escape(label)}</p>" + '<div class="line"></div>' * lines
        case Box(title, height):
            return f'<div class="box" style="min-height:{height:g}mm">{escape(title)}</div>'
        case Columns(columns, shares):
            parts = zip(columns, shares or [1] * len(columns))
            inside = "".join(
                f'<div style="flex:{share:g} 1 0;min-width:0">{"".join(map(_block, blocks))}</div>'
                for blocks, share in parts
            )
            return f'<div class="columns">{inside}</div>'
        case Signatures(roles):
            rows = "".join(f"<tr><td>{escape(role)}</td><td></td><td></td></tr>" for role in roles)
            return f"<table><tr><th>who</th><th>name and signature</th><th>date</th></tr>{rows}</table>"
    raise TypeError(block)


def _bold(words: str) -> str:
    return f"<b>{escape(words)}</b>" if words else ""


def _table(table: Table) -> str:
    widths = "".join(f'<col style="width:{100 * share / sum(table.shares):.1f}%">' for share in table.shares)
    head = "".join(f"<th>{escape(text)}</th>" for text in table.head)
    rows = "".join(f"<tr>{''.join(f'<td>{escape(text)}</td>' for text in row)}</tr>" for row in table.rows)
    return f"<table><colgroup>{widths}</colgroup>{f'<thead><tr>{head}</tr></thead>' if table.head else ''}<tbody>{rows}</tbody></table>"
