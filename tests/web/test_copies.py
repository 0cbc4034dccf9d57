"""All that is mine copied out as one file, put back after a look, and files that are none refused."""

import hashlib
import json
import re

import pytest
from playwright.sync_api import expect

from tests.web.conftest import go
from tests.web.owned import HOSTILE, edit, names, own, step_aside
from tests.web.test_accessibility import violations


@pytest.fixture
def copied(page, tmp_path):
    """A page in whose Shop a saw and prices are kept and an answer is pinned, and the file copied out of it."""
    go(page, "/shop")
    own(page, "saw", "Band", kerf="2.7 mm")
    own(page, "prices", "Mine, dear", price_per_kg="7.25")
    go(page, "/c/fit?size=31+mm&hole=H7&shaft=k6")
    page.get_by_role("button", name="Pin").click()
    expect(page.get_by_role("button", name="Pinned")).to_be_visible()
    go(page, "/shop")
    return copy_out(page, tmp_path / "copy.json")


def copy_out(page, path):
    with page.expect_download() as coming:
        page.get_by_role("button", name="Copy out").click()
    assert re.fullmatch(r"swarfbook-\d{4}-\d\d-\d\d\.json", coming.value.suggested_filename)
    coming.value.save_as(path)
    return path


def wipe(page, watch):
    step_aside(page, watch)
    page.evaluate("""() => new Promise((done) => {
      localStorage.clear();
      indexedDB.deleteDatabase("swarfbook").onsuccess = done;
    })""")
    go(page, "/shop")


def offered(page):
    """What the preview says would be put in: how each stands, by its line."""
    return [" ".join(line.split()) for line in page.locator("#copy-preview .ticked li").all_inner_texts()]


def counts(page):
    rows = page.locator("#copy-preview tbody tr").all_inner_texts()
    return {row.split()[0]: tuple(int(one) for one in row.split()[-3:]) for row in rows}


