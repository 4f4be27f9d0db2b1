"""The bench panel: an experiment, the rig, its readings, and the one thing that they say."""

from html import escape

import ipywidgets as widgets

from ...bench import files as bench_files
from ...bench.files import OWN_FOLDER, SPREADSHEETS, Source
from ...bench.reading_header import Offer, Unclear, offer
from ...bench.store import ABOUT, LONGEST, Saved, Store
from ...bench.words import NOT_FITTED
from ...panels.controls import label_of
from ...panels.panel import Panel
from ...quantities.display import both
from ...quantities.errors import InputError
from .bench_controls import AS_SAVED, DEMOS, TYPED, groups, ready_made
from .bench_scene import fit, headline, idle_controls, readouts, scene_of
from .bench_sheet import bench_sheet, links
from .picture import BenchPicture
from .reading_choices import ReadingChoices
from .tries import TRIES

SAVED = "Saved experiments …"
BEGIN_TABLE = "time [min]; temperature [°C]\n"
PARTS = ("Rig", "Readings", "Keep")
HINTS = {"date": "5 March", "people": "who read it", "guess": "what you expected"}  # of ABOUT
LISTED = 200  # left-out rows that are listed beside the table
WIDE = "340px"


def bench() -> "BenchPanel":
    """The bench panel, opened on Tern Bank's leg in foam (invented)."""
    return BenchPanel()


