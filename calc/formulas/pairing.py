"""A measured shaft against a bore: sizes at 20 °C with their doubt, and how the two will go together.

A measured size is a band as wide as its measuring doubt, not as the tolerance it was made to; only what has not
been measured keeps its tolerance. Two bands meet as the root of the sum of squares of their half widths.
"""

import math
from dataclasses import dataclass

from calc.formulas import feel, instruments, iso286, thermal
from calc.formulas.bearings import Bearing, bore_limits
from calc.formulas.iso286 import ToleranceClass
from calc.formulas.thermal import Material
from calc.model import CalcError, InputError, Step
from calc.units import step

EXTRA_HEAT = 1.5  # how far past the first heat fit a wanted “heat” reaches; common practice, no source
RUNS_TO = 20.0  # tolerance units of ISO 286-1 up to which a running fit is still wanted; common practice, no source


@dataclass(frozen=True)
class Band:
    """A size in mm at 20 °C and the half width, in µm, of the band that it lies in."""

    size: float
    half: float

    @property
    def low(self) -> float:
        return self.size - self.half / 1000

    @property
    def high(self) -> float:
        return self.size + self.half / 1000


@dataclass(frozen=True)
class Reading:
    """One reading with all that corrects it: mm, °C; `tool` is the instrument, `stated` a doubt in µm that replaces
    the one reckoned from it."""

    field: str
    shown: float
    temperature: float
    material: Material
    tool: str
    tool_temperature: float
    stated: float | None = None
    inside: bool = False

    @property
    def scale(self) -> Material:
        """The steel of the instrument."""
        return thermal.MATERIALS[thermal.INSTRUMENT_STEEL]

    @property
    def sources(self) -> tuple[str, ...]:
        standard = () if self.stated is not None else ("din-862" if self._tool.caliper else "din-863-1",)
        return (*self.material.sources, *self.scale.sources, *standard)

    @property
    def _tool(self) -> instruments.Instrument:
        return instruments.INSTRUMENTS[self.tool]

    @property
    def _size(self) -> float:
        return thermal.size_at_20(
            self.shown, self.material.alpha, self.temperature, self.scale.alpha, self.tool_temperature
        )  # fmt: skip

    @property
    def _warmth(self) -> float:
        """What the temperatures and the coefficients leave in doubt, µm."""
        part, scale = self.material, self.scale
        return math.hypot(
            thermal.correction_doubt(self._size, part.alpha, part.alpha_doubt, self.temperature),
            thermal.correction_doubt(self._size, scale.alpha, scale.alpha_doubt, self.tool_temperature),
        )

    @property
    def _error(self) -> float:
        try:
            return instruments.greatest_error(self._tool, self.shown, inside=self.inside)
        except instruments.NoLimit as problem:
            raise InputError(self.field, str(problem)) from problem

    def at_20(self) -> Band:
        """The size at 20 °C with its doubt; InputError when no error is known for the instrument at this size."""
        if self.stated is not None:
            return Band(self._size, math.hypot(self.stated, instruments.shop_doubt(0, 0, 0, self._warmth)))
        tool = self._tool
        return Band(self._size, instruments.shop_doubt(self._error, tool.resolution, tool.repeat, self._warmth))

    def working(self, name: str) -> tuple[Step, ...]:
        """The lines that lead to the size and its doubt, named `name` and U_`name`."""
        band, tool = self.at_20(), self._tool
        sized = step(
            f"{name} = R * (1 + alpha_i * (T_i - 20)) / (1 + alpha * (T - 20))", band.size, "mm",
            R=self.shown, alpha_i=self.scale.alpha, T_i=self.tool_temperature, alpha=self.material.alpha,
            T=self.temperature,
        )  # fmt: skip
        if self.stated is not None:
            formula = f"U_{name} = sqrt(U_stated ** 2 + (2 * u_T) ** 2 / 3)"
            return sized, step(formula, band.half, "µm", U_stated=self.stated, u_T=self._warmth)
        return sized, step(
            f"U_{name} = 2 * sqrt(e ** 2 / 3 + r ** 2 / 12 + s ** 2 + u_T ** 2 / 3)", band.half, "µm",
            "e error of the instrument, r its step, s how it repeats, u_T warmth",
            e=self._error, r=tool.resolution, s=tool.repeat, u_T=self._warmth,
        )  # fmt: skip

    def reads(self, size: float) -> float:
        """What the same instrument shows now on a part that measures `size` mm at 20 °C."""
        return thermal.reading_for(
            size, self.material.alpha, self.temperature, self.scale.alpha, self.tool_temperature
        )  # fmt: skip


