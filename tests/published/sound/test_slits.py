"""Slits in walls against the closed form, two limits of diffraction theory, and the rule of the open area."""

from __future__ import annotations

import numpy as np

from evidence import Check
from sordino.physics.sound.panels import composite_loss
from sordino.physics.sound.slits import slit_loss, slit_transmission
from sordino.plan.shell import Shell

C = 340.0
WIDTH, DEPTH = 0.004, 0.12


def test_at_resonance_a_slit_gathers_sound_from_far_wider_than_itself(check: Check) -> None:
    """A resonant slit takes a strip of 2/k at normal incidence, so 2/K of its width; twice that of diffuse sound."""
    f = np.linspace(900.0, 1500.0, 20001)
    passed = slit_transmission(f, WIDTH, DEPTH, C)
    peak = f[np.argmax(passed)]
    check(
        "slit 4 x 120 mm, share passed at its first resonance",
        4.0 / (2.0 * np.pi * peak * WIDTH / C),
        float(passed.max()),
        source="two-dimensional reciprocity: most a line source can take is 2/k; diffuse sound on a wall doubles",
        mark="derived",
        relative=0.03,
    )


def test_the_closed_form(check: Check) -> None:
    """tau = m K cos2(Ke) / (2 n2 (sin2(KL + 2Ke)/cos2(Ke) + K2/(2 n2) (1 + cos(KL + 2Ke) cos KL))), m = 8, n = 1."""
    f = np.array([200.0, 500.0, 800.0, 1700.0])
    k = 2.0 * np.pi * f * WIDTH / C
    e, long = (np.log(8.0 / k) - 0.57722) / np.pi, DEPTH / WIDTH
    inner = np.sin(k * long + 2 * k * e) ** 2 / np.cos(k * e) ** 2
    inner = inner + k**2 / 2.0 * (1.0 + np.cos(k * long + 2 * k * e) * np.cos(k * long))
    tau = 8.0 * k * np.cos(k * e) ** 2 / (2.0 * inner)
    check(
        "slit 4 x 120 mm, loss at 200 to 1,700 Hz",
        -10.0 * np.log10(tau),
        -10.0 * np.log10(slit_transmission(f, WIDTH, DEPTH, C)),
        source="Gomperts, Acustica 14 (1964)",
        mark="memory",
        within=0.5,
    )


def test_an_open_area_limits_a_wall(check: Check) -> None:
    """A wide slit above its resonances passes what falls on it: 10 m2 of R 60 with 0.1 % open is left with 30 dB."""
    wide = slit_loss(0.05, 0.05)[-1]
    check(
        "R 60 wall of 10 m2, 2 m of 5 mm gap taken as open area",
        30.0,
        float(composite_loss([9.99, 0.01], [60.0, 0.0])),
        source="-10 lg(sum S tau / sum S), EN 12354-1",
        mark="derived",
        within=0.1,
    )
    assert wide == 0.0


def test_a_shell_with_a_gap_never_loses_more_than_without() -> None:
    loss = [34, 40, 46, 52, 57, 60, 60, 60]
    sealed = Shell.model_validate({"between": ["a", "b"], "area": "8 m2", "loss": loss})
    gap = {"length": "1.5 m", "width": "5 mm"}
    gappy = Shell.model_validate({"between": ["a", "b"], "area": "8 m2", "loss": loss, "gaps": [gap]})
    assert (gappy.transmission_loss[1:] < sealed.transmission_loss[1:] - 2.0).all()
    assert gappy.transmission_loss[-1] < 31.0
