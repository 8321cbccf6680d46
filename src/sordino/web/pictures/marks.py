"""The few marks that every picture is made of, as text of an inline SVG; colours are classes of `static/look.css`."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

XY = tuple[float, float]
LETTER = 0.6
"""Width of a letter over the size of the lettering: no usual sans serif is wider on average."""
SMALL, BODY = 12.0, 13.5
"""Sizes of lettering, px at the width that a picture is drawn for."""
WIDE, NARROW = 600.0, 340.0


def number(value: float) -> str:
    """A coordinate to a hundredth."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if abs(value) >= 0.005 else "0"


def element(tag: str, content: str = "", /, **given: str | float) -> str:
    """One element; `class_` writes class, underlines become hyphens, texts are escaped."""
    words = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{number(value) if isinstance(value, int | float) else escape(value)}"'
        for key, value in given.items()
    )
    return f"<{tag}{words}>{content}</{tag}>" if content else f"<{tag}{words}/>"


def ident(*names: str) -> str:
    """A name for something that is referred to within a page, whatever letters the names hold."""
    plain = "-".join(names)
    return "".join(c if c.isascii() and (c.isalnum() or c == "-") else f"_{ord(c):x}_" for c in plain)


def text(at: XY, words: str, /, size: float = SMALL, anchor: str = "start", class_: str = "ink") -> str:
    """A line of lettering on its base line."""
    return element("text", escape(words), x=at[0], y=at[1], font_size=size, text_anchor=anchor, class_=class_)


def plated(at: XY, words: str, /, size: float = SMALL, anchor: str = "start", class_: str = "ink") -> str:
    """A line of lettering on a plate, to be read over lines."""
    long = width(words, size)
    left = at[0] - long * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    plate = bar(left - 2.0, at[1] - 0.86 * size, long + 4.0, 1.16 * size, class_="plate")
    return plate + text(at, words, size, anchor, class_)


def bar(left: float, upper: float, wide: float, high: float, /, class_: str, round_: float = 0.0) -> str:
    """A rectangle."""
    corner = {"rx": round_} if round_ else {}
    return element("rect", x=left, y=upper, width=wide, height=high, class_=class_, **corner)


def line(points: Iterable[XY], /, class_: str) -> str:
    """A line through points."""
    return element("path", d=path(points), class_=class_)


def area(points: Iterable[XY], /, class_: str) -> str:
    """A filled ring."""
    return element("path", d=path(points) + "Z", class_=class_)


def path(points: Iterable[XY]) -> str:
    """The way through points."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def group(parts: Iterable[str], /, **given: str | float) -> str:
    """Marks that belong together."""
    return element("g", "".join(parts) or " ", **given)


def width(words: str, size: float = SMALL) -> float:
    """Room that a line of lettering may take."""
    return len(words) * size * LETTER


def fitted(words: str, room: float, size: float = SMALL) -> str:
    """The words, cut short where they don't fit."""
    most = max(int(room / (size * LETTER)), 2)
    return words if len(words) <= most else words[: most - 1].rstrip(" -,") + "…"


def picture(
    wide: float,
    high: float,
    title: str,
    told: str,
    parts: Iterable[str],
    /,
    name: str,
    live: bool = False,
    scrolls: bool = False,
) -> str:
    """A whole inline SVG with its title and description.

    It fills the width it is given; one that `scrolls` keeps about its own size and the page lets it be moved
    instead. One that is `live` holds things to choose or drag.
    """
    room = {"style": f"min-width:{number(0.9 * wide)}px;max-width:{number(1.35 * wide)}px"} if scrolls else {}
    return element(
        "svg",
        f"<title>{escape(title)}</title><desc>{escape(told)}</desc>{''.join(parts)}",
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(wide)} {number(high)}",
        class_=f"picture {name}",
        role="group" if live else "img",
        aria_label=title,
        **room,
    )
