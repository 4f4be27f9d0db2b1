"""The first page of a building's sheet, for the talk with the contractor: its sentences, in the reader's units."""

from math import isnan

from ..quantities.display import show
from ..runs.assessment import NO_WATER
from ..runs.bacteria import STORE_ADVICE
from ..runs.scald import BURN_SOONER
from ..sheets.blocks import Table
from .run_sheet_rows import MEASURE, Rows, clipped, table
from .words import adults_skin, lines_lose, on_night, wait_words

STOP = (
    "Hot water scalds, pressure and electricity injure, frozen pipes burst. To discuss with a licensed contractor;"
    " local code decides. Nothing heats before all is full and vented."
)
ABOUT_MEASURE = '"measure": provisional until you take centre to face and depth from the fittings in your hand. '
FOOT = "Model values; burn times: adults, good to a factor of two. Hot Water Runs{source}."
ALWAYS = f"{BURN_SOONER}. Test with water before you cover. Storing below {STORE_ADVICE} is not recommended."
VALVE = (
    "A licensed trade sets the mixing valve by thermometer, with the tank at its highest, and checks it at least once a"
    " year. One whose class protects against scalding falls to a trickle with its cold shut; a tank valve (ASSE 1017,"
    " EN 15092) need not. It protects no tap before it and replaces no listed valve at a bath or shower."
)
ICE = "Ice begins at bare valves, elbows and brackets; insulation delays ice, it does not stop it."
TAPE = (
    "Heat tape: only with insulation that its maker lists, within the pipe's limit, never crossed, on an electrician's"
    " circuit; test its ground-fault protection before each frost."
)
LOOP = "Loop water is drinking water: rated parts, no antifreeze. Power cut: circulator and heat stop together."


