"""Every remedy's figure is that of the changed plan, assessed; every edit changes what it names and nothing else."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest

from small import FAN, ROOMS, between, written
from sordino.assess.acoustics import acoustics
from sordino.assess.assessment import Assessment, assess
from sordino.elements.box_layout import layout
from sordino.elements.built_box import BuiltBox
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.grille import Grille
from sordino.elements.metal_duct import MetalDuct
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.plan.statement import Plan
from sordino.quantities import Size
from sordino.search import edits
from sordino.search.again import acoustics_again
from sordino.search.changes import changes
from sordino.search.remedies import remedies, worst_sounds

LOUD = ROOMS.replace("[room.there]\n", '[room.there]\ntarget = "NC-20"\n')
ROUND = '[run.over]\nfrom = "there"\nto = "here"\nsize = "250 mm"\n'
PARTS = """
  { is = "metal duct", length = "2 m" },
  { is = "flexible duct", length = "1.5 m" },
  { is = "damper", angle = "30 deg" },
  { is = "grille", face = "bar", opening = "150 x 100 mm" },
"""


def loud(parts: str = PARTS, extra: str = "") -> Plan:
    return written(
        f'{LOUD}{FAN}\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nin = "loft"\nsize = "160 mm"\nwanted = "40 L/s"\n'
        f"parts = [{parts}]\n{ROUND}{extra}"
    )


@pytest.fixture(scope="module")
def found() -> Assessment:
    return assess(loud())


def test_the_figure_told_is_that_of_the_changed_plan_assessed_anew(found: Assessment) -> None:
    heard = found.noise["there", "normal"]
    told = remedies(found, "there", "normal")
    known = {
        change.words: change
        for sound in worst_sounds(heard)
        for change in changes(found.plan, "there", "normal", sound)
    }
    assert told.best
    for remedy in told.best:
        again = assess(known[remedy.words].edit(found.plan))
        assert remedy.after == pytest.approx(again.noise["there", "normal"].rating.value, abs=0.01)
        assert remedy.before == pytest.approx(heard.rating.value)
        if remedy.run:
            assert remedy.flow_after == pytest.approx(again.states["normal", "clean"].flows[remedy.run], rel=1e-6)


def test_the_best_comes_first_and_every_one_is_worth_telling(found: Assessment) -> None:
    told = remedies(found, "there", "normal")
    after = [round(remedy.after) for remedy in told.best]
    assert after == sorted(after)
    assert all(remedy.before - remedy.after >= 0.5 for remedy in told.best)


def test_two_together_beat_the_better_of_them() -> None:
    plan = edits.with_quieter("fan", -8.0)(loud())
    told = remedies(assess(plan), "there", "normal")
    assert told.together is not None
    assert told.together.after < told.best[0].after
    assert not told.best[0].meets


def test_where_only_the_stated_background_is_heard_nothing_helps() -> None:
    plan = loud()
    room = plan.room["there"].model_copy(update={"background": (float("nan"), *[70.0] * 8)})
    noisy = assess(plan.model_copy(update={"room": {**plan.room, "there": room}}))
    told = remedies(noisy, "there", "normal")
    assert told.best == ()
    assert noisy.noise["there", "normal"].governing.cause == "background"


def test_a_slower_fan_makes_less_noise_by_50_lg_of_its_speed(found: Assessment) -> None:
    """Fan laws: 80 % speed is 50 lg 0.8 = -4.8 dB (memory; the rule the sources module states)."""
    slower = edits.with_speed("fan", "normal", 0.8)(found.plan)
    assert slower.mode["normal"].speeds["fan"] == 0.8
    fans = [
        next(s for s in assess(plan).noise["there", "normal"].heard.contributions if s.cause == "fan").levels
        for plan in (found.plan, slower)
    ]
    assert np.nanmax(np.abs(fans[1] - fans[0] + 4.846)) < 0.01


def test_lined_duct_and_box_go_right_behind_the_opening() -> None:
    plan = loud()
    for edit, kind in (
        (edits.with_lined_duct("way", "there", 2.0, 0.05), MetalDuct),
        (edits.with_box("way", "there", edits.fitting_box(Size.circle(0.16), 1.2, 0.05)), BuiltBox),
    ):
        parts = edit(plan).run["way"].parts
        assert isinstance(parts[-2], kind)
        assert parts[-2].section == parts[-1].section
        assert parts[:-2] + parts[-1:] == plan.run["way"].parts


def test_at_a_return_they_go_behind_the_grille_where_the_air_enters() -> None:
    plan = loud()
    changed = edits.with_lined_duct("draw", "here", 2.0, 0.05)(plan).run["draw"].parts
    assert changed[0] == plan.run["draw"].parts[0]
    assert isinstance(changed[1], MetalDuct)


def test_the_box_that_is_offered_passes_more_than_the_duct() -> None:
    for duct in (Size.circle(0.125), Size.circle(0.315), Size.circle(0.63), Size.rectangle(0.4, 0.2)):
        box = edits.fitting_box(duct, 1.2, 0.05)
        made = layout(box, duct)
        assert len(made.stations) == 2
        assert made.narrowest.size.area >= 1.5 * duct.area
        assert type(box).model_validate(
            {key: f"{value} m" if isinstance(value, float) else value for key, value in box if key in _WRITTEN}
        )


_WRITTEN = ("family", "length", "width", "height", "passes", "lining", "divider")


def test_other_edits_change_what_they_name() -> None:
    plan = loud()
    grille = plan.run["way"].parts[-1]
    assert isinstance(grille, Grille)
    assert edits.larger_opening(grille, 1.5).area >= 1.5 * grille.mouth.area
    metal = edits.with_metal_for_flexible("way")(plan).run["way"].parts
    assert not any(isinstance(part, FlexibleDuct) for part in metal)
    assert metal[1].path_length == plan.run["way"].parts[1].path_length
    assert edits.with_open_damper("way")(plan).run["way"].parts[2].pressure_loss(0.04, assess(plan).air) < (
        plan.run["way"].parts[2].pressure_loss(0.04, assess(plan).air)
    )
    wide = edits.with_wider_duct("way")(plan).run["way"]
    assert wide.size == Size.circle(0.2)
    assert all(part.section == Size.circle(0.2) for part in wide.parts)
    lined = edits.with_lining("way", 0.05)(plan).run["way"].parts[0]
    assert isinstance(lined, MetalDuct)
    assert lined.lining == 0.05
    assert edits.next_size(Size.circle(6 * 0.0254), "inch").width == pytest.approx(7 * 0.0254)
    assert edits.next_size(Size.rectangle(0.3, 0.2)) == Size.rectangle(0.38, 0.25)


def test_a_quieter_machine_is_quieter_at_every_port() -> None:
    plan = between("")
    quieter = edits.with_quieter("fan", 5.0)(plan).mover["fan"].sound
    for port in ("outlet", "casing"):
        before, after = plan.mover["fan"].sound.given(port), quieter.given(port)
        assert before is not None
        assert after is not None
        assert np.nanmax(np.abs(np.subtract(before, after) - 5.0)) < 1e-9
    assert quieter.given("inlet") is None


def test_air_noise_is_met_at_its_opening_and_its_duct() -> None:
    """A small grille and a fast duct: the words name the opening and the next size up."""
    plan = edits.with_quieter("fan", 60.0)(loud())
    heard = assess(plan).noise["there", "normal"]
    assert heard.governing.cause == "air"
    words = [change.words for change in changes(plan, "there", "normal", heard.governing)]
    assert any("grille opening" in each or "damper" in each for each in words)
    assert "duct of 200 mm instead of 160 mm in way" in words
    assert any(each.startswith("the fan at 80 % instead of 100 %") for each in words)


BOX = '[box.quiet]\nfamily = "straight"\nlength = "0.8 m"\nwidth = "{side}"\nheight = "{side}"\npasses = 1\n'


def with_straight_box(side: str) -> Plan:
    return loud('{ is = "lined box", box = "quiet" },' + PARTS, BOX.format(side=side))


def test_a_box_in_a_wider_duct_is_laid_out_and_solved_anew() -> None:
    found = assess(with_straight_box("0.35 m"))
    wide = edits.with_wider_duct("way")(found.plan)
    before, after = (assess(plan).plan.run["way"].parts[0] for plan in (found.plan, wide))
    assert isinstance(before, BuiltBox)
    assert isinstance(after, BuiltBox)
    assert before.field is not None
    assert after.field is not None
    assert after.layout.prism.ports[0].diameter == 0.2
    assert after.field.limit == pytest.approx(before.field.limit * 0.16 / 0.2)


def test_no_duct_is_offered_that_would_not_fit_the_box_in_it() -> None:
    """200 mm do not meet a face of 180 mm."""
    tight, roomy = (edits.with_quieter("fan", 60.0)(with_straight_box(side)) for side in ("0.18 m", "0.35 m"))
    offered = [
        [change.words for change in changes(plan, "there", "normal", assess(plan).noise["there", "normal"].governing)]
        for plan in (tight, roomy)
    ]
    wider = "duct of 200 mm instead of 160 mm in way"
    assert [wider in words for words in offered] == [False, True]
    assert not edits.buildable(edits.with_wider_duct("way")(tight), "way")


def test_like_is_set_beside_like_where_no_field_was_solved() -> None:
    guessed = assess(with_straight_box("0.35 m"), fields=False)
    part = guessed.plan.run["way"].parts[0]
    assert isinstance(part, BuiltBox)
    assert part.field is None
    assert any("sound field is not solved" in finding.sentence for finding in guessed.findings)
    plan = edits.with_lined_duct("way", "there", 2.0, 0.05)(guessed.plan)
    again = acoustics_again(guessed.acoustics, plan)
    assert all(each.field is None for each in again.plan.run["way"].parts if isinstance(each, BuiltBox))
    known = assess(guessed.plan)
    assert not any("sound field is not solved" in finding.sentence for finding in known.findings)


SHELL = """
[shell.wall]
between = ["here", "there"]
area = "9 m2"
loss = [40, 45, 50, 55, 60, 60, 60, 60]
gaps = [{ length = "2 m", width = "5 mm" }]
"""


def test_a_shell_is_sealed_or_made_heavier() -> None:
    plan = loud(extra=SHELL)
    heavier = edits.with_heavier_shell("wall", 6.0)(plan).shell["wall"]
    now = plan.shell["wall"].transmission_loss
    assert np.nanmax(np.abs(heavier.transmission_loss - now - 6.0)) < 1e-9
    sealed = edits.with_sealed_shell("wall")(plan).shell["wall"]
    assert np.all(np.nan_to_num(sealed.transmission_loss - now, nan=1.0) >= 0.0)


def test_what_a_change_does_not_reach_is_taken_over_unchanged() -> None:
    source = parsed(files("sordino.examples").joinpath("mill-loft.toml").read_text(encoding="utf-8"), "mill-loft.toml")
    found = assess(plan_of(source))
    plan = edits.with_lined_duct("return-practice", "practice", 2.0, 0.05)(found.plan)
    again, anew = acoustics_again(found.acoustics, plan), acoustics(plan, found.air)
    assert [each.route for each in again.carriages] == [each.route for each in anew.carriages]
    for one, other in zip(again.carriages, anew.carriages, strict=True):
        np.testing.assert_allclose(one.total, other.total, rtol=0, atol=1e-9)
    kept = sum(one is other for one, other in zip(again.carriages, found.acoustics.carriages, strict=True))
    assert 0 < kept < len(again.carriages)
