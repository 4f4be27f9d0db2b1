"""Whether the pieces of a layout fit together. Each function raises one InputError with the line that is wrong.

What is not there yet, an Unfinished, goes to `note`, which raises it too or lets the reading go on without that piece.
"""

from dataclasses import replace

from ..plant.tank import SETTING
from ..quantities.errors import InputError, unknown_name
from ..quantities.reading import in_plain_words
from ..quantities.units import SUPPLY, USEFUL, to_base
from .parts import HEAT_PUMP, OPPOSITE, TANK
from .source import Source, Unfinished

MOST_FROM_ONE_END = 2


def check_legs(layout, source: Source) -> None:
    """Names once each, every `from` known, no loop, no leg that runs back over the one before, at most a tee at an end,
    and that one can be bought."""
    names: dict = {}
    for path, leg in leg_paths(layout):
        if leg.name.lower() in (TANK, HEAT_PUMP):
            raise source.error(
                (*path, "name"), f'"{leg.name}" means the {leg.name} itself. Give this leg another name.'
            )
        if leg.name in names:
            first = source.line_of((*names[leg.name], "name"))
            raise source.error(
                (*path, "name"),
                f'"{leg.name}" is the name of the leg in line {first} already. Each leg needs its own.',
                f'"{leg.name}" is the name of another leg already. Each leg needs its own.',
            )
        names[leg.name] = path
    legs = {leg.name: leg for leg in layout.legs}
    for number, leg in enumerate(layout.legs):
        if leg.start != TANK and leg.start not in legs:
            raise _unknown(source, ("leg", number, "from"), "from", leg.start, [TANK, *legs])
    _check_loops(layout, legs, source)
    _check_turns(layout, legs, source)


def _check_loops(layout, legs: dict, source: Source) -> None:
    """Every leg must come from the tank."""
    from_tank: set = {TANK}
    for number, leg in enumerate(layout.legs):
        walked, one = [], leg
        while one.start not in from_tank:
            walked.append(one.name)
            one = legs[one.start]
            if one.name in walked:
                ring = " → ".join(walked[walked.index(one.name) :][::-1])
                raise source.error(
                    ("leg", number, "from"),
                    f"the legs {ring} feed each other in a ring and none comes from the tank. "
                    f'One of them needs "{TANK}" as its from.',
                )
        from_tank.update((*walked, one.name))


def _check_turns(layout, legs: dict, source: Source) -> None:
    """Checks that what starts at one end fits on an elbow or a tee."""
    begun: dict = {}
    for number, leg in enumerate(layout.legs):
        if leg.start == TANK:
            continue
        before, others = legs[leg.start], begun.setdefault(leg.start, [])
        if leg.go == OPPOSITE[before.go]:
            near = ", ".join(f'"{way}"' for way in OPPOSITE if way != leg.go)
            raise source.error(
                ("leg", number, "go"),
                f'"{leg.name}" runs {leg.go}, back over "{before.name}", which runs {before.go}. Choose from {near}.',
            )
        twin = next((one for one in others if one.go == leg.go), None)
        if twin:
            raise source.error(
                ("leg", number, "go"),
                f'"{leg.name}" and "{twin.name}" both run {leg.go} from the end of "{before.name}". Turn one of them.',
            )
        others.append(leg)
        if len(others) > MOST_FROM_ONE_END:
            raise source.error(
                ("leg", number, "from"),
                f'"{leg.name}" is the third leg from the end of "{before.name}". Four pipes meet there, and a tee joins'
                f' three. Draw two tees a short leg apart: let one leg turn off at the end of "{before.name}", add a'
                f" short leg that runs {before.go} on from there, and let the other two begin at its end.",
            )
        if len(others) == MOST_FROM_ONE_END and not fits_a_tee(before.go, *(one.go for one in others)):
            raise source.error(
                ("leg", number, "go"),
                f'"{others[0].name}" goes {others[0].go} and "{leg.name}" goes {leg.go} from the end of'
                f' "{before.name}", which runs {before.go}. Those are three axes, and a tee has two: its run and its'
                f' branch. Add a short leg that runs {before.go} on from "{before.name}", and let one of the two begin'
                " at the end of that.",
            )


def fits_a_tee(arrives: str, one: str, other: str) -> bool:
    """Says whether three directions lie on a tee: one of the two that leave goes straight on, or they part to opposite
    sides.
    """
    return arrives in (one, other) or OPPOSITE[one] == other


