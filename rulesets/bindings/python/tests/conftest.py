"""What the tests share: the repository that they stand in, and the command that the wheel is compared with."""

import json
import os
import subprocess
from pathlib import Path

import pytest

import cellrules

ROOT = Path(__file__).resolve().parents[4]
DEMOS = sorted(
    path.relative_to(ROOT)
    for path in (ROOT / "rules-cli/demo").rglob("*")
    if path.suffix in (".yaml", ".json") and path.name != "bench.yaml"
)


@pytest.fixture(scope="session")
def rules():
    return cellrules.Rules.shipped()


@pytest.fixture()
def in_root(monkeypatch):
    """Paths are told as they are given, so that both sides are asked from the same folder."""
    monkeypatch.chdir(ROOT)
    return ROOT


@pytest.fixture(scope="session")
def command():
    """The command, built of the same sources; or the one named by `CELLRULES_COMMAND`."""
    known = os.environ.get("CELLRULES_COMMAND")
    if known:
        return known
    built = subprocess.run(
        ["cargo", "build", "--locked", "--package", "rules-cli", "--message-format", "json"],
        cwd=ROOT, check=True, stdout=subprocess.PIPE,
    )
    told = [json.loads(line) for line in built.stdout.splitlines()]
    return next(one["executable"] for one in told if one.get("executable"))


@pytest.fixture(scope="session")
def torch():
    """The proposal of the marshal's torch, which passes."""
    return json.loads((ROOT / "rules-cli/demo/marshal-torch.json").read_text())
