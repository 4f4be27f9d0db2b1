"""Whether a layout's legs are still those of a file that came with the workbook: invented, and its papers say so."""

import tomllib
from functools import cache

from ..quantities.reading import read_quantity
from ..quantities.units import LENGTH, to_base
from ..storage.tables import DATA
from .parts import LEG_LENGTH

SHIPPED, TEMPLATE = DATA / "layouts", "template"


def invented(layout) -> str:
    """A sentence for every paper made from a layout of which half the legs or more came with the workbook; "" for a
    reader's own.

    A leg is the same where name, direction and length are. Editing a demo building here and there leaves it a demo
    building.
    """
    own = {(leg.name, leg.go, _millimetres(leg.length)) for leg in layout.all_legs}
    stem, (name, legs) = max(_shipped().items(), key=lambda one: len(own & one[1][1]))
    if 2 * len(own & legs) < len(own):
        return ""
    if stem == TEMPLATE:
        return "INVENTED: these legs are still the template's, and no real building has them."
    return f"INVENTED: Tern Bank and its building, {name}, do not exist."


@cache
def _shipped() -> dict:
    """File → name and legs, as in `invented`, of each layout that came with the workbook."""
    found = {}
    for file in SHIPPED.glob("*.toml"):
        whole = tomllib.loads(file.read_text(encoding="utf-8"))
        legs = [*whole["leg"], *whole.get("loop", {}).get("hot", ()), *whole.get("loop", {}).get("return", ())]
        same = frozenset(
            (leg["name"], leg["go"], _millimetres(read_quantity(leg["length"], LEG_LENGTH))) for leg in legs
        )
        found[file.stem] = whole["name"], same
    return found


def _millimetres(length) -> int:
    """A length to the millimetre, so that 10 ft and 3.048 m are one."""
    return round(1000 * to_base(length, LENGTH))
