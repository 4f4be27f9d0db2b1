"""Heat-tape power against handbook sizing examples."""

import pytest

from lessons_lib import Insulation, Pipe, Q_, Run, Surroundings

SOURCE = "handbook method, loss at the lowest ambient x 1.10, computed with ht and CoolProp (Churchill-Bernstein film, emissivity 0.9)"
# tube, foam [in], air [degF], W/ft with a margin of 10 %; k = 0.28 Btu in/(h ft2 degF), hold 40 degF, wind 9 m/s
EXAMPLES = [
    ("3/4 in", 0.5, 0, 2.38898), ("3/4 in", 0.5, -20, 3.58393), ("3/4 in", 1.0, 0, 1.56015), ("3/4 in", 1.0, -20, 2.3404),
    ("1/2 in", 0.5, 0, 1.91454), ("1/2 in", 0.5, -20, 2.87211), ("1 in", 0.75, 0, 2.17092), ("1 in", 0.75, -20, 3.25672),
]


@pytest.mark.parametrize("size, foam, air, power", EXAMPLES)
def test_power_to_hold(agree, size, foam, air, power):
    """Tolerance 3 %, the source's own."""
    covering = Insulation(
        "elastomeric foam", Q_(foam, "inch"), conductivity=Q_(0.28, "Btu*inch/(hour*ft**2*delta_degF)"), emissivity=0.9
    )
    run = Run(Pipe.nominal("copper L", size), Q_(10, "m"), covering, Surroundings(Q_(air, "degF"), wind=Q_(9, "m/s")))
    agree(1.10 * run.hold_power(Q_(40, "degF")).to("W/ft").magnitude, power, SOURCE, relative=0.03)
