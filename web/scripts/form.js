/**
 * The fields of a calculation: what is typed in them, as text, and what is wrong, under each.
 *
 * A bare number in a field whose unit is not the field's first takes that unit as text; nothing is converted here
 * and what stands in the field is never changed.
 */

const HAS_UNIT = /(?!(?<=\d)[eE][+-]?\d)[\p{L}°"″”'′%]/u; // the e of 1.5e-3 is none

/** @param {HTMLElement} root @returns {HTMLElement[]} */
export const fields = (root) => [...root.querySelectorAll("[data-field]")].map((one) => /** @type {HTMLElement} */ (one));

/** @param {HTMLElement} field */
function control(field) {
  const name = field.dataset.field ?? "";
  return /** @type {HTMLInputElement | HTMLSelectElement | RadioNodeList} */ (
    /** @type {HTMLFormElement} */ (field.closest("form")).elements.namedItem(name)
  );
}

/** @param {HTMLElement} field @returns {HTMLSelectElement | null} */
const unit_of = (field) => field.querySelector("select.unit");

/** What the field says, with its unit where a bare number needs it. @param {HTMLElement} field */
function said(field) {
  const text = control(field).value;
  const unit = unit_of(field);
  if (!unit || unit.selectedIndex === 0 || !text.trim()) return text;
  return text
    .split(";")
    .map((piece) => (piece.trim() && !HAS_UNIT.test(piece) ? `${piece.trim()} ${unit.value}` : piece))
    .join(";");
}

/** Mark each field whose text says its unit itself, so that none is printed beside it. @param {HTMLElement} root */
export function mark_own_units(root) {
  for (const field of fields(root)) {
    const pieces = field.querySelector(".unit, .fixed") ? control(field).value.split(";").filter((piece) => piece.trim()) : [];
    field.toggleAttribute("data-own-unit", pieces.length > 0 && pieces.every((piece) => HAS_UNIT.test(piece)));
  }
}

/** Everything typed, by name, in the order of the form. @param {HTMLElement} root */
export function typed(root) {
  return Object.fromEntries(fields(root).map((field) => [field.dataset.field ?? "", said(field)]));
}

/**
 * What a link has to carry: everything typed, but for what is left out and would be left out without a word, too.
 * A field that stands at its default is carried, since a later version may have another default and a link is to open
 * to the same answer for as long as it hangs on the wall.
 * @param {HTMLElement} root
 */
export function linked(root) {
  const needed = fields(root).filter((field) => !field.closest("details.aside") || field.dataset.usual !== undefined || said(field).trim());
  return Object.fromEntries(needed.map((field) => [field.dataset.field ?? "", said(field)]));
}

/** Put what was typed back into the fields. @param {HTMLElement} root @param {Record<string, string>} given */
export function fill(root, given) {
  for (const field of fields(root)) {
    const name = field.dataset.field ?? "";
    if (!(name in given)) continue;
    put(field, given[name]);
    const aside = /** @type {HTMLDetailsElement | null} */ (field.closest("details.aside"));
    if (aside && !["", field.dataset.usual].includes(given[name].trim())) aside.open = true;
  }
}

/** @param {HTMLElement} field @param {string} text */
function put(field, text) {
  const one = control(field);
  if (field.dataset.sort === "choice") choose(field, text);
  else one.value = text;
}

/**
 * Choose what was typed, by its key or by its words. What is none of the choices stands among them as it was typed, so
 * that it is refused in words and nothing else is answered in its place.
 * @param {HTMLElement} field @param {string} text
 */
function choose(field, text) {
  const alike = (/** @type {(string | null)[]} */ ...known) =>
    known.some((one) => one?.trim().toLowerCase() === text.trim().toLowerCase());
  const select = field.querySelector("select");
  if (select) {
    const found = [...select.options].find((one) => alike(one.value, one.text));
    select.value = (found ?? select.appendChild(new Option(text || "none chosen", text))).value;
    return;
  }
  const labels = [...field.querySelectorAll("label")];
  let label = labels.find((one) => alike(one.querySelector("input")?.value ?? null, one.textContent));
  if (!label) {
    label = /** @type {HTMLLabelElement} */ (labels[0].cloneNode(true));
    /** @type {HTMLElement} */ (label.querySelector("span")).textContent = text || "none chosen";
    /** @type {HTMLInputElement} */ (label.querySelector("input")).value = text;
    labels[0].parentElement?.append(label);
  }
  /** @type {HTMLInputElement} */ (label.querySelector("input")).checked = true;
}

/** What was typed before the scripts came: the fields that no longer hold what the page came with. @param {HTMLElement} root */
export function started(root) {
  const changed = fields(root).filter((field) =>
    [...field.querySelectorAll("input, textarea, select:not(.beside)")].some((one) => {
      if (one instanceof HTMLSelectElement) {
        const came = [...one.options].find((option) => option.defaultSelected);
        return came !== undefined && !came.selected;
      }
      const box = /** @type {HTMLInputElement} */ (one);
      if (box.type === "radio") return box.checked !== box.defaultChecked;
      // a field of one line drops the line ends that a link may bring
      return box.value !== (box.localName === "input" ? box.defaultValue.replace(/[\r\n]/g, "") : box.defaultValue);
    }),
  );
  return Object.fromEntries(changed.map((field) => [field.dataset.field ?? "", control(field).value]));
}

/** Show each problem under its field. @param {HTMLElement} root @param {{name: string, message: string}[]} problems */
export function show_problems(root, problems) {
  for (const field of fields(root)) {
    const own = problems.filter((one) => one.name === field.dataset.field).map((one) => one.message);
    field.classList.toggle("wrong", own.length > 0);
    const place = /** @type {HTMLElement} */ (field.querySelector(".problem"));
    const text = own.join(" ");
    if (place.textContent !== text) place.textContent = text;
    const input = field.querySelector("input:not([type=radio]), textarea");
    if (own.length) input?.setAttribute("aria-invalid", "true");
    else input?.removeAttribute("aria-invalid");
    const aside = field.closest("details");
    if (own.length && aside) aside.open = true;
  }
}

/** The small helpers beside a field: unit, usual entries, another reading, help. @param {HTMLElement} root */
export function wire(root) {
  root.addEventListener("click", (event) => {
    const pressed = /** @type {HTMLElement} */ (event.target);
    const ask = pressed.closest(".ask");
    if (ask) {
      const help = /** @type {HTMLElement} */ (document.getElementById(ask.getAttribute("aria-controls") ?? ""));
      help.hidden = !help.hidden;
      ask.setAttribute("aria-expanded", String(!help.hidden));
    }
    const more = /** @type {HTMLElement | null} */ (pressed.closest("[data-more]"));
    if (more) {
      const input = /** @type {HTMLInputElement} */ (document.getElementById(more.dataset.more ?? ""));
      input.value = input.value.trim() ? `${input.value.replace(/[;\s]*$/, "")}; ` : "";
      input.focus();
    }
  });
  root.addEventListener("change", (event) => {
    const changed = /** @type {HTMLSelectElement} */ (event.target);
    if (changed.dataset.common !== undefined && changed.value) {
      const input = /** @type {HTMLInputElement} */ (document.getElementById(changed.dataset.common));
      input.value = changed.value;
      changed.selectedIndex = 0;
      input.dispatchEvent(new Event("input", { bubbles: true }));
    }
    if (changed.dataset.unit !== undefined) {
      letters_for_fractions(changed);
      document.getElementById(changed.dataset.unit)?.dispatchEvent(new Event("input", { bubbles: true }));
    }
  });
}

/** A number pad has no stroke for 3/16: in inches the field gets the whole keyboard. @param {HTMLSelectElement} unit */
function letters_for_fractions(unit) {
  document.getElementById(unit.dataset.unit ?? "")?.setAttribute("inputmode", unit.value === "in" ? "text" : "decimal");
}

/** Fields of length start in the unit chosen in Shop. @param {HTMLElement} root @param {string} units */
export function prefer(root, units) {
  if (units !== "inch") return;
  for (const unit of root.querySelectorAll("select.unit")) {
    const one = /** @type {HTMLSelectElement} */ (unit);
    const wanted = [...one.options].find((option) => ["in", "thou", "µin"].includes(option.value));
    const input = /** @type {HTMLInputElement} */ (document.getElementById(one.dataset.unit ?? ""));
    // A bare number that is there already was typed, or declared, in the field's first unit.
    if (wanted && (HAS_UNIT.test(input.value) || !input.value.trim())) {
      one.value = wanted.value;
      letters_for_fractions(one);
    }
  }
}
