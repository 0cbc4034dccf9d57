"""Answers that are long in coming: said, stopped, shown as far as they got, and given up when nobody wants them."""

import json
import re

import pytest
from playwright.sync_api import expect

from calc import sheet
from tests.bench.cutting import lists
from tests.web.conftest import ENGINE, go
from tests.web.pages import headline
from tests.web.stand_in import LONG, START, UNWANTED, App


@pytest.fixture
def app(page, watch):
    watch.allow("ERR_INTERNET_DISCONNECTED")  # the browser's own word for having no network
    return App(page)


# ---------------------------------------------------------------------------------- so far, and stopped


def test_a_long_answer_is_said_to_be_long_and_can_be_stopped(app):
    app.open()
    app.type("62")
    app.at("62")
    app.pass_time(LONG)
    expect(app.line).to_contain_text("Still working it out.")
    expect(app.page.locator("#spoken")).to_have_text("Still working it out. It can be stopped.")
    app.stop.click()
    said = app.page.locator("#answer .verdict")
    expect(said).to_contain_text("Stopped before there was an answer. What you typed is kept.")
    expect(app.page.locator("#size")).to_have_value("62")
    expect(app.line).to_have_count(0)
    app.restarted()
    app.page.get_by_role("button", name="Work it out").click()
    app.at("62")
    app.pass_time(LONG)
    app.tell("answer")
    app.says("held 62")
    expect(app.line).to_have_count(0)
    assert app.started == 2


def test_the_figures_are_shown_before_the_rest_of_the_sheet(app):
    app.open()
    app.type("62")
    app.at("62")
    app.tell("first")
    app.says("held 62")
    app.page.locator("#answer .headline").evaluate("(one) => { one.dataset.once = '' }")
    expect(app.page.locator("#answer .behind")).to_have_count(0)
    expect(app.page.locator("#detail")).to_have_text("sheet engine 31")
    app.pass_time(200)
    expect(app.page.locator("#detail.behind[aria-busy]")).to_have_text("sheet engine 31")
    app.tell("answer")
    expect(app.page.locator("#detail:not(.behind, [aria-busy])")).to_have_text("sheet held 62")
    expect(app.page.locator("#answer .headline[data-once]")).to_have_text("held 62")  # it is not placed twice


def test_the_first_figures_of_a_start_do_not_stand_over_the_sheet_of_something_else(app):
    app.open()
    app.page.evaluate("document.documentElement.dataset.stale = ''")  # as early.js says of a page made for another link
    app.type("62")
    app.at("62")
    app.tell("first")
    app.says("held 62")
    expect(app.page.locator("html[data-stale]")).to_have_count(0)
    expect(app.page.locator("#detail")).to_have_text("")
    app.tell("answer")
    expect(app.page.locator("#detail")).to_have_text("sheet held 62")


def test_figures_that_came_first_step_back_when_the_engine_breaks(app):
    app.open()
    app.type("62")
    app.at("62")
    app.tell("first")
    app.says("held 62")
    app.tell("break")
    app.says(headline("fit", {"size": "62"}))  # from the server


def test_the_best_so_far_is_shown_and_stays_when_it_is_stopped(app):
    app.open()
    app.type("62")
    app.at("62")
    app.tell("better")
    app.says("better 62")
    expect(app.line).to_contain_text("The best so far; still searching.")
    expect(app.page.locator("#detail")).to_have_class(re.compile("behind"))
    assert app.page.locator("#answer.behind").count() == 0
    app.stop.focus()
    app.tell("better")
    app.tell("alive")
    expect(app.stop).to_be_focused()
    app.stop.click()
    app.says("better 62")
    expect(app.page.locator("#detail")).to_have_text("sheet better 62")
    expect(app.page.locator(".behind")).to_have_count(0)
    expect(app.page.locator("#answer")).to_contain_text("Stopped: this is the best found by then")
    expect(app.page.locator("#size")).to_have_value("62")
    expect(app.page).to_have_url(re.compile("size=62"))
    app.restarted()
    app.page.get_by_role("button", name="Start again").click()
    app.at("62")
    app.tell("answer")
    app.says("held 62")
    assert app.started == 2


def test_what_was_wrong_before_is_not_said_of_what_is_searched_now(app):
    app.open()
    app.type("60")
    app.at("60")
    app.type("62")
    app.at("62")
    app.tell("better")
    app.says("better 62")
    app.pass_time(LONG)
    app.says("better 62")
    expect(app.page.locator("#size-problem")).to_have_text("")
    app.stop.click()
    app.pass_time(LONG)
    app.says("better 62")


