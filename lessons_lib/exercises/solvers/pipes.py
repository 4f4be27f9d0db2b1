"""Bores, contents, speeds, pressures, lengths."""

import re
from fractions import Fraction

from ...physics import purge as purge_physics
from ...physics.properties import GRAVITY
from ...physics.properties import water as water_properties
from ...plant.closed_system import pipe_growth
from ...plant.purge import purge_legs
from ...plant.take_off import End, cutting_list
from ...plant.take_off import cut_length as library_cut
from ...quantities.units import Q_
from ...runs import flow as library_flow
from ...runs.common_values import WARM_ENOUGH
from ...runs.fittings import resolve_fittings
from ...runs.insulation import Insulation
from ...runs.pipe import Pipe, sizes
from ...runs.run import Run
from ...runs.surroundings import Surroundings
from ...storage.tables import tern_bank
from .heat import bare_run
from .registry import solves

SUPPLY, START, ROOM = Q_(60.0, "degC"), Q_(15.0, "degC"), Q_(20.0, "degC")
LEVEL = Q_(0.0, "m")
ANY_PIPE = Pipe.nominal("PEX CTS", "3/4 in")  # a cut between measured fittings does not depend on it
COLD_WATER = 15.0  # [degC] for the weight of water in a rising pipe


@solves
def bore(family, size):
    """Inside diameter of a trade size."""
    return Pipe.nominal(family, size).inside_diameter


@solves
def content(inside_diameter, length):
    """Says what a length of a bore holds."""
    volume = purge_physics.leg_volume(inside_diameter.to("m").magnitude, length.to("m").magnitude)
    return Q_(volume, "m**3")


@solves
def speed(family, size, flow):
    """Speed of a flow in a trade size."""
    return library_flow.speed(Pipe.nominal(family, size), flow)


@solves
def ratio_of_contents(family, small, big):
    """Content of `big` over that of `small`, for the same length."""
    return ratio_of_bores(family, small, big) ** 2


@solves
def ratio_of_bores(family, small, big):
    """The big bore over the small one, a slip: areas would be right."""
    return (bore(family, big) / bore(family, small)).to("dimensionless")


@solves
def ratio_of_names(small, big):
    """Says what dividing the names of the sizes gives."""
    return Q_(_named(big) / _named(small), "")


def _named(size: str) -> float:
    """The number in the name of a size: "1 1/4 in" is 1.25."""
    return float(sum(Fraction(part) for part in re.findall(r"\d+/\d+|\d+", size)))


@solves
def pressure_of_height(height):
    """Pressure of a column of cold water."""
    density = float(water_properties(COLD_WATER).density)
    return Q_(density * GRAVITY * height.to("m").magnitude, "Pa")


@solves
def pressure_drop(family, size, length, flow, water):
    """Friction of a straight run."""
    return library_flow.pressure_drop(Pipe.nominal(family, size), length, (), flow, water)


@solves
def pressure_drop_next(family, size, length, flow, water):
    """Gives the friction in the next bigger size whose name carries no wall."""
    plain = [one for one in sizes(family) if " x " not in one]
    return pressure_drop(family, plain[plain.index(size) + 1], length, flow, water)


@solves
def times_at_twice_the_flow(family, size, length, flow):
    """Friction at twice the flow over friction at the flow."""
    once, twice = (pressure_drop(family, size, length, flow * factor, SUPPLY) for factor in (1, 2))
    return (twice / once).to("dimensionless")


@solves
def loss_at_twice_the_flow(family, size, length, flow):
    """Says the same as `times_at_twice_the_flow`, in words."""
    times = times_at_twice_the_flow(family, size, length, flow).magnitude
    return "twice" if times < 2.5 else "over three" if times < 5 else "eight"


@solves
def length_of_one_elbow(family, size):
    """Straight pipe that rubs as much as one elbow."""
    return resolve_fittings(["elbow 90"]).equivalent_length(Pipe.nominal(family, size))


@solves
def speed_against_limit(family, size, flow, water):
    """Says whether a flow is faster than copper's limit in the United States, the stricter one."""
    limit = library_flow.speed_limit("copper", water).low
    return "above" if speed(family, size, flow) > limit else "below"


@solves
def bath_wide_open(family, size, length, main):
    """Flow of a bath tap on a level, bare run through a room."""
    return _bath(family, size, length).flow_at(main, LEVEL, SUPPLY)


@solves
def bath_wait(family, size, length, main):
    """Gives the time until warm water comes there."""
    run = _bath(family, size, length)
    return run.first_draw(SUPPLY, run.flow_at(main, LEVEL, SUPPLY), ROOM, WARM_ENOUGH).wait


def _bath(family, size, length):
    return Run(Pipe.nominal(family, size), length, Insulation.none(), Surroundings(ROOM), ["bath tap"])


