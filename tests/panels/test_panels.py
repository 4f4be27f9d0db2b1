"""Every panel as plain data: each control to both ends, random settings, units, typed values, the ghost."""

import base64
import math
import random
import re
import threading
from html import escape, unescape
from io import BytesIO

import pytest
from PIL import Image
from words_on_page import seen

from lessons_lib import Q_, InputError, panels
from lessons_lib.drawing.canvas import Canvas
from lessons_lib.lessons import (
    at_the_bench,
    choosing_the_pipe_size,
    fill_purge_and_hand_over,
    heat_tape,
    hot_enough_not_too_hot,
    hot_water_that_comes_back,
    how_hot_at_the_tap,
    measure_cut_join_test,
    outdoor_unit_notes,
    start_here,
    the_outdoor_loop,
    waiting_for_hot,
    what_water_does_to_the_works,
    where_the_heat_goes,
    will_it_freeze,
)
from lessons_lib.panels.controls import Choice, PipeChoice, Slide
from lessons_lib.panels.page_state import choose_units
from lessons_lib.panels.panel_base import large_button
from lessons_lib.panels.shared_controls import in_goods
from lessons_lib.quantities.display import SI, SYSTEMS, US, unit
from lessons_lib.quantities.reading import read_number
from lessons_lib.quantities.units import unit_of
from lessons_lib.runs.pipe import families, sizes
from lessons_lib.storage import preferences
from lessons_lib.storage.spelling import in_words_of

PANELS = {
    "bench": at_the_bench.panel,
    "heat_tape": heat_tape.panel,
    "unit_circuit": heat_tape.unit_circuit,
    "outdoor_loop": the_outdoor_loop.panel,
    "loop_pump": the_outdoor_loop.pump_on_the_loop,
    "frost_outside": the_outdoor_loop.frost_outside,
    "tank_and_units": the_outdoor_loop.tank_and_units,
    "first": start_here.panel,
    "burn_times": hot_enough_not_too_hot.burn_times,
    "main": how_hot_at_the_tap.panel,
    "hot_enough": hot_enough_not_too_hot.panel,
    "outdoor_unit": outdoor_unit_notes.panel,
    "measure_cut": measure_cut_join_test.panel,
    "bars": measure_cut_join_test.bars,
    "joining": measure_cut_join_test.joining,
    "testing": measure_cut_join_test.testing,
    "heat_goes": where_the_heat_goes.panel,
    "freeze": will_it_freeze.panel,
    "waiting": waiting_for_hot.panel,
    "pipe_size": choosing_the_pipe_size.panel,
    "pressures": fill_purge_and_hand_over.panel,
    "purge": fill_purge_and_hand_over.purge,
    "recirculation": hot_water_that_comes_back.panel,
    "balancing": hot_water_that_comes_back.balancing,
    "thermosiphon": hot_water_that_comes_back.thermosiphon,
    "set_valve": fill_purge_and_hand_over.set_valve,
    "plastic_limits": what_water_does_to_the_works.plastic_limits,
    "water_hammer": what_water_does_to_the_works.water_hammer,
    "materials_together": what_water_does_to_the_works.materials_together,
    "scale": what_water_does_to_the_works.panel,
    "discharge": fill_purge_and_hand_over.discharge,
    "hand_over": fill_purge_and_hand_over.hand_over,
}


@pytest.fixture(params=PANELS)
def panel(request):
    return PANELS[request.param]()


def ends(control) -> list:
    """The values at both ends of a control."""
    if isinstance(control, Slide):
        limits, own = control.ranges[control.system], unit_of(unit(control.kind, control.system))
        return [Q_(limits.low, own), Q_(limits.high, own)]
    if isinstance(control, PipeChoice):
        return [(family, size) for family in families() for size in (sizes(family)[0], sizes(family)[-1])]
    return control.names


def anywhere(control, dice: random.Random):
    """A random value of a control."""
    if isinstance(control, Slide):
        low, high = ends(control)
        return low + (high - low) * dice.random()
    if isinstance(control, PipeChoice):
        family = dice.choice(families())
        return family, dice.choice(sizes(family))
    return dice.choice(control.names)


