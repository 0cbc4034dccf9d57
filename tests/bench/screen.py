"""Key to paint: from the input event of a key to the new answer in place, and to the frame that shows it."""

from random import Random

from playwright.sync_api import Page

from tests.bench.kit import LEAST, PATIENCE, Kit
from tests.bench.table import Bar, Row, median_and_p95, quantile
from tests.bench.typed import keyed

LOOK_UPS = ("fit", "bearing_seat")  # answered out of tables; the bars are theirs
PAGES = (*LOOK_UPS, "mating")
SECONDS = 60
BAR, SLOWED_BAR = Bar(16.7), Bar(50)  # ms at the 95th percentile
SLOWED = 4

#: The engine that a page waits for has said so by a change of state; it may have said it before anybody asks.
HEAR = 'addEventListener("engine", ({ detail }) => (document.documentElement.dataset.engine = detail));'

#: A message sent from within a frame comes when that frame has been drawn.
PAINTED = """
  const painted = () => new Promise((settle) => requestAnimationFrame(() => {
    const after = new MessageChannel();
    after.port1.onmessage = () => settle(performance.now());
    after.port2.postMessage(0);
  }));
"""

#: Types each text after its pause: [ms to the answer in place, ms to the frame with it].
TYPE = """
async ({ field, texts, limit, budget, least }) => {
  const box = document.getElementById(field);
  const answer = document.getElementById("answer");
  PAINTED
  const took = [];
  const end = performance.now() + budget;
  for (const [text, pause] of texts) {
    await new Promise((settle) => setTimeout(settle, pause));
    const changed = new Promise((settle, fail) => {
      const watch = new MutationObserver(() => {
        watch.disconnect();
        settle(performance.now());
      });
      watch.observe(answer, { childList: true });
      setTimeout(() => fail(new Error(`no answer to ${field} = ${text}`)), limit);
    });
    box.value = text;
    const pressed = performance.now();
    box.dispatchEvent(new InputEvent("input", { bubbles: true, data: text.slice(-1), inputType: "insertText" }));
    const placed = await changed;
    took.push([placed - pressed, (await painted()) - pressed]);
    if (performance.now() > end && took.length >= least) break;
    if (answer.querySelector(".refused")) throw new Error(`${field} = ${text} was refused`);
  }
  return took;
}
""".replace("PAINTED", PAINTED)

#: Writes something nobody sees after each pause: ms to its frame.
NOTHING = """
async ({ pauses, budget, least }) => {
  PAINTED
  const took = [];
  const end = performance.now() + budget;
  for (const pause of pauses) {
    await new Promise((settle) => setTimeout(settle, pause));
    const began = performance.now();
    document.getElementById("spoken").textContent = String(pause);
    took.push((await painted()) - began);
    if (performance.now() > end && took.length >= least) break;
  }
  return took;
}
""".replace("PAINTED", PAINTED)

#: A loop of a few milliseconds, to see how much slower the main thread got.
BUSY = """
() => {
  const began = performance.now();
  let sum = 0;
  for (let count = 0; count < 5e6; count++) sum += count % 7;
  return performance.now() - began + (sum > 0 ? 0 : 1);
}
"""

#: The browser draws a frame when there is something to draw, and does not wait for the screen to be ready for it.
AT_ONCE = ("--disable-frame-rate-limit", "--disable-gpu-vsync")


def measure(kit: Kit) -> list[Row]:
    """Frames at once on each page; then one page, and a change of no consequence, on a screen of 60 Hz."""
    rows: list[Row] = []
    share = kit.patience(SECONDS) / (2 * len(PAGES) + 2)
    profile = kit.profile
    kit.server.start()
    with kit.opened(profile, HEAR, *AT_ONCE) as context:
        page = context.new_page()
        throttle = context.new_cdp_session(page)
        for name in PAGES:
            ready(kit, page, name)
            for rate, bar in ((1, BAR), (SLOWED, SLOWED_BAR)):
                usual = busy(page)
                throttle.send("Emulation.setCPUThrottlingRate", {"rate": rate})
                note = f"main thread {busy(page) / usual:.1f} times slower, the engine's not" if rate > 1 else ""
                placed, painted = typing(page, name, kit.samples(few=8, many=60), rate, share)
                what = f"{name}{f', slowed {rate} times' if rate > 1 else ''}"
                in_place = quantile(placed, 0.95)
                rows.append(
                    Row("paint", f"{what}, key to answer in place, p95", in_place, "ms", None, note, len(placed))
                )
                own = bar if name in LOOK_UPS else None
                rows += median_and_p95("paint", f"{what}, key to paint", painted, own, note)
            throttle.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    with kit.opened(profile, HEAR) as context:
        page = context.new_page()
        ready(kit, page, LOOK_UPS[0])
        count = kit.samples(few=8, many=80)
        _, painted = typing(page, LOOK_UPS[0], count, 1, share)
        rows += median_and_p95("paint", f"{LOOK_UPS[0]}, key to paint at 60 frames a second", painted, BAR)
        idle = page.evaluate(
            NOTHING, {"pauses": pauses(f"nothing {count}", count), "budget": 1000 * share, "least": LEAST}
        )
        rows += median_and_p95("paint", "an empty change to paint at 60 frames a second", idle)
    return rows


def ready(kit: Kit, page: Page, name: str) -> None:
    """Open the page of a calculation and wait until its own engine answers."""
    page.goto(f"{kit.server.address}/c/{name}")
    page.locator("html[data-opened][data-engine=ready]").wait_for(state="attached")


def busy(page: Page) -> float:
    """ms of a loop on the main thread, the best of five."""
    return min(float(page.evaluate(BUSY)) for _ in range(5))


def typing(page: Page, name: str, count: int, rate: int, seconds: float) -> tuple[list[float], list[float]]:
    """ms to the answer in place and to its frame, of so many keys after uneven pauses; the first do not count."""
    unheeded = 3
    limits = {"limit": PATIENCE, "budget": 1000 * seconds, "least": LEAST + unheeded}
    field, texts = keyed(name, count + unheeded)
    timed = list(zip(texts, pauses(f"{name} {rate}", len(texts)), strict=True))
    took = page.evaluate(TYPE, {"field": field, "texts": timed, **limits})[unheeded:]
    return [one for one, _ in took], [one for _, one in took]


def pauses(seed: str, count: int) -> list[float]:
    """Uneven pauses in ms, so that keys fall anywhere between two frames."""
    dice = Random(f"pauses {seed}")
    return [dice.uniform(20, 60) for _ in range(count)]
