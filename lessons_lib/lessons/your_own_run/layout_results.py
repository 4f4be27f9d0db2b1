"""What a layout says, as tables: its taps, its cold legs, what to change first, its take-off; and the read-outs
beside the sketch.
"""

from html import escape

import numpy as np

from ...building.changes import HOW_SCORED
from ...building.words import (
    NO_CHANGE,
    add_up,
    adults_skin,
    burn_words,
    holds_with,
    hot_words,
    lines_lose,
    on_night,
    tape_to_buy,
    to_buy,
    wait_words,
    warm_after,
    when_ice,
)
from ...panels.readout import EDGES, SHAPES, Readout
from ...quantities.display import celsius, measured, number, show, unbroken
from ...runs.assessment import NO_WATER
from ...runs.first_draw import wait_word
from .picture import NO_TAP, OwnRunScene

WORST_AND_HOTTEST = (
    "What arrives and the wait are of the night that is worst for each tap, burns of the night on which its water is"
    " hottest."
)
SAME_EACH_NIGHT = "The taps are the same on each night, for no leg to them lies outdoors."
SCORES = {
    "wait": "waiting",
    "cool": "too cool",
    "flow": "too little flow",
    "scald": "scald",
    "ice": "ice",
    "store": "tank",
}
TALLEST = 260  # [px] a table taller than this is scrolled
LINE = 190  # letters of a note beneath a table that stand in one line
SHORT = 28  # letters of a cell that is not broken into lines


def grid(title: str, head, rows, below: str = "") -> str:
    """A table whose first column names its rows. Cells are text, or a pair: how grave it is, and text. On a phone each
    row is a list, in which every cell says the head of its column.

    below : what must be said with it; of more than a line's length the first sentence, and the rest in a fold
    """
    first_sentence, _, rest = below.partition(". ")
    told = escape(below)
    if len(below) > LINE:
        summary = f"<summary>{escape(first_sentence)}. Press here to read the rest.</summary>"
        told = f"<details>{summary}{escape(rest)}</details>"
    heads = "".join(
        f'<th scope="col" style="text-align:left;padding:1px 8px;vertical-align:bottom">{escape(name)}</th>'
        for name in head
    )
    lines = "".join(
        '<tr style="border-top:1px solid #c9d1d8"><th scope="row" style="text-align:left;padding:1px'
        f' 8px;{"white-space:nowrap" if len(first) <= SHORT else "min-width:24em"}">{escape(first)}</th>'
        f"{''.join(map(_cell, rest, head[1:]))}</tr>"
        for first, *rest in rows
    )
    return (
        f'<div class="hot-water-grid" tabindex="0" role="region" aria-label="{escape(title, quote=True)}"'
        f' style="max-height:{TALLEST}px;overflow:auto;max-width:1316px"><table'
        f' style="font-size:14px;line-height:1.3;border-collapse:collapse"><tr>{heads}</tr>{lines}</table></div><div'
        f' style="font-size:14px;line-height:1.3;max-width:1316px">{told}</div>'
    )


def _cell(value, head: str) -> str:
    level, text = value if isinstance(value, tuple) else (None, value)
    style = "text-align:left;padding:1px 8px" + (";white-space:nowrap" if len(text) <= SHORT else "")
    if level is None:
        return f'<td data-head="{escape(head, quote=True)}" style="{style}">{escape(unbroken(text))}</td>'
    return f'<td data-head="{escape(head, quote=True)}" style="{style};color:{EDGES[level]}"><b>{SHAPES[level]}</b> {escape(unbroken(text))}</td>'


def taps(scene: OwnRunScene, system: str) -> str:
    """Gives a table of each tap: temperature, wait, flow and pressure, burns behind the valve and without it."""
    head = (
        "Tap",
        "Arrives",
        "Wait, first draw",
        "Drawn",
        "Flow: alone → all open",
        "Pressure: alone → all open",
        "As set",
        "If the valve lets hot through",
    )
    if not scene.found.taps:
        return not_yet("No tap can be worked out yet: it needs its leg, and the lengths from the tank to it.")
    rows, told = [_tap(tap, system) for tap in scene.found.taps], _loop(scene, system)
    if any(tap.nights for tap in scene.found.taps):
        rows = [(*row, tap.night) for row, tap in zip(rows, scene.found.taps)]
        whole = grid("Taps", (*head, "Worst night"), rows, f"{WORST_AND_HOTTEST} {told}".strip())
        return whole + _taps_by_night(scene, head, system)
    return grid("Taps", head, rows, f"{SAME_EACH_NIGHT if scene.layout.also else ''} {told}".strip())