def bearing_bore(bearing: Bearing, precision: str) -> Band:
    """The bore of an unmeasured bearing: the middle of its tolerance, half of which lies either side."""
    low, high = bore_limits(bearing, precision)
    return Band(float((low + high) / 2) / 1000 + bearing.bore, float(high - low) / 2)


@dataclass(frozen=True)
class Pair:
    """A bore over a shaft; clearances in µm on the diameter, negative is interference."""

    bore: Band
    shaft: Band

    @property
    def likely(self) -> float:
        return 1000 * (self.bore.size - self.shaft.size)

    @property
    def widest(self) -> float:
        """How far off `likely` the clearance can be when every doubt lies the same way."""
        return self.bore.half + self.shaft.half

    @property
    def probable(self) -> float:
        """How far off `likely` it usually is: root of the sum of squares."""
        return math.hypot(self.bore.half, self.shaft.half)

    @property
    def most(self) -> float:
        return self.likely + self.widest

    @property
    def least(self) -> float:
        return self.likely - self.widest

    def word(self, clearance: float) -> str:
        return feel.feel(clearance, self.bore.size)

    @property
    def sure(self) -> bool:
        """Whether both ends of the doubt feel the same in the hand."""
        return self.word(self.most) == self.word(self.least)

    def shares(self) -> tuple[tuple[str, float], ...]:
        """Each word of `feel` that the doubt allows, loosest first, with its share of 1.

        The clearance counts as normally spread between its two ends, the probable band as two standard deviations
        either way.
        """
        words = feel.WORDS[feel.WORDS.index(self.word(self.most)) : feel.WORDS.index(self.word(self.least)) + 1]
        inner = [bound for bound in feel.bounds(self.bore.size) if self.least < bound <= self.most]
        spread = self.probable / 2
        below = [_below((edge - self.likely) / spread) for edge in (self.most, *inner, self.least)]
        whole = below[0] - below[-1]
        return tuple(
            (word, (high - low) / whole) for word, high, low in zip(words, below[:-1], below[1:], strict=True)
        )  # fmt: skip


def _below(deviations: float) -> float:
    """Share of a normal spread that lies below so many standard deviations."""
    return (1 + math.erf(deviations / math.sqrt(2))) / 2


# ---------------------------------------------------------------------------------------------- what is wanted

Wanted = ToleranceClass | str


def read_wanted(text: str) -> Wanted:
    """A shaft class such as k5, or one of the words of `feel`; CalcError otherwise."""
    if text.casefold() in feel.WORDS:
        return text.casefold()
    try:
        return iso286.read_shaft(text)
    except CalcError as problem:
        words = ", ".join(feel.WORDS)
        raise CalcError(f"{problem} Or say how it should go together: {words}.") from problem


def nominal_near(size: float) -> float | None:
    """The whole millimetre within 0.1 mm of `size`, else the 1/16 in that near; None when there is neither."""
    for grid in (1.0, 25.4 / 16):
        whole = round(size / grid) * grid
        if whole > 0 and abs(size - whole) <= 0.1:
            return whole
    return None


def zone(wanted: Wanted, nominal: float | None, bore: Band) -> tuple[Band, str]:
    """The shaft sizes that are wanted, and the mark of the figures behind them ("" for a feel).

    A class takes its limits at `nominal` from ISO 286; a word takes the clearances it stands for, off the middle of
    the bore. InputError on field `wanted`.
    """
    if isinstance(wanted, ToleranceClass):
        if nominal is None:
            raise InputError(
                "wanted",
                "The bore is near no whole millimetre or sixteenth of an inch, so the nominal size of the class is not "
                f"known. Say instead how it should go together: {', '.join(feel.WORDS)}.",
            )
        try:
            limits = iso286.deviations(nominal, wanted)
        except iso286.NotInStandard as problem:
            raise InputError("wanted", f"{wanted} at {nominal:g} mm: {problem}") from problem
        return Band(nominal + float(limits.middle) / 1000, float(limits.width) / 2), limits.mark
    unit = feel.tolerance_unit(bore.size)
    bounds = feel.bounds(bore.size)
    edges = (RUNS_TO * unit, *bounds, EXTRA_HEAT * bounds[-1])
    place = feel.WORDS.index(wanted)
    loose, tight = edges[place], edges[place + 1]
    return Band(bore.size - (loose + tight) / 2000, (loose - tight) / 2), ""
