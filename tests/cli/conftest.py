"""The project that the commands about boxes are tried on."""

from __future__ import annotations

from pathlib import Path

import pytest

from boxed import plan_text

VARIANTS = """
[variant.long.box.labyrinth]
length = "0.9 m"

[variant.none]
box.labyrinth = false
run.way.parts = []
"""


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One small box, with a longer one and with none as variants."""
    path = tmp_path_factory.mktemp("plans") / "box.toml"
    path.write_text(plan_text() + VARIANTS, encoding="utf-8")
    return path
