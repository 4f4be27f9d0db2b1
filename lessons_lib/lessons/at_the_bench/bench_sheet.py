"""The printed sheet of an experiment: rig, readings, picture, what was fitted and what it means."""

import base64
from html import escape

from ...bench.files import Source
from ...bench.readings import left_out_words
from ...bench.result import CAUTION
from ...panels.controls import Choice, PipeChoice
from ...quantities.display import SI, SYSTEMS, US, both, number, show
from ...quantities.errors import InputError
from ...sheets import Columns, Heading, Picture, Sheet, Stop, Table, Text
from ...storage.tables import DATA
from .bench_scene import why_none
from .picture import BenchPicture, value_words

DEMO_FILES = sorted(file.name for file in (DATA / "bench").glob("*.csv"))  # Tern Bank's
ROWS = 36  # readings that are printed
SIDE = 2  # tables of readings side by side
SAFE = (
    "Hot bench limit at learners' taps: 45 °C (113 °F). Test with a thermometer, never skin. Heaters, relief valves and"
    " tape circuits belong to licensed trades."
)


def bench_sheet(panel, source: Source | None) -> Sheet:
    """Gives the sheet, one page. Raises InputError: there are no readings, or those of another experiment."""
    missing = why_none(panel.state, source)
    if missing:
        raise InputError(f"No sheet without readings. {missing}")
    scene, picture = panel.scene, BenchPicture(panel.system)
    picture.kept = panel.kept
    sentence = picture.draw(scene)
    width, height = picture.canvas.size
    air = source.readings.air
    rig = [
        (control.label, air_span(air) if name == "air" and air is not None else setting(control))
        for name, control in panel.controls.items()
        if name not in panel.idle(panel.state)
    ]
    blocks = (
        Stop(SAFE),
        Text(about_words(panel.name.value, panel.written())),
        Columns(
            (
                (Heading("Rig"), Table(("what", "as given"), tuple(rig), (2, 3))),
                (Heading("Readings"), *readings_tables(source, scene)),
            ),
            (5, 6),
        ),
        Picture(picture.canvas.svg(), picture.canvas.pdf(), picture.describe(scene), height / width, 0.9),
        Heading("What the readings say"),
        Text(panel.answer.partition("\n")[0] + ".", bold=True),
        *result(scene, sentence),
        Text(f"Left out: {left_out_words(scene.left_out)}."),
        Text(scene.fit.caution if scene.fit else CAUTION),
    )
    title = f"At the bench: {panel.state['experiment']}"
    invented = " Tern Bank and its readings are INVENTED." if scene.name in DEMO_FILES else ""
    return Sheet(
        title,
        blocks,
        type_size=9.0,
        system=panel.system,
        foot=f"Readings: {scene.name}.{invented} Local codes, makers' instructions and licensed trades come first.",
    )


def about_words(name: str, written: dict) -> str:
    """The experiment's name, its date, who read it and what they guessed; what nobody wrote is left to be filled in."""
    told = {"experiment": " ".join(name.split()), **written}
    return " · ".join(f"{key.capitalize()}: {text or '_' * 16}" for key, text in told.items())


def air_span(air) -> str:
    """Says between what the air was, in both unit systems."""
    return f"as read, {both(air.min(), 'temperature')} to {both(air.max(), 'temperature')}"


def setting(control) -> str:
    """A control's value, in both unit systems where they differ."""
    if isinstance(control, PipeChoice):
        return " ".join(control.value)
    if isinstance(control, Choice):
        return control.value
    if control.label == "Thermometer" and control.value.magnitude == 0:
        return "time constant not known"
    metric, customary = (show(control.value, control.kind, system) for system in SYSTEMS)
    return metric if metric == customary else f"{metric} ({customary})"


def readings_tables(source: Source, scene) -> tuple:
    """The readings, thinned to a page, in two tables side by side."""
    thin = source.readings if scene.fit is None else scene.fit.readings
    every = -(-len(thin.row) // ROWS)
    at = thin.place if thin.along else thin.time
    rows = []
    for place in range(0, len(thin.row), every):
        where = number(at[place], "length", SI) if thin.along else clock(float(at[place].magnitude))
        degrees = thin.temperature[place]
        rows.append((where, f"{degrees.magnitude:.1f}", f"{degrees.to('degF').magnitude:.1f}"))
    half = -(-len(rows) // SIDE)
    head = ("m" if thin.along else "min:s", "°C", "°F")
    tables = Columns(tuple((Table(head, tuple(rows[first : first + half])),) for first in range(0, len(rows), half)))
    return (tables, Text(f"One in {every} of the {len(thin.row)} readings that were used.")) if every > 1 else (tables,)


def clock(seconds: float) -> str:
    """A time as a stopwatch shows it."""
    sign, whole = ("−" if seconds < 0 else ""), abs(round(seconds))
    return f"{sign}{whole // 60}:{whole % 60:02d}"


def result(scene, sentence: str) -> tuple:
    """The fitted value in both systems, its interval, and what it means."""
    if scene.fit is None:
        return (Text(sentence),)
    name = {
        "conductivity": "Conductivity of the insulation",
        "UA": "Loss of each metre for each degree",
        "flow": "Flow",
    }[scene.fit.unknown]
    (metric, low), (customary, low_us) = (value_words(scene.fit, system) for system in (SI, US))
    return (Text(f"{name}: {metric} ({customary}); 95 % interval {low} ({low_us})."), Text(sentence))


def links(sheet: Sheet, paper: str) -> str:
    """Links that save the sheet from the browser: nothing is written on the machine that runs this."""
    files = (
        ("PDF", "pdf", "application/pdf", sheet.pdf(paper)),
        ("web page", "html", "text/html", sheet.html(paper).encode()),
    )
    made = " · ".join(
        f'<a style="text-decoration:underline" download="bench-{paper}.{ending}"'
        f' href="data:{kind};base64,{base64.b64encode(content).decode()}">{escape(name)}</a>'
        for name, ending, kind, content in files
    )
    return f'<div style="font-size:15px">Save the sheet ({escape(paper)}): {made}</div>'
