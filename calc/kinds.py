"""Kinds of quantity and their units, as data: what each is called, typed as and shown in.

`units` reads and shows by these tables; a new kind is a line here and nothing else.
"""

from dataclasses import dataclass

#: The registry: exact factors of the SI Brochure, of the international inch and pound (1959), and of the standard
#: acceleration of free fall (the pound-force). The horsepower is that of 550 ft·lbf/s. An amount of money has no
#: currency here: it is that of whoever types it.
DEFINITIONS = """
millimetre = [length]
metre = 1000 * millimetre
centimetre = 10 * millimetre
micrometre = 0.001 * millimetre
inch = 25.4 * millimetre
foot = 304.8 * millimetre
thou = 0.0254 * millimetre
microinch = 0.0000254 * millimetre
kelvin = [temperature]
celsius = kelvin; offset: 273.15
fahrenheit = 0.5555555555555555555555555555 * kelvin; offset: 255.3722222222222222222222222
fahrenheit_step = 0.5555555555555555555555555555 * kelvin
second = [time]
minute = 60 * second
hour = 3600 * second
kilogram = [mass]
gram = 0.001 * kilogram
tonne = 1000 * kilogram
pound = 0.45359237 * kilogram
newton = kilogram * metre / second ** 2
kilonewton = 1000 * newton
pound_force = 4.4482216152605 * newton
megapascal = newton / millimetre ** 2
psi = 0.00689475729316836 * megapascal
newton_metre = newton * metre
pound_force_foot = pound_force * foot
watt = newton * metre / second
kilowatt = 1000 * watt
horsepower = 550 * pound_force_foot / second
revolution = [turn]
revolution_per_minute = revolution / minute
millimetre_per_revolution = millimetre / revolution
thou_per_revolution = thou / revolution
inch_per_revolution = inch / revolution
metre_per_minute = metre / minute
foot_per_minute = foot / minute
millimetre_per_minute = millimetre / minute
inch_per_minute = inch / minute
square_millimetre = millimetre ** 2
square_inch = inch ** 2
cubic_centimetre = centimetre ** 3
cubic_inch = inch ** 3
cubic_centimetre_per_minute = cubic_centimetre / minute
cubic_inch_per_minute = cubic_inch / minute
kilogram_per_cubic_metre = kilogram / metre ** 3
gram_per_cubic_centimetre = 1000 * kilogram_per_cubic_metre
pound_per_cubic_inch = pound / cubic_inch
kilogram_per_metre = kilogram / metre
pound_per_foot = pound / foot
degree = [angle]
money = [money]
one = [ratio]
percent = 0.01 * one
"""


@dataclass(frozen=True)
class Kind:
    """One kind of quantity. `offered` are the units to type it in, `shown` the two to show, with decimals.

    From `large`, an amount in `own`, another unit with so many decimals is read more easily than the first shown.
    """

    noun: str
    own: str
    offered: tuple[str, ...]
    shown: tuple[tuple[str, int], ...]
    large: tuple[int, str, int] | None = None


