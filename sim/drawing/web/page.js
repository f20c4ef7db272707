// The page around the diver: switches, views, the slider through the motion, the numbers beside it.
// @ts-check
(() => {
  const told = JSON.parse(/** @type {any} */ (document.getElementById("told")).textContent);
  const get = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id));
  get("title").textContent = told.title;
  get("sentence").textContent = told.sentence;
  get("caution").textContent = told.caution;

  let shown;
  try {
    // @ts-ignore - set by the script before this one
    shown = hangflatViewer.show(get("diver"), told);
  } catch (failed) {
    const note = document.createElement("p");
    note.textContent = "This browser cannot draw in three dimensions (no WebGL). The numbers beside it hold all the same.";
    note.style.padding = "1rem";
    get("diver").replaceChildren(note);
  }

  for (const [name, value] of told.numbers) {
    const term = document.createElement("dt");
    const number = document.createElement("dd");
    term.textContent = name;
    number.textContent = value;
    get("numbers").append(term, number);
  }
  for (const item of told.items) {
    const row = document.createElement("tr");
    for (const words of [item.name, item.words]) {
      const cell = document.createElement("td");
      cell.textContent = words;
      row.append(cell);
    }
    get("items").tBodies[0].append(row);
  }
  if (!shown) return;
  shown.canvas.setAttribute("aria-label", told.sentence + " Arrow keys turn the view, plus and minus zoom.");

  for (const [name, words] of [["side", "Side"], ["front", "Front"], ["above", "Above"], ["corner", "Three-quarter"]]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = words;
    button.addEventListener("click", () => shown.view(name));
    get("views").append(button);
  }
  for (const [name, words, on] of told.layers) {
    if (!shown.layers().includes(name)) continue;
    const label = document.createElement("label");
    const box = document.createElement("input");
    box.type = "checkbox";
    box.checked = on;
    box.name = name;
    box.addEventListener("change", () => shown.layer(name, box.checked));
    label.append(box, " " + words);
    get("layers").append(label);
    shown.layer(name, on);
  }

  const time = get("time");
  time.max = shown.duration();
  const now = () => {
    const seconds = Number(time.value);
    const { pitch, moment } = shown.at(seconds);
    const way = (/** @type {number} */ x) => (x > 0 ? "head-up" : "head-down");
    const back = Math.abs(pitch) > 90 ? ", on the back" : "";
    const lies = Math.abs(pitch) > 90 ? Math.sign(pitch) * (180 - Math.abs(pitch)) : pitch;
    const angle = Math.abs(lies) < 0.5 ? "level" : `${Math.abs(lies).toFixed(0)}° ${way(lies)}`;
    const turned = Math.abs(moment) < 0.05 ? "in balance" : `${Math.abs(moment).toFixed(1)} N m ${way(moment)}`;
    get("now").textContent = `${seconds.toFixed(1)} s: ${angle}${back}; ${turned}`;
  };
  time.addEventListener("input", now);
  if (shown.duration() > 0) now();
  else get("motion").hidden = true;

  let running = 0;
  const stop = () => {
    cancelAnimationFrame(running);
    running = 0;
    get("play").textContent = "Let go";
  };
  get("play").addEventListener("click", () => {
    if (running) return stop();
    if (Number(time.value) >= shown.duration() - 0.05) time.value = 0;
    get("play").textContent = "Hold";
    let last = performance.now();
    const step = (/** @type {number} */ at) => {
      time.value = Number(time.value) + (at - last) / 1000;
      last = at;
      now();
      if (Number(time.value) >= shown.duration() - 1e-6) stop();
      else running = requestAnimationFrame(step);
    };
    running = requestAnimationFrame(step);
  });
})();
