"""Answers that are long in coming, or never come: said, stopped, shown as far as they got, and never in the way.

Most of it is asked of a stand-in for the engine that does what no calculation of ours does. Time is the page's clock,
which the test moves on.
"""

import json
import re
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import expect

from calc import catalogue, sheet
from tests.bench.cutting import lists
from tests.web import pages
from tests.web.conftest import ENGINE, go
from tests.web.pages import headline

LIMIT = 20_000  # ms without a sign of life until the engine is ended
UNWANTED = 5_000  # ms that an answer nobody wants is waited for
LONG = 1_000  # ms until it is said that an answer takes long

#: Answers at once, 60 with a refusal. 61 never comes back and keeps it busy; from 62 on it does as it is told:
#: "answer", "first", "alive", "better", "break".
STAND_IN = """
let held = null;
const sheet = (words, size) => JSON.stringify({
  headline: `<div class="headline">${words} ${size}</div>`, detail: `<p>sheet ${words} ${size}</p>`,
  spoken: `spoken ${words} ${size}`, title: `title ${words}`, things: {},
  problems: size === "60" ? [{ name: "size", message: "not 60" }] : [],
});
new BroadcastChannel("told").onmessage = ({ data }) => {
  if (!held) return;
  const { id, size } = held;
  if (data === "answer") postMessage({ id, text: sheet("held", size) });
  if (data === "first") postMessage({ id, first: sheet("held", size) });
  if (data === "alive") postMessage({ id, so_far: "" });
  if (data.startsWith("better")) postMessage({ id, so_far: sheet(data, size) });
  if (data === "break") postMessage({ id, problem: "Pyodide already fatally failed" });
};
onmessage = ({ data }) => {
  const { id, op, args } = data;
  if (op === "qr") return postMessage({ id, text: "<svg><title>code</title></svg>" });
  const { size } = args.typed;
  if (size === "61") for (;;);
  held = Number(size) > 61 ? { id, size } : null;
  new BroadcastChannel("seen").postMessage(size);
  if (!held) postMessage({ id, text: sheet("engine", size) });
};
postMessage({ ready: true });
"""


class App:
    """The page of a fit whose engine is the stand-in."""

    def __init__(self, page):
        self.page = page
        self.started = 0
        page.route(re.compile(r"/scripts/worker\.js"), self._serve)
        page.clock.install()
        page.add_init_script("new BroadcastChannel('seen').onmessage = ({ data }) => { window.seen = data }")

    def _serve(self, route):
        self.started += 1
        route.fulfill(body=STAND_IN, content_type="text/javascript")

    def open(self, address="/c/fit"):
        go(self.page, address)
        self.page.evaluate(START)
        self.type("31")
        self.says("engine 31")
        expect(self.page.locator("#detail:not([aria-busy])")).to_have_text("sheet engine 31")
        return self

    def type(self, size):
        self.page.locator("#size").fill(size)

    def says(self, text):
        expect(self.page.locator("#answer .headline")).to_have_text(text)

    def at(self, size):
        """Wait until the engine has that question."""
        for _ in range(200):
            if self.page.evaluate("window.seen") == size:
                return
        raise AssertionError(f"the engine was not asked for {size}")

    def tell(self, what):
        self.page.evaluate("(what) => new BroadcastChannel('told').postMessage(what)", what)

    def restarted(self):
        """Wait until the engine that was ended is up again; until then the server answers."""
        self.page.evaluate("window.seen = null; engine.start()")

    def pass_time(self, ms):
        self.page.clock.run_for(ms)

    @property
    def line(self):
        return self.page.locator("#answer .at-work")

    @property
    def stop(self):
        return self.page.get_by_role("button", name="Stop", exact=True)


#: The page's own engine, started as if its offline copy were there.
START = """
() => import(document.querySelector("script[type=module]").src.replace("main.js", "engine.js"))
  .then((engine) => ((window.engine = engine), engine.start()))
"""


@pytest.fixture
def app(page, watch):
    watch.allow("ERR_INTERNET_DISCONNECTED")  # the browser's own word for having no network
    return App(page)


# ------------------------------------------------------------------------------------- what never comes back


def test_what_the_engine_does_not_come_back_from_is_answered_by_the_server(app):
    app.open()
    app.type("61")
    expect(app.page.locator(".behind").first).to_be_attached()
    app.pass_time(LIMIT)
    app.says(headline("fit", {"size": "61"}))
    expect(app.page.locator("#size")).to_have_value("61")
    app.restarted()
    app.type("32")
    app.says("engine 32")
    assert app.started == 2


def test_without_a_server_it_is_said_what_to_do_and_what_was_typed_is_kept(app):
    app.open()
    app.page.context.set_offline(True)
    app.type("61")
    app.pass_time(LIMIT)
    said = app.page.locator("#answer .verdict")
    expect(said).to_contain_text("more than 20 seconds, and the engine was started again. Change what is typed")
    expect(said).to_contain_text("What you typed is kept.")
    expect(app.page.locator("#spoken")).to_contain_text("more than 20 seconds")
    expect(app.page.locator("#size")).to_have_value("61")
    expect(app.page).to_have_url(re.compile("size=61"))
    app.type("32")
    app.says("engine 32")
    assert app.started == 2


