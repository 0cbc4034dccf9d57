/** What the tests of hostile links ask of the page. An expression; each answers in words, [] when all is well. */
({
  PATIENCE: 20_000, // ms

  /** Elements that Swarfbook makes. */
  MADE: new Set(
    (
      "html head meta title link script body a header nav p div span main h1 h2 h3 section form label input select option " +
      "textarea button fieldset legend details summary ul li dl dt dd dialog footer noscript b i strong table caption " +
      "thead tbody tr th td figure svg path rect circle line g text code template"
    ).split(" "),
  ),

  async until(there, what) {
    const began = performance.now();
    while (!there()) {
      if (performance.now() - began > this.PATIENCE) throw new Error(`${what} never came`);
      await new Promise((settle) => setTimeout(settle, 2));
    }
  },

  /** Whatever could act, is not of our making, or has acted. */
  foreign() {
    const found = [];
    for (const one of document.querySelectorAll("*")) {
      if (!this.MADE.has(one.localName)) found.push(`an element ${one.localName}`);
      for (const { name, value } of one.attributes) {
        if (name.startsWith("on") || name === "srcdoc") found.push(`an attribute ${name}`);
        if (/^(?:href|src|action|xlink:href)$/.test(name) && !/^[/#](?!\/)/.test(value)) found.push(`${name} leads to ${value}`);
      }
    }
    for (const one of document.scripts) {
      if (one.text || !/^\/v\/[0-9a-f]{12}\/scripts\/\w+\.js$/.test(one.getAttribute("src") ?? "")) found.push(`a script ${one.outerHTML}`);
    }
    if (window.hit !== undefined) found.push("something ran");
    return found;
  },

  /** Fields that do not hold, as text, what the address gives them first. */
  untrue() {
    const form = document.querySelector("#inputs, form.callout");
    const given = new URLSearchParams(location.search);
    const found = [];
    for (const name of form ? new Set(given.keys()) : []) {
      const text = given.get(name);
      const box = [...form.querySelectorAll("[name]")].some((one) => one.name === name) && form.elements.namedItem(name);
      if (!box) continue;
      const holds = JSON.stringify(box.value);
      if (box instanceof HTMLTextAreaElement || box instanceof HTMLInputElement) {
        const line = box instanceof HTMLInputElement;
        const kept = line ? text.replace(/[\r\n]/g, "") : text.replace(/\r\n?/g, "\n");
        if (box.value !== kept) found.push(`${name} holds ${holds} for ${JSON.stringify(text)}`);
      } else if (!box.value.trim() !== !text.trim()) found.push(`${name} has ${holds} chosen for ${JSON.stringify(text)}`);
    }
    return found;
  },

  /** All that is wrong with the page that is open. */
  here() {
    const found = [...this.foreign(), ...this.untrue()];
    const said = document.getElementById("answer")?.textContent.trim();
    if (said === "") found.push("no answer and no refusal");
    if (/Traceback|No answer: (?!The server answered 414)/.test(said ?? "")) found.push(said);
    return found;
  },

  /** Go to each as a tap on a link does; those that lead to something wrong, with what it is. */
  async tap(paths) {
    const wrong = [];
    for (const path of paths) {
      const before = document.getElementById("main");
      const link = document.createElement("a");
      link.href = location.origin + path;
      document.body.append(link);
      link.click();
      link.remove();
      try {
        await this.until(() => document.getElementById("main") !== before, "the page");
        const { dataset } = document.documentElement;
        const calculation = document.getElementById("main").dataset.page === "calculation";
        const ready = () => dataset.opened !== undefined && (!calculation || dataset.stale === undefined);
        await this.until(ready, calculation ? "the answer" : "its scripts");
        const found = this.here();
        if (found.length) wrong.push([path, [...new Set(found)]]);
      } catch (problem) {
        wrong.push([path, [String(problem)]]);
      }
    }
    return wrong;
  },
})
