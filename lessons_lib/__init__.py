"""Hot Water Runs: what pipe, length, insulation and set temperature do to the tap, to scalds and to ice.

    from lessons_lib import Q_, Pipe, Insulation, Surroundings, Run, assess

    run = Run(
        Pipe.nominal("copper L", "3/4 in"), Q_(18, "m"),
        Insulation("elastomeric foam", Q_(19, "mm")), Surroundings(Q_(-12, "degC"), wind=Q_(5, "m/s")),
    )
    print(assess(run, Q_(60, "degC"), Q_(6, "L/min"), start=Q_(8, "degC")))

Arguments that carry a unit are pint quantities made with `Q_`; single values or arrays, which broadcast.
"""

from .assessment import Assessment, assess
from .draws import FirstDraw
from .errors import InputError
from .insulation import Insulation
from .nights import Night, night, season_energy, trickle
from .pipe import Pipe
from .results import Verdict
from .run import Run
from .scald import TimeToBurn, time_to_burn
from .series import Series
from .surroundings import Ground, Surroundings
from .tape import Tape, TapePlan, bore_over, plan, settles_at
from .units import Q_, ureg
from .weather import Weather

__all__ = [
    "Assessment", "FirstDraw", "Ground", "InputError", "Insulation", "Night", "Pipe", "Q_", "Run", "Series",
    "Surroundings", "Tape", "TapePlan", "TimeToBurn", "Verdict", "Weather", "assess", "bore_over", "night", "plan",
    "season_energy", "settles_at", "time_to_burn", "trickle", "ureg",
]
