"""Hot fronts through a pipe of 39 m, as read at the University of Liege in 2015, and the same by this library.

Readings as stored in the public Modelica library IBPSA (Fluid.FixedResistances.Validation.PlugFlowPipes.Data, records
PipeDataULg150801, 151202, 151204_1 and 151204_4), thinned where nothing changes. Bore 52.48 mm, wall 3.91 mm of steel
(7800 kg/m3, 480 J/(kg K)), 13 mm of foam below 0.04 W/(m K), air of 18 degC, as their documentation says.
"""

from dataclasses import dataclass

import numpy as np

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings
from lessons_lib.physics.properties import water

EVERY, LAST = 0.25, 500.0  # [s] grid on which inlet and answer are added up


def _readings(text: str) -> np.ndarray:
    return np.array([[float(value) for value in pair.split()] for pair in text.split(",")]).T


@dataclass(frozen=True)
class HotFront:
    """One run of the bench. mass_flow [kg/s]; start : at the outlet before the front [degC]; inlet, outlet : "s degC, ..." """

    mass_flow: float
    start: float
    inlet: str
    outlet: str

    def model(self):
        """Seconds and outlet temperature by this library: its answer to one step, added up over the measured inlet."""
        times, entering = _readings(self.inlet)
        hot = entering.max()
        outside, given = (
            60.0,
            60.3,
        )  # [mm]; the library's widest pipe is 60 mm, so the wall is denser by what is missing
        density = 7800 * (given**2 - 52.48**2) / (outside**2 - 52.48**2)
        pipe = Pipe(
            "steel",
            Q_(52.48, "mm"),
            Q_(outside, "mm"),
            Q_(50, "W/(m*K)"),
            Q_(0.05, "mm"),
            Q_(density, "kg/m**3"),
            Q_(480, "J/(kg*K)"),
            0.9,
        )
        foam = Insulation("polyethylene foam", Q_(13, "mm"), conductivity=Q_(0.04, "W/(m*K)"))
        run = Run(pipe, Q_(39, "m"), foam, Surroundings(Q_(18, "degC")))
        flow = Q_(self.mass_flow / float(water(hot).density), "m**3/s")
        useful = self.start + 0.5 * (hot - self.start)
        draw = run.first_draw(Q_(hot, "degC"), flow, Q_(self.start, "degC"), Q_(useful, "degC"))
        grid = np.arange(0, LAST, EVERY)
        answer = np.interp(grid, draw.time.to("s").magnitude, draw.temperature.to("degC").magnitude)
        step = (answer - self.start) / (hot - self.start)
        rises = np.diff(np.interp(grid, times, entering), prepend=self.start)
        return grid, self.start + np.convolve(rises, step)[: len(grid)]


RUNS = {
    "1 August, 1.245 kg/s": HotFront(
        1.245,
        16.8,
        "0 16.6,2.87 19.7,5.66 29.1,8.78 34.9,11.62 38.5,16.06 42.4,18.89 44.1,23.02 46.2,25.76 47.3,28.58 48.1,"
        "31.35 48.7,35.12 49.3,37.94 49.7,41.47 50,44.32 50.3,48.91 50.6,55.26 50.9,63.69 51.1,72.18 51.2,91.75 51.3,"
        "112.29 51.5,128 51.4,200 51.2",
        "69.32 17.6,72.18 18.7,75.08 20.2,79.48 22.8,82.28 24.7,85.11 26.6,87.91 28.6,91.75 31.2,94.62 33,97.42 34.7,"
        "100.24 36.4,103.89 38.4,106.65 39.7,109.47 41,112.29 42.2,115.73 43.5,118.64 44.5,122.07 45.5,124.86 46.2,"
        "129.45 47.2,135.81 48.3,143.32 49.3,151.83 50,163.14 50.6",
    ),
    "2 December, 0.589 kg/s": HotFront(
        0.589,
        18.2,
        "0 18.8,3.1 28,6.4 34.7,11.5 41.4,14.6 43.9,17.9 45.8,21 47.2,24.1 48.2,27.3 49,30.4 49.6,36.7 50.4,43.1 50.9,"
        "49.3 51.3,59.9 51.7,72.3 51.9,86.8 52,99.5 52.1,114.3 52.3,200 52.4,260 52.5,400 52.4",
        "138.1 18.6,141.4 19,144.5 19.6,147.9 20.3,151 21.2,154.4 22.2,157.5 23.2,161 24.5,164.1 25.6,167.4 26.9,"
        "170.5 28.1,173.8 29.4,177 30.6,180 31.8,183.4 33,186.5 34.2,189.5 35.4,192.7 36.5,195.9 37.6,199 38.7,"
        "202.2 39.7,205.3 40.6,208.4 41.5,211.6 42.4,214.8 43.1,218 43.9,221.2 44.6,224.3 45.3,227.5 45.9,230.6 46.4,"
        "233.8 47,237 47.5,240.1 47.9,243.2 48.3,246.4 48.7,249.6 49,252.8 49.4,259.1 49.9,268.9 50.5,282.9 51.2,"
        "306.5 51.7",
    ),
    "4 December, 1.618 kg/s": HotFront(
        1.618,
        14.2,
        "0 14,2.9 16.8,5.8 20.5,8.7 22.9,11.6 24.6,14.5 25.8,17.3 26.7,20.2 27.4,23.2 27.9,26.2 28.3,29.2 28.6,"
        "32.3 28.9,35.2 29.1,38.1 29.3,43.9 29.5,50.5 29.7,56.4 29.9,72.4 29.9,80 30,95.7 30.1,105.5 30.2,120.2 30.1,"
        "160 30.3",
        "56.4 14.8,59.2 15.7,63.6 17.2,66.6 18.2,69.5 19.3,72.4 20.4,76.4 21.8,79.3 22.7,82.2 23.6,85.1 24.4,88 25.1,"
        "92.7 26.1,95.7 26.7,98.6 27.1,101.5 27.5,105.5 28,111.4 28.6,117.3 29,126 29.4,134.9 29.7",
    ),
    "4 December, 1.257 kg/s": HotFront(
        1.257,
        28.2,
        "0 31.2,6.1 40.2,12.5 49.7,18.5 54.2,24.8 56.8,31.2 58.2,37.3 59.1,43.6 59.5,49.6 59.9,55.9 60.1,68.2 60.4,"
        "80.3 60.6,98.6 60.9,160.9 61.1,175.2 61.2,230 61.4",
        "68.2 28.9,74.6 31.1,80.3 34.3,86.4 38.2,92.6 42.2,98.6 45.8,104.8 49.1,111.3 51.9,118.7 54.4,125.4 56.1,"
        "132.2 57.4,139 58.3,147.4 59.1,160.9 59.9",
    ),
}


def reached(front: HotFront, share: float):
    """Seconds until the outlet has risen by `share` of what it rose in all: by the model, and as read."""
    times, leaving = _readings(front.outlet)
    level = front.start + share * (leaving.max() - front.start)
    return float(np.interp(level, *reversed(front.model()))), float(np.interp(level, leaving, times))
