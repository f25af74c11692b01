"""A record is checked where no network is, in the page, by whoever was handed it."""

from pathlib import Path

import pytest
import typst
from playwright.sync_api import FilePayload, Page, expect

from browsing import GONE, LOOKS, Desk, OpenPage, Theme, axe
from limen.record import digest_of, seal_paper
from limen.record.canonical import canonical
from record.seal_cases import cases
from record.signing import CERTIFICATE, DEVICE, FIRM, sealed
from record.test_paper import PAGE

FIRM_FILE = f"# Weir & Söhne\n{FIRM.public}\n".encode()
MARK = {True: "holds", False: "not-shown", None: "fails"}


def _file(name: str, data: bytes) -> FilePayload:
    return {"name": name, "mimeType": "application/octet-stream", "buffer": data}


def _opened(desk: Desk, open_page: OpenPage, **wishes: object) -> Page:
    page = open_page(f"{desk.url}/verify", **wishes)
    page.wait_for_selector("[data-checks=here]")
    return page


def _take(page: Page, *files: FilePayload) -> None:
    page.set_input_files("[data-verify-files]", list(files))


@pytest.fixture(scope="module")
def paper() -> bytes:
    made = typst.compile(
        {"main": PAGE, "record.json": sealed()},  # pyright: ignore[reportArgumentType]  # its stub knows no files
        format="pdf",
        pdf_standards=["a-3b"],
    )
    return seal_paper(made, DEVICE, CERTIFICATE)


def test_a_record_is_checked_while_no_server_runs(
    empty_desk: Desk, open_page: OpenPage, paper: bytes
) -> None:
    """Loaded once, then the server is killed, then the page is opened anew."""
    page = _opened(empty_desk, open_page, width=360, expected={GONE})
    page.evaluate("navigator.serviceWorker.register('/sw.js')")
    page.evaluate("navigator.serviceWorker.ready.then(() => 0)")
    page.reload()
    page.wait_for_function("navigator.serviceWorker.controller !== null")
    empty_desk.kill()
    page.reload()
    page.wait_for_selector("[data-checks=here]")
    _take(page, _file("weir.pub", FIRM_FILE), _file("a.json", sealed()))
    _take(page, _file("a.pdf", paper), _file("b.json", sealed()[:-9] + b"123456789"))
    results = page.locator(".verify-result")
    expect(results).to_have_count(3)
    expect(results.nth(0)).to_contain_text("Unchanged since it was sealed")
    expect(results.nth(0)).to_contain_text("Tablet 3")
    expect(results.nth(1)).to_have_attribute("data-verdict", "holds")
    expect(results.nth(2)).to_have_attribute("data-verdict", "fails")


def test_every_shared_file_comes_to_the_same_in_the_browser(
    desk: Desk, open_page: OpenPage
) -> None:
    """The browser's own signatures and digests, not those of a program beside it."""
    page = _opened(desk, open_page)
    # What says something of devices is taken as that, and is none of the results.
    apart = ("a certificate", "a withdrawal")
    every = [one for one in cases() if not one.withdrawn and one.firms]
    records = [one for one in every if one.name not in apart]
    _take(page, _file("weir.pub", FIRM_FILE))
    _take(page, *(_file(f"{one.name}.json", one.file) for one in records))
    shown = page.locator(".verify-result[data-verdict]")
    expect(shown).to_have_count(len(records))
    verdicts = shown.evaluate_all("every => every.map(one => one.dataset.verdict)")
    for one, verdict in zip(records, verdicts, strict=True):
        wanted = {MARK[one.trusted]} | ({"not-asked"} if not one.unchanged else set())
        assert verdict in wanted, one.name


def test_a_digest_from_paper_finds_the_page_that_bears_it(
    desk: Desk, open_page: OpenPage, paper: bytes
) -> None:
    page = _opened(desk, open_page)
    _take(page, _file("main-0007.pdf", paper))
    expect(page.locator(".verify-result")).to_have_count(1)
    field, same = page.get_by_label("Digest as printed"), page.locator("#digest-same")
    field.fill(digest_of(sealed()).upper())
    expect(same).to_have_text("It is that of main-0007.pdf.")
    field.fill("0123 4567")
    expect(same).to_have_text("It is that of none of these files.")
    field.fill("0123")
    expect(same).to_contain_text("Eight digits at least")


def test_records_that_lack_are_named(desk: Desk, open_page: OpenPage) -> None:
    page = _opened(desk, open_page)
    first = sealed()
    second = sealed(number="main-0008", parents=[digest_of(first)])
    _take(page, _file("8.json", second))
    lacking = page.locator("[data-verify-missing]")
    short = digest_of(first)[:8]
    expect(lacking).to_contain_text(f"{short[:4]} {short[4:]}")
    _take(page, _file("7.json", first))
    expect(lacking).to_contain_text("0000 0000")
    expect(page.locator("[data-verify-last]")).to_contain_text("8.json")


