"""Write a folder with specimen.html and the built files, to look at.

Then: python -m http.server --directory FOLDER --bind 127.0.0.1
"""

import sys
from datetime import date
from pathlib import Path

from jinja2 import ChoiceLoader, FileSystemLoader

import limen
from limen.draw import scene, svg
from limen.web.assets import STATIC, read_assets
from limen.web.dressing import environment
from limen.web.look import Look

HERE = Path(__file__).parent
SITE = STATIC.parent / "demo" / "alder-quay-as-found.toml"


def specimen(theme: str = "device") -> str:
    """The page with all parts, its drawings made from the demo."""
    made = environment(read_assets())
    made.loader = ChoiceLoader([made.loader, FileSystemLoader(HERE)])
    study = limen.study(limen.load_site(SITE).doorway[0], on=date(2026, 11, 25))
    drawings = {
        v: svg(scene(study, v), width_px=900) for v in ("plan", "front", "section")
    }
    return made.get_template("specimen.html").render(
        look=Look(theme=theme), language="en", drawings=drawings
    )


def write(folder: Path) -> None:
    """One page a light, with the bundle beside them."""
    folder.mkdir(parents=True, exist_ok=True)
    static = folder / "static"
    static.unlink(missing_ok=True)
    static.symlink_to(STATIC)
    for theme in ("paper", "slate"):
        (folder / f"{theme}.html").write_text(specimen(theme), "utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]))
