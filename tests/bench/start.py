"""How long from the opened page to the first answer: online out of the page, offline out of the engine.

Every sample opens the browser anew and lets it settle. In between, the same machine boots Pyodide as published on a
bare page, out of the browser's own cache: what it takes for that is what the others are measured by. Nothing is
attached to the browser meanwhile; when it has done, its page says what it has noted.
"""

import contextlib
import shutil
import tempfile
from pathlib import Path
from time import perf_counter, sleep
from urllib.parse import urlencode, urlsplit

from calc import answer
from tests.bench import plain, slowing
from tests.bench.kit import LEAST, PATIENCE, Kit
from tests.bench.table import Bar, Row, median, ratio

OFFLINE_BAR = Bar(0.40)  # of the bare boot
SNAPSHOT_BAR = Bar(0.20)
SECOND_REQUESTS = Bar(0)
STORED_BAR = Bar(60)  # MB
SLOWED = 4
SETTLE = 1.5  # s that a browser is given to end its own start, which is not the app's
TYPED = {"size": "41.5", "hole": "H7", "shaft": "g6"}  # not the defaults, for which the page has its answer
GROUP = "start"
SECONDS = 240

#: Notes when the frame with the page's own answer has been drawn.
WATCH = """
(() => {
  const watch = new MutationObserver(() => {
    if (!document.querySelector("#answer .headline")) return;
    watch.disconnect();
    requestAnimationFrame(() => {
      const after = new MessageChannel();
      after.port1.onmessage = () => (document.documentElement.dataset.painted = performance.now());
      after.port2.postMessage(0);
    });
  });
  watch.observe(document, { subtree: true, childList: true });
})();
"""


#: Waits for the proof that the engine's memory is kept.
KEPT = """
async (limit) => {
  for (const end = performance.now() + limit; performance.now() < end; ) {
    if (await (await caches.open("swarfbook-snapshot")).match("/snapshot/proof")) return;
    await new Promise((later) => setTimeout(later, 100));
  }
  throw new Error("no snapshot was kept");
}
"""


#: Puts away what other groups may have left.
FORGET = """
async () => {
  await caches.delete("swarfbook-snapshot");
  await (await navigator.storage.getDirectory()).removeEntry("swarfbook-memory").catch(() => {});
}
"""


def measure(kit: Kit) -> list[Row]:
    profile = forgetting(kit, kit.profile)
    with_snapshot = remembering(kit, profile)
    rows = compared(kit, profile, with_snapshot, 1)
    if slowing.possible():
        rows += compared(kit, profile, with_snapshot, SLOWED)
    return [*rows, *online(kit), *stored(kit, with_snapshot)]


def compared(kit: Kit, profile: Path, with_snapshot: Path, rate: int) -> list[Row]:
    """Offline starts against the bare boot, sample by sample in turn, in a browser that is slowed `rate` times."""
    bare: list[float] = []
    taken: dict[str, list[float]] = {"offline": [], "offline, with snapshot": []}
    bars = dict(zip(taken, (OFFLINE_BAR, SNAPSHOT_BAR), strict=True))
    end = perf_counter() + kit.patience(SECONDS)
    kit.server.stop()
    for sample in range(kit.samples(few=LEAST, many=7)):
        if sample >= LEAST and perf_counter() > end:
            break
        for what, kept in zip(taken, (profile, with_snapshot), strict=True):
            taken[what].append(answered(kit, kept, rate))
        bare.append(booted(kit, profile, rate))
    kit.server.start()
    slowed = f", slowed {rate} times" if rate > 1 else ""
    rows = [Row(GROUP, f"stock Pyodide{slowed}: bare boot, median", median(bare), "ms", samples=len(bare))]
    for what, figures in taken.items():
        name = f"{what}{slowed}: first answer"
        rows += [
            Row(GROUP, f"{name} in place, median", median(figures), "ms", samples=len(figures)),
            ratio(GROUP, f"{name} to the bare boot", figures, bare, bars[what]),
        ]
    return rows


