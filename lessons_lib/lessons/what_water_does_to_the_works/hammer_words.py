"""Hammer on paper, for the readers of both unit systems, held against the panel."""

import numpy as np

from ...panels.pages import Told
from ...panels.shared_controls import in_goods
from ...physics.properties import water
from ...quantities.display import SYSTEMS, US
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from .water_hammer import COLD, MACHINE, calculate, ready_made

SLOW = Q_(300, "ms")


def hammer_by_hand() -> Told:
    """Gives the rise at a tap that shuts at once, the wave's way, and the rise at one that shuts slowly."""
    return Told("\n\n".join(map(_on_paper, SYSTEMS)))


def _on_paper(system: str) -> str:
    state = in_goods(ready_made()[MACHINE], system)
    scene, slow = calculate(state), calculate({**state, "closing": SLOW})
    return (_customary if system == US else _metric)(state, scene, slow)


def _metric(state: dict, scene, slow) -> str:
    bore = round(Pipe.nominal(*state["pipe"]).inside_diameter.to("mm").magnitude, 1)
    flow, length, wave = state["flow"].magnitude, round(scene.length, 1), round(scene.wave)
    density = round(float(water(COLD.magnitude).density))
    speed = round(flow / 60 / (np.pi / 4 * bore**2 / 1000), 2)
    rise, back = density * wave * speed / 1000, 2000 * length / wave
    later = 2 * density * length * speed / slow.closing / 1000
    return (
        f"**A tap that shuts, metric.** Speed = {flow:g} L/min ÷ 60 ÷ (π ÷ 4 × {bore:g}² ÷ 1000) = {speed:g} m/s. The"
        f" wave runs at {wave} m/s in this pipe.\n\n* There and back: 2 × {length:g} ÷ {wave} = **{back:.0f} ms**; the"
        f" panel says {1000 * scene.there_and_back:.0f} ms.\n* Shut faster than that, the pressure rises by density ×"
        f" wave × speed = {density} × {wave} × {speed:g} ÷ 1000 = **{rise:.0f} kPa**; the panel says"
        f" {(scene.bare - scene.house) / 1000:.0f} kPa.\n* Shut in {slow.closing:g} s it rises by 2 × density × length"
        f" × speed ÷ time = 2 × {density} × {length:g} × {speed:g} ÷ {slow.closing:g} ÷ 1000 = **{later:.0f} kPa**; the"
        f" panel says {(slow.bare - slow.house) / 1000:.0f} kPa."
    )


def _customary(state: dict, scene, slow) -> str:
    bore = round(Pipe.nominal(*state["pipe"]).inside_diameter.to("inch").magnitude, 3)
    gpm, length = round(state["flow"].to("gpm").magnitude, 2), round(state["length"].to("ft").magnitude, 1)
    wave = round(Q_(scene.wave, "m/s").to("ft/s").magnitude)
    speed = round(0.4085 * gpm / bore**2, 2)
    rise, back = 0.01346 * wave * speed, 2000 * length / wave
    later = 2 * 0.01346 * length * speed / slow.closing
    told, slowly = (Q_(one.bare - one.house, "Pa").to("psi").magnitude for one in (scene, slow))
    return (
        f"**US customary.** Speed = 0.4085 × gpm ÷ bore² = 0.4085 × {gpm:g} ÷ {bore:g}² = {speed:g} ft/s. The wave runs"
        f" at {wave} ft/s.\n\n* There and back: 2 × {length:g} ÷ {wave} = **{back:.0f} ms**; the panel says"
        f" {1000 * scene.there_and_back:.0f} ms.\n* Shut at once: 0.01346 × wave × speed = 0.01346 × {wave} × {speed:g}"
        f" = **{rise:.0f} psi**; the panel says {told:.0f} psi. Here 0.01346 is water's density for psi and ft/s.\n*"
        f" Shut in {slow.closing:g} s: 2 × 0.01346 × {length:g} × {speed:g} ÷ {slow.closing:g} = **{later:.0f} psi**;"
        f" the panel says {slowly:.0f} psi."
    )
