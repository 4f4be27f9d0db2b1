"""What must be said wherever a result is shown: cautions that several results share, and those that a run brings
with it.
"""

import numpy as np

from .pipe import PipeMaterial, finishes

ICE = (
    "Ice begins at bare valves, elbows and brackets that a straight run does not show, and water trapped behind a plug "
    "bursts pipes before they are solid. Insulation delays ice; it does not stop it. The often quoted warning level of "
    "-7 °C (20 °F) is for bare pipes in still, unheated attics, not for a pipe outdoors in wind. Ice's conductivity in "
    "print differs by 20 %, and with it the time to a thick ring."
)
SLOW_WATER = (
    "Slow water: where it cools at the wall it sinks and mixes. A bare run then loses more than the film of plain slow"
    " flow lets through; by how much depends on the run. The tap's temperature is worked out with that film: it is the"
    " hot side, for burns. Ice in flowing water, and the flow that prevents it, are worked out without it: that is the"
    " cold side. A trickle fails with the water supply, and its drain can freeze too."
)
BARE_METAL = (
    "Bare {metal}: its surface decides.{span} {taken:.2g} is taken here, and handbook tables that do not state theirs"
    " cannot be matched exactly."
)
SPAN = " Emissivity goes from {:.2g} (polished) to {:.2g} (oxidised);"
UPRIGHT = (
    "Every pipe is taken as level. Bare and upright in still air it really loses a tenth to a third less. That errs to"
    " the safe side for frost; but the water arrives and stays hotter than shown, so judge scalds by the temperature"
    " that enters the run."
)
FITTINGS = "Fittings: from the tables named in data/fittings.csv; tables in print differ twofold."


def joined(*texts) -> str:
    """One text of several, each said once; empty ones left out."""
    return " ".join(text for text in dict.fromkeys(texts) if text)


def of_run(pipe, insulation, fittings, bare_share: float) -> str:
    """Says what to know of every result of a run; empty where there is nothing."""
    bare = bare_share > 0 or np.any(insulation.thickness.magnitude == 0)
    material = pipe.made_of
    emissivity = pipe.emissivity if insulation.emissivity is None else insulation.emissivity
    return joined(
        _bare_metal(material, emissivity) if bare and material and not material.plastic else "",
        UPRIGHT if bare else "",
        material.note if material else "",
        FITTINGS if fittings.counts else "",
    )


def _bare_metal(material: PipeMaterial, emissivity: float) -> str:
    """Says what bare metal's surface decides; with the span of its finishes where data/surfaces.csv has them."""
    known = finishes(material.name).values()
    span = SPAN.format(min(known), max(known)) if known else " An emissivity of"
    return BARE_METAL.format(metal=material.name, span=span, taken=emissivity)