def _taps_by_night(scene: OwnRunScene, head: tuple, system: str) -> str:
    """A table of what each of several nights does to each tap; flow and pressure are the same on all."""
    rows = []
    for tap in scene.found.taps:
        for one in tap.nights:
            name, arrives, wait, drawn, _, _, *burns = _tap(one, system)
            rows.append((name, _night_of(one, tap), arrives, wait, drawn, *burns))
    return grid("Taps, each night", ("Tap", "Each night", *head[1:4], *head[6:]), rows)


def not_yet(words: str) -> str:
    """Says why a table has nothing to show yet."""
    return f'<div style="font-size:15px">{escape(words)}</div>'


def _tap(tap, system: str) -> tuple:
    if np.isnan(tap.delivered.magnitude):
        return (tap.name, (tap.tap.word.gravity, tap.tap.word), *("–",) * 6)
    waits = wait_word(tap.wait.magnitude)
    flow, pressure = (
        f"{number(pair[0], kind, system)} → {show(pair[1], kind, system)}"
        for kind, pair in (
            ("flow", (tap.flow, tap.flow_with_others)),
            ("pressure", (tap.pressure, tap.pressure_with_others)),
        )
    )
    warmest = tap.hottest_night
    hot = f"{show(warmest.unmixed, 'temperature', system)}: {warmest.scald_unmixed.word}"
    return (
        tap.name,
        (tap.tap.word.gravity, f"{show(tap.delivered, 'temperature', system)}, {tap.tap.word}"),
        (waits.gravity, warm_after(tap)),
        show(tap.water_drawn, "volume", system) if np.isfinite(tap.wait.magnitude) else "–",
        flow,
        pressure,
        (warmest.scald.word.gravity, f"{warmest.scald.word}{_adults(warmest.delivered)}"),
        (
            warmest.scald_unmixed.word.gravity,
            hot if tap.behind_valve else f"no valve before it: {hot}",
        ),
    )


def _loop(scene: OwnRunScene, system: str) -> str:
    loop = scene.found.loop
    if loop is None:
        return ""
    arrives, back = (show(value, "temperature", system) for value in (loop.arrives, loop.comes_back))
    return f"The loop: {arrives} reaches the tank and {back} the heat pump; {lines_lose(loop, system)}."


def cold_legs(scene: OwnRunScene, system: str) -> str:
    """Each leg that is not in a heated room: ice with and without power, and its tape."""
    head = (
        "Leg",
        "Place",
        "With power",
        "From the moment that power fails",
        "Settles at",
        "Holds with",
        "Tape gives",
        "Tape to buy",
        "On its circuit",
    )
    several, rows = bool(scene.layout.also), [_cold(leg, system) for leg in scene.found.legs]
    if not rows:
        return '<div style="font-size:15px">Every leg lies in a heated room.</div>'
    if several:
        head, rows = (*head, "Worst night"), [(*row, leg.night) for row, leg in zip(rows, scene.found.legs)]
    whole = grid(
        "Cold legs",
        head,
        rows,
        f"Reckoned for {'the worst of its nights' if several else 'its own night'}, with standing water. Tape"
        " stores no heat. An electrician makes its"
        " circuit.",
    )
    return whole + _legs_by_night(scene, head, system) if several else whole


def _legs_by_night(scene: OwnRunScene, head: tuple, system: str) -> str:
    """A table of what each of several nights does to each cold leg."""
    rows = []
    for leg in scene.found.legs:
        for one in leg.nights:
            name, _, *ice = _cold(one, system)[:5]
            rows.append((name, _night_of(one, leg), *ice))
    return grid("Cold legs, each night", ("Leg", "Each night", *head[2:5]), rows)


def _night_of(one, worst) -> str:
    """The night of a reading, and whether it is the one that is worst."""
    return f"{one.night}{' (worst)' if one.night == worst.night else ''}"


def _cold(leg, system: str) -> tuple:
    tape = ("no tape", "–", "–")
    if leg.plan is not None:
        load, most = (show(value, "current", system) for value in (leg.circuit.load, leg.circuit.continuous_limit))
        hot = hot_words(leg, system)
        given = show(leg.plan.given, "tape power", system)
        gives = (leg.tape_word.gravity, f"{given}; {hot}") if hot else given
        tape = gives, tape_to_buy(leg, system), f"{load} of {most}"
    with_power, without = (
        (verdict.word.gravity, ": ".join(filter(None, (verdict.word, when_ice(leg, verdict, system)))))
        for verdict in (leg.with_power, leg.without_power)
    )
    rest = "–" if leg.rest is None else show(leg.rest, "temperature", system)
    return (leg.leg, leg.place, with_power, without, rest, holds_with(leg, system), *tape)


