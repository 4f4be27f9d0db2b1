"""Printed sheets: blocks that become a web page for the printer, or a PDF. Black and white, A4, Letter or A5."""

from .blocks import Blank, Box, Columns, Heading, NewPage, Picture, Signatures, Stop, Table, Text
from .sheet import Sheet, bound
from .two_up import TwoUp

__all__ = [
    "Blank",
    "Box",
    "Columns",
    "Heading",
    "NewPage",
    "Picture",
    "Sheet",
    "Signatures",
    "Stop",
    "Table",
    "Text",
    "TwoUp",
    "bound",
]