KINDS: dict[str, Kind] = {
    "length": Kind("a length", "millimetre", ("millimetre", "inch"), (("millimetre", 3), ("inch", 5))),
    "difference": Kind(
        "a small difference of length",
        "micrometre",
        ("micrometre", "thou", "millimetre"),
        (("micrometre", 0), ("thou", 2)),
        (1000, "millimetre", 3),
    ),
    "roughness": Kind("a roughness", "micrometre", ("micrometre", "microinch"), (("micrometre", 2), ("microinch", 0))),
    "temperature": Kind(
        "a temperature", "celsius", ("celsius", "fahrenheit"), (("celsius", 1), ("fahrenheit", 0))
    ),
    "temperature_difference": Kind(
        "a temperature difference", "kelvin", ("kelvin", "fahrenheit_step"), (("kelvin", 1), ("fahrenheit_step", 1))
    ),
    "force": Kind("a force", "newton", ("newton", "kilonewton", "pound_force"), (("newton", 0), ("pound_force", 0))),
    "pressure": Kind("a pressure", "megapascal", ("megapascal", "psi"), (("megapascal", 1), ("psi", 0))),
    "time": Kind("a time", "minute", ("minute", "second", "hour"), (("minute", 0),)),
    "ratio": Kind("a plain number", "one", ("one", "percent"), (("one", 3),)),
    "count": Kind("a plain number", "one", ("one",), (("one", 0),)),
    "percentage": Kind("a percentage", "percent", ("percent",), (("percent", 1),)),
    "spindle_speed": Kind(
        "a spindle speed", "revolution_per_minute", ("revolution_per_minute",), (("revolution_per_minute", 0),)
    ),
    "cutting_speed": Kind(
        "a cutting speed",
        "metre_per_minute",
        ("metre_per_minute", "foot_per_minute"),
        (("metre_per_minute", 0), ("foot_per_minute", 0)),
    ),
    "feed": Kind(
        "a feed for each turn",
        "millimetre_per_revolution",
        ("millimetre_per_revolution", "thou_per_revolution"),
        (("millimetre_per_revolution", 3), ("thou_per_revolution", 1)),
    ),
    "feed_rate": Kind(
        "a feed for each minute",
        "millimetre_per_minute",
        ("millimetre_per_minute", "inch_per_minute"),
        (("millimetre_per_minute", 0), ("inch_per_minute", 1)),
    ),
    "removal_rate": Kind(
        "a removal rate",
        "cubic_centimetre_per_minute",
        ("cubic_centimetre_per_minute", "cubic_inch_per_minute"),
        (("cubic_centimetre_per_minute", 1), ("cubic_inch_per_minute", 2)),
    ),
    "power": Kind("a power", "kilowatt", ("kilowatt", "horsepower"), (("kilowatt", 2), ("horsepower", 2))),
    "torque": Kind(
        "a torque",
        "newton_metre",
        ("newton_metre", "pound_force_foot"),
        (("newton_metre", 1), ("pound_force_foot", 1)),
    ),
    "angle": Kind("an angle", "degree", ("degree",), (("degree", 1),)),
    "area": Kind(
        "an area",
        "square_millimetre",
        ("square_millimetre", "square_inch"),
        (("square_millimetre", 1), ("square_inch", 4)),
    ),
    "mass": Kind("a mass", "kilogram", ("kilogram", "pound"), (("kilogram", 2), ("pound", 2))),
    "mass_per_length": Kind(
        "a mass for each length",
        "kilogram_per_metre",
        ("kilogram_per_metre", "pound_per_foot"),
        (("kilogram_per_metre", 3), ("pound_per_foot", 3)),
    ),
    "density": Kind(
        "a density",
        "kilogram_per_cubic_metre",
        ("kilogram_per_cubic_metre", "gram_per_cubic_centimetre", "pound_per_cubic_inch"),
        (("kilogram_per_cubic_metre", 0), ("pound_per_cubic_inch", 4)),
    ),
    "money": Kind("an amount of money", "money", ("money",), (("money", 2),)),
}  # fmt: skip

#: How each unit is printed.
SYMBOLS = {
    "millimetre": "mm", "metre": "m", "centimetre": "cm", "micrometre": "µm", "inch": "in", "foot": "ft",
    "thou": "thou", "microinch": "µin", "kelvin": "K", "celsius": "°C", "fahrenheit": "°F",
    "fahrenheit_step": "°F", "newton": "N", "kilonewton": "kN", "pound_force": "lbf", "megapascal": "MPa",
    "psi": "psi", "minute": "min", "second": "s", "hour": "h", "one": "", "percent": "%",
    "revolution_per_minute": "rev/min", "metre_per_minute": "m/min", "foot_per_minute": "ft/min",
    "millimetre_per_revolution": "mm/rev", "thou_per_revolution": "thou/rev", "inch_per_revolution": "in/rev",
    "millimetre_per_minute": "mm/min", "inch_per_minute": "in/min", "cubic_centimetre_per_minute": "cm³/min",
    "cubic_inch_per_minute": "in³/min", "watt": "W", "kilowatt": "kW", "horsepower": "hp", "newton_metre": "N·m",
    "pound_force_foot": "lbf·ft", "degree": "°", "square_millimetre": "mm²", "square_inch": "in²", "gram": "g",
    "kilogram": "kg", "tonne": "t", "pound": "lb", "kilogram_per_metre": "kg/m", "pound_per_foot": "lb/ft",
    "kilogram_per_cubic_metre": "kg/m³", "gram_per_cubic_centimetre": "g/cm³", "pound_per_cubic_inch": "lb/in³",
    "money": "",
}  # fmt: skip

