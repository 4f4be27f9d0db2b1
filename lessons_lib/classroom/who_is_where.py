"""Where each group is in each turn of a session, in words: for the planner's lists and for the run sheet."""

from .rotation import Set
from .session import Plan

DESK = "worksheet"  # of a group that has no bench in a turn


def group_names(plan: Plan, people: tuple) -> tuple[str, ...]:
    """Gives what each group is called: "Group 1", with its people where their names were given, else with how many."""
    found, first = [], 0
    for number, size in enumerate(plan.groups, 1):
        mine = people[first : first + size]
        found.append(f"Group {number} ({', '.join(mine) if mine else size})")
        first += size
    return tuple(found)


def places(of: Set, groups: int) -> tuple[tuple[str, ...], ...]:
    """For each group, from turn to turn, where it is: "02 at bench 3", or at its worksheets."""
    found = [[DESK] * len(of.turns) for _ in range(groups)]
    for number, turn in enumerate(of.turns):
        for bench, group in turn.items():
            found[group][number] = f"{of.laid_out[bench]} at bench {bench + 1}"
    return tuple(map(tuple, found))


def goes_round(of: Set) -> bool:
    """Says whether a set has anything to tell groups: more than one turn, or more than one lesson."""
    return len(of.turns) > 1 or len(of.lessons) > 1


def where_groups_go(plan: Plan, people: tuple) -> list[tuple[str, list[str]]]:
    """(heading, lines) for every set in which groups take turns; the groups themselves where there are names."""
    names = group_names(plan, people)
    found = [("Groups", list(names))] if people else []
    for one in filter(goes_round, plan.sets):
        lines = [
            f"{name}: {', then '.join(turns)}" for name, turns in zip(names, places(one, len(plan.groups)), strict=True)
        ]
        found.append((f"Who is where, lesson{'s' if len(one.lessons) > 1 else ''} {', '.join(one.lessons)}", lines))
    return found
