/** The line under an answer that is long in coming: that it is being worked at, and the button that stops it. */

const LONG = 1000; // ms until it is said that an answer takes long

/**
 * @param {HTMLElement} answer the section that it stands in
 * @param {() => void} stop
 */
export function at_work(answer, stop) {
  const line = document.createElement("p");
  const words = document.createElement("span");
  const button = document.createElement("button");
  line.className = "at-work";
  button.type = "button";
  button.textContent = "Stop";
  button.onclick = stop;
  line.append(words, button);
  let long = 0;

  /** @param {string} text */
  function say(text) {
    clearTimeout(long);
    if (words.textContent !== text) words.textContent = text;
    if (line.isConnected) return;
    answer.append(line);
    /** @type {HTMLElement} */ (document.getElementById("spoken")).textContent = `${text} It can be stopped.`;
  }

  return {
    begin() {
      clearTimeout(long);
      long = window.setTimeout(() => say("Still working it out."), LONG);
    },
    so_far() {
      say("The best so far; still searching.");
    },
    end() {
      clearTimeout(long);
      line.remove();
    },
    /** Put finished markup in place of the answer; the line stays, and so does what is in focus there. @param {string} markup */
    place(markup) {
      for (const one of [...answer.children]) if (one !== line) one.remove();
      answer.insertAdjacentHTML("afterbegin", markup);
    },
  };
}