#: What each unit may be typed as, besides its symbol and its name. Capitals and full stops do not count.
ALIASES = {
    "millimetre": ("millimeter", "millimetres", "millimeters", "mms"),
    "metre": ("meter", "metres", "meters"),
    "centimetre": ("centimeter", "centimetres"),
    "micrometre": ("um", "μm", "micrometer", "micron", "microns", "my"),
    "inch": ('"', "″", "”", "''", "inches", "ins"),
    "foot": ("'", "′", "’", "feet"),
    "thou": ("thous", "mil", "mils"),
    "microinch": ("uin", "μin", "microinches"),
    "celsius": ("c", "degc", "deg c", "° c", "degrees c", "degree c"),
    "fahrenheit": ("f", "degf", "deg f", "° f", "degrees f", "degree f"),
    "kelvin": ("kelvins",),
    "newton": ("newtons",),
    "kilonewton": ("kilonewtons",),
    "pound_force": (),
    "megapascal": ("n/mm2", "n/mm²"),
    "minute": ("mins", "minutes"),
    "second": ("sec", "secs", "seconds"),
    "hour": ("hr", "hrs", "hours"),
    "revolution_per_minute": ("rpm", "r/min", "revs/min", "1/min", "/min", "min-1", "min⁻¹", "revs"),
    "metre_per_minute": ("m/minute", "mpm"),
    "foot_per_minute": ("fpm", "sfm", "sfpm", "feet/min", "'/min"),
    "millimetre_per_revolution": ("mm/r", "mm/turn", "mmpr"),
    "thou_per_revolution": ("thou/r", "thou/turn"),
    "inch_per_revolution": ("in/r", "inch/rev", "ipr", '"/rev'),
    "inch_per_minute": ("ipm", "inch/min", '"/min'),
    "cubic_centimetre_per_minute": ("cm3/min", "cc/min"),
    "cubic_inch_per_minute": ("in3/min", "cuin/min"),
    "watt": ("watts",),
    "kilowatt": ("kilowatts",),
    "horsepower": ("bhp",),
    "newton_metre": ("nm", "n m", "n*m", "newton metres"),
    "pound_force_foot": ("lbf ft", "lb ft", "lb-ft", "lbf-ft", "ft lbf", "ft lb", "ft-lb", "ft·lbf", "ft·lb", "lb·ft"),
    "degree": ("deg", "degs", "degrees"),
    "square_millimetre": ("mm2", "sq mm"),
    "square_inch": ("in2", "sq in"),
    "gram": ("grams",),
    "kilogram": ("kgs", "kilo", "kilos", "kilograms"),
    "tonne": ("tonnes",),
    "pound": ("lbs", "pounds"),
    "kilogram_per_cubic_metre": ("kg/m3",),
    "gram_per_cubic_centimetre": ("g/cm3", "g/cc", "kg/dm³", "kg/dm3"),
    "pound_per_cubic_inch": ("lb/in3",),
    "pound_per_foot": ("lbs/ft",),
}

#: Units that mean one thing in a field of this kind and another elsewhere.
MEANT = {
    ("temperature_difference", "celsius"): "kelvin",
    ("temperature_difference", "fahrenheit"): "fahrenheit_step",
    ("force", "pound"): "pound_force",
}
