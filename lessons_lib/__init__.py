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
from .errors import InputError
from .insulation import Insulation
from .pipe import Pipe
from .results import Verdict
from .run import Run
from .scald import TimeToBurn, time_to_burn
from .series import Series
from .surroundings import Ground, Surroundings
from .units import Q_, ureg

__all__ = [
    "Assessment", "Ground", "InputError", "Insulation", "Pipe", "Q_", "Run", "Series", "Surroundings",
    "TimeToBurn", "Verdict", "assess", "time_to_burn", "ureg",
]
