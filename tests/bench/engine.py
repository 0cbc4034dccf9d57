"""Answer times in the browser: from the question to the app's own worker to the text that comes back."""

from calc import catalogue
from tests.bench.kit import LEAST, PATIENCE, Kit
from tests.bench.table import Row, median_and_p95
from tests.bench.typed import answered
from tests.web.conftest import scripts

#: Starts the worker as the page does; `timed` asks one question after the other for so many ms, and
#: gives the ms of each.
START = """
({ script, limit, least }) => new Promise((ready, failed) => {
  setTimeout(() => failed(new Error("the engine did not start in time")), limit);
  const worker = new Worker(script, { type: "module" });
  let settle = () => {};
  worker.onerror = (event) => failed(new Error(event.message));
  worker.onmessage = ({ data }) => (data.ready ? ready() : data.failed ? failed(new Error(data.failed)) : settle(data));
  window.timed = async (questions, budget) => {
    const took = [];
    const end = performance.now() + budget;
    for (const [id, [op, args]] of questions.entries()) {
      const began = performance.now();
      const reply = await new Promise((come, late) => {
        settle = come;
        setTimeout(() => late(new Error("the engine did not answer in time")), limit);
        worker.postMessage({ id, op, args });
      });
      if (reply.problem) throw new Error(reply.problem);
      took.push(performance.now() - began);
      if (performance.now() > end && took.length > least) break;
    }
    return took;
  };
})
"""
SECONDS = 50
WAYS = {"JSON": "json", "sheet": "sheet"}


def measure(kit: Kit) -> list[Row]:
    rows = []
    with kit.opened() as context:
        page = context.new_page()
        script = f"{scripts(page, kit.server.address)}worker.js"
        page.goto(f"{kit.server.address}/healthz")
        page.evaluate(START, {"script": script, "limit": PATIENCE, "least": LEAST})
        share = kit.patience(SECONDS) / len(catalogue()) / len(WAYS)
        for name in catalogue():
            inputs = answered(name, kit.samples(few=10, many=100))
            for way, op in WAYS.items():
                questions = [[op, {"name": name, "typed": typed}] for typed in ({}, *inputs)]
                took = page.evaluate("([questions, budget]) => timed(questions, budget)", [questions, 1000 * share])
                rows += median_and_p95("browser", f"{name}, {way} from the worker", took[1:])
    return rows