def test_a_browser_without_such_signatures_asks_the_desk_and_says_so(
    desk: Desk, open_page: OpenPage
) -> None:
    page = _opened(desk, open_page)
    page.add_init_script("delete SubtleCrypto.prototype.importKey")
    page.reload()
    page.wait_for_selector("[data-checks=desk]")
    expect(page.locator("[data-verify-how]")).to_contain_text("sent to the desk")
    _take(page, _file("weir.pub", FIRM_FILE), _file("a.json", sealed()))
    expect(page.locator(".verify-result")).to_have_attribute("data-verdict", "holds")


def test_it_is_checked_without_a_script_too(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(f"{desk.url}/verify", javascript=False)
    _take(page, _file("a.json", sealed()), _file("b.json", sealed()[:-1]))
    page.get_by_role("button", name="Check").click()
    expect(page.locator(".verify-result")).to_have_count(2)
    expect(page.locator(".verify-result").nth(0)).to_contain_text("signer not known")
    expect(page.locator(".verify-result").nth(1)).to_contain_text("Changed or damaged")


@pytest.mark.parametrize(("width", "theme"), LOOKS)
def test_the_page_can_be_read(
    desk: Desk, open_page: OpenPage, width: int, theme: Theme
) -> None:
    page = _opened(desk, open_page, width=width, theme=theme)
    _take(page, _file("a.json", sealed()), _file("b.json", sealed()[:-1]))
    _take(page, _file("weir.pub", FIRM_FILE), _file("c.json", b"{}"))
    expect(page.locator(".verify-result")).to_have_count(3)
    page.locator("summary", has_text="Digests").first.click()
    assert axe(page) == []
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= width


def test_a_key_of_the_device_is_kept_and_cannot_be_read(
    desk: Desk, open_page: OpenPage, tmp_path: Path
) -> None:
    """The card's key: made once, the same after a reload, its secret nowhere."""
    page = _opened(desk, open_page)
    script = _bundled(tmp_path)
    page.evaluate(script)
    made = page.evaluate("limenKey.makeDeviceKey().then(one => one.publicKey)")
    page.reload()
    page.evaluate(script)
    asked = "Promise.all([limenKey.makeDeviceKey(), limenKey.deviceKey()])"
    again = page.evaluate(f"{asked}.then(every => every.map(one => one.publicKey))")
    assert again == [made, made]
    kept = page.evaluate(KEPT)
    assert kept == {"extractable": False, "private": "InvalidAccessError"}
    said = page.evaluate("text => limenKey.keepCertificate(text)", CERTIFICATE.decode())
    assert said == "other"
    assert page.evaluate("limenKey.keepCertificate('{}')") == "broken"


KEPT = """
async () => {
  const open = indexedDB.open("limen-device");
  await new Promise((done) => (open.onsuccess = done));
  const asked = open.result.transaction("key").objectStore("key").get("key");
  await new Promise((done) => (asked.onsuccess = done));
  const { privateKey } = asked.result.pair;
  const why = await crypto.subtle.exportKey("pkcs8", privateKey).then(
    () => "read",
    (error) => error.name,
  );
  return { extractable: privateKey.extractable, private: why };
}
"""


def _bundled(folder: Path) -> str:
    """The device's key as a script of its own."""
    from browsing.node import in_node

    ask = """
    async (_load, path) => {
      const { rolldown } = await import("rolldown");
      const bundle = await rolldown({ input: path });
      const made = await bundle.generate({ format: "iife", name: "limenKey" });
      return made.output[0].code;
    }
    """
    from browsing.server import ROOT

    path = str(ROOT / "web" / "src" / "record" / "devicekey.ts")
    code = in_node(ask, path, folder)
    return f"{code}; globalThis.limenKey = limenKey; 0"


def test_a_device_seals_what_the_desk_finds_unchanged(
    desk: Desk, open_page: OpenPage, tmp_path: Path
) -> None:
    """Sealed in the browser with its own key, certified by the firm, checked here."""
    from datetime import date

    from limen.record import certify, verify_bytes

    page = _opened(desk, open_page)
    page.evaluate(_bundled(tmp_path))
    public = page.evaluate("limenKey.makeDeviceKey().then(one => one.publicKey)")
    said = certify(FIRM, "Weir & Söhne", public, "Phone 1", since=date(2026, 11, 26))
    kept = page.evaluate("text => limenKey.keepCertificate(text)", said.decode())
    assert kept == "kept"
    plain = canonical({"record": {"by": said.decode()}})
    seal = page.evaluate(
        """async (text) => {
          const key = await limenKey.deviceKey();
          return key.publicKey + await key.sign(new TextEncoder().encode(text));
        }""",
        plain.decode(),
    )
    text = plain[:-1] + f',"seal":"{seal}"}}'.encode()
    found = verify_bytes(text, firms=[FIRM.public])
    assert found.unchanged, found.where
    assert found.signer is not None
    assert (found.signer.device, found.signer.trusted) == ("Phone 1", True)
