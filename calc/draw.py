"""Markup as text: one element builder that escapes, and the few SVG primitives the pictures need.

Pictures use CSS classes and `currentColor` only, so that one drawing serves light, dark and paper.
Classes: `line` an outline, `thin` a dimension or hatch line, `axis` a centre line (long dash, short dash),
`hidden` dashed, `hole` and `shaft` filled zones, `label` text, `strong` the figure that matters.
"""

import re
from decimal import Decimal
from functools import lru_cache


class Markup(str):
    """Text that is already markup and must not be escaped again."""

    __slots__ = ()


def escape(text: str) -> Markup:
    """Any text, safe between tags and inside a quoted attribute."""
    for raw, safe in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        text = text.replace(raw, safe)
    return Markup(text)


VOID = frozenset({"br", "hr", "img", "input", "link", "meta"})


def tag(name: str, /, *children: str | None, **attributes: str | float | None) -> Markup:
    """An element. Plain text children are escaped, Markup is kept, None is left out.

    Attribute names lose a trailing underscore and turn the others into hyphens: class_, stroke_width.
    An attribute that is None is left out, one that is "" stands alone in HTML as an empty one.
    """
    written = "".join(
        f' {_attribute(key)}="{_plain(given)}"' for key, given in attributes.items() if given is not None
    )  # fmt: skip
    if name in VOID:
        return Markup(f"<{name}{written}>")
    inner = "".join(c if isinstance(c, Markup) else escape(c) for c in children if c is not None)
    return Markup(f"<{name}{written}>{inner}</{name}>")


@lru_cache(maxsize=256)
def _attribute(key: str) -> str:
    return key if key == "viewBox" else re.sub("_", "-", key.rstrip("_"))


def _plain(given: str | float) -> str:
    """Coordinates to a hundredth: finer than a printed line, and the same on every machine."""
    if isinstance(given, str):
        return escape(given)
    if given == int(given):
        return str(int(given))
    text = f"{Decimal(f'{given:.9g}'):.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


# ------------------------------------------------------------------------------------------- primitives


def svg(width: float, height: float, title: str, *parts: str) -> str:
    """A picture of that many drawing units, about a pixel each at 320 to 360 px; `title` says what it shows."""
    return tag(
        "svg",
        tag("title", title),
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {_plain(width)} {_plain(height)}",
        role="img",
        class_="picture",
    )


def group(*parts: str, class_: str | None = None) -> Markup:
    """Several parts as one."""
    return tag("g", *parts, class_=class_)


def line(x1: float, y1: float, x2: float, y2: float, class_: str = "line") -> Markup:
    """A straight line."""
    return tag("line", x1=x1, y1=y1, x2=x2, y2=y2, class_=class_)


def box(x: float, y: float, width: float, height: float, class_: str = "line") -> Markup:
    """A rectangle from its upper left corner."""
    return tag("rect", x=x, y=y, width=width, height=height, class_=class_)


def circle(x: float, y: float, radius: float, class_: str = "line") -> Markup:
    """A circle about its centre."""
    return tag("circle", cx=x, cy=y, r=radius, class_=class_)


def path(*points: tuple[float, float], closed: bool = False, class_: str = "line") -> Markup:
    """Straight lines from point to point."""
    d = "M" + "L".join(f"{_plain(float(x))} {_plain(float(y))}" for x, y in points) + ("Z" if closed else "")
    return tag("path", d=d, class_=class_)


def label(x: float, y: float, text: str, anchor: str = "start", class_: str = "label") -> Markup:
    """Text with its baseline at y; anchor start, middle or end."""
    return tag("text", text, x=x, y=y, text_anchor=anchor, class_=class_)


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
