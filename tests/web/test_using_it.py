"""As a turner uses it: typing, choosing, going about, handing it on, and with something missing."""

import re

import pytest
from playwright.sync_api import expect

from calc import catalogue, sheet
from calc.model import Numbers
from tests.web import pages
from tests.web.conftest import go, settled
from tests.web.pages import headline


def answer(page):
    return page.locator("#answer .headline")


def place(page, name):
    """Go to a place by the links at the top."""
    page.get_by_role("navigation", name="Places").get_by_role("link", name=name).click()
    expect(page.locator(f"main[data-page={name.lower()}]")).to_be_visible()


# ------------------------------------------------------------------------------------------------- typing


@pytest.mark.parametrize("name", pages.CALCULATIONS)
def test_typing_recomputes_everything_that_is_shown(page, name):
    typed = pages.another(name)
    ((field, text),) = typed.items()
    go(page, f"/c/{name}")
    expect(answer(page)).to_have_text(headline(name, {}))
    box = page.locator(f"[data-field={field}]")
    if box.locator("input[type=radio]").count():
        box.locator(f"input[value='{text}']").check()
    elif box.locator("select:not(.beside)").count():
        box.locator("select:not(.beside)").select_option(text)
    else:
        box.locator("input, textarea").fill(text)
    parts = sheet.parts(name, typed)
    expect(answer(page)).to_have_text(pages.shown(parts["headline"]))
    expect(page.locator("#detail")).to_have_text(pages.shown(parts["detail"]))
    expect(page).to_have_title(f"{parts['title']} · Swarfbook")
    expect(page).to_have_url(re.compile(rf"/c/{name}\?.*{field}="))
    page.reload()
    expect(answer(page)).to_have_text(pages.shown(parts["headline"]))


def test_what_is_half_typed_dims_the_answer_and_is_then_called_wrong(page):
    go(page, "/c/fit")
    page.evaluate("""() => {
      window.states = [];
      const look = () => window.states.push([answer.matches(".behind"), answer.querySelectorAll(".figure").length]);
      new MutationObserver(look).observe(answer, { attributes: true, childList: true });
    }""")
    page.locator("#size").fill("30 o")
    problem = sheet.parts("fit", {"size": "30 o"})["problems"][0]["message"]
    expect(page.locator("#size-problem")).to_have_text(problem)
    expect(page.locator("#size")).to_have_attribute("aria-invalid", "true")
    expect(answer(page)).to_have_text(headline("fit", {"size": "30 o"}))
    expect(page.locator("#detail")).to_be_empty()
    assert page.evaluate("window.states")[0] == [True, 4]
    page.locator("#size").fill("30")
    expect(answer(page)).to_have_text(headline("fit", {}))
    expect(page.locator("#size-problem")).to_be_hidden()
    expect(page.locator("[aria-invalid]")).to_have_count(0)


def test_a_problem_leads_to_its_field(page, watch):
    watch.allow(pages.STATUS)
    go(page, "/c/fit?size=-5&hole=Q9&shaft=k6")
    for field in ("hole", "size"):
        page.locator(f"#answer .problems a[href='#{field}']").click()
        expect(page.locator(f"#{field}")).to_be_focused()
    assert "#" not in page.url


def test_a_server_that_never_replies_is_given_up(page, watch):
    watch.allow("console: Failed to load resource: net::ERR_FAILED", r"worker\.js")
    page.clock.install()
    go(page, "/c/fit")
    page.route(re.compile("/part/sheet/"), lambda route: None)
    page.route(re.compile(r"/worker\.js"), lambda route: route.abort())
    with page.expect_request(re.compile("/part/sheet/")):
        page.locator("#size").fill("31")
    page.clock.run_for(15_000)
    expect(page.locator("#answer")).to_contain_text("What you typed is kept")
    page.unroute_all()
    page.get_by_role("button", name="Try again").click()
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))


