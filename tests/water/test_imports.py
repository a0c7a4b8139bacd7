"""A fresh process that imports the water loads numpy and nothing else that costs anything."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent


def loaded() -> set[str]:
    code = "import sys; import advisor.water; print(*sys.modules)"
    out = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return set(out.stdout.split())


def test_water_loads_nothing_heavy_and_nothing_above_itself() -> None:
    modules = loaded()
    assert "numpy" in modules
    assert not {name.split(".")[0] for name in modules} & {
        *("pydantic", "scipy", "yaml", "rich", "typer", "pandas", "iapws", "CoolProp"),
    }
    own = {name for name in modules if name.split(".")[0] == "advisor"}
    assert all(name == "advisor" or name.startswith("advisor.water") for name in own), own
