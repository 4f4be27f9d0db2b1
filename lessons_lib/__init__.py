"""Hot Water Runs: what pipe, length, insulation and set temperature do to the tap, to scalds and to ice.

    from lessons_lib import Q_, Pipe, Insulation, Surroundings, Run, assess

    run = Run(
        Pipe.nominal("copper L", "3/4 in"), Q_(18, "m"),
        Insulation("elastomeric foam", Q_(19, "mm")), Surroundings(Q_(-12, "degC"), wind=Q_(5, "m/s")),
    )
    print(assess(run, Q_(60, "degC"), Q_(6, "L/min"), start=Q_(8, "degC")))

Arguments that carry a unit are pint quantities made with `Q_`; single values or arrays, which broadcast.
"""

from .bench.experiments import fit_along, fit_cooling, fit_first_draw
from .bench.readings import LeftOut, Readings
from .bench.result import BenchFit, Comparison, compare
from .building import Layout, LayoutDocument, load_layout
from .plant.bracket import bracket_loads
from .plant.circuit import ground_fault, tape_circuit
from .plant.closed_system import (
    expansion,
    pipe_growth,
    relief_settings,
    trapped_pressure_rise,
    vessel,
    vessel_pressure,
    vessel_reading,
)
from .plant.heat_pump import heat_pump_cop, loop_flow, loop_loss, loop_stored_heat, store_cost
from .plant.purge import purge_legs
from .plant.take_off import End, cut_length, cutting_list
from .plant.tank import hot_share, mixing_valve, recovery, reheat_time, standby_loss, water_at_the_tap
from .plant.unit_circuit import heat_pump_circuit
from .plant.work_order import WorkOrder
from .quantities.errors import InputError
from .quantities.results import Verdict
from .quantities.units import Q_, ureg
from .runs.assessment import Assessment, assess
from .runs.bacteria import bacteria_band, tenfold_time, time_in_growth_band
from .runs.first_draw import FirstDraw
from .runs.flow import hazen_williams, speed_limit
from .runs.insulation import Insulation
from .runs.nights import Night, night, season_energy, trickle
from .runs.pipe import Pipe
from .runs.run import Run
from .runs.scald import TimeToBurn, time_to_burn
from .runs.series import Series
from .runs.skin import skin_injury, skin_temperature
from .runs.surroundings import Ground, Surroundings
from .runs.tape import Tape, TapePlan, bore_over, plan, settles_at
from .runs.weather import Weather

__all__ = [
    "Assessment",
    "BenchFit",
    "Comparison",
    "End",
    "FirstDraw",
    "Ground",
    "InputError",
    "Insulation",
    "Layout",
    "LayoutDocument",
    "LeftOut",
    "Night",
    "Pipe",
    "Q_",
    "Readings",
    "Run",
    "Series",
    "Surroundings",
    "Tape",
    "TapePlan",
    "TimeToBurn",
    "Verdict",
    "Weather",
    "WorkOrder",
    "assess",
    "bacteria_band",
    "bore_over",
    "bracket_loads",
    "compare",
    "cut_length",
    "cutting_list",
    "expansion",
    "fit_along",
    "fit_cooling",
    "fit_first_draw",
    "ground_fault",
    "hazen_williams",
    "heat_pump_circuit",
    "heat_pump_cop",
    "hot_share",
    "load_layout",
    "loop_flow",
    "loop_loss",
    "loop_stored_heat",
    "mixing_valve",
    "night",
    "pipe_growth",
    "plan",
    "purge_legs",
    "recovery",
    "reheat_time",
    "relief_settings",
    "season_energy",
    "settles_at",
    "skin_injury",
    "skin_temperature",
    "speed_limit",
    "standby_loss",
    "store_cost",
    "tape_circuit",
    "tenfold_time",
    "time_in_growth_band",
    "time_to_burn",
    "trapped_pressure_rise",
    "trickle",
    "ureg",
    "vessel",
    "vessel_pressure",
    "vessel_reading",
    "water_at_the_tap",
]
