"""Pictures of the page: pure functions from a plan and what was worked out to the text of an inline SVG.

Every picture takes its colours and lettering from the variables of `static/look.css`, carries a `<title>` and a
`<desc>` in words, and holds no script. What can be chosen in it is a link with `data-` attributes. Each function lies
in the module of its own name:

    schematic.schematic(found: Assessment, chosen: str = "", narrow: bool = False) -> str
        Rooms, spaces, movers, boxes and runs of the plan, with how each stands. Everything is
        `<a class="thing" href="#KIND-KEY" data-kind="room|space|mover|box|run|junction" data-key="KEY">`.
        `narrow` lays it out for a phone.
    spectrum.spectrum(found: Assessment, place: str, mode: str, narrow: bool = False) -> str
        What a room or a window will hear, per octave, stacked by sound, with its range against its target.
        Sounds are `<g class="sound" data-sound="LABEL">`.
    spectrum.share_words(found: Assessment, place: str, mode: str) -> str
        The sentence of who is to blame, also the picture's `<desc>`.
    session.session(found: Assessment, room: str, mode: str, units: System, narrow: bool = False) -> str
        Carbon dioxide and temperature of a room over the session, each on its own panel with its limit.
        `mode` is a key of `found.indoors.sessions`: a mode or `schedule`.
    box_section.box_section(picture: BoxPicture, name: str, units: System, narrow: bool = False) -> str
        The section and the box from outside, with dimensions; what can be dragged is `<g class="handle"
        tabindex="0" role="slider" data-box="NAME" data-field="FIELD" data-axis="x|z" data-metres-per-unit="M"
        data-value="METRES" data-step="METRES" data-units="SYSTEM" aria-...>`,
        where FIELD is the box's field in the plan file, its steps joined by points. M is by how much the value grows
        for a unit of the picture to the right (x) or up (z); it may be negative.
    box_loss.box_loss(answer: BoxAnswer, name: str, narrow: bool = False) -> str
        What the box takes, in third octaves, with range, the ceiling of the ways round it, and where it is not valid.
    field.field(picture: BoxPicture, name: str, frequency: float, narrow: bool = False) -> str
        The sound field over the middle section at the picture's slice nearest to `frequency`.

`narrow` draws for 340 px of width instead of 600. `System` is `sordino.units.System`.
"""
