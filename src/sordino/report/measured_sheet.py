"""The sheet that goes with the test signals."""

from __future__ import annotations

from sordino.report import layout

STEPS = (
    ("Before you begin", (
        "Turn off every effect, limiter, noise gate, automatic gain and `voice` mode of recorder and player. Record "
        "WAV or FLAC, 24 bits, at the rate of the signals. Note the gain, and leave it alone from the first recording "
        "to the last; if you must turn it up between two recordings, note by how many dB and write it as gain.",
        "Put the calibrator on the microphone if you have one, record 20 s, and once more at the end. Without one, "
        "losses and level differences can be measured all the same: only noise levels need it.",
        "Wear ear protection where the loudspeaker plays. Start quietly: low notes at full level can hurt it. Let "
        "nobody be surprised by it.",
    )),
    ("What a box takes (insertion loss)", (
        "Loudspeaker: tight against one end of the duct, the joint packed with fibre, so that little gets past. "
        "Microphone: at the other end, half a duct's width inside the room from the opening's edge, the same place in "
        "both cases; better three places. Play sweep.wav, or pink.wav for a minute and a half.",
        "Record once with a bare tube of the same length in place of the box, once with the box, once with the "
        "loudspeaker off.",
    )),
    ("From room to room, vent open and plugged", (
        "Loudspeaker in a corner of the loud room, facing the corner. Microphone: three to five places in each room, "
        "half a metre or more from walls and 0.7 m apart. Play pink.wav.",
        "Record in the loud room; then in the quiet room with the vent open; then with it plugged, heavy and airtight: "
        "bags of sand, or two boards with fibre between, taped all round, at both ends if you can; then with the "
        "loudspeaker off. Fans off all the while.",
    )),
    ("Noise of the fans", (
        "Microphone where your head or your microphone will be. Everybody out, phones off, heating off. Record two "
        "minutes with the fans on in the mode you ask about, and two minutes with them off, at the quietest hour.",
        "Most small microphones by themselves read as NC 20 to NC 30. State theirs (self_noise): bands it hides are "
        "given as `at most`.",
    )),
    ("How long a room rings", (
        "Loudspeaker in a corner, microphone at three places over a metre from it. Play sweep.wav, and let the "
        "recording run four seconds after it.",
    )),
    ("Air", (
        "Anemometer: divide the opening into at least nine even fields and read each at its middle, a hand's width "
        "from the grille; or a bag of known volume held tight over the opening, timed three times until it is just "
        "full; or the pressure from one end of the box to the other, with a slim tube at each.",
    )),
)  # fmt: skip

OF_KIND = {
    "insertion loss": STEPS[1],
    "level difference": STEPS[2],
    "vent": STEPS[2],
    "room noise": STEPS[3],
    "reverberation": STEPS[4],
    "air flow": STEPS[5],
}
"""The steps for each kind of test."""

STATEMENT = """\
[test.box-loss]
is = "insertion loss"
box = "supply"
signal = "sweep"{time}
without = ["tube-1.wav", "tube-2.wav", "tube-3.wav"]
with = ["box-1.wav", "box-2.wav", "box-3.wav"]
background = "quiet.wav"

[test.way-by-the-vent]
is = "vent"
from = "loud-room"
to = "quiet-room"
source = ["loud-1.wav", "loud-2.wav"]
open = ["open-1.wav", "open-2.wav"]
plugged = ["plugged-1.wav", "plugged-2.wav"]
background = "quiet.wav"

[test.fans]
is = "room noise"
room = "quiet-room"
on = "on.wav"
off = "off.wav"
calibrator = {{ file = "calibrator.wav", level = "94 dB", after = "calibrator-2.wav" }}
microphone = "microphone.txt" # lines of Hz and dB that came with it
self_noise = "18 dBA" # from its data sheet

[test.ring]
is = "reverberation"
room = "quiet-room"
sweep = ["ring-1.wav", "ring-2.wav", "ring-3.wav"]{time}

[test.grille]
is = "air flow"
run = "supply"
traverse = {{ speeds = ["1.9 m/s", "2.1 m/s", "1.7 m/s"], size = "200 x 100 mm" }}
bag = {{ volume = "120 L", times = ["4.1 s", "4.0 s", "4.3 s"] }}
"""
CAUTION = (
    "A plugged room gets no air: nobody stays in it, nothing burns in it or in a room that it draws air from, and the "
    "plugs come out when you are done. Electricity, ladders and heavy boxes hurt people: switch fans off at their "
    "isolator before you open anything, and take care of what hangs overhead. What you measure this way is good advice "
    "to yourself, and no proof that some rule is met: that needs the measurement the rule names."
)


def instructions(seconds: float, rate: int) -> str:
    """The whole sheet; `seconds` is the length of the sweep."""
    lines = ["Measuring what you built", "========================", ""]
    lines += layout.paragraph(
        f"sweep.wav: 2 s of silence, an exponential sweep from 20 Hz to {min(20000, 0.48 * rate) / 1000:.4g} kHz in "
        f"{seconds:g} s with peaks 12 dB under full scale, 4 s of silence. pink.wav: 90 s of pink noise, 20 dB under "
        f"full scale. tone.wav: 1 kHz, 20 dB under full scale, to set levels by. All at {rate} Hz, 24 bits, mono."
    )
    for title, paragraphs in STEPS:
        lines += layout.heading(title)
        for each in paragraphs:
            lines += [*layout.paragraph(each), ""]
        lines.pop()
    lines += layout.heading("What to write into the project file")
    time = "" if seconds == 10.0 else f'\nsweep_time = "{seconds:g} s"'
    lines += [STATEMENT.format(time=time)]
    lines += layout.paragraph("Then: sordino measure studio.toml --test box-loss")
    return "\n".join([*lines, *layout.heading("Take care"), *layout.paragraph(CAUTION)]) + "\n"
