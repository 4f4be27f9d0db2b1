"""What can hurt someone is answered once: pages, tables, questions, prints and the library's cautions say the same of each subject.

Each test first looks for every sentence on its subject, so that a new one that contradicts the others is found.
"""

import json
import re
from pathlib import Path

from lessons_lib.building import run_sheet_talk
from lessons_lib.classroom.lesson_pages import lesson_pages, plain
from lessons_lib.classroom.prints import session_sheet
from lessons_lib.classroom.session import plan
from lessons_lib.exercises import question, variant
from lessons_lib.exercises.solvers import solvers
from lessons_lib.panels.panel_base import large_button
from lessons_lib.plant import circuit, closed_system, tank
from lessons_lib.plant.work_order import keys, step, steps
from lessons_lib.runs import flow
from lessons_lib.storage import tables
from lessons_lib.storage.tables import rows

ROOT = Path(__file__).parents[2]
PAGES = sorted(path for path in (ROOT / "workbooks").rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts)
QUESTIONS = sorted((ROOT / "data" / "questions").glob("[0-9]*.toml"))
HOT_WATER_BENCHES = ("01", "02", "03", "04", "06", "12")


def page_paragraphs() -> dict:
    """Every paragraph and bullet of every page as plain words, by page name and place."""
    found = {}
    for path in PAGES:
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        lines = [
            line
            for cell in cells
            if cell["cell_type"] == "markdown"
            for line in "".join(cell["source"]).splitlines()
            if line.strip()
        ]
        found.update({(path.stem, place): plain(line) for place, line in enumerate(lines)})
    return found


def told() -> dict:
    """Everything that tells a reader what to do, by where it stands: pages, tables, questions, cautions, prints."""
    found = page_paragraphs()
    for name in ("work_order", "leave_home", "record"):
        found.update({(name, place): " ".join(row.values()) for place, row in enumerate(rows(name))})
    for path in QUESTIONS:
        blocks = path.read_text(encoding="utf-8").split("[[question]]")
        found.update({(path.stem, place): block for place, block in enumerate(blocks)})
    cautions = {
        "tank": tank.VALVE_CAUTION,
        "relief": closed_system.RELIEF_CAUTION,
        "vessel": closed_system.VESSEL_CAUTION,
        "run sheet": run_sheet_talk.VALVE,
        "session sheet": session_sheet.ISOLATES,
    }
    found.update({("library", name): text for name, text in cautions.items()})
    return found


TOLD = told()


def about(pattern: str) -> dict:
    """The places whose words match a pattern."""
    return {place: text for place, text in TOLD.items() if re.search(pattern, text, re.I)}


def lacking(places: dict, *patterns: str) -> dict:
    """Of some places those that lack one of the patterns."""
    return {
        place: text for place, text in places.items() if not all(re.search(pattern, text, re.I) for pattern in patterns)
    }


# Relief valve and vessel


def test_a_dripping_relief_valve_has_one_answer():
    """Heat off, cap nothing, call. The vessel is the suspect where it drips at each heat-up."""
    places = about(r"relief valve[^.]*\bdrip|\bit drips|dripping at each")
    assert {where for where, _ in places} >= {
        "start-here",
        "01-hot-enough-not-too-hot",
        "10-fill-purge-and-hand-over",
        "10",
        "work_order",
        "library",
    }
    assert not lacking(places, r"heat (is )?(switched )?off", r"cap (nothing|it)")
    assert any(
        "Stop and call a licensed trade" in text for (where, _), text in TOLD.items() if where == "start-here"
    )  # that list's heading
    assert not lacking(
        {place: text for place, text in places.items() if place[0] != "start-here"}, "call a licensed trade"
    )
    suspect = {
        place: text for place, text in places.items() if re.search("at each heat-up|each time the tank heats", text)
    }
    assert suspect and not lacking(suspect, "vessel")


def test_nobody_is_told_to_open_the_water_side_of_a_hot_tank():
    """A pre-charge is read and set with the heat off; where a system is in use, a licensed trade does it."""
    places = about(r"pre-charge.*(shut the supply|water side at zero)|water side.{0,20}at zero.*pre-charge")
    in_use = {place: text for place, text in places.items() if place[0] in ("10", "11", "library")}
    assert in_use and not lacking(in_use, r"heat (is )?off|heat is switched off", "licensed trade")
    assert "heat is switched off first" in step("vessel").caution and "licensed trade" in step("vessel").caution
    assert question("10-relief-drips").answer.value == "call"


# The mixing valve