def test_the_unit_chosen_beside_a_field_counts_for_a_bare_number_only(page):
    go(page, "/c/fit?size=30")
    unit = page.get_by_label("Unit of Nominal size")
    unit.select_option("in")
    expect(answer(page)).to_have_text(headline("fit", {"size": "30 in"}))
    expect(page.locator("#size")).to_have_value("30")
    page.locator("#size").fill("30 mm")
    expect(answer(page)).to_have_text(headline("fit", {"size": "30 mm"}))
    page.locator("#size").fill("1 3/16")
    expect(answer(page)).to_have_text(headline("fit", {"size": "1 3/16 in"}))
    page.locator("#size").fill("1.5e0")
    expect(answer(page)).to_have_text(headline("fit", {"size": "1.5e0 in"}))
    expect(page.locator("#size")).to_have_value("1.5e0")


def test_what_is_typed_before_the_scripts_arrive_is_kept_and_answered(page):
    held = []
    page.route(re.compile(r"/scripts/main\.js"), lambda route: held.append(route))
    page.goto("/c/fit", wait_until="commit")
    page.fill("#size", "80")
    for route in held:
        route.continue_()
    expect(page.locator("html[data-opened]")).to_be_attached()
    settled(page)
    expect(page.locator("#size")).to_have_value("80")
    expect(page.locator("#answer .headline")).to_have_text(headline("fit", {"size": "80"}))
    expect(page).to_have_url(re.compile("size=80"))
    page.unroute_all()
    page.reload()
    expect(page.locator("#size")).to_have_value("80")


def test_a_call_out_typed_before_its_script_arrives_is_answered(page):
    held = []
    page.route(re.compile(r"/scripts/bench\.js"), lambda route: held.append(route))
    page.goto("/?text=30+k6")
    with page.expect_response(re.compile(r"/scripts/bench\.js")):
        page.get_by_label("As on the drawing").fill("40 H7/g6")
        for route in held:
            route.continue_()
    expect(page.locator("#meanings")).to_contain_text("40 H7 g6")
    expect(page.get_by_label("As on the drawing")).to_have_value("40 H7/g6")


def test_usual_entries_are_a_choice_away(page):
    go(page, "/c/fit")
    page.get_by_label("Usual entries for Shaft class").select_option("h6")
    expect(page.locator("#shaft")).to_have_value("h6")
    expect(answer(page)).to_have_text(headline("fit", {"shaft": "h6"}))


@pytest.mark.parametrize(
    ("name", "field"),
    [(one.name, field.name) for one in catalogue().values() for field in one.inputs if isinstance(field, Numbers)],
)
def test_another_reading_is_a_touch_away(page, name, field):
    go(page, f"/c/{name}")
    first = page.locator(f"#{field}").input_value().split(";")[0].strip()
    page.locator(f"#{field}").fill(first)
    page.get_by_role("button", name="Add another reading").click()
    expect(page.locator(f"#{field}")).to_be_focused()
    page.keyboard.type(first)
    expect(page.locator(f"#{field}")).to_have_value(f"{first}; {first}")
    expect(answer(page)).to_have_text(headline(name, {field: f"{first}; {first}"}))


# ---------------------------------------------------------------------------------------- going about


def test_what_was_typed_comes_back_by_reload_by_back_and_by_the_bare_address(page):
    go(page, "/c/fit")
    page.locator("#size").fill("31")
    page.locator("#shaft").fill("h6")
    place(page, "Bench")
    page.go_back()
    expected = headline("fit", {"size": "31", "shaft": "h6"})
    expect(answer(page)).to_have_text(expected)
    expect(page.locator("#shaft")).to_have_value("h6")
    page.reload()
    expect(answer(page)).to_have_text(expected)
    go(page, "/c/fit")
    expect(answer(page)).to_have_text(expected)
    expect(page.locator("#size")).to_have_value("31")


def test_what_was_typed_last_is_there_after_back_even_if_the_next_page_was_slow(page):
    """The address is written a moment after typing; leaving in between must not lose it."""
    go(page, "/c/fit?size=30")
    page.locator("#size").evaluate(
        "(one) => { one.value = '32'; one.dispatchEvent(new Event('input', { bubbles: true }));"
        " document.querySelector('.top nav a').click(); }"
    )
    expect(page.locator("main[data-page=bench]")).to_be_visible()
    page.go_back()
    expect(page.locator("#size")).to_have_value("32")
    expect(answer(page)).to_have_text(headline("fit", {"size": "32"}))


