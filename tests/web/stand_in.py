"""A stand-in for the engine, on a page of its own: it does what no calculation of ours does, when a test tells it to.

Time is the page's clock, which the test moves on.
"""

import re

from playwright.sync_api import expect

from tests.web.conftest import go

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
