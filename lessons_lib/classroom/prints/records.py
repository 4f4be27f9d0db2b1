"""Sheets that stay with an installation: the commissioning record, and what to do before leaving a building in
frost.
"""

from ...plant.work_order import NEVER_DRY, WHO_DECIDES
from ...quantities.display import SI, SYSTEMS, show, symbol, unbroken
from ...quantities.errors import unknown_name
from ...runs.bacteria import RECOMMENDED_STORE
from ...runs.cautions import joined
from ...sheets import Blank, Box, Columns, Heading, Sheet, Signatures, Stop, Table, Text
from ...storage.tables import rows

SIGNS = ("Installer", "Qualified electrician", "Instructor or inspector", "Taken over by")
PARTS = {
    "short": "For a night or two",
    "long": "For a week or more, or when nobody would notice a power cut",
    "back": "On coming back",
}
DRAIN = (
    "Draining needs no power, but works only where every pipe falls to a drain. Power off and locked first; hot water"
    " scalds until the tank is cool. Whoever is not sure leaves the heating on and calls a licensed trade."
)
SETTING = ", ".join(show(RECOMMENDED_STORE, "temperature", system) for system in SYSTEMS)
LEGIONELLA = (
    f"Water that stood for a week can hold bacteria: heat the tank to its setting ({SETTING}, or as your region"
    " asks) before you flush, and keep clear of spray."
)


def commissioning_record(system: str = SI) -> Sheet:
    """One side with room for every value of a hand-over, and for signatures. Raises InputError for an unknown unit
    system.
    """
    if system not in SYSTEMS:
        raise unknown_name("unit system", system, list(SYSTEMS))
    blocks = [
        Columns(((Blank("Building and system"),), (Blank("Date"),)), (3, 1)),
        Stop(joined(NEVER_DRY, "No valve, cap or plug on a relief valve.")),
    ]
    for part in dict.fromkeys(row["part"] for row in rows("record")):
        mine = [row for row in rows("record") if row["part"] == part]
        lines = tuple((row["what"], _unit(row["kind"], system), "", "") for row in mine)
        blocks.append(Table((part, "unit", "value", "initials"), lines, (5, 1.4, 2.2, 1.4)))
    blocks += [Box("Remarks", 9), Signatures(SIGNS)]
    return Sheet("Commissioning record", tuple(blocks), 8.5, foot=WHO_DECIDES, system=system)


def leave_home(system: str = SI) -> Sheet:
    """Makes a sheet of one side: what to shut, drain and check, with boxes to tick. Its numbers stand in both unit
    systems; its trade words are those of one.
    """
    blocks = [Stop(DRAIN)]
    for when, title in PARTS.items():
        mine = tuple(("", row["step"], unbroken(row["until"])) for row in rows("leave_home") if row["when"] == when)
        blocks += [Heading(title), Table(("done", "what to do", "until"), mine, (0.8, 5, 4))]
    where = Columns(
        ((Blank("The main is shut at"),), (Blank("The drain is at"),), (Blank("Heater's isolator (disconnect) is at"),))
    )
    who = Columns(((Blank("Who looks in, telephone"),), (Blank("Licensed trade, telephone"),)))
    foot = "Common practice, no source: makers, insurers and local code come first."
    blocks += [Text(unbroken(LEGIONELLA)), where, who]
    return Sheet("Before you leave in frost", tuple(blocks), 10.0, foot=foot, system=system)


def _unit(kind: str, system: str) -> str:
    """Gives what a value is written in."""
    return {"words": "", "yes or no": "yes / no"}[kind] if kind in ("words", "yes or no") else symbol(kind, system)
