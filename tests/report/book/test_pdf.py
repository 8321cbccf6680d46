"""The PDF as a file: quick, small, with its lettering in it, tagged, at true scale, the same from the same."""

from __future__ import annotations

import time

import numpy as np
import pypdfium2
import pypdfium2.raw as raw
import pytest

from booked import PAPERS, book, book_of, example, pages_of
from boxed import boxed
from sordino.bands import Array
from sordino.report.book.cautions import ENGINEER
from sordino.report.book.files import printed
from sordino.report.drawing.measures import fitting_scale, measure


@pytest.fixture(scope="module")
def data() -> bytes:
    return printed(example())


def test_the_example_is_set_quickly_and_small() -> None:
    made = example()
    began = time.process_time()
    found = printed(made)
    assert time.process_time() - began < 5.0
    assert len(found) < 5_000_000


def test_all_lettering_is_inside_the_file(data: bytes) -> None:
    document = pypdfium2.PdfDocument(data)
    inside = list[bool]()
    for page in document:
        for item in page.get_objects(filter=(raw.FPDF_PAGEOBJ_TEXT,)):
            inside.append(raw.FPDFFont_GetIsEmbedded(raw.FPDFTextObj_GetFont(item.raw)) == 1)
    assert len(inside) > 1000
    assert all(inside)


def test_it_is_tagged_for_readers_of_the_screen(data: bytes) -> None:
    assert pypdfium2.PdfDocument(data).is_tagged()


def test_the_same_book_is_the_same_file() -> None:
    assert printed(book("labyrinth")) == printed(book("labyrinth"))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pages_are_of_the_paper(paper: str) -> None:
    made = book_of(boxed("straight"), paper=PAPERS[paper])
    for page in pypdfium2.PdfDocument(printed(made)):
        wide, high = page.get_size()
        assert (wide / 72.0 * 25.4, high / 72.0 * 25.4) == pytest.approx(
            (PAPERS[paper].width, PAPERS[paper].height), abs=0.1
        )


def test_a_template_is_printed_at_true_size() -> None:
    """The hole of a small box, measured in ink on its page."""
    made = book("straight")
    data = printed(made)
    texts = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data)]
    number = next(i for i, text in enumerate(texts) if text.startswith("Template of a hole"))
    scale = 4.0
    grey = pypdfium2.PdfDocument(data)[number].render(scale=scale, grayscale=True).to_numpy()
    wanted = made.boxes[0].kit.openings[0].hole[0]
    assert wanted is not None
    assert _widest(grey.reshape(grey.shape[0], -1) < 128) / scale * 25.4 / 72.0 == pytest.approx(wanted, abs=0.7)


def _widest(dark: Array) -> float:
    """Dots between the outermost ink of a row, where a row holds the line twice and no more, inside the frame."""
    widest = 0.0
    left, right = int(0.1 * dark.shape[1]), int(0.9 * dark.shape[1])
    for row in dark[int(0.25 * len(dark)) : int(0.95 * len(dark))]:
        columns = np.flatnonzero(row[left:right])
        if 2 <= columns.size < 40:
            widest = max(widest, float(columns[-1] - columns[0]))
    return widest


def test_no_page_is_an_empty_sheet() -> None:
    """Every page of the book, and its cover, has ink on it."""
    made = book("roof")
    pages = [page.render(scale=0.5, grayscale=True).to_numpy() for page in pypdfium2.PdfDocument(printed(made))]
    assert len(pages) > len(pages_of(made))
    assert all((page < 128).sum() > 100 for page in pages)


def test_every_page_about_weight_says_who_decides(data: bytes) -> None:
    document = pypdfium2.PdfDocument(data)
    texts = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    about = [text for text in texts if "weight and hanging " in text and "What stands where" not in text]
    assert len(about) == len(example().boxes)
    assert all(ENGINEER[:60] in text for text in about)
    assert not any("compliant" in text.lower() for text in texts)


def test_the_brief_is_one_page(data: bytes) -> None:
    texts = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data)]
    number = next(i for i, text in enumerate(texts) if text.startswith("Brief for the contractor"))
    assert texts[number + 1].startswith("Runs with their sizes")
    for words in ("Accept the noise", "No damper", "flexible connector", "63 Hz", "L/s", "m/s", "Pa"):
        assert words in " ".join(texts[number].split()), words


def test_sizes_are_read_as_they_are_cut() -> None:
    assert measure(1286.0, "metric") == "1286 mm"
    assert measure(203.25, "metric") == "203.2 mm"
    assert measure(25.4 * 10.0625, "inch") == "10 1/16 in"
    assert fitting_scale((1000.0, 500.0), (180.0, 100.0), "metric") == 10
    assert fitting_scale((100.0, 50.0), (180.0, 100.0), "metric") == 1
