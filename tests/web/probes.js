/** What the tests of the screen measure in the page. An expression; each probe answers in words, [] when all is well. */
({
  /** Whatever reaches out sideways, is too small to touch or too small to read. */
  look() {
    const found = new Set();
    const name = (one) => `${one.localName}#${one.id}.${one.getAttribute("class")} “${one.textContent.trim().slice(0, 30)}”`;
    const drawn = (one) => one.checkVisibility({ visibilityProperty: true }) && one.getClientRects().length > 0;

    const wide = document.documentElement.scrollWidth;
    if (wide > innerWidth) {
      found.add(`scrolls sideways: ${wide} px in ${innerWidth}`);
      for (const one of document.body.querySelectorAll("*")) {
        if (drawn(one) && one.getBoundingClientRect().right > innerWidth + 0.5) found.add(`reaches out: ${name(one)}`);
      }
    }
    for (const root of [document.documentElement, document.body]) {
      if (getComputedStyle(root).overflowX !== "visible") found.add(`${root.localName} hides what reaches out`);
    }

    for (const one of document.querySelectorAll("a, button, input, select, textarea, summary, [role=button]")) {
      if (!drawn(one)) continue;
      const words = one.parentElement.textContent.trim() !== one.textContent.trim();
      if (one.localName === "a" && getComputedStyle(one).display === "inline" && words) continue;
      const box = (["radio", "checkbox"].includes(one.type) ? one.closest("label") : one).getBoundingClientRect();
      if (box.right > 0 && (box.width < 47.9 || box.height < 47.9)) {
        found.add(`too small to touch: ${box.width.toFixed(1)} x ${box.height.toFixed(1)} px, ${name(one)}`);
      }
    }

    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let text = texts.nextNode(); text; text = texts.nextNode()) {
      const one = text.parentElement;
      if (!text.data.trim() || !drawn(one) || one.closest("noscript, script, title")) continue;
      const picture = one.closest("svg.picture");
      const scale = picture ? picture.getBoundingClientRect().width / picture.viewBox.baseVal.width : 1;
      const size = parseFloat(getComputedStyle(one).fontSize) * scale;
      if (size < (picture ? 9 : 12.99)) found.add(`too small to read: ${size.toFixed(1)} px, ${name(one)}`);
    }

    const inch = document.documentElement.dataset.units === "inch";
    for (const figure of document.querySelectorAll("#answer .figure")) {
      const first = figure.querySelector(inch ? ".inch b" : ".metric b") ?? figure.querySelector("b");
      const size = parseFloat(getComputedStyle(first).fontSize);
      if (size < 40) found.add(`main figure of ${size} px: ${name(figure)}`);
    }
    return [...found];
  },

  /** What cannot be seen of the answer's main figures and of the field that has the focus. */
  seen(field) {
    const said = [];
    const answer = document.querySelector("#answer");
    const cover = getComputedStyle(answer).position === "sticky" ? answer.getBoundingClientRect().bottom : 0;
    const own = (field.type === "radio" ? field.closest("label") : field).getBoundingClientRect();
    if (own.top < cover - 1) said.push(`field at ${own.top} is under the answer, which ends at ${cover}`);
    if (own.bottom > innerHeight + 1) said.push(`field ends at ${own.bottom}, the screen at ${innerHeight}`);
    for (const figure of answer.querySelectorAll(".figure b")) {
      if (!figure.checkVisibility()) continue;
      const at = figure.getBoundingClientRect();
      const over = document.elementFromPoint(at.left + at.width / 2, at.top + at.height / 2);
      if (at.top < 0 || at.bottom > innerHeight) said.push(`figure ${figure.textContent} is off the screen`);
      else if (!answer.contains(over)) said.push(`figure ${figure.textContent} is covered`);
    }
    return said;
  },

  /** Text that stands out from what is behind it by less than `least` to one (WCAG 2.2, 1.4.6). */
  contrast(least) {
    const parse = (colour) => colour.match(/[\d.]+/g).map(Number);
    const over = ([r, g, b, a = 1], [R, G, B]) => [r * a + R * (1 - a), g * a + G * (1 - a), b * a + B * (1 - a)];
    const light = (colour) => {
      const [r, g, b] = colour.map((one) => (one / 255 <= 0.04045 ? one / 255 / 12.92 : ((one / 255 + 0.055) / 1.055) ** 2.4));
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const behind = (one) => {
      if (!one) return [255, 255, 255];
      const own = parse(getComputedStyle(one).backgroundColor);
      return own.length === 3 || own[3] === 1 ? own.slice(0, 3) : over(own, behind(one.parentElement));
    };
    const found = new Set();
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let text = texts.nextNode(); text; text = texts.nextNode()) {
      const one = text.parentElement;
      if (!text.data.trim() || !one.checkVisibility({ visibilityProperty: true }) || one.closest("noscript, script, title, option")) continue;
      const back = behind(one);
      const drawn = one.closest("svg.picture") ? getComputedStyle(one).fill : getComputedStyle(one).color;
      const [dark, bright] = [light(over(parse(drawn), back)), light(back)].sort((a, b) => a - b);
      const ratio = (bright + 0.05) / (dark + 0.05);
      if (ratio < least) found.add(`contrast ${ratio.toFixed(2)}: “${text.data.trim().slice(0, 30)}”`);
    }
    return [...found];
  },

  /** A control in focus that does not show it: by an outline, or by the ring of the cell that it stands in. */
  ringed(one) {
    const outlined = (part) => part && getComputedStyle(part).outlineStyle !== "none" && getComputedStyle(part).outlineWidth !== "0px";
    const cell = one.closest(".field");
    const shown = outlined(one) || outlined(one.nextElementSibling) || (cell && getComputedStyle(cell).boxShadow !== "none");
    return shown ? [] : [one.outerHTML.slice(0, 80)];
  },
})
