"""Nothing is half there: elements with all that belongs to them, pages that name what exists."""

from __future__ import annotations

import ast
import importlib
import re
from pathlib import Path
from typing import get_args

import pytest

import sordino
from sordino.assess.assessment import assess
from sordino.elements import box as statement
from sordino.elements.element import Element
from sordino.elements.lined_box import LinedBox
from sordino.elements.parts import Part
from sordino.plan.project import document, plan_of, variants
from sordino.quantities import Statement
from sordino.tables import table

SRC = Path(sordino.__file__).parent
TOP = Path(__file__).parents[1]
CLASSES: list[type[Element]] = list(get_args(get_args(Part)[0]))
each = pytest.mark.parametrize("element", CLASSES, ids=lambda element: element.__name__)


def word(element: type[Element]) -> str:
    """What a file calls an element, as `metal duct`."""
    return str(get_args(element.model_fields["kind"].annotation)[0])


def home(element: type[Element]) -> str:
    """The module of an element, as `metal_duct`."""
    return element.__module__.rpartition(".")[2]


def test_every_file_of_elements_is_known() -> None:
    """Each element class stands in the union of parts, and in a file named after it; many files make one lined box."""
    shared = {"__init__", "element", "parts", "buildup", "lining", "junction", "built_box", "box", "wrap"}
    homes = {path.stem for path in (SRC / "elements").glob("*.py") if not path.stem.startswith("box_")} - shared
    assert homes == {home(element) for element in CLASSES}
    assert all(home(element) == word(element).replace(" ", "_") for element in CLASSES)


@each
def test_it_has_tests(element: type[Element]) -> None:
    """A file of its own under tests/elements."""
    assert (TOP / "tests" / "elements" / f"test_{home(element)}.py").exists()


@each
def test_it_has_a_paragraph(element: type[Element]) -> None:
    """In docs/theory/assessment.md, under Elements, with a bold name."""
    page = (TOP / "docs" / "theory" / "assessment.md").read_text("utf-8").partition("## Elements")[2]
    paragraph = re.search(rf"\*\*{word(element).capitalize()}\.\*\*(.*?)(?=\n\*\*|\Z)", page, re.DOTALL)
    assert paragraph is not None
    assert len(paragraph[1].split()) > 15


@each
def test_it_stands_in_an_example(element: type[Element]) -> None:
    """In a project file that comes with the program, or in the file that `sordino new` writes."""
    files = [*(SRC / "examples").glob("*.toml"), *(SRC / "cli").rglob("*")]
    texts = [path.read_text("utf-8") for path in files if path.is_file() and path.suffix in (".toml", ".py")]
    assert any(f'is = "{word(element)}"' in text for text in texts)


@pytest.mark.parametrize("path", sorted((SRC / "examples").glob("*.toml")), ids=lambda path: path.stem)
def test_every_example_is_assessed(path: Path) -> None:
    """With all its variants, and with an answer for every room."""
    source = document(path)
    for variant in (None, *variants(source)):
        found = assess(plan_of(source, variant))
        answered = {finding.subject for finding in found.findings if finding.question == "noise"}
        assert found.plan.room.keys() <= answered


@each
def test_it_has_its_scatter(element: type[Element]) -> None:
    """Every key that it names is a row of the scatter tables."""
    sound, air = set(table("sound/scatter").text("key")), set(table("air/scatter").text("key"))
    assert element.loss_scatter in air
    assert {element.scatter, element.noise_scatter} - {""} <= sound


@each
def test_every_field_says_what_it_is(element: type[Element]) -> None:
    """The schema for editors is made of these words; kind, name and what says itself are left out."""
    silent = {"kind", "name", "length"}
    for name, field in element.model_fields.items():
        assert field.description or name in silent, f"{element.__name__}.{name}"


