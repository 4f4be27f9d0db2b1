"""Laying a pipe: how far apart its clips may be, and how much it falls so that it drains."""

import numpy as np

from ..quantities.errors import InputError
from ..quantities.units import LENGTH, Q_, quantity, to_base
from ..runs.pipe import Pipe, pipe_material
from ..storage import tables

# of the length: 10 mm in a metre, about 1/8 in in a foot, for a run that must drain (common practice, no source)
FALL = 0.01
CAUTION = (
    "Clips hold a pipe up and let it slide: where it grows with heat leave room at elbows, and never fix a pipe tight on both"
    " sides of one. A run drains only where all of it falls to the drain; sags, valves and exchangers hold water."
    " Spacing differs by country: local code and the pipe's maker decide."
)


def clip_spacing(pipe: Pipe, upright: bool = False):
    """The most that the clips of a pipe may be apart [m], from data/support_spacing.csv. upright : it rises; else it
    lies level

    It is that of the pipe's own region; where the table has none for it, the shortest of all regions. A material that
    the table does not have takes its spacing for any other, that of the pipe which sags most.
    Raises InputError for a material that data/pipe_materials.csv does not have.
    """
    if not isinstance(pipe, Pipe):
        raise InputError(
            f'pipe: {pipe!r} was given where a Pipe is needed, for example Pipe.nominal("PEX CTS", "1/2 in").'
        )
    rows = tables.rows_or_other("support_spacing", "material", pipe_material(pipe.material).name)
    outside = pipe.outside_diameter.to("mm").magnitude
    regions = {row["region"]: [one for one in rows if one["region"] == row["region"]] for row in rows}
    fitting = (
        next((row for row in one if outside <= float(row["outside_diameter"]) + 1e-6), one[-1])
        for region, one in regions.items()
        if region == pipe.region or pipe.region not in regions
    )
    return min(Q_(float(row["vertical" if upright else "horizontal"]), row["unit"]).to("m") for row in fitting)


def fall(length):
    """Says how much lower the far end of a pipe lies so that it drains [mm]; one value or an array."""
    return quantity(1000 * FALL * np.asarray(to_base(length, LENGTH)), "mm")