def test_who_sets_a_mixing_valve():
    """A licensed trade, and at the bench the instructor: on the start page, in both lessons on it, in the order of work and on paper."""
    pages = lesson_pages()
    assert "mixing valves" in pages["01"].stop.lower() and "mixing valves" in pages["03"].stop.lower()
    told_how = about(r"setting a (mixing )?valve|sets (the|a) mixing valve|set(s)? (them|valves) by thermometer")
    assert {where for where, _ in told_how} >= {
        "01-hot-enough-not-too-hot",
        "02-how-hot-at-the-tap",
        "10-fill-purge-and-hand-over",
        "work_order",
        "library",
    }
    assert not lacking(told_how, "licensed trade")
    assert any("mixing valve that people use" in text for (where, _), text in TOLD.items() if where == "start-here")


def test_only_valves_of_a_class_that_must_shut_are_tested_so():
    places = {place: text for place, text in about(r"(fall|falls) to a trickle").items() if place[0] != "01"}
    assert len(places) >= 4
    assert not lacking(places, r"class|EN 1111")
    full = {place: text for place, text in places.items() if "EN 1111" in text}
    assert full and not lacking(
        full,
        "TMV2",
        "ASSE 1016",
        "ASSE 1070",
        "ASSE 1017",
        "EN 15092",
        "does not protect against scalding",
        "bucket",
        "nobody near",
    )
    inlets = about(r"[Cc]heck valves? and (a )?strainers? (belong )?on both inlets")
    assert {where for where, _ in inlets} >= {"01-hot-enough-not-too-hot", "10-fill-purge-and-hand-over", "work_order"}
    asked = variant(question("01-cold-shut"), 3)
    assert "EN 1111" in asked.text and "need not pass this test" in asked.worked and "EN 15092" in asked.worked


def test_a_yearly_check_is_the_least():
    places = about(r"\b(every|each|a) year\b")
    places = {place: text for place, text in places.items() if re.search("valve", text) and re.search("check", text)}
    assert places and not lacking(places, "at least once a year")


# The order of work


def test_every_pressure_test_says_how_the_relief_valve_is_kept_out():
    """Not yet fitted, its opening plugged, the plug tagged: never shut off, for nothing may stand before it."""
    places = about(r"relief( valve)?[^.→]*(not yet fitted|isolated|shut off|taken out|are fitted)")
    assert {where for where, _ in places} >= {"05-measure-cut-join-test", "10-fill-purge-and-hand-over", "work_order"}
    assert not lacking(places, r"not yet fitted|not fitted yet", "plug", "tagged")
    assert not about(r"relief( valve)?( isolated| shut off or)|relief valve.{0,5}isolated")
    assert "every tagged plug" in step("fit").until and any("plugs out" in row["what"] for row in rows("record"))


def test_joints_stay_bare_until_they_have_been_hot():
    place = {key: number for number, key in enumerate(keys())}
    assert place["hot leak check"] < place["insulate"] and place["cold leak check"] < place["insulate"]
    chains = about("leak check hot")
    assert chains and all(text.index("leak check hot") < text.index("insulate and tape") for text in chains.values())
    assert not lacking(about("test before you cover"), r"bare until they are dry when hot")


def test_the_finished_system_is_disinfected():
    place = {key: number for number, key in enumerate(keys())}
    assert place["fit"] < place["fill"] < place["disinfect"] < place["energise"]
    assert "finished system" in step("disinfect").step and "every tap" in step("disinfect").until
    chains = about("→ disinfect")
    assert chains and all(text.index("fit →") < text.index("→ disinfect") for text in chains.values())


def test_hoses_end_above_the_rim():
    """On each page and in each step with a hose at the main: an air gap, and the kit has a backflow preventer for the tap."""
    pages = lesson_pages()
    for lesson in ("09", "10"):
        assert re.search("above (its|the) bucket", pages[lesson].bench) and "sucked back" in pages[lesson].risks
        assert any(row["lesson"] == lesson and "ASSE 1011; EN 1717" in row["item"] for row in rows("kit"))
    assert all("above the rim" in step(key).caution for key in ("flush", "purge"))


# The benches


def test_the_planner_has_the_rig_flushed():
    """Tepid rigs that stand idle grow bacteria: a line in the kit, on the run sheet and in the planner's stop."""
    for lesson in HOT_WATER_BENCHES:
        assert any(one.item == "flush log of the rig" for one in plan(200, 4, 1, (lesson,)).kit), lesson
    assert "flushed" in session_sheet.ISOLATES
    sheet = session_sheet.session_sheet(plan(200, 4, 1, ("01", "02")))
    assert any("flush log signed" in str(block) for block in sheet.blocks)
    assert any("flush log" in text for (where, _), text in TOLD.items() if where == "session-planner")


def test_no_bench_asks_for_water_that_its_valve_does_not_give():
    """Bench valves give 42 °C (data/code_limits.csv: at most 45 °C at learners' taps), so a bench that fills something hot asks for less."""
    asked = {
        lesson: re.findall(r"(?:Fill|Water)[^.;]*?(\d+) °C", page.bench) for lesson, page in lesson_pages().items()
    }
    values = {lesson: [int(one) for one in found] for lesson, found in asked.items() if found}
    assert values["06"] == [40, 40] and values["12"] == [40]
    assert all(value <= 42 for lesson in ("06", "12") for value in values[lesson])