def test_the_page_asked_for_last_wins(page):
    held = []
    go(page, "/c/fit")
    place(page, "Bench")
    page.route("**/shop", lambda route: held.append(route))
    with page.expect_request("**/shop"):
        page.get_by_role("navigation", name="Places").get_by_role("link", name="Shop").click()
    page.locator("main a[href='/c/fit']").click()
    expect(page.locator("main[data-page=calculation]")).to_be_visible()
    with page.expect_response("**/shop"):
        held[0].continue_()
    page.locator("#size").fill("31")
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))
    expect(page).to_have_url(re.compile("/c/fit"))


def test_a_page_that_is_left_says_nothing_any_more(page):
    """Wrong input is called wrong after a moment; by then another page may be there."""
    go(page, "/c/fit")
    page.locator("#size").fill("-5")
    expect(page.locator("#answer.behind")).to_be_visible()
    place(page, "Bench")
    page.get_by_label("As on the drawing").fill("30 H7/k6")
    expect(page.locator("#spoken")).to_contain_text("Hole, upper limit")  # spoken later than the other page would have
    expect(page).to_have_title("Bench · Swarfbook")
    expect(page.locator("#recent a")).to_have_count(0)


def test_a_tab_of_another_version_is_loaded_whole(visit, own_server):
    own_server.start()
    page = visit(base_url=own_server.address)
    go(page, "/")
    before = page.locator("#version").inner_text()
    page.evaluate("window.old = true")
    own_server.stop()
    own_server.start("--set", "web/scripts/awake.js=// changed\n")
    page.locator("main a[href='/c/fit']").click()
    expect(page.locator("html[data-opened] main[data-name=fit]")).to_be_attached()
    assert page.evaluate("window.old") is None
    assert page.locator("#version").inner_text() != before


# ------------------------------------------------------------------------------- choices that are kept


def test_inches_stand_first_everywhere_once_chosen(page):
    go(page, "/shop")
    page.get_by_label("inch").check()
    page.reload()
    expect(page.get_by_label("inch")).to_be_checked()
    first = (
        "(pair) => { const [a, b] = ['.inch', '.metric'].map((one) => pair.querySelector(one).getBoundingClientRect());"
    )
    first += " return a.top < b.top - 4 || (a.top < b.bottom && a.left < b.left) }"
    for name in pages.CALCULATIONS:
        go(page, f"/c/{name}")
        settled(page)
        pairs = page.locator("main .pair:not(.alone):visible")
        assert pairs.count() > 2
        assert [pair.inner_text() for pair in pairs.all() if not pair.evaluate(first)] == [], name
    page.locator("#answer .figure .inch").first.wait_for()
    go(page, "/?text=30+H7%2Fk6")
    assert all(pair.evaluate(first) for pair in page.locator("#meanings .pair:not(.alone)").all())
    go(page, "/shop")
    page.get_by_label("mm", exact=True).check()
    go(page, "/c/fit")
    assert not page.locator("#answer .pair").first.evaluate(first)


def test_the_light_is_chosen_by_hand_or_left_to_the_phone(visit):
    page = visit(color_scheme="light")

    def dark():
        return page.locator("body").evaluate("(one) => getComputedStyle(one).backgroundColor") == "rgb(21, 24, 29)"

    go(page, "/shop")
    assert not dark()
    page.get_by_label("dark").check()
    assert dark()
    page.reload()
    assert dark()
    go(page, "/c/fit")
    assert dark()
    go(page, "/shop")
    page.locator("input[name=light][value=system]").check()
    assert not dark()
    page.emulate_media(color_scheme="dark")
    assert dark()
    page.get_by_label("light", exact=True).check()
    assert not dark()