def first_changes(changes) -> str:
    """Shows the changes that help most, what each does to every part of the score, and what two do together."""
    if not changes:
        return f'<div style="font-size:15px">{NO_CHANGE} {escape(HOW_SCORED)}</div>'
    head = ("Change", "Points less", *(f"{word}: before → after" for word in SCORES.values()))
    single = [
        (
            change.words,
            f"{change.gain:.1f}",
            *(f"{getattr(change.before, part):.1f} → {getattr(change.after, part):.1f}" for part in SCORES),
        )
        for change in changes
        if not change.alone
    ]
    both_head = ("Two changes together", "Points less", "The first alone", "The second alone", "Do they add up?")
    pairs = [
        (pair.words, f"{pair.gain:.1f}", *(f"{one.gain:.1f}" for one in pair.alone), add_up(pair))
        for pair in changes
        if pair.alone
    ]
    tables = [("What to change first", head, single), ("Two changes together", both_head, pairs)]
    *first, last = [table for table in tables if table[2]]
    return "".join(grid(*table) for table in first) + grid(*last, HOW_SCORED)


def take_off(layout, system: str) -> str:
    """Says what to buy, and every piece to cut."""
    if layout.unfinished:
        return not_yet("Nothing can be listed to buy until every leg has its length, and a tap or a further leg.")
    found = layout.take_off(system)
    buy = [
        (
            f"{row.kind}: {row.what}",
            row.size,
            to_buy(row.need, system),
            to_buy(row.with_spare, system),
            _note(row, found, system),
        )
        for row in found.rows
    ]
    cut = [
        (
            f"{piece.leg} {piece.number}",
            piece.pipe,
            measured(piece.centre_to_centre, system),
            measured(piece.cut, system),
            " to ".join(end or "plain end" for end in (piece.first, piece.second)),
            "measure its fittings first" if piece.measure else "",
        )
        for piece in found.pieces
    ]
    return grid("What to buy", ("What", "Size", "Need", "With spare", "Note"), buy) + grid(
        "Pieces to cut", ("Piece", "Pipe", "Centre to centre", "Cut", "Between", "Provisional"), cut, found.caution
    )


def _note(row, found, system: str) -> str:
    """The note of a row of the take-off; of a pipe, what to buy in the reader's unit."""
    if row.kind != "pipe":
        return row.note
    bars = found.bars[row.what]
    stock, waste = measured(bars.stock, system), show(bars.waste, "length", system)
    return (
        f"buy {bars.bars_to_buy} of {stock}; waste {waste} of {bars.bars_needed} that"
        f" {'is' if bars.bars_needed == 1 else 'are'} cut"
    )


def readouts(scene: OwnRunScene, system: str) -> list[Readout]:
    """The slowest tap, the hottest tap, the leg that freezes first, the tank."""
    found = scene.found
    cards = _tap_cards(found, system) if found.taps else []
    if found.coldest is not None:
        leg = found.leg(found.coldest)
        cards += [
            Readout(f"{name}: {leg.leg}", verdict.word, f"{when_ice(leg, verdict, system)}{on_night(leg)}".strip())
            for name, verdict in (
                ("Freezes first, with power", leg.with_power),
                ("and when power fails", leg.without_power),
            )
        ]
    return [
        *cards,
        Readout("Tank", found.store.word, show(celsius(found.store.value.to("degC").magnitude), "temperature", system)),
    ]


def headline(scene: OwnRunScene, system: str) -> str:
    """Says which tap is the slowest, and how long it takes."""
    if scene.found.slowest is None:
        return NO_TAP
    slow = scene.found.tap(scene.found.slowest)
    return f"Slowest tap: {slow.name}, {wait_words(slow, system)}{on_night(slow)}"


def _tap_cards(found, system: str) -> list[Readout]:
    """The slowest tap and the hottest tap."""
    slow, hot = found.tap(found.slowest), found.tap(found.hottest).hottest_night
    dry = np.isnan(slow.delivered.magnitude)
    waits = NO_WATER if dry else wait_word(slow.wait.magnitude)
    return [
        Readout(
            "Slowest tap",
            waits,
            (slow.name if dry or np.isinf(slow.wait.magnitude) else f"{slow.name}: {wait_words(slow, system)}")
            + on_night(slow),
        ),
        Readout("Hottest tap", hot.scald.word, _hottest(hot, system)),
    ]


def _adults(temperature) -> str:
    """The adults' time to burn, for a table's cell: card and sentence above the table say who burns sooner."""
    return "" if np.isnan(temperature.magnitude) else f"; adults: {adults_skin(temperature)}"


def _hottest(tap, system: str) -> str:
    if np.isnan(tap.delivered.magnitude):
        return "no tap gets water"
    told = f"{show(tap.delivered, 'temperature', system)}, {burn_words(tap.delivered)}"
    return f"{tap.name}: {told}{on_night(tap)}"