def looks_right(panel) -> None:
    """A picture, a sentence of finite words, and a status that is ready."""
    picture = Image.open(BytesIO(panel.png))
    assert picture.size == panel.picture.canvas.size
    assert "nan" not in panel.sentence and "inf" not in panel.sentence and len(panel.sentence) > 60
    assert "Ready" in panel._status.value
    assert panel.sentence in panel.picture.describe(panel.scene)


@pytest.mark.usefixtures("no_background")
def test_what_every_panel_says(panel):
    """One answer stands first, in at most ten words: a number and its unit count as one, as they are read. In the picture's words,
    the read-outs and the sentence no word stands twice in a row (numbers may). The picture is escaped and described, each control
    explained. On a page that is large for a room any control can be kept in sight beside the status; what such a page looks like is
    the style sheet's: see tests/browser/test_projector_in_browser.py.
    """
    text = repr(panels.Legend(panel))
    for control in panel.controls.values():
        assert isinstance(control, (Slide, Choice, PipeChoice))
        assert (said := in_words_of(control.explained, panel.system)) and said in text
    assert large_button() in panel._bar.children, "one button for all panels of a page"
    for label, name in panel._one.options:
        panel._one.value = name
        assert panel._in_hand.children == (panel._one, panel.controls[name].widget, panel._status)
        assert label == panel.controls[name].label
    for system in SYSTEMS:
        panel.set_system(system)
        page = seen(panel)
        words = re.sub(r"(\d)\s(?=[°%A-Za-z])", r"\1", panel.answer).split()
        assert 2 <= len(words) <= 10 and not panel.answer.endswith(".")
        assert page.index(escape(panel.answer)) < page.index("<svg")
        told = [*re.findall(r"<text[^>]*>([^<]*)<", page), panel.sentence]
        assert not [words for words in told if re.search(r"\b([a-z]{2,}) \1\b", words)]
        assert 'role="img" aria-label="' in page and "<script" not in page
        assert len(panel.picture.describe(panel.scene)) > len(panel.sentence)


def run_through(panel, monkeypatch, settings) -> None:
    """Every twentieth picture is drawn to the pixel, with what stands still behind it, which is what takes the time; of the
    others everything else is made.
    """
    drawn, still = panel.png, panel.picture.canvas.still
    for number, values in enumerate(settings):
        with monkeypatch.context() as quick:
            if number % 20:
                quick.setattr(Canvas, "png", lambda canvas: drawn)
                quick.setattr(Canvas, "still", still)
            panel.set(values)
            looks_right(panel)


@pytest.mark.parametrize("count", [60, pytest.param(200, marks=pytest.mark.million)])
def test_both_ends_of_every_control_and_random_settings(panel, monkeypatch, count):
    """Of the random settings the first half is in metric units, the second in customary ones; one control of four stands at
    one of its ends.
    """

    def settings():
        for name, control in panel.controls.items():
            yield from ({name: value} for value in ends(control))
            control.set(control.start)
        dice = random.Random(20)
        for number in range(count):
            if number == count // 2:
                panel.set_system(US)
            yield {
                name: dice.choice(ends(control)) if dice.random() < 0.25 else anywhere(control, dice)
                for name, control in panel.controls.items()
            }

    run_through(panel, monkeypatch, settings())


def test_all_ends_at_once(monkeypatch):
    """The corners of the main panel: everything coldest, everything hottest, and mixtures."""
    panel = how_hot_at_the_tap.panel()
    dice = random.Random(3)
    corners = ({name: dice.choice(ends(control)) for name, control in panel.controls.items()} for _ in range(60))
    run_through(panel, monkeypatch, corners)


def test_ready_made_settings_are_tern_banks():
    panel = how_hot_at_the_tap.panel()
    for title in panel.ready_made:
        panel._menu.value = title
        looks_right(panel)
        assert panel.state == in_goods(panel.ready_made[title], SI)