def test_pinned_and_recent_are_found_on_the_bench(page):
    go(page, "/c/fit")
    page.locator("#size").fill("31")
    expect(page.locator("#spoken")).to_have_text(sheet.parts("fit", {"size": "31"})["spoken"])
    place(page, "Bench")
    expect(page.locator("#recent a")).to_have_count(1)
    expect(page.locator("#pinned")).to_be_hidden()
    page.locator("#recent a").click()
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))
    page.get_by_role("button", name="Pin").click()
    expect(page.get_by_role("button", name="Pinned")).to_have_attribute("aria-pressed", "true")
    place(page, "Bench")
    expect(page.locator("#pinned a")).to_contain_text(sheet.parts("fit", {"size": "31"})["title"])
    expect(page.locator("#recent a")).to_have_count(0)
    page.reload()
    page.locator("#pinned a").click()
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))
    page.get_by_role("button", name="Pinned").click()
    expect(page.get_by_role("button", name="Pin", exact=True)).to_have_attribute("aria-pressed", "false")
    place(page, "Bench")
    expect(page.locator("#pinned")).to_be_hidden()
    expect(page.locator("#recent a")).to_have_count(1)
    place(page, "Shop")
    expect(page.locator("#kept-count")).to_have_text("0 pinned, 1 recent.")
    page.get_by_role("button", name="Clear the recent list").click()
    expect(page.locator("#kept-count")).to_have_text("0 pinned, 0 recent.")


def test_a_recent_entry_says_what_its_link_answers(page):
    """An answer that is typed over before it has come to rest is not put on the list under the later address."""
    go(page, "/c/fit")
    page.locator("#size").fill("31")
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))
    page.locator("#size").fill("31 oo")
    expect(page.locator("#size-problem")).to_be_visible()
    page.locator("#size").fill("32")
    expect(page.locator("#spoken")).to_have_text(sheet.parts("fit", {"size": "32"})["spoken"])
    place(page, "Bench")
    expect(page.locator("#recent a")).to_have_count(1)
    expect(page.locator("#recent a")).to_contain_text(sheet.parts("fit", {"size": "32"})["spoken"])


# ------------------------------------------------------------------------------------- handing it on


def test_copy_puts_the_answer_and_its_link_on_the_clipboard(visit):
    page = visit(permissions=["clipboard-read", "clipboard-write"])
    go(page, "/c/fit")
    page.locator("#size").fill("31")
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))
    page.get_by_role("button", name="Copy").click()
    expect(page.get_by_role("button", name="Copied")).to_be_visible()
    said, link = page.evaluate("navigator.clipboard.readText()").split("\n")
    assert said == sheet.parts("fit", {"size": "31"})["spoken"]
    page.goto(link)
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))


def test_where_nothing_may_be_copied_the_text_is_shown_to_be_copied_by_hand(page):
    page.add_init_script("navigator.clipboard.writeText = () => Promise.reject(new Error('not allowed'))")
    go(page, "/c/fit?size=31")
    page.get_by_role("button", name="Copy").click()
    expect(page.locator("dialog .address")).to_contain_text(sheet.parts("fit", {"size": "31"})["spoken"])
    expect(page.locator("dialog .address")).to_contain_text("/c/fit?size=31")


def test_a_link_that_is_too_long_for_a_code_says_so(page, watch):
    watch.allow(pages.STATUS)
    name, field = next(
        (one.name, field.name) for one in catalogue().values() for field in one.inputs if isinstance(field, Numbers)
    )
    go(page, pages.link(name, {field: "; ".join(["30.0123456789012345678901234567890"] * 12)}))
    page.get_by_role("button", name="QR code").click()
    expect(page.locator("dialog .code")).to_contain_text("too long")


# -------------------------------------------------------------------------------- with something missing


def test_without_scripts_the_form_answers_when_it_is_sent(visit, watch):
    watch.allow(pages.STATUS)
    page = visit(java_script_enabled=False)
    page.goto("/c/fit")
    page.locator("#size").fill("31")
    page.get_by_role("button", name="Work it out").click()
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))
    page.locator("#size").fill("-5")
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator("#size-problem")).to_be_visible()
    page.goto("/")
    page.get_by_label("As on the drawing").fill("30 H7/k6")
    page.get_by_role("button", name="Read it").click()
    expect(page.locator("#meanings")).to_contain_text(headline("fit", {}))


def test_a_browser_that_refuses_the_service_worker_works_online(visit):
    page = visit(copy=True)
    page.add_init_script(
        "ServiceWorkerContainer.prototype.register = () => Promise.reject(new DOMException('', 'SecurityError'))"
    )
    go(page, "/c/fit")
    page.locator("#size").fill("31")
    expect(answer(page)).to_have_text(headline("fit", {"size": "31"}))
    place(page, "Shop")
    expect(page.locator("#copy-state")).to_have_text("not fetched yet")
