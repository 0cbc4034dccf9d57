"""The shape that a bar comes out in where the tool pushed it away: its outline against the size that was set."""

from collections.abc import Sequence
from decimal import ROUND_HALF_EVEN, Decimal

from calc import draw
from calc.draw import Markup
from calc.units import figure, settle

LEFT, WIDTH, MIDDLE = 50.0, 240.0, 78.0
SLIMMEST, THICKEST = 11.0, 30.0  # half heights that the bar is drawn with
SWELLING = 14.0  # what the worst place is drawn with, before its scale becomes a round number
MOST_TOLD = 1_000_000  # past it the scale of the swelling says nothing

Profile = Sequence[tuple[float, float, float]]  # (place, diameter, deflection), all mm


def picture(holding: str, profile: Profile, worst: tuple[float, str, str], length: str) -> str:
    """`profile` runs from the headstock on, twice where a step ends; `worst` is its place, error and place as text."""
    whole = profile[-1][0]
    scale = WIDTH / whole
    thickest = max(diameter for _, diameter, _ in profile)
    tall = min(max(thickest / 2 * scale, SLIMMEST), THICKEST) / (thickest / 2)
    times = _round(SWELLING / (max(given for _, _, given in profile) * tall))
    swell = float(times) * tall
    outline = [(LEFT + at * scale, across / 2 * tall + given * swell) for at, across, given in profile]
    nominal = [(LEFT + at * scale, across / 2 * tall) for at, across, _ in profile]
    at = LEFT + worst[0] * scale
    reach = max(y for _, y in outline)
    foot = MIDDLE + reach + 26
    nearest = min(range(len(profile)), key=lambda one: abs(profile[one][0] - worst[0]))
    parts = [
        draw.path(*((x, MIDDLE - y) for x, y in outline), *((x, MIDDLE + y) for x, y in reversed(outline)),
                  closed=True, class_="shaft"),
        draw.path(*((x, MIDDLE - y) for x, y in nominal), class_="hidden"),
        draw.path(*((x, MIDDLE + y) for x, y in nominal), class_="hidden"),
        draw.line(LEFT - 34, MIDDLE, LEFT + WIDTH + 34, MIDDLE, "axis"),
        *_held(holding, nominal[0][1]),
        draw.line(at, MIDDLE + outline[nearest][1] + 20, at, MIDDLE + outline[nearest][1] + 2, "line"),
        draw.arrow(at, MIDDLE + outline[nearest][1] + 1, 0, -1),
        draw.label(min(max(at, 76), 264), MIDDLE - reach - 8, f"Ø {worst[1]} too large", "middle", "label strong"),
    ]  # fmt: skip
    if worst[0] < whole:
        parts.append(draw.level(LEFT, foot + 14, at - LEFT, worst[2]))
        parts.append(draw.line(at, foot - 4, at, foot + 18, "thin"))
        foot += 22
    large = f"{figure(times, max(0, -times.adjusted() + 1))} times" if times < MOST_TOLD else "ever so many times"
    parts += [
        draw.line(LEFT, MIDDLE + outline[0][1] + 2, LEFT, foot + 18, "thin"),
        draw.line(LEFT + WIDTH, MIDDLE + outline[-1][1] + 2, LEFT + WIDTH, foot + 18, "thin"),
        draw.level(LEFT, foot + 14, WIDTH, length),
        draw.label(
            LEFT - 34,
            foot + 36,
            f"swelling drawn {large} larger than the bar",
            class_="small",
        ),
    ]
    return draw.svg(340, foot + 42, f"The shape the bar is left in, largest {worst[2]} along it", *parts)


def _held(holding: str, half: float) -> list[Markup]:
    """Chuck jaws or a centre at the left, and at the right what carries the bar there, if anything."""
    right = LEFT + WIDTH
    centre = draw.path((right - 2, MIDDLE), (right + 16, MIDDLE - 9), (right + 34, MIDDLE - 9),
                       (right + 34, MIDDLE + 9), (right + 16, MIDDLE + 9), closed=True, class_="hole")  # fmt: skip
    if holding == "centres":
        tip = LEFT + 2
        other = draw.path((tip, MIDDLE), (tip - 18, MIDDLE - 9), (tip - 36, MIDDLE - 9), (tip - 36, MIDDLE + 9),
                          (tip - 18, MIDDLE + 9), closed=True, class_="hole")  # fmt: skip
        return [other, centre]
    jaws = [draw.box(LEFT - 26, MIDDLE - half - 14, 26, 14, "hole"), draw.box(LEFT - 26, MIDDLE + half, 26, 14, "hole"),
            draw.box(LEFT - 36, MIDDLE - half - 20, 10, 2 * half + 40, "hole")]  # fmt: skip
    return jaws if holding == "chuck" else [*jaws, centre]


def _round(times: float) -> Decimal:
    """To two figures, so that the scale that is said is the one that is drawn."""
    exact = settle(times)
    return exact.quantize(Decimal(1).scaleb(exact.adjusted() - 1), rounding=ROUND_HALF_EVEN)