class Talk:
    """The sentences of the first page. rows : of the same sheet; changes : what to change first, None: not tried"""

    def __init__(self, rows: Rows, changes):
        self.rows, self.changes = rows, changes
        self.layout, self.found, self.system = rows.layout, rows.found, rows.system
        self.taped = any(leg.tape for leg in self.layout.all_legs)

    def title(self) -> str:
        """Says what the sheet is called."""
        return f"{clipped(self.layout.name, 60)}: plan of the hot-water pipes"

    def running(self) -> str:
        """Gives what stands at the foot of every page, before its number."""
        invented = f" · {self.layout.invented.split(':')[0]}" if self.layout.invented else ""
        return f"{clipped(self.layout.name, 60)}{invented}"

    def whose(self) -> Table:
        """The owner's own sentence, and who drew it, where and when; room for a pen where the file does not say."""
        house = self.layout
        said = (house.about, house.address, house.author, house.date)
        return Table(("what it is", "address", "drawn by", "date"), (said,), (16, 9, 6, 4))

    def settings(self) -> str:
        """Water, tank, valve, tape circuit, loop and night in sentences."""
        house, shown = self.layout, self._show
        parts = [
            f"Tank {shown(house.set_temperature, 'temperature')} ({self.found.store.word});"
            f" {shown(house.pressure, 'pressure')} at the tank while water flows; cold inlet"
            f" {shown(house.cold_inlet, 'temperature')}."
        ]
        if house.valve is not None:
            parts.append(f"Mixing valve {self._valve()}.")
        if self.taped:
            parts.append(f"Heat tape holds {shown(house.tape_supply.hold, 'temperature')}; {self._circuit()}.")
        if house.loop is not None:
            loop = self.found.loop
            parts.append(
                f"Loop: {shown(house.loop.flow, 'flow')} carries {shown(loop.heat, 'heat')};"
                f" {lines_lose(loop, self.system)}; {shown(loop.arrives, 'temperature')} arrives at the tank."
            )
        return " ".join([*parts, *(self._night(one.night) for one in house.on_nights)])

    def _night(self, night) -> str:
        """Air, wind and hours of a night, with its name where there are several."""
        name = f"Night, {clipped(night.name)}" if night.name else "Night"
        air, wind = self._show(night.air, "temperature"), self._show(night.wind, "wind")
        hours, without = (self._show(one, "hours") for one in (night.hours, night.without_power))
        return f"{name}: {air}, wind {wind}, {hours}, of it {without} without power."

    def _valve(self) -> str:
        """The mixing valve's setting and where it sits."""
        valve = self.layout.valve
        leg = f"leg {self.rows.numbers[valve.leg]}, {clipped(valve.leg)}"
        return f"{self._show(valve.setting, 'temperature')} at the {valve.end} of {leg}"

    def _circuit(self) -> str:
        """Voltage and breaker of the tapes."""
        supply = self.layout.tape_supply
        return (
            f"{self._show(supply.voltage, 'voltage')}, breaker {supply.breaker.to('A').magnitude:.3g} A"
            f" ({supply.region})"
        )

    def extremes(self) -> Table:
        """The hottest and the slowest tap, and the leg that freezes first."""
        hot, slow = self.found.tap(self.found.hottest).hottest_night, self.found.tap(self.found.slowest)
        lines = [
            ("hottest tap", hot.name, f"{self._hot(hot)}{on_night(hot)}"),
            ("slowest tap", slow.name, f"{wait_words(slow, self.system)}{on_night(slow)}"),
        ]
        if self.found.coldest is not None:
            leg = self.found.leg(self.found.coldest)
            where = f"{self.rows.named(leg.leg)}, {leg.place}"
            lines += [
                ("coldest leg, with power", where, f"{self.rows.ice(leg, leg.with_power)}{on_night(leg)}"),
                ("coldest leg, power off", where, f"{self.rows.ice(leg, leg.without_power)}{on_night(leg)}"),
            ]
        return table(("look first at", "where", "what the model says"), lines, (8, 11, 18))

    def _hot(self, tap) -> str:
        """Says what comes from the hottest tap, and from it without a valve."""
        if isnan(tap.delivered.magnitude):
            return NO_WATER
        arrives, unmixed = (self._show(one, "temperature") for one in (tap.delivered, tap.unmixed))
        return (
            f"{arrives} arrives, adults: {adults_skin(tap.delivered)}; if unmixed, {unmixed}:"
            f" {adults_skin(tap.unmixed)}"
        )

    def asked(self) -> str:
        """Says what the contractor is asked to do, a numbered line each."""
        layout, measure = self.layout, self.rows.any_measure()
        asked = (
            (True, "Walk the run with this sketch. Check each length, level and fixing before you name a price."),
            (True, "Tell us what local code asks for and this plan does not have."),
            (measure, f'Measure the fittings with the word "{MEASURE}". Their cuts are provisional until then.'),
            (layout.valve, f"Set the mixing valve by thermometer: {layout.valve and self._valve()}."),
            (self.taped, f"Have an electrician make the circuit of the heat tape: {self._circuit()}."),
            (layout.loop, "Fill, purge and test the loop with parts that are rated for drinking water."),
            (self.changes, 'Say what you think of "What to change first" on the last page, and its price.'),
        )
        return "\n".join(f"{number}. {line}" for number, line in enumerate((line for one, line in asked if one), 1))

    def cautions(self) -> str:
        """Says what must be said, by what the building has."""
        has = ((self.layout.valve, VALVE), (self.found.legs, ICE), (self.taped, TAPE), (self.layout.loop, LOOP))
        measure = ABOUT_MEASURE if self.rows.any_measure() else ""
        return measure + " ".join([*(words for there, words in has if there), ALWAYS])

    def foot(self) -> str:
        """Says where the figures come from, and whether the building exists."""
        source = FOOT.format(source=f", {clipped(self.layout.file, 30)}" if self.layout.file else "")
        return f"{self.layout.invented} {source}".strip()

    def _show(self, value, kind: str) -> str:
        return show(value, kind, self.system)
