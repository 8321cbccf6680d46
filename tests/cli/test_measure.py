"""`sordino signal` and `sordino measure`: what they write, print and how they end."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import soundfile

from boxed import plan_text
from running import run
from sordino.cli.new import bundled
from sordino.measure.kit import AMPLITUDE
from sordino.report.layout import WIDTH


@pytest.fixture(scope="module")
def proof(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The bundled project that was measured."""
    path = tmp_path_factory.mktemp("plans") / "proof.toml"
    path.write_text(bundled("proof.toml"), encoding="utf-8")
    return path


@pytest.mark.parametrize("rate", [44100, 48000, 96000])
def test_the_kit(tmp_path: Path, rate: int) -> None:
    """Three signals of 24 bits, none near full scale, and the sheet."""
    folder = tmp_path / "kit"
    result = run("signal", "--out", folder, "--rate", rate, "--seconds", 5)
    assert result.exit_code == 0
    assert "Start quietly" in result.stdout
    waves = {}
    for name in ("sweep", "pink", "tone"):
        info = soundfile.info(folder / f"{name}.wav")
        assert (info.samplerate, info.channels, info.subtype) == (rate, 1, "PCM_24")
        waves[name], _ = soundfile.read(folder / f"{name}.wav")
        assert np.abs(waves[name]).max() < 0.999
    assert np.abs(waves["sweep"]).max() == pytest.approx(AMPLITUDE, abs=1e-4)
    assert 10.0 * np.log10(np.mean(waves["tone"] ** 2)) == pytest.approx(-20.0, abs=0.01)
    assert waves["sweep"].size == 11 * rate
    sheet = (folder / "measuring.txt").read_text("utf-8")
    for word in ("Loudspeaker", "Microphone", "plugged", "fans on", "background", 'sweep_time = "5 s"', "calibrator"):
        assert word in sheet
    assert "ear protection" in sheet


def test_the_sheet_s_statement_is_one(tmp_path: Path) -> None:
    """What the sheet says to write is understood where its names exist."""
    run("signal", "--out", tmp_path)
    sheet = (tmp_path / "measuring.txt").read_text("utf-8")
    stated = sheet[sheet.index("[test.box-loss]") : sheet.index("Then: sordino measure")]
    plan = plan_text("straight").replace("run.way", "run.supply").replace("room.here", "room.quiet-room")
    plan = (
        plan.replace("room.there", "room.loud-room").replace('"here"', '"quiet-room"').replace('"there"', '"loud-room"')
    )
    plan = plan.replace("box.straight", "box.supply").replace('"straight" }', '"supply" }')
    path = tmp_path / "studio.toml"
    path.write_text(f"{plan}\n{stated}", encoding="utf-8")
    for test, wanted in (("grille", 0), ("fans", 2), ("box-loss", 2)):
        result = run("measure", path, "--test", test)
        assert result.exit_code in (wanted, 1)
        assert wanted != 2 or "there is no such" in result.stderr


@pytest.mark.parametrize(("test", "status"), [("quiet", 1), ("vent", 1), ("box", 1), ("air", 0)])
def test_each_test_of_the_example(proof: Path, test: str, status: int) -> None:
    """An answer, a table no wider than a page but for the line to paste, a legend, and the same as JSON."""
    result = run("measure", proof, "--test", test)
    assert result.exit_code == status
    assert all(len(line) <= WIDTH for line in result.stdout.splitlines() if not line.startswith("  measured = "))
    assert "Read this with it" in result.stdout
    told = json.loads(run("measure", proof, "--test", test, "--json").stdout)
    assert told["test"] == test
    assert told["answer"]
    assert told["missed"] == bool(status)
    assert told["rows"] or told["figures"]


@pytest.mark.parametrize("suffix", [".svg", ".pdf", ".png"])
def test_a_plot(proof: Path, tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"vent{suffix}"
    assert run("measure", proof, "--test", "vent", "--plot", path).exit_code == 1
    begin = {".svg": b"<svg", ".pdf": b"%PDF", ".png": b"\x89PNG"}[suffix]
    assert path.read_bytes().startswith(begin)
    if suffix == ".svg":
        assert "by the vent alone" in path.read_text("utf-8")


def test_which_test_must_be_said(proof: Path) -> None:
    result = run("measure", proof)
    assert result.exit_code == 2
    assert "say which test, as --test NAME: there are quiet, vent, box, air" in result.stderr
    wrong = run("measure", proof, "--test", "bocks")
    assert wrong.exit_code == 2
    assert "there is no test 'bocks'" in wrong.stderr
    assert run("measure", proof, "--test", "box", "--plot", "x.txt").exit_code == 2


def test_the_line_to_paste_is_taken(proof: Path, tmp_path: Path) -> None:
    """Pasted under its table, the measured loss counts in the assessment and is marked as measured."""
    told = json.loads(run("measure", proof, "--test", "box", "--json").stdout)["line_for_the_project_file"]
    text = proof.read_text("utf-8").replace(f"[{told['table']}]", f"[{told['table']}]\n{told['line']}")
    path = tmp_path / "measured.toml"
    path.write_text(text, encoding="utf-8")
    result = run("assess", path)
    assert result.exit_code in (0, 1)
    assert "loss as measured in place at 63 Hz, 125 Hz" in " ".join(result.stdout.split())
    again = run("measure", path, "--test", "box").stdout
    assert again == run("measure", proof, "--test", "box").stdout, "a measured loss is held against the drawing"
