"""The two lines of import: apps know only apps to their left, layers only layers to their left."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings

ROOT = Path(settings.BASE_DIR)
APPS = ("objects", "boards", "housing")
LAYERS = (
    {"core"},
    {"models"},
    {"queries", "roles", "readers", "speaking"},
    {"services"},
    {"intake", "forms", "tables", "printing", "pdf", "pdf_files", "templatetags"},
    {"views"},
    {"urls", "routes"},
)
OUTSIDE_THE_LAYERS = {"__init__", "apps", "checks", "config", "management", "migrations", "static"}
CORE_MAY_IMPORT = {*sys.stdlib_module_names, "ezdxf", "highspy", "numba", "numpy", "pint", "shapely"}


def test_each_app_imports_only_apps_to_its_left():
    faults = [
        f"{name} imports {imported}"
        for name, imported in own_imports()
        if APPS.index(app_of(imported)) > APPS.index(app_of(name))
    ]

    assert faults == []


def test_each_layer_imports_only_layers_to_its_left():
    faults = [
        f"{name} imports {imported}"
        for name, imported in own_imports()
        if rank_of(name) is not None and rank_of(imported) is not None and rank_of(imported) > rank_of(name)
    ]

    assert faults == []


def test_core_imports_the_standard_library_numbers_and_other_core_only():
    faults = [
        f"{name} imports {imported}"
        for name, imported in all_imports()
        if rank_of(name) == 0 and rank_of(imported) != 0 and imported.split(".")[0] not in CORE_MAY_IMPORT
    ]

    assert faults == []


def test_every_file_of_an_app_belongs_to_a_layer():
    known = set().union(*LAYERS) | OUTSIDE_THE_LAYERS

    strays = sorted({".".join(name.split(".")[:2]) for name, _ in modules() if layer_of(name) not in known})

    assert strays == []


def test_python_code_lives_in_the_known_folders():
    folders = {path.parent.name for path in ROOT.glob("*/*.py") if not path.parent.name.startswith(".")}

    assert folders - {*APPS, "tests", "benchmarks"} == set()


def test_imports_are_found_wherever_they_are_written():
    source = "import objects.core\ndef f():\n    from boards import models\n    from . import tray\n"

    found = list(imports_in(ast.parse(source), package="housing.core"))

    assert found == ["objects.core", "boards.models", "housing.core.tray"]


# ---- Reading the code ------------------------------------------------------------------------------------


def modules() -> Iterator[tuple[str, Path]]:
    """Each Python file of the apps, by its dotted name; migrations are written by Django."""
    for app in APPS:
        for path in sorted((ROOT / app).rglob("*.py")):
            if "migrations" not in path.parts:
                yield ".".join(path.relative_to(ROOT).with_suffix("").parts), path


def all_imports() -> Iterator[tuple[str, str]]:
    """(who imports, what is imported), both dotted names, imports inside functions included."""
    for name, path in modules():
        for imported in imports_in(ast.parse(path.read_text("utf-8")), package=name.rpartition(".")[0]):
            yield name, imported


def own_imports() -> Iterator[tuple[str, str]]:
    return ((name, imported) for name, imported in all_imports() if app_of(imported) in APPS)


def imports_in(tree: ast.AST, package: str) -> Iterator[str]:
    """Dotted names of all that a module imports; `from a import b` counts as a.b."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            kept = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
            source = ".".join([*kept, *([node.module] if node.module else [])])
            yield from (f"{source}.{alias.name}" for alias in node.names)


def app_of(name: str) -> str:
    return name.split(".")[0]


def layer_of(name: str) -> str:
    """'models' of 'objects.models.locations'; '__init__' of the app itself."""
    return (*name.split("."), "__init__")[1]


def rank_of(name: str) -> int | None:
    """How far right a module's layer stands; None for other packages and for what puts the site together."""
    if app_of(name) not in APPS:
        return None
    return next((rank for rank, layer in enumerate(LAYERS) if layer_of(name) in layer), None)
