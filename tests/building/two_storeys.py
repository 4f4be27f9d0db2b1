"""An INVENTED house of two storeys with 22 legs and 9 taps, drawn so that two pipes or a tee meet at each point."""

HEAD = """name = "Two storeys"
about = "Invented: a tank in the cellar, taps on two floors, and a tap in the yard."
[water]
pressure = "350 kPa"
cold_inlet = "9 °C"
[night]
air = "-11 °C"
wind = "4 m/s"
hours = "13 h"
hours_without_power = "4 h"
[tank]
set_temperature = "60 °C"
[valve]
setting = "45 °C"
leg = "cellar main"
[places]
indoors = "19 °C"
crawlspace = "1 °C"
buried = "6 °C"
depth = "80 cm"
[floors]
"cellar" = "-1.4 m"
"ground floor" = "1.2 m"
"upper floor" = "3.9 m"
[tape]
hold = "4 °C"
voltage = "230 V"
breaker = "16 A"
region = "IEC"
[usual]
pipe = "copper EN 1057"
size = "22 mm"
insulation = "polyethylene foam"
thickness = "20 mm"
place = "indoors"
joint = "solder"
"""
SMALL = 'size = "15 mm"\nthickness = "13 mm"'
LEGS = (  # name, from, go, length [m], further lines
    ("cellar main", "tank", "east", 2, 'fittings = ["ball valve"]'),
    ("cellar along", "cellar main", "east", 5, ""),
    ("utility branch", "cellar main", "north", 1.5, SMALL),
    ("utility drop", "utility branch", "up", 1, SMALL),
    ("riser", "cellar along", "up", 2.6, ""),
    ("to the yard", "cellar along", "east", 6, f'{SMALL}\nplace = "crawlspace"\nfittings = ["ball valve"]'),
    ("under the yard", "to the yard", "north", 8, f'{SMALL}\nplace = "buried"'),
    ("up the post", "under the yard", "up", 1.2, f'{SMALL}\nplace = "outdoors"\ntape = "15 W/m"\nbare_share = "3 %"'),
    ("ground floor", "riser", "north", 3, ""),
    ("second riser", "riser", "up", 2.7, ""),
    ("kitchen", "ground floor", "west", 2, SMALL),
    ("ground floor on", "ground floor", "north", 4, ""),
    ("cloakroom", "ground floor on", "east", 1.5, SMALL),
    ("below the shower", "ground floor on", "west", 2, SMALL),
    ("up to the shower", "below the shower", "up", 1.2, SMALL),
    ("upper floor south", "second riser", "south", 2.5, SMALL),
    ("bath", "upper floor south", "up", 0.6, SMALL),
    ("upper floor north", "second riser", "north", 3, ""),
    ("first basin", "upper floor north", "east", 1, SMALL),
    ("upper floor on", "upper floor north", "north", 2, SMALL),
    ("second basin", "upper floor on", "east", 1, SMALL),
    ("upper shower", "upper floor on", "west", 1.5, SMALL),
)
TAPS = (  # name, leg, kind, flow
    ("utility sink", "utility drop", "sink", "6 L/min"),
    ("yard tap", "up the post", "sink", "6 L/min"),
    ("kitchen sink", "kitchen", "sink", "6 L/min"),
    ("cloakroom basin", "cloakroom", "sink", "4 L/min"),
    ("lower shower", "up to the shower", "shower", "7 L/min"),
    ("bath tap", "bath", "bath", "9 L/min"),
    ("left basin", "first basin", "sink", "4 L/min"),
    ("right basin", "second basin", "sink", "4 L/min"),
    ("upper shower head", "upper shower", "shower", "7 L/min"),
)


def text() -> str:
    """The layout file of the house."""
    legs = "".join(
        f'[[leg]]\nname = "{name}"\nfrom = "{start}"\ngo = "{go}"\nlength = "{length} m"\n{more}\n'
        for name, start, go, length, more in LEGS
    )
    taps = "".join(
        f'[[tap]]\nname = "{name}"\nleg = "{leg}"\nkind = "{kind}"\nflow = "{flow}"\nuseful = "38 °C"\n'
        for name, leg, kind, flow in TAPS
    )
    return HEAD + legs + taps