def sealed(data, **others):
    """A file of that content with the right sum."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    whole = {"swarfbook": 1, "created": "2026-01-02T03:04:05.678Z", "sha256": hashlib.sha256(text.encode()).hexdigest()}
    return json.dumps({**whole, "data": data, **others}, ensure_ascii=False)


def put_in(page, text):
    page.locator("#copy-file").set_input_files(
        {"name": "copy.json", "mimeType": "application/json", "buffer": text.encode("utf-8", "surrogatepass")}
    )


def test_a_copy_has_everything_and_its_sum_is_that_of_its_data(copied):
    file = json.loads(copied.read_text("utf-8"))
    data = json.dumps(file["data"], ensure_ascii=False, separators=(",", ":"))
    assert file["sha256"] == hashlib.sha256(data.encode()).hexdigest()
    assert file["swarfbook"] == 1
    assert sorted(one["name"] for one in file["data"]["shop"]) == ["Band", "Mine, dear"]
    assert [one["address"] for one in file["data"]["pinned"]] == ["/c/fit?size=31+mm&hole=H7&shaft=k6"]
    assert [one["name"] for one in file["data"]["drafts"]] == ["fit"]
    assert file["data"]["choices"] == {"units": "metric", "light": "system", "awake": "on", "sheet_name": ""}


def test_what_was_wiped_comes_back_from_its_copy(page, watch, copied):
    wipe(page, watch)
    expect(page.locator("#own-saw .owned")).not_to_contain_text("Band")
    page.locator("#copy-file").set_input_files(copied)
    expect(page.locator("#copy-preview")).to_be_visible()
    assert counts(page)["Shop"] == (2, 0, 0)
    assert counts(page)["Pinned"] == (1, 0, 0)
    assert any(line.startswith("Band: kerf 2.7 mm") and line.endswith("new") for line in offered(page))
    expect(page.locator("#own-saw .owned")).not_to_contain_text("Band")
    page.get_by_role("button", name="Put back", exact=True).click()
    expect(page.locator("#own-saw").get_by_role("radio", name="Band")).to_be_checked()
    go(page, "/")
    expect(page.locator("#pinned li")).to_have_count(1)
    go(page, "/c/cut_length")
    expect(names(page, "saw")).to_have_text("Band")
    go(page, "/c/fit")
    expect(page.locator("#size")).to_have_value("31 mm")
    go(page, "/shop")
    page.locator("#copy-file").set_input_files(copied)
    expect(page.locator("#copy-preview")).to_be_visible()
    assert counts(page)["Shop"] == (0, 0, 2)


def test_what_was_changed_since_is_not_overwritten_unless_it_is_ticked(page, copied):
    edit(page, "saw", "Band").locator("#kerf").fill("3.3 mm")
    expect(page.locator("#own-saw .owned")).to_contain_text("kerf 3.3 mm")
    page.locator("#copy-file").set_input_files(copied)
    expect(page.locator("#copy-preview")).to_be_visible()
    assert counts(page)["Shop"] == (0, 1, 1)
    (line,) = [line for line in offered(page) if line.startswith("Band")]
    assert line.endswith("older than here")
    box = page.locator("#copy-preview .ticked").get_by_role("checkbox", name=re.compile("^Band"))
    expect(box).not_to_be_checked()
    page.get_by_role("button", name="Put back", exact=True).click()
    expect(page.locator("#copy-told")).to_have_text(re.compile("put in from the copy"))
    expect(page.locator("#own-saw .owned")).to_contain_text("kerf 3.3 mm")
    page.locator("#copy-file").set_input_files(copied)
    box.check()
    page.get_by_role("button", name="Put back", exact=True).click()
    expect(page.locator("#own-saw .owned")).to_contain_text("kerf 2.7 mm")


def test_a_newer_one_in_the_copy_is_ticked_and_leaving_it_changes_nothing(page, copied):
    file = json.loads(copied.read_text("utf-8"))
    for one in file["data"]["shop"]:
        one["at"] += 60_000
        one["typed"] = {name: text.replace("2.7", "4.4") for name, text in one["typed"].items()}
    put_in(page, sealed(file["data"]))
    box = page.locator("#copy-preview .ticked").get_by_role("checkbox", name=re.compile("^Band: kerf 4.4 mm"))
    expect(box).to_be_checked()
    page.get_by_role("button", name="Leave all as it is").click()
    expect(page.locator("#own-saw .owned")).to_contain_text("kerf 2.7 mm")
    put_in(page, sealed(file["data"]))
    page.get_by_role("button", name="Put back", exact=True).click()
    expect(page.locator("#own-saw .owned")).to_contain_text("kerf 4.4 mm")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_is_found_in_the_look_at_a_copy(visit, scheme):
    """axe-core and our own measure of contrast."""
    page = visit(color_scheme=scheme, reduced_motion="reduce")
    go(page, "/shop")
    put_in(page, sealed(empty(shop=[thing(), thing(id="fedcba9876543210", name="Bad", typed={"kerf": "x"})])))
    expect(page.locator("#copy-preview")).to_be_visible()
    assert violations(page) == []


def empty(**lists):
    return {"shop": [], "in_use": {}, "pinned": [], "recent": [], "drafts": [], "choices": {}, **lists}


def thing(**others):
    return {
        "id": "0123456789abcdef",
        "sort": "saw",
        "name": "Band",
        "typed": {"kerf": "1 mm"},
        "said": "",
        "at": 1,
        **others,
    }


def pinned(address):
    return {"address": address, "title": "Fit", "said": "", "at": 1}


LEADS_AWAY = ["javascript:alert(1)", "//example.org/c/fit", "https://example.org/c/fit", "/c/../shop", "/c/fit#x",
              "/c/fit?\nx", "/shop", "/c/", "data:text/html,x", " /c/fit", "/c/fit?size=\u202e1"]  # fmt: skip


#: Files with the right sum, each with something that no copy has.
OF_ANOTHER_FORM = [
    *(sealed(empty(pinned=[pinned(address)])) for address in LEADS_AWAY),
    *(sealed(empty(recent=[pinned(address)])) for address in LEADS_AWAY[:2]),
    sealed([]), sealed(None), sealed({}), sealed(empty(more=[])), sealed(empty(shop={})),
    sealed(empty(shop=[None])),
    sealed(empty(shop=[thing(id="../x")])), sealed(empty(shop=[thing(sort=HOSTILE)])),
    sealed(empty(shop=[thing(name="x" * 41)])), sealed(empty(shop=[thing(name=" ")])),
    sealed(empty(shop=[thing(name="\u202eeman")])), sealed(empty(shop=[thing(name=7)])),
    sealed(empty(shop=[thing(at="now")])), sealed(empty(shop=[thing(at=-1)])), sealed(empty(shop=[thing(at=1.5)])),
    sealed(empty(shop=[thing(extra=1)])), sealed(empty(shop=[thing(), thing()])),
    sealed(empty(shop=[thing(typed={"__proto__": "x"})])), sealed(empty(shop=[thing(typed={"kerf": {}})])),
    sealed(empty(shop=[thing(typed=["kerf"])])), sealed(empty(shop=[thing(typed={"kerf": "x" * 2001})])),
    sealed(empty(drafts=[{"name": "../fit", "typed": {}, "at": 1}])),
    sealed(empty(choices={"mine": "lathe"})), sealed(empty(choices={"units": "furlongs"})),
    sealed(empty(choices={"constructor": "x"})), sealed(empty(in_use={"saw": 5})),
    sealed(empty(in_use={"saw": "<"})),
    sealed(empty(), created="yesterday"), sealed(empty(), created=None),
]  # fmt: skip


def test_a_file_of_another_form_is_refused_whole(page):
    go(page, "/shop")
    told = page.locator("#copy-told")
    for text in OF_ANOTHER_FORM:
        told.evaluate("(one) => (one.textContent = '')")
        put_in(page, text)
        expect(told, text).to_have_text(re.compile("^This file holds what no Swarfbook wrote"))
        expect(page.locator("#copy-preview"), text).to_be_hidden()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "not a copy out of Swarfbook"), ("{", "not a copy out of Swarfbook"), ("[]", "not a copy"),
        ("null", "not a copy"), ('{"swarfbook": "1"}', "not a copy"), ("\ud800", "not a copy"),
        (sealed(empty(), swarfbook=2), "made by a newer Swarfbook"),
        (sealed(empty(), sha256="0" * 64), "not as it was made"), (sealed(empty(), sha256=None), "not as it was made"),
        (sealed(empty(shop=[thing()])).replace("1 mm", "9 mm"), "not as it was made"),
        (" " * 4_000_001, "larger than any copy"),
    ],
    ids=range(11),
)  # fmt: skip
def test_a_file_that_is_no_copy_is_told_apart(page, text, said):
    go(page, "/shop")
    put_in(page, text)
    expect(page.locator("#copy-told")).to_contain_text(said)
    expect(page.locator("#copy-preview")).to_be_hidden()


def test_what_a_file_says_is_shown_as_text(page):
    go(page, "/shop")
    hostile = empty(
        shop=[thing(name=HOSTILE, said=HOSTILE), thing(id="fedcba9876543210", sort="anvil", name=f"{HOSTILE} 2")],
        pinned=[{"address": "/c/fit?size=30", "title": HOSTILE, "said": HOSTILE, "at": 1}],
        choices={"sheet_name": HOSTILE},
    )
    put_in(page, sealed(hostile))
    preview = page.locator("#copy-preview")
    expect(preview.locator(".ticked")).to_contain_text(HOSTILE)
    expect(preview.locator(".ticked")).to_contain_text("This version does not know such a thing.")
    expect(preview.locator("img")).to_have_count(0)
    page.get_by_role("button", name="Put back", exact=True).click()
    expect(page.locator("#own-saw .owned")).to_contain_text(HOSTILE)
    expect(page.locator("#sheet_name")).to_have_value(HOSTILE)
    go(page, "/")
    expect(page.locator("#pinned")).to_contain_text(HOSTILE)
    go(page, "/c/cut_length")
    expect(names(page, "saw")).to_have_text(HOSTILE)
    expect(page.locator("img")).to_have_count(0)


def test_a_thing_that_cannot_be_used_is_named_and_left_out(page):
    go(page, "/shop")
    put_in(
        page, sealed(empty(shop=[thing(name="Bad", typed={"kerf": "5 kN"}), thing(id="fedcba9876543210", name="Good")]))
    )
    expect(page.locator("#copy-preview")).to_be_visible()
    (line,) = [line for line in offered(page) if line.startswith("Bad")]
    assert "That is a force" in line
    assert line.endswith("cannot be used")
    page.get_by_role("button", name="Put back", exact=True).click()
    expect(page.locator("#own-saw .owned")).to_contain_text("Good")
    expect(page.locator("#own-saw .owned")).not_to_contain_text("Bad")


def test_what_could_not_be_put_back_is_not_copied_out(page, tmp_path):
    go(page, "/c/fit")
    page.locator("#size").fill("30\u202e mm")
    expect(page.locator("#size-problem")).not_to_be_empty()
    go(page, "/shop")
    path = copy_out(page, tmp_path / "copy.json")
    assert json.loads(path.read_text("utf-8"))["data"]["drafts"] == []
    page.locator("#copy-file").set_input_files(path)
    expect(page.locator("#copy-preview")).to_be_visible()


def test_an_old_copy_is_reminded_of(page, tmp_path):
    page.clock.set_fixed_time("2026-03-01T12:00:00")
    go(page, "/shop")
    own(page, "saw", "Band")
    reminder = page.locator("#copy-reminder")
    expect(reminder).to_be_hidden()
    page.clock.set_fixed_time("2026-04-02T12:00:00")
    go(page, "/shop")
    expect(reminder).to_contain_text("there is no copy")
    copy_out(page, tmp_path / "copy.json")
    expect(reminder).to_be_hidden()
    page.clock.set_fixed_time("2026-05-03T12:00:00")
    go(page, "/shop")
    expect(reminder).to_contain_text("older than 30 days")


def test_the_sum_is_sha_256(page):
    """FIPS 180-4; compared with Python's own at every length round the ends of a block."""
    go(page, "/shop")
    texts = ["", "abc", "µ − ∅ " * 50, *("a" * length for length in (54, 55, 56, 57, 63, 64, 65, 118, 119, 120, 1000))]
    found = page.evaluate(
        """async (texts) => {
          const main = document.querySelector("script[type=module]").src;
          const { sha256 } = await import(new URL("sha256.js", main).href);
          return texts.map(sha256);
        }""",
        texts,
    )
    assert found == [hashlib.sha256(text.encode()).hexdigest() for text in texts]
