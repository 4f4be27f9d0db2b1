"""How people write units: the one table for everything that is typed or read from a file."""

import re

# Unit of the registry → the symbol that a message shows, then the other ways of writing it, parted by commas.
SPELLINGS = {
    "m": "m, metre, metres, meter, meters",
    "cm": "cm, centimetres, centimeters",
    "mm": "mm, millimetres, millimeters",
    "ft": "ft, ', foot, feet",
    "in": 'in, ", inch, inches',
    "degC": "°C, C, deg C, degC, Celsius, deg Celsius, centigrade",
    "degF": "°F, F, deg F, degF, Fahrenheit, deg Fahrenheit",
    "L/min": "L/min, L/minute, litres/min, liters/min, litres/minute, liters/minute, lpm",
    "gpm": "gpm, gal/min, gal/minute, gallons/minute",
    "L/s": "L/s",
    "mL/min": "mL/min",
    "fluid_ounce/hour": "fl oz/h, fl oz/hr, fl oz/hour",
    "kPa": "kPa",
    "bar": "bar, bars",
    "psi": "psi",
    "m/s": "m/s",
    "km/h": "km/h",
    "mph": "mph",
    "ft/s": "ft/s",
    "hour": "h, hr, hrs, hour, hours",
    "min": "min, mins, minute, minutes",
    "s": "s, sec, secs, second, seconds",
    "ms": "ms, millisecond, milliseconds",
    "W/m": "W/m",
    "W/ft": "W/ft",
    "W": "W, watt, watts",
    "kW": "kW",
    "V": "V, volt, volts",
    "A": "A, amp, amps, ampere, amperes",
    "percent": "%, percent",
    "L": "L, litre, litres, liter, liters",
    "mL": "mL",
    "gallon": "gal, gallon, gallons, US gal",
    "kelvin": "K, kelvin",
    "day": "d, day, days",
    "Wh": "Wh",
    "kWh": "kWh",
    "Btu/hour": "Btu/h, Btu/hr, Btuh",
    "Btu/(hour*ft)": "Btu/h ft",
    "kg": "kg",
    "lb": "lb, lbs, pound, pounds",
    "N": "N",
    "lbf": "lbf",
    "W/(m*K)": "W/(m K), W/m K",
    "Btu*inch/(hour*ft**2*delta_degF)": "Btu in/h ft² °F",
    "Pa": "Pa",
    "inH2O": "inH₂O, inH2O, in of water, inch of water, inches of water",
    "quart": "qt, qts, quart, quarts",
    "fluid_ounce": "fl oz, floz, fluid ounce, fluid ounces",
    "m**3": "m³, m3, m^3, cubic metre, cubic metres, cubic meter, cubic meters",
    "ft**3": "ft³, cubic foot, cubic feet, cu ft",
    "inch**3": "in³, in3, in^3, cubic inch, cubic inches, cu in",
    "m**3/hour": "m³/h, m3/h",
    "mg/L": "mg/L, ppm",
    "grain/gallon": "gr/gal, gpg, grains/gal, grains/gallon",
    "m**2": "m², m2, m^2, square metre, square metres, square meter, square meters",
    "ft**2": "ft², ft2, ft^2, square foot, square feet, sq ft",
}
WORDS = {unit: spellings.split(", ") for unit, spellings in SPELLINGS.items()}
SYMBOLS = {unit: words[0] for unit, words in WORDS.items()}


def squeezed(word: str) -> str:
    """A unit without the freedoms of writing: "W / (m·K)", "W/m/K" and "w/mk" are one."""
    small = re.sub(r"[\s().·*^\-°]", "", word.lower().replace(" per ", "/").replace("degrees", "deg"))
    above, _, below = small.partition("/")
    return f"{above}/{below.replace('/', '')}" if below else above


UNITS = {squeezed(word): unit for unit, words in WORDS.items() for word in words}  # any way of writing → its unit