def test_trying_again_asks_again(app):
    app.open()
    app.page.context.set_offline(True)
    app.type("61")
    app.pass_time(LIMIT)
    app.restarted()
    app.page.get_by_role("button", name="Try again").click()
    expect(app.page.locator(".behind").first).to_be_attached()
    app.page.context.set_offline(False)
    app.pass_time(LIMIT)
    app.says(headline("fit", {"size": "61"}))


def test_another_question_that_waited_is_answered_all_the_same(app):
    app.open()
    app.page.context.set_offline(True)
    app.type("61")
    app.page.get_by_role("button", name="QR code").click()
    app.pass_time(LIMIT)
    expect(app.page.locator("dialog title")).to_have_text("code")


def test_an_engine_that_broke_is_started_again(app):
    app.open()
    app.type("62")
    app.at("62")
    app.tell("break")
    app.says(headline("fit", {"size": "62"}))
    app.restarted()
    app.type("32")
    app.says("engine 32")
    assert app.started == 2


def test_a_phone_that_slept_does_not_blame_the_engine(app):
    app.open()
    app.type("62")
    app.at("62")
    app.page.clock.fast_forward(10 * LIMIT)
    app.tell("answer")
    app.says("held 62")
    assert app.started == 1


def test_a_sign_of_life_is_waited_on(app):
    app.open()
    app.type("62")
    app.at("62")
    for time in range(3):
        app.pass_time(LIMIT * 6 // 10)
        app.tell("alive")
        app.tell(f"better {time}")
        app.says(f"better {time} 62")
    app.tell("answer")
    app.says("held 62")
    assert app.started == 1


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


# ------------------------------------------------------------------------- links that say what cannot be taken


@pytest.fixture(params=["rendered for the link", "out of the copy"])
def opened(request, page, watch):
    """A function that opens a link: as the server renders it, and as the offline copy does, made for the defaults."""
    watch.allow(pages.STATUS)

    def open_it(address):
        if request.param == "out of the copy":
            usual = page.request.get(urlsplit(address).path)
            page.route(re.compile(re.escape(address)), lambda route: route.fulfill(response=usual))
        go(page, address)
        return page

    return open_it


def test_a_field_given_twice_is_refused_until_it_is_typed_in(opened):
    page = opened("/c/fit?size=31&hole=H7&size=32")
    expect(page.locator("#size-problem")).to_contain_text("more than once in the address")
    expect(page.locator("#size")).to_have_value("31")
    page.locator("#hole").fill("H8")
    expect(page).to_have_url(re.compile("size=31&hole=H8&shaft=k6&size=32"))
    expect(page.locator("#size-problem")).to_contain_text("more than once in the address")
    page.locator("#size").fill("33")
    expect(page.locator("#answer .headline")).to_have_text(headline("fit", {"size": "33", "hole": "H8"}))
    expect(page).to_have_url(re.compile("size=33&hole=H8&shaft=k6$"))


@pytest.mark.parametrize(
    ("name", "field", "other", "text"),
    [("cut_length", "parting", "pieces", "2"), ("bar_mass", "shape", "pieces", "2")],
)
def test_an_unknown_choice_is_refused_and_kept_whatever_else_is_typed(opened, name, field, other, text):
    """Both as buttons to choose by and as a list."""
    page = opened(f"/c/{name}?{field}=neither+%3Cb%3E")
    problem = page.locator(f"#{field}-problem")
    expect(problem).to_contain_text("neither <b>")
    expect(page.locator("#answer .headline")).to_have_text(headline(name, {field: "neither <b>"}))
    page.locator(f"#{other}").fill(text)
    expect(page).to_have_url(re.compile(f"{other}={text}"))
    assert parse_qs(urlsplit(page.url).query)[field] == ["neither <b>"]
    expect(problem).to_contain_text("neither <b>")
    chosen = page.locator(f"[data-field={field}]")
    expect(chosen.locator("option:checked, label:has(:checked)")).to_have_text("neither <b>")
    if chosen.locator("select").count():
        chosen.locator("select").select_option(index=1)
    else:
        chosen.locator("label").nth(1).click()
    expect(problem).to_have_text("")
    expect(page.locator("#answer .headline .figure")).not_to_have_count(0)


def test_a_choice_in_other_words_is_that_choice(opened):
    page = opened("/c/cut_length?parting=Parting+tool+in+the+lathe")
    expect(page.locator("#answer .headline")).to_have_text(headline("cut_length", {"parting": "part off"}))
    expect(page.locator("[data-field=parting] label:has(:checked)")).to_have_text("parting tool in the lathe")


def test_a_link_carries_what_is_typed_and_every_default_but_not_what_is_left_out(page):
    go(page, "/c/bar_mass")
    page.locator("#size").fill("50")
    expect(page).to_have_url(re.compile("size=50"))
    carried = parse_qs(urlsplit(page.url).query, keep_blank_values=True)
    aside = {one.name for one in catalogue()["bar_mass"].inputs if one.optional and not one.default and not one.of}
    assert aside
    assert set(carried) == {one.name for one in catalogue()["bar_mass"].inputs} - aside
    answered = page.locator("#answer").inner_html()
    page.reload()
    expect(page.locator("html[data-opened]")).to_be_attached()
    assert page.locator("#answer").inner_html() == answered
    page.get_by_text("More that may be known").click()
    page.locator("#density").fill("8000")
    expect(page).to_have_url(re.compile("density=8000"))
    expect(page.locator("#answer .headline")).to_have_text(headline("bar_mass", {"size": "50", "density": "8000"}))
