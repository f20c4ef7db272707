// The page around the diver: switches, views, the slider through the motion, the numbers beside it.
// @ts-check
(() => {
  const told = JSON.parse(/** @type {any} */ (document.getElementById("told")).textContent);
  const get = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id));
  get("title").textContent = told.title;
  get("sentence").textContent = told.sentence;
  get("caution").textContent = told.caution;
  const words = told.words;
  get("play").textContent = words.let_go;

  let shown;
  try {
    // @ts-ignore - set by the script before this one
    shown = hangflatViewer.show(get("diver"), told);
  } catch (failed) {
    const note = document.createElement("p");
    note.textContent = words.no_webgl;
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
    for (const text of [item.name, item.words]) {
      const cell = document.createElement("td");
      cell.textContent = text;
      row.append(cell);
    }
    get("items").tBodies[0].append(row);
  }
  if (!shown) return;
  shown.canvas.setAttribute("aria-label", told.sentence + " " + words.keys);

  for (const name of ["side", "front", "above", "corner"]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = words[name];
    button.addEventListener("click", () => shown.view(name));
    get("views").append(button);
  }
  for (const [name, label_words, on] of told.layers) {
    if (!shown.layers().includes(name)) continue;
    const label = document.createElement("label");
    const box = document.createElement("input");
    box.type = "checkbox";
    box.checked = on;
    box.name = name;
    box.addEventListener("change", () => shown.layer(name, box.checked));
    label.append(box, " " + label_words);
    get("layers").append(label);
    shown.layer(name, on);
  }

  const time = get("time");
  time.max = shown.duration();
  const now = () => {
    const seconds = Number(time.value);
    const { pitch, moment } = shown.at(seconds);
    const shown_as = (/** @type {number} */ x, /** @type {number} */ digits) =>
      Math.abs(x).toFixed(digits).replace(".", words.comma);
    const back = Math.abs(pitch) > 90 ? words.on_back : "";
    const lies = Math.abs(pitch) > 90 ? Math.sign(pitch) * (180 - Math.abs(pitch)) : pitch;
    const angle = Math.abs(lies) < 0.5 ? words.level
      : (lies > 0 ? words.angle_up : words.angle_down).replace("{shown}", shown_as(lies, 0));
    const turned = Math.abs(moment) < 0.05 ? words.balance
      : (moment > 0 ? words.moment_up : words.moment_down)
        .replace("{size}", `${shown_as(moment / words.moment_size, 1)} ${words.moment_unit}`);
    get("now").textContent = `${shown_as(seconds, 1)} s: ${angle}${back}; ${turned}`;
  };
  time.addEventListener("input", now);
  if (shown.duration() > 0) now();
  else get("motion").hidden = true;

  let running = 0;
  const stop = () => {
    cancelAnimationFrame(running);
    running = 0;
    get("play").textContent = words.let_go;
  };
  get("play").addEventListener("click", () => {
    if (running) return stop();
    if (Number(time.value) >= shown.duration() - 0.05) time.value = 0;
    get("play").textContent = words.hold;
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
