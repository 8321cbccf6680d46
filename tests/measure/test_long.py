"""A long recording is heard in bounded memory and faster than it was made."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import soundfile

RATE, SECONDS = 96000, 60
MOST_MEGABYTES, LEAST_SPEED = 300.0, 20.0
PROGRAM = """
import re, sys, time
from pathlib import Path
from sordino.measure.listening import heard
from sordino.measure.recording import recording
source = recording(Path(sys.argv[1]), "left")
begin = time.process_time()
found = heard(source)
taken = time.process_time() - begin
print(taken, int(re.search(r"VmHWM:\\s+(\\d+)", Path("/proc/self/status").read_text())[1]) / 1024.0, found.levels[16])
"""


def test_a_minute_at_96_kilohertz(tmp_path: Path) -> None:
    """Stereo, 24 bits: under 300 MB, over 20 times real time of one core; `benchmarks/measuring.py` takes an hour."""
    path = tmp_path / "long.wav"
    noise = 0.1 * np.random.default_rng(0).standard_normal((RATE, 2))
    with soundfile.SoundFile(path, "w", RATE, 2, "PCM_24") as stream:
        for _ in range(SECONDS):
            stream.write(noise)
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(path)], capture_output=True, text=True, check=True, timeout=300
    )
    taken, megabytes, level = (float(word) for word in done.stdout.split())
    assert megabytes < MOST_MEGABYTES
    assert taken < SECONDS / LEAST_SPEED
    assert -60.0 < level < -20.0
