"""Cautions that belong on certain pages."""

from __future__ import annotations

ENGINEER = (
    "A licensed engineer decides whether and how this may be hung or stood: the structure over it, hangers, fixings "
    "and safety cables. The figures here are loads to design for, not a design. Local code rules over all of this."
)
PLASTERBOARD_SCREWS = (
    "Never hang a box from its own boards, from plasterboard, or by drywall screws; a second, slack cable to another "
    "fixing catches it if a hanger fails. Trusses are not to be loaded or cut without their designer."
)
FIRE = (
    "A box of wood is no listed duct. Ask the authority that has a say whether linings, fibre, tape, facing and boards "
    "may be used in this air path, and whether a wall or floor that a duct goes through wants a fire stop or a damper."
)
DUST = "Cutting boards and fibre: extraction, mask (N95 or FFP2), goggles, ear protection, gloves, long sleeves."
ELECTRICITY = "Wiring, fans and cables near what you drill are for an electrician; look for cables and pipes first."
AIR = (
    "A tight room needs fresh air whenever somebody is in it. No flue, furnace or water heater may share its air, and "
    "sealing must not draw flue gas back."
)
LIFTING = "Lift with enough people or a hoist; nobody stands under what is not yet fixed."
PREDICTED = (
    "These are predictions from handbook methods and stated data, not measurements and not a permit. Figures in "
    "brackets are ranges meant to hold nine times in ten."
)
SCALE = (
    "Print at 100 %, without fitting to the page, and measure the bar before you cut: if it is off, the hole will be."
)