def test_moving_a_slider_moves_only_once():
    panel = how_hot_at_the_tap.panel()
    drawn = []
    draw = panel.picture.draw
    panel.picture.draw = lambda scene: drawn.append(scene) or draw(scene)
    panel.controls["length"].slider.value = 30.0
    assert len(drawn) == 1 and drawn[0].length == 30.0
    panel.reset()
    assert len(drawn) == 2


def test_the_bundle_survives_without_a_kernel_and_units_there_and_back_change_nothing(panel):
    before, words, bundle = panel.state, panel.sentence, panel._repr_mimebundle_()
    assert bundle["text/plain"] == words
    assert base64.b64decode(bundle["image/png"]) == panel.png
    assert "application/vnd.jupyter.widget-view+json" in bundle
    for number in range(3):
        panel.set_system(US)
        if number == 2:
            looks_right(panel)
        assert ("°F" in panel.sentence) == ("°C" in words) and "°C" not in panel.sentence
        panel.set_system(SI)
    assert panel.sentence == words
    for name, value in before.items():
        now = panel.state[name]
        assert (
            now == value
            if isinstance(value, (str, tuple))
            else math.isclose(now.to(value.units).magnitude, value.magnitude)
        )


def test_a_choice_of_units_reaches_every_panel_and_is_remembered():
    one, other = how_hot_at_the_tap.panel(), start_here.panel()
    choose_units(US)
    assert one.system == other.system == preferences.unit_system() == US
    assert how_hot_at_the_tap.panel().system == US


@pytest.mark.parametrize(
    "typed, metres",
    [
        ("30", 30),
        ("30,5", 30.5),
        ("30.5 m", 30.5),
        ("100 ft", 30.48),
        ("7 1/2", 7.5),
        ("1/2 m", None),
        ("7-1/2", 7.5),
        ("60'", 18.288),
        ("60 feet", 18.288),
        ("1,000", None),
        ("20°", 20),
        ("61", None),
        ("-3", None),
        ("many", None),
        ("", None),
        ("1/0", None),
        ("12 bananas", None),
        ("300 cm", 3),
        ("3' 6\"", 1.0668),
    ],
)
def test_typed_values(typed, metres):
    """Comma or point, fractions, a unit of either system; the impossible is said beside the control."""
    panel = how_hot_at_the_tap.panel()
    words, length = panel.sentence, panel.controls["length"]
    length.box.value = typed
    if metres is None:
        assert "possible is 1 to 60 m" in length.told.value
        assert panel.sentence == words and length.box.value == "18"
    else:
        assert length.told.value == "" and panel.scene.length == pytest.approx(metres)
        assert length.slider.value == pytest.approx(metres, abs=0.5 * length.slider.step)


def test_a_typed_value_is_used_as_typed():
    """Not rounded to the slider's step, nor when the browser repeats where the handle stands."""
    panel = how_hot_at_the_tap.panel()
    flow = panel.controls["flow"]
    flow.box.value = "0.75"
    assert panel.state["flow"].to("L/min").magnitude == pytest.approx(0.75) and flow.slider.value in (0.5, 1.0)
    flow._slid(flow.system, flow.slider.value + 1e-9)
    assert panel.state["flow"].to("L/min").magnitude == pytest.approx(0.75)
    flow.slider.value = 2.0
    assert panel.state["flow"].to("L/min").magnitude == pytest.approx(2.0)


