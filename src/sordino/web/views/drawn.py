"""The pictures as the page puts them in: made on the server, safe to stand in it as they are."""

from __future__ import annotations

from markupsafe import Markup

from sordino.assess.assessment import Assessment
from sordino.assess.box_answer import BoxAnswer
from sordino.assess.box_picture import BoxPicture
from sordino.units import System


def schematic(found: Assessment, chosen: str, narrow: bool) -> Markup:
    """Rooms, ways, boxes and movers."""
    from sordino.web.pictures.schematic import schematic as drawing

    return Markup(drawing(found, chosen, narrow))


def spectrum(found: Assessment, place: str, mode: str, narrow: bool) -> Markup:
    """What a room will hear, by who is to blame."""
    from sordino.web.pictures.spectrum import spectrum as drawing

    return Markup(drawing(found, place, mode, narrow))


def blame(found: Assessment, place: str, mode: str) -> str:
    """Who is to blame, in a sentence."""
    from sordino.web.pictures.spectrum import share_words

    return share_words(found, place, mode)


def session(found: Assessment, room: str, mode: str, narrow: bool) -> Markup:
    """Carbon dioxide and temperature over a session."""
    from sordino.web.pictures.session import session as drawing

    return Markup(drawing(found, room, mode, found.plan.units, narrow))


def section(picture: BoxPicture, name: str, units: System, narrow: bool) -> Markup:
    """The box cut through the middle."""
    from sordino.web.pictures.box_section import box_section as drawing

    return Markup(drawing(picture, name, units, narrow))


def loss(answer: BoxAnswer, name: str, narrow: bool) -> Markup:
    """What the box takes."""
    from sordino.web.pictures.box_loss import box_loss as drawing

    return Markup(drawing(answer, name, narrow))


def field(picture: BoxPicture, name: str, frequency: float, narrow: bool) -> Markup:
    """The sound inside it."""
    from sordino.web.pictures.field import field as drawing

    return Markup(drawing(picture, name, frequency, narrow))


def sign(standing: str) -> Markup:
    """The sign of a standing, beside its words."""
    from sordino.report.verdict import RANK
    from sordino.web.pictures.states import sign_svg

    return Markup(next(sign_svg(each) for each in RANK if each == standing))