class BenchPanel(Panel):
    """A panel that draws the model at once and fits when it is asked."""

    def __init__(self):
        ready = ready_made()
        start = next(iter(ready.values()))
        self.store, self.saved_readings = Store(), None
        self.fitted = None  # (settings, source, fit): holds until one of the first two changes
        self.typed_text = BEGIN_TABLE
        super().__init__(
            groups(start),
            self._calculate,
            BenchPicture,
            readouts,
            ready,
            idle_controls,
            headline=headline,
            tries=TRIES,
            goods=lambda settings, system: settings,  # the rig that was measured has its own pipe
        )
        self._open()

    def _calculate(self, state: dict):
        """Controls and readings → scene. Raises InputError."""
        try:
            source = self._source(state["readings"])
        except Unclear as error:
            self.choices.ask(state["readings"], error.asks)
            self._part.value = "Readings"
            self._list(str(error))
            raise
        except InputError as error:
            self._list(str(error))
            raise
        if self.fitted and self.fitted[:2] != (state, source):
            self.fitted = None
        scene = scene_of(state, source, self.fitted and self.fitted[2])
        self._list(scene.why_none, scene.left_out, source)
        return scene

    def _source(self, name: str) -> Source | None:
        """The readings that are chosen; None: nothing is typed yet. Raises InputError."""
        if name in DEMOS:
            return bench_files.demo(DEMOS[name])
        if name == TYPED:
            rows = [line for line in self.typed_text.splitlines() if line.strip()]
            return bench_files.typed(self.typed_text, self.choices.of(name)) if len(rows) > 1 else None
        if name == AS_SAVED:
            return self.saved_readings
        return bench_files.own(name, self.choices.of(name))

    def fit(self) -> None:
        """Fit what the experiment asks; on an InputError the picture stays and says why."""
        with self._lock:
            state, source = self.state, None
            try:
                source = self._source(state["readings"])
                self.fitted = state, source, fit(state, source)
            except InputError as error:
                self._list(str(error), source.readings.left_out if source else (), source)
                self._tell(f"▲ Not fitted. {error}")
                return
            self.update()

    def update(self) -> None:
        super().update()
        if not self._held:
            self._hide_idle()

    def _hide_idle(self) -> None:
        """Controls that do nothing leave room for the others."""
        resting = self.idle(self.state)
        for name, control in self.controls.items():
            control.widget.layout.display = "none" if name in resting else None

    def _build(self, groups: dict) -> None:
        """The usual bones, with the left side in three parts."""
        super()._build(groups)
        shown = {title: [control.widget for control in group.values()] for title, group in groups.items()}
        self._part = widgets.ToggleButtons(options=PARTS, style={"button_width": "104px"}, layout={"width": WIDE})
        self._parts = dict(zip(PARTS, (widgets.VBox(shown["Rig"]), self._readings_part(), self._keep_part())))
        self._part.observe(lambda change: self._turn(), "value")
        self._controls.children = [*shown["Experiment"], self._part, *self._parts.values(), self.tries.widget]
        self._turn()

    def _buttons(self) -> list:
        menu, *others = super()._buttons()
        return [
            menu,
            self._button("Fit", "What the readings say of the one unknown", "70px", self.fit, "primary"),
            *others,
        ]

    def _turn(self) -> None:
        """Show one part of the left side."""
        for title, part in self._parts.items():
            part.layout.display = None if title == self._part.value else "none"

    def _button(self, name: str, tooltip: str, width: str, act, style: str = "") -> widgets.Button:
        button = widgets.Button(description=name, tooltip=tooltip, button_style=style, layout={"width": width})
        button.on_click(lambda _: act())
        return button

    def _readings_part(self) -> widgets.VBox:
        """A table to type in, or the file that is used; what is left out; the reader's folder."""
        size = {"width": WIDE, "height": "232px"}
        self.table = widgets.Textarea(
            value=BEGIN_TABLE, continuous_update=False, tooltip="One row a line, the header first", layout=size
        )
        self.table.observe(lambda change: self.type(change["new"]), "value")
        self._file = widgets.Textarea(disabled=True, tooltip="The readings as they stand in the file", layout=size)
        self.choices = ReadingChoices(self.update)
        self._left_out = widgets.HTML(layout={"width": WIDE})
        self._folder = widgets.HTML(layout={"width": WIDE})
        look = self._button("Look for my files", f"Looks into the folder {OWN_FOLDER} again", "150px", self.look)
        return widgets.VBox([self.table, self._file, self.choices.widget, self._left_out, look, self._folder])

    def _keep_part(self) -> widgets.VBox:
        """A name to save under, what the reader writes about it, what is saved, and a sheet to print."""
        self.name = widgets.Text(
            placeholder="leg in foam, March", tooltip="Name of this experiment", layout={"width": "200px"}
        )
        self._saved = widgets.Dropdown(options=[SAVED], tooltip="Saved experiments", layout={"width": WIDE})
        self._saved.observe(lambda change: self._restore_chosen(change["new"]), "value")
        self.paper = widgets.Dropdown(options=["A4", "Letter"], tooltip="Paper", layout={"width": "100px"})
        self._printed, self._kept_words = widgets.HTML(layout={"width": WIDE}), widgets.HTML(layout={"width": WIDE})
        self.about = {
            key: widgets.Text(placeholder=HINTS[key], tooltip=key.capitalize(), layout={"width": "200px"})
            for key in ABOUT
        }
        written = [
            widgets.HBox([label_of(key.capitalize()), box]) for key, box in {"name": self.name, **self.about}.items()
        ]
        for row in written:
            row.add_class("hot-water-row")
        save = self._button("Save", "Readings and result, in your own folder", "96px", self.save)
        make = self._button("Make the sheet", "One page: rig, readings, picture, result", "150px", self.print)
        return widgets.VBox(
            [
                *written,
                save,
                self._kept_words,
                self._saved,
                widgets.HBox([self.paper, make]),
                self._printed,
            ]
        )

    def type(self, text: str) -> None:
        """Take a typed or pasted table as the readings."""
        with self._lock:
            if text.partition("\n")[0] != self.typed_text.partition("\n")[0]:
                self.choices.forget(TYPED)
            self.typed_text = self.table.value = text
            self.controls["readings"].set(TYPED)
            self._choose(None)
            self.update()

    def look(self) -> None:
        """Look into the reader's folder; it is made if it is not there."""
        folder, menu = bench_files.own_folder(), self.controls["readings"]
        try:
            folder.mkdir(parents=True, exist_ok=True)
            names, sheets = bench_files.own_files(), bench_files.own_files(SPREADSHEETS)
        except (OSError, InputError) as error:
            self._folder.value = _alert(f"The folder {OWN_FOLDER} cannot be used: {error}")
            return
        self._offer(names)
        found = (
            f"{len(names)} file{'' if len(names) == 1 else 's'} found"
            if names
            else "No file found: put .csv, .tsv or .txt files there"
        )
        self._folder.value = (
            f'<div style="font-size:14px;line-height:1.25;overflow-wrap:anywhere">{found}. Folder:'
            f" {escape(str(folder))}. Nothing in it is ever changed.</div>"
        ) + "".join(map(_spreadsheet, sheets))
        menu.say("")

    def _offer(self, names) -> None:
        """The menu of readings with the reader's files; the chosen one stays, also where its file is gone."""
        menu = self.controls["readings"]
        options = [
            *DEMOS,
            TYPED,
            *([AS_SAVED] if self.saved_readings else []),
            *(name for name in names if name not in (TYPED, AS_SAVED, *DEMOS)),
        ]
        now = menu.value
        menu._setting = True
        menu.menu.options = options if now in options else [*options, now]
        menu.menu.value = now
        menu._setting = False

    def _list(self, words: str, left_out=(), source: Source | None = None) -> None:
        """Says beside the table what is wrong, and each left-out row with its reason; and the file itself."""
        rows = "".join(f"<li>{escape(str(one))}</li>" for one in left_out[:LISTED])
        more = f"<li>and {len(left_out) - LISTED} more</li>" if len(left_out) > LISTED else ""
        inside = (
            f'<b>Left out</b><ul style="margin:0;padding-left:1.2em">{rows}{more}</ul>'
            if left_out
            else ""
            if words
            else "Every row is used."
        )
        self._left_out.value = (
            "<div"
            f' style="max-height:150px;overflow:auto;font-size:14px;line-height:1.3">{_alert(words) if words else ""}{inside}</div>'
        )
        name = self.controls["readings"].value
        self._say_what_was_read(name, source)
        self.table.layout.display, self._file.layout.display = (None, "none") if name == TYPED else ("none", None)
        if name != TYPED:
            lines = bench_files.own_start(name).splitlines() if source is None else source.lines
            self._file.value = "\n".join(f"{number:3}  {line}" for number, line in enumerate(lines, 1))

    def _say_what_was_read(self, name: str, source: Source | None) -> None:
        """Shows the menus that the table needs, and says above the left-out rows what else was read or passed over."""
        offered = Offer() if source is None or name in DEMOS else source.offer
        if source is None and name not in DEMOS:
            text = self.typed_text if name == TYPED else bench_files.own_start(name)
            offered = offer(text, name, self.choices.of(name))
        self.choices.show(name, offered)
        said = []
        if offered.header_row:
            said.append(f"The header is row {offered.header_row}. The logger's lines above it are passed over.")
        if source is not None and source.readings.air is not None:
            said.append(air_words(source.readings))
        self._left_out.value += "".join(
            f'<div style="font-size:14px;line-height:1.3">{escape(one)}</div>' for one in said
        )

    def save(self) -> None:
        """Save settings, readings and fit under the name that was typed."""
        with self._lock:
            try:
                source = self._source(self.state["readings"])
                if source is None:
                    raise InputError("There are no readings to save yet.")
                name = self.store.save(
                    self.name.value,
                    Saved(self.state, source.readings, self.fitted and self.fitted[2], self.written()),
                )
                self._show_saved()
            except InputError as error:
                self._kept_words.value = _alert(str(error))
                return
        fitted = "with its fit" if self.fitted else NOT_FITTED
        self._kept_words.value = (
            f'<div style="font-size:14px">● Saved: {escape(name)}, {fitted}. {escape(self.store.notice)}</div>'
        )

    def written(self) -> dict:
        """Gives what the reader wrote about the experiment: ABOUT → text of at most 60 characters."""
        return {key: " ".join(box.value.split())[:LONGEST] for key, box in self.about.items()}

    def _open(self) -> None:
        """Look for files and saved experiments, without making anything; the one saved last is shown again."""
        try:
            self._offer(bench_files.own_files())
            self._show_saved()
        except InputError as error:
            self._kept_words.value = _alert(str(error))
            return
        if self.saved:
            self.restore(list(self.saved)[-1])

    def _show_saved(self) -> None:
        """The menu of saved experiments. Raises InputError."""
        self.saved = self.store.all()
        self._saved.options = [SAVED, *self.saved]
        if self.store.notice:
            self._kept_words.value = _alert(self.store.notice)

    def _restore_chosen(self, name: str) -> None:
        if name in self.saved:
            self.restore(name)

    def restore(self, name: str) -> None:
        """Show a saved experiment again, with its fit."""
        kept = self.saved[name]
        settings = {**kept.settings, "readings": AS_SAVED}
        self.saved_readings = Source(kept.readings, _as_lines(kept.readings))
        with self._lock:
            self._offer([one for one in self.controls["readings"].menu.options if one not in (*DEMOS, TYPED, AS_SAVED)])
            if set(settings) != set(self.controls) or not all(
                self.controls[key].takes(value) for key, value in settings.items()
            ):
                self._kept_words.value = _alert(
                    f"{name}: its settings do not fit this page, so they were not taken. The file is as it was."
                )
                return
            with self._held_back():
                for key, value in settings.items():
                    self.controls[key].set(value)
                self._choose(None)
                self.fitted = None if kept.fit is None else (self.state, self.saved_readings, kept.fit)
            self._tell(f"● Ready. Saved before: {name}. Reset brings Tern Bank back.")
        self.name.value = name
        for key, box in self.about.items():
            box.value = kept.about.get(key, "")

    def sheet(self):
        """The sheet of the present experiment. Raises InputError: there are no readings."""
        return bench_sheet(self, self._source(self.state["readings"]))

    def print(self) -> None:
        """Offer the sheet as a page and as a PDF."""
        try:
            self._printed.value = links(self.sheet(), self.paper.value)
        except InputError as error:
            self._printed.value = _alert(str(error))


