"""One store of solved sound fields for a whole run, so that each box is solved once; nothing outside is touched."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sordino.cache import SETTING


@pytest.fixture(scope="session", autouse=True)
def kept_fields(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Results are kept in a folder of this run, by the tests and by the programs that they start."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(SETTING, str(tmp_path_factory.mktemp("kept")))
        yield
