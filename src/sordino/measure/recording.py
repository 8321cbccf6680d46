"""A recording as a file: what its header promises, what it holds, and its samples piece by piece."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np

from sordino.bands import Array
from sordino.errors import Fault, PlanError
from sordino.physics.signal.bank import GRAIN

PIECE = 1.0
"""Length of a piece, s, rounded up to whole grains."""
LOOKED_AT = 30.0
"""Seconds in which two channels are compared."""
ALIKE = 0.999
"""Correlation from which two channels are one signal."""
FAINT = 60.0
"""How far one channel lies under the other to count as unused, dB."""
SLOWEST, FASTEST = 8000.0, 400_000.0
"""Sampling rates that are believed, Hz."""
SPARE = 4096
"""Bytes that may stand after the samples."""
LARGEST_PLAIN = 2**32
"""Bytes that a plain WAV file can count."""
LOSSY = ("VORBIS", "OPUS", "MPEG_LAYER_I", "MPEG_LAYER_II", "MPEG_LAYER_III")
"""Codings that change levels by up to a decibel."""
COARSE = ("PCM_S8", "PCM_U8", "ULAW", "ALAW")
"""Codings of 8 bits."""
ENDLESS = (0, 2**32 - 1)
"""Sizes that a recorder writes which does not know how long it will run."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Recording:
    """An opened recording: where it is, its rate in Hz, its length in frames, the channel that is read."""

    path: str
    rate: float
    frames: int
    channel: int
    flags: tuple[str, ...]

    @property
    def seconds(self) -> float:
        """Its length, s."""
        return self.frames / self.rate


def refused(path: str, problem: str, cure: str) -> PlanError:
    """A recording that can't be used, as one message."""
    return PlanError([Fault(file=path, line=None, key="", problem=f"{problem}.", cure=f"{cure[0].upper()}{cure[1:]}.")])


def beside(folder: Path, name: str) -> Path:
    """A file that a project names: in its folder or under it, whatever links or dots say."""
    path = folder / name
    if not path.resolve().is_relative_to(folder.resolve()):
        cure = "copy it beside the project file, and name it without its folder"
        raise refused(str(path), "this file lies outside the project's folder", cure)
    return path


@dataclass(frozen=True, kw_only=True, slots=True)
class Heading:
    """What a recording says of itself and holds: its rate in Hz, its channels, its length in frames, its coding."""

    rate: int
    channels: int
    frames: int
    coding: str
    flags: tuple[str, ...]

    @property
    def words(self) -> str:
        """The same for a reader."""
        seconds = self.frames / self.rate
        length = f"{int(seconds // 60)} min {seconds % 60:.0f} s" if seconds >= 60.0 else f"{seconds:.3g} s"
        return f"{length}, {self.rate / 1000.0:g} kHz, {('one channel', 'two channels')[self.channels - 1]}"


def heading(path: Path) -> Heading:
    """What a recording is, whichever channel is the microphone's; a PlanError says why it can't be used."""
    import soundfile

    name = str(path)
    if not path.is_file():
        raise refused(name, "there is no such recording", "recordings are looked for beside the project file")
    flags = _header_flags(path)
    try:
        info = soundfile.info(name)
    except (RuntimeError, OSError):
        cure = "record as WAV or FLAC, or export it as that"
        raise refused(name, "this is no recording that can be read, or it is broken", cure) from None
    if info.frames == 0:
        raise refused(name, "the recording is empty", "record it once more")
    if not SLOWEST <= info.samplerate <= FASTEST:
        raise refused(name, f"a rate of {info.samplerate} Hz is not believed", "record at 44.1, 48 or 96 kHz")
    if info.channels > 2:
        raise refused(name, f"the recording has {info.channels} channels", "export the microphone's one as mono")
    return Heading(
        rate=int(info.samplerate),
        channels=int(info.channels),
        frames=int(info.frames),
        coding=info.subtype,
        flags=flags,
    )


def recording(path: Path, channel: str | None) -> Recording:
    """Open a recording and choose its channel; a PlanError says why it can't be used."""
    told = heading(path)
    chosen, flags = _channel(path, told.channels, channel)
    if told.coding in LOSSY:
        flags = (*flags, f"{path.name} is coded with loss, which takes away what it holds to be inaudible")
    if told.coding in COARSE:
        flags = (*flags, f"{path.name} has 8 bits only: its own hiss hides what is 40 dB under the loudest")
    flags = (*told.flags, *flags)
    return Recording(path=str(path), rate=float(told.rate), frames=told.frames, channel=chosen, flags=flags)


def begins(path: Path) -> bool:
    """Whether there is sound to be read at its beginning."""
    return next((True for block in _blocks(str(path), GRAIN, 0) if block.shape[0]), False)


def pieces(source: Recording, start: float = 0.0, end: float | None = None, length: float = PIECE) -> Iterator[Array]:
    """The chosen channel from `start` to `end` (s), piece by piece, in whole grains; what is left over is dropped."""
    count = grains(length * source.rate)
    for block in _blocks(source.path, count, round(start * source.rate)):
        left = None if end is None else round((end - start) * source.rate)
        piece = block[: grains_down(block.shape[0]), source.channel]
        if left is not None and left < piece.size:
            yield piece[: grains_down(left)]
            return
        if piece.size:
            yield piece
        end = None if end is None else end - piece.size / source.rate