def test_the_salt_bath_never_plugs_a_pipe():
    page = lesson_pages()["07"]
    for text in (page.stop, page.risks):
        assert re.search(r"[Ll]ift(ed)?\b.*out at 1 °C \(34 °F\)", text) and "goggles" in text and "insulated" in text
    assert "Lift each out" in page.bench and "freezes shut" in page.bench and "no glass thermometer" in page.risks
    items = {row["item"]: row["per"] for row in rows("kit") if row["lesson"] == "07"}
    assert (
        items["pair of insulated waterproof gloves"] == items["goggles"] == "person"
        and items["thermometer without glass"] == "bench"
    )


def test_the_tape_of_the_bench_is_never_left_alone():
    page = lesson_pages()["08"]
    assert "Never leave the taped leg alone" in page.bench and "stays in the room" in page.risks
    assert "somebody stays with it" in page.labelled("For the instructor", "Minutes")


def test_which_device_against_ground_faults():
    """No text says "the stricter": the code and the maker name it, for a device that trips by itself is a silent power cut."""
    assert not about("take the stricter") and "stricter" not in circuit.ground_fault("United States")
    protection = {place: text for place, text in about("5 mA").items() if place[0] == "08-heat-tape"}
    assert protection and not lacking(protection, "as code and the tape's maker name it", "trip by itself", "427.22")


def test_kit_and_page_agree_on_what_is_counted():
    kit = {(row["lesson"], row["item"]): row for row in rows("kit")}
    assert int(kit["12", "thermometer"]["count"]) == 3 and kit["12", "leg with a valve at both ends"]["per"] == "bench"
    assert sum("foam" in item for lesson, item in kit if lesson == "12") == 2
    hose = re.search(r"(\d+) m \(10 ft\) of clear hose", lesson_pages()["10"].labelled("For the instructor", "Kit"))[1]
    assert any(lesson == "10" and f"{hose} m (10 ft)" in item and "clear hose" in item for lesson, item in kit)


# Questions


def test_no_answer_hangs_on_a_number_without_a_source():
    """How far a clear sky draws has none: half of it or twice as much leaves each key of 07-clear-sky as it is."""
    asked, by_dawn = question("07-clear-sky"), solvers()["ice_by_dawn"]
    for seat in range(1, 26):
        for system in ("metric", "US customary"):
            one = variant(asked, seat, system)
            air, wind, sky = (one.values[name] for name in ("air", "wind", "sky"))
            for share in (0.5, 2.0):
                assert by_dawn(air, wind, share * sky) == one.answer, one.text
            assert one.answer == "yes" or air.to("degC").magnitude > 5.9


def test_it_is_each_litre_that_gives_off_more_heat():
    for system, amount in (("metric", "litre"), ("US customary", "gallon")):
        worked = variant(question("02-less-flow"), 4, system).worked
        assert f"Each {amount} is" in worked and "as a whole loses about as much as before" in worked


def test_a_valve_out_of_its_range_still_mixes():
    worked = variant(question("10-valve-set-too-early"), 4).worked
    assert "wide open" not in worked and "still mixed" in worked


def test_the_readme_states_the_job_first():
    """For whom it is, what they must get done, and what the workbook does for it, before anything is said of sliders."""
    first = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")[1].replace("\n", " ")
    for words in (
        "installs a heat-pump water heater and teaches others",
        "learners",
        "home owners",
        "hot enough",
        "no skin may be burnt",
        "burst in frost",
        "tested, filled and handed over",
        "plan",
        "session for a class",
    ):
        assert words in first, words


def test_words_are_our_own_and_name_no_company():
    """On screen a technical paper goes by its number; its author stands in the head of the table alone. A button and a command have words of ours."""
    assert "Technical Paper 410" in flow.CAUTION
    shown = [flow.CAUTION, *(value for row in rows("fittings") for value in row.values()), *TOLD.values()]
    assert not [text for text in shown if re.search(r"\bCrane\b|\bProjector\b|--collect|class notes", text)]
    assert large_button().description == "Large, for the room"
    assert "invented" in (ROOT / "data" / "questions" / "_template.toml").read_text(encoding="utf-8").splitlines()[1]


def test_tables_and_steps_are_all_read():
    """The net is whole: every step, and every page, is among what was searched."""
    assert {where for where, _ in TOLD} >= {path.stem for path in PAGES} | {path.stem for path in QUESTIONS}
    assert sum(where == "work_order" for where, _ in TOLD) == len(steps()) == len(tables.rows("work_order"))
