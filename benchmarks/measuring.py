"""What it takes to hear one hour of stereo at 96 kHz, 24 bits: times real time of one core, and memory.

The file (2 GB) lies in a folder of its own while it is heard. Memory is read where Linux tells it.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import soundfile

from benchmarks import Row

RATE, SECONDS = 96000, 3600
SPEED_GOAL, MEMORY_GOAL = 20.0, 300.0


def rows() -> list[Row]:
    """Real time over processor time, and the most memory that the process held."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "hour.wav"
        _write(path)
        done = subprocess.run(
            [sys.executable, "-m", "benchmarks.measuring", str(path)], capture_output=True, text=True, check=True
        )
    taken, megabytes = (float(word) for word in done.stdout.split())
    return [
        Row("one hour of 96 kHz stereo, 24 bits: real time / processor time", SECONDS / taken, f">= {SPEED_GOAL:g}"),
        Row("the same, most memory held, MB", megabytes, f"<= {MEMORY_GOAL:g}"),
    ]


def _write(path: Path) -> None:
    """A second of noise over and over."""
    noise = 0.1 * np.random.default_rng(0).standard_normal((RATE, 2))
    with soundfile.SoundFile(path, "w", RATE, 2, "PCM_24") as stream:
        for _ in range(SECONDS):
            stream.write(noise)


def hear(path: Path) -> None:
    """Hear one channel of a recording and print the processor time in s and the memory in MB."""
    from sordino.measure.listening import heard
    from sordino.measure.recording import recording

    source = recording(path, "left")
    begin = time.process_time()
    heard(source)
    taken = time.process_time() - begin
    held = re.search(r"VmHWM:\s+(\d+)", Path("/proc/self/status").read_text("utf-8"))
    assert held is not None
    print(taken, int(held[1]) / 1024.0)


if __name__ == "__main__":
    hear(Path(sys.argv[1]))