def test_every_field_of_a_box_says_what_it_is() -> None:
    """Likewise, with all that is stated inside it."""
    assert LinedBox in CLASSES
    models = [each for each in vars(statement).values() if _is_stated_there(each)]
    assert statement.Box in models
    assert len(models) > 4
    for model in models:
        for name, field in model.model_fields.items():
            assert field.description, f"{model.__name__}.{name}"


def _is_stated_there(thing: object) -> bool:
    return isinstance(thing, type) and issubclass(thing, Statement) and thing.__module__ == statement.__name__


PAGE = (TOP / "docs" / "architecture.md").read_text("utf-8")
NAMED = set(re.findall(r"`([^`\n]+)`", PAGE))
NOT_PATHS = re.compile(r"[ =\"()]|^make|^[a-z_]+$|^[A-Z]")


def test_every_file_that_the_architecture_names_exists() -> None:
    """Relative to the program, to its folders, or to the repository."""
    paths = {name for name in NAMED if ("/" in name or name.endswith((".py", ".md"))) and not NOT_PATHS.search(name)}
    assert len(paths) > 30
    for name in paths:
        places = (SRC / name, TOP / name, SRC / "assess" / name)
        stem = name.endswith("test_")
        assert stem or any(place.exists() for place in places), name


def test_every_function_that_the_architecture_names_exists() -> None:
    """Dotted names are imported and looked up."""
    dotted = {name for name in NAMED if re.fullmatch(r"(plan|assess|physics|elements|report|quantities)(\.\w+)+", name)}
    dotted = {name for name in dotted if not name.endswith(".py")}
    assert len(dotted) > 20
    for name in dotted:
        module, found = name, list[str]()
        while module and not _is_module(module):
            module, _, last = module.rpartition(".")
            found.insert(0, last)
        thing = importlib.import_module(f"sordino.{module}")
        for attribute in found:
            assert hasattr(thing, attribute), name
            thing = getattr(thing, attribute)


def _is_module(dotted: str) -> bool:
    path = SRC / dotted.replace(".", "/")
    return path.is_dir() or path.with_suffix(".py").exists()


def test_the_architecture_names_every_folder() -> None:
    """Every folder of the program, of the tests, and what stands beside them."""
    inside = [path.name for path in SRC.iterdir() if path.is_dir() and any(path.glob("*"))]
    folders = [name for name in inside if not name.startswith(("_", "."))]
    missing = [name for name in folders if not any(named.startswith(f"{name}/") for named in NAMED)]
    assert not missing
    tests = [path for path in (TOP / "tests").iterdir() if path.is_dir() and any(path.glob("*.py"))]
    assert not [path.name for path in tests if f"tests/{path.name}/" not in NAMED]
    modules = [path.name for path in SRC.glob("*.py") if path.name != "__init__.py"]
    assert not [name for name in modules if name not in NAMED]
    assert "benchmarks/" in NAMED


def test_every_file_of_the_assessment_is_placed() -> None:
    """The page says where in the flow each file of assess stands, but for vocabulary and the whole."""
    placed = NAMED | {"finding.py", "contribution.py", "wording.py", "assessment.py", "__init__.py"}
    assert not [path.name for path in (SRC / "assess").glob("*.py") if path.name not in placed]


def test_no_file_is_long() -> None:
    """Three hundred lines at most, so that a file is about one thing."""
    long = {path: count for path in SRC.rglob("*.py") if (count := len(path.read_text("utf-8").splitlines())) > 300}
    assert not long


def test_functions_are_small() -> None:
    """Median body about six lines, nine in ten under twenty-five (docstrings aside)."""
    bodies = sorted(
        sum(_last(statement) - statement.lineno + 1 for statement in node.body if not _is_docstring(statement))
        for path in SRC.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.FunctionDef)
    )
    assert bodies[len(bodies) // 2] <= 7
    assert bodies[9 * len(bodies) // 10] <= 25


def _last(statement: ast.stmt) -> int:
    return statement.end_lineno or statement.lineno


def _is_docstring(statement: ast.stmt) -> bool:
    return isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)