def _as_lines(readings) -> tuple:
    """Saved readings as a table in text."""
    at, name = (readings.place, "place [m]") if readings.along else (readings.time, "time [s]")
    columns, names = [readings.temperature.magnitude], [name, "temperature [°C]"]
    if readings.air is not None:
        columns, names = [*columns, readings.air.magnitude], [*names, "air [°C]"]
    rows = zip(at.magnitude.tolist(), *(column.tolist() for column in columns))
    return "; ".join(names), *("; ".join([f"{where:g}", *(f"{one:.2f}" for one in row)]) for where, *row in rows)


def air_words(readings) -> str:
    """Says between what the air was that was read with the readings, and what the model does with it."""
    air = readings.air
    between = both(air.min(), "temperature"), both(air.max(), "temperature")
    use = "the water is followed along the run in its mean" if readings.along else "a cooling follows it over time"
    return f"The air was read too, {between[0]} to {between[1]}. It counts instead of the control: {use}."


def _spreadsheet(name: str) -> str:
    """Says what to do with a spreadsheet among the reader's files."""
    return _alert(f"{name} is a spreadsheet, which is not read here. Open it and save it as CSV: File, Save as….")


def _alert(words: str) -> str:
    return f'<div role="alert" style="color:#9b1c1c;font-size:14px;line-height:1.25">▲ {escape(words)}</div>'
