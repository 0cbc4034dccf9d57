/** Copy out and in: all that is mine as one file, and a file of it put back after a look at what it would change. */

import { compare, LARGEST, read, to_put_in, Unusable, write } from "./copy_file.js";
import { ask } from "./engine.js";
import { choice, choose, everything, put_in } from "./store.js";

/** @typedef {import("./copy_file.js").Found} Found */

const DUE = 30 * 24 * 3600 * 1000; // ms after which a copy is old
const LISTS = { shop: "Shop", in_use: "In use", pinned: "Pinned", recent: "Recent", drafts: "Last typed", choices: "Choices" };
const CHOSEN = { units: "units that stand first", light: "light", awake: "screen", sheet_name: "name for the sheet" };

/** Copy all that is mine out as a file. */
export async function save_copy() {
  const now = new Date();
  const file = new Blob([write(await everything(), now.toISOString())], { type: "application/json" });
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = `swarfbook-${now.toISOString().slice(0, 10)}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  choose("copied_at", String(now.getTime()));
}

/** @param {HTMLElement} main @param {() => void} came_in called when something was put back */
export async function copies(main, came_in) {
  /** @param {string} wanted @returns {any} */
  const part = (wanted) => main.querySelector(wanted);
  const [dialog, picker] = [part("#copy-preview"), part("#copy-file")];
  const sorts = [...main.querySelectorAll("[data-thing]")].map((one) => /** @type {HTMLElement} */ (one).dataset.thing ?? "");
  /** @type {Found[]} */
  let found = [];

  /** @param {string} text */
  const tell = (text) => (part("#copy-told").textContent = text);

  async function remind() {
    const last = Number(choice("copied_at", "0"));
    const { shop, pinned } = await everything();
    const since = last || Math.min(...[...shop, ...pinned].map((one) => one.at));
    const due = shop.length + pinned.length > 0 && Date.now() - since > DUE;
    part("#copy-last").textContent = last ? `Last copied out on ${new Date(last).toLocaleDateString()}.` : "Not copied out yet.";
    part("#copy-reminder span").textContent = last
      ? "The last copy is older than 30 days. Copy out again."
      : "Some of this is older than 30 days, and there is no copy of it. Copy out.";
    part("#copy-reminder").hidden = !due;
  }

  async function copy_out() {
    await save_copy();
    tell("Copied out. Move the file to where this device cannot lose it.");
    await remind();
  }

  /** @param {File} file */
  async function look_into(file) {
    try {
      if (file.size > LARGEST) throw new Unusable("This file is larger than any copy. Choose the file that “Copy out” made.");
      const { created, data } = read(await file.text());
      const usable = [];
      const refused = [];
      for (const one of data.shop) {
        const { said, problems } = sorts.includes(one.sort)
          ? JSON.parse(await ask("shop", { sort: one.sort, typed: one.typed }))
          : { said: "", problems: [{ message: "This version does not know such a thing." }] };
        if (problems.length) refused.push(`${one.name}: ${problems.map((/** @type {any} */ each) => each.message).join(" ")}`);
        else usable.push({ ...one, said });
      }
      found = compare(await everything(), { ...data, shop: usable });
      preview(created, refused);
      tell("");
    } catch (problem) {
      tell(problem instanceof Unusable ? problem.message : `Not put back: ${/** @type {Error} */ (problem).message}.`);
    }
  }

  /** @param {string} created @param {string[]} refused */
  function preview(created, refused) {
    dialog.querySelector("[data-made]").textContent = `Made on ${new Date(created).toLocaleString()}.`;
    dialog.querySelector("tbody").replaceChildren(
      ...Object.entries(LISTS).map(([list, title]) => {
        const of = found.filter((one) => one.list === list);
        /** @param {string[]} wanted */
        const count = (...wanted) => String(of.filter((one) => wanted.includes(one.standing)).length);
        return row(title, count("new"), count("newer", "older"), count("same"));
      }),
    );
    const changing = found.filter((one) => one.standing !== "same");
    dialog.querySelector(".ticked").replaceChildren(
      ...changing.map((one) => line(`${title(one)}: ${one.said}`, standing(one), found.indexOf(one), one.standing !== "older")),
      ...refused.map((text) => line(text, "cannot be used", -1, false)),
    );
    dialog.querySelector("[data-explained]").hidden = changing.length === 0;
    dialog.querySelector("[data-do=put-back]").hidden = changing.length === 0;
    dialog.showModal();
  }

  async function put_back() {
    const ticked = [...dialog.querySelectorAll(".ticked input:checked")].map((one) => found[Number(one.value)]);
    dialog.close();
    await put_in(to_put_in(ticked));
    tell(`${ticked.length} put in from the copy.`);
    came_in();
    await remind();
  }

  picker.addEventListener("change", async () => {
    const [file] = picker.files;
    picker.value = "";
    if (file) await look_into(file);
  });
  /** @type {Record<string, () => Promise<void> | void>} */
  const doing = {
    "copy-out": copy_out,
    "copy-in": () => picker.click(),
    "put-back": put_back,
    leave: () => dialog.close(),
  };
  main.addEventListener("click", (event) => {
    const pressed = /** @type {HTMLElement | null} */ (/** @type {HTMLElement} */ (event.target).closest("[data-do]"));
    doing[pressed?.dataset.do ?? ""]?.();
  });
  await remind();
  return remind;
}

/** @param {Found} one */
const title = (one) =>
  one.list === "choices" ? CHOSEN[/** @type {keyof typeof CHOSEN} */ (one.name)] : one.list === "in_use" ? `In use: ${one.name}` : one.name;

/** How one that is not the same stands to what is here. @param {Found} one */
function standing(one) {
  if (one.standing === "new") return "new";
  if (one.list === "in_use" || one.list === "choices") return "other than here";
  return one.standing === "newer" ? "newer than here" : "older than here";
}

/** @param {string} heading @param {...string} cells */
function row(heading, ...cells) {
  const made = document.createElement("tr");
  const first = document.createElement("th");
  first.scope = "row";
  first.textContent = heading;
  made.append(first, ...cells.map((text) => Object.assign(document.createElement("td"), { textContent: text })));
  return made;
}

/** @param {string} text @param {string} stands @param {number} place in what was found, negative for none @param {boolean} ticked */
function line(text, stands, place, ticked) {
  const made = document.createElement("li");
  const label = document.createElement("label");
  const box = Object.assign(document.createElement("input"), { type: "checkbox", value: String(place), checked: ticked, disabled: place < 0 });
  const said = document.createElement("span");
  const how = document.createElement("b");
  how.textContent = stands;
  said.append(text, " ", how);
  label.append(box, said);
  made.append(label);
  return made;
}