def test_an_answer_that_is_quick_brings_no_line(app):
    app.open()
    app.page.evaluate(
        "new MutationObserver(() => document.querySelector('.at-work') && (window.lines = 1))"
        ".observe(document.querySelector('#answer'), { childList: true })"
    )
    app.type("32")
    app.says("engine 32")
    app.pass_time(2 * LONG)
    assert app.page.evaluate("window.lines") is None


def test_while_the_server_works_it_can_be_stopped_too(page, watch):
    watch.allow("ERR_ABORTED", "ERR_FAILED")
    app = App(page)
    go(page, "/c/fit")
    held = []
    page.route(re.compile(r"/part/sheet/fit\?size=31"), lambda route: held.append(route))
    with page.expect_request(re.compile("size=31")):
        app.type("31")
    app.pass_time(LONG)
    app.stop.click()
    expect(page.locator("#answer .verdict")).to_contain_text("Stopped before there was an answer.")
    app.type("32")
    app.says(headline("fit", {"size": "32"}))
    assert len(held) == 1


def test_the_figures_come_first_and_the_rest_of_the_sheet_after_their_frame(app):
    app.open()
    app.page.evaluate(
        """() => {
          window.order = [];
          const [answer, detail] = ["answer", "detail"].map((id) => document.getElementById(id));
          const watch = (one, name) =>
            new MutationObserver(() => window.order.push(name)).observe(one, { childList: true });
          watch(answer, "figures");
          watch(detail, "rest");
          new MutationObserver(() => {
            if (answer.textContent.includes("32")) requestAnimationFrame(() => window.order.push("frame"));
          }).observe(answer, { childList: true });
        }"""
    )
    app.type("32")
    app.says("engine 32")
    expect(app.page.locator("#detail:not([aria-busy])")).to_have_text("sheet engine 32")
    assert app.page.evaluate("order") == ["figures", "frame", "rest"]


# -------------------------------------------------------------------------------------- no longer wanted


def test_what_is_typed_next_does_not_wait_long_behind_what_nobody_wants(app):
    app.open()
    app.type("62")
    app.at("62")
    app.type("33")
    app.pass_time(UNWANTED)
    app.says(headline("fit", {"size": "33"}))  # of the server, which is quicker than a new start
    assert app.started == 2


def test_what_is_typed_next_waits_for_what_is_nearly_there(app):
    app.open()
    app.type("62")
    app.at("62")
    app.type("33")
    app.pass_time(UNWANTED // 2)
    app.tell("answer")
    app.says("engine 33")
    app.pass_time(2 * UNWANTED)
    assert app.started == 1


def test_a_page_that_is_left_takes_its_search_with_it(app):
    app.open()
    app.type("62")
    app.at("62")
    app.pass_time(LONG)
    app.page.get_by_role("link", name="Bench").click()
    expect(app.page.locator("#callout")).to_be_visible()
    app.pass_time(UNWANTED)
    expect(app.page.locator(".at-work")).to_have_count(0)
    app.restarted()
    assert "<title>code</title>" in app.page.evaluate("engine.ask('qr', { link: 'x' })")
    assert app.started == 2


# ------------------------------------------------------------------------------------------ the real engine


def test_the_engine_tells_a_cut_list_as_it_gets_better_and_ends_with_the_text_of_the_server(page):
    def hurry(route):
        """The engine's clock runs a thousand times faster, so that all is told that can be told."""
        script = "const now = performance.now.bind(performance);\nperformance.now = () => 1000 * now();\n"
        reply = route.fetch()
        route.fulfill(response=reply, body=script + reply.text())

    page.route(re.compile(r"/scripts/worker\.js"), hurry)
    go(page, "/c/cut_list")
    page.set_default_timeout(ENGINE)
    page.evaluate(START)
    typed = {**next(lists(250, 20, 1)), "search": "thorough"}
    told, text = page.evaluate(
        """async (typed) => {
          const told = [];
          const how = { so_far: (text) => told.push(text) };
          return [told, await engine.ask("sheet", { name: "cut_list", typed }, how)];
        }""",
        typed,
    )
    assert text == sheet.sheet("cut_list", typed)
    assert len(told) > 1
    first = json.loads(told[0])
    assert first["verdict" if "verdict" in first else "spoken"] != json.loads(text)["spoken"]
    assert "not proved the fewest" in first["spoken"]
