"""Markup as text: one element builder that escapes, and the few SVG primitives the pictures need.

Pictures use CSS classes and `currentColor` only, so that one drawing serves light, dark and paper.
Classes: `line` an outline, `thin` a dimension or hatch line, `axis` a centre line (long dash, short dash),
`hidden` dashed, `hole` and `shaft` filled zones, `label` text, `strong` the figure that matters.
"""

from decimal import ROUND_HALF_EVEN, Decimal
from functools import lru_cache


class Markup(str):
    """Text that is already markup and must not be escaped again."""

    __slots__ = ()


def escape(text: str) -> Markup:
    """Any text, safe between tags and inside a quoted attribute."""
    return Markup(_safe(text))


def _safe(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


VOID = frozenset({"br", "hr", "img", "input", "link", "meta"})
HUNDREDTH = Decimal("0.01")


def tag(name: str, /, *children: str | None, **attributes: str | float | None) -> Markup:
    """An element. Plain text children are escaped, Markup is kept, None is left out.

    Attribute names lose a trailing underscore and turn the others into hyphens: class_, stroke_width.
    An attribute that is None is left out, one that is "" stands alone in HTML as an empty one.
    """
    start = name
    for key, given in attributes.items():
        if given is not None:
            start += f' {_attribute(key)}="{_plain(given)}"'
    if name in VOID:
        return Markup(f"<{start}>")
    inner = ""
    for child in children:
        if child is not None:
            inner += child if isinstance(child, Markup) else _safe(child)
    return Markup(f"<{start}>{inner}</{name}>")


@lru_cache(maxsize=256)
def _attribute(key: str) -> str:
    return key.rstrip("_").replace("_", "-")


def _plain(given: str | float) -> str:
    return _safe(given) if isinstance(given, str) else _at(given)


def _at(given: float) -> str:
    """Coordinates to a hundredth: finer than a printed line, and the same on every machine."""
    whole = int(given)
    if given == whole:
        return str(whole)
    text = str(Decimal(f"{given:.9g}").quantize(HUNDREDTH, ROUND_HALF_EVEN)).rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


# ------------------------------------------------------------------------------------------- primitives


def svg(width: float, height: float, title: str, *parts: str) -> str:
    """A picture of that many drawing units, about a pixel each at 320 to 360 px; `title` says what it shows."""
    return tag(
        "svg",
        tag("title", title),
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {_at(width)} {_at(height)}",
        role="img",
        class_="picture",
    )


def group(*parts: str, class_: str | None = None) -> Markup:
    """Several parts as one."""
    return tag("g", *parts, class_=class_)


def line(x1: float, y1: float, x2: float, y2: float, class_: str = "line") -> Markup:
    """A straight line."""
    ends = f'x1="{_at(x1)}" y1="{_at(y1)}" x2="{_at(x2)}" y2="{_at(y2)}"'
    return Markup(f'<line {ends} class="{_safe(class_)}"></line>')


def box(x: float, y: float, width: float, height: float, class_: str = "line") -> Markup:
    """A rectangle from its upper left corner."""
    corner, size = f'x="{_at(x)}" y="{_at(y)}"', f'width="{_at(width)}" height="{_at(height)}"'
    return Markup(f'<rect {corner} {size} class="{_safe(class_)}"></rect>')


def circle(x: float, y: float, radius: float, class_: str = "line") -> Markup:
    """A circle about its centre."""
    return Markup(f'<circle cx="{_at(x)}" cy="{_at(y)}" r="{_at(radius)}" class="{_safe(class_)}"></circle>')


def path(*points: tuple[float, float], closed: bool = False, class_: str = "line") -> Markup:
    """Straight lines from point to point."""
    d = "M" + "L".join([f"{_at(float(x))} {_at(float(y))}" for x, y in points]) + ("Z" if closed else "")
    return Markup(f'<path d="{d}" class="{_safe(class_)}"></path>')


def label(x: float, y: float, text: str, anchor: str = "start", class_: str = "label") -> Markup:
    """Text with its baseline at y; anchor start, middle or end."""
    written = text if isinstance(text, Markup) else _safe(text)
    place = f'x="{_at(x)}" y="{_at(y)}" text-anchor="{_safe(anchor)}"'
    return Markup(f'<text {place} class="{_safe(class_)}">{written}</text>')


def arrow(x: float, y: float, dx: float, dy: float) -> Markup:
    """A slim filled arrow head with its point at (x, y), pointing along (dx, dy), one of which is 0."""
    length, half = 8.0, 1.4
    if dx:
        back = x - length * (1 if dx > 0 else -1)
        return path((x, y), (back, y - half), (back, y + half), closed=True, class_="arrow")
    back = y - length * (1 if dy > 0 else -1)
    return path((x, y), (x - half, back), (x + half, back), closed=True, class_="arrow")


def upright(x: float, top: float, bottom: float, text: str) -> Markup:
    """A vertical dimension between two heights with its figure to the right; arrows outside when too short."""
    tall = bottom - top >= 20
    reach = 12 if not tall else 0
    return group(
        line(x, top - reach, x, bottom + reach, "thin"),
        arrow(x, top, 0, -1 if tall else 1),
        arrow(x, bottom, 0, 1 if tall else -1),
        label(x + 6, (top + bottom) / 2 + 4, text),
    )


def level(x: float, y: float, width: float, text: str) -> Markup:
    """A horizontal dimension with its figure above."""
    return group(
        line(x, y, x + width, y, "thin"),
        arrow(x, y, -1, 0),
        arrow(x + width, y, 1, 0),
        label(x + width / 2, y - 4, text, "middle"),
    )
