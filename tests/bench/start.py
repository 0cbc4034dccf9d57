"""How long from the opened page to the first answer: online out of the page, offline out of the engine.

Every sample opens the browser anew. In between, the same machine boots Pyodide as published on a bare page, out of
the browser's own cache: what it takes for that is what the others are measured by.
"""

import shutil
import tempfile
from pathlib import Path
from time import perf_counter
from urllib.parse import urlencode, urlsplit

from calc import answer
from tests.bench.kit import LEAST, PATIENCE, Kit
from tests.bench.table import Bar, Row, median, ratio

OFFLINE_BAR = Bar(0.40)  # of the bare boot
SNAPSHOT_BAR = Bar(0.20)
SECOND_REQUESTS = Bar(0)
TYPED = {"size": "41.5", "hole": "H7", "shaft": "g6"}  # not the defaults, for which the page has its answer
GROUP = "start"
SECONDS = 90

#: Notes when the answer that the address asks for stands in the page, and when the frame with it has been drawn.
WATCH = """
(() => {
  const watch = new MutationObserver(() => {
    const root = document.documentElement;
    if (!root || root.dataset.stale !== undefined || !document.querySelector("#answer .headline")) return;
    if (!location.pathname.startsWith("/c/")) return;
    watch.disconnect();
    root.dataset.placed = performance.now();
    requestAnimationFrame(() => {
      const after = new MessageChannel();
      after.port1.onmessage = () => (root.dataset.painted = performance.now());
      after.port2.postMessage(0);
    });
  });
  watch.observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ["data-stale"] });
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


def measure(kit: Kit) -> list[Row]:
    profile = kit.profile
    with_snapshot = remembering(kit, profile)
    restored: list[float] = []
    bare: list[float] = []
    offline: list[float] = []
    offline_shown: list[float] = []
    online: list[float] = []
    asked: list[float] = []
    end = perf_counter() + kit.patience(SECONDS)
    for taken in range(kit.samples(few=LEAST, many=7)):
        if taken >= LEAST and perf_counter() > end:
            break
        kit.server.stop()
        placed, shown, _ = opened(kit, profile)
        offline.append(placed)
        offline_shown.append(shown)
        placed, _, _ = opened(kit, with_snapshot)
        restored.append(placed)
        bare.append(booted(kit, profile))
        kit.server.start()
        _, shown, requests = opened(kit, None)
        online.append(shown)
        asked.append(requests)
    return [
        Row(GROUP, "stock Pyodide, bare boot, median", median(bare), "ms", samples=len(bare)),
        Row(GROUP, "offline: first answer in place, median", median(offline), "ms", samples=len(offline)),
        Row(GROUP, "offline: first answer painted, median", median(offline_shown), "ms", samples=len(offline_shown)),
        ratio(GROUP, "offline: first answer to the bare boot", offline, bare, OFFLINE_BAR),
        Row(
            GROUP,
            "offline, with snapshot: first answer in place, median",
            median(restored),
            "ms",
            samples=len(restored),
        ),
        ratio(GROUP, "offline, with snapshot: first answer to the bare boot", restored, bare, SNAPSHOT_BAR),
        Row(GROUP, "online, first visit: answer painted, median", median(online), "ms", samples=len(online)),
        ratio(GROUP, "online, first visit: answer painted to the bare boot", online, bare),
        Row(
            GROUP,
            "online, first visit: requests for the answer besides the page",
            max(asked),
            "",
            SECOND_REQUESTS,
            samples=len(asked),
        ),
    ]


def remembering(kit: Kit, profile: Path) -> Path:
    """A copy of the profile in which the memory of an engine that has answered is kept."""
    folder = Path(kit.enter_context(tempfile.TemporaryDirectory(ignore_cleanup_errors=True))) / "profile"
    shutil.copytree(profile, folder, ignore=shutil.ignore_patterns("Singleton*"))
    kit.server.stop()
    with kit.opened(folder) as context:
        page = context.new_page()
        page.goto(f"{kit.server.address}/c/fit?{urlencode(TYPED)}")
        page.locator("html:not([data-stale]) #answer .headline").wait_for()
        page.evaluate(KEPT, PATIENCE)
    kit.server.start()
    return folder


def opened(kit: Kit, profile: Path | None) -> tuple[float, float, int]:
    """ms to the answer in place and painted, and what the page asked for it; ValueError when it is not the answer."""
    requests: list[str] = []
    with kit.opened(profile, WATCH) as context:
        page = context.new_page()
        page.on("request", lambda one: requests.append(urlsplit(one.url).path))
        page.goto(f"{kit.server.address}/c/fit?{urlencode(TYPED)}")
        page.locator("html[data-painted]").wait_for(state="attached")
        root = page.locator("html")
        placed, shown = (float(root.get_attribute(f"data-{moment}") or "nan") for moment in ("placed", "painted"))
        said = page.locator("#answer").inner_text()
    wanted = answer("fit", TYPED).value("shaft_max").text.split(" ")[0]
    if wanted not in said:
        raise ValueError(f"the page says {said!r} and not {wanted}")
    return placed, shown, sum(path.startswith(("/part/", "/api/")) for path in requests)


def booted(kit: Kit, profile: Path) -> float:
    """ms from the opened bare page to Pyodide's first word."""
    with kit.opened(profile) as context:
        page = context.new_page()
        page.goto(f"{kit.plain.address}/bare")
        page.locator("html[data-up][data-said='42']").wait_for(state="attached")
        return float(page.locator("html").get_attribute("data-up") or "nan")
