// The diver in the middle: turned, let go, dragged, held against a pinned one; and the gauge above.
// @ts-check
import { button, get, make, momentSize, number, say } from "./page_words.js";
import { put, sliding, state, valueAt } from "./set_up.js";

/** @type {any} */
let viewer = null;
/** @type {any} */
let view = null; // what is shown, held flat
let none = false; // no 3-D here
const RANGE = 25; // N m to either end of the gauge

export const known = () => viewer?.has() ?? [];

/** @param {number} moment */
const place = (moment) => 50 + (50 * Math.max(Math.min(moment, RANGE), -RANGE)) / RANGE;

/** A moment in words. @param {number} moment */
export function momentWords(moment) {
  if (Math.abs(moment) < 0.05) return say("balance");
  return say(moment > 0 ? "up" : "down", momentSize(moment));
}

/** The diver held flat. @param {any} answer */
export function showDiver(answer) {
  view = answer;
  if (!viewer && !none) begin(answer);
  else viewer?.put(answer);
  nameLayers(answer.layers);
  stop();
  get("time").value = 0;
  get("time").max = viewer?.duration() ?? 0;
  now();
}

/** What turns the diver held flat, on the gauge. @param {any} flat */
export function showMoment(flat) {
  get("needle").style.left = `${place(flat.moment)}%`;
  get("moment").textContent = momentWords(flat.moment);
  get("gauge").setAttribute("aria-label", flat.sentence);
}

/** @param {any} answer */
function begin(answer) {
  none = !document.createElement("canvas").getContext("webgl2");
  if (none) return get("diver").replaceChildren(make("p", { className: "plain", textContent: say("no 3-d") }));
  // @ts-ignore - set by the script before this one
  viewer = hangflatViewer.show(get("diver"), answer, { dragged, over });
  get("diver").viewer = viewer; // for whoever looks into the page from its console
  switches(answer.layers);
}

/** @param {number | null} moment */
export function showPin(moment) {
  get("pinned").hidden = moment === null;
  if (moment !== null) get("pinned").style.left = `${place(moment)}%`;
}

/** @param {boolean} on */
export const ghost = (on) => viewer?.pin(on);

/** @param {any} motion */
export function showMotion(motion) {
  if (!motion || !viewer) return;
  viewer.put({ ...view, motion });
  get("time").max = viewer.duration();
  now();
}

const drag = sliding();

/** A grip is moved. @param {any} handle @param {number} value @param {boolean} done */
function dragged(handle, value, done) {
  if (done) {
    over(null);
    return drag.done();
  }
  const digits = handle.step < 0.1 ? 2 : handle.step < 1 ? 1 : 0;
  const text = `${value.toFixed(digits)} ${handle.unit}`;
  get("grip").textContent = say("dragging", { name: handle.name, value: text });
  drag.move((copy) => {
    if (handle.way !== "place") return put(copy, handle.key, text);
    const table = handle.key.replace(/\.at$/, "");
    const entry = valueAt(table);
    if (typeof entry === "string") put(copy, table, { catalogue: entry });
    put(copy, `${table}.place`, undefined);
    put(copy, handle.key, [Number(value.toFixed(3)), handle.at[1], handle.at[2]]);
  });
}

/** @param {any} handle */
function over(handle) {
  get("grip").textContent = handle ? handle.name : "";
}

export function now() {
  if (!viewer) return;
  const seconds = Number(get("time").value);
  const { pitch, moment } = viewer.at(seconds);
  const back = Math.abs(pitch) > 90;
  const lies = back ? Math.sign(pitch) * (180 - Math.abs(pitch)) : pitch;
  const angle = Math.abs(lies) < 0.5 ? say("level") : say(lies > 0 ? "degrees up" : "degrees down", { size: number(Math.abs(lies), 0) });
  get("now").textContent = say(back ? "now on back" : "now", { seconds: number(seconds, 1), angle, moment: momentWords(moment) });
}

let running = 0;
function stop() {
  cancelAnimationFrame(running);
  running = 0;
  get("play").textContent = say("let go");
}

export function prepareMotion() {
  get("time").addEventListener("input", now);
  get("play").addEventListener("click", () => {
    if (running) return stop();
    const end = Number(get("time").max);
    if (Number(get("time").value) >= end - 0.05) get("time").value = 0;
    get("play").textContent = say("hold");
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
}

/** @type {[string, any, any][]} */
const layers = []; // name, label's words, box

/** @param {[string, string, boolean][]} told */
function switches(told) {
  for (const name of ["side", "front", "above", "corner"]) get("views").append(button("", () => viewer.view(name), { name }));
  for (const [name, , on] of [...told, /** @type {[string, string, boolean]} */ (["handles", "", true])]) {
    const box = make("input", { type: "checkbox", checked: on, name });
    const words = make("span");
    box.addEventListener("change", () => viewer.layer(name, box.checked));
    get("layers").append(make("label", {}, box, " ", words));
    layers.push([name, words, box]);
    viewer.layer(name, on);
  }
}

/** Views and layers in the reader's language. @param {[string, string, boolean][]} told */
function nameLayers(told) {
  for (const one of get("views").children) one.textContent = say(one.name);
  for (const [name, words] of layers) words.textContent = told.find(([other]) => other === name)?.[1] ?? say(name);
  viewer?.canvas.setAttribute("aria-label", say("view keys"));
}
