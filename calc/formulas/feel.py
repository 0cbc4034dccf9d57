"""What a clearance or an interference feels like in the hand.

Common practice, no source: the bounds are the usual words for the classic fits on a hole H7 (f runs, g slides,
h goes by hand, k taps in, n and p press, s and u want heat), set in multiples of the tolerance unit of
ISO 286-1, which makes a small part feel tighter than a large one at the same micrometres.
"""

import math

#: (word, what happens), loosest first.
FEELS = (
    ("runs free", "falls on and turns with a film of oil"),
    ("slides", "slides on with no shake worth the name"),
    ("push by hand", "goes on with a push of the hand, clean and oiled"),
    ("tap", "wants a soft mallet or a light press"),
    ("press", "wants a press or a drawbolt"),
    ("heat", "wants the outer part heated"),
)
WORDS = tuple(word for word, _ in FEELS)
MEANING = dict(FEELS)
HEAT_FROM = 1.0  # µm of interference for each mm of diameter, where pressing begins to score the seat


def tolerance_unit(size: float) -> float:
    """The tolerance unit i in micrometres at `size` mm: 0.45 D^(1/3) + 0.001 D (ISO 286-1:2010, to 500 mm)."""
    return 0.45 * math.pow(size, 1 / 3) + 0.001 * size


def bounds(size: float) -> tuple[float, ...]:
    """The clearances in micrometres at which one word of WORDS gives way to the next tighter one."""
    unit = tolerance_unit(size)
    return (12 * unit, 4 * unit, 0.0, -4 * unit, -max(HEAT_FROM * size, 8 * unit))


def feel(clearance: float, size: float) -> str:
    """The word of WORDS for a clearance in micrometres (negative is interference) at `size` mm."""
    for word, bound in zip(WORDS, bounds(size), strict=False):
        if clearance >= bound:
            return word
    return WORDS[-1]
