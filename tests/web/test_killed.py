"""The browser's process is ended hard while entries are being kept: what was shown as kept is there, whole.

A few rounds in every run; with `--long` the fifty that were promised.
"""

import os
import random
import re
import signal
import subprocess

import pytest
from playwright.sync_api import Error

from tests.web.conftest import ARGUMENTS, go

ROUNDS, LONG = 4, 50
MOST = 40  # entries until the end comes
FIELDS = 3  # of each entry; all say the same number
SAWS = 7  # entries take turns in so many places

#: Keeps one entry after another by the app's own code, and says each number when the app would say "Kept".
KEEP = """async ({ first, fields }) => {
  const main = document.querySelector("script[type=module]").src;
  const store = await import(new URL("store.js", main).href);
  for (let n = first; ; n++) {
    const typed = Object.fromEntries(Array.from({ length: fields }, (_, place) => [`field_${place}`, String(n)]));
    const id = `saw${n % 7}`;
    await store.keep_owned({ id, sort: "saw", name: `Saw ${n}`, typed, said: String(n), at: n });
    await store.use("saw", id);
    console.info(`kept ${n}`);
  }
}"""

READ = """async () => {
  const main = document.querySelector("script[type=module]").src;
  const store = await import(new URL("store.js", main).href);
  return store.everything();
}"""


@pytest.fixture
def started(executable, tmp_path, playwright):
    """A function that starts a browser on one profile in a process group of its own; gives it and its first page."""
    running = []

    def make(server):
        line = [executable or playwright.chromium.executable_path, "--headless", "--no-sandbox", *ARGUMENTS,
                f"--user-data-dir={tmp_path / 'killed'}", "--remote-debugging-port=0", "about:blank"]  # fmt: skip
        process = subprocess.Popen(line, stderr=subprocess.PIPE, text=True, start_new_session=True)
        running.append(process)
        address = next(found[1] for text in process.stderr if (found := re.search(r"listening on (ws://\S+)", text)))
        browser = playwright.chromium.connect_over_cdp(address)
        page = browser.contexts[0].pages[0]
        page.add_init_script("delete Navigator.prototype.serviceWorker")
        go(page, f"{server.address}/shop")
        return process, browser, page

    yield make
    for process in running:
        end(process)


def end(process):
    """SIGKILL for the browser and all that belongs to it; returns when it is gone."""
    if process.poll() is None:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait(timeout=20)
    process.stderr.close()


def test_what_was_shown_as_kept_outlives_a_hard_end(request, started, server):
    dice = random.Random("hard end")
    number = 0
    for _ in range(LONG if request.config.getoption("long") else ROUNDS):
        process, browser, page = started(server)
        shown, enough = [], dice.randint(1, MOST)

        def hear(message, shown=shown, enough=enough, process=process):
            shown.append(int(message.text.removeprefix("kept ")))
            if len(shown) == enough:
                os.killpg(process.pid, signal.SIGKILL)  # in the midst of the next one

        page.on("console", hear)
        with pytest.raises(Error, match=r"closed|crashed|disconnected"):
            page.evaluate(KEEP, {"first": number + 1, "fields": FIELDS})
        end(process)
        assert len(shown) >= enough
        number = shown[-1]

        process, browser, page = started(server)
        found = page.evaluate(READ)
        browser.close()
        end(process)
        places = {}
        for one in found["shop"]:
            assert one["id"] == f"saw{one['at'] % SAWS}"
            assert one["name"] == f"Saw {one['at']}"
            assert one["typed"] == {f"field_{place}": str(one["at"]) for place in range(FIELDS)}
            places[one["at"] % SAWS] = one["at"]
        for kept in range(max(1, number - SAWS + 1), number + 1):
            assert places[kept % SAWS] >= kept
        last = max(places.values())
        assert found["in_use"]["saw"] in (f"saw{last % SAWS}", f"saw{(last - 1) % SAWS}")
        number = last