def whole(source: Recording, start: float = 0.0, end: float | None = None) -> Array:
    """The chosen channel at once."""
    first = round(start * source.rate)
    last = source.frames if end is None else min(round(end * source.rate), source.frames)
    found = [block[:, source.channel] for block in _blocks(source.path, grains(source.rate), first)]
    return np.concatenate(found)[: max(last - first, 0)] if found else np.zeros(0)


def grains(samples: float) -> int:
    """Samples rounded up to whole grains."""
    return max(int(np.ceil(samples / GRAIN)), 1) * GRAIN


def grains_down(samples: int) -> int:
    """Samples rounded down to whole grains."""
    return samples // GRAIN * GRAIN


def _blocks(path: str, count: int, start: int) -> Iterator[Array]:
    import soundfile

    with soundfile.SoundFile(path) as stream:
        stream.seek(min(start, stream.frames))
        while True:
            try:
                block = stream.read(count, dtype="float64", always_2d=True)
            except RuntimeError:  # the file breaks off inside a coded frame
                return
            if block.shape[0]:
                yield block
            if block.shape[0] < count:
                return


def _channel(path: Path, count: int, wanted: str | None) -> tuple[int, tuple[str, ...]]:
    """The channel to read, and what should be known of the choice."""
    if wanted is not None:
        index = {"left": 0, "right": 1}[wanted]
        if index >= count:
            raise refused(str(path), f"there is no {wanted} channel: the recording is mono", "take channel out")
        return index, ()
    if count == 1:
        return 0, ()
    return _one_of_two(path)


def _one_of_two(path: Path) -> tuple[int, tuple[str, ...]]:
    first, second = _moments(path)
    product = second[2] / np.sqrt(max(second[0] * second[1], 1e-300))
    loud = 0 if second[0] >= second[1] else 1
    apart = 10.0 * np.log10(max(second[loud], 1e-300) / max(second[1 - loud], 1e-300))
    if first == 0.0:
        return 0, ()
    if product > ALIKE and apart < 0.1:
        return 0, ()
    if apart > FAINT:
        other = ("left", "right")[loud]
        return loud, (f"only the {other} channel of {path.name} holds anything: it is used",)
    raise refused(str(path), "left and right differ", 'say which one is the microphone: channel = "left" or "right"')


def _moments(path: Path) -> tuple[float, tuple[float, float, float]]:
    """Peak, and the sums of squares and of the product of two channels, over the beginning."""
    peak, sums, seen = 0.0, np.zeros(3), 0
    for block in _blocks(str(path), 65536, 0):
        left, right = block[:, 0], block[:, 1]
        sums += [np.dot(left, left), np.dot(right, right), np.dot(left, right)]
        peak, seen = max(peak, float(np.abs(block).max())), seen + block.shape[0]
        if seen > LOOKED_AT * 48000.0 and peak > 0.0:
            break
    return peak, (float(sums[0]), float(sums[1]), float(sums[2]))


def _header_flags(path: Path) -> tuple[str, ...]:
    """What a WAV header promises and the file does not hold; others are left to their reader."""
    size = path.stat().st_size
    with path.open("rb") as stream:
        form, _, kind = _head(stream)
        if form != b"RIFF" or kind != b"WAVE":
            return ()
        begin, promised, frame = _data_chunk(stream)
    if begin is None or promised in ENDLESS:
        return ()
    if size >= LARGEST_PLAIN and size - begin - promised > SPARE:
        cure = "export it as RF64, W64 or FLAC, or in shorter parts"
        raise refused(str(path), "the file is over 4 GB, which a plain WAV can't count, so its length is lost", cure)
    if promised > size - begin + frame:
        return (f"{path.name} breaks off: its header promises {_share(promised, size - begin)}; what is there is used",)
    return ()


def _share(promised: int, there: int) -> str:
    return f"{promised / 1e6:.3g} MB of sound, the file holds {max(there, 0) / 1e6:.3g} MB"


def _head(stream: BinaryIO) -> tuple[bytes, int, bytes]:
    head = stream.read(12)
    return (head[:4], int.from_bytes(head[4:8], "little"), head[8:12]) if len(head) == 12 else (b"", 0, b"")


def _data_chunk(stream: BinaryIO) -> tuple[int | None, int, int]:
    """Where the samples of a WAV file begin, how many bytes are promised, and the bytes of one frame."""
    frame = 1
    while len(head := stream.read(8)) == 8:
        name, length = struct.unpack("<4sI", head)
        if name == b"data":
            return stream.tell(), length, frame
        body: Any = stream.read(min(length, 64)) if name == b"fmt " else b""
        if len(body) >= 14:
            frame = max(int.from_bytes(body[12:14], "little"), 1)
        stream.seek(length - len(body) + (length & 1), 1)
    return None, 0, frame