@solves
def wait_wide_open(family, small, big, length, main):
    """Says what a bigger pipe does to the wait of a bath tap that is wide open."""
    grows = (
        (bath_wait(family, big, length, main) / bath_wait(family, small, length, main)).to("dimensionless").magnitude
    )
    area = ratio_of_contents(family, small, big).magnitude
    return "not at all" if grows <= 1.05 else "less" if grows < 0.95 * area else "with the area"


@solves
def sweep(family, size, length, flow):
    """Time in which a flow replaces the content once."""
    return (content(bore(family, size), length) / flow).to("s")


@solves
def wait(family, size, length, flow):
    """Gives the time until the first warm water, in a bare indoor run that starts at room temperature."""
    run = bare_run(family, size, length, ROOM)
    return run.first_draw(SUPPLY, flow, START, WARM_ENOUGH).wait


@solves
def stands_at(family, size, length, flow, foam, pause):
    """Water in a run through a room after a pause; see wait_after."""
    return Q_(float(_draw_after(family, size, length, flow, foam, pause).temperature.magnitude[0]), "degC")


@solves
def wait_after(family, size, length, flow, foam, pause):
    """Gives the time until warm water comes again. foam : thickness, or the plain number 0 for a bare pipe."""
    return _draw_after(family, size, length, flow, foam, pause).wait


def _draw_after(family, size, length, flow, foam, pause):
    cover = Insulation("elastomeric foam", foam) if foam else Insulation.none()
    return Run(Pipe.nominal(family, size), length, cover, Surroundings(ROOM)).second_draw(
        SUPPLY, flow, pause, WARM_ENOUGH
    )


@solves
def foam_for_the_wait(family, size, length, flow, foam, pause):
    """Says what foam does for the wait after a pause."""
    foamed, bare = (wait_after(family, size, length, flow, one, pause) for one in (foam, 0))
    return "much" if foamed < 0.5 * bare else "little" if foamed <= 1.05 * bare else "longer"


@solves
def wait_against_sweep(family, size, length, flow):
    """Says whether warm water comes later than the run has been swept once."""
    ratio = (wait(family, size, length, flow) / sweep(family, size, length, flow)).to("dimensionless").magnitude
    return "later" if ratio > 1.02 else "sooner" if ratio < 0.98 else "then"


@solves
def flow_that_carries_air(family, size):
    """Least flow that carries air along a trade size."""
    return purge_legs(bore(family, size), Q_(1.0, "m"), Q_(1.0, "L/min")).least_flow


@solves
def carries_air(family, size, flow):
    """Says whether a flow carries air, in words."""
    return purge_legs(bore(family, size), Q_(1.0, "m"), flow).word


@solves
def loop_line_loss(family, size, flow):
    """Gives the loss of a metre of Tern Bank's outdoor loop (invented) in its foam and frost, laid in that pipe."""
    line = next(run for place in tern_bank() for run in place["run"] if run["ends_at"] == "tank")
    cover = Insulation(line["insulation"], Q_(line["thickness"], "mm"))
    around = Surroundings(Q_(line["air"], "degC"), Q_(line["wind"], "m/s"))
    return Run(Pipe.nominal(family, size), Q_(line["length"], "m"), cover, around).heat_loss(
        Q_(line["set_temperature"], "degC"), flow
    )


@solves
def wider_loop(family, small, big, flow):
    """Says what becomes of a loop's loss, and of the flow that carries its air out."""
    grows = {
        loop_line_loss(family, big, flow) > loop_line_loss(family, small, flow),
        flow_that_carries_air(family, big) > flow_that_carries_air(family, small),
    }
    return "both grow" if grows == {True} else "both shrink" if grows == {False} else "mixed"


@solves
def flow_at_carrying_speed(inside_diameter):
    """Flow that carries air along a bore."""
    return Q_(purge_physics.CARRIES_AIR * purge_physics.area(inside_diameter.to("m").magnitude), "m**3/s")


@solves
def purge_time(volume, flow, changes):
    """Gives the time until a leg's water has been changed so many times."""
    seconds = purge_physics.seconds_to_change(
        volume.to("m**3").magnitude, flow.to("m**3/s").magnitude, changes.magnitude
    )
    return Q_(float(seconds), "s")


@solves
def cut_length(centres, face, depth):
    """Gives the length to cut between two like fittings that were measured."""
    end = End("elbow 90", "push", centre_to_face=face, insertion_depth=depth)
    return library_cut(ANY_PIPE, centres, end, end).length


@solves
def pieces_from_a_bar(stock, piece, kerf):
    """Counts as many as the cutting list lays into one bar."""
    count = 1
    while cutting_list([(piece, count + 1)], stock, kerf, spare=0.0).bars_needed == 1:
        count += 1
    return Q_(count, "")


@solves
def growth(material, length, warmer):
    """Gives by how much a free pipe lengthens when it carries warmer water."""
    return pipe_growth(material, length, warmer)


@solves
def growth_word(material):
    """Much for what grows at least twice as far as copper."""
    one, each = Q_(1.0, "m"), Q_(1.0, "delta_degC")
    return "much" if pipe_growth(material, one, each) >= 2 * pipe_growth("copper", one, each) else "little"
