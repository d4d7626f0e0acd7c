"""The examples of the documentation, and that it speaks of what there is."""

import doctest
import inspect
import json
import pkgutil
import re

import pytest

import cellrules
from cellrules import _data, rules
from conftest import ROOT

FLAGS = doctest.ELLIPSIS | doctest.IGNORE_EXCEPTION_DETAIL | doctest.NORMALIZE_WHITESPACE


@pytest.mark.parametrize("module", [cellrules, rules, _data], ids=lambda module: module.__name__)
def test_examples_of_the_docstrings(module):
    ran = doctest.testmod(module, optionflags=FLAGS)
    assert ran.failed == 0
    assert ran.attempted > 0 or module is _data


def blocks(path, language):
    return re.findall(rf"```{language}\n(.*?)```", path.read_text(), re.DOTALL)


def test_examples_of_the_page():
    page = ROOT / "rulesets/bindings/python/README.md"
    of_dask, found = [[block for block in blocks(page, "python") if ("dask" in block) is dask] for dask in (True, False)]
    assert len(of_dask) == 1 and found
    for block in found:
        exec(block, {})


def test_the_example_of_another_engine(tmp_path, monkeypatch, capsys, torch):
    dask = pytest.importorskip("dask")
    monkeypatch.chdir(tmp_path)
    (tmp_path / "proposals.jsonl").write_text(json.dumps(torch) + "\n{\n")
    [block] = [one for one in blocks(ROOT / "rulesets/bindings/python/README.md", "python") if "dask" in one]
    with dask.config.set(scheduler="threads"):
        exec(block, {})
    assert "('pass', 1)" in capsys.readouterr().out


def test_the_lines_of_the_readme(in_root, capsys):
    """Those of Spark are run on Spark."""
    found = [block for block in blocks(ROOT / "README.md", "python") if "spark" not in block]
    assert len(found) == 1 and len(found[0].splitlines()) <= 6
    exec(found[0], {})
    assert "REFUSE" in capsys.readouterr().out


def test_everything_native_is_in_the_stub():
    """The stub and the module have the same names, so that what is typed is there."""
    from cellrules import _native

    stub = (ROOT / "rulesets/bindings/python/python/cellrules/_native.pyi").read_text()
    for name, thing in vars(_native).items():
        if name.startswith("__") and name != "__version__":
            continue
        assert re.search(rf"^(class|def) {name}\b|^{name}:", stub, re.MULTILINE), name
        if not inspect.isclass(thing):
            continue
        body = re.search(rf"^class {name}\b.*?(?=^(class|def|_)|\Z)", stub, re.MULTILINE | re.DOTALL).group()
        own = {one for one in vars(thing) if not one.startswith("__")}
        told = set(re.findall(r"^    def (?!__)(\w+)", body, re.MULTILINE))
        assert own == told, name


def test_the_package_is_typed():
    files = {one.name for one in pkgutil.iter_modules(cellrules.__path__)}
    assert {"_data", "_native", "rules"} <= files
    import importlib.resources

    assert importlib.resources.files("cellrules").joinpath("py.typed").is_file()


def test_the_types_hold():
    """What the package says of its types, by a general-purpose checker of types."""
    mypy = pytest.importorskip("mypy.api")
    package = ROOT / "rulesets/bindings/python/python/cellrules"
    told, _, status = mypy.run(["--strict", "--ignore-missing-imports", "--no-incremental", str(package)])
    assert status == 0, told


def test_the_version_is_that_of_the_library():
    workspace = (ROOT / "Cargo.toml").read_text()
    assert f'version = "{cellrules.__version__}"' in workspace