@pytest.mark.usefixtures("no_background")
def test_every_box_shows_what_the_model_takes_and_no_panel_is_ready_beside_one_that_took_nothing(panel):
    """The status names the box until it is mended; a new picture alone mends nothing. A typed decimal stays as typed; the
    number typed next, which the rounding would have shown, is another value and is taken.
    """
    for control in panel.controls.values():
        if isinstance(control, Slide):
            control.box.value = "abc"
            assert control.told.value and "Ready" not in panel._status.value
            assert f"▲ {control.label} keeps its value." in unescape(panel._status.value)
            control.say("")
    control.say("not taken")
    panel.update()
    assert "Ready" not in panel._status.value
    panel.reset()
    assert "● Ready" in panel._status.value
    panel.update = lambda: None  # no picture is needed
    for system in SYSTEMS:
        panel.set_system(system)
        panel.reset()
        for control in panel.controls.values():
            if not isinstance(control, Slide) or control.kind == "count":
                continue
            limits, own = control.ranges[system], unit_of(unit(control.kind, system))
            middle = limits.low + limits.step * round((limits.high - limits.low) / limits.step / 2)
            for typed in (middle + 0.4 * limits.step, middle, middle + 0.377 * limits.step):
                control._typed({"new": f"{typed:.6g}"})
                assert control.value.to(own).magnitude == pytest.approx(typed, rel=1e-5)
                assert read_number(control.box.value)[0] == pytest.approx(typed, rel=1e-5)
                assert control.told.value == ""


def test_a_count_is_whole():
    slide = Slide("Bars", "count", Q_(6, ""), (1, 12, 1), (1, 12, 1), "bars to buy")
    slide.box.value = "2,5"
    assert "not a whole number" in slide.told.value and slide.box.value == "6" and slide.value.magnitude == 6


def test_typed_20_4_stays_until_20_is_typed():
    air = how_hot_at_the_tap.panel().controls["air"]
    air.box.value = "20.4"
    assert air.box.value == "20.4" and air.value.magnitude == 20.4
    air.box.value = "20"
    assert air.value.magnitude == 20


def test_a_value_of_the_other_unit_is_shown_with_the_digits_that_it_needs():
    slide = how_hot_at_the_tap.panel().controls["supply"]
    slide.set(Q_(49, "degC"))
    slide.set_system(US)
    assert slide.box.value == "120.2"
    slide.set(Q_(60, "degC"))
    assert slide.box.value == "140"


@pytest.mark.parametrize(
    "kind, ends, typed, value",
    [
        ("pressure", (50, 550, 10), "3 bar", Q_(300, "kPa")),
        ("seconds", (0, 300, 1), "1 min", Q_(60, "s")),
        ("seconds", (0, 300, 1), "1:20", Q_(80, "s")),
        ("seconds", (0, 300, 1), "1m30s", Q_(90, "s")),
        ("seconds", (0, 300, 1), "2,5", Q_(2.5, "s")),
        ("volume", (0, 20, 1), "2 qt", Q_(1.892706, "L")),
        ("share", (0, 50, 1), "0.5", Q_(0.5, "percent")),
        ("temperature difference", (0, 20, 1), "9 °F", Q_(5, "delta_degC")),
    ],
)
def test_everyday_notation_in_a_box(kind, ends, typed, value):
    slide = Slide("My guess", kind, Q_(ends[0] + 1, value.units), ends, ends, "what you expect")
    slide.box.value = typed
    assert slide.told.value == "" and slide.value.to(value.units).magnitude == pytest.approx(value.magnitude)
    assert float(slide.box.value) == pytest.approx(value.magnitude, abs=0.01)


def test_pounds_in_a_pressure_box_are_asked_about():
    slide = Slide("Pressure", "pressure", Q_(200, "kPa"), (50, 550, 10), (7, 80, 1), "at the main")
    slide.box.value = "40 pounds"
    assert "Do you mean pounds per square inch?" in slide.told.value and "Kept 200 kPa." in slide.told.value


def test_what_a_hidden_slider_says_is_not_the_readers():
    panel = how_hot_at_the_tap.panel()
    before = panel.state
    panel.controls["air"].sliders[US].value = 100
    assert panel.state == before


def test_moving_a_control_forgets_the_ready_made_title_and_old_messages():
    panel = how_hot_at_the_tap.panel()
    title = list(panel.ready_made)[1]
    panel._menu.value = title
    panel.controls["length"].box.value = "far"
    assert panel.controls["length"].told.value
    panel.controls["wind"].slider.value = 3.0
    assert panel._menu.value == panel._menu.options[0] and not panel.controls["length"].told.value
    panel._menu.value = title
    assert panel.state == in_goods(panel.ready_made[title], SI)


