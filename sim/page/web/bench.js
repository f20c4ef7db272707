// The bench: what is set on the left goes to the engine as the raw tables of a scenario, and what it answers is shown.
// Nothing is worked out here.
// @ts-check
(() => {
  const get = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id));
  const make = (/** @type {string} */ tag, /** @type {any} */ more = {}, /** @type {any[]} */ ...inside) => {
    const one = /** @type {any} */ (Object.assign(document.createElement(tag), more));
    one.append(...inside);
    return one;
  };
  /** @type {any} */
  let setUp = {};
  /** @type {any} */
  let saved = {};
  /** @type {any[]} */
  let groups = [];
  const before = /** @type {any[]} */ ([]);
  const after = /** @type {any[]} */ ([]);
  /** @type {any} */
  let viewer = null;
  /** @type {any} */
  let pinned = null;
  /** @type {any} */
  let held = null;
  let turn = 0; // of the set-up: answers to an earlier one are dropped
  const RANGE = 25; // N m to either end of the gauge
  const WAIT = 1500; // ms without a change before advice is asked for

  const ask = async (/** @type {string} */ path, /** @type {any} */ body) => {
    const sent = body === undefined ? {} : { method: "POST", body: JSON.stringify(body) };
    try {
      return await (await fetch(path, sent)).json();
    } catch {
      get("note").textContent = "The program has stopped: start it again. What you set up is kept in this page.";
      return null;
    }
  };

  // ---- the set-up: reading and writing keys

  const steps = (/** @type {string} */ key) => key.split(".").map((s) => (/^\d+$/.test(s) ? Number(s) : s));

  const valueAt = (/** @type {string} */ key) => {
    let node = setUp;
    for (const step of steps(key)) {
      if (typeof node === "string") return step === "catalogue" || step === "name" ? node : undefined;
      if (node === undefined || node === null) return undefined;
      node = node[step];
    }
    return node;
  };

  const changed = (/** @type {(copy: any) => void} */ change) => {
    const copy = structuredClone(setUp);
    change(copy);
    if (JSON.stringify(copy) === JSON.stringify(setUp)) return;
    before.push(setUp);
    after.length = 0;
    setUp = copy;
    moved();
  };

  const put = (/** @type {any} */ root, /** @type {string} */ key, /** @type {any} */ value) => {
    const path = steps(key);
    const last = /** @type {any} */ (path.pop());
    let node = root;
    for (const step of path) {
      if (typeof node[step] === "string") node[step] = node[step] === "none" ? {} : { [step === "pose" ? "name" : "catalogue"]: node[step] };
      node = node[step] ??= {};
    }
    if (value === undefined) delete node[last];
    else node[last] = value;
  };

  /** Another entry of the catalogue: what was written beside the old one goes, but for what suits any. */
  const choose = (/** @type {any} */ field, /** @type {string} */ value) =>
    changed((copy) => {
      const [table, key] = field.key.split(".");
      if (key !== "catalogue") return put(copy, field.key, value === "" ? undefined : value);
      if (value === "none") return (copy[table] = "none");
      const old = typeof copy[table] === "object" ? copy[table] : {};
      const kept = Object.fromEntries(field.keeps.filter((/** @type {string} */ k) => k in old).map((/** @type {string} */ k) => [k, old[k]]));
      copy[table] = { catalogue: value, ...kept };
    });

  // ---- the form

  const wrong = /** @type {Map<string, any>} */ (new Map());

  const control = (/** @type {any} */ field, /** @type {string} */ key) => {
    const id = `f-${key.replace(/[^a-z0-9]+/gi, "-")}`;
    const said = make("p", { className: "wrong", id: `${id}-wrong`, hidden: true });
    const now = valueAt(key);
    /** @type {any} */
    let input;
    const extra = [];
    if (field.kind === "choice") {
      input = make("select", { id });
      const choices = [...field.choices];
      if (now === undefined) input.append(make("option", { value: "", textContent: "as usual" }));
      else if (!choices.includes(now)) choices.unshift(now);
      for (const choice of choices) input.append(make("option", { value: choice, textContent: choice }));
      input.value = now === undefined ? "" : String(now);
      input.addEventListener("change", () => choose({ ...field, key }, input.value));
    } else if (field.kind === "switch") {
      input = make("input", { id, type: "checkbox", checked: now === true });
      input.addEventListener("change", () => changed((copy) => put(copy, key, input.checked)));
    } else {
      input = make("input", { id, type: "text", value: now === undefined ? "" : String(now), placeholder: field.hint });
      input.addEventListener("change", () => changed((copy) => put(copy, key, input.value.trim() === "" ? undefined : input.value.trim())));
      if (field.slider) extra.push(slider(field, key, input));
    }
    input.setAttribute("aria-describedby", said.id);
    const label = make("label", { htmlFor: id, textContent: field.label });
    wrong.set(key, { input, said });
    const both = make("div", { className: extra.length || field.kind !== "text" ? "both" : "both wide" }, input, ...extra);
    return make("div", { className: "field" }, label, both, said);
  };

  const slider = (/** @type {any} */ field, /** @type {string} */ key, /** @type {any} */ input) => {
    const { low, high, step, unit } = field.slider;
    const one = make("input", { type: "range", min: low, max: high, step });
    one.setAttribute("aria-label", `${field.label}, slide`);
    const number = parseFloat(input.value);
    one.value = Number.isFinite(number) && input.value.includes(unit) ? number : parseFloat(field.hint) || low;
    let start = /** @type {any} */ (null);
    one.addEventListener("input", () => {
      start ??= setUp;
      input.value = `${one.value} ${unit}`;
      const copy = structuredClone(setUp);
      put(copy, key, input.value);
      setUp = copy;
      moved(true);
    });
    one.addEventListener("change", () => {
      if (start) before.push(start);
      after.length = 0;
      start = null;
      marks();
    });
    return one;
  };

  const entries = (/** @type {any} */ group) => {
    const list = Array.isArray(setUp[group.table]) ? setUp[group.table] : [];
    const shown = list.map((/** @type {any} */ entry, /** @type {number} */ i) => {
      const out = make("button", { type: "button", textContent: "Take away" });
      out.addEventListener("click", () => changed((copy) => copy[group.table].splice(i, 1)));
      const fields = group.fields.map((/** @type {any} */ f) => control(f, `${group.table}.${i}.${f.key}`));
      return make("div", { className: "entry" }, ...fields, out);
    });
    const more = make("button", { type: "button", textContent: group.table === "lead" ? "Add lead" : "Add an item" });
    more.addEventListener("click", () =>
      changed((copy) => {
        if (!Array.isArray(copy[group.table])) copy[group.table] = [];
        copy[group.table].push(group.table === "lead" ? { mass: "1 kg", place: "belt" } : { catalogue: group.fields[0].choices[0] });
      }),
    );
    return [...shown, more];
  };

  const open = new Set(["Person", "Suit", "Cylinders and wing", "Lead"]);
  const drawForm = () => {
    wrong.clear();
    const active = document.activeElement?.id;
    get("form").replaceChildren(
      ...groups.map((group) => {
        const inside = group.table ? entries(group) : group.fields.map((/** @type {any} */ f) => control(f, f.key));
        const one = make("details", { open: open.has(group.title) }, make("summary", { textContent: group.title }), ...inside);
        one.addEventListener("toggle", () => (one.open ? open.add(group.title) : open.delete(group.title)));
        return one;
      }),
    );
    if (active) get(active)?.focus();
  };

  let faulty = false; // whether the note tells of a problem
  const told = (/** @type {any[]} */ problems) => {
    for (const { input, said } of wrong.values()) {
      input.removeAttribute("aria-invalid");
      said.hidden = true;
    }
    const loose = [];
    for (const { key, message } of problems) {
      const near = wrong.get(key) ?? [...wrong.entries()].find(([k]) => key && k.startsWith(`${key}.`))?.[1];
      if (!near) {
        loose.push(key ? `${key}: ${message}` : message);
        continue;
      }
      near.input.setAttribute("aria-invalid", "true");
      near.said.textContent = message;
      near.said.hidden = false;
    }
    if (loose.length || faulty) get("note").textContent = loose.join("  ");
    faulty = loose.length > 0;
  };

  // ---- answers

  const marks = () => {
    get("undo").disabled = !before.length;
    get("redo").disabled = !after.length;
    get("save").disabled = JSON.stringify(setUp) === JSON.stringify(saved);
  };

  /** The set-up has changed. @param {boolean} [sliding] */
  const moved = (sliding) => {
    turn += 1;
    sessionStorage.setItem("set-up", JSON.stringify(setUp));
    if (!sliding) drawForm();
    marks();
    for (const id of ["freeze", "fit", "advice", "knees", "weighing"]) get(id).classList.add("stale");
    work();
  };

  let busy = false;
  /** @type {any} */
  let waiting;
  const work = async () => {
    clearTimeout(waiting);
    if (busy) return;
    busy = true;
    for (let mine = -1; mine !== turn; ) {
      mine = turn;
      const answer = await ask("answer", { what: "held", document: setUp, known: viewer?.has() ?? [] });
      if (!answer) break;
      if (answer.problems) {
        told(answer.problems);
        continue;
      }
      told([]);
      showHeld(answer);
      if (mine !== turn) continue;
      const go = await ask("answer", { what: "let go", document: setUp });
      if (mine !== turn || !go || go.problems) continue;
      showMotion(go);
      const fit = await ask("answer", { what: "fit", document: setUp });
      if (mine !== turn || !fit || fit.problems) continue;
      showFit(fit);
      const posture = await ask("answer", { what: "posture", document: setUp });
      if (mine === turn && posture && !posture.problems) showPosture(posture);
    }
    busy = false;
    const mine = turn;
    waiting = setTimeout(() => advise(mine), WAIT);
  };

  const advise = async (/** @type {number} */ mine) => {
    if (mine !== turn || faulty) return;
    const lead = await ask("answer", { what: "weighing", document: setUp });
    if (mine !== turn) return;
    if (lead && !lead.problems) {
      get("weighing").classList.remove("stale");
      get("weighing").textContent = lead.sentence;
    }
    get("advice").replaceChildren(make("p", { textContent: "Looking ..." }));
    const found = await ask("answer", { what: "advice", document: setUp });
    if (mine === turn && found && !found.problems) showAdvice(found);
  };

  const showHeld = (/** @type {any} */ answer) => {
    held = answer;
    if (!viewer) {
      try {
        // @ts-ignore - set by the script before this one
        viewer = hangflatViewer.show(get("diver"), answer);
        viewer.canvas.setAttribute("aria-label", "The diver. Arrow keys turn the view, plus and minus zoom.");
        switches(answer.layers);
      } catch {
        get("diver").replaceChildren(make("p", { textContent: "This browser cannot draw in three dimensions (no WebGL). The answers hold all the same." }));
      }
    } else viewer.put(answer);
    stop();
    get("time").value = 0;
    get("time").max = viewer?.duration() ?? 0;
    now();
    get("needle").style.left = `${place(answer.moment)}%`;
    get("moment").textContent = words(answer.moment);
    get("gauge").setAttribute("aria-label", answer.sentence);
    get("sentence").textContent = answer.sentence;
    get("caution").textContent = answer.caution;
    get("estimated").textContent = answer.estimated.length ? `Estimated, not given: ${answer.estimated.join(", ")}.` : "";
    fill(get("numbers"), answer.numbers);
    get("items").tBodies[0].replaceChildren(
      ...answer.items.map((/** @type {any} */ i) => make("tr", {}, make("td", { textContent: i.name }), make("td", { textContent: i.words }))),
    );
    compare();
  };

  const place = (/** @type {number} */ moment) => 50 + (50 * Math.max(Math.min(moment, RANGE), -RANGE)) / RANGE;
  const words = (/** @type {number} */ moment) =>
    Math.abs(moment) < 0.05 ? "in balance" : `${Math.abs(moment).toFixed(1)} N m head-${moment > 0 ? "up" : "down"}`;

  const fill = (/** @type {any} */ list, /** @type {[string, string][]} */ rows) =>
    list.replaceChildren(...rows.flatMap(([name, value]) => [make("dt", { textContent: name }), make("dd", { textContent: value })]));

  const showMotion = (/** @type {any} */ go) => {
    get("freeze").classList.remove("stale");
    fill(get("freeze"), go.freeze);
    if (!go.motion || !viewer) return;
    held.motion = go.motion;
    viewer.put(held);
    get("time").max = viewer.duration();
    now();
  };

  const showFit = (/** @type {any} */ fit) => {
    get("fit").classList.remove("stale");
    const rows = fit.verdicts.filter((/** @type {any} */ v) => v.passes !== null);
    get("fit").replaceChildren(
      ...rows.map((/** @type {any} */ v) =>
        make("li", { className: v.passes ? "" : "fails", textContent: `${v.passes ? "✓" : "✗"} ${v.subject}${v.passes ? "" : `: ${v.sentence}`}`, title: v.sentence }),
      ),
      ...(rows.length ? [] : [make("li", { textContent: fit.why ?? "nothing to judge" })]),
    );
  };

  const showPosture = (/** @type {any} */ posture) => {
    get("knees").classList.remove("stale");
    get("sentence").textContent = posture.sentence;
    get("knees").textContent = posture.knees ?? "";
    get("gauge").setAttribute("aria-label", posture.sentence);
  };

  const showAdvice = (/** @type {any} */ found) => {
    get("advice").classList.remove("stale");
    const shown = [];
    if (found.best) shown.push(change(found.best, true));
    for (const one of found.singles) shown.push(change(one, false));
    get("advice").replaceChildren(...(shown.length ? shown : [make("p", { textContent: "Nothing that is at hand betters it." })]));
  };

  const change = (/** @type {any} */ one, /** @type {boolean} */ best) => {
    const button = make("button", { type: "button", textContent: "Do it" });
    button.addEventListener("click", async () => {
      const answer = await ask("apply", { document: setUp, settings: one.settings });
      if (!answer?.document) return;
      changed((copy) => {
        for (const key of Object.keys(copy)) delete copy[key];
        Object.assign(copy, answer.document);
      });
    });
    const what = `${best ? "Best: " : ""}${one.words.join("; ")}`;
    return make("div", { className: "change" }, make("p", { textContent: `${what}, then ${one.moment}` }), button);
  };

  // ---- pinned, motion, switches

  const compare = () => {
    get("pinned").hidden = !pinned;
    get("pin").textContent = pinned ? "Take the pin out" : "Pin this set-up";
    if (!pinned) return (get("difference").textContent = "");
    get("pinned").style.left = `${place(pinned)}%`;
    const by = held.moment - pinned;
    get("difference").textContent =
      Math.abs(by) < 0.05 ? "As the pinned set-up." : `${Math.abs(by).toFixed(1)} N m further head-${by > 0 ? "up" : "down"} than the pinned one (${words(pinned)}).`;
  };

  get("pin").addEventListener("click", () => {
    pinned = pinned === null ? (held?.moment ?? null) : null;
    viewer?.pin(pinned !== null);
    compare();
  });

  const now = () => {
    if (!viewer) return;
    const seconds = Number(get("time").value);
    const { pitch, moment } = viewer.at(seconds);
    const back = Math.abs(pitch) > 90;
    const lies = back ? Math.sign(pitch) * (180 - Math.abs(pitch)) : pitch;
    const angle = Math.abs(lies) < 0.5 ? "level" : `${Math.abs(lies).toFixed(0)}° head-${lies > 0 ? "up" : "down"}`;
    get("now").textContent = `${seconds.toFixed(1)} s: ${angle}${back ? ", on the back" : ""}; ${words(moment)}`;
  };
  get("time").addEventListener("input", now);

  let running = 0;
  const stop = () => {
    cancelAnimationFrame(running);
    running = 0;
    get("play").textContent = "Let go";
  };
  get("play").addEventListener("click", () => {
    if (running) return stop();
    const end = Number(get("time").max);
    if (Number(get("time").value) >= end - 0.05) get("time").value = 0;
    get("play").textContent = "Hold";
    let last = performance.now();
    const step = (/** @type {number} */ at) => {
      get("time").value = Number(get("time").value) + (at - last) / 1000;
      last = at;
      now();
      if (Number(get("time").value) >= end - 1e-6) stop();
      else running = requestAnimationFrame(step);
    };
    running = requestAnimationFrame(step);
  });

  const switches = (/** @type {[string, string, boolean][]} */ layers) => {
    for (const [name, label] of [["side", "Side"], ["front", "Front"], ["above", "Above"], ["corner", "Three-quarter"]]) {
      const button = make("button", { type: "button", textContent: label });
      button.addEventListener("click", () => viewer.view(name));
      get("views").append(button);
    }
    for (const [name, label, on] of layers) {
      const box = make("input", { type: "checkbox", checked: on, name });
      box.addEventListener("change", () => viewer.layer(name, box.checked));
      get("layers").append(make("label", {}, box, ` ${label}`));
      viewer.layer(name, on);
    }
  };

  const step = (/** @type {any[]} */ from, /** @type {any[]} */ to) => {
    if (!from.length) return;
    to.push(setUp);
    setUp = from.pop();
    moved();
  };
  get("undo").addEventListener("click", () => step(before, after));
  get("redo").addEventListener("click", () => step(after, before));
  get("save").addEventListener("click", save);
  async function save() {
    const answer = await ask("save", { document: setUp });
    if (answer?.problems) return told(answer.problems);
    if (!answer) return;
    saved = setUp;
    get("note").textContent = `Saved: ${answer.file}`;
    marks();
  }
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey)) return;
    const typing = /** @type {any} */ (event.target)?.type === "text";
    if (event.key === "z" && !typing) step(before, after);
    else if (event.key === "y" && !typing) step(after, before);
    else if (event.key === "s") save();
    else return;
    event.preventDefault();
  });
  get("form").addEventListener("submit", (/** @type {Event} */ event) => event.preventDefault());
  window.addEventListener("beforeunload", (event) => {
    if (!get("save").disabled) event.preventDefault();
  });

  (async () => {
    const start = await ask("start", undefined);
    if (!start) return;
    groups = start.groups;
    saved = setUp = start.document;
    const kept = sessionStorage.getItem("set-up");
    if (kept) setUp = JSON.parse(kept);
    get("file").textContent = start.file;
    document.title = `${start.file}: hangflat`;
    moved();
  })();
})();