def online(kit: Kit) -> list[Row]:
    """First visits: the answer comes in the page."""
    found = [visited(kit) for _ in range(kit.samples(few=LEAST, many=7))]
    shown, asked = [one[0] for one in found], [one[1] for one in found]
    what = "online, first visit: "
    return [
        Row(GROUP, f"{what}answer painted, median", median(shown), "ms", samples=len(shown)),
        Row(GROUP, f"{what}requests for the answer besides the page", max(asked), "", SECOND_REQUESTS, "", len(asked)),
    ]


def stored(kit: Kit, profile: Path) -> list[Row]:
    """What the browser says it keeps for the app."""
    with kit.opened(profile) as context:
        page = context.new_page()
        page.goto(f"{kit.server.address}/healthz")
        used = page.evaluate("navigator.storage.estimate().then((one) => one.usage)")
    return [Row(GROUP, "kept on the device, snapshot included", used / 1e6, "MB", STORED_BAR, samples=1)]


def forgetting(kit: Kit, profile: Path) -> Path:
    """A copy of the profile in which no memory of an engine is kept."""
    folder = copied(kit, profile)
    with kit.opened(folder) as context:
        page = context.new_page()
        page.goto(f"{kit.server.address}/healthz")
        page.evaluate(FORGET)
    return folder


def copied(kit: Kit, profile: Path) -> Path:
    folder = Path(kit.enter_context(tempfile.TemporaryDirectory(ignore_cleanup_errors=True))) / "profile"
    shutil.copytree(profile, folder, ignore=shutil.ignore_patterns("Singleton*"))
    return folder


def remembering(kit: Kit, profile: Path) -> Path:
    """A copy of the profile in which the memory of an engine that has answered is kept."""
    folder = copied(kit, profile)
    kit.server.stop()
    with kit.opened(folder) as context:
        page = context.new_page()
        page.goto(f"{kit.server.address}/c/fit?{urlencode(TYPED)}")
        page.locator("html:not([data-stale]) #answer .headline").wait_for()
        page.evaluate(KEPT, PATIENCE)
    kit.server.start()
    return folder


def visited(kit: Kit) -> tuple[float, int]:
    """ms until the answer of a first visit is painted, and what the page asked for it."""
    requests: list[str] = []
    with kit.opened(None, WATCH) as context:
        page = context.new_page()
        page.wait_for_timeout(1000 * SETTLE)
        page.on("request", lambda one: requests.append(urlsplit(one.url).path))
        page.goto(address(kit))
        page.locator("html[data-painted]").wait_for(state="attached")
        shown = float(page.locator("html").get_attribute("data-painted") or "nan")
        right(page.locator("#answer").inner_text())
    return shown, sum(path.startswith(("/part/", "/api/")) for path in requests)


def address(kit: Kit) -> str:
    return f"{kit.server.address}/c/fit?{urlencode(TYPED)}"


def right(said: str) -> None:
    """ValueError when what the page says is not the answer."""
    wanted = answer("fit", TYPED).value("shaft_max").text.split(" ")[0]
    if wanted not in said:
        raise ValueError(f"the page says {said!r} and not {wanted}")


def answered(kit: Kit, profile: Path, rate: int) -> float:
    """ms from the opened page to its answer in place."""
    at, said = marked(kit, profile, rate, address(kit), ", ".join(TYPED.values()), "answered")
    right(said)
    return at


def booted(kit: Kit, profile: Path, rate: int) -> float:
    """ms from the opened bare page to Pyodide's first word."""
    at, _ = marked(kit, profile, rate, f"{kit.plain.address}/bare", plain.UP, "up")
    return at


def marked(kit: Kit, profile: Path, rate: int, page: str, title: str, mark: str) -> tuple[float, str]:
    """When a page that is opened, and has `title` in its title when it has done, set its `mark`, and what stands there.

    The browser has done with its own start, and is from then on slowed so many times.
    """
    with kit.unattended(profile) as browser:
        sleep(SETTLE)
        with slowing.slowed(slowing.process_of(profile), rate) if rate > 1 else contextlib.nullcontext():
            browser.open(page)
            browser.wait(title)
        at, said = browser.says(
            page, f"performance.getEntriesByName({mark!r}).map((one) => one.startTime)", "document.body.innerText"
        )
    return at[0], said
