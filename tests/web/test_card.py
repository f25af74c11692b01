"""The job card's page and what it is given along, as a browser is answered."""

import gzip
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from limen.desk.cards import card_words, ground_of
from limen.quantity import Show
from limen.web.app import create_app
from limen.web.assets import STATIC, build_of, read_assets
from limen.words import languages, read_as

DEMO = Path(__file__).parents[2] / "src" / "limen" / "demo"
CARD = Path(__file__).parents[2] / "web" / "src" / "card"
MOST_BYTES = 300_000
HERE = "http://127.0.0.1:8765"


class _Words(HTMLParser):
    """What stands in the page for its script to read."""

    def __init__(self) -> None:
        super().__init__()
        self.found = ""
        self._within = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._within = tag == "script" and ("id", "card-words") in attrs

    def handle_data(self, data: str) -> None:
        if self._within:
            self.found += data


@pytest.fixture(scope="module")
def site(client: TestClient) -> str:
    """The invented building."""
    text = (DEMO / "alder-quay-as-found.toml").read_bytes()
    sent = {"Content-Type": "application/toml", "Accept": "application/json"}
    return str(client.post("/sites", content=text, headers=sent).json()["id"])


def test_the_page_brings_every_sentence_of_the_card_in_the_readers_language(
    client: TestClient,
) -> None:
    for language in languages():
        answer = client.get("/card", headers={"Cookie": f"limen_language={language}"})
        read = _Words()
        read.feed(answer.text)
        with read_as(language):
            assert json.loads(read.found) == card_words()
        assert f'<html lang="{language}"' in answer.text


def test_every_sentence_that_the_card_says_by_its_key_is_there() -> None:
    """Keys that are put together in the script are held by their beginning."""
    words = card_words()
    text = "".join(path.read_text("utf-8") for path in CARD.glob("*.ts"))
    whole = set(re.findall(r'"(card\.[\w.]+)"', text))
    begun = set(re.findall(r"`(card\.[\w.]+)\$\{", text))
    assert len(whole) > 60
    counted = {re.sub(r"\.(none|one|many)$", "", key) for key in words}
    assert whole <= set(words) | counted, whole - set(words) - counted
    for start in begun:
        assert any(key.startswith(start) for key in words), start


def test_nothing_in_a_sentence_can_end_the_element_that_holds_it(
    client: TestClient,
) -> None:
    page = client.get("/card").text
    inside = page.partition('id="card-words">')[2].partition("</script>")[0]
    assert "<" not in inside


def test_the_card_can_be_installed_and_begins_at_its_own_page(
    client: TestClient,
) -> None:
    answer = client.get("/card.webmanifest")
    assert answer.headers["Content-Type"].startswith("application/manifest+json")
    told = answer.json()
    assert (told["start_url"], told["display"]) == ("/card", "standalone")
    assert told["icons"]


def test_the_worker_comes_from_the_root_and_is_asked_for_each_time(
    tmp_path: Path, static: Path
) -> None:
    """Else it would not answer for the page, or an old one would answer for ever."""
    own = tmp_path / "static"
    own.mkdir()
    (own / "manifest.json").write_bytes((static / "manifest.json").read_bytes())
    (own / "sw.js").write_text("/* build 0123abcd */\nself", "utf-8")
    assert build_of(own) == "0123abcd"
    app = create_app(tmp_path / "library.db", static=own)
    with TestClient(app, base_url=HERE) as asked:
        answer = asked.get("/sw.js")
        assert answer.headers["Cache-Control"] == "no-cache"
        assert answer.headers["Content-Type"].startswith("text/javascript")
        assert asked.get("/card").headers["Limen-Build"] == "0123abcd"
    app.state.desk.library.close()


def test_a_bundle_without_a_worker_is_told_so(client: TestClient) -> None:
    assert client.get("/sw.js").status_code == 404


def test_a_doorway_that_is_not_there_cannot_be_taken_along(
    client: TestClient, site: str
) -> None:
    assert client.get("/sites/none/doorways/main/card.json").status_code == 404
    answer = client.get(f"/sites/{site}/doorways/none/card.json")
    assert answer.status_code == 422
    assert answer.json()["lines"]


def test_a_pack_has_the_plan_on_which_the_box_is_laid_and_the_units_by_name(
    client: TestClient, site: str
) -> None:
    pack = client.get(f"/sites/{site}/doorways/main/card.json").json()
    card = pack["card"]
    assert [one["id"] for one in card["units"]] == ["outside", "inside"]
    ground = card["ground"]
    assert ground["scale"] > 0
    assert "<svg" in ground["svg"]
    assert not re.search(r"<(script|foreignObject)", ground["svg"])
    turned = {"Cookie": "limen_side=inside; limen_units=feet"}
    other = client.get(f"/sites/{site}/doorways/main/card.json", headers=turned).json()
    assert other["card"]["ground"]["scale"] < 0
    assert other["card"]["feet"]


def test_the_plan_lies_where_its_numbers_say(client: TestClient, site: str) -> None:
    """The posts, put into the drawing, are at the inner ends of the side screens."""
    del client, site
    from limen.desk.checking import check

    study = check(DEMO / "alder-quay-as-found.toml", "main").studies[0]
    ground = ground_of(study, Show.METRIC)
    left, right = (ground.zero[0] + ground.scale * x for x in ground.posts)
    xs = [float(x) for x in re.findall(r"[ML](-?\d+\.?\d*) ", ground.svg)]
    for post in (left, right):
        assert min(abs(x - post) for x in xs) < 0.02
    assert ground.zero[0] == pytest.approx((left + right) / 2)


def test_the_card_is_light_without_pack_and_photos() -> None:
    """All that a phone fetches before it can be used, compressed."""
    assets = read_assets()
    bundle = assets.bundles["card"]
    assert assets.letters
    needed = [bundle.script, *bundle.ahead, *bundle.styles, assets.letters]
    files = [STATIC / Path(one).relative_to("/static") for one in needed]
    sizes = {one.name: len(gzip.compress(one.read_bytes(), 9)) for one in files}
    assert sum(sizes.values()) <= MOST_BYTES, sizes


def test_the_worker_keeps_all_that_the_cards_page_loads() -> None:
    bundle = read_assets().bundles["card"]
    worker = (STATIC / "sw.js").read_text("utf-8")
    for address in (bundle.script, *bundle.ahead, *bundle.styles):
        assert f"`{address}`" in worker or f'"{address}"' in worker
