"""Links that mean harm, opened as a tap opens them and as an address: nothing runs, what they carry is only text.

The pages are watched as all pages are: a breach of the policy, an exception or an error on the console fails the test.
A few dozen links in a usual run, 5,000 with `--long`.
"""

from pathlib import Path
from urllib.parse import quote

import pytest
from hypothesis import strategies as st
from playwright.sync_api import expect

from calc import catalogue
from tests import hostile
from tests.web import pages
from tests.web.conftest import go

LOOK = Path(__file__).with_name("links.js").read_text("utf-8")
AT_ONCE = 40
#: What the browser says of the refusals that these links meet.
STATUS = r"console: Failed to load resource: the server responded with a status of (400|404|414|422)"
PAYLOADS = (
    "<script>hit=1</script>", "<img src=x onerror=hit=1>", "\"><svg/onload=hit=1>", "' onfocus=hit=1 autofocus x='",
    "</textarea><script>hit=1</script>", "</title><script>hit=1</script>", "<a href=javascript:hit=1>x</a>",
    "</select><iframe srcdoc='<script>parent.hit=1</script>'>", "<form id=inputs><input name=elements>",
    "<base href=//x.invalid/>", "\0\r\n<b>\u202e",
)  # fmt: skip


def path(asked):
    """The request as a link of a page writes it; what follows a # never leaves the browser."""
    query = asked.query.decode("utf-8", "replace").replace("#", "%23")
    return quote(asked.path.replace("#", "")) + (f"?{query}" if query else "")


def links(count):
    """So many paths of pages: of calculations, of the Bench, and some that lead nowhere."""
    ours = [hostile.calculated(name, ("/c/{}",)) for name in catalogue()]
    return [path(one) for one in hostile.drawn(st.one_of(*ours, hostile.elsewhere(("/", "/c/{}", "/{}"))), count)]


@pytest.fixture
def asked(page, watch):
    """What the user was asked in a window of its own."""
    watch.allow(STATUS)
    seen = []
    page.on("dialog", lambda one: (seen.append(one.message), one.dismiss()))
    return seen


def tapped(page, paths):
    return page.evaluate(f"(paths) => ({LOOK}).tap(paths)", paths)


def test_links_tapped_one_after_the_other_run_nothing(page, asked, request):
    paths = links(5000 if request.config.getoption("--long") else 40)
    go(page, "/")
    wrong = []
    for start in range(0, len(paths), AT_ONCE):
        wrong += tapped(page, paths[start : start + AT_ONCE])
    assert wrong == []
    assert asked == []


def test_links_opened_as_addresses_run_nothing(page, asked, request):
    paths = links(5000 if request.config.getoption("--long") else 40)
    for place, one in enumerate(paths[:: 8 if len(paths) < 100 else 50]):
        page.goto(f"{one}#{quote(PAYLOADS[place % len(PAYLOADS)])}")
        expect(page.locator("html[data-opened]:not([data-stale])")).to_be_attached()
        assert page.evaluate(f"() => ({LOOK}).here()") == []
    assert asked == []


def test_every_field_takes_a_script_for_text(page, asked):
    """Each payload in every field of some calculation at once, and in the line of the Bench."""
    go(page, "/")
    given = [
        pages.link(one.name, {field.name: PAYLOADS[place % len(PAYLOADS)] for field in one.inputs})
        for place, one in enumerate(catalogue().values())
    ]
    assert len(given) >= len(PAYLOADS)
    assert tapped(page, [*given, *(f"/?text={quote(one)}" for one in PAYLOADS)]) == []
    assert asked == []