def test_thickness_rests_while_there_is_no_insulation():
    panel = how_hot_at_the_tap.panel()
    thickness = panel.controls["thickness"]
    panel.controls["insulation"].menu.value = "none"
    assert thickness.slider.disabled and thickness.box.disabled
    panel.controls["insulation"].menu.value = "glass fibre"
    assert not thickness.slider.disabled


@pytest.mark.parametrize(
    "air, word", [(0.0, "on the edge"), (3.0, "on the edge"), (6.0, "stays above"), (-0.5, "freezes")]
)
def test_just_above_freezing_is_not_called_fine(air, word):
    panel = how_hot_at_the_tap.panel()
    panel.set({"air": Q_(air, "degC"), "wind": Q_(0, "m/s"), "insulation": "none"})
    assert word in seen(panel)


def test_a_lukewarm_store_is_never_all_green():
    panel = how_hot_at_the_tap.panel()
    panel.set({"supply": Q_(44, "degC"), "air": Q_(20, "degC")})
    assert "■ bacteria can grow" in seen(panel)
    panel.set({"supply": Q_(60, "degC")})
    assert "● stored hot" in seen(panel)


def test_an_impossible_combination_keeps_the_last_good_picture():
    panel = how_hot_at_the_tap.panel()
    good = panel.png
    panel.calculate = lambda state: (_ for _ in ()).throw(InputError("too <big>"))
    panel.update()
    assert panel.png == good
    assert "Picture kept from before. too &lt;big&gt;" in panel._status.value


def test_other_errors_are_not_swallowed():
    panel = how_hot_at_the_tap.panel()
    panel.calculate = lambda state: 1 / 0
    with pytest.raises(ZeroDivisionError):
        panel.controls["length"].slider.value = 31.0


def test_keep_leaves_a_ghost_until_reset():
    panel = how_hot_at_the_tap.panel()
    plain = panel.png
    panel.keep()
    assert "kept: 59 °C" in seen(panel)
    panel.set({"supply": Q_(50, "degC")})
    assert "kept: 59 °C" in seen(panel)
    panel.reset()
    assert "kept" not in seen(panel) and panel.png == plain


def test_another_pipe_family_keeps_the_nearest_size():
    panel = how_hot_at_the_tap.panel()
    pipe = panel.controls["pipe"]
    pipe.family.value = "copper EN 1057"
    assert pipe.value == ("copper EN 1057", "22 mm") and panel.scene.pipe_outside == pytest.approx(0.022)


def test_two_threads_draw_whole_pictures():
    """Callbacks may run beside the main thread: the last picture must be the last setting's."""
    panel = how_hot_at_the_tap.panel()

    def wander(seed):
        dice = random.Random(seed)
        for _ in range(25):
            panel.controls["length"].slider.value = dice.randint(1, 60)

    threads = [threading.Thread(target=wander, args=(seed,)) for seed in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    panel.update()
    left = panel.png
    alone = how_hot_at_the_tap.panel()
    alone.set(panel.state)
    assert left == alone.png


def test_guess_is_kept_and_compared():
    guess = panels.guess_temperature("02", lambda system: f"How warm, {system}?", lambda: Q_(59.0, "degC"))
    guess.slide.slider.value = 45
    guess.keep()
    assert guess.slide.slider.disabled and "45 °C" in guess.told.value
    guess.compare()
    assert "59 °C" in guess.told.value and "14 °C too low" in guess.told.value
    guess.set_system(US)
    guess.compare()
    assert "How warm, US customary?" in guess.asked.value
    assert "113 °F" in guess.told.value and "25 °F too low" in guess.told.value


def test_unreadable_preferences_are_set_aside(tmp_path, monkeypatch):
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(tmp_path))
    (tmp_path / "choices.json").write_text("{not json")
    assert preferences.unit_system() == SI
    assert (tmp_path / "choices-unreadable.json").read_text() == "{not json"
    preferences.keep_unit_system(US)
    assert preferences.unit_system() == US and SYSTEMS == (SI, US)