def check_taps(layout, rows: list, source: Source, note):
    """Each tap on a leg that ends there; each last leg with one tap; useful temperatures within reach.

    rows : number in the file of each tap
    Gives the layout with the taps that have their place, and to which every leg has its length.
    """
    legs, seen, on, kept = {leg.name: number for number, leg in enumerate(layout.legs)}, set(), {}, []
    going_on = {leg.start: leg.name for leg in layout.legs}
    for number, tap in zip(rows, layout.taps):
        if tap.name in seen:
            raise source.error(
                ("tap", number, "name"), f'"{tap.name}" is the name of another tap already. Each tap needs its own.'
            )
        seen.add(tap.name)
        path = ("tap", number, "leg")
        if tap.leg not in legs:
            note(_unknown(source, path, "leg", tap.leg, list(legs)))
            continue
        if tap.leg in going_on:
            told = (
                f'the tap "{tap.name}" sits at the end of "{tap.leg}", but "{going_on[tap.leg]}" goes on from there. '
                "Put a short leg between them, with the tap at its end."
            )
            note(source.error(path, told, kind=Unfinished).on(tap.leg, f"{tap.name}?"))
            continue
        if tap.leg in on:
            told = f'"{tap.leg}" has the tap "{on[tap.leg]}" at its end already. Give each tap a leg.'
            note(source.error(path, told, kind=Unfinished))
            continue
        on[tap.leg] = tap.name
        if to_base(tap.useful, USEFUL) > to_base(layout.set_temperature, SUPPLY):
            raise source.error(
                ("tap", number, "useful"),
                f"useful: {tap.useful} is hotter than the tank, {layout.set_temperature}. Lower it or raise the tank.",
            )
        waits = [
            layout.legs[one].name
            for one in layout.tree.path(legs[tap.leg])
            if layout.legs[one].name in layout.no_length
        ]
        if waits:
            told = f'it waits for the length of "{waits[0]}".'
            note(source.error(("tap", number), told, kind=Unfinished).on(tap.leg, f"{tap.name}?"))
        else:
            kept.append((number, tap))
    for number, leg in enumerate(layout.legs):
        if leg.name not in going_on and leg.name not in on:
            told = (
                f'"{leg.name}" ends at nothing: no tap and no further leg. Add a [[tap]] with leg = "{leg.name}", or'
                " take it out."
            )
            plain = "no tap at its end yet, and no further leg. Add one of them, or take it out."
            note(source.error(("leg", number), told, plain, Unfinished).on(leg.name, "tap?"))
    return replace(layout, taps=tuple(tap for _, tap in kept)), [number for number, _ in kept]


def check_valve(layout, rows: list, source: Source, note):
    """The mixing valve on a known leg, set between the cold inlet and the tank. Gives the layout, without a valve whose
    leg is not there. rows : number in the file of each tap
    """
    valve = layout.valve
    if valve is None:
        return layout
    names = [leg.name for leg in layout.legs]
    if valve.leg not in names:
        note(_unknown(source, ("valve", "leg"), "leg", valve.leg, names))
        return replace(layout, valve=None)
    low, high, setting = (
        to_base(value, SETTING) for value in (layout.cold_inlet, layout.set_temperature, valve.setting)
    )
    if not low < setting <= high:
        raise source.error(
            ("valve", "setting"),
            f"setting: {valve.setting} was given; possible is above the cold inlet, {layout.cold_inlet}, "
            f"and at most the tank, {layout.set_temperature}.",
        )
    behind = layout.behind_valve
    for number, tap, mixed in zip(rows, layout.taps, behind):
        if mixed and to_base(tap.useful, USEFUL) > setting:
            raise source.error(
                ("tap", number, "useful"),
                f'useful: {tap.useful} is hotter than the mixing valve gives, {valve.setting}, and "{tap.name}" is '
                "behind it. Lower it or raise the valve's setting.",
            )
    return layout


def check_loop(layout, source: Source, note):
    """Both lines there, and the loop comes back cooler than it leaves. Gives the layout, without a loop that lacks a
    line.
    """
    loop = layout.loop
    if loop is None:
        return layout
    for line, legs in (("hot", loop.hot), ("return", loop.back)):
        if not legs:
            told = f"the loop has no {line} line."
            plain = f"{told} Add its legs in the tables of the loop."
            note(source.error(("loop",), f"{told} Add [[loop.{line}]] for each of its legs.", plain, Unfinished))
            return replace(layout, loop=None)
        for number, (before, leg) in enumerate(zip(legs, legs[1:]), 1):
            if leg.go == OPPOSITE[before.go]:
                raise source.error(
                    ("loop", line, number, "go"), f'"{leg.name}" runs back over "{before.name}". Turn one of them.'
                )
    if to_base(loop.comes_back_at, SUPPLY) >= to_base(loop.leaves_at, SUPPLY):
        raise source.error(
            ("loop", "comes_back_at"),
            f"comes_back_at: {loop.comes_back_at} is no cooler than leaves_at, {loop.leaves_at}. Are they exchanged?",
        )
    return layout


def check_room(layout, source: Source) -> None:
    """Each leg long enough for its fittings, its run within what the library is for, a tape that gives something."""
    for path, leg in leg_paths(layout):
        for key, ask in (("thickness", layout.run_of), ("length", layout.pieces_of), ("tape", layout.tape_plan)):
            if key == "tape" and leg.tape is None or key == "length" and leg.name in layout.no_length:
                continue
            try:
                ask(leg)
            except InputError as error:
                places = (*path, key), ("usual", key), ("places", "depth")
                told = (
                    places[2]
                    if str(error).startswith("depth")
                    else next((one for one in places[:2] if source.says(one)), path)
                )
                raise source.error(told, f'leg "{leg.name}": {in_plain_words(str(error))}') from None


def leg_paths(layout):
    """Each leg with its path in the file, the loop's among them."""
    yield from ((("leg", number), leg) for number, leg in enumerate(layout.legs))
    if layout.loop is not None:
        yield from ((("loop", "hot", number), leg) for number, leg in enumerate(layout.loop.hot))
        yield from ((("loop", "return", number), leg) for number, leg in enumerate(layout.loop.back))


def _unknown(source: Source, path: tuple, kind: str, given: str, known: list) -> Unfinished:
    return source.error(path, str(unknown_name(kind, given, known)), kind=Unfinished)
