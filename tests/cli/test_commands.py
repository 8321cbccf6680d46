"""What each command prints and how it ends, run in process."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from running import run
from sordino.assess import assessment
from sordino.cli.main import COMMANDS, main
from sordino.cli.new import EXAMPLE, STARTER, bundled
from sordino.plan.statement import Plan
from sordino.report.findings import TABLED
from sordino.report.freshair import tabled
from sordino.report.layout import WIDTH


@pytest.fixture(scope="module")
def example(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("plans") / EXAMPLE
    path.write_text(bundled(EXAMPLE), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def starter(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("plans") / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    return path


def one_line(text: str) -> str:
    return " ".join(text.split())


# ---------------------------------------------------------------- new


def test_new_writes_a_file_that_assesses_and_meets_its_target(tmp_path: Path) -> None:
    path = tmp_path / "studio.toml"
    assert run("new", path).exit_code == 0
    result = run("assess", path)
    assert result.exit_code == 0
    assert result.stdout.startswith("My quiet room\n=============\n")
    assert "Voice booth: NC" in result.stdout


def test_new_does_not_overwrite_unless_told_to(tmp_path: Path) -> None:
    path = tmp_path / "studio.toml"
    path.write_text("mine")
    refused = run("new", path)
    assert refused.exit_code == 2
    assert refused.stderr == f"{path}: the file is already there. Add --force to overwrite it.\n"
    assert path.read_text() == "mine"
    assert run("new", "--force", path).exit_code == 0
    assert path.read_text(encoding="utf-8") == bundled(STARTER)


def test_new_example_is_the_bundled_one(tmp_path: Path) -> None:
    path = tmp_path / "mill.toml"
    assert run("new", "--example", path).exit_code == 0
    assert path.read_text(encoding="utf-8") == bundled(EXAMPLE)


def test_new_in_a_folder_that_is_not_there_says_so(tmp_path: Path) -> None:
    result = run("new", tmp_path / "nowhere" / "studio.toml")
    assert result.exit_code == 2
    assert "no such file or directory." in result.stderr
    assert len(result.stderr.splitlines()) == 1


# ---------------------------------------------------------------- assess


def test_assess_prints_the_answer_first_and_ends_with_what_was_missed(example: Path) -> None:
    result = run("assess", example)
    found = assessment.assess(_plan(example))
    assert result.exit_code == (1 if found.missed else 0)
    text = one_line(result.stdout)
    for finding in found.findings:
        in_a_table = finding.standing == "note" and (finding.question in TABLED or tabled(finding))
        assert in_a_table or one_line(finding.sentence) in text
    assert text.index("Reading room: NC") < text.index("What else was found, worst first")


def test_no_line_is_wider_than_a_terminal(example: Path) -> None:
    for words in (["--air"], ["--ledger", "reading"], ["--variant", "rigid-metal"]):
        lines = run("assess", example, *words).stdout.splitlines()
        assert max(map(len, lines)) <= WIDTH, words
    compared = run("compare", example, "rigid-metal", "straight-flex", "slack-flex", "lined-box").stdout
    assert max(map(len, compared.splitlines())) <= WIDTH


def test_no_level_at_63_hz_has_a_decimal(example: Path) -> None:
    for row in run("assess", example, "--ledger", "practice").stdout.splitlines():
        cells = row[55:].split()
        if len(cells) == 9 and "31.5" not in cells:
            assert "." not in cells[1], row


def test_the_worst_findings_come_first(example: Path) -> None:
    text = run("assess", example, "--variant", "rigid-metal").stdout
    rest = text.split("What else was found, worst first")[1].split("\nNoise of the ventilation")[0]
    order = ("stop", "missed", "likely missed", "worth a look", "likely met", "met", "note")
    told = [next(s for s in order if row.startswith(f"{s} ")) for row in rest.splitlines()[2:] if row[:1] not in " "]
    assert told == sorted(told, key=order.index)
    assert told


def test_a_missed_target_is_followed_by_what_helps_with_a_figure(example: Path) -> None:
    text = one_line(run("assess", example, "--variant", "rigid-metal").stdout)
    sentence = text.split("[boost] Practice room:")[1]
    assert "likely misses." in sentence[:200] or "misses." in sentence[:200]
    assert "What helps most: NC " in sentence
    assert " instead of NC " in sentence


@pytest.mark.parametrize(("target", "reached"), [("NR-0", False), ("NC-15", True)])
def test_text_and_json_agree_on_whether_a_change_reaches_the_target(
    starter: Path, tmp_path: Path, target: str, reached: bool
) -> None:
    strict = tmp_path / "strict.toml"
    text = starter.read_text(encoding="utf-8").replace('target = "NC-20"', f'target = "{target}"', 1)
    strict.write_text(text.replace('"38 dBA"', '"44 dBA"'), encoding="utf-8")
    words = one_line(run("assess", strict).stdout).split("What helps most:")[1][:1500]
    data = json.loads(run("assess", strict, "--json").stdout)
    assert ("None of these reaches the target." in words) is not reached
    helps = data["remedies"][-1]
    assert helps["target_reached"] is reached
    assert any(each["within_target"] for each in helps["best"]) is reached


def test_one_mode_speaks_of_that_mode_and_ends_by_it(starter: Path, tmp_path: Path) -> None:
    strict = tmp_path / "strict.toml"
    text = starter.read_text(encoding="utf-8").replace(
        'target = "NC-20"', 'target = { record = "NC-30", break = "NR-0" }'
    )
    strict.write_text(text, encoding="utf-8")
    assert run("assess", strict, "--mode", "record").exit_code == 0
    loud = run("assess", strict, "--mode", "break")
    assert loud.exit_code == 1
    assert "record" not in loud.stdout
    assert run("assess", strict).exit_code == 1


def test_pressure_line_by_line_is_asked_for(starter: Path) -> None:
    assert "Pressure line by line" not in run("assess", starter).stdout
    text = run("assess", starter, "--air").stdout
    assert "Pressure line by line, filters clean" in text
    assert "  box way-in " in text
    assert "  all of it " in text


def test_a_schedule_names_every_station_of_every_path(example: Path) -> None:
    text = run("assess", example, "--ledger", "reading", "--mode", "boost").stdout
    assert text.startswith("Schedule: Reading room\n")
    for words in (
        "sound power of the fan",
        "box read-supply in eaves",
        "    attenuation",
        "    own noise",
        "    level after it",
        "    level at the listener",
        "Plane-wave cascade up to",
        "Air noise out of cool-reading, at the listener",
        "Everything together, at the listener",
        "the loudest sources of other rooms",
    ):
        assert words in text


def test_unknown_names_get_a_guess(example: Path) -> None:
    for words, message in (
        (["--ledger", "reeding"], "there is no room or window 'reeding'. Did you mean reading? There are: reading, "),
        (["--mode", "quite"], "there is no mode 'quite'. Did you mean quiet? There are: quiet, boost."),
        (["--variant", "rigid-metl"], "there is no variant 'rigid-metl'. Did you mean rigid-metal?"),
    ):
        result = run("assess", example, *words)
        assert result.exit_code == 2
        assert result.stdout == ""
        assert result.stderr.startswith(f"{example}: {message}")
        assert len(result.stderr.splitlines()) == 1


def test_a_room_may_be_called_by_the_name_that_reports_show(example: Path) -> None:
    by_key, by_name = (run("assess", example, "--ledger", name) for name in ("reading", "reading ROOM"))
    assert by_name.exit_code == by_key.exit_code == 1
    assert by_name.stdout == by_key.stdout
    compared = run("compare", example, "rigid-metal", "--room", "Practice room").stdout
    assert "Practice room" in compared
    assert "Reading room, boost" not in compared


def test_json_says_that_it_holds_everything(starter: Path) -> None:
    plain = run("assess", starter, "--json")
    assert plain.stderr == ""
    for words in (["--air"], ["--ledger", "booth"]):
        told = run("assess", starter, "--json", *words)
        assert told.stdout == plain.stdout
        assert told.stderr == "sordino: the JSON holds everything: --ledger and --air add nothing to it\n"


def test_a_mistake_in_a_variant_stops_the_project_as_written(starter: Path, tmp_path: Path) -> None:
    path = tmp_path / "wrong.toml"
    path.write_text(
        starter.read_text(encoding="utf-8") + '\n[variant.wrong.run.supply]\nsize = "wide"\n', encoding="utf-8"
    )
    result = run("assess", path)
    assert result.exit_code == 2
    assert "variant.wrong.run.supply.size" in result.stderr
    assert run("assess", path, "--variant", "larger-duct").exit_code == 0


def test_every_mistake_has_its_line_on_stderr(starter: Path, tmp_path: Path) -> None:
    path = tmp_path / "wrong.toml"
    text = starter.read_text(encoding="utf-8").replace('gear = "60 W"', 'gear = "60 m"').replace('"2.4 m"', '"2.4"')
    path.write_text(text, encoding="utf-8")
    result = run("assess", path)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert [line.split(": ")[1] for line in result.stderr.splitlines()] == ["room.booth.length", "room.booth.gear"]


def test_json_is_strict_and_complete(example: Path) -> None:
    result = run("assess", example, "--json")
    found = assessment.assess(_plan(example))
    data = json.loads(result.stdout, parse_constant=_no_constant)
    assert len(data["findings"]) == len(found.findings)
    assert len(data["noise"]) == len(found.noise)
    heard = next(each for each in data["noise"] if (each["place"], each["mode"]) == ("practice", "boost"))
    own = found.noise["practice", "boost"]
    assert heard["figure"] == pytest.approx(own.rating.value)
    assert heard["levels_db"][0] is None
    assert heard["levels_db"][3] == pytest.approx(own.levels[3])
    assert len(heard["paths"]) == len(own.heard.contributions)
    path = next(each for each in heard["paths"] if each["cause"] == "fan")
    assert path["plane_waves_up_to_hz"] > 100
    assert all(len(row["level_after_db"]) == 9 for row in path["schedule"])
    assert path["half_widths_db"]
    state = next(each for each in data["air_states"] if (each["mode"], each["filters"]) == ("boost", "dirty"))
    flows = {each["run"]: each["flow_m3_s"] for each in state["runs"]}
    assert flows["cool-reading"] == pytest.approx(found.states["boost", "dirty"].flows["cool-reading"])
    assert all(
        sum(line["drop_pa"] for line in each["ledger"]) == pytest.approx(each["pressure_loss_pa"], abs=1e-6)
        for each in state["runs"]
    )


def _no_constant(name: str) -> Any:
    raise AssertionError(f"{name} is not JSON")


def _plan(path: Path) -> Plan:
    from sordino.plan.project import read

    return read(path)


# ---------------------------------------------------------------- compare


def test_compare_sets_the_project_as_written_first(example: Path) -> None:
    result = run("compare", example, "rigid-metal", "slack-flex", "--mode", "boost", "--room", "practice")
    text = result.stdout
    names = [line.split(":")[0].strip() for line in text.splitlines() if line.startswith("  ") and ": NC" in line]
    assert names == ["as written", "rigid-metal", "slack-flex"]
    assert "quiet" not in text
    assert "Flow and pressure of every run, boost" in text
    assert "What the runs that differ take from the fan's sound" in text
    assert result.exit_code == 1


def test_compare_repeats_the_project_as_written_in_every_table(example: Path) -> None:
    names = ("rigid-metal", "straight-flex", "slack-flex", "lined-box")
    text = run("compare", example, *names, "--mode", "boost").stdout
    heads = [row.split("  ") for row in text.splitlines() if row.startswith(("run  ", "mover  "))]
    heads = [[cell.strip() for cell in row if cell.strip()] for row in heads]
    assert [head[1] for head in heads] == ["as written"] * 4
    assert [head[2:] for head in heads] == [[*names[:3]], [*names[3:]]] * 2


def test_compare_as_json_has_the_same_columns(example: Path) -> None:
    data = json.loads(run("compare", example, "rigid-metal", "--json").stdout, parse_constant=_no_constant)
    assert [column["name"] for column in data["columns"]] == ["as written", "rigid-metal"]
    assert "cool-practice" in data["columns"][1]["taken_db"]


def test_one_misspelling_is_told_once_though_variants_list_other_names(starter: Path, tmp_path: Path) -> None:
    path = tmp_path / "twice.toml"
    third = 'family = "straight"\nlength = "1 m"\nwidth = "0.4 m"\nheight = "0.4 m"\n'
    more = f"\n[stand.way-inn]\nlengths = 1\n[variant.more.box.third]\n{third}"
    path.write_text(starter.read_text(encoding="utf-8") + more, encoding="utf-8")
    result = run("assess", path)
    assert result.exit_code == 2
    assert result.stderr.count("there is no box or mover 'way-inn'") == 1


def test_compare_without_a_variant_lists_them(starter: Path) -> None:
    result = run("compare", starter)
    assert result.exit_code == 2
    words = "name the variants to set beside the project. Variants here: larger-duct."
    assert result.stderr == f"{starter}: {words}\n"


def test_compare_refuses_what_is_not_there(example: Path) -> None:
    result = run("compare", example, "rigid-metl")
    assert result.exit_code == 2
    assert result.stderr.startswith(f"{example}: there is no variant 'rigid-metl'. Did you mean rigid-metal?")
    assert (
        "there is no room or window 'praktice'" in run("compare", example, "rigid-metal", "--room", "praktice").stderr
    )


# ---------------------------------------------------------------- schema, demo, the group


def test_schema_is_one_json_schema_that_knows_the_example_keys() -> None:
    data = json.loads(run("schema").stdout, parse_constant=_no_constant)
    assert data["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    for key in ("site", "room", "space", "shell", "mover", "mode", "box", "run", "junction", "variant"):
        assert key in data["properties"]
    assert {"from", "to", "parts"} <= set(data["$defs"]["Run"]["properties"])


def test_demo_leaves_the_report_its_json_and_schedules(tmp_path: Path) -> None:
    folder = tmp_path / "results"
    result = run("demo", "--out", folder)
    assert result.exit_code == 0
    assert sorted(path.name for path in folder.iterdir()) == [
        "assessment.json",
        "assessment.txt",
        "mill-loft.toml",
        "schedule-practice.txt",
        "schedule-reading.txt",
    ]
    assert "Reading room: NC" in result.stdout
    assert str(folder / "assessment.txt") in result.stdout
    assert (folder / "assessment.txt").read_text(encoding="utf-8").startswith("Mill loft\n")
    json.loads((folder / "assessment.json").read_text(encoding="utf-8"), parse_constant=_no_constant)


def test_demo_keeps_a_project_that_was_worked_on(tmp_path: Path) -> None:
    (tmp_path / EXAMPLE).write_text("mine")
    assert run("demo", "--out", tmp_path).exit_code == 0
    assert (tmp_path / f"{EXAMPLE}.old").read_text() == "mine"
    assert (tmp_path / EXAMPLE).read_text(encoding="utf-8") == bundled(EXAMPLE)


def test_a_mistyped_command_gets_a_guess() -> None:
    result = run("asess", "x.toml")
    assert result.exit_code == 2
    assert "there is no command 'asess'. Did you mean assess?" in result.stderr


def test_every_command_has_the_line_it_has_in_the_list() -> None:
    for name, words in COMMANDS.items():
        command = main.get_command(None, name)  # type: ignore[arg-type]
        assert command is not None
        assert command.name == name
        assert command.get_short_help_str(200) == words


def test_an_unexpected_failure_is_one_line(example: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from sordino.cli import assess as module

    def fail(_: object) -> None:
        raise ZeroDivisionError("one\ntwo")

    monkeypatch.setattr(module, "assess", fail)
    result = CliRunner().invoke(main, ["assess", str(example)])
    assert result.exit_code == 2
    assert result.stderr == (
        "sordino: internal error: ZeroDivisionError: one two; please report it, with the project file\n"
    )


def test_an_interruption_ends_quietly(example: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from sordino.cli import assess as module

    def stop(_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(module, "assess", stop)
    result = CliRunner().invoke(main, ["assess", str(example)])
    assert result.exit_code == 130
    assert result.stdout == ""
    assert result.stderr.strip() == ""
