"""An INVENTED block of flats: 8 storeys of 5 flats with 5 taps each, 492 legs and 200 taps; with or without names of floors."""

HEAD = """name = "Block of forty flats"
about = "Invented: eight storeys with five flats each, and a tank in the cellar."
[water]
pressure = "800 kPa"
cold_inlet = "9 °C"
[night]
air = "-11 °C"
wind = "4 m/s"
hours = "13 h"
hours_without_power = "4 h"
[tank]
set_temperature = "60 °C"
[places]
indoors = "19 °C"
crawlspace = "1 °C"
"""
USUAL = """[usual]
pipe = "copper EN 1057"
size = "42 mm"
insulation = "polyethylene foam"
thickness = "20 mm"
place = "indoors"
joint = "solder"
"""
SMALL, COLD = 'size = "15 mm"\nthickness = "13 mm"', 'place = "crawlspace"'
STOREY = 2.8  # [m]
TO_THE_RISER = (
    ("cellar out", "up", 1.2),
    ("cellar along", "east", 4),
    ("cellar turn", "north", 3),
    ("cellar end", "east", 2),
)


def text(storeys: int = 8, flats: int = 5, floors: bool = True) -> str:
    """The layout file of the block."""
    legs, taps = [], []

    def leg(name: str, start: str, go: str, length: float, more: str = "") -> str:
        legs.append(f'[[leg]]\nname = "{name}"\nfrom = "{start}"\ngo = "{go}"\nlength = "{length} m"\n{more}\n')
        return name

    def tap(name: str, at: str) -> None:
        taps.append(f'[[tap]]\nname = "{name}"\nleg = "{at}"\nkind = "sink"\nflow = "0.4 L/min"\nuseful = "38 °C"\n')

    def flat(name: str, along: str, way: str) -> None:
        """Eleven legs and five taps: each pair of legs from one point fits a tee."""
        main = leg(f"into flat {name}", along, way, 1.5, 'size = "28 mm"')
        tap(f"kitchen sink {name}", leg(f"kitchen {name}", main, "west", 1.2, SMALL))
        main = leg(f"flat main {name}", main, way, 2.5, 'size = "28 mm"')
        branch = leg(f"bath branch {name}", main, "east", 1, SMALL)
        tap(f"bath {name}", leg(f"bath rise {name}", branch, "up", 0.6, SMALL))
        main = leg(f"flat on {name}", main, way, 1, SMALL)
        tap(f"basin {name}", leg(f"basin {name}", main, "west", 0.8, SMALL))
        main = leg(f"flat end {name}", main, way, 1, SMALL)
        tap(f"laundry {name}", leg(f"laundry {name}", main, "east", 1.1, SMALL))
        main = leg(f"shower along {name}", main, way, 0.9, SMALL)
        tap(f"shower {name}", leg(f"shower rise {name}", main, "up", 1.2, SMALL))

    riser = "tank"
    for name, go, length in TO_THE_RISER:
        riser = leg(name, riser, go, length, COLD)
    for storey in range(1, storeys + 1):
        along = riser = leg(f"riser {storey}", riser, "up", STOREY)
        for number in range(1, flats + 1):
            along = leg(f"corridor {storey}.{number}", along, "east", 5.5)
            flat(f"{storey}.{number}", along, "south" if number % 2 == 0 and number < flats else "north")
    named = "".join(f'"storey {one}" = "{1 + STOREY * one:.1f} m"\n' for one in range(1, storeys + 1))
    return "".join([HEAD, f'[floors]\n"cellar" = "-1.5 m"\n{named}' if floors else "", USUAL, *legs, *taps])
